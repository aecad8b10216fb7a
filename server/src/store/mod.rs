//! The store: one redb file that holds the log and the views folded from it.
//!
//! No type of redb leaves this folder, except the storage a test brings along. Every write is one
//! transaction with a durable commit; whoever is answered may forget what they sent.

mod alarm;
mod apart;
mod aside;
mod backup;
mod begin;
mod beside;
mod check;
mod climate;
mod device;
mod error;
mod known;
mod meta;
mod missing;
mod outlook;
mod paired;
mod pull;
mod push;
mod read;
mod restore;
mod tables;
mod views;

pub use alarm::Alarm;
pub use apart::APART_MAX_BYTES;
pub use aside::SetAside;
pub use backup::{BackupError, Header};
pub use begin::Saying;
pub use beside::BESIDE_MAX_BYTES;
pub use check::{Checked, Finding};
pub use device::Device;
pub use error::StoreError;
pub use meta::{Home, LastBackup};
pub use missing::Missing;
pub use outlook::{MadeOutlook, OutlookError};
pub use paired::Paired;
pub use read::Standing;
pub use restore::RestoreError;

use pentally_domain::id::Epoch;
use redb::{
    Builder, Database, ReadTransaction, ReadableDatabase, StorageBackend, WriteTransaction,
};
use std::path::{Path, PathBuf};
use std::sync::{PoisonError, RwLock};
use tables::Tables;

/// What redb keeps in memory. Its default would grow to hundreds of MB in a long scan, and what a scan
/// leaves behind costs more than twice its size. The system keeps the file's pages besides.
const CACHE_BYTES: usize = 16 * 1024 * 1024;
/// What it keeps of a store that stands beside the one in use for a while.
const CACHE_ASIDE_BYTES: usize = 8 * 1024 * 1024;

/// What a new store is born with; an existing one does not look at it.
#[derive(Debug, Clone, Copy)]
pub struct Birth {
    /// The server's clock (ms since 1970).
    pub now_ms: i64,
    /// Fresh random bytes.
    pub random: [u8; 10],
}

/// The store of one farm.
#[derive(Debug)]
pub struct Store {
    db: RwLock<Option<Database>>,
    place: Option<PathBuf>,
    /// The last fit as pages read it, once one was read.
    outlook: RwLock<Option<outlook::Read>>,
}

impl Store {
    /// Opens the file, or makes it. Does not take longer as the log grows.
    pub fn open(place: &Path, birth: Birth) -> Result<Self, StoreError> {
        Self::open_with(place, CACHE_BYTES, birth)
    }

    /// The same of a store that is made to be thrown away, beside the one in use: it takes little memory.
    pub fn open_aside(place: &Path, birth: Birth) -> Result<Self, StoreError> {
        Self::open_with(place, CACHE_ASIDE_BYTES, birth)
    }

    fn open_with(place: &Path, cache_bytes: usize, birth: Birth) -> Result<Self, StoreError> {
        let store = Self {
            db: RwLock::new(Some(open_file(place, cache_bytes)?)),
            place: Some(place.to_owned()),
            outlook: RwLock::default(),
        };
        store.prepare(birth)?;
        Ok(store)
    }

    /// Opens a store on any storage: memory, or one that loses what was not flushed.
    pub fn on_backend(backend: impl StorageBackend, birth: Birth) -> Result<Self, StoreError> {
        let db = Builder::new()
            .set_cache_size(CACHE_BYTES)
            .create_with_backend(backend)?;
        let store = Self {
            db: RwLock::new(Some(db)),
            place: None,
            outlook: RwLock::default(),
        };
        store.prepare(birth)?;
        Ok(store)
    }

    /// A store in memory, for tests and rehearsals.
    pub fn in_memory(birth: Birth) -> Result<Self, StoreError> {
        Self::on_backend(redb::backends::InMemoryBackend::new(), birth)
    }

