//! Is everything as it should be? The log is read from its first entry, its indexes are compared
//! with it, and every stored ledger with a fold of its own, which is written apart from the one
//! that made it.

mod fold;
mod ledgers;

use super::Store;
use super::alarm::Alarm;
use super::error::StoreError;
use super::meta;
use super::tables::{
    ALARMS, BY_AUTHOR, BY_ID, Bytes, CODES, DEVICES, META, OF_SUBJECT, Read, author_key, author_of,
    code_key, entry_at, log, of_subject_key, split, subject_key,
};
use super::views::codes;
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::Fact;
use pentally_domain::id::DeviceId;
use redb::{ReadTransaction, ReadableTable, ReadableTableMetadata};
use std::collections::BTreeSet;

/// What was found in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Checked {
    /// How many entries the log has.
    pub entries: u64,
    /// How many ledgers were folded and compared.
    pub ledgers: u64,
    /// How many entries a person should look at: known when they arrived, and no damage.
    pub alarms: u64,
}

/// The first thing that is wrong.
#[derive(Debug, thiserror::Error)]
pub enum Finding {
    /// Something does not agree.
    #[error("{0}: restore the last backup into an empty folder, and keep this one to look into")]
    Wrong(String),
    /// The store could not be read.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl From<redb::StorageError> for Finding {
    fn from(error: redb::StorageError) -> Self {
        Self::Store(error.into())
    }
}

impl From<redb::TableError> for Finding {
    fn from(error: redb::TableError) -> Self {
        Self::Store(error.into())
    }
}

fn wrong<T>(reason: impl Into<String>) -> Result<T, Finding> {
    Err(Finding::Wrong(reason.into()))
}

impl Store {
    /// Checks everything from one snapshot; stops at the first reason.
    pub fn check(&self) -> Result<Checked, Finding> {
        let result = self.read(|txn| match check(txn) {
            Ok(checked) => Ok(Ok(checked)),
            Err(Finding::Store(error)) => Err(error),
            Err(found) => Ok(Err(found)),
        });
        result?
    }
}

fn check(txn: &ReadTransaction) -> Result<Checked, Finding> {
    let farm =
        meta::get::<meta::Home>(&txn.open_table(META)?, meta::HOME_KEY)?.map(|home| home.farm);
    let log = log(txn)?;
    let mut reading = Reading::open(txn)?;
    let mut hash = Hash::NONE;
    for item in log.iter()? {
        let (n, value) = item?;
        let n = n.value();
        if n != reading.entries + 1 {
            return wrong(format!(
                "entry {} is missing from the log",
                reading.entries + 1
            ));
        }
        let (stored, bytes) = split(value.value())?;
        let entry = match Entry::from_bytes(bytes) {
            Ok(entry) if entry.to_bytes() == bytes => entry,
            _ => return wrong(format!("entry {n} of the log does not read")),
        };
        hash = hash.chained(&Hash::of(&[bytes]));
        if hash != stored || hash == Hash::NONE {
            return wrong(format!(
                "the log's hash does not hold at entry {n}: it or one before it was changed"
            ));
        }
        if Some(entry.envelope().farm) != farm {
            return wrong(format!("entry {n} belongs to another farm"));
        }
        reading.take(n, &entry)?;
    }
    reading.finish(txn)?;
    threads(txn, &log)?;
    Ok(Checked {
        entries: reading.entries,
        ledgers: ledgers::check(txn, &log)?,
        alarms: txn.open_table(ALARMS)?.len()?,
    })
}

/// The pass through the log: each entry must stand in each index, and nothing else may.
struct Reading {
    entries: u64,
    touches: u64,
    by_id: Read<&'static [u8; 16], u64>,
    by_author: Read<&'static [u8; 24], u64>,
    of_subject: Read<&'static [u8; 25], ()>,
    codes: Read<Bytes, &'static [u8; 16]>,
}

impl Reading {
    fn open(txn: &ReadTransaction) -> Result<Self, Finding> {
        Ok(Self {
            entries: 0,
            touches: 0,
            by_id: txn.open_table(BY_ID)?,
            by_author: txn.open_table(BY_AUTHOR)?,
            of_subject: txn.open_table(OF_SUBJECT)?,
            codes: txn.open_table(CODES)?,
        })
    }

