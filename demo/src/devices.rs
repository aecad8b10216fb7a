//! The devices of the farm and their threads of entries.

use crate::TaleError;
use crate::Told;
use crate::chance::Chance;
use pentally_domain::envelope::Order;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, DeviceId, EntryId, FarmId, PersonId};
use pentally_domain::sync::Beside;
use pentally_domain::time::{MINUTE_MS, Zone};
use pentally_domain::writer::{Head, Moment};

/// Who writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The browser in the office.
    Office,
    /// The tablet at the bench.
    Laboratory,
    /// A phone in the barn, counted from 0.
    Phone(usize),
}

impl Place {
    const fn index(self) -> usize {
        match self {
            Self::Office => 0,
            Self::Laboratory => 1,
            Self::Phone(n) => 2 + n,
        }
    }
}

/// When, and by whom.
#[derive(Debug, Clone, Copy)]
pub struct When {
    /// The true time of writing (ms since 1970).
    pub ms: i64,
    /// The true time of the happening, where it was written down later.
    pub happened_ms: Option<i64>,
    /// The person picked.
    pub person: Option<PersonId>,
}

/// All devices, and what they wrote that has not been told yet.
#[derive(Debug)]
pub struct Devices {
    desks: Vec<Desk>,
    born_ms: i64,
    zone: Zone,
    until_ms: i64,
    told: u64,
    out: Vec<(i64, Told)>,
}

#[derive(Debug)]
struct Desk {
    head: Head,
    last_ms: i64,
    wrong_by_ms: i64,
    /// What an offline device keeps to itself.
    keeps: Option<Vec<Told>>,
}

impl When {
    /// Written as it happened.
    pub const fn now(ms: i64, person: Option<PersonId>) -> Self {
        Self {
            ms,
            happened_ms: None,
            person,
        }
    }
}

impl Devices {
    /// Devices with so many phones that have written nothing; what they write after `until_ms`
    /// is not told.
    pub fn new(
        phones: usize,
        zone: Zone,
        (born_ms, until_ms): (i64, i64),
        chance: &mut Chance,
    ) -> Self {
        let farm = FarmId::v7(born_ms, chance.ten());
        let barn = BarnId::v7(born_ms, chance.ten());
        let head = |chance: &mut Chance| Head::new(farm, barn, DeviceId::v7(born_ms, chance.ten()));
        let desks = (0..2 + phones).map(|_| Desk {
            head: head(chance),
            last_ms: born_ms,
            wrong_by_ms: 0,
            keeps: None,
        });
        Self {
            desks: desks.collect(),
            born_ms,
            zone,
            until_ms,
            told: 0,
            out: vec![],
        }
    }

    /// How many phones there are.
    pub fn phones(&self) -> usize {
        self.desks.len() - 2
    }

    /// When the story begins (ms since 1970).
    pub const fn born_ms(&self) -> i64 {
        self.born_ms
    }

    /// The farm's zone.
    pub const fn zone(&self) -> &Zone {
        &self.zone
    }

    /// Whether a device keeps what it writes to itself.
    pub fn is_offline(&self, place: Place) -> bool {
        self.desks
            .get(place.index())
            .is_some_and(|d| d.keeps.is_some())
    }

    /// Writes a fact.
    pub fn say(
        &mut self,
        place: Place,
        fact: &Fact,
        when: When,
        chance: &mut Chance,
    ) -> Result<Order, TaleError> {
        self.write(
            place,
            (fact.kind().name(), fact.version(), fact.body()),
            when,
            chance,
        )
    }

    /// Writes a fact that has a text beside the log, such as a person's name.
    pub fn say_named(
        &mut self,
        fact: &Fact,
        when: When,
        text: &str,
        chance: &mut Chance,
    ) -> Result<EntryId, TaleError> {
        let order = self.say(Place::Office, fact, when, chance)?;
        if let Some((_, told)) = self.out.last_mut() {
            told.beside = Some(Beside {
                entry: order.id,
                text: Some(text.to_owned()),
                set_at_ms: when.ms,
            });
        }
        Ok(order.id)
    }

    /// Writes a body of a kind by its name and version.
    pub fn write(
        &mut self,
        place: Place,
        (kind, version, body): (&str, u16, String),
        when: When,
        chance: &mut Chance,
    ) -> Result<Order, TaleError> {
        let zone = &self.zone;
        let Some(desk) = self.desks.get_mut(place.index()) else {
            return Err(TaleError::NoDevice);
        };
        // Nobody writes two entries in the same instant, or one before the last.
        let ms = when.ms.max(desk.last_ms + 700);
        desk.last_ms = ms;
        let stamp = |ms: i64| zone.stamp(ms + desk.wrong_by_ms);
        let now = stamp(ms)?;
        let occurred_at = stamp(when.happened_ms.unwrap_or(ms).min(ms))?;
        let moment = Moment {
            now,
            occurred_at,
            random: chance.ten(),
            person: when.person,
        };
        let (entry, next) = desk.head.write_raw(kind, version, body, moment)?;
        desk.head = next;
        let order = entry.order();
        if ms <= self.until_ms {
            let told = Told {
                entry,
                beside: None,
            };
            match &mut desk.keeps {
                Some(keeps) => keeps.push(told),
                None => self.out.push((ms, told)),
            }
        }
        Ok(order)
    }

    /// From now on the device keeps to itself what it writes.
    pub fn go_offline(&mut self, place: Place) {
        if let Some(desk) = self.desks.get_mut(place.index()) {
            desk.keeps.get_or_insert_with(Vec::new);
        }
    }

    /// What the device kept arrives in one go.
    pub fn come_back(&mut self, place: Place, ms: i64) {
        let kept = self
            .desks
            .get_mut(place.index())
            .and_then(|d| d.keeps.take())
            .unwrap_or_default();
        if ms <= self.until_ms {
            self.out.extend(kept.into_iter().map(|told| (ms, told)));
        }
    }

    /// The device's clock goes wrong by so much; 0 sets it right.
    pub fn set_wrong(&mut self, place: Place, by_ms: i64) {
        if let Some(desk) = self.desks.get_mut(place.index()) {
            desk.wrong_by_ms = by_ms;
        }
    }

    /// The evening: what was written arrives, and whoever has a network hears of the others.
    pub fn evening(&mut self) -> Vec<Told> {
        let mut day = std::mem::take(&mut self.out);
        // Stable, and each device's own times rise: the threads stay in order.
        day.sort_by_key(|(ms, _)| *ms);
        self.told += day.len() as u64;
        let online = || self.desks.iter().filter(|d| d.keeps.is_none());
        let clocks: Vec<_> = online().map(|d| d.head.clock).collect();
        for desk in self.desks.iter_mut().filter(|d| d.keeps.is_none()) {
            let now_ms = desk.last_ms + MINUTE_MS;
            desk.head.clock = clocks
                .iter()
                .fold(desk.head.clock, |own, other| own.witness(*other, now_ms));
            desk.head.seen = self.told;
        }
        day.into_iter().map(|(_, told)| told).collect()
    }
}
