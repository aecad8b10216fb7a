//! What pages, lists and scripts read. Each call reads one snapshot; a subject's page reads that
//! subject's ledger and the farm's, however long the log is.

use super::Store;
use super::alarm::Alarm;
use super::aside::SetAside;
use super::device::Device;
use super::error::StoreError;
use super::meta::{self, Home, LastBackup};
use super::tables::{
    self, ALARMS, ASIDE, BESIDE, CODES, DEVICES, LEDGERS, LOG, META, OF_SUBJECT, PairKey, Stored,
    code_key, entry_at, id_of, log, of_subject_key, of_subject_of, read_entry, subject_key,
};
use pentally_domain::barn::Barn;
use pentally_domain::code::Code;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::ledger::Ledger;
use pentally_domain::sync::{Beside, Cursor, PAGE_MAX_BYTES};
use redb::{ReadTransaction, ReadableTable, ReadableTableMetadata};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::collections::BTreeSet;
use uuid::Uuid;

/// How the store stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Standing {
    /// Whose log it is; none before the first start.
    pub home: Option<Home>,
    /// Where the log ends.
    pub cursor: Cursor,
    /// How many texts were set aside.
    pub aside: u64,
    /// How many entries raised an alarm.
    pub alarms: u64,
    /// The last verified backup.
    pub backup: Option<LastBackup>,
}

impl Store {
    /// How the store stands.
    pub fn standing(&self) -> Result<Standing, StoreError> {
        self.read(|txn| {
            let meta = txn.open_table(META)?;
            let (n, hash) = tables::end(&log(txn)?)?;
            Ok(Standing {
                home: meta::get(&meta, meta::HOME_KEY)?,
                cursor: Cursor {
                    epoch: meta::epoch(&meta)?,
                    n,
                    hash,
                },
                aside: txn.open_table(ASIDE)?.len()?,
                alarms: txn.open_table(ALARMS)?.len()?,
                backup: meta::get(&meta, meta::BACKUP_KEY)?,
            })
        })
    }

    /// The ledger of a subject, if anything is known.
    pub fn ledger(&self, subject: Subject) -> Result<Option<Ledger>, StoreError> {
        self.read(|txn| ledger(&txn.open_table(LEDGERS)?, subject))
    }

    /// The farm's ledger, those of the subjects, and those of whatever is the same as they are.
    pub fn barn_for(&self, subjects: &[Subject]) -> Result<Barn, StoreError> {
        self.barn_around(subjects, |_| vec![])
    }

    /// The same with what `near` finds to belong to them, until it names nothing more.
    pub fn barn_around(
        &self,
        subjects: &[Subject],
        near: impl Fn(&Barn) -> Vec<Subject>,
    ) -> Result<Barn, StoreError> {
        self.read(|txn| {
            let ledgers = txn.open_table(LEDGERS)?;
            let mut barn = Barn::default();
            let farm = ledger(&ledgers, Subject::Farm)?;
            if let Some(farm) = &farm {
                barn.put(farm);
            }
            let mut there = BTreeSet::from([Subject::Farm]);
            let mut wanted = subjects.to_vec();
            while !wanted.is_empty() {
                let all = match &farm {
                    Some(farm) => with_the_same(farm, &wanted),
                    None => wanted,
                };
                for subject in all {
                    if there.insert(subject)
                        && let Some(ledger) = ledger(&ledgers, subject)?
                    {
                        barn.put(&ledger);
                    }
                }
                wanted = near(&barn);
                wanted.retain(|subject| !there.contains(subject));
            }
            beside(txn)?.into_iter().for_each(|b| barn.put_beside(b));
            Ok(barn)
        })
    }

    /// Every ledger.
    pub fn barn(&self) -> Result<Barn, StoreError> {
        self.read(|txn| {
            let mut barn = Barn::default();
            for item in txn.open_table(LEDGERS)?.iter()? {
                barn.put(&serde_json::from_slice(Stored::of(item?.1.value())?.json)?);
            }
            beside(txn)?.into_iter().for_each(|b| barn.put_beside(b));
            Ok(barn)
        })
    }

    /// What a pen tag's or semen batch's code leads to, with the entry that gave the code out.
    /// Whether the entry still counts is for the ledger to say.
    pub fn of_code(&self, code: Code) -> Result<Vec<(Subject, EntryId)>, StoreError> {
        self.read(|txn| {
            let start = code_key(code, None);
            let mut found = vec![];
            for item in txn.open_table(CODES)?.range(start.as_slice()..)? {
                let (key, entry) = item?;
                let Some(subject) = key.value().strip_prefix(start.as_slice()) else {
                    break;
                };
                let subject = subject
                    .try_into()
                    .map_err(|_| StoreError::damaged("a code's key has the wrong length"))?;
                found.push((tables::subject_of(&subject)?, id_of(*entry.value())));
            }
            Ok(found)
        })
    }

