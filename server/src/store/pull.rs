//! Handing out the ledgers that changed after a cursor.

use super::device::Device;
use super::error::StoreError;
use super::meta;
use super::push::is_ours;
use super::tables::{
    self, CHANGED, DEVICES, LEDGERS, META, PairKey, Stored, changed_key, changed_of, hash_at, log,
};
use super::{Store, read};
use pentally_domain::envelope::Hash;
use pentally_domain::id::DeviceId;
use pentally_domain::pairing::Role;
use pentally_domain::sync::{Cursor, PROTOCOL, Page};
use redb::{ReadTransaction, ReadableTable};
use serde_json::value::RawValue;
use std::collections::BTreeMap;
use uuid::Uuid;

impl Store {
    /// The ledgers that changed after `cursor`, oldest change first, all from one snapshot. A page
    /// ends with the first entry at which it exceeds `max_bytes`; the ledgers one entry touched
    /// travel together, so that no cursor falls between them. `seen` is where the asker last saw the
    /// log, by a receipt perhaps, which is further than its ledgers go. Ledgers that a device with this
    /// role does not hold are left out.
    pub fn pull(
        &self,
        role: Role,
        cursor: Option<Cursor>,
        seen: Option<Cursor>,
        max_bytes: usize,
        now_ms: i64,
    ) -> Result<Page, StoreError> {
        self.read(|txn| {
            let log = log(txn)?;
            let epoch = meta::epoch(&txn.open_table(META)?)?;
            let known = cursor.map(|c| is_ours(&log, epoch, c)).transpose()?;
            let seen = seen.map(|c| is_ours(&log, epoch, c)).transpose()?;
            // A walk that broke off left out what changed before the end it saw: where that end is
            // gone, what was left out may never change again.
            let restart = known == Some(false) || seen == Some(false);
            let after = cursor.filter(|_| !restart).map_or(0, |c| c.n);
            let changes = changes(txn, role, after, max_bytes)?;
            let (end, end_hash) = tables::end(&log)?;
            let (n, hash) = match changes.stopped_at {
                Some(n) => (n, hash_at(&log, n)?.unwrap_or(Hash::NONE)),
                None => (end, end_hash),
            };
            let more = changes.stopped_at.is_some();
            // Personal data is small; the last page repeats it, because it may have changed since.
            let beside = if after == 0 || !more {
                read::beside(txn)?
            } else {
                vec![]
            };
            Ok(Page {
                protocol: PROTOCOL,
                cursor: Cursor { epoch, n, hash },
                restart,
                apart: seen == Some(false),
                more,
                end: more.then_some(Cursor {
                    epoch,
                    n: end,
                    hash: end_hash,
                }),
                includes: includes(txn)?,
                ledgers: changes.ledgers,
                beside,
                as_of_ms: now_ms,
                role: Some(role),
                outlook: None,
            })
        })
    }
}

struct Changes {
    ledgers: Vec<Box<RawValue>>,
    /// The last entry whose ledgers are all here, when others follow.
    stopped_at: Option<u64>,
}

fn changes(
    txn: &ReadTransaction,
    role: Role,
    after: u64,
    max_bytes: usize,
) -> Result<Changes, StoreError> {
    let (changed, stored) = (txn.open_table(CHANGED)?, txn.open_table(LEDGERS)?);
    let mut ledgers = vec![];
    let (mut bytes, mut last) = (0, after);
    for item in changed.range::<&PairKey>(&changed_key(after.saturating_add(1), &[0; 17])..)? {
        let (n, subject) = changed_of(item?.0.value());
        if n != last && bytes >= max_bytes {
            return Ok(Changes {
                ledgers,
                stopped_at: Some(last),
            });
        }
        if !role.holds(tables::subject_of(&subject)?) {
            continue;
        }
        let value = stored
            .get(&subject)?
            .ok_or_else(|| StoreError::damaged("a ledger that changed is missing"))?;
        let json = Stored::of(value.value())?.json;
        bytes += json.len();
        ledgers.push(serde_json::from_slice(json)?);
        last = n;
    }
    Ok(Changes {
        ledgers,
        stopped_at: None,
    })
}

fn includes(txn: &ReadTransaction) -> Result<BTreeMap<DeviceId, u64>, StoreError> {
    let devices = txn.open_table(DEVICES)?;
    let mut includes = BTreeMap::new();
    for item in devices.iter()? {
        let (id, device) = item?;
        let device: Device = serde_json::from_slice(device.value())?;
        includes.insert(
            DeviceId::from_uuid(Uuid::from_bytes(*id.value())),
            device.contiguous,
        );
    }
    Ok(includes)
}