    /// Checks format and views of a store just opened, and fills a new one.
    fn prepare(&self, birth: Birth) -> Result<(), StoreError> {
        // Before any table is opened for writing: that of a newer program may be of another shape.
        self.read(meta::is_readable)?;
        self.transaction(|txn| {
            let mut t = Tables::open(txn)?;
            if meta::get::<u32>(&t.meta, meta::FORMAT_KEY)?.is_none() {
                meta::put(&mut t.meta, meta::FORMAT_KEY, &meta::FORMAT)?;
                meta::put(&mut t.meta, meta::VIEWS_KEY, &meta::VIEWS)?;
                meta::put(
                    &mut t.meta,
                    meta::EPOCH_KEY,
                    &Epoch::v7(birth.now_ms, birth.random),
                )?;
            }
            if meta::get::<u32>(&t.meta, meta::VIEWS_KEY)? != Some(meta::VIEWS) {
                drop(t);
                views::rebuild(txn)?;
                t = Tables::open(txn)?;
                meta::put(&mut t.meta, meta::VIEWS_KEY, &meta::VIEWS)?;
            }
            Ok(())
        })
    }

    /// One writing transaction over all tables; durable when it returns.
    fn write<T>(
        &self,
        work: impl Fn(&mut Tables<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.transaction(|txn| work(&mut Tables::open(txn)?))
    }

    /// As [`Store::write`], for work that may also stop for a reason of its own: then nothing is written.
    fn write_unless<T, X>(
        &self,
        work: impl Fn(&mut Tables<'_>) -> Result<Result<T, X>, StoreError>,
    ) -> Result<Result<T, X>, StoreError> {
        self.with(|db| {
            let txn = begin(db)?;
            let answer = work(&mut Tables::open(&txn)?)?;
            if answer.is_ok() {
                txn.commit()?
            } else {
                txn.abort()?
            }
            Ok(answer)
        })
    }

    fn transaction<T>(
        &self,
        work: impl Fn(&WriteTransaction) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.with(|db| {
            let txn = begin(db)?;
            let answer = work(&txn)?;
            txn.commit()?;
            Ok(answer)
        })
    }

    /// One snapshot to read from.
    fn read<T>(
        &self,
        work: impl Fn(&ReadTransaction) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.with(|db| work(&db.begin_read()?))
    }

    /// After a failure of the disk redb answers nothing until the file is opened anew.
    fn with<T>(&self, work: impl Fn(&Database) -> Result<T, StoreError>) -> Result<T, StoreError> {
        match self.attempt(&work) {
            Err(StoreError::Closed) => {
                self.reopen()?;
                self.attempt(&work)
            }
            answer => answer,
        }
    }

    fn attempt<T>(
        &self,
        work: impl Fn(&Database) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let db = self.db.read().unwrap_or_else(PoisonError::into_inner);
        work(db.as_ref().ok_or(StoreError::Closed)?)
    }

    fn reopen(&self) -> Result<(), StoreError> {
        let place = self.place.as_ref().ok_or(StoreError::Closed)?;
        let mut db = self.db.write().unwrap_or_else(PoisonError::into_inner);
        // The old handle holds the lock on the file.
        drop(db.take());
        *db = Some(open_file(place, CACHE_BYTES)?);
        Ok(())
    }
}

fn begin(db: &Database) -> Result<WriteTransaction, StoreError> {
    let mut txn = db.begin_write()?;
    // Keeps the time to open independent of the log's length, also after a kill.
    txn.set_quick_repair(true);
    Ok(txn)
}

fn open_file(place: &Path, cache_bytes: usize) -> Result<Database, StoreError> {
    let opened = Builder::new().set_cache_size(cache_bytes).create(place);
    opened.map_err(|error| match error {
        redb::DatabaseError::DatabaseAlreadyOpen => StoreError::InUse {
            place: place.to_owned(),
        },
        other => other.into(),
    })
}