    /// Entries after number `after`, oldest first, with their numbers: at most `limit`, and none
    /// after the one at which their bytes exceed [`PAGE_MAX_BYTES`].
    pub fn log(&self, after: u64, limit: usize) -> Result<Vec<(u64, Entry)>, StoreError> {
        self.read(|txn| {
            let mut list = vec![];
            let mut bytes = 0;
            for item in txn
                .open_table(LOG)?
                .range(after.saturating_add(1)..)?
                .take(limit)
            {
                let (n, value) = item?;
                if bytes > PAGE_MAX_BYTES {
                    break;
                }
                bytes += value.value().len();
                list.push((n.value(), read_entry(n.value(), value.value())?));
            }
            Ok(list)
        })
    }

    /// Every entry about a subject, by number, beyond what its ledger keeps.
    pub fn history(
        &self,
        subject: Subject,
        after: u64,
        limit: usize,
    ) -> Result<Vec<(u64, Entry)>, StoreError> {
        self.read(|txn| {
            let (key, log) = (subject_key(subject), log(txn)?);
            let (low, high) = (
                of_subject_key(&key, after.saturating_add(1)),
                of_subject_key(&key, u64::MAX),
            );
            let mut list = vec![];
            for item in txn
                .open_table(OF_SUBJECT)?
                .range::<&PairKey>(&low..=&high)?
                .take(limit)
            {
                let (_, n) = of_subject_of(item?.0.value());
                list.push((n, entry_at(&log, n)?));
            }
            Ok(list)
        })
    }

    /// The devices heard of.
    pub fn devices(&self) -> Result<Vec<(DeviceId, Device)>, StoreError> {
        self.read(|txn| {
            let mut list = vec![];
            for item in txn.open_table(DEVICES)?.iter()? {
                let (id, device) = item?;
                let id = DeviceId::from_uuid(Uuid::from_bytes(*id.value()));
                list.push((id, serde_json::from_slice(device.value())?));
            }
            Ok(list)
        })
    }

    /// What was set aside after number `after`, oldest first, with the number of its arrival: at most
    /// `limit`, and none after the one at which their bytes exceed [`PAGE_MAX_BYTES`].
    pub fn aside(&self, after: u64, limit: usize) -> Result<Vec<(u64, SetAside)>, StoreError> {
        self.read(|txn| numbered(&txn.open_table(ASIDE)?, after, limit))
    }

    /// Stored entries after number `after` that a person should look at; bounded as [`Store::aside`].
    pub fn alarms(&self, after: u64, limit: usize) -> Result<Vec<(u64, Alarm)>, StoreError> {
        self.read(|txn| numbered(&txn.open_table(ALARMS)?, after, limit))
    }
}

/// A page of what is kept as JSON under numbers.
fn numbered<T: DeserializeOwned>(
    table: &impl ReadableTable<u64, tables::Bytes>,
    after: u64,
    limit: usize,
) -> Result<Vec<(u64, T)>, StoreError> {
    let (mut list, mut bytes) = (vec![], 0);
    for item in table.range(after.saturating_add(1)..)?.take(limit) {
        let (n, value) = item?;
        if bytes > PAGE_MAX_BYTES {
            break;
        }
        bytes += value.value().len();
        list.push((n.value(), serde_json::from_slice(value.value())?));
    }
    Ok(list)
}

/// All personal data.
pub(super) fn beside(txn: &ReadTransaction) -> Result<Vec<Beside>, StoreError> {
    let mut list = vec![];
    for item in txn.open_table(BESIDE)?.iter()? {
        list.push(serde_json::from_slice(item?.1.value())?);
    }
    Ok(list)
}

fn ledger(
    ledgers: &impl ReadableTable<&'static tables::SubjectKey, tables::Bytes>,
    subject: Subject,
) -> Result<Option<Ledger>, StoreError> {
    let stored = ledgers.get(&subject_key(subject))?;
    stored
        .map(|value| Ok(serde_json::from_slice(Stored::of(value.value())?.json)?))
        .transpose()
}

/// The subjects and every other identity that a `same as` entry joins to one of them.
fn with_the_same(farm: &Ledger, subjects: &[Subject]) -> Vec<Subject> {
    let mut pairs = vec![];
    for live in farm.live() {
        if let Fact::SameAs(same) = live.fact {
            pairs.push((same.keep, same.other));
        }
    }
    let mut wanted = subjects.to_vec();
    let mut next = 0;
    while let Some(subject) = wanted.get(next).copied() {
        for (keep, other) in &pairs {
            let (keep, other) = (as_is(subject, *keep), as_is(subject, *other));
            for (this, that) in [(keep, other), (other, keep)] {
                if this == subject && !wanted.contains(&that) {
                    wanted.push(that);
                }
            }
        }
        next += 1;
    }
    wanted
}

/// The subject of the same sort with another identity.
const fn as_is(like: Subject, id: EntryId) -> Subject {
    match like {
        Subject::Farm => Subject::Farm,
        Subject::Boar(_) => Subject::Boar(id.as_boar()),
        Subject::Pen(_) => Subject::Pen(id.as_pen()),
        Subject::Sow(_) => Subject::Sow(id.as_sow()),
    }
}
