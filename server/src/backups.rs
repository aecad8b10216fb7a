//! Backups made without anybody asking, and rehearsing their return.

use crate::http::House;
use crate::moment::{birth, now_ms};
use crate::quiet;
use crate::store::{
    BackupError, Checked, Finding, Header, RestoreError, Standing, Store, StoreError,
};
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
    quiet::opened().await;
    loop {
        let at_work = house.clone();
        let done = quiet::run(move || if_due(&at_work, now_ms())).await;
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

/// Removes what backups left in the folder that were killed while they were written. To be called
/// before the barn opens: nobody writes one then.
pub fn sweep(folder: &Path) -> io::Result<()> {
    let files = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        files => files?,
    };
    for file in files {
        let file = file?;
        let name = file.file_name().to_string_lossy().into_owned();
        let is_ours = name.starts_with(OWN) || name.starts_with(INVENTED);
        let is_left = name.ends_with(".jsonl.part") || name.ends_with(".jsonl.part.redb");
        if is_ours && is_left {
            fs::remove_file(file.path())?;
        }
    }
    Ok(())
}

fn if_due(house: &House, now_ms: i64) -> Result<(), BackupError> {
    if house.is_invented() {
        return Ok(());
    }
    let standing = house.store().standing()?;
    if standing.home.is_none() {
        return Ok(());
    }
    if is_due(&standing, now_ms) {
        let place = make(house, house.backups())?;
        tracing::info!(place = %place.display(), "a backup was made and verified");
    }
    Ok(())
}

