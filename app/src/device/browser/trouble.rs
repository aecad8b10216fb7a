//! What can go wrong with the browser's store, told apart by what helps.

use crate::device::SaveError;
use indexed_db_futures::error::{Error, OpenDbError};
use pentally_domain::envelope::EntryError;

/// See the module's words.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Trouble {
    /// The phone is full.
    #[error("the quota is used up")]
    Full,
    /// The connection or the transaction ended under us: opening again may help.
    #[error("the connection to the store ended: {detail}")]
    Closed {
        /// What the browser said.
        detail: String,
    },
    /// The browser would not promise to write through to the disk.
    #[error("the browser gave durability '{read}' where 'strict' was asked")]
    NotStrict {
        /// What it gave.
        read: String,
    },
    /// The entry lies outside its bounds.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// Anything else.
    #[error("{detail}")]
    Other {
        /// What was said.
        detail: String,
    },
}

impl Trouble {
    /// Something that only says what it is.
    pub fn other(error: &dyn std::fmt::Display) -> Self {
        Self::Other {
            detail: error.to_string(),
        }
    }

    /// The connection ended, and why it is thought to have.
    pub fn closed(why: &str) -> Self {
        Self::Closed {
            detail: why.to_owned(),
        }
    }

    /// From what a transaction or request of the browser ended with.
    pub fn of_exception(exception: &web_sys::DomException) -> Self {
        let detail = format!("{}: {}", exception.name(), exception.message());
        match exception.name().as_str() {
            "QuotaExceededError" => Self::Full,
            "AbortError"
            | "InvalidStateError"
            | "NotFoundError"
            | "TransactionInactiveError"
            | "UnknownError" => Self::Closed { detail },
            _ => Self::Other { detail },
        }
    }
}

impl From<Error> for Trouble {
    fn from(error: Error) -> Self {
        match error {
            Error::DomException(exception) => Self::of_exception(&exception.into()),
            Error::MissingData(error) => Self::Closed {
                detail: error.to_string(),
            },
            other => Self::other(&other),
        }
    }
}

impl From<OpenDbError> for Trouble {
    fn from(error: OpenDbError) -> Self {
        match error {
            OpenDbError::Base(error) => error.into(),
            other => Self::other(&other),
        }
    }
}

impl From<serde_json::Error> for Trouble {
    fn from(error: serde_json::Error) -> Self {
        Self::other(&error)
    }
}

impl From<Trouble> for SaveError {
    fn from(trouble: Trouble) -> Self {
        match trouble {
            Trouble::Full => Self::QuotaFull,
            Trouble::Entry(error) => Self::Entry(error),
            other => Self::Storage {
                detail: other.to_string(),
            },
        }
    }
}
