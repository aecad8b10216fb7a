//! What hot days do weeks later. Sperm that were being made on a hot day are collected when that
//! is over: spermatogenesis takes 34–40 days and the way through the epididymis 10–13; quality
//! falls two to three weeks after a hot spell and is back by week five or six (trials at 33–38 °C).
//! Sources conflict on the end: in print stand six to seven weeks as well (Virginia Cooperative
//! Extension, Livestock Update, which has the same two weeks before it shows).

use super::Reading;
use super::day::FarmDay;
use crate::farm::Standard;
use crate::said::Label;
use chrono::{Days, NaiveDate};

/// A hot day begins to show in what is collected after so many days.
pub const SHOWS_AFTER_DAYS: u64 = 14;
/// It shows until so many days after it.
pub const LASTS_DAYS: u64 = 42;
/// Fewer hot days than this are tolerated (trials at 33–38 °C).
pub const TOLERATED_UNDER: f64 = 4.0;
/// More hot days than this are not tolerated (the same trials).
pub const TOLERATED_TO: f64 = 7.0;

/// A single day that was not hot does not end a spell.
const BRIDGED_DAYS: i64 = 2;
/// What thirds and sevenths of days may lose when they are added up.
const HAIR: f64 = 1e-9;

/// What a number of hot days asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Under four: nothing is expected.
    Tolerated,
    /// From four to seven: lower quality is possible.
    Attention,
    /// Over seven: lower quality is expected.
    Expected,
}

/// The hot days that work on one collection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// The first day that counts, 42 days before.
    pub from: NaiveDate,
    /// The last, 14 days before.
    pub to: NaiveDate,
    /// Hot days among them, each by the share of rooms that were hot.
    pub hot_days: f64,
    /// Of how many of those 29 days it is known. The others may have been hot as well.
    pub days_known: usize,
    /// What it asks for, as far as known.
    pub level: Level,
}

/// A run of hot days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spell {
    /// Its first hot day.
    pub first: NaiveDate,
    /// Its last, so far.
    pub last: NaiveDate,
    /// Hot days in it, each by the share of rooms that were hot.
    pub hot_days: f64,
    /// Whether that is above what is tolerated.
    pub level: Level,
    /// Lower quality is to be expected from this day, 14 days after the first …
    pub lower_from: NaiveDate,
    /// … to this one, 42 days after the last.
    pub lower_to: NaiveDate,
}

/// A time of lower quality.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Expectation {
    /// Its first day.
    pub from: NaiveDate,
    /// Its last.
    pub to: NaiveDate,
    /// What the hot days behind it ask for, at the most.
    pub level: Level,
    /// Whether it is here.
    pub when: When,
}

/// Where today stands to a time of lower quality.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// It began and is not over.
    Open,
    /// It lies ahead.
    Coming,
}

/// A room that wants cooling today.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooling {
    /// The room.
    pub room: Label,
    /// Its latest hot reading of today.
    pub reading: Reading,
}

impl Spell {
    /// Whether lower quality of it alone is here or ahead on that day.
    pub fn is_expected(&self, today: NaiveDate) -> bool {
        self.level > Level::Tolerated && self.lower_to >= today
    }
}

impl Level {
    /// The level of so many hot days.
    pub fn of(hot_days: f64) -> Self {
        if hot_days > TOLERATED_TO + HAIR {
            Self::Expected
        } else if hot_days >= TOLERATED_UNDER - HAIR {
            Self::Attention
        } else {
            Self::Tolerated
        }
    }
}

/// The heat that works on what is collected on that day. `days` are ascending, as [`super::days`]
/// yields them.
pub fn load(days: &[FarmDay], collected: NaiveDate) -> Load {
    let before = |days| {
        let day = collected.checked_sub_days(Days::new(days));
        day.unwrap_or(NaiveDate::MIN)
    };
    let (from, to) = (before(LASTS_DAYS), before(SHOWS_AFTER_DAYS));
    let first = days.partition_point(|d| d.day < from);
    let known = days.iter().skip(first).take_while(|d| d.day <= to);
    let shares: Vec<f64> = known.filter_map(|d| d.hot).collect();
    let hot_days = shares.iter().sum();
    Load {
        from,
        to,
        hot_days,
        days_known: shares.len(),
        level: Level::of(hot_days),
    }
}

