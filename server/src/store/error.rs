//! What can go wrong in the store, and whether trying again helps.

use pentally_domain::envelope::EntryError;
use std::io;
use std::path::PathBuf;

/// Why the store did not do what it was asked. Whatever it says, nothing was half written.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another process holds the file.
    #[error("{} is in use by another process: stop the other pentally, or choose another --data", .place.display())]
    InUse {
        /// The file.
        place: PathBuf,
    },
    /// No room left.
    #[error("the disk is full: nothing was written; make room and try again")]
    Full,
    /// The operating system said no.
    #[error("reading or writing the store failed: {0}")]
    Io(io::Error),
    /// An earlier failure of the disk closed the file; it is opened anew on the next call.
    #[error("the store was closed after a failure of the disk: try again")]
    Closed,
    /// Bytes that this program did not write, or that changed since.
    #[error("the store is damaged: {detail}; restore the last backup into an empty folder")]
    Damaged {
        /// Where and how.
        detail: String,
    },
    /// A later program wrote this store.
    #[error(
        "this store was written by a newer version of this program ({what} {read}; this one knows {ours}): start the newer one"
    )]
    Newer {
        /// Of what it has a later version: the format or the views.
        what: &'static str,
        /// The version read.
        read: u32,
        /// The version this program writes.
        ours: u32,
    },
    /// There is no farm yet.
    #[error("there is no farm here yet: open the first page and start one, or restore a backup")]
    NoFarm,
    /// There is a farm already.
    #[error("there is a farm here already: a new one begins in an empty data folder")]
    HasFarm,
    /// A device that was shut out speaks as one that is not its own.
    #[error(
        "a device that was shut out speaks for itself only: ask at the office, and pair it again at /pair"
    )]
    Another,
    /// A device that was shut out left as much here as is kept of one.
    #[error(
        "this device was shut out, and what it left here is as much as is kept: pair it again at /pair, and it sends the rest"
    )]
    ApartFull,
    /// The server's own entry was none.
    #[error("an entry of the server itself is wrong: {0}")]
    Entry(#[from] EntryError),
    /// Somebody else's fault inside the store's library.
    #[error("the store's library failed: {0}")]
    Library(String),
}

impl StoreError {
    /// Whether the same call may succeed later without anybody changing the data.
    pub const fn retry_helps(&self) -> bool {
        matches!(
            self,
            Self::InUse { .. } | Self::Full | Self::Io(_) | Self::Closed
        )
    }

    /// Damage, said in words.
    pub(super) fn damaged(detail: impl Into<String>) -> Self {
        Self::Damaged {
            detail: detail.into(),
        }
    }
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        use io::ErrorKind::{FileTooLarge, InvalidData, QuotaExceeded, StorageFull};
        match error.kind() {
            StorageFull | QuotaExceeded | FileTooLarge => Self::Full,
            InvalidData => Self::damaged(error.to_string()),
            _ => Self::Io(error),
        }
    }
}

impl From<serde_json::Error> for StoreError {
    fn from(error: serde_json::Error) -> Self {
        Self::damaged(format!("a stored value does not read ({error})"))
    }
}

impl From<redb::Error> for StoreError {
    fn from(error: redb::Error) -> Self {
        match error {
            redb::Error::Io(error) => error.into(),
            redb::Error::PreviousIo | redb::Error::DatabaseClosed => Self::Closed,
            redb::Error::DatabaseAlreadyOpen => Self::InUse {
                place: PathBuf::from("the store"),
            },
            redb::Error::Corrupted(detail) => Self::Damaged { detail },
            other => Self::Library(other.to_string()),
        }
    }
}

macro_rules! from_redb {
    ($($error:ident),+) => {$(
        impl From<redb::$error> for StoreError {
            fn from(error: redb::$error) -> Self {
                redb::Error::from(error).into()
            }
        }
    )+};
}

from_redb!(
    TransactionError,
    TableError,
    StorageError,
    CommitError,
    DatabaseError
);
