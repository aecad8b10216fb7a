//! The doors into the house, and what a request must say to be let through one.

use crate::tls;
use axum::http::{HeaderMap, Method, Uri, header};
use std::sync::{Arc, PoisonError, RwLock};

/// Where a request came in.
#[derive(Debug, Clone)]
pub enum Door {
    /// Plain http on the loopback: the machine itself.
    Machine,
    /// Https on the farm's network, under these names.
    Network(LiveNames),
}

/// What the server is called on the network; followed while addresses change.
#[derive(Debug, Clone, Default)]
pub struct LiveNames(Arc<RwLock<tls::Names>>);

impl LiveNames {
    /// Takes other names from now on.
    pub fn set(&self, names: tls::Names) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = names;
    }

    fn has(&self, host: &str) -> bool {
        self.0
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .has(host)
    }
}

impl Door {
    /// Whether the request is meant for this server. A page of elsewhere whose name was made to
    /// lead to this machine would be refused here, since its browser still says that name.
    pub fn knows(&self, uri: &Uri, headers: &HeaderMap) -> bool {
        let Some(host) = host(uri, headers) else {
            return false;
        };
        let name = without_port(&host);
        match self {
            Self::Machine => {
                let bare = name.trim_start_matches('[').trim_end_matches(']');
                bare.eq_ignore_ascii_case("localhost")
                    || bare
                        .parse::<std::net::IpAddr>()
                        .is_ok_and(|ip| ip.is_loopback())
            }
            Self::Network(names) => names.has(name),
        }
    }
}

/// Whether a request that changes something comes from a page of this server, or from no browser
/// at all. Browsers say where a request comes from; pages cannot change that.
pub fn is_own(method: &Method, uri: &Uri, headers: &HeaderMap) -> bool {
    if method.is_safe() {
        return true;
    }
    let said = |name| headers.get(name).map(|v| v.to_str().unwrap_or_default());
    let site = said(header::HeaderName::from_static("sec-fetch-site"));
    if !matches!(site, None | Some("same-origin" | "none")) {
        return false;
    }
    match said(header::ORIGIN) {
        None => true,
        Some(origin) => {
            let from = origin.split_once("://").map(|(_, host)| host);
            from.is_some_and(|from| {
                host(uri, headers).is_some_and(|h| h.eq_ignore_ascii_case(from))
            })
        }
    }
}

/// What the request calls the server, with the port.
fn host(uri: &Uri, headers: &HeaderMap) -> Option<String> {
    if let Some(authority) = uri.authority() {
        return Some(authority.as_str().to_owned());
    }
    let host = headers.get(header::HOST)?.to_str().ok()?;
    Some(host.to_owned())
}

fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|b| b.is_ascii_digit()) => name,
        _ => host,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn headers(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs
            .iter()
            .map(|(name, value)| {
                (
                    header::HeaderName::from_static(name),
                    HeaderValue::from_static(value),
                )
            })
            .collect()
    }

    #[test]
    fn only_its_own_names_are_the_server() {
        let uri = Uri::from_static("/");
        for (host, right) in [
            ("localhost:8420", true),
            ("127.0.0.1", true),
            ("[::1]:8420", true),
            ("evil.example:8420", false),
            ("192.168.1.2:8420", false),
        ] {
            assert_eq!(
                Door::Machine.knows(&uri, &headers(&[("host", host)])),
                right,
                "{host}"
            );
        }
        assert!(!Door::Machine.knows(&uri, &headers(&[])));
        let names = LiveNames::default();
        names.set(tls::Names {
            dns: ["barn.local".to_owned()].into(),
            ..tls::Names::default()
        });
        let door = Door::Network(names);
        assert!(door.knows(&uri, &headers(&[("host", "BARN.local:8443")])));
        assert!(!door.knows(&uri, &headers(&[("host", "localhost:8443")])));
        let absolute = Uri::from_static("https://barn.local:8443/x");
        assert!(door.knows(&absolute, &headers(&[])), "as http/2 says it");
    }

    #[test]
    fn a_page_of_elsewhere_cannot_change_anything() {
        let uri = Uri::from_static("/api/v1/sync");
        let own = |pairs: &[(&'static str, &'static str)]| {
            let all = [&[("host", "localhost:8420")], pairs].concat();
            is_own(&Method::POST, &uri, &headers(&all))
        };
        assert!(own(&[]), "no browser");
        assert!(own(&[
            ("origin", "http://localhost:8420"),
            ("sec-fetch-site", "same-origin")
        ]));
        assert!(!own(&[("origin", "http://localhost:9000")]));
        assert!(!own(&[("origin", "null")]));
        assert!(!own(&[("sec-fetch-site", "cross-site")]));
        assert!(is_own(
            &Method::GET,
            &uri,
            &headers(&[("sec-fetch-site", "cross-site")])
        ));
    }
}
