//! Stamps as loggers write them: a date, a time of day, and perhaps an offset.

use crate::import::DayOrder;
use crate::import::dates::{DateCell, read};
use chrono::{NaiveDate, NaiveTime};

/// What a row says about when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum StampCell<'a> {
    /// Nothing.
    Empty,
    /// Seconds or milliseconds since 1970, as machines write them; in ms.
    Instant(i64),
    /// A date and a time of day.
    Written(Written<'a>),
    /// No stamp.
    Unreadable,
}

/// A date and a time of day as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Written<'a> {
    /// The date's text.
    pub text: &'a str,
    /// The date.
    pub date: DateCell,
    /// Milliseconds since midnight.
    pub clock_ms: i64,
    /// Minutes east of UTC, if written beside it.
    pub offset_min: Option<i16>,
}

impl Written<'_> {
    /// What a clock on the wall showed, in ms since 1970 as if it were UTC; none where the order
    /// yields no such day.
    pub fn wall_ms(&self, order: DayOrder) -> Option<i64> {
        let day = match self.date {
            DateCell::Day(day) => day,
            DateCell::Pair(pair) => pair.day(order)?,
            _ => return None,
        };
        Some(day.and_time(NaiveTime::MIN).and_utc().timestamp_millis() + self.clock_ms)
    }
}

/// Reads date and time of day in one cell. `today` settles years of two digits.
pub(super) fn stamp(cell: &str, today: NaiveDate) -> StampCell<'_> {
    let cell = cell.trim();
    if cell.is_empty() {
        return StampCell::Empty;
    }
    if let Some(ms) = since_1970(cell) {
        return StampCell::Instant(ms);
    }
    let at = clock_start(cell).unwrap_or(cell.len());
    let (text, clock) = cell.split_at_checked(at).unwrap_or((cell, ""));
    written(text, clock, today)
}

/// Reads date and time of day in two cells. Spreadsheets add an empty time to the one and an empty
/// date to the other; both are passed over.
pub(super) fn stamp_apart<'a>(date: &'a str, clock: &'a str, today: NaiveDate) -> StampCell<'a> {
    if date.trim().is_empty() && clock.trim().is_empty() {
        return StampCell::Empty;
    }
    let text = clock_start(date)
        .and_then(|at| date.get(..at))
        .unwrap_or(date);
    let clock = clock_start(clock)
        .and_then(|at| clock.get(at..))
        .unwrap_or(clock);
    written(text, clock, today)
}

fn written<'a>(text: &'a str, clock: &str, today: NaiveDate) -> StampCell<'a> {
    let text = date_alone(text);
    let (date, clock) = (read(text, today), time_of_day(clock));
    match (date, clock) {
        (DateCell::Day(_) | DateCell::Pair(_), Some((clock_ms, offset_min))) => {
            StampCell::Written(Written {
                text,
                date,
                clock_ms,
                offset_min,
            })
        }
        _ => StampCell::Unreadable,
    }
}

/// The date without what separates it from the time: white space, a comma, ISO 8601's T.
fn date_alone(text: &str) -> &str {
    let text = text.trim().trim_end_matches([',', ';']).trim_end();
    match text.strip_suffix(['T', 't']) {
        Some(rest) if rest.ends_with(|c: char| c.is_ascii_digit()) => rest,
        _ => text,
    }
}

fn since_1970(cell: &str) -> Option<i64> {
    let digits = cell.bytes().all(|b| b.is_ascii_digit());
    let number: i64 = digits.then(|| cell.parse().ok())??;
    match cell.len() {
        10 => Some(number * 1_000),
        13 => Some(number),
        _ => None,
    }
}

/// Where the hour begins whose minutes stand behind the first colon.
fn clock_start(cell: &str) -> Option<usize> {
    let colon = cell.find(':')?;
    let before = cell.get(..colon)?;
    let hour = before.len() - before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    (1..=2).contains(&hour).then_some(colon - hour)
}

/// Milliseconds since midnight, and the offset if there is one.
fn time_of_day(text: &str) -> Option<(i64, Option<i16>)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, ':' | '.' | ','));
    let (clock, rest) = text.split_at_checked(end.unwrap_or(text.len()))?;
    let rest: String = rest
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace())
        .collect();
    let (half, zone) = half_of_day(&rest);
    let offset = if zone.is_empty() {
        None
    } else {
        Some(offset(zone)?)
    };
    let mut parts = clock.split(':');
    let hour = small(parts.next()?, 1)?;
    let minute = small(parts.next()?, 2)?;
    let second = parts.next().unwrap_or("00");
    let (second, fraction) = second.split_once(['.', ',']).unwrap_or((second, ""));
    let second = small(second, 2)?;
    if parts.next().is_some() || minute > 59 || second > 59 {
        return None;
    }
    let ms =
        (hour_of_day(hour, half)? * 60 + minute) * 60_000 + second * 1_000 + thousandths(fraction)?;
    // 24:00 is the next day's midnight (ISO 8601), and nothing is later.
    (ms <= 86_400_000).then_some((ms, offset))
}

fn small(digits: &str, least: usize) -> Option<i64> {
    let fits = (least..=2).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    fits.then(|| digits.parse().ok())?
}

