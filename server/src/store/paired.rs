//! Devices that the office let in, and the owner's passphrase. Neither is part of the log: a backup
//! does not carry them, and a machine that is set up anew pairs its phones again.

use super::Store;
use super::error::StoreError;
use super::meta;
use super::tables::{META, PAIRED, Tables};
use pentally_domain::id::DeviceId;
use pentally_domain::pairing::{PairedDevice, Role};
use pentally_domain::said::Label;
use redb::ReadableTable;
use serde::{Deserialize, Serialize};

/// A device that was let in. Its token is kept as a hash, which is the key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Paired {
    /// Its number.
    pub n: u64,
    /// What it is called.
    pub name: Label,
    /// What it may do.
    pub role: Role,
    /// When it was let in (ms since 1970).
    pub since_ms: i64,
    /// When it was shut out (ms since 1970).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revoked_ms: Option<i64>,
    /// Under which identity it last sent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub device: Option<DeviceId>,
    /// How much it left here since it was shut out, in bytes.
    #[serde(default)]
    pub apart_bytes: u64,
}

impl Store {
    /// Lets a device in, whose token has this hash; once, however often it is said.
    pub fn let_in(
        &self,
        token: &[u8; 32],
        name: Label,
        role: Role,
        now_ms: i64,
    ) -> Result<Paired, StoreError> {
        self.write(|t| {
            let known = t.paired.get(token)?.map(|v| v.value().to_vec());
            if let Some(known) = known {
                return Ok(serde_json::from_slice(&known)?);
            }
            let mut last = 0;
            for item in t.paired.iter()? {
                let paired: Paired = serde_json::from_slice(item?.1.value())?;
                last = last.max(paired.n);
            }
            let paired = Paired {
                n: last + 1,
                name: name.clone(),
                role,
                since_ms: now_ms,
                revoked_ms: None,
                device: None,
                apart_bytes: 0,
            };
            put(t, token, &paired)?;
            Ok(paired)
        })
    }

    /// Who has the token with this hash.
    pub fn paired(&self, token: &[u8; 32]) -> Result<Option<Paired>, StoreError> {
        self.read(|txn| {
            let found = txn.open_table(PAIRED)?.get(token)?;
            found
                .map(|v| Ok(serde_json::from_slice(v.value())?))
                .transpose()
        })
    }

    /// Everybody who was ever let in, with what their devices last said.
    pub fn all_paired(&self) -> Result<Vec<PairedDevice>, StoreError> {
        let heard = self.devices()?;
        self.read(|txn| {
            let mut list = vec![];
            for item in txn.open_table(PAIRED)?.iter()? {
                let paired: Paired = serde_json::from_slice(item?.1.value())?;
                let device = heard
                    .iter()
                    .find(|(id, _)| Some(*id) == paired.device)
                    .map(|(_, device)| device);
                list.push(PairedDevice {
                    n: paired.n,
                    name: paired.name,
                    role: paired.role,
                    since_ms: paired.since_ms,
                    revoked_ms: paired.revoked_ms,
                    device: paired.device,
                    last_seen_ms: device.and_then(|d| d.last_seen_ms),
                    unsent: device.map_or(0, |d| d.unsent),
                });
            }
            list.sort_by_key(|paired| paired.n);
            Ok(list)
        })
    }

    /// Shuts a device out; what it still sends is set aside. False if there is none of that number.
    pub fn shut_out(&self, n: u64, now_ms: i64) -> Result<bool, StoreError> {
        self.write(|t| {
            let mut found = None;
            for item in t.paired.iter()? {
                let (key, value) = item?;
                let paired: Paired = serde_json::from_slice(value.value())?;
                if paired.n == n {
                    found = Some((*key.value(), paired));
                }
            }
            let Some((key, mut paired)) = found else {
                return Ok(false);
            };
            paired.revoked_ms = paired.revoked_ms.or(Some(now_ms));
            put(t, &key, &paired)?;
            Ok(true)
        })
    }

    /// Notes under which identity a device sends.
    pub fn sends_as(&self, token: &[u8; 32], device: DeviceId) -> Result<(), StoreError> {
        self.write(|t| {
            let stored = t.paired.get(token)?.map(|v| v.value().to_vec());
            let Some(stored) = stored else { return Ok(()) };
            let mut paired: Paired = serde_json::from_slice(&stored)?;
            paired.device = Some(device);
            put(t, token, &paired)
        })
    }

    /// The hash of the owner's passphrase, once there is one.
    pub fn owner(&self) -> Result<Option<String>, StoreError> {
        self.read(|txn| meta::get(&txn.open_table(META)?, meta::OWNER_KEY))
    }

    /// Sets the hash of the owner's passphrase.
    pub fn set_owner(&self, hash: &str) -> Result<(), StoreError> {
        self.write(|t| meta::put(&mut t.meta, meta::OWNER_KEY, &hash))
    }
}

pub(super) fn put(t: &mut Tables<'_>, token: &[u8; 32], paired: &Paired) -> Result<(), StoreError> {
    t.paired
        .insert(token, serde_json::to_vec(paired)?.as_slice())?;
    Ok(())
}
