//! The tables, their keys, and how a value is laid out. Numbers in keys are big-endian, so that
//! the order of the bytes is the order of the numbers.

use super::error::StoreError;
use pentally_domain::code::Code;
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::Subject;
use pentally_domain::id::{BoarId, DeviceId, EntryId, PenId, SowId};
use pentally_domain::ledger::Folded;
use redb::{ReadTransaction, ReadableTable, Table, TableDefinition, WriteTransaction};
use uuid::Uuid;

pub(super) type Bytes = &'static [u8];
pub(super) type Id = &'static [u8; 16];
pub(super) type AuthorKey = [u8; 24];
pub(super) type SubjectKey = [u8; 17];
/// A number of the log and a subject, in the order the table's name says.
pub(super) type PairKey = [u8; 25];

/// n, from 1 → hash of the log after it (32 bytes) ++ the entry's bytes.
pub(super) const LOG: TableDefinition<u64, Bytes> = TableDefinition::new("log");
/// Entry → n.
pub(super) const BY_ID: TableDefinition<Id, u64> = TableDefinition::new("by_id");
/// Device ++ sequence → n; 0 when it was received and stands apart from the log.
pub(super) const BY_AUTHOR: TableDefinition<&'static AuthorKey, u64> =
    TableDefinition::new("by_author");
/// Device → [`super::device::Device`] as JSON.
pub(super) const DEVICES: TableDefinition<Id, Bytes> = TableDefinition::new("devices");
/// Subject → its ledger and who touched it last; see [`Stored`].
pub(super) const LEDGERS: TableDefinition<&'static SubjectKey, Bytes> =
    TableDefinition::new("ledgers");
/// n of the last entry that touched it ++ subject.
pub(super) const CHANGED: TableDefinition<&'static PairKey, ()> = TableDefinition::new("changed");
/// Subject ++ n of every entry that touched it.
pub(super) const OF_SUBJECT: TableDefinition<&'static PairKey, ()> =
    TableDefinition::new("of_subject");
/// A code's six digits ++ the subject it leads to → the entry that gave it out.
pub(super) const CODES: TableDefinition<Bytes, Id> = TableDefinition::new("codes");
/// Number of arrival → [`super::aside::SetAside`] as JSON.
pub(super) const ASIDE: TableDefinition<u64, Bytes> = TableDefinition::new("aside");
/// Hash of the text that was set aside → its number, so that sent twice is kept once.
pub(super) const ASIDE_BY_HASH: TableDefinition<&'static [u8; 32], u64> =
    TableDefinition::new("aside_by_hash");
/// n ++ which alarm → [`super::alarm::Alarm`] as JSON.
pub(super) const ALARMS: TableDefinition<u64, Bytes> = TableDefinition::new("alarms");
/// Entry → `Beside` as JSON: personal data, which can be erased.
pub(super) const BESIDE: TableDefinition<Id, Bytes> = TableDefinition::new("beside");
/// Hash of a device's token → [`super::paired::Paired`] as JSON.
pub(super) const PAIRED: TableDefinition<&'static [u8; 32], Bytes> = TableDefinition::new("paired");
/// Name → JSON; see [`super::meta`].
pub(super) const META: TableDefinition<&'static str, Bytes> = TableDefinition::new("meta");

/// Every table, open for writing.
pub(super) struct Tables<'t> {
    pub(super) log: Table<'t, u64, Bytes>,
    pub(super) by_id: Table<'t, Id, u64>,
    pub(super) by_author: Table<'t, &'static AuthorKey, u64>,
    pub(super) devices: Table<'t, Id, Bytes>,
    pub(super) ledgers: Table<'t, &'static SubjectKey, Bytes>,
    pub(super) changed: Table<'t, &'static PairKey, ()>,
    pub(super) of_subject: Table<'t, &'static PairKey, ()>,
    pub(super) codes: Table<'t, Bytes, Id>,
    pub(super) aside: Table<'t, u64, Bytes>,
    pub(super) aside_by_hash: Table<'t, &'static [u8; 32], u64>,
    pub(super) alarms: Table<'t, u64, Bytes>,
    pub(super) beside: Table<'t, Id, Bytes>,
    pub(super) paired: Table<'t, &'static [u8; 32], Bytes>,
    pub(super) meta: Table<'t, &'static str, Bytes>,
}