fn thousandths(fraction: &str) -> Option<i64> {
    let digits = fraction.bytes().all(|b| b.is_ascii_digit());
    let three: String = fraction.chars().chain("000".chars()).take(3).collect();
    digits.then(|| three.parse().ok())?
}

/// Half of the day by its Latin abbreviation, as English and Spanish write it; and what follows.
fn half_of_day(rest: &str) -> (Option<bool>, &str) {
    let halves = [("a.m.", false), ("am", false), ("p.m.", true), ("pm", true)];
    let found = halves
        .iter()
        .find_map(|(written, after_noon)| Some((*after_noon, rest.strip_prefix(written)?)));
    found.map_or((None, rest), |(after_noon, rest)| (Some(after_noon), rest))
}

fn hour_of_day(hour: i64, after_noon: Option<bool>) -> Option<i64> {
    match after_noon {
        None => (hour <= 24).then_some(hour),
        Some(after) if (1..=12).contains(&hour) => Some(hour % 12 + if after { 12 } else { 0 }),
        Some(_) => None,
    }
}

/// Minutes east of UTC: Z, UTC, GMT+2, +02:00, -0530, +02.
pub(super) fn offset(text: &str) -> Option<i16> {
    const HOURS_MAX: i16 = 14;
    let text = text.trim().to_ascii_lowercase();
    let named = ["utc", "gmt", "z"]
        .iter()
        .find_map(|n| text.strip_prefix(n));
    let numbers = named.unwrap_or(&text).trim();
    if numbers.is_empty() {
        return named.map(|_| 0);
    }
    let (sign, digits) = match numbers.strip_prefix(['-', '\u{2212}']) {
        Some(digits) => (-1, digits),
        None => (1, numbers.strip_prefix('+')?),
    };
    let (hours, minutes) = match digits.split_once(':') {
        Some(parts) => parts,
        None => digits.split_at_checked(2).unwrap_or((digits, "")),
    };
    let minutes = if minutes.is_empty() { "00" } else { minutes };
    let (hours, minutes) = (small(hours, 1)?, small(minutes, 2)?);
    let all = i16::try_from(hours * 60 + minutes).ok()?;
    (minutes < 60 && all <= HOURS_MAX * 60).then_some(sign * all)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn today() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
    }

    fn wall(cell: &str) -> Option<(String, Option<i16>)> {
        match stamp(cell, today()) {
            StampCell::Written(w) => {
                let wall = chrono::DateTime::from_timestamp_millis(w.wall_ms(DayOrder::DayFirst)?)?;
                Some((wall.naive_utc().to_string(), w.offset_min))
            }
            _ => None,
        }
    }

    #[test]
    fn stamps_are_read_in_many_forms() {
        for (cell, read, offset) in [
            ("2026-07-01 14:30", "2026-07-01 14:30:00", None),
            ("2026-07-01T14:30:05Z", "2026-07-01 14:30:05", Some(0)),
            (
                "2026-07-01T14:30:05.250+02:00",
                "2026-07-01 14:30:05.250",
                Some(120),
            ),
            (
                "2026-07-01 14:30:05 -0530",
                "2026-07-01 14:30:05",
                Some(-330),
            ),
            ("2026/07/01 9:05", "2026-07-01 09:05:00", None),
            ("01/07/2026 02:30:00 p. m.", "2026-07-01 14:30:00", None),
            ("01.07.26 12:00:00 AM", "2026-07-01 00:00:00", None),
            ("1 jul 2026, 12:15 PM", "2026-07-01 12:15:00", None),
            ("20260701 14:30", "2026-07-01 14:30:00", None),
            ("2026-07-01 24:00", "2026-07-02 00:00:00", None),
            ("2026-07-01 14:30 UTC+2", "2026-07-01 14:30:00", Some(120)),
        ] {
            assert_eq!(wall(cell), Some((read.into(), offset)), "{cell}");
        }
    }

    #[test]
    fn what_is_no_stamp_is_not_guessed() {
        for cell in [
            "2026-07-01",
            "14:30",
            "2026-07-01 25:00",
            "2026-07-01 24:01",
            "2026-07-01 14:60",
            "2026-07-01 14:5",
            "2026-07-01 13:00 PM",
            "2026-07-01 0:10 AM",
            "2026-07-01 14:30 +99",
            "2026-07-01 14:30 noon",
            "2026-02-30 14:30",
            "45474.4375",
            "yesterday 14:30",
            ":",
            "é:30",
        ] {
            assert_eq!(wall(cell), None, "{cell}");
        }
    }

    #[test]
    fn machines_count_since_1970() {
        let noon = StampCell::Instant(1_782_907_200_000);
        assert_eq!(stamp("1782907200", today()), noon);
        assert_eq!(stamp("1782907200000", today()), noon);
        assert_eq!(stamp("", today()), StampCell::Empty);
    }

    #[test]
    fn spreadsheets_add_an_empty_half() {
        let apart = stamp_apart("01/07/2026 0:00", "30/12/1899 14:30", today());
        let StampCell::Written(w) = apart else {
            panic!("{apart:?}")
        };
        assert_eq!(w.clock_ms, (14 * 60 + 30) * 60_000);
        assert_eq!(w.text, "01/07/2026");
    }
}
