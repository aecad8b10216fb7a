//! Reading requests so that whatever is wrong with them is answered by a problem document.

use super::problem::{MALFORMED, Problem, TOO_LARGE};
use crate::import::BYTES_MAX;
use axum::body::Bytes;
use axum::extract::rejection::{BytesRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts, Query, Request};
use axum::http::request::Parts;
use http_body_util::BodyExt;
use serde::de::DeserializeOwned;

/// A body that is too large is still read up to so many times what is taken, or the sender would see a
/// broken connection in place of the answer.
const HEARD_OUT: usize = 16;

/// How many bytes of a body the route takes.
#[derive(Debug, Clone, Copy, Default)]
pub struct Most(pub usize);

/// The body's bytes, at most as many as the table says of the route.
#[derive(Debug, Clone)]
pub struct Body(Vec<u8>);

/// What stands behind the `?`.
#[derive(Debug, Clone)]
pub struct Asked<T>(pub T);

/// Reads a JSON text that stands behind the `?` under that name; its default where none stands.
pub fn json_text<T: DeserializeOwned + Default>(
    text: Option<&str>,
    name: &str,
) -> Result<T, Problem> {
    let read = text.map_or(Ok(T::default()), serde_json::from_str);
    read.map_err(|e| Problem::new(MALFORMED, format!("{name} does not read: {e}")))
}

/// The bytes of a file, at most [`BYTES_MAX`].
pub fn file_bytes(file: Result<Bytes, BytesRejection>) -> Result<Bytes, Problem> {
    file.map_err(|_| {
        let detail = format!("at most {BYTES_MAX} bytes are taken: split the file");
        Problem::new(TOO_LARGE, detail)
    })
}

impl Body {
    /// The bytes as they came.
    pub fn bytes(&self) -> &[u8] {
        &self.0
    }

    /// Reads the body as JSON.
    pub fn json<T: DeserializeOwned>(&self) -> Result<T, Problem> {
        serde_json::from_slice(&self.0)
            .map_err(|e| Problem::new(MALFORMED, format!("the body does not read: {e}")))
    }
}

impl<S: Send + Sync> FromRequest<S> for Body {
    type Rejection = Problem;

    async fn from_request(request: Request, _: &S) -> Result<Self, Problem> {
        let Most(most) = request.extensions().get().copied().unwrap_or_default();
        let mut body = request.into_body();
        let (mut bytes, mut heard) = (vec![], 0);
        while let Some(frame) = body.frame().await {
            let frame =
                frame.map_err(|e| Problem::new(MALFORMED, format!("the body broke off: {e}")))?;
            let Ok(data) = frame.into_data() else {
                continue;
            };
            heard += data.len();
            if heard <= most {
                bytes.extend_from_slice(&data);
            } else if heard > most * HEARD_OUT {
                break;
            }
        }
        if heard > most {
            let detail = format!("at most {most} bytes are taken at once: send it in parts");
            return Err(Problem::new(TOO_LARGE, detail));
        }
        Ok(Self(bytes))
    }
}

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Asked<T> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let asked: Result<Query<T>, QueryRejection> = Query::from_request_parts(parts, state).await;
        asked
            .map(|Query(asked)| Self(asked))
            .map_err(|e| Problem::new(MALFORMED, e.body_text()))
    }
}
