//! The farm's year: its clock, its seasons and its hot spells.

use crate::chance::{Chance, along};
use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, Weekday};
use pentally_domain::time::{DAY_MS, Shift, Zone};

/// The zone of the invented farm.
pub const ZONE: &str = "Europe/Madrid";

/// Its changes of clock in these years: on the last Sundays of March and of October at 01:00 UTC
/// (IANA tz database, rule EU), to 2 h and back to 1 h ahead of UTC.
pub fn zone(from_year: i32, to_year: i32) -> Zone {
    let mut shifts = vec![];
    for year in from_year..=to_year {
        shifts.extend(last_sunday(year, 3).map(|from_ms| Shift {
            from_ms,
            offset_min: 120,
        }));
        shifts.extend(last_sunday(year, 10).map(|from_ms| Shift {
            from_ms,
            offset_min: 60,
        }));
    }
    // Before the first change in March winter time held.
    let winter = Shift {
        from_ms: shifts
            .first()
            .map_or(0, |s: &Shift| s.from_ms - 150 * DAY_MS),
        offset_min: 60,
    };
    shifts.insert(0, winter);
    Zone {
        name: ZONE.to_owned(),
        shifts,
    }
}

/// 01:00 UTC on the last Sunday of a month of 31 days, in ms since 1970.
fn last_sunday(year: i32, month: u32) -> Option<i64> {
    let last = NaiveDate::from_ymd_opt(year, month, 31)?;
    let back = last.weekday().num_days_from_sunday();
    let sunday = last.checked_sub_days(Days::new(back.into()))?;
    Some(
        sunday
            .and_time(NaiveTime::from_hms_opt(1, 0, 0)?)
            .and_utc()
            .timestamp_millis(),
    )
}

/// The hot days of the whole story.
#[derive(Debug, Clone)]
pub struct Weather {
    first: NaiveDate,
    hot: Vec<bool>,
}

impl Weather {
    /// From `first` on for so many days: each summer one or two spells of 6 to 11 hot days.
    pub fn new(first: NaiveDate, days: usize, chance: &mut Chance) -> Self {
        let mut weather = Self {
            first,
            hot: vec![false; days],
        };
        for year in first.year()..=first.year() + i32::try_from(days / 365 + 1).unwrap_or(0) {
            for _ in 0..chance.whole(1, 2) {
                let begins = NaiveDate::from_yo_opt(
                    year,
                    u32::try_from(chance.whole(170, 225)).unwrap_or(180),
                );
                let days = chance.whole(6, 11);
                begins.iter().for_each(|day| weather.heat(*day, days));
            }
        }
        weather
    }

    fn heat(&mut self, day: NaiveDate, days: i64) {
        let from = (day - self.first).num_days();
        for index in from..from + days {
            if let Some(hot) = usize::try_from(index)
                .ok()
                .and_then(|i| self.hot.get_mut(i))
            {
                *hot = true;
            }
        }
    }

    /// Whether a day is hot.
    pub fn is_hot(&self, day: NaiveDate) -> bool {
        usize::try_from((day - self.first).num_days())
            .ok()
            .and_then(|i| self.hot.get(i))
            .copied()
            .unwrap_or(false)
    }

    /// What hot days did to the semen of a day, from 0 to 1. Fewer than 4 hot days are tolerated
    /// (trials at 33–38 °C).
    pub fn harm(&self, day: NaiveDate) -> f64 {
        let now = (day - self.first).num_days();
        let from = usize::try_from(now - 45).unwrap_or(0);
        let until = usize::try_from(now).unwrap_or(0).min(self.hot.len());
        let past = self.hot.get(from..until).unwrap_or(&[]);
        let load: f64 = past
            .iter()
            .zip(from..)
            .filter(|(hot, _)| **hot)
            .map(|(_, i)| after_harm(days(now, i)))
            .sum();
        ((load - 3.0) / 5.0).clamp(0.0, 1.0)
    }

    /// Total sperm by season: lowest in summer (Czech data; sources conflict by place).
    pub fn season(day: NaiveDate) -> f64 {
        along(
            f64::from(day.ordinal()),
            &[
                (0.0, 1.04),
                (90.0, 1.02),
                (200.0, 0.9),
                (290.0, 0.98),
                (365.0, 1.04),
            ],
        )
    }
}

/// How much a day of fever or heat shows so many days later: most at 2–3 weeks, over by week 6.
pub fn after_harm(days: f64) -> f64 {
    along(
        days,
        &[
            (9.0, 0.0),
            (14.0, 1.0),
            (21.0, 1.0),
            (36.0, 0.15),
            (42.0, 0.0),
        ],
    )
}

/// Whether people collect on that day: not on Sundays.
pub fn is_working(day: NaiveDate) -> bool {
    day.weekday() != Weekday::Sun
}

/// The day of an instant that is known to be within chrono's years.
pub fn utc_day(ms: i64) -> NaiveDate {
    DateTime::from_timestamp_millis(ms)
        .unwrap_or_default()
        .date_naive()
}

fn days(now: i64, index: usize) -> f64 {
    (now - i64::try_from(index).unwrap_or(0)) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: IANA tz database, rule EU; in 2026 the clocks change on 29 March and 25 October.
    #[test]
    fn the_clock_changes_as_the_eu_changes_it() {
        let zone = zone(2026, 2026);
        let read: Vec<_> = zone
            .shifts
            .iter()
            .skip(1)
            .map(|s| (s.from_ms, s.offset_min))
            .collect();
        assert_eq!(read, [(1_774_746_000_000, 120), (1_792_890_000_000, 60)]);
        assert_eq!(zone.offset_min_at(1_767_225_600_000), 60);
    }

    #[test]
    fn a_hot_spell_shows_two_weeks_later_and_is_over_after_six() {
        let first = NaiveDate::from_ymd_opt(2025, 6, 1).unwrap();
        let mut weather = Weather {
            first,
            hot: vec![false; 120],
        };
        weather.heat(first + Days::new(20), 9);
        let harm = |day: u64| weather.harm(first + Days::new(day));
        assert!(harm(28) < 0.01, "{}", harm(28));
        assert!(harm(42) > 0.9, "{}", harm(42));
        assert!(harm(72) < 0.01, "{}", harm(72));
    }

    #[test]
    fn three_hot_days_do_no_harm() {
        let first = NaiveDate::from_ymd_opt(2025, 6, 1).unwrap();
        let mut weather = Weather {
            first,
            hot: vec![false; 120],
        };
        weather.heat(first + Days::new(20), 3);
        assert!((0..100).all(|day| weather.harm(first + Days::new(day)) < 0.01));
    }
}
