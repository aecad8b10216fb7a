//! Backups made without anybody asking, and rehearsing their return.

use crate::http::House;
use crate::moment::{birth, now_ms};
use crate::store::{BackupError, Checked, Finding, Header, RestoreError, Store, StoreError};
use pentally_domain::time::{DAY_MS, HOUR_MS};
use std::path::{Path, PathBuf};
use std::time::Duration;
use std::{fs, io};

/// How often it is looked at whether a backup is due.
const LOOK_EVERY: Duration = Duration::from_secs(600);
/// A backup is made when the last is older, and something was written since. Less than a day, so
/// that a machine that runs in working hours makes one every working day.
const DUE_MS: i64 = DAY_MS - 4 * HOUR_MS;
/// How many of the newest stay.
const KEPT: usize = 7;

const OWN: &str = "pentally-";
const INVENTED: &str = "invented-";

/// Why a rehearsal failed.
#[derive(Debug, thiserror::Error)]
pub enum RehearsalError {
    /// See [`StoreError`].
    #[error(transparent)]
    Store(#[from] StoreError),
    /// See [`RestoreError`].
    #[error(transparent)]
    Restore(#[from] RestoreError),
    /// See [`Finding`].
    #[error("what the backup restores is not in order: {0}")]
    Finding(#[from] Finding),
}

/// Makes a backup of the store in use in a folder, verifies it, and keeps the newest few.
pub fn make(house: &House, folder: &Path) -> Result<PathBuf, BackupError> {
    fs::create_dir_all(folder).map_err(StoreError::from)?;
    let birth = birth().map_err(StoreError::from)?;
    let made_at = jiff::Timestamp::from_millisecond(birth.now_ms).unwrap_or_default();
    let start = if house.is_invented() { INVENTED } else { OWN };
    let place = folder.join(format!(
        "{start}{}.jsonl",
        made_at.strftime("%Y%m%d-%H%M%S")
    ));
    house.store().backup(&place, birth)?;
    keep_few(folder, start).map_err(StoreError::from)?;
    Ok(place)
}

/// Restores a backup into a store of its own, checks that as a whole, and throws it away. The store
/// lies in `folder` meanwhile and takes about as much room as the real one.
pub fn rehearse(file: &Path, folder: &Path) -> Result<(Header, Checked), RehearsalError> {
    let room = folder.join("rehearsal");
    let clear = || match fs::remove_dir_all(&room) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(StoreError::from(error)),
        _ => Ok(()),
    };
    clear()?;
    fs::create_dir_all(&room).map_err(StoreError::from)?;
    let restored = || -> Result<_, RehearsalError> {
        let birth = birth().map_err(StoreError::from)?;
        let store = Store::open_aside(&room.join("barn.redb"), birth)?;
        let header = store.restore(file, birth)?;
        Ok((header, store.check()?))
    };
    let result = restored();
    clear()?;
    result
}

/// Makes a backup of the farm's own store whenever one is due, for as long as the house stands.
pub async fn keep(house: House) {
    loop {
        let at_work = house.clone();
        let done = tokio::task::spawn_blocking(move || if_due(&at_work)).await;
        let trouble = match done {
            Ok(Ok(())) => None,
            Ok(Err(error)) => Some(error.to_string()),
            Err(broke) => Some(broke.to_string()),
        };
        if let Some(why) = &trouble {
            tracing::warn!(why, "no backup was made");
        }
        house.set_backup_trouble(trouble);
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

fn if_due(house: &House) -> Result<(), BackupError> {
    if house.is_invented() {
        return Ok(());
    }
    let standing = house.store().standing()?;
    if standing.home.is_none() {
        return Ok(());
    }
    let is_due = standing.backup.is_none_or(|last| {
        last.n != standing.cursor.n && !(0..DUE_MS).contains(&(now_ms() - last.at_ms))
    });
    if is_due {
        let place = make(house, house.backups())?;
        tracing::info!(place = %place.display(), "a backup was made and verified");
    }
    Ok(())
}

/// Removes all but the newest of the backups made here; their names sort by time.
fn keep_few(folder: &Path, start: &str) -> io::Result<()> {
    let names =
        fs::read_dir(folder)?.map(|file| Ok(file?.file_name().to_string_lossy().into_owned()));
    let mut ours: Vec<String> = names.collect::<io::Result<_>>()?;
    ours.retain(|name| {
        name.strip_suffix(".jsonl")
            .is_some_and(|name| name.starts_with(start))
    });
    ours.sort_unstable();
    ours.iter()
        .rev()
        .skip(KEPT)
        .try_for_each(|name| fs::remove_file(folder.join(name)))
}
