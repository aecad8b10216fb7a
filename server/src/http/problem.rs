//! The one place where an error becomes an HTTP answer: RFC 9457 problem documents.

use crate::store::{BackupError, StoreError};
use crate::zone::ZoneError;
use axum::Json;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;

/// A problem document. `kind` is what programs match on; it never changes its meaning.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// A relative address that names the kind of problem.
    #[serde(rename = "type")]
    pub kind: &'static str,
    /// The kind in words.
    pub title: &'static str,
    /// The HTTP status.
    pub status: u16,
    /// What was read and what would be right.
    pub detail: String,
    /// Which of several things of the kind it is, where a page has words of its own for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<Code>,
}

/// One thing among those of a kind. Like `kind`, none ever changes its meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Code {
    /// Not a name that a machine of the farm's network can have.
    NotALocalName,
    /// It reads, but is too long for the code on a tag.
    NameTooLong,
    /// Not the owner's passphrase.
    NotTheOwner,
    /// A code or a secret by which nobody comes in, or not any more.
    NotACode,
    /// The device that asked to come in does not wait any more.
    NobodyWaits,
}

impl Code {
    /// Every one.
    pub const ALL: [Self; 5] = [
        Self::NotALocalName,
        Self::NameTooLong,
        Self::NotTheOwner,
        Self::NotACode,
        Self::NobodyWaits,
    ];
}

/// Every kind of problem: its address, title and status.
pub const KINDS: &[(&str, &str, StatusCode)] = &[
    MALFORMED,
    TOO_LARGE,
    NOT_FOUND,
    METHOD,
    PROTOCOL,
    NO_FARM,
    HAS_FARM,
    IMPOSSIBLE,
    FULL,
    BUSY,
    FAILED,
    UNKNOWN,
    NOT_ALLOWED,
    ELSEWHERE,
    MISDIRECTED,
    GONE,
    TOO_MANY,
    NO_NETWORK,
    HAS_NETWORK,
];

type Kind = (&'static str, &'static str, StatusCode);
/// Not what the request should be.
pub const MALFORMED: Kind = (
    "/problems/malformed",
    "The request does not read",
    StatusCode::BAD_REQUEST,
);
/// No cookie, an unknown one, or that of a device that was shut out.
pub const UNKNOWN: Kind = (
    "/problems/unknown-device",
    "The office does not know this device",
    StatusCode::UNAUTHORIZED,
);
/// Known, and not allowed.
pub const NOT_ALLOWED: Kind = (
    "/problems/not-allowed",
    "Not for this device",
    StatusCode::FORBIDDEN,
);
/// From a page of another address.
pub const ELSEWHERE: Kind = (
    "/problems/elsewhere",
    "Asked from elsewhere",
    StatusCode::FORBIDDEN,
);
/// Under a name that is not this server's.
pub const MISDIRECTED: Kind = (
    "/problems/misdirected",
    "Another server was meant",
    StatusCode::MISDIRECTED_REQUEST,
);
/// A secret, a code or a passphrase that opens nothing.
pub const GONE: Kind = (
    "/problems/opens-nothing",
    "That opens nothing",
    StatusCode::UNPROCESSABLE_ENTITY,
);
/// Too many guesses.
pub const TOO_MANY: Kind = (
    "/problems/too-many",
    "Too many guesses",
    StatusCode::TOO_MANY_REQUESTS,
);
/// Before the barn is on the farm's network.
pub const NO_NETWORK: Kind = (
    "/problems/no-network",
    "Not on the farm's network",
    StatusCode::CONFLICT,
);
/// The address on the tags was chosen.
pub const HAS_NETWORK: Kind = (
    "/problems/has-network",
    "The barn has an address",
    StatusCode::CONFLICT,
);
/// More than is taken at once.
pub const TOO_LARGE: Kind = (
    "/problems/too-large",
    "The request is too large",
    StatusCode::PAYLOAD_TOO_LARGE,
);
/// Nothing there.
pub const NOT_FOUND: Kind = (
    "/problems/not-found",
    "Nothing is here",
    StatusCode::NOT_FOUND,
);
/// Another method.
pub const METHOD: Kind = (
    "/problems/method",
    "Not with this method",
    StatusCode::METHOD_NOT_ALLOWED,
);
/// Another version of the conversation: the app is to be loaded anew.
pub const PROTOCOL: Kind = (
    "/problems/protocol",
    "Another protocol version",
    StatusCode::UPGRADE_REQUIRED,
);
/// Before the first start.
pub const NO_FARM: Kind = ("/problems/no-farm", "No farm yet", StatusCode::CONFLICT);
/// After the first start.
pub const HAS_FARM: Kind = (
    "/problems/has-farm",
    "A farm is here already",
    StatusCode::CONFLICT,
);
/// It reads, but cannot be.
pub const IMPOSSIBLE: Kind = (
    "/problems/impossible",
    "This cannot be",
    StatusCode::UNPROCESSABLE_ENTITY,
);
/// No room.
pub const FULL: Kind = (
    "/problems/full",
    "The disk is full",
    StatusCode::INSUFFICIENT_STORAGE,
);
/// Later perhaps.
pub const BUSY: Kind = ("/problems/busy", "Not now", StatusCode::SERVICE_UNAVAILABLE);
/// Our fault.
pub const FAILED: Kind = (
    "/problems/failed",
    "The server failed",
    StatusCode::INTERNAL_SERVER_ERROR,
);

impl Problem {
    /// A problem of a kind, in words.
    pub fn new((kind, title, status): Kind, detail: impl Into<String>) -> Self {
        Self {
            kind,
            title,
            status: status.as_u16(),
            detail: detail.into(),
            code: None,
        }
    }

    /// The same, as one thing among those of its kind.
    #[must_use]
    pub fn coded(self, code: Code) -> Self {
        Self {
            code: Some(code),
            ..self
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let mut response = (status, Json(self)).into_response();
        let kind = HeaderValue::from_static("application/problem+json");
        response.headers_mut().insert(header::CONTENT_TYPE, kind);
        response
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        let kind = match &error {
            StoreError::Full | StoreError::ApartFull => FULL,
            StoreError::Another => UNKNOWN,
            StoreError::NoFarm => NO_FARM,
            StoreError::HasFarm => HAS_FARM,
            StoreError::Entry(_) => IMPOSSIBLE,
            StoreError::Closed | StoreError::InUse { .. } => BUSY,
            StoreError::Io(_)
            | StoreError::Damaged { .. }
            | StoreError::Newer { .. }
            | StoreError::Library(_) => FAILED,
        };
        Self::new(kind, error.to_string())
    }
}

impl From<BackupError> for Problem {
    fn from(error: BackupError) -> Self {
        match error {
            BackupError::Store(error) => error.into(),
            BackupError::File { source, place } => match StoreError::from(source) {
                StoreError::Full => StoreError::Full.into(),
                other => Self::new(
                    FAILED,
                    format!("{}: {other}; the backup does not count", place.display()),
                ),
            },
            unlike @ BackupError::Unlike { .. } => Self::new(FAILED, unlike.to_string()),
        }
    }
}

impl From<std::io::Error> for Problem {
    fn from(error: std::io::Error) -> Self {
        StoreError::from(error).into()
    }
}

impl From<ZoneError> for Problem {
    fn from(error: ZoneError) -> Self {
        Self::new(IMPOSSIBLE, error.to_string())
    }
}

impl From<tokio::task::JoinError> for Problem {
    fn from(_: tokio::task::JoinError) -> Self {
        Self::new(
            FAILED,
            "the work on this request broke off; nothing was half written",
        )
    }
}
