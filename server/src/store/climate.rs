//! What the log holds of how warm it was, also of days that fell out of the farm's ledger.

use super::outlook::whole;
use super::{Store, StoreError};
use pentally_domain::climate::{RoomReadings, merged};
use pentally_domain::fact::{Fact, Subject};

impl Store {
    /// All readings of rooms, merged by room and day; see [`merged`].
    pub fn climate(&self) -> Result<Vec<RoomReadings>, StoreError> {
        self.read(|txn| {
            let whole = whole(txn, &[Subject::Farm])?;
            let live = whole.live();
            let read = live.iter().filter_map(|live| match live.fact {
                Fact::Climate(climate) => Some((live.order, climate)),
                _ => None,
            });
            Ok(merged(read))
        })
    }
}