/// The runs of hot days, ascending. A day is in a run if any room was hot on it and counts by the
/// share of rooms that were; a single day between that was not hot, or is not known, ends no run.
/// `days` are ascending, as [`super::days`] yields them.
pub fn spells(days: &[FarmDay]) -> Vec<Spell> {
    let hot = days
        .iter()
        .filter_map(|d| Some((d.day, d.hot.filter(|hot| *hot > 0.0)?)));
    let mut runs: Vec<(NaiveDate, NaiveDate, f64)> = vec![];
    for (day, share) in hot {
        match runs.last_mut() {
            Some((_, last, sum)) if (day - *last).num_days() <= BRIDGED_DAYS => {
                *last = day;
                *sum += share;
            }
            _ => runs.push((day, day, share)),
        }
    }
    let spell = |(first, last, hot_days)| Spell {
        first,
        last,
        hot_days,
        level: Level::of(hot_days),
        lower_from: after(first, SHOWS_AFTER_DAYS),
        lower_to: after(last, LASTS_DAYS),
    };
    runs.into_iter().map(spell).collect()
}

/// The times of lower quality that are here or ahead on that day, ascending; those that meet are
/// one. They are those of spells above what is tolerated, and the days whose [`load()`] is, by
/// spells that were each too short to be feared.
pub fn expectation(days: &[FarmDay], today: NaiveDate) -> Vec<Expectation> {
    let past = days.partition_point(|d| d.day <= today);
    let days = days.get(..past).unwrap_or_default();
    let spells = spells(days);
    let of_spells = spells.iter().map(|s| (s.lower_from, s.lower_to, s.level));
    let mut times: Vec<_> = of_spells.chain(of_loads(days, &spells)).collect();
    times.retain(|(.., level)| *level > Level::Tolerated);
    times.sort_unstable_by_key(|(from, ..)| *from);
    let mut met: Vec<(NaiveDate, NaiveDate, Level)> = vec![];
    for (from, to, level) in times {
        match met.last_mut() {
            Some((_, last, most)) if from <= after(*last, 1) => {
                *last = to.max(*last);
                *most = level.max(*most);
            }
            _ => met.push((from, to, level)),
        }
    }
    met.retain(|(_, to, _)| *to >= today);
    let expected = |(from, to, level)| Expectation {
        from,
        to,
        level,
        when: if from <= today {
            When::Open
        } else {
            When::Coming
        },
    };
    met.into_iter().map(expected).collect()
}

/// Each day on which a spell may still show, with the level of its load.
fn of_loads(
    days: &[FarmDay],
    spells: &[Spell],
) -> impl Iterator<Item = (NaiveDate, NaiveDate, Level)> {
    let reach = spells.first().zip(spells.last());
    let reach = reach.map(|(first, last)| (first.lower_from, last.lower_to));
    let reach = reach.into_iter();
    let each = reach.flat_map(|(from, to)| from.iter_days().take_while(move |day| *day <= to));
    each.map(|day| (day, day, load(days, day).level))
}

/// From which day to which lower quality is to be expected: the first of these times.
pub fn lower_quality(expected: &[Expectation]) -> Option<(NaiveDate, NaiveDate)> {
    expected.first().map(|first| (first.from, first.to))
}

fn after(day: NaiveDate, days: u64) -> NaiveDate {
    let day = day.checked_add_days(Days::new(days));
    day.unwrap_or(NaiveDate::MAX)
}

/// The rooms with a hot reading today: time to cool them.
pub fn cooling_due(days: &[FarmDay], today: NaiveDate, standard: &Standard) -> Vec<Cooling> {
    let rooms = days
        .iter()
        .filter(|d| d.day == today)
        .flat_map(|d| &d.rooms);
    let due = |room: &super::RoomDay| {
        let hot = room.readings.iter().rev().find(|r| r.is_hot(standard));
        hot.map(|reading| Cooling {
            room: room.room.clone(),
            reading: *reading,
        })
    };
    rooms.filter_map(due).collect()
}

#[cfg(test)]
mod tests;
