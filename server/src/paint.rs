//! The first paint: a page for reading, rendered with the browser's own screens.
//!
//! It holds only the ledgers its address needs, so it costs the same in an old barn as in a new
//! one. The browser clears it and mounts the app in its place.

use crate::bundle;
use crate::http::House;
use crate::http::problem::Problem;
use crate::moment;
use crate::store::{Store, StoreError};
use axum::body::Body;
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use http_body_util::BodyExt;
use leptos::prelude::*;
use pentally_app::feed::Feed;
use pentally_app::parts::provide_sprite;
use pentally_app::screens::App;
use pentally_app::words::{Lang, provide_words};
use pentally_domain::barn::Barn;
use pentally_domain::code::Code;
use pentally_domain::fact::Subject;
use pentally_domain::id::{BoarId, PenId, SowId};
use pentally_domain::pairing::Role;

/// The largest painted body that is taken in; a page of a thousand rows stays far below.
const PAINT_MAX_BYTES: usize = 8 * 1024 * 1024;

/// Paints the page of a request, in the language its browser asks for.
/// Whoever is not known sees nothing of the barn, and a device what it would be handed to hold.
pub async fn page(house: House, role: Option<Role>, request: Request) -> Result<Response, Problem> {
    let path = request.uri().path().to_owned();
    let barn = match role {
        Some(role) => house
            .with_store(move |store| {
                let mut barn = barn_of(store, &path)?;
                if let Some(outlook) = store.outlook()? {
                    barn.put_outlook(outlook);
                }
                Ok(barn)
            })
            .await?
            .of_those(|subject| role.holds(subject)),
        None => Barn::default(),
    };
    let lang = language(request.headers());
    let Some(shell) = bundle::shell() else {
        return Ok(without_bundle());
    };
    let drawings = bundle::name_of("drawings").map(|name| format!("/b/{name}"));
    let now_ms = moment::now_ms();
    let context = move || {
        provide_words(lang);
        if let Some(address) = drawings.clone() {
            provide_sprite(address);
        }
        Feed::for_paint(barn.clone(), role, now_ms).provide();
    };
    // Says once for the process who runs what a page waits for; later calls find it said.
    let _ = any_spawner::Executor::init_tokio();
    let render = leptos_axum::render_app_async_with_context(context, || view! { <App/> });
    let painted = render(request).await.into_body();
    let painted = http_body_util::Limited::new(painted, PAINT_MAX_BYTES)
        .collect()
        .await;
    // A page that could not be painted is an empty shell: the app fills it all the same.
    let painted = painted.map(|body| body.to_bytes()).unwrap_or_default();
    let painted = without_scripts(&String::from_utf8_lossy(&painted));
    let before = shell
        .before
        .replacen("lang=\"en\"", &format!("lang=\"{}\"", lang.tag()), 1);
    let body = [before.as_str(), &painted, shell.after].concat();
    let kind = (
        header::CONTENT_TYPE,
        HeaderValue::from_static("text/html; charset=utf-8"),
    );
    // What is painted is of this moment; the offline copy is the worker's shell, not this.
    let caching = (header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(([kind, caching], Body::from(body)).into_response())
}

/// The renderer adds scripts for a page that would take over what was painted. This one is only read,
/// and browsers are told to run no script that stands in a page.
fn without_scripts(painted: &str) -> String {
    let (mut rest, mut kept) = (painted, String::with_capacity(painted.len()));
    while let Some((before, after)) = rest.split_once("<script") {
        kept.push_str(before);
        rest = after.split_once("</script>").map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    kept
}

fn without_bundle() -> Response {
    let says = "This program was built without its pages. Run `cargo xtask run` instead.\n";
    (axum::http::StatusCode::SERVICE_UNAVAILABLE, says).into_response()
}

/// The language a browser asks for.
pub fn language(headers: &HeaderMap) -> Lang {
    let asked = headers
        .get(header::ACCEPT_LANGUAGE)
        .and_then(|v| v.to_str().ok());
    asked.and_then(Lang::preferred).unwrap_or_default()
}

/// The ledgers an address needs: of one boar and his pen where it names one, else the whole barn.
fn barn_of(store: &Store, path: &str) -> Result<Barn, StoreError> {
    let parts: Vec<&str> = path.split('/').filter(|p| !p.is_empty()).collect();
    let subjects = match parts[..] {
        ["boar", id, ..] => BoarId::parse(id).ok().map(|id| vec![Subject::Boar(id)]),
        ["sow", id] => SowId::parse(id).ok().map(|id| vec![Subject::Sow(id)]),
        ["T" | "t", code] => Code::parse(code)
            .ok()
            .map(|code| of_code(store, code))
            .transpose()?,
        [
            "pair" | "phones" | "network" | "scan" | "bad-moment" | "more" | "standard" | "people"
            | "import" | "backup" | "aside" | "log" | "checks" | "learn",
        ]
        | ["learn", _] => Some(vec![]),
        _ => None,
    };
    match subjects {
        Some(subjects) => with_neighbours(store, &subjects),
        None => store.barn(),
    }
}

fn of_code(store: &Store, code: Code) -> Result<Vec<Subject>, StoreError> {
    Ok(store
        .of_code(code)?
        .into_iter()
        .map(|(subject, _)| subject)
        .collect())
}

/// Adds the boars of a pen, and the pen of a boar.
fn with_neighbours(store: &Store, subjects: &[Subject]) -> Result<Barn, StoreError> {
    let asked = |id: PenId| subjects.contains(&Subject::Pen(id));
    let barn = store.barn_around(subjects, |barn| {
        let pens = barn.pens().into_iter().filter(|p| asked(p.id));
        let boars = pens.flat_map(|p| p.perhaps_in).map(Subject::Boar);
        let pens = barn.boars().into_iter().filter_map(|b| b.pen());
        boars.chain(pens.map(Subject::Pen)).collect()
    })?;
    // Who is in a pen that saw more moves than it keeps is known only to the boars themselves.
    if barn.pens().iter().any(|p| p.perhaps_more && asked(p.id)) {
        return store.barn();
    }
    Ok(barn)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_but_scripts_goes() {
        let painted = "<p>a</p><script>x=\"<p>\"</script><p>b &lt;script></p><script type=t>y";
        assert_eq!(without_scripts(painted), "<p>a</p><p>b &lt;script></p>");
        assert_eq!(without_scripts("<p>a</p>"), "<p>a</p>");
    }
}
