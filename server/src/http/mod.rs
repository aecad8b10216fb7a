//! Everything the server answers over HTTP.

mod body;
mod calendar;
mod climate;
mod gate;
mod house;
mod import;
mod network;
mod office;
pub mod openapi;
mod pairing;
pub mod problem;
mod reckon;
mod start;
pub mod steps;
mod sync;
pub mod table;
mod tags;

pub use house::House;

use crate::access::{Door, Who};
use crate::paint;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::{Method, Uri};
use axum::middleware::{from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Router};
use gate::Doorway;
use problem::{METHOD, NOT_FOUND, Problem};
use table::TABLE;

/// The table's routes, entered by a door; every other path is a page, unless `more` has it. Nothing
/// is reached but through `gate::recognise`.
pub fn router(house: House, door: Door, more: Router) -> Router {
    let routes = TABLE.iter().fold(Router::new(), |router, route| {
        let (may, most) = (route.may, route.body.map_or(0, |(_, most)| most));
        let admitted = from_fn(move |request, next| gate::admit(may, most, request, next));
        // One above what is taken, so that the handler of a file says what is too large.
        let bounded = (route.handler)().layer(DefaultBodyLimit::max(most + 1));
        router.route(route.path, bounded.layer(admitted))
    });
    let doorway = Doorway {
        house: house.clone(),
        door,
    };
    routes
        .method_not_allowed_fallback(other_method)
        .fallback(page)
        .with_state(house)
        .merge(more)
        .layer(from_fn_with_state(doorway, gate::recognise))
}

/// The one page that is shown to a device nobody knows.
const PAIR: &str = "/pair";

async fn other_method(method: Method, uri: Uri) -> Problem {
    Problem::new(METHOD, format!("{} does not take {method}", uri.path()))
}

/// A screen, painted for reading. What looks like a call of a program gets an answer for programs.
async fn page(
    State(house): State<House>,
    Extension(who): Extension<Who>,
    request: Request,
) -> Response {
    let (method, uri) = (request.method().clone(), request.uri().clone());
    if uri.path().starts_with("/api/") {
        return Problem::new(
            NOT_FOUND,
            format!("{} is not in /api/v1/openapi.json", uri.path()),
        )
        .into_response();
    }
    if method != Method::GET && method != Method::HEAD {
        return other_method(method, uri).await.into_response();
    }
    if who.role().is_none() && uri.path() != PAIR {
        return gate::to_pairing(uri.path());
    }
    paint::page(house, who.role(), request)
        .await
        .unwrap_or_else(IntoResponse::into_response)
}
