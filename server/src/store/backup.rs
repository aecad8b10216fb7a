//! A backup: one file of JSON Lines, written from one snapshot, and read back, folded and compared
//! before it counts.
//!
//! The first line says what follows, then comes every entry in the order of the log, as exported;
//! then what stands beside the log: `{"aside":…}`, `{"beside":…}`, `{"device":…}`. The last line,
//! `{"end":…}`, has the number of lines before it and the SHA-256 of their bytes.

use super::aside::SetAside;
use super::device::{self, Device};
use super::error::StoreError;
use super::meta::{self, LastBackup};
use super::tables::{self, ASIDE, DEVICES, LEDGERS, META, log, read_entry};
use super::{Birth, Store, read};
use pentally_domain::envelope::Hash;
use pentally_domain::id::{BarnId, DeviceId, Epoch, FarmId};
use pentally_domain::sync::Beside;
use redb::{ReadTransaction, ReadableTable, ReadableTableMetadata};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use uuid::Uuid;

/// The version of the file's layout.
pub(super) const LAYOUT: u32 = 1;

/// The first line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Header {
    /// The version of the layout.
    pub pentally_backup: u32,
    /// Whose log.
    pub farm: FarmId,
    /// Which barn's server.
    pub barn: BarnId,
    /// The history it is a copy of.
    pub epoch: Epoch,
    /// How many entries.
    pub n: u64,
    /// The hash of the log after them.
    pub hash: Hash,
    /// When it was made (ms since 1970).
    pub made_at_ms: i64,
}

/// What stands beside the log.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Extra {
    Aside(SetAside),
    Beside(Beside),
    Device {
        id: DeviceId,
        #[serde(flatten)]
        device: Device,
    },
    End {
        lines: u64,
        sha256: Hash,
    },
}

/// Why there is no backup.
#[derive(Debug, thiserror::Error)]
pub enum BackupError {
    /// The store could not be read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The file could not be written.
    #[error("{}: {source}; the backup does not count", .place.display())]
    File {
        /// Which.
        place: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// It was written, and reads back otherwise.
    #[error("{}: what was written does not read back as the log ({reason}); the backup does not count", .place.display())]
    Unlike {
        /// Which.
        place: PathBuf,
        /// Where it differs.
        reason: String,
    },
}

impl Store {
    /// Writes a backup to `place`, verifies it, and only then gives it its name and counts it.
    pub fn backup(&self, place: &Path, birth: Birth) -> Result<Header, BackupError> {
        let draft = beside_it(place, "part");
        let made = self.with_snapshot(|txn| {
            let header = write_file(txn, &draft, birth.now_ms)?;
            verify(txn, &draft, birth)?;
            Ok((header, devices(txn)?))
        });
        let named = made.and_then(|made| {
            fs::rename(&draft, place)
                .and_then(|()| settle_folder(place))
                .map_err(|source| at(place, source))?;
            Ok(made)
        });
        if named.is_err() {
            // The draft is worthless; the error that matters is the first.
            let _ = fs::remove_file(&draft);
        }
        let (header, devices) = named?;
        self.covered(header, &devices)?;
        Ok(header)
    }

    fn with_snapshot<T>(
        &self,
        work: impl Fn(&ReadTransaction) -> Result<T, BackupError>,
    ) -> Result<T, BackupError> {
        let result = self.read(|txn| match work(txn) {
            Err(BackupError::Store(error)) => Err(error),
            other => Ok(other),
        });
        result?
    }

    /// From now on devices may let go of what the backup covers.
    fn covered(&self, header: Header, devices: &[(DeviceId, Device)]) -> Result<(), StoreError> {
        self.write(|t| {
            for (id, then) in devices {
                let mut now = device::load(t, *id)?;
                now.backed_up = now.backed_up.max(then.contiguous);
                device::save(t, *id, &now)?;
            }
            meta::put(
                &mut t.meta,
                meta::BACKUP_KEY,
                &LastBackup {
                    n: header.n,
                    at_ms: header.made_at_ms,
                },
            )
        })
    }
}

/// A file beside another, with its name and another ending.
fn beside_it(place: &Path, ending: &str) -> PathBuf {
    let mut name = place.file_name().unwrap_or_default().to_owned();
    name.push(".");
    name.push(ending);
    place.with_file_name(name)
}

fn at(place: &Path, source: io::Error) -> BackupError {
    BackupError::File {
        place: place.to_owned(),
        source,
    }
}

/// A rename is durable once its folder is.
fn settle_folder(place: &Path) -> io::Result<()> {
    let folder = place
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}

struct Lines<'a> {
    file: BufWriter<&'a File>,
    sha: Sha256,
    count: u64,
    place: &'a Path,
}

