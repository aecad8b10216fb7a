//! Everything the server answers over HTTP.

mod body;
mod house;
mod import;
mod office;
pub mod openapi;
pub mod problem;
mod reckon;
mod start;
mod sync;
pub mod table;
mod tags;

pub use body::BODY_MAX_BYTES;
pub use house::House;

use crate::paint;
use axum::Router;
use axum::extract::{Request, State};
use axum::http::{Method, Uri};
use axum::response::{IntoResponse, Response};
use problem::{METHOD, NOT_FOUND, Problem};
use table::TABLE;

/// The table's routes; every other path is a page.
pub fn router(house: House) -> Router {
    let routes = TABLE.iter().fold(Router::new(), |router, route| {
        router.route(route.path, (route.handler)())
    });
    routes
        .method_not_allowed_fallback(other_method)
        .fallback(page)
        .with_state(house)
}

async fn other_method(method: Method, uri: Uri) -> Problem {
    Problem::new(METHOD, format!("{} does not take {method}", uri.path()))
}

/// A screen, painted for reading. What looks like a call of a program gets an answer for programs.
async fn page(State(house): State<House>, request: Request) -> Response {
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
    paint::page(house, request)
        .await
        .unwrap_or_else(IntoResponse::into_response)
}
