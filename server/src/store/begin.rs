//! The first start, and what the server writes itself: it is a device too.

use super::error::StoreError;
use super::meta::{self, Home};
use super::push::Taking;
use super::{Birth, Store};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, DeviceId, FarmId};
use pentally_domain::time::Stamp;
use pentally_domain::writer::{Head, Moment};
use std::slice;

/// One thing the server writes down.
#[derive(Debug, Clone)]
pub struct Saying {
    /// What.
    pub fact: Fact,
    /// When it happened, where known.
    pub occurred_at: Option<Stamp>,
    /// Ten fresh random bytes for the entry's identity.
    pub random: [u8; 10],
}

impl Store {
    /// Makes this the log of a farm, with the farm's own entry as its first. `birth` gives the
    /// server's identity as a device.
    pub fn begin(
        &self,
        home: Home,
        farm: &Saying,
        now: Stamp,
        birth: Birth,
    ) -> Result<Entry, StoreError> {
        self.write(|t| {
            adopt(t, home, birth)?;
            say(t, slice::from_ref(farm), now)?
                .pop()
                .ok_or_else(|| StoreError::damaged("no entry was written"))
        })
    }

    /// Makes this the log of a farm whose entries will come from elsewhere.
    pub fn adopt(&self, home: Home, birth: Birth) -> Result<(), StoreError> {
        self.write(|t| adopt(t, home, birth))
    }

    /// Writes facts as the server, all of them or none.
    pub fn say(&self, sayings: &[Saying], now: Stamp) -> Result<Vec<Entry>, StoreError> {
        self.write(|t| say(t, sayings, now))
    }
}

pub(super) fn adopt(
    t: &mut super::tables::Tables<'_>,
    home: Home,
    birth: Birth,
) -> Result<(), StoreError> {
    if meta::get::<Home>(&t.meta, meta::HOME_KEY)?.is_some() {
        return Err(StoreError::HasFarm);
    }
    let head = Head::new(
        home.farm,
        home.barn,
        DeviceId::v7(birth.now_ms, birth.random),
    );
    meta::put(&mut t.meta, meta::HOME_KEY, &home)?;
    meta::put(&mut t.meta, meta::HEAD_KEY, &head)
}

fn say(
    t: &mut super::tables::Tables<'_>,
    sayings: &[Saying],
    now: Stamp,
) -> Result<Vec<Entry>, StoreError> {
    let own = meta::head(&t.meta)?.device;
    let mut taking = Taking::begin(t, own, now.ms())?;
    let mut written = vec![];
    for saying in sayings {
        let occurred_at = saying.occurred_at.unwrap_or(now);
        let moment = Moment {
            now,
            occurred_at,
            random: saying.random,
            person: None,
        };
        let head = Head {
            seen: taking.n(),
            ..*taking.head_mut()
        };
        let (entry, next) = head.write(&saying.fact, moment)?;
        *taking.head_mut() = next;
        taking.append(t, &entry, Some(&saying.fact))?;
        written.push(entry);
    }
    taking.settle(t)?;
    taking.write(t)?;
    Ok(written)
}

impl Home {
    /// The home of a farm that begins now.
    pub fn new(now_ms: i64, farm: [u8; 10], barn: [u8; 10]) -> Self {
        Self {
            farm: FarmId::v7(now_ms, farm),
            barn: BarnId::v7(now_ms, barn),
        }
    }
}