impl<'t> Tables<'t> {
    pub(super) fn open(txn: &'t WriteTransaction) -> Result<Self, StoreError> {
        Ok(Self {
            log: txn.open_table(LOG)?,
            by_id: txn.open_table(BY_ID)?,
            by_author: txn.open_table(BY_AUTHOR)?,
            devices: txn.open_table(DEVICES)?,
            ledgers: txn.open_table(LEDGERS)?,
            changed: txn.open_table(CHANGED)?,
            of_subject: txn.open_table(OF_SUBJECT)?,
            codes: txn.open_table(CODES)?,
            aside: txn.open_table(ASIDE)?,
            aside_by_hash: txn.open_table(ASIDE_BY_HASH)?,
            alarms: txn.open_table(ALARMS)?,
            beside: txn.open_table(BESIDE)?,
            paired: txn.open_table(PAIRED)?,
            meta: txn.open_table(META)?,
        })
    }
}

/// Throws away what the log can rebuild.
pub(super) fn drop_views(txn: &WriteTransaction) -> Result<(), StoreError> {
    txn.delete_table(LEDGERS)?;
    txn.delete_table(CHANGED)?;
    txn.delete_table(OF_SUBJECT)?;
    txn.delete_table(CODES)?;
    Ok(())
}

/// Where the log ends.
pub(super) fn end(log: &impl ReadableTable<u64, Bytes>) -> Result<(u64, Hash), StoreError> {
    match log.last()? {
        Some((n, value)) => Ok((n.value(), split(value.value())?.0)),
        None => Ok((0, Hash::NONE)),
    }
}

/// The hash of the log after `n` entries; none beyond its end.
pub(super) fn hash_at(
    log: &impl ReadableTable<u64, Bytes>,
    n: u64,
) -> Result<Option<Hash>, StoreError> {
    if n == 0 {
        return Ok(Some(Hash::NONE));
    }
    log.get(n)?
        .map(|value| split(value.value()).map(|(hash, _)| hash))
        .transpose()
}

/// The entry at `n`.
pub(super) fn entry_at(log: &impl ReadableTable<u64, Bytes>, n: u64) -> Result<Entry, StoreError> {
    let value = log
        .get(n)?
        .ok_or_else(|| StoreError::damaged(format!("entry {n} is missing from the log")))?;
    read_entry(n, value.value())
}

/// Reads a value of the log.
pub(super) fn read_entry(n: u64, value: &[u8]) -> Result<Entry, StoreError> {
    let (_, bytes) = split(value)?;
    Entry::from_bytes(bytes)
        .map_err(|e| StoreError::damaged(format!("entry {n} does not read: {e}")))
}

/// Splits a value of the log into the log's hash and the entry's bytes.
pub(super) fn split(value: &[u8]) -> Result<(Hash, &[u8]), StoreError> {
    let (hash, bytes) = value
        .split_first_chunk()
        .ok_or_else(|| StoreError::damaged("a value of the log is too short"))?;
    Ok((Hash::from_bytes(*hash), bytes))
}

/// A value of the ledgers.
pub(super) struct Stored<'a> {
    /// The number of the last entry that touched it.
    pub(super) n: u64,
    /// What lets another row be taken in without reading the others; see [`Folded`].
    pub(super) index: &'a [u8],
    /// What readers read.
    pub(super) json: &'a [u8],
}

impl<'a> Stored<'a> {
    /// Splits a stored value: n (8 bytes) ++ the index's length (4 bytes) ++ index ++ JSON.
    pub(super) fn of(value: &'a [u8]) -> Result<Self, StoreError> {
        let parts = || {
            let (n, rest) = value.split_first_chunk()?;
            let (length, rest) = rest.split_first_chunk()?;
            let length = usize::try_from(u32::from_be_bytes(*length)).ok()?;
            let (index, json) = rest.split_at_checked(length)?;
            let n = u64::from_be_bytes(*n);
            Some(Self { n, index, json })
        };
        parts().ok_or_else(|| StoreError::damaged("a stored ledger is too short"))
    }

