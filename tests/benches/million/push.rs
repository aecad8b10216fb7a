//! A phone's unsent entries through the store, against the same rows straight into redb.

use crate::filled::{Barn, LATER_MS};
use crate::store_hands::{Dice, Phone, fact};
use crate::{ratio, timed};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::sync::{PAGE_MAX_BYTES, Push};
use redb::{Builder, Database, ReadableDatabase, TableDefinition as Table};
use serde_json::json;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::time::Duration;

const UNSENT: usize = 7_000;

const LOG: Table<u64, &[u8]> = Table::new("log");
const BY_ID: Table<&[u8; 16], u64> = Table::new("by_id");
const BY_AUTHOR: Table<&[u8; 24], u64> = Table::new("by_author");
const DEVICES: Table<&[u8; 16], &[u8]> = Table::new("devices");
const LEDGERS: Table<&[u8; 17], &[u8]> = Table::new("ledgers");
const CHANGED: Table<&[u8; 25], ()> = Table::new("changed");
const OF_SUBJECT: Table<&[u8; 25], ()> = Table::new("of_subject");

impl Barn {
    /// A phone's unsent collections, in requests of at most 1 MiB, through the store; then the same
    /// rows into a copy of the file with nothing but redb.
    pub fn measure_push(&self) {
        let copy = self.place.with_extension("copy");
        fs::copy(&self.place, &copy).unwrap();
        let phone = self.unsent();
        let requests = requests(&phone);
        let store = self.store();
        let ours = timed(|| {
            for (_, text) in &requests {
                let push: Push = serde_json::from_str(text).unwrap();
                store.push(&push, LATER_MS).unwrap();
            }
        });
        drop(store);
        let raw = self.replay(&copy, &phone, requests.iter().map(|(count, _)| *count));
        fs::remove_file(&copy).unwrap();
        let requests = requests.len();
        let share = ratio(raw, ours);
        println!(
            "{UNSENT} entries in {requests} requests onto {}: {ours:.0?}, the same rows straight into redb {raw:.0?}: {share:.2} of that rate",
            self.entries
        );
    }

    pub fn unsent(&self) -> Phone {
        let dice = &mut Dice::new(self.entries);
        let mut phone = Phone::new(self.home, dice);
        while phone.entries.len() < UNSENT {
            let boar = self.boars[usize::try_from(dice.below(self.boars.len() as u64)).unwrap()];
            let volume = 100.0 + dice.below(2_000) as f64 / 10.0;
            phone.write(&collected(boar, volume), dice);
        }
        phone
    }

    fn replay(&self, copy: &Path, phone: &Phone, counts: impl Iterator<Item = usize>) -> Duration {
        let rows = Rows::read(&self.place, self.entries, phone);
        let db = Builder::new()
            .set_cache_size(16 << 20)
            .create(copy)
            .unwrap();
        let mut left = rows.entries.as_slice();
        let parts: Vec<&[Row]> = counts
            .map(|count| left.split_off(..count).unwrap())
            .collect();
        timed(|| parts.iter().for_each(|part| rows.write(&db, part)))
    }
}

/// What one entry wrote.
struct Row {
    n: u64,
    log: Vec<u8>,
    id: EntryId,
    author: [u8; 24],
    subjects: Vec<[u8; 17]>,
}

/// Every row that the phone's entries left in the tables.
struct Rows {
    entries: Vec<Row>,
    ledgers: BTreeMap<[u8; 17], Vec<u8>>,
    device: ([u8; 16], Vec<u8>),
}

