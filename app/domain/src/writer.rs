//! A device's own thread of entries: gapless sequence, hash of the one before, hybrid clock.
//!
//! Whoever stores entries keeps the [`Head`] beside them and changes both in one transaction.

use crate::envelope::{Entry, EntryError, Envelope, Hash};
use crate::fact::Fact;
use crate::id::{BarnId, DeviceId, EntryId, FarmId, PersonId};
use crate::time::{Clock, Stamp};
use serde::{Deserialize, Serialize};

/// Where a device's thread stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// The farm whose log it writes.
    pub farm: FarmId,
    /// The barn it stands in.
    pub barn: BarnId,
    /// The device.
    pub device: DeviceId,
    /// The sequence of its last entry; 0 before the first.
    pub seq: u64,
    /// The hash of its last entry.
    pub prev: Hash,
    /// Its hybrid clock.
    pub clock: Clock,
    /// The last entry number of the server it knew of.
    pub seen: u64,
}

/// What the moment gives: from the device's clock, its chance and its screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Now, with the device's offset.
    pub now: Stamp,
    /// When it happened; now, unless entered afterwards.
    pub occurred_at: Stamp,
    /// Ten fresh random bytes for the identity.
    pub random: [u8; 10],
    /// Who is picked.
    pub person: Option<PersonId>,
}

impl Head {
    /// The head of a device that has written nothing.
    pub const fn new(farm: FarmId, barn: BarnId, device: DeviceId) -> Self {
        Self {
            farm,
            barn,
            device,
            seq: 0,
            prev: Hash::NONE,
            clock: Clock { ms: 0, n: 0 },
            seen: 0,
        }
    }

    /// Writes the next entry and returns it with the head that follows.
    pub fn write(&self, fact: &Fact, moment: Moment) -> Result<(Entry, Self), EntryError> {
        self.write_raw(fact.kind().name(), fact.version(), fact.body(), moment)
    }

    /// Writes a body of any kind, also one unknown here.
    pub fn write_raw(
        &self,
        kind: &str,
        version: u16,
        body: String,
        moment: Moment,
    ) -> Result<(Entry, Self), EntryError> {
        let clock = self.clock.tick(moment.now.ms());
        let entry = Entry::seal(Envelope {
            id: EntryId::v7(moment.now.ms(), moment.random),
            farm: self.farm,
            barn: self.barn,
            device: self.device,
            seq: self.seq + 1,
            prev: self.prev,
            person: moment.person,
            occurred_at: moment.occurred_at,
            recorded_at: moment.now,
            clock,
            seen: self.seen,
            kind: kind.to_owned(),
            version,
            body,
        })?;
        let next = Self {
            seq: self.seq + 1,
            prev: entry.hash(),
            clock,
            ..*self
        };
        Ok((entry, next))
    }
}
