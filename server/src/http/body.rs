//! Reading requests so that whatever is wrong with them is answered by a problem document.

use super::problem::{MALFORMED, Problem, TOO_LARGE};
use axum::body::Bytes;
use axum::extract::rejection::{BytesRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts, Query, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
use serde::de::DeserializeOwned;

/// The largest request body, in bytes.
pub const BODY_MAX_BYTES: usize = 4 * 1024 * 1024;

/// The body's bytes, at most [`BODY_MAX_BYTES`].
#[derive(Debug, Clone)]
pub struct Body(pub Bytes);

/// What stands behind the `?`.
#[derive(Debug, Clone)]
pub struct Asked<T>(pub T);

impl Body {
    /// Reads the body as JSON.
    pub fn json<T: DeserializeOwned>(&self) -> Result<T, Problem> {
        serde_json::from_slice(&self.0).map_err(|e| Problem::new(MALFORMED, format!("the body does not read: {e}")))
    }
}

impl<S: Send + Sync> FromRequest<S> for Body {
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        Bytes::from_request(request, state).await.map(Self).map_err(|e| unread(&e))
    }
}

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Asked<T> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let asked: Result<Query<T>, QueryRejection> = Query::from_request_parts(parts, state).await;
        asked.map(|Query(asked)| Self(asked)).map_err(|e| Problem::new(MALFORMED, e.body_text()))
    }
}

fn unread(error: &BytesRejection) -> Problem {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        Problem::new(TOO_LARGE, format!("at most {BODY_MAX_BYTES} bytes are taken at once: send it in parts"))
    } else {
        Problem::new(MALFORMED, error.body_text())
    }
}
