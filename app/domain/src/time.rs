//! Instants, the hybrid clock and the farm's own days.
//!
//! A [`Stamp`] keeps the instant and the local offset at which it was taken.
//! The offset is evidence of what the device believed; which *day* an instant
//! belongs to is the farm's to say, through its [`Zone`].

use chrono::{DateTime, FixedOffset, NaiveDate, SecondsFormat};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// Milliseconds in a minute, an hour and a day of 24 hours.
pub const MINUTE_MS: i64 = 60_000;
/// See [`MINUTE_MS`].
pub const HOUR_MS: i64 = 60 * MINUTE_MS;
/// See [`MINUTE_MS`].
pub const DAY_MS: i64 = 24 * HOUR_MS;

/// Why a time could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TimeError {
    /// Not the one form that is stored.
    #[error("'{read}' is not a time in the stored form, such as 2026-03-01T06:05:00.000+01:00")]
    Form {
        /// What was read.
        read: String,
    },
    /// Outside what can be written.
    #[error("{ms} ms with offset {offset_min} min lies outside the years 0000 to 9999 or ±14 h")]
    Range {
        /// Milliseconds since 1970.
        ms: i64,
        /// Minutes east of UTC.
        offset_min: i16,
    },
}

/// An instant (ms since 1970, UTC) and the local offset (minutes east) where it was taken.
/// Written in JSON as RFC 3339 with milliseconds and a numeric offset, and in no other form,
/// so that text and bytes say the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stamp {
    ms: i64,
    offset_min: i16,
}

impl Stamp {
    /// An instant with its local offset; refuses what RFC 3339 cannot write.
    pub fn new(ms: i64, offset_min: i16) -> Result<Self, TimeError> {
        let stamp = Self { ms, offset_min };
        let written = stamp.local().map(|t| chrono::Datelike::year(&t));
        match written {
            Some(0..=9999) if offset_min.abs() <= 14 * 60 => Ok(stamp),
            _ => Err(TimeError::Range { ms, offset_min }),
        }
    }

    /// Milliseconds since 1970, UTC.
    pub const fn ms(self) -> i64 {
        self.ms
    }

    /// Minutes east of UTC, as the device believed.
    pub const fn offset_min(self) -> i16 {
        self.offset_min
    }

    /// Reads the stored form; any other spelling of the same instant is refused.
    pub fn parse(text: &str) -> Result<Self, TimeError> {
        let bad = || TimeError::Form {
            read: text.to_owned(),
        };
        let time = DateTime::parse_from_rfc3339(text).map_err(|_| bad())?;
        let offset_min = i16::try_from(time.offset().local_minus_utc() / 60).map_err(|_| bad())?;
        let stamp = Self::new(time.timestamp_millis(), offset_min)?;
        if stamp.to_string() == text {
            Ok(stamp)
        } else {
            Err(bad())
        }
    }

    fn local(self) -> Option<DateTime<FixedOffset>> {
        let offset = FixedOffset::east_opt(i32::from(self.offset_min) * 60)?;
        Some(DateTime::from_timestamp_millis(self.ms)?.with_timezone(&offset))
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.local() {
            Some(time) => f.write_str(&time.to_rfc3339_opts(SecondsFormat::Millis, false)),
            None => Err(fmt::Error),
        }
    }
}

impl Serialize for Stamp {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            serializer.collect_str(self)
        } else {
            (self.ms, self.offset_min).serialize(serializer)
        }
    }
}

impl<'de> Deserialize<'de> for Stamp {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        use serde::de::Error;
        if deserializer.is_human_readable() {
            Self::parse(&String::deserialize(deserializer)?).map_err(Error::custom)
        } else {
            let (ms, offset_min) = Deserialize::deserialize(deserializer)?;
            Self::new(ms, offset_min).map_err(Error::custom)
        }
    }
}

/// A hybrid logical clock: wall milliseconds that never run back, and a counter within one.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
pub struct Clock {
    /// Milliseconds since 1970, the highest seen.
    pub ms: i64,
    /// Counts the events within that millisecond.
    pub n: u16,
}

impl Clock {
    /// A clock this far ahead of the reader's is kept and flagged, but not followed.
    pub const TRUSTED_LEAD_MS: i64 = DAY_MS;

    /// The next reading on the device whose wall clock says `now_ms`.
    #[must_use]
    pub fn tick(self, now_ms: i64) -> Self {
        if now_ms > self.ms {
            Self { ms: now_ms, n: 0 }
        } else if let Some(n) = self.n.checked_add(1) {
            Self { ms: self.ms, n }
        } else {
            Self {
                ms: self.ms + 1,
                n: 0,
            }
        }
    }

    /// Follows another device's clock, unless it is far in the future.
    #[must_use]
    pub fn witness(self, other: Self, now_ms: i64) -> Self {
        if other.ms.saturating_sub(now_ms) > Self::TRUSTED_LEAD_MS {
            self
        } else {
            self.max(other)
        }
    }
}

/// From `from_ms` on, local time is UTC plus `offset_min`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shift {
    /// Milliseconds since 1970 of the change.
    pub from_ms: i64,
    /// Minutes east of UTC from then on.
    pub offset_min: i16,
}

