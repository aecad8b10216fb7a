//! A backup becomes a store again: whole, or not at all, and as a new epoch, so that devices
//! notice and send again what the backup does not have.

use super::aside::{self, SetAside};
use super::backup::{Extra, Header, LAYOUT};
use super::begin::adopt;
use super::beside;
use super::error::StoreError;
use super::meta::{self, Home, LastBackup};
use super::push::Taking;
use super::tables::Tables;
use super::{Birth, Store};
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::Fact;
use serde::de::DeserializeOwned;
use sha2::{Digest, Sha256};
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

/// The longest line, in bytes; what was set aside may be as long as a request.
const LINE_MAX_BYTES: u64 = 64 * 1024 * 1024;
/// Ledgers are written out after so many entries, so that memory stays bounded.
const AT_ONCE: u64 = 5_000;

/// Why a backup was not restored. The store is as empty as before.
#[derive(Debug, thiserror::Error)]
pub enum RestoreError {
    /// The store said no.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The file could not be read.
    #[error("{}: {source}", .place.display())]
    File {
        /// Which.
        place: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// The file is not a whole backup.
    #[error("{}, line {line}: {reason}; nothing was restored: take another backup file", .place.display())]
    Line {
        /// Which file.
        place: PathBuf,
        /// Counted from 1.
        line: u64,
        /// What was read and what would be right.
        reason: String,
    },
}

impl Store {
    /// Fills this empty store from a backup file.
    pub fn restore(&self, place: &Path, birth: Birth) -> Result<Header, RestoreError> {
        let result = self.write_unless(|t| match restore(t, place, birth) {
            Err(RestoreError::Store(error)) => Err(error),
            other => Ok(other),
        });
        result?
    }
}

fn restore(t: &mut Tables<'_>, place: &Path, birth: Birth) -> Result<Header, RestoreError> {
    let file = File::open(place).map_err(|source| RestoreError::File {
        place: place.to_owned(),
        source,
    })?;
    let mut lines = Lines {
        file: BufReader::new(file),
        place,
        line: 0,
        sha: Sha256::new(),
    };
    let header: Header = lines.json()?;
    if header.pentally_backup != LAYOUT {
        return lines.bad(format!(
            "layout {} was read, this program reads layout {LAYOUT}",
            header.pentally_backup
        ));
    }
    adopt(
        t,
        Home {
            farm: header.farm,
            barn: header.barn,
        },
        birth,
    )?;
    let own = meta::head(&t.meta)?.device;
    let mut taking = Taking::begin(t, own, birth.now_ms)?;
    while taking.n() < header.n {
        let text = lines.next()?;
        let entry = Entry::from_line(&text)
            .or_else(|error| lines.bad(format!("no entry, but one was expected ({error})")))?;
        let fact = Fact::of(entry.envelope()).ok().flatten();
        taking.append(t, &entry, fact.as_ref())?;
        if taking.n().is_multiple_of(AT_ONCE) {
            taking.write_views(t)?;
        }
    }
    if taking.hash() != header.hash {
        return lines.bad("the entries are not the log that the first line names".to_owned());
    }
    extras(t, &mut taking, &mut lines)?;
    taking.settle(t)?;
    taking.count_as_backed_up();
    taking.write(t)?;
    meta::put(
        &mut t.meta,
        meta::BACKUP_KEY,
        &LastBackup {
            n: header.n,
            at_ms: header.made_at_ms,
        },
    )?;
    Ok(header)
}

/// Reads what stands beside the log, up to the end.
fn extras(
    t: &mut Tables<'_>,
    taking: &mut Taking,
    lines: &mut Lines<'_>,
) -> Result<(), RestoreError> {
    loop {
        let (before, sha) = (lines.line, lines.sha.clone());
        match lines.json()? {
            Extra::Aside(aside) => take_aside(t, taking, &aside)?,
            Extra::Beside(beside) => beside::keep(t, &beside)?,
            Extra::Device { id, device } => {
                let known = taking.device_mut(t, id)?;
                known.floor = device.floor;
                known.unsent = device.unsent;
                known.last_seen_ms = device.last_seen_ms;
            }
            Extra::End {
                lines: count,
                sha256,
            } if count == before && sha256 == Hash::from_bytes(sha.finalize().into()) => {
                return Ok(());
            }
            Extra::End { .. } => {
                return lines
                    .bad("the lines before this one are not those that were written".to_owned());
            }
        }
    }
}

fn take_aside(t: &mut Tables<'_>, taking: &mut Taking, aside: &SetAside) -> Result<(), StoreError> {
    aside::keep(t, aside)?;
    taking.received_apart(t, &aside.text)
}

struct Lines<'a> {
    file: BufReader<File>,
    place: &'a Path,
    line: u64,
    sha: Sha256,
}

impl Lines<'_> {
    fn next(&mut self) -> Result<String, RestoreError> {
        let mut bytes = vec![];
        self.line += 1;
        let read = self
            .file
            .by_ref()
            .take(LINE_MAX_BYTES)
            .read_until(b'\n', &mut bytes);
        read.map_err(|source| RestoreError::File {
            place: self.place.to_owned(),
            source,
        })?;
        if bytes.pop() != Some(b'\n') {
            return self.bad("the file ends here, before its last line".to_owned());
        }
        self.sha.update(&bytes);
        self.sha.update(b"\n");
        String::from_utf8(bytes).or_else(|_| self.bad("not UTF-8".to_owned()))
    }

    fn json<T: DeserializeOwned>(&mut self) -> Result<T, RestoreError> {
        let text = self.next()?;
        serde_json::from_str(&text)
            .or_else(|error| self.bad(format!("not a line of a backup ({error})")))
    }

    fn bad<T>(&self, reason: String) -> Result<T, RestoreError> {
        Err(RestoreError::Line {
            place: self.place.to_owned(),
            line: self.line,
            reason,
        })
    }
}
