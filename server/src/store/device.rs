//! What the store knows of a device.

use super::error::StoreError;
use super::tables::{AuthorKey, Tables, author_key, author_of};
use pentally_domain::id::DeviceId;
use redb::ReadableTable;
use serde::{Deserialize, Serialize};

/// One device's thread as far as it arrived. `contiguous` counts what is in the log, what was
/// set aside and what is recorded as lost.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// Everything up to here is accounted for.
    pub contiguous: u64,
    /// The highest sequence that arrived.
    pub highest: u64,
    /// The lowest sequence the device said it still holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor: Option<u64>,
    /// When it last spoke (ms since 1970); none when only others brought its entries.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_seen_ms: Option<i64>,
    /// How many entries it said were waiting, the ones it brought included.
    #[serde(default)]
    pub unsent: u64,
    /// A verified backup covers its entries up to here.
    #[serde(default)]
    pub backed_up: u64,
    /// Sequences, first and last, that no device holds any more. What still arrives of them is taken in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lost: Vec<(u64, u64)>,
}

pub(super) fn load(t: &Tables<'_>, device: DeviceId) -> Result<Device, StoreError> {
    let stored = t.devices.get(device.uuid().as_bytes())?;
    stored.map_or(Ok(Device::default()), |v| {
        Ok(serde_json::from_slice(v.value())?)
    })
}

pub(super) fn save(t: &mut Tables<'_>, id: DeviceId, device: &Device) -> Result<(), StoreError> {
    t.devices
        .insert(id.uuid().as_bytes(), serde_json::to_vec(device)?.as_slice())?;
    Ok(())
}

/// Moves `contiguous` on over everything that arrived. What is missing below the floor is lost:
/// nobody waits for it.
pub(super) fn settle(t: &Tables<'_>, id: DeviceId, device: &mut Device) -> Result<(), StoreError> {
    let floor = device.floor.unwrap_or(0).min(device.highest + 1);
    let low = author_key(id, device.contiguous + 1);
    for item in t
        .by_author
        .range::<&AuthorKey>(&low..=&author_key(id, u64::MAX))?
    {
        let (_, seq) = author_of(item?.0.value());
        if seq > device.contiguous + 1 && !lose(device, seq.min(floor)) {
            break;
        }
        if seq != device.contiguous + 1 {
            break;
        }
        device.contiguous = seq;
    }
    lose(device, floor);
    Ok(())
}

/// Records what is missing between `contiguous` and `next`; says whether anything was.
fn lose(device: &mut Device, next: u64) -> bool {
    if next <= device.contiguous + 1 {
        return false;
    }
    device.lost.push((device.contiguous + 1, next - 1));
    device.contiguous = next - 1;
    true
}
