//! The one page over plain http on the farm's network: how a phone comes to trust the farm's
//! authority. It shows nothing of the barn and takes nothing in.

use crate::moment::now_ms;
use crate::network::Network;
use crate::tags::Escaped;
use axum::Router;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::middleware::map_response;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use pentally_app::words::{Key, Lang, Words, key};

const STYLE: &str = "
* { box-sizing: border-box }
body { font: 1.125rem/1.4 system-ui, sans-serif; color: #111; background: #fff; margin: 0 auto;
  padding: 1rem; max-width: 40rem; overflow-wrap: anywhere }
h1 { font-size: 1.5rem } h2 { font-size: 1.25rem; display: flex; gap: .5rem; align-items: center }
li { margin: .5rem 0 }
a.big { display: block; padding: 1.25rem 1rem; margin: 1rem 0; background: #14322b; color: #fff;
  text-decoration: none; font-weight: 700; font-size: 1.25rem; border-radius: .5rem; text-align: center }
code { font-size: .875rem }
svg { flex: none }
";

/// A phone with three keys at its foot.
const ANDROID: &str = r##"<svg width="32" height="48" viewBox="0 0 32 48" fill="none" stroke="#111" stroke-width="3" aria-hidden="true"><rect x="3" y="2" width="26" height="44" rx="4"/><path d="M9 39h3M15 39h3M21 39h3M10 16h12M10 22h12M10 28h7"/></svg>"##;
/// A phone with a bar at its foot and a notch at its head.
const IPHONE: &str = r##"<svg width="32" height="48" viewBox="0 0 32 48" fill="none" stroke="#111" stroke-width="3" aria-hidden="true"><rect x="3" y="2" width="26" height="44" rx="7"/><path d="M12 7h8M11 41h10M10 20l4 5 8-10"/></svg>"##;

/// What is answered over plain http.
pub fn router(network: Network) -> Router {
    Router::new()
        .route("/", get(page))
        .route("/authority.crt", get(authority))
        .fallback(async || Redirect::to("/"))
        .layer(map_response(guarded))
        .with_state(network)
}

/// One page with a style of its own and nothing else.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; \
    form-action 'none'; frame-ancestors 'none'";

async fn guarded(mut answer: Response) -> Response {
    let policy = HeaderValue::from_static(POLICY);
    answer
        .headers_mut()
        .insert(header::CONTENT_SECURITY_POLICY, policy);
    super::gate::guard(&mut answer);
    answer
}

/// The authority, as phones take it.
async fn authority(State(network): State<Network>) -> Response {
    match network.authority(now_ms()) {
        Some(Ok(authority)) => (
            [
                (header::CONTENT_TYPE, "application/x-x509-ca-cert"),
                (header::CACHE_CONTROL, "no-store"),
            ],
            authority.der().to_vec(),
        )
            .into_response(),
        _ => StatusCode::NOT_FOUND.into_response(),
    }
}

async fn page(State(network): State<Network>, headers: HeaderMap) -> Html<String> {
    let asked = headers
        .get(header::ACCEPT_LANGUAGE)
        .and_then(|v| v.to_str().ok());
    let lang = asked.and_then(Lang::preferred).unwrap_or_default();
    let told = network.told(false, now_ms());
    Html(html(
        lang,
        &told.origin.unwrap_or_default(),
        told.fingerprint.as_deref(),
    ))
}

fn html(lang: Lang, origin: &str, fingerprint: Option<&str>) -> String {
    let words = Words::of(lang);
    let say = |key: Key| Escaped(&words.tr(key)).to_string();
    let list = |keys: [Key; 3]| -> String {
        let items = keys.map(|key| format!("<li>{}</li>\n", say(key)));
        format!("<ol>\n{}</ol>\n", items.concat())
    };
    let open = format!(
        "<a class=\"big\" href=\"{origin}/pair\">{origin}</a>\n",
        origin = Escaped(origin)
    );
    let body = match fingerprint {
        None => format!("<p>{}</p>\n{open}", say(key::STEPS_OWN)),
        Some(fingerprint) => [
            format!("<p>{}</p>\n", say(key::STEPS_WHY)),
            format!("<h2>{ANDROID}{}</h2>\n", say(key::STEPS_ANDROID)),
            list([
                key::STEPS_ANDROID_1,
                key::STEPS_ANDROID_2,
                key::STEPS_ANDROID_3,
            ]),
            format!("<h2>{IPHONE}{}</h2>\n", say(key::STEPS_IPHONE)),
            list([
                key::STEPS_IPHONE_1,
                key::STEPS_IPHONE_2,
                key::STEPS_IPHONE_3,
            ]),
            format!(
                "<a class=\"big\" href=\"/authority.crt\">{}</a>\n<p>{}<br><code>{}</code></p>\n",
                say(key::STEPS_CERTIFICATE),
                say(key::STEPS_COMPARE),
                Escaped(fingerprint)
            ),
            format!(
                "<h2>{}</h2>\n{open}<p>{}</p>\n",
                say(key::STEPS_THEN),
                say(key::STEPS_CHECK)
            ),
        ]
        .concat(),
    };
    format!(
        "<!DOCTYPE html>\n<html lang=\"{lang}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n{body}</body>\n</html>\n",
        lang = lang.tag(),
        title = say(key::STEPS_TITLE),
    )
}
