//! Pen tags: where they lead, and the sheet to print.

use super::body::Asked;
use super::house::House;
use super::page;
use super::problem::{NOT_FOUND, Problem};
use crate::access::Who;
use crate::print::{PrintError, Wanted, all_tags, symbol};
use crate::serve::PORT;
use crate::tags::Paper;
use axum::Extension;
use axum::extract::{Path, Request, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use pentally_app::words::Lang;
use pentally_domain::code::Code;
use serde::Deserialize;

/// The page behind a tag. Another spelling of its address leads to the one that is printed.
pub(super) async fn behind(
    State(house): State<House>,
    Extension(who): Extension<Who>,
    Path(code): Path<String>,
    request: Request,
) -> Response {
    match Code::parse(&code) {
        Ok(code) if request.uri().path() != code.path() => {
            Redirect::permanent(&code.path()).into_response()
        }
        Ok(_) => page(State(house), Extension(who), request).await,
        // The screen says what is wrong with the code and offers the keypad.
        Err(_) => {
            let mut painted = page(State(house), Extension(who), request).await;
            if painted.status().is_success() {
                *painted.status_mut() = StatusCode::NOT_FOUND;
            }
            painted
        }
    }
}

/// How the sheet is asked for.
#[derive(Debug, Deserialize)]
pub(super) struct Options {
    #[serde(default)]
    paper: Size,
    lang: Option<Lang>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Size {
    #[default]
    A4,
    Letter,
}

/// The sheet of all pens.
pub(super) async fn sheet(
    State(house): State<House>,
    Asked(options): Asked<Options>,
    headers: HeaderMap,
) -> Result<Html<String>, Problem> {
    let paper = match options.paper {
        Size::A4 => Paper::A4,
        Size::Letter => Paper::Letter,
    };
    let lang = options
        .lang
        .or_else(|| preferred(&headers))
        .unwrap_or_default();
    let wanted = Wanted {
        paper,
        lang,
        reached_at: reached_at(&headers),
    };
    let store = house.store();
    Ok(Html(
        tokio::task::spawn_blocking(move || all_tags(&store, &wanted)).await??,
    ))
}

/// One symbol, as `CODE.svg`.
pub(super) async fn one(
    State(house): State<House>,
    Path(file): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let missing = |why: String| Problem::new(NOT_FOUND, why);
    let code = file
        .strip_suffix(".svg")
        .ok_or_else(|| missing(format!("'{file}' does not end in .svg")))?;
    let code = Code::parse(code).map_err(|e| missing(e.to_string()))?;
    let (store, reached_at) = (house.store(), reached_at(&headers));
    let svg = tokio::task::spawn_blocking(move || symbol(&store, code, &reached_at)).await??;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response())
}

fn preferred(headers: &HeaderMap) -> Option<Lang> {
    Lang::preferred(headers.get(header::ACCEPT_LANGUAGE)?.to_str().ok()?)
}

/// The address in the browser's own words; plain http, since this server speaks nothing else yet.
fn reached_at(headers: &HeaderMap) -> String {
    let host = headers
        .get(header::HOST)
        .and_then(|host| host.to_str().ok());
    host.map_or_else(
        || format!("http://localhost:{PORT}"),
        |host| format!("http://{host}"),
    )
}

impl From<PrintError> for Problem {
    fn from(error: PrintError) -> Self {
        match error {
            PrintError::Store(error) => error.into(),
            PrintError::Tag(error) => Self::new(super::problem::IMPOSSIBLE, error.to_string()),
        }
    }
}
