//! The office: the server's own store on storage in memory, its backups, its clock.

use super::bug::Bug;
use super::dice::Dice;
use super::events::Ask;
use super::said::particulars;
use super::watch::Watch;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::{Farm, Standard};
use pentally_domain::id::EntryId;
use pentally_domain::pairing::Role;
use pentally_domain::said::Label;
use pentally_domain::sync::{Cursor, Fate, Push, Receipt};
use pentally_domain::time::{Stamp, Zone};
use pentally_server::store::{Birth, Home, Saying, Store};
use std::collections::BTreeSet;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};

/// Storage that can be copied.
#[derive(Debug, Clone, Default)]
struct Memory(Arc<Mutex<Vec<u8>>>);

impl redb::StorageBackend for Memory {
    fn len(&self) -> io::Result<u64> {
        Ok(self.0.lock().unwrap().len() as u64)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        let from = usize::try_from(offset).unwrap();
        out.copy_from_slice(&self.0.lock().unwrap()[from..from + out.len()]);
        Ok(())
    }

    fn set_len(&self, len: u64) -> io::Result<()> {
        self.0
            .lock()
            .unwrap()
            .resize(usize::try_from(len).unwrap(), 0);
        Ok(())
    }

    fn sync_data(&self) -> io::Result<()> {
        Ok(())
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        let from = usize::try_from(offset).unwrap();
        self.0.lock().unwrap()[from..from + data.len()].copy_from_slice(data);
        Ok(())
    }
}

/// See the module's words.
pub struct Office {
    /// The store under test.
    pub store: Store,
    /// Whose log it is.
    pub home: Home,
    /// Its clock.
    pub watch: Watch,
    memory: Memory,
    backup: Option<PathBuf>,
    copy: Option<Vec<u8>>,
    folder: PathBuf,
    bug: Option<Bug>,
}

/// Small pages, so that many break off between two.
const PAGE_BYTES: usize = 6_000;

impl Office {
    /// A farm that begins.
    pub fn new(seed: u64, now_ms: i64, bug: Option<Bug>, dice: &mut Dice) -> Self {
        let (home, memory) = (Home::new(now_ms, dice.ten(), dice.ten()), Memory::default());
        let store = Store::on_backend(memory.clone(), birth(now_ms, dice)).unwrap();
        let farm = Farm {
            name: Label::parse("Altozar").unwrap(),
            zone: Zone::fixed("UTC", 0),
            origin: None,
            invented: true,
        };
        let saying = Saying {
            fact: Fact::Farm(farm),
            occurred_at: None,
            random: dice.ten(),
        };
        store
            .begin(
                home,
                &saying,
                Stamp::new(now_ms, 0).unwrap(),
                birth(now_ms, dice),
            )
            .unwrap();
        let folder = std::env::temp_dir().join(format!(
            "pentally-simulation-{}-{seed}-{bug:?}",
            std::process::id()
        ));
        std::fs::create_dir_all(&folder).unwrap();
        Self {
            store,
            home,
            watch: Watch::default(),
            memory,
            backup: None,
            copy: None,
            folder,
            bug,
        }
    }

    /// Answers one request.
    pub fn answer(&mut self, ask: &Ask, now_ms: i64, dice: &mut Dice) -> String {
        let now_ms = self.watch.shows(now_ms);
        match ask {
            Ask::Push(text) => {
                let mut push: Push = serde_json::from_str(text).unwrap();
                let skipped = self.skips(dice).then(|| push.entries.pop()).flatten();
                let mut receipt = self.store.push(&push, now_ms).unwrap();
                receipt.fates.extend(skipped.map(|_| Fate::Stored));
                self.mistake(&mut receipt);
                serde_json::to_string(&receipt).unwrap()
            }
            Ask::Pull(text) => {
                let (cursor, seen): (Option<Cursor>, Option<Cursor>) =
                    serde_json::from_str(text).unwrap();
                let page = self
                    .store
                    .pull(Role::Barn, cursor, seen, PAGE_BYTES, now_ms);
                serde_json::to_string(&page.unwrap()).unwrap()
            }
        }
    }

