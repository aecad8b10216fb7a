//! What every request passes before a handler sees it: is it meant for this server, does it come
//! from a page of ours, who asks, and may they.

use super::body::Most;
use super::house::House;
use super::problem::{ELSEWHERE, MISDIRECTED, NOT_ALLOWED, Problem, UNKNOWN};
use super::table::May;
use crate::access::{Door, SecretHash, Who, hash_of, is_own, token_in};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

/// The house, and the door by which it is entered.
#[derive(Debug, Clone)]
pub struct Doorway {
    /// The house.
    pub house: House,
    /// The door.
    pub door: Door,
}

/// The hash of the token a request came with, if it is a known one.
#[derive(Debug, Clone, Copy)]
pub struct Token(pub SecretHash);

/// Everything the pages load comes from this server, no page runs a script that stands in it, and
/// none is shown inside another.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; media-src 'self' blob:; \
    font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; \
    form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

const HEADERS: [(HeaderName, &str); 6] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    // A tag's address must not travel to whatever a note links to.
    (header::REFERRER_POLICY, "same-origin"),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(self), microphone=(), geolocation=()",
    ),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
];

/// Refuses what is not meant for this server or comes from elsewhere, and finds out who asks.
pub async fn recognise(
    State(Doorway { house, door }): State<Doorway>,
    mut request: Request,
    next: Next,
) -> Response {
    let (method, uri, headers) = (request.method(), request.uri(), request.headers());
    let mut answer = if !door.knows(uri, headers) {
        let says = "this server is not called so: open the address on the tags, or localhost";
        Problem::new(MISDIRECTED, says).into_response()
    } else if !is_own(method, uri, headers) {
        let says = "a page of another address asked for this; open the barn's own page";
        Problem::new(ELSEWHERE, says).into_response()
    } else {
        let token = token_in(headers).map(hash_of);
        match who(&house, &door, token).await {
            Ok(who) => {
                if let (Some(token), Who::Paired(_) | Who::Revoked(_)) = (token, &who) {
                    request.extensions_mut().insert(Token(token));
                }
                request.extensions_mut().insert(who);
                next.run(request).await
            }
            Err(problem) => problem.into_response(),
        }
    };
    guard(&mut answer);
    answer
}

/// Tells browsers what a page of ours may do, where the answer does not say it by itself.
pub fn guard(answer: &mut Response) {
    for (name, value) in HEADERS {
        answer
            .headers_mut()
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
}

/// Lets a request on if whoever asks may, with so many bytes of a body at most.
pub async fn admit(may: May, most: usize, mut request: Request, next: Next) -> Response {
    request.extensions_mut().insert(Most(most));
    let who = request.extensions().get::<Who>().unwrap_or(&Who::Nobody);
    if may.admits(who) {
        return next.run(request).await;
    }
    if is_page(request.method(), request.headers()) && who.role().is_none() {
        return to_pairing(request.uri().path());
    }
    refused(who, may).into_response()
}

/// Where an unknown device is led that wants to see a page.
pub fn to_pairing(path: &str) -> Response {
    // Paths of pages hold nothing that means something behind a `?`.
    Redirect::to(&format!("/pair?to={path}")).into_response()
}

fn refused(who: &Who, may: May) -> Problem {
    match who {
        Who::Nobody => Problem::new(
            UNKNOWN,
            "the office does not know this device: pair it, at /pair",
        ),
        Who::Revoked(_) => Problem::new(
            UNKNOWN,
            "the office has shut this device out: ask there, and pair it again at /pair",
        ),
        Who::Machine | Who::Paired(_) => Problem::new(
            NOT_ALLOWED,
            format!(
                "this device may not do that: let it in again as '{}', at the office",
                may.word()
            ),
        ),
    }
}

/// A browser that wants something to look at, and no program that wants an answer.
fn is_page(method: &Method, headers: &HeaderMap) -> bool {
    let wanted = headers.get(header::ACCEPT).and_then(|v| v.to_str().ok());
    method.is_safe() && wanted.is_some_and(|wanted| wanted.contains("text/html"))
}

async fn who(house: &House, door: &Door, token: Option<SecretHash>) -> Result<Who, Problem> {
    if let Door::Machine = door {
        return Ok(Who::Machine);
    }
    let Some(token) = token else {
        return Ok(Who::Nobody);
    };
    let paired = house.with_own(move |store| store.paired(&token)).await?;
    Ok(match paired {
        None => Who::Nobody,
        Some(paired) if paired.revoked_ms.is_some() => Who::Revoked(paired),
        Some(paired) => Who::Paired(paired),
    })
}