    /// The value of a ledger last touched by `n`.
    pub(super) fn value(n: u64, folded: &Folded) -> Result<Vec<u8>, StoreError> {
        let unwritten = || StoreError::damaged("a ledger cannot be written");
        let (index, json) = folded.written().ok_or_else(unwritten)?;
        let length = u32::try_from(index.len()).map_err(|_| unwritten())?;
        Ok([
            &n.to_be_bytes()[..],
            &length.to_be_bytes(),
            &index,
            json.as_bytes(),
        ]
        .concat())
    }
}

pub(super) fn author_key(device: DeviceId, seq: u64) -> AuthorKey {
    joined(device.uuid().as_bytes(), &seq.to_be_bytes())
}

/// The device and sequence of a key.
pub(super) fn author_of(key: &AuthorKey) -> (DeviceId, u64) {
    let (device, seq) = halves::<24, 16, 8>(key);
    (
        DeviceId::from_uuid(Uuid::from_bytes(device)),
        u64::from_be_bytes(seq),
    )
}

pub(super) fn subject_key(subject: Subject) -> SubjectKey {
    let (tag, id) = match subject {
        Subject::Farm => (0, Uuid::nil()),
        Subject::Boar(id) => (1, id.uuid()),
        Subject::Pen(id) => (2, id.uuid()),
        Subject::Sow(id) => (3, id.uuid()),
    };
    joined(&[tag], id.as_bytes())
}

pub(super) fn subject_of(key: &SubjectKey) -> Result<Subject, StoreError> {
    let ([tag], id) = halves::<17, 1, 16>(key);
    let id = Uuid::from_bytes(id);
    match tag {
        0 => Ok(Subject::Farm),
        1 => Ok(Subject::Boar(BoarId::from_uuid(id))),
        2 => Ok(Subject::Pen(PenId::from_uuid(id))),
        3 => Ok(Subject::Sow(SowId::from_uuid(id))),
        tag => Err(StoreError::damaged(format!("no subject has the tag {tag}"))),
    }
}

pub(super) fn changed_key(n: u64, subject: &SubjectKey) -> PairKey {
    joined(&n.to_be_bytes(), subject)
}

pub(super) fn changed_of(key: &PairKey) -> (u64, SubjectKey) {
    let (n, subject) = halves::<25, 8, 17>(key);
    (u64::from_be_bytes(n), subject)
}

pub(super) fn of_subject_key(subject: &SubjectKey, n: u64) -> PairKey {
    joined(subject, &n.to_be_bytes())
}

pub(super) fn of_subject_of(key: &PairKey) -> (SubjectKey, u64) {
    let (subject, n) = halves::<25, 17, 8>(key);
    (subject, u64::from_be_bytes(n))
}

/// A code's key, or the beginning of its keys without a subject.
pub(super) fn code_key(code: Code, subject: Option<&SubjectKey>) -> Vec<u8> {
    let mut key = code.digits().into_bytes();
    key.push(b'/');
    key.extend(subject.into_iter().flatten());
    key
}

pub(super) fn id_of(bytes: [u8; 16]) -> EntryId {
    EntryId::from_uuid(Uuid::from_bytes(bytes))
}

/// Two parts side by side. `N` is the sum of their lengths.
fn joined<const N: usize>(left: &[u8], right: &[u8]) -> [u8; N] {
    let mut key = [0; N];
    key.iter_mut()
        .zip(left.iter().chain(right))
        .for_each(|(to, from)| *to = *from);
    key
}

/// The two parts of a key. `N` is the sum of `A` and `B`.
fn halves<const N: usize, const A: usize, const B: usize>(key: &[u8; N]) -> ([u8; A], [u8; B]) {
    let (mut left, mut right) = ([0; A], [0; B]);
    let parts = left.iter_mut().chain(right.iter_mut());
    parts.zip(key).for_each(|(to, from)| *to = *from);
    (left, right)
}

/// A table open for reading.
pub(super) type Read<K, V> = redb::ReadOnlyTable<K, V>;

/// The log open for reading.
pub(super) fn log(txn: &ReadTransaction) -> Result<Read<u64, Bytes>, StoreError> {
    Ok(txn.open_table(LOG)?)
}
