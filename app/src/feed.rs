//! The one feed all pages read: the barn as it is known here, the time, and how the records
//! stand that were made on this phone.
//!
//! In a browser the device layer writes it; on the server a first paint is made from
//! [`Feed::for_paint`]. Read the barn with `feed.barn.with(…)`: a clone of the `Arc` that is
//! kept makes the next change copy the whole barn.

use leptos::prelude::*;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::id::{BarnId, DeviceId, EntryId, FarmId, PersonId};
use pentally_domain::outbox::Warning;
use pentally_domain::pairing::Role;
use pentally_domain::sync::Aside;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What pages read. Cheap to copy; provided as a context.
#[derive(Debug, Clone, Copy)]
pub struct Feed {
    /// The barn as it is known here.
    pub barn: RwSignal<Arc<Barn>>,
    /// Now (ms since 1970), moving once a minute while the page can be seen.
    pub now_ms: RwSignal<i64>,
    /// How this phone and the office stand.
    pub link: RwSignal<Link>,
    /// Who is picked.
    pub person: RwSignal<Option<PersonId>>,
    /// The records of this phone that the office has not taken in.
    pub unsettled: RwSignal<Unsettled>,
}

/// How this phone and the office stand.
#[derive(Debug, Clone, Default, PartialEq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a fact of its own that a page shows by itself"
)]
pub struct Link {
    /// Records waiting to be sent.
    pub unsent: u64,
    /// When the oldest of them was written down (ms since 1970).
    pub oldest_unsent_ms: Option<i64>,
    /// Records the office set aside.
    pub not_accepted: Vec<NotAccepted>,
    /// When the office wrote what is shown (ms since 1970); none while nothing was pulled.
    pub as_of_ms: Option<i64>,
    /// When the office last answered (ms since 1970).
    pub last_contact_ms: Option<i64>,
    /// The part under which the office knows this phone; none before it said so.
    pub role: Option<Role>,
    /// An exchange is under way.
    pub busy: bool,
    /// The last attempt did not reach the office.
    pub offline: bool,
    /// What the office said last did not fit into this phone's store.
    pub full: bool,
    /// What a person should know.
    pub warning: Option<Warning>,
    /// Whether the browser promised to keep this phone's store; none while it did not say.
    pub persisted: Option<bool>,
    /// What the office last said of itself; its `farm` is none before the first start.
    pub hello: Option<Hello>,
    /// Everything held here is in the barn; before that, what is not found may still come.
    pub whole: bool,
    /// A newer version of the app waits; see `device::take_update`.
    pub update_ready: bool,
}

impl Link {
    /// Whether the office says that somebody looks around the invented barn.
    pub fn says_invented(&self) -> bool {
        self.hello.as_ref().is_some_and(|hello| hello.invented)
    }
}

/// What the office says of itself (`GET /api/v1/hello`).
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hello {
    /// Its farm; none before the first start.
    #[serde(default)]
    pub farm: Option<FarmId>,
    /// Its barn.
    #[serde(default)]
    pub barn: Option<BarnId>,
    /// Whether that is the invented barn.
    #[serde(default)]
    pub invented: bool,
    /// The version of its program.
    #[serde(default)]
    pub version: String,
}

/// A record the office set aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAccepted {
    /// The record.
    pub entry: EntryId,
    /// Why.
    pub reason: Aside,
}

/// Where a record stands, in the three states a person is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecordState {
    /// On this phone only.
    OnThisPhone,
    /// At the office.
    AtTheOffice,
    /// Not accepted: look.
    NotAccepted,
}

/// The records of this phone that are not at the office, by device and sequence.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Unsettled {
    /// Waiting.
    pub unsent: BTreeMap<DeviceId, BTreeSet<u64>>,
    /// Set aside.
    pub aside: BTreeSet<(DeviceId, u64)>,
}

