//! Who asks.

use crate::store::Paired;
use axum::http::{HeaderMap, header};
use pentally_domain::pairing::Role;

/// The cookie by which a device is known. The prefix makes browsers take it over https only, from
/// this host only, and for every path.
pub const COOKIE: &str = "__Host-pentally";

/// Browsers keep a cookie for 400 days at most (RFC 6265bis).
const AGE_S: u32 = 400 * 24 * 60 * 60;

/// Who asks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Who {
    /// Whoever sits at the machine itself.
    Machine,
    /// A device that the office let in.
    Paired(Paired),
    /// A device that the office shut out.
    Revoked(Paired),
    /// Nobody known.
    Nobody,
}

impl Who {
    /// What they may; none if nothing.
    pub const fn role(&self) -> Option<Role> {
        match self {
            Self::Machine => Some(Role::Office),
            Self::Paired(paired) => Some(paired.role),
            Self::Revoked(_) | Self::Nobody => None,
        }
    }
}

/// The token in a request's cookies.
pub fn token_in(headers: &HeaderMap) -> Option<&str> {
    let all = headers.get_all(header::COOKIE).iter();
    let pairs = all
        .filter_map(|value| value.to_str().ok())
        .flat_map(|v| v.split(';'));
    let mut named = pairs.filter_map(|pair| pair.trim().split_once('='));
    named.find_map(|(name, value)| (name == COOKIE).then_some(value))
}

/// The header's value that gives a device its token. A tag scanned by the phone's own camera opens
/// the page from outside, so the cookie must travel with a link that is followed: `Lax`.
pub fn cookie(token: &str) -> String {
    format!("{COOKIE}={token}; Path=/; Max-Age={AGE_S}; Secure; HttpOnly; SameSite=Lax")
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    #[test]
    fn a_token_is_found_among_other_cookies() {
        let mut headers = HeaderMap::new();
        headers.append(header::COOKIE, HeaderValue::from_static("a=b; lang=es"));
        assert_eq!(token_in(&headers), None);
        headers.append(
            header::COOKIE,
            HeaderValue::from_static("x=1; __Host-pentally=abc ;y=2"),
        );
        assert_eq!(token_in(&headers), Some("abc"));
        assert!(cookie("abc").starts_with("__Host-pentally=abc; Path=/; "));
    }
}
