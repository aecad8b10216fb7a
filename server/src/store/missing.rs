//! What the log speaks of and does not have: after an office's disk died, and its phones handed over
//! all that they hold, this is what cannot be recovered.

use super::Store;
use super::device::Device;
use super::error::StoreError;
use super::tables::{BY_ID, DEVICES, LEDGERS, subject_of};
use pentally_domain::fact::Subject;
use pentally_domain::id::{BoarId, PenId, SowId};
use redb::ReadableTable;
use serde::Serialize;
use uuid::Uuid;

/// See the module's words. Nothing of this is damage: a barn that lost nothing has none of it, but
/// for what is on its way.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Missing {
    /// Entries that no device holds any more.
    pub lost: u64,
    /// Devices of which some entries arrived and others before them did not; those may still come.
    pub awaited: u64,
    /// Boars with entries about them, but none that introduced them.
    pub boars: Vec<BoarId>,
    /// Pens likewise.
    pub pens: Vec<PenId>,
    /// Sows likewise.
    pub sows: Vec<SowId>,
}

impl Missing {
    /// Whether nothing is.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }
}

impl Store {
    /// What the log speaks of and does not have. Takes as long as there are devices and subjects.
    pub fn missing(&self) -> Result<Missing, StoreError> {
        self.read(|txn| {
            let mut missing = Missing::default();
            for item in txn.open_table(DEVICES)?.iter()? {
                let device: Device = serde_json::from_slice(item?.1.value())?;
                let spans = device.lost.iter();
                missing.lost += spans.map(|(first, last)| last - first + 1).sum::<u64>();
                missing.awaited += u64::from(device.highest > device.contiguous);
            }
            let by_id = txn.open_table(BY_ID)?;
            for item in txn.open_table(LEDGERS)?.iter()? {
                let subject = subject_of(item?.0.value())?;
                let unknown = |id: Uuid| Ok::<_, StoreError>(by_id.get(id.as_bytes())?.is_none());
                match subject {
                    Subject::Boar(id) if unknown(id.uuid())? => missing.boars.push(id),
                    Subject::Pen(id) if unknown(id.uuid())? => missing.pens.push(id),
                    Subject::Sow(id) if unknown(id.uuid())? => missing.sows.push(id),
                    _ => {}
                }
            }
            Ok(missing)
        })
    }
}