impl Rows {
    fn read(place: &Path, before: u64, phone: &Phone) -> Self {
        let db = Database::open(place).unwrap();
        let txn = db.begin_read().unwrap();
        let (log, ledgers) = (
            txn.open_table(LOG).unwrap(),
            txn.open_table(LEDGERS).unwrap(),
        );
        let row = |(index, entry): (usize, &Entry)| {
            let (n, e) = (before + 1 + index as u64, entry.envelope());
            let mut author = [0; 24];
            author[..16].copy_from_slice(e.device.uuid().as_bytes());
            author[16..].copy_from_slice(&e.seq.to_be_bytes());
            let subjects = Fact::of(e)
                .unwrap()
                .unwrap()
                .subjects(e.id)
                .into_iter()
                .map(key)
                .collect();
            Row {
                n,
                log: log.get(n).unwrap().unwrap().value().to_vec(),
                id: e.id,
                author,
                subjects,
            }
        };
        let entries: Vec<Row> = phone.entries.iter().enumerate().map(row).collect();
        let touched: BTreeSet<_> = entries
            .iter()
            .flat_map(|row| row.subjects.clone())
            .collect();
        let ledgers = touched
            .into_iter()
            .map(|k| (k, ledgers.get(&k).unwrap().unwrap().value().to_vec()))
            .collect();
        let id = *phone.device().uuid().as_bytes();
        let device = txn
            .open_table(DEVICES)
            .unwrap()
            .get(&id)
            .unwrap()
            .unwrap()
            .value()
            .to_vec();
        Self {
            entries,
            ledgers,
            device: (id, device),
        }
    }

    /// One request's rows in one durable transaction.
    fn write(&self, db: &Database, part: &[Row]) {
        let mut txn = db.begin_write().unwrap();
        txn.set_quick_repair(true);
        {
            let mut log = txn.open_table(LOG).unwrap();
            let mut by_id = txn.open_table(BY_ID).unwrap();
            let mut by_author = txn.open_table(BY_AUTHOR).unwrap();
            let mut of_subject = txn.open_table(OF_SUBJECT).unwrap();
            let mut last = BTreeMap::new();
            for row in part {
                log.insert(row.n, row.log.as_slice()).unwrap();
                by_id.insert(row.id.uuid().as_bytes(), row.n).unwrap();
                by_author.insert(&row.author, row.n).unwrap();
                for subject in &row.subjects {
                    of_subject
                        .insert(&pair(subject, &row.n.to_be_bytes()), ())
                        .unwrap();
                    last.insert(*subject, row.n);
                }
            }
            let mut ledgers = txn.open_table(LEDGERS).unwrap();
            let mut changed = txn.open_table(CHANGED).unwrap();
            for (subject, n) in last {
                ledgers
                    .insert(&subject, self.ledgers[&subject].as_slice())
                    .unwrap();
                changed
                    .insert(&pair(&n.to_be_bytes(), &subject), ())
                    .unwrap();
            }
            txn.open_table(DEVICES)
                .unwrap()
                .insert(&self.device.0, self.device.1.as_slice())
                .unwrap();
        }
        txn.commit().unwrap();
    }
}

/// As a phone pages what waits: how many entries, and the request's text.
pub fn requests(phone: &Phone) -> Vec<(usize, String)> {
    let mut pages: Vec<Vec<String>> = vec![vec![]];
    let mut bytes = 0;
    for line in phone.entries.iter().map(Entry::to_line) {
        if bytes + line.len() > PAGE_MAX_BYTES - 1_000 {
            pages.push(vec![]);
            bytes = 0;
        }
        bytes += line.len() + 1;
        pages.last_mut().unwrap().push(line);
    }
    let text = |lines: &[String]| {
        let (device, entries) = (phone.device(), lines.join(","));
        format!(r#"{{"protocol":1,"device":"{device}","entries":[{entries}]}}"#)
    };
    pages
        .iter()
        .map(|lines| (lines.len(), text(lines)))
        .collect()
}

/// A collection with everything a helper taps.
fn collected(boar: BoarId, volume_ml: f64) -> Fact {
    fact(json!({ "collection": {
        "boar": boar, "outcome": "collected", "amount": { "volume": volume_ml }, "temper": "calm",
        "sperm_poor_in": { "confirmed": false }, "glove": { "confirmed": "vinyl" },
    } }))
}

fn key(subject: Subject) -> [u8; 17] {
    let Subject::Boar(id) = subject else {
        panic!("{subject}")
    };
    let mut key = [1; 17];
    key[1..].copy_from_slice(id.uuid().as_bytes());
    key
}

fn pair(left: &[u8], right: &[u8]) -> [u8; 25] {
    [left, right].concat().try_into().unwrap()
}
