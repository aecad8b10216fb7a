//! A farm day's climate, room by room: extremes, hot hours, and whether the day was hot.

use super::carried::with_carried;
use super::{Climate, Reading};
use crate::barn::{Barn, Seen};
use crate::envelope::Order;
use crate::fact::Fact;
use crate::farm::Standard;
use crate::said::Label;
use crate::time::{MINUTE_MS, Zone};
use crate::units::TemperatureC;
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// A reading stands for at most so many minutes before and after it (common practice, no source).
pub const REACH_MINUTES: u16 = 90;
/// A day with no more readings than this was read by hand (common practice, no source: nobody goes
/// to the thermometer more often).
pub const HAND_READINGS: usize = 4;
/// The warm part of a day, in minutes since it began: noon to six in the afternoon. A day without
/// a reading in it may have been hot unseen (common practice, no source).
pub const WARM_PART: RangeInclusive<u16> = 720..=1_080;

/// All that is known of one room on one farm day.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomReadings {
    /// The room, as last written.
    pub room: Label,
    /// The farm's day.
    pub day: NaiveDate,
    /// The readings of all entries, ascending, one a minute.
    pub readings: Vec<Reading>,
    /// The latest entry among them.
    pub latest: Order,
}

/// One room on one farm day.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomDay {
    /// The room.
    pub room: Label,
    /// The farm's day.
    pub day: NaiveDate,
    /// The readings, ascending.
    pub readings: Vec<Reading>,
    /// The coolest.
    pub lowest: TemperatureC,
    /// The warmest.
    pub highest: TemperatureC,
    /// The highest temperature-humidity index; none while humidity was never read.
    pub highest_thi: Option<f64>,
    /// Hours that a reading stands for.
    pub hours_known: f64,
    /// Hours that a hot reading stands for.
    pub hours_hot: f64,
    /// Whether it was hot.
    pub heat: Heat,
}

/// Whether a room was hot on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heat {
    /// It was.
    Hot,
    /// It was not.
    NotHot,
    /// Too little was read to tell.
    Unknown,
}

/// One farm day over all rooms that were read.
#[derive(Debug, Clone, PartialEq)]
pub struct FarmDay {
    /// The farm's day.
    pub day: NaiveDate,
    /// The rooms, by name.
    pub rooms: Vec<RoomDay>,
    /// The share of rooms that were hot, 0 to 1, among those of which it is known; none where it
    /// is known of none. Which room a boar stood in is not recorded, so the share is what a boar
    /// went through on average: "any room" would have all boars suffer for one.
    pub hot: Option<f64>,
}

/// The farm days of which anything was read, ascending, from entries in any order.
pub fn days<'a>(
    facts: impl IntoIterator<Item = (Order, &'a Climate)>,
    standard: &Standard,
    zone: &Zone,
) -> Vec<FarmDay> {
    let mut days: BTreeMap<NaiveDate, Vec<RoomDay>> = BTreeMap::new();
    for known in merged(facts) {
        let day = known.day;
        days.entry(day)
            .or_default()
            .extend(RoomDay::of(known, standard, zone));
    }
    days.into_iter()
        .map(|(day, rooms)| FarmDay {
            day,
            hot: share_hot(&rooms),
            rooms,
        })
        .collect()
}

/// The farm days of which the barn holds anything, under the standard and in the zone of now (ms
/// since 1970); not days that lie ahead, by a clock that is wrong. Days that fell out of its ledger
/// are as hot as its fit says ([`super::carried()`]), and have no rooms.
pub fn days_of(barn: &Barn, now_ms: i64) -> Vec<FarmDay> {
    let facts = entries_of(barn);
    let zone = barn.zone_at(now_ms);
    let today = zone.day(now_ms);
    let seen = facts.iter().map(|f| (f.order, &f.fact));
    let past = seen.filter(|(_, climate)| climate.day <= today);
    let held = days(past, &barn.standard().standard, &zone);
    with_carried(held, barn, &zone)
}

/// What the barn holds of entries about the climate, as they hold now.
pub fn entries_of(barn: &Barn) -> Vec<Seen<Climate>> {
    barn.farm_facts(|fact| match fact {
        Fact::Climate(climate) => Some(climate),
        _ => None,
    })
}

/// Entries of the same room and day in one, by day and room. Readings at different minutes add up;
/// at the same minute the later entry holds. Case does not tell rooms apart.
pub fn merged<'a>(facts: impl IntoIterator<Item = (Order, &'a Climate)>) -> Vec<RoomReadings> {
    let mut facts: Vec<_> = facts.into_iter().collect();
    facts.sort_by_key(|(order, _)| *order);
    let mut rooms: BTreeMap<(NaiveDate, String), RoomReadings> = BTreeMap::new();
    for (order, climate) in facts {
        let key = (climate.day, climate.room.folded());
        let known = rooms.entry(key).or_insert_with(|| RoomReadings {
            room: climate.room.clone(),
            day: climate.day,
            readings: vec![],
            latest: order,
        });
        known.take(order, climate);
    }
    rooms.into_values().collect()
}