impl Feed {
    /// The feed of a server's first paint: everything on it is at the office.
    pub fn for_paint(barn: Barn, role: Option<Role>, now_ms: i64) -> Self {
        let link = Link {
            role,
            as_of_ms: Some(now_ms),
            whole: true,
            ..Link::default()
        };
        Self::of(barn, now_ms, link)
    }

    /// The feed of a browser that has not looked yet.
    pub fn unread(now_ms: i64) -> Self {
        Self::of(Barn::default(), now_ms, Link::default())
    }

    /// Lets all components below read this feed.
    pub fn provide(self) {
        provide_context(self);
    }

    /// Whether this is the invented barn, by its own log or by what the office says; follows changes
    /// inside a view.
    pub fn is_invented(&self) -> bool {
        let by_log = |barn: &Arc<Barn>| barn.farm().is_some_and(|farm| farm.fact.invented);
        self.barn.with(by_log) || self.link.with(|l| l.says_invented())
    }

    /// Whether this phone holds the farm's sows; follows changes inside a view.
    pub fn holds_sows(&self) -> bool {
        self.link.with(|l| l.role.is_none_or(Role::holds_sows))
    }

    /// Where a record stands; follows changes inside a view.
    pub fn record_state(&self, device: DeviceId, seq: u64) -> RecordState {
        self.unsettled.with(|u| u.state(device, seq))
    }

    /// Where the record behind a fact stands.
    pub fn state_of<T>(&self, seen: &Seen<T>) -> RecordState {
        self.record_state(seen.device, seen.seq)
    }

    fn of(barn: Barn, now_ms: i64, link: Link) -> Self {
        Self {
            barn: RwSignal::new(Arc::new(barn)),
            now_ms: RwSignal::new(now_ms),
            link: RwSignal::new(link),
            person: RwSignal::new(None),
            unsettled: RwSignal::new(Unsettled::default()),
        }
    }
}

/// The feed of this part of the screen, if one was provided.
pub fn use_feed() -> Option<Feed> {
    use_context()
}

impl Unsettled {
    /// Where a record stands.
    pub fn state(&self, device: DeviceId, seq: u64) -> RecordState {
        if self.aside.contains(&(device, seq)) {
            RecordState::NotAccepted
        } else if self.unsent.get(&device).is_some_and(|s| s.contains(&seq)) {
            RecordState::OnThisPhone
        } else {
            RecordState::AtTheOffice
        }
    }

    /// A record was saved here.
    pub fn saved(&mut self, device: DeviceId, seq: u64) {
        self.unsent.entry(device).or_default().insert(seq);
    }

    /// The office has received a record.
    pub fn received(&mut self, device: DeviceId, seq: u64) {
        if let Some(seqs) = self.unsent.get_mut(&device) {
            seqs.remove(&seq);
        }
    }

    /// How many wait.
    pub fn count(&self) -> u64 {
        self.unsent
            .values()
            .map(|s| u64::try_from(s.len()).unwrap_or(u64::MAX))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn device(n: u8) -> DeviceId {
        DeviceId::v7(i64::from(n), [n; 10])
    }

    #[test]
    fn a_record_goes_from_this_phone_to_the_office() {
        let mut records = Unsettled::default();
        assert_eq!(
            records.state(device(1), 1),
            RecordState::AtTheOffice,
            "made elsewhere"
        );
        records.saved(device(1), 1);
        records.saved(device(2), 1);
        assert_eq!(records.state(device(1), 1), RecordState::OnThisPhone);
        assert_eq!(records.count(), 2);
        records.received(device(1), 1);
        assert_eq!(records.state(device(1), 1), RecordState::AtTheOffice);
        assert_eq!(records.state(device(2), 1), RecordState::OnThisPhone);
    }

    #[test]
    fn what_was_set_aside_is_neither_here_nor_there() {
        let mut records = Unsettled::default();
        records.saved(device(1), 7);
        records.received(device(1), 7);
        records.aside.insert((device(1), 7));
        assert_eq!(records.state(device(1), 7), RecordState::NotAccepted);
    }
}