impl Lines<'_> {
    fn line(&mut self, line: &str) -> Result<(), BackupError> {
        self.sha.update(line);
        self.sha.update("\n");
        self.count += 1;
        writeln!(self.file, "{line}").map_err(|source| at(self.place, source))
    }

    fn json(&mut self, value: &impl Serialize) -> Result<(), BackupError> {
        let line = serde_json::to_string(value).map_err(StoreError::from)?;
        self.line(&line)
    }
}

fn write_file(txn: &ReadTransaction, place: &Path, now_ms: i64) -> Result<Header, BackupError> {
    let file = File::create(place).map_err(|source| at(place, source))?;
    let mut lines = Lines {
        file: BufWriter::new(&file),
        sha: Sha256::new(),
        count: 0,
        place,
    };
    let header = header(txn, now_ms)?;
    lines.json(&header)?;
    for item in log(txn)?.iter().map_err(StoreError::from)? {
        let (n, value) = item.map_err(StoreError::from)?;
        lines.line(&read_entry(n.value(), value.value())?.to_line())?;
    }
    extras(txn, |extra| lines.json(&extra))?;
    let sha256 = Hash::from_bytes(lines.sha.clone().finalize().into());
    lines.json(&Extra::End {
        lines: lines.count,
        sha256,
    })?;
    lines
        .file
        .flush()
        .and_then(|()| file.sync_all())
        .map_err(|source| at(place, source))?;
    Ok(header)
}

fn header(txn: &ReadTransaction, now_ms: i64) -> Result<Header, StoreError> {
    let meta = txn.open_table(META)?;
    let home = meta::home(&meta)?;
    let (n, hash) = tables::end(&log(txn)?)?;
    let epoch = meta::epoch(&meta)?;
    Ok(Header {
        pentally_backup: LAYOUT,
        farm: home.farm,
        barn: home.barn,
        epoch,
        n,
        hash,
        made_at_ms: now_ms,
    })
}

/// Hands out what stands beside the log, one by one: what was set aside may be more than memory holds.
fn extras(
    txn: &ReadTransaction,
    mut write: impl FnMut(Extra) -> Result<(), BackupError>,
) -> Result<(), BackupError> {
    for item in txn
        .open_table(ASIDE)
        .map_err(StoreError::from)?
        .iter()
        .map_err(StoreError::from)?
    {
        let (_, aside) = item.map_err(StoreError::from)?;
        let aside = serde_json::from_slice(aside.value()).map_err(StoreError::from)?;
        write(Extra::Aside(aside))?;
    }
    for beside in read::beside(txn)? {
        write(Extra::Beside(beside))?;
    }
    for (id, device) in devices(txn)? {
        write(Extra::Device { id, device })?;
    }
    Ok(())
}

fn devices(txn: &ReadTransaction) -> Result<Vec<(DeviceId, Device)>, StoreError> {
    let mut list = vec![];
    for item in txn.open_table(DEVICES)?.iter()? {
        let (id, device) = item?;
        list.push((
            DeviceId::from_uuid(Uuid::from_bytes(*id.value())),
            serde_json::from_slice(device.value())?,
        ));
    }
    Ok(list)
}

/// Restores the file into a store of its own and compares every ledger.
fn verify(txn: &ReadTransaction, draft: &Path, birth: Birth) -> Result<(), BackupError> {
    let rehearsal = beside_it(draft, "redb");
    let result = rehearse(txn, draft, &rehearsal, birth);
    // Nobody needs it any more, whatever came of it.
    let _ = fs::remove_file(&rehearsal);
    result
}

fn rehearse(
    txn: &ReadTransaction,
    draft: &Path,
    rehearsal: &Path,
    birth: Birth,
) -> Result<(), BackupError> {
    let unlike = |reason: String| BackupError::Unlike {
        place: draft.to_owned(),
        reason,
    };
    // One left by a killed backup must not pass for this one.
    let _ = fs::remove_file(rehearsal);
    let copy = Store::open_aside(rehearsal, birth)?;
    copy.restore(draft, birth)
        .map_err(|error| unlike(error.to_string()))?;
    let differs = copy.read(|other| {
        let (ours, theirs) = (txn.open_table(LEDGERS)?, other.open_table(LEDGERS)?);
        for item in ours.iter()? {
            let (key, value) = item?;
            if theirs
                .get(key.value())?
                .is_none_or(|v| v.value() != value.value())
            {
                return Ok(Some(tables::subject_of(key.value())?));
            }
        }
        Ok((ours.len()? != theirs.len()?).then_some(pentally_domain::fact::Subject::Farm))
    })?;
    differs.map_or(Ok(()), |subject| {
        Err(unlike(format!("the ledger of {subject} differs")))
    })
}