/// The farm's time zone as data: its name and the changes of its clock.
/// The shifts are worked out once, on the server, and travel in the farm's entry, so
/// that every device cuts the same days without a zone database of its own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Zone {
    /// The IANA name, for people.
    pub name: String,
    /// Ascending; the first also holds for all time before it.
    pub shifts: Vec<Shift>,
}

impl Zone {
    /// A zone that never changes its clock.
    pub fn fixed(name: &str, offset_min: i16) -> Self {
        Self {
            name: name.to_owned(),
            shifts: vec![Shift {
                from_ms: 0,
                offset_min,
            }],
        }
    }

    /// Minutes east of UTC at an instant (ms since 1970).
    pub fn offset_min_at(&self, ms: i64) -> i16 {
        let after = self.shifts.partition_point(|s| s.from_ms <= ms);
        self.shifts
            .get(after.saturating_sub(1))
            .map_or(0, |s| s.offset_min)
    }

    /// The instant with the farm's own offset.
    pub fn stamp(&self, ms: i64) -> Result<Stamp, TimeError> {
        Stamp::new(ms, self.offset_min_at(ms))
    }

    /// The farm's local wall time at an instant, as a chrono value without zone.
    pub fn local(&self, ms: i64) -> chrono::NaiveDateTime {
        let shifted = ms.saturating_add(i64::from(self.offset_min_at(ms)) * MINUTE_MS);
        DateTime::from_timestamp_millis(shifted)
            .unwrap_or_default()
            .naive_utc()
    }

    /// The farm's day on which an instant falls.
    pub fn day(&self, ms: i64) -> NaiveDate {
        self.local(ms).date()
    }

    /// The instant (ms) at which a farm's day begins. Where the clock skips midnight,
    /// the first instant of that day.
    pub fn day_start_ms(&self, day: NaiveDate) -> i64 {
        let utc = day
            .and_time(chrono::NaiveTime::MIN)
            .and_utc()
            .timestamp_millis();
        // Offsets span at most 14 h either way, so the answer is among these candidates.
        let offsets =
            [utc - 15 * HOUR_MS, utc, utc + 15 * HOUR_MS].map(|ms| self.offset_min_at(ms));
        let candidates = offsets.iter().map(|o| utc - i64::from(*o) * MINUTE_MS);
        candidates
            .chain(
                self.shifts
                    .iter()
                    .map(|s| s.from_ms)
                    .filter(|ms| (ms - utc).abs() < 16 * HOUR_MS),
            )
            .filter(|ms| self.day(*ms) == day && self.day(*ms - 1) < day)
            .min()
            .unwrap_or(utc)
    }
}

impl Default for Zone {
    fn default() -> Self {
        Self::fixed("UTC", 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_stored_form_is_read() {
        let good = "2026-03-01T06:05:00.000+01:00";
        assert_eq!(
            Stamp::parse(good).map(|s| s.to_string()).as_deref(),
            Ok(good)
        );
        for bad in [
            "2026-03-01T06:05:00+01:00",
            "2026-03-01T05:05:00.000Z",
            "2026-03-01 06:05",
            "NaN",
            "",
        ] {
            assert!(Stamp::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_years_1900_and_2100_can_be_written() {
        for text in [
            "1900-01-01T00:00:00.000+00:00",
            "2100-12-31T23:59:59.999-03:30",
        ] {
            assert_eq!(
                Stamp::parse(text).map(|s| s.to_string()).as_deref(),
                Ok(text)
            );
        }
    }

    #[test]
    fn a_far_clock_is_not_followed() {
        let own = Clock { ms: 1_000, n: 0 };
        let far = Clock {
            ms: 1_000 + Clock::TRUSTED_LEAD_MS + 1,
            n: 0,
        };
        assert_eq!(own.witness(far, 1_000), own);
        let near = Clock { ms: 1_500, n: 3 };
        assert_eq!(own.witness(near, 1_000), near);
    }

    #[test]
    fn a_clock_never_runs_back() {
        let mut clock = Clock::default();
        for now in [10, 5, 5, 11, -4_000] {
            let next = clock.tick(now);
            assert!(next > clock);
            clock = next;
        }
    }

    /// Europe/Madrid 2026: clocks go forward on 29 March 01:00 UTC and back on 25 October 01:00 UTC
    /// (IANA tz database, rule EU).
    #[test]
    fn days_are_cut_across_the_change_of_clocks() {
        let zone = Zone {
            name: "Europe/Madrid".into(),
            shifts: vec![
                Shift {
                    from_ms: 1_761_440_400_000,
                    offset_min: 60,
                },
                Shift {
                    from_ms: 1_774_746_000_000,
                    offset_min: 120,
                },
                Shift {
                    from_ms: 1_792_890_000_000,
                    offset_min: 60,
                },
            ],
        };
        let day = |d: u32, m: u32| NaiveDate::from_ymd_opt(2026, m, d).unwrap();
        assert_eq!(
            zone.day_start_ms(day(30, 3)) - zone.day_start_ms(day(29, 3)),
            23 * HOUR_MS
        );
        assert_eq!(
            zone.day_start_ms(day(26, 10)) - zone.day_start_ms(day(25, 10)),
            25 * HOUR_MS
        );
        assert_eq!(zone.day(zone.day_start_ms(day(29, 3)) - 1), day(28, 3));
    }
}