    /// Something the office itself writes down.
    pub fn say(&mut self, now_ms: i64, dice: &mut Dice) -> Vec<Entry> {
        let rest_days = u8::try_from(dice.between(2, 8)).unwrap();
        let fact = if dice.in_thousand(500) {
            Fact::Boar(particulars(dice))
        } else {
            Fact::Standard(Standard {
                rest_days,
                ..Standard::default()
            })
        };
        let saying = Saying {
            fact,
            occurred_at: None,
            random: dice.ten(),
        };
        self.store
            .say(&[saying], Stamp::new(self.watch.shows(now_ms), 0).unwrap())
            .unwrap()
    }

    /// Makes a verified backup. Older copies of the file are thrown away: phones may let go now
    /// of what only the backup has.
    pub fn back_up(&mut self, now_ms: i64, dice: &mut Dice) {
        let place = self.folder.join("backup");
        self.store
            .backup(&place, birth(self.watch.shows(now_ms), dice))
            .unwrap();
        self.backup = Some(place);
        self.copy = None;
    }

    /// Keeps a copy of the file.
    pub fn copy_file(&mut self) {
        self.copy = Some(self.bytes());
    }

    /// Restores the last backup into an empty store. Says whether there was one.
    pub fn restore(&mut self, now_ms: i64, dice: &mut Dice) -> bool {
        let Some(place) = &self.backup else {
            return false;
        };
        let memory = Memory::default();
        let store = Store::on_backend(memory.clone(), birth(now_ms, dice)).unwrap();
        store
            .restore(place, birth(self.watch.shows(now_ms), dice))
            .unwrap();
        (self.store, self.memory) = (store, memory);
        true
    }

    /// Puts the copy in the place of the file. Says whether there was one.
    pub fn take_copy(&mut self, now_ms: i64, dice: &mut Dice) -> bool {
        let Some(bytes) = self.copy.clone() else {
            return false;
        };
        self.reopen(bytes, now_ms, dice);
        true
    }

    /// Everything in the log, by number.
    pub fn log(&self) -> Vec<Entry> {
        let mut all = vec![];
        let mut after = 0;
        loop {
            let page = self.store.log(after, 10_000).unwrap();
            let Some((last, _)) = page.last() else {
                return all;
            };
            after = *last;
            all.extend(page.into_iter().map(|(_, entry)| entry));
        }
    }

    /// The lines that stand aside.
    pub fn aside(&self) -> BTreeSet<String> {
        self.store
            .aside(0, 100_000)
            .unwrap()
            .into_iter()
            .map(|(_, aside)| aside.text)
            .collect()
    }

    /// Every entry in the log.
    pub fn has(&self) -> BTreeSet<EntryId> {
        let ids = self.log().into_iter().map(|entry| entry.envelope().id);
        ids.collect()
    }

    /// The process is killed and started again.
    pub fn starts_again(&mut self, now_ms: i64, dice: &mut Dice) {
        self.reopen(self.bytes(), now_ms, dice);
    }

    fn bytes(&self) -> Vec<u8> {
        self.memory.0.lock().unwrap().clone()
    }

    fn reopen(&mut self, bytes: Vec<u8>, now_ms: i64, dice: &mut Dice) {
        let memory = Memory(Arc::new(Mutex::new(bytes)));
        self.store = Store::on_backend(memory.clone(), birth(now_ms, dice)).unwrap();
        self.memory = memory;
    }

    fn skips(&self, dice: &mut Dice) -> bool {
        self.bug == Some(Bug::AnswerWithoutStoring) && dice.in_thousand(100)
    }

    fn mistake(&self, receipt: &mut Receipt) {
        if self.bug == Some(Bug::DuplicateBySequence) {
            for fate in receipt
                .fates
                .iter_mut()
                .filter(|f| matches!(f, Fate::Conflict { .. }))
            {
                *fate = Fate::Duplicate;
            }
        }
    }
}

impl Drop for Office {
    fn drop(&mut self) {
        // What is left behind lies in the folder for temporary files.
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn birth(now_ms: i64, dice: &mut Dice) -> Birth {
    Birth {
        now_ms,
        random: dice.ten(),
    }
}
