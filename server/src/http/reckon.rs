//! The laboratory's arithmetic for scripts: the functions the screens use.

use super::body::Body;
use super::problem::{FAILED, IMPOSSIBLE, MALFORMED, NOT_FOUND, Problem};
use axum::extract::Path;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use pentally_domain::reckon::{ReckonError, answer};

/// Answers one reckoning. It works on the request alone and is over in microseconds, but for a pool
/// that chance draws or a herd's looks: these take their time beside the other requests.
pub(super) async fn reckon(Path(name): Path<String>, body: Body) -> Result<Response, Problem> {
    let json = tokio::task::spawn_blocking(move || answer(&name, body.bytes())).await??;
    Ok(([(header::CONTENT_TYPE, "application/json")], json).into_response())
}

impl From<ReckonError> for Problem {
    fn from(error: ReckonError) -> Self {
        let kind = match &error {
            ReckonError::Unreadable { .. } => MALFORMED,
            ReckonError::Name { .. } => NOT_FOUND,
            ReckonError::Unwritable { .. } => FAILED,
            ReckonError::Bound(_)
            | ReckonError::Day(_)
            | ReckonError::Curve(_)
            | ReckonError::Time { .. }
            | ReckonError::Moment { .. }
            | ReckonError::NotSettled(_)
            | ReckonError::Nothing { .. } => IMPOSSIBLE,
        };
        Self::new(kind, error.to_string())
    }
}