    fn take(&mut self, n: u64, entry: &Entry) -> Result<(), Finding> {
        let e = entry.envelope();
        self.entries = n;
        if self.by_id.get(e.id.uuid().as_bytes())?.map(|v| v.value()) != Some(n) {
            return wrong(format!("entry {n} is not found by its identity {}", e.id));
        }
        if self
            .by_author
            .get(&author_key(e.device, e.seq))?
            .map(|v| v.value())
            != Some(n)
        {
            return wrong(format!(
                "entry {n} is not found as number {} of device {}",
                e.seq, e.device
            ));
        }
        let Ok(Some(fact)) = Fact::of(e) else {
            return Ok(());
        };
        for subject in fact.subjects(e.id) {
            self.touches += 1;
            if self
                .of_subject
                .get(&of_subject_key(&subject_key(subject), n))?
                .is_none()
            {
                return wrong(format!("entry {n} is not listed under {subject}"));
            }
        }
        for (code, subject) in codes(&fact) {
            if self
                .codes
                .get(code_key(code, Some(&subject_key(subject))).as_slice())?
                .is_none()
            {
                return wrong(format!("code {code} of entry {n} leads nowhere"));
            }
        }
        Ok(())
    }

    fn finish(&self, txn: &ReadTransaction) -> Result<(), Finding> {
        if self.by_id.len()? != self.entries {
            return wrong("the index of identities names entries that the log does not have");
        }
        if self.of_subject.len()? != self.touches {
            return wrong("the index of subjects names entries that the log does not have");
        }
        let aside = txn
            .open_table(BY_AUTHOR)?
            .iter()?
            .try_fold(0_u64, |count, item| {
                item.map(|(_, n)| count + u64::from(n.value() == 0))
            })?;
        if self.by_author.len()? != self.entries + aside {
            return wrong("the index of devices names entries that the log does not have");
        }
        Ok(())
    }
}

/// Walks each device's thread in its own order: each entry names the hash of the one before it,
/// unless an alarm was raised when it came; and the device's count is right.
fn threads(txn: &ReadTransaction, log: &Read<u64, Bytes>) -> Result<(), Finding> {
    let mut known = BTreeSet::new();
    for item in txn.open_table(ALARMS)?.iter()? {
        let (n, alarm) = item?;
        let alarm: Alarm = serde_json::from_slice(alarm.value()).map_err(StoreError::from)?;
        alarm.thread_broken.then(|| known.insert(n.value()));
    }
    let mut before: Option<(DeviceId, u64, Hash)> = None;
    let mut highest = vec![];
    for item in txn.open_table(BY_AUTHOR)?.iter()? {
        let (key, n) = item?;
        let ((device, seq), n) = (author_of(key.value()), n.value());
        match highest.last_mut() {
            Some((last, high)) if *last == device => *high = seq,
            _ => highest.push((device, seq)),
        }
        if n == 0 {
            before = None;
            continue;
        }
        let entry = entry_at(log, n)?;
        let follows = match before {
            Some((d, s, hash)) if d == device && s + 1 == seq => entry.envelope().prev == hash,
            _ => seq > 1 || entry.envelope().prev == Hash::NONE,
        };
        if follows == known.contains(&n) {
            return wrong(format!(
                "entry {n}, number {seq} of device {device}, does not follow the one before it"
            ));
        }
        before = Some((device, seq, entry.hash()));
    }
    counts(txn, &highest)
}

fn counts(txn: &ReadTransaction, highest: &[(DeviceId, u64)]) -> Result<(), Finding> {
    let (devices, by_author) = (txn.open_table(DEVICES)?, txn.open_table(BY_AUTHOR)?);
    for (id, high) in highest {
        let stored = devices.get(id.uuid().as_bytes())?;
        let Some(stored) = stored else {
            return wrong(format!("device {id} is not listed"));
        };
        let device: super::Device =
            serde_json::from_slice(stored.value()).map_err(StoreError::from)?;
        if device.highest != *high {
            return wrong(format!(
                "device {id} is listed up to {}, its entries go up to {high}",
                device.highest
            ));
        }
        let (low, top) = (author_key(*id, 1), author_key(*id, device.contiguous));
        let mut next = 1;
        for item in by_author.range::<&[u8; 24]>(&low..=&top)? {
            let (_, seq) = author_of(item?.0.value());
            accounted_for(*id, &device, next, seq)?;
            next = seq + 1;
        }
        accounted_for(*id, &device, next, device.contiguous + 1)?;
    }
    Ok(())
}

/// What is missing from `next` up to before `seq` must be recorded as lost.
fn accounted_for(id: DeviceId, device: &super::Device, next: u64, seq: u64) -> Result<(), Finding> {
    if next == seq
        || device
            .lost
            .iter()
            .any(|(from, to)| *from <= next && seq <= to + 1)
    {
        return Ok(());
    }
    wrong(format!(
        "device {id} is counted up to {} with number {next} missing",
        device.contiguous
    ))
}
