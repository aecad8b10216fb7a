//! What the store knows about itself.

use super::error::StoreError;
use super::tables::{Bytes, META};
use pentally_domain::id::{BarnId, Epoch, FarmId};
use pentally_domain::writer::Head;
use redb::{ReadTransaction, ReadableTable, Table, TableError};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// The layout of the tables. A store of a higher one is refused.
pub(super) const FORMAT: u32 = 1;
/// What the views hold; they are rebuilt from the log when a store has a lower one. A store of a higher
/// one is refused: a newer program made it, and may have made more of it that this one would undo.
pub(super) const VIEWS: u32 = 5;

pub(super) const FORMAT_KEY: &str = "format";
pub(super) const VIEWS_KEY: &str = "views";
pub(super) const EPOCH_KEY: &str = "epoch";
pub(super) const HOME_KEY: &str = "home";
pub(super) const HEAD_KEY: &str = "head";
pub(super) const OWNER_KEY: &str = "owner";
pub(super) const BACKUP_KEY: &str = "backup";
pub(super) const OUTLOOK_KEY: &str = "outlook";
pub(super) const OUTLOOK_MADE_KEY: &str = "outlook_made";

/// Whose log this is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Home {
    /// The farm.
    pub farm: FarmId,
    /// The barn the server stands in.
    pub barn: BarnId,
}

/// The last verified backup.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct LastBackup {
    /// How many entries it covers.
    pub n: u64,
    /// When it was verified (ms since 1970).
    pub at_ms: i64,
}

/// Refuses a store that a newer program wrote. Opens nothing but this table.
pub(super) fn is_readable(txn: &ReadTransaction) -> Result<(), StoreError> {
    let meta = match txn.open_table(META) {
        Ok(meta) => meta,
        Err(TableError::TableDoesNotExist(_)) => return Ok(()),
        Err(error) => return Err(error.into()),
    };
    for (what, key, ours) in [("format", FORMAT_KEY, FORMAT), ("views", VIEWS_KEY, VIEWS)] {
        if let Some(read) = get::<u32>(&meta, key)?.filter(|read| *read > ours) {
            return Err(StoreError::Newer { what, read, ours });
        }
    }
    Ok(())
}

type Meta<'a> = &'a dyn Get;

/// Reads a value by its name from a table open for reading or writing.
pub(super) trait Get {
    fn bytes(&self, key: &str) -> Result<Option<Vec<u8>>, StoreError>;
}

impl<T: ReadableTable<&'static str, Bytes>> Get for T {
    fn bytes(&self, key: &str) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.get(key)?.map(|value| value.value().to_vec()))
    }
}

pub(super) fn get<T: DeserializeOwned>(meta: Meta<'_>, key: &str) -> Result<Option<T>, StoreError> {
    meta.bytes(key)?
        .map(|bytes| Ok(serde_json::from_slice(&bytes)?))
        .transpose()
}

pub(super) fn put<T: Serialize>(
    meta: &mut Table<'_, &'static str, Bytes>,
    key: &str,
    value: &T,
) -> Result<(), StoreError> {
    meta.insert(key, serde_json::to_vec(value)?.as_slice())?;
    Ok(())
}

pub(super) fn epoch(meta: Meta<'_>) -> Result<Epoch, StoreError> {
    get(meta, EPOCH_KEY)?.ok_or_else(|| StoreError::damaged("the store has no epoch"))
}

pub(super) fn home(meta: Meta<'_>) -> Result<Home, StoreError> {
    get(meta, HOME_KEY)?.ok_or(StoreError::NoFarm)
}

pub(super) fn head(meta: Meta<'_>) -> Result<Head, StoreError> {
    get(meta, HEAD_KEY)?.ok_or(StoreError::NoFarm)
}
