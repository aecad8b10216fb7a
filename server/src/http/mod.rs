//! Everything the server answers over HTTP.

mod body;
mod house;
mod office;
pub mod openapi;
pub mod problem;
mod start;
mod sync;
pub mod table;

pub use body::BODY_MAX_BYTES;
pub use house::House;

use crate::bundle;
use axum::Router;
use axum::http::{Method, StatusCode, Uri};
use axum::response::{Html, IntoResponse, Response};
use problem::{METHOD, NOT_FOUND, Problem};
use table::TABLE;

/// The table's routes; every other path is a page.
pub fn router(house: House) -> Router {
    let routes = TABLE.iter().fold(Router::new(), |router, route| router.route(route.path, (route.handler)()));
    routes
        .method_not_allowed_fallback(other_method)
        .fallback(page)
        .with_state(house)
}

async fn other_method(method: Method, uri: Uri) -> Problem {
    Problem::new(METHOD, format!("{} does not take {method}", uri.path()))
}

/// The page around a screen. What looks like a call of a program gets an answer for programs.
async fn page(method: Method, uri: Uri) -> Response {
    if uri.path().starts_with("/api/") {
        return Problem::new(NOT_FOUND, format!("{} is not in /api/v1/openapi.json", uri.path())).into_response();
    }
    if method != Method::GET && method != Method::HEAD {
        return other_method(method, uri).await.into_response();
    }
    shell(StatusCode::OK)
}

fn shell(status: StatusCode) -> Response {
    match bundle::shell() {
        Some(shell) => (status, Html(format!("{}{}", shell.before, shell.after))).into_response(),
        None => (
            StatusCode::SERVICE_UNAVAILABLE,
            "This program was built without its pages. Run `cargo xtask run` instead.\n",
        )
            .into_response(),
    }
}