impl RoomReadings {
    fn take(&mut self, order: Order, later: &Climate) {
        self.room.clone_from(&later.room);
        self.latest = order;
        for reading in &later.readings {
            let place = self.readings.partition_point(|r| r.minute < reading.minute);
            match self.readings.get_mut(place) {
                Some(held) if held.minute == reading.minute => *held = *reading,
                _ => self.readings.insert(place, *reading),
            }
        }
    }
}

impl RoomDay {
    /// None without a reading.
    fn of(known: RoomReadings, standard: &Standard, zone: &Zone) -> Option<Self> {
        let readings = known.readings;
        let by_warmth = |a: &TemperatureC, b: &TemperatureC| a.value().total_cmp(&b.value());
        let lowest = readings.iter().map(|r| r.air).min_by(by_warmth)?;
        let highest = readings.iter().map(|r| r.air).max_by(by_warmth)?;
        let highest_thi = readings
            .iter()
            .filter_map(Reading::thi)
            .max_by(f64::total_cmp);
        let length = length_minutes(known.day, zone);
        let stands = stand_for(&readings, length);
        let minutes_known: f64 = stands.iter().sum();
        let minutes_hot = readings
            .iter()
            .zip(&stands)
            .filter(|(r, _)| r.is_hot(standard))
            .map(|(_, minutes)| minutes)
            .sum::<f64>();
        let counted = Counted {
            hot: minutes_hot,
            unknown: (length - minutes_known).max(0.0),
        };
        Some(Self {
            heat: counted.heat(&readings, standard),
            room: known.room,
            day: known.day,
            lowest,
            highest,
            highest_thi,
            hours_known: minutes_known / 60.0,
            hours_hot: minutes_hot / 60.0,
            readings,
        })
    }
}

/// Minutes of a day.
struct Counted {
    hot: f64,
    unknown: f64,
}

impl Counted {
    /// By the hours where they were counted. A thermometer read once or twice stands for three
    /// hours or six and would never reach the hours that make a hot day, so on a day read by hand
    /// one hot reading is enough (common practice, no source). What nobody read is not cool: the
    /// day is known not to be hot only if somebody looked in its warm part and the hours missing
    /// could not make it hot.
    fn heat(&self, readings: &[Reading], standard: &Standard) -> Heat {
        let needed = f64::from(standard.hot_hours) * 60.0;
        let any_hot = readings.iter().any(|r| r.is_hot(standard));
        let by_hand = readings.len() <= HAND_READINGS;
        let looked = readings.iter().any(|r| WARM_PART.contains(&r.minute));
        if any_hot && (by_hand || self.hot >= needed) {
            Heat::Hot
        } else if any_hot && self.hot + self.unknown >= needed {
            Heat::Unknown
        } else if looked {
            Heat::NotHot
        } else {
            Heat::Unknown
        }
    }
}

/// For how many minutes each reading stands: half way to its neighbours, [`REACH_MINUTES`] at most
/// to either side, and not beyond the day.
fn stand_for(readings: &[Reading], length: f64) -> Vec<f64> {
    let reach = f64::from(REACH_MINUTES);
    let at = |i: usize| readings.get(i).map(|r| f64::from(r.minute));
    let one = |(i, reading): (usize, &Reading)| {
        let minute = f64::from(reading.minute);
        let before = i.checked_sub(1).and_then(at);
        let from = before.map_or(0.0, |b| (b + minute) / 2.0);
        let to = at(i + 1).map_or(length, |after| (minute + after) / 2.0);
        (to.min(minute + reach).min(length) - from.max(minute - reach)).max(0.0)
    };
    readings.iter().enumerate().map(one).collect()
}

/// A day has 23 or 25 hours where the clock is changed.
fn length_minutes(day: NaiveDate, zone: &Zone) -> f64 {
    let minutes = |next| (zone.day_start_ms(next) - zone.day_start_ms(day)) / MINUTE_MS;
    // The last day of the calendar, which only a spoilt entry names, has no next one.
    day.succ_opt()
        .map_or(24.0 * 60.0, |next| minutes(next) as f64)
}

fn share_hot(rooms: &[RoomDay]) -> Option<f64> {
    let known: Vec<_> = rooms.iter().filter(|r| r.heat != Heat::Unknown).collect();
    let hot = known.iter().filter(|r| r.heat == Heat::Hot).count();
    (!known.is_empty()).then(|| hot as f64 / known.len() as f64)
}

#[cfg(test)]
mod tests;