/// Whether the last backup is old enough and something was written since. One dated after now was
/// made under a wrong clock, and says nothing.
fn is_due(standing: &Standing, now_ms: i64) -> bool {
    standing.backup.is_none_or(|last| {
        last.n != standing.cursor.n && !(0..DUE_MS).contains(&(now_ms - last.at_ms))
    })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::{Network, Said};
    use crate::store::{Home, Saying};
    use pentally_domain::fact::Fact;
    use pentally_domain::farm::Farm;
    use pentally_domain::said::Label;
    use pentally_domain::time::{Stamp, Zone};

    /// A farm in a folder of its own, gone with the test.
    struct Barn {
        house: House,
        folder: PathBuf,
    }

    impl Drop for Barn {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.folder);
        }
    }

    impl Barn {
        fn new(name: &str) -> Self {
            let name = format!("pentally-backups-{}-{name}", std::process::id());
            let folder = std::env::temp_dir().join(name);
            let _ = fs::remove_dir_all(&folder);
            fs::create_dir_all(&folder).unwrap();
            let store = Store::open(&folder.join("barn.redb"), birth().unwrap()).unwrap();
            let network = Network::of(&folder, Said::default()).unwrap();
            let house = House::new(folder.clone(), store, network);
            Self { house, folder }
        }

        /// Writes one entry more; the first begins the farm.
        fn write(&self) {
            let farm = Farm {
                name: Label::parse("Hill").unwrap(),
                zone: Zone::fixed("UTC", 0),
                origin: None,
                invented: false,
            };
            let (now_ms, birth) = (now_ms(), birth().unwrap());
            let now = Stamp::new(now_ms, 0).unwrap();
            let saying = Saying {
                fact: Fact::Farm(farm),
                occurred_at: None,
                random: birth.random,
            };
            let store = self.house.store();
            let home = Home::new(now_ms, [1; 10], [2; 10]);
            match store.begin(home, &saying, now, birth) {
                Err(StoreError::HasFarm) => drop(store.say(&[saying], now).unwrap()),
                begun => drop(begun.unwrap()),
            }
        }

        fn files(&self) -> Vec<String> {
            let all = fs::read_dir(self.house.backups()).into_iter().flatten();
            let mut names: Vec<_> = all
                .map(|file| file.unwrap().file_name().into_string().unwrap())
                .collect();
            names.sort_unstable();
            names
        }
    }

    #[test]
    fn one_is_made_when_it_is_due_and_not_before() {
        let barn = Barn::new("due");
        let house = &barn.house;
        if_due(house, now_ms()).unwrap();
        assert_eq!(barn.files().len(), 0, "nothing to keep yet");
        barn.write();
        if_due(house, now_ms()).unwrap();
        let first = barn.files();
        assert_eq!(first.len(), 1, "the first at once");
        if_due(house, now_ms() + DUE_MS).unwrap();
        assert_eq!(barn.files(), first, "nothing was written since");
        barn.write();
        if_due(house, now_ms() + DUE_MS - HOUR_MS).unwrap();
        assert_eq!(barn.files(), first, "not yet");
        // Its name is of the second at which it is made.
        std::thread::sleep(Duration::from_millis(1_100));
        if_due(house, now_ms() + DUE_MS).unwrap();
        assert_eq!(barn.files().len(), 2, "a day later");
        barn.write();
        std::thread::sleep(Duration::from_millis(1_100));
        if_due(house, now_ms() - DAY_MS).unwrap();
        assert_eq!(
            barn.files().len(),
            3,
            "the last was made under a wrong clock"
        );
        assert!(house.store().standing().unwrap().backup.is_some());
    }

    #[test]
    fn the_newest_few_stay_and_nothing_else_is_touched() {
        let barn = Barn::new("few");
        barn.write();
        let folder = barn.house.backups();
        fs::create_dir_all(folder).unwrap();
        let old = (1..=9).map(|day| format!("pentally-2020010{day}-000000.jsonl"));
        let others = [
            "invented-20190101-000000.jsonl",
            "my-own-copy.jsonl",
            "pentally-notes.txt",
        ];
        for name in old.chain(others.map(str::to_owned)) {
            fs::write(folder.join(name), "x").unwrap();
        }
        let made = make(&barn.house, folder).unwrap();
        let files = barn.files();
        let ours = |name: &&String| {
            let start = name.strip_suffix(".jsonl");
            start.is_some_and(|start| start.starts_with(OWN))
        };
        assert_eq!(files.iter().filter(ours).count(), KEPT);
        assert!(made.exists() && files.contains(&"pentally-20200109-000000.jsonl".to_owned()));
        assert!(!files.contains(&"pentally-20200103-000000.jsonl".to_owned()));
        assert!(
            others
                .iter()
                .all(|name| files.contains(&(*name).to_owned()))
        );
    }

    #[test]
    fn what_a_killed_backup_left_is_swept_and_nothing_else() {
        let barn = Barn::new("sweep");
        let folder = barn.house.backups().to_owned();
        sweep(&folder).unwrap();
        fs::create_dir_all(&folder).unwrap();
        let stay = [
            "pentally-20200101-000000.jsonl",
            "x.jsonl.part",
            "pentally-x.part",
        ];
        let go = [
            "pentally-20200102-000000.jsonl.part",
            "pentally-20200102-000000.jsonl.part.redb",
            "invented-20200102-000000.jsonl.part",
        ];
        for name in stay.iter().chain(&go) {
            fs::write(folder.join(name), "x").unwrap();
        }
        sweep(&folder).unwrap();
        let mut left = stay.map(str::to_owned);
        left.sort_unstable();
        assert_eq!(barn.files(), left);
    }

    #[test]
    fn a_rehearsal_brings_a_file_back_and_leaves_nothing() {
        let barn = Barn::new("rehearsal");
        (0..3).for_each(|_| barn.write());
        let file = make(&barn.house, barn.house.backups()).unwrap();
        // One that was killed left its room.
        let room = barn.folder.join("rehearsal");
        fs::create_dir_all(&room).unwrap();
        fs::write(room.join("barn.redb"), "half").unwrap();
        let (header, checked) = rehearse(&file, &barn.folder).unwrap();
        assert_eq!((header.n, checked.entries), (3, 3));
        assert!(!room.exists());
        let whole = fs::read_to_string(&file).unwrap();
        fs::write(&file, whole.replacen("Hill", "Dale", 1)).unwrap();
        let refused = rehearse(&file, &barn.folder).unwrap_err();
        assert!(matches!(refused, RehearsalError::Restore(_)), "{refused}");
        assert!(!room.exists());
    }
}
