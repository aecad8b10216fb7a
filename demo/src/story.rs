//! The story: one day after the other.

use crate::boar::Boar;
use crate::chance::Chance;
use crate::climate::CLIMATE_SEED;
use crate::devices::{Devices, Place};
use crate::evening::Slip;
use crate::filling::Table;
use crate::herd::Coming;
use crate::laboratory::{LABORATORY_SEED, Laboratory};
use crate::sows::{Again, Fresh, Mother};
use crate::year::{Weather, utc_day, zone};
use crate::{Plan, TaleError, Told};
use chrono::{Datelike, Days, NaiveDate};
use pentally_domain::barn::Holding;
use pentally_domain::code::Code;
use pentally_domain::id::{PenId, PersonId};
use pentally_domain::time::{DAY_MS, HOUR_MS, MINUTE_MS};
use std::collections::{BTreeSet, VecDeque};

/// Tells the filling table's chance from the barn's.
const TABLE_SEED: u64 = 0x7ab1_e000_0000_0000;
/// And the young boars' from both.
const TRAINING_SEED: u64 = 0x7ea1_4000_0000_0000;

/// Yields what a plan tells; ends after an error.
#[derive(Debug)]
pub struct Story {
    pub(crate) chance: Chance,
    pub(crate) devices: Devices,
    pub(crate) weather: Weather,
    pub(crate) people: Vec<PersonId>,
    pub(crate) boars: Vec<Boar>,
    pub(crate) coming: Vec<Coming>,
    pub(crate) young: Vec<Boar>,
    pub(crate) isolation: Option<PenId>,
    pub(crate) sows: Vec<Mother>,
    pub(crate) fresh: Vec<Fresh>,
    pub(crate) slips: Vec<Slip>,
    pub(crate) standard: Holding,
    /// A stream of its own, so that what is filled and used changes nothing else of the story.
    pub(crate) table_chance: Chance,
    pub(crate) table: Table,
    /// The young's, for the same reason.
    pub(crate) training_chance: Chance,
    /// The thermometer's, for the same reason.
    pub(crate) climate_chance: Chance,
    /// The laboratory's, for the same reason.
    pub(crate) laboratory_chance: Chance,
    pub(crate) laboratory: Laboratory,
    /// How often the newcomer worked under another's eyes.
    pub(crate) taught: u16,
    pub(crate) again: Vec<Again>,
    pub(crate) pen_codes: BTreeSet<Code>,
    pub(crate) day: NaiveDate,
    pub(crate) day_ms: i64,
    pub(crate) next_boar: u32,
    pub(crate) next_sow: u32,
    pub(crate) next_code: u32,
    pub(crate) plan: Plan,
    first: NaiveDate,
    pub(crate) last: NaiveDate,
    ready: VecDeque<Told>,
    founded: bool,
    failed: bool,
}

impl Story {
    pub(crate) fn new(plan: Plan) -> Self {
        let mut chance = Chance::new(plan.seed);
        let last = utc_day(plan.until_ms) + Days::new(1);
        let first = last - Days::new(u64::from(plan.years) * 365);
        // The years beyond the story's end let a running demo go on.
        let zone = zone(first.year() - 1, last.year() + 20);
        let born_ms = zone.day_start_ms(first) + 5 * HOUR_MS;
        let phones = 2 + usize::try_from(plan.boars / 150).unwrap_or(0);
        let days = usize::try_from((last - first).num_days()).unwrap_or(0) + 1;
        Self {
            weather: Weather::new(first, days, &mut chance),
            devices: Devices::new(phones, zone, (born_ms, plan.until_ms), &mut chance),
            people: vec![],
            boars: vec![],
            coming: vec![],
            young: vec![],
            isolation: None,
            sows: vec![],
            fresh: vec![],
            slips: vec![],
            standard: Holding::default(),
            table_chance: Chance::new(plan.seed ^ TABLE_SEED),
            table: Table::default(),
            training_chance: Chance::new(plan.seed ^ TRAINING_SEED),
            climate_chance: Chance::new(plan.seed ^ CLIMATE_SEED),
            laboratory_chance: Chance::new(plan.seed ^ LABORATORY_SEED),
            laboratory: Laboratory::default(),
            taught: 0,
            again: vec![],
            pen_codes: BTreeSet::new(),
            day: first,
            day_ms: 0,
            next_boar: 101,
            next_sow: 1_001,
            next_code: u32::try_from(chance.whole(10_000, 60_000)).unwrap_or(10_000),
            plan,
            first,
            last,
            ready: VecDeque::new(),
            founded: false,
            failed: false,
            chance,
        }
    }

    /// The instant (ms since 1970) at that many minutes after midnight today.
    pub(crate) const fn at(&self, minutes: i64) -> i64 {
        self.day_ms + minutes * MINUTE_MS
    }

    /// A person of the barn.
    pub(crate) fn somebody(&mut self) -> Option<PersonId> {
        self.chance.one(&self.people).copied()
    }

    /// Days since the story began, and days until it ends.
    pub(crate) fn place_in_story(&self) -> (i64, i64) {
        (
            (self.day - self.first).num_days(),
            (self.last - self.day).num_days(),
        )
    }

    /// What the plan's chance begins from.
    pub(crate) const fn seed(&self) -> u64 {
        self.plan.seed
    }

    fn tell_day(&mut self) -> Result<(), TaleError> {
        self.day_ms = self.devices.zone().day_start_ms(self.day);
        if !self.founded {
            self.found()?;
            self.founded = true;
        }
        self.trouble_with_phones();
        self.mind_the_herd()?;
        self.read_the_climate()?;
        self.look_after_today()?;
        self.prepare_the_laboratory()?;
        self.collect_today()?;
        self.mind_the_sows()?;
        self.train_today()?;
        self.close_the_day()?;
        let told = self.devices.evening();
        self.ready.extend(told);
        self.day = self.day + Days::new(1);
        Ok(())
    }

    /// A phone without network for a week, twice a year; a phone whose battery died and whose
    /// clock restarts 400 days back, for a day, once a year.
    fn trouble_with_phones(&mut self) {
        let (since, left) = self.place_in_story();
        let last_phone = Place::Phone(self.devices.phones() - 1);
        match since % 180 {
            70 => self.devices.go_offline(last_phone),
            77 => self.devices.come_back(last_phone, self.at(5 * 60)),
            _ => {}
        }
        // Nothing is still on its way when the story ends, but for today.
        if left == 1 {
            self.devices.come_back(last_phone, self.at(5 * 60));
        }
        match since % 365 {
            150 => self.devices.set_wrong(Place::Phone(0), -400 * DAY_MS),
            151 => self.devices.set_wrong(Place::Phone(0), 0),
            _ => {}
        }
    }
}

impl Iterator for Story {
    type Item = Result<Told, TaleError>;

    fn next(&mut self) -> Option<Self::Item> {
        while self.ready.is_empty() && !self.failed && self.day <= self.last {
            if let Err(error) = self.tell_day() {
                self.failed = true;
                return Some(Err(error));
            }
        }
        self.ready.pop_front().map(Ok)
    }
}
