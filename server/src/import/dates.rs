//! Days as people and spreadsheets write them.

use super::words::words;
use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

/// Which comes first in 03/04/2025.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DayOrder {
    /// 3 April.
    DayFirst,
    /// March 4.
    MonthFirst,
}

/// What one cell of a column of dates holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DateCell {
    /// Nothing.
    Empty,
    /// A word for "never": he has not worked yet.
    Never,
    /// One day, whichever order the column has.
    Day(NaiveDate),
    /// Two numbers and a year.
    Pair(Pair),
    /// A spreadsheet's count of days, if the person says so.
    Serial(NaiveDate),
    /// A date by its form, but no such day exists.
    NoSuchDay,
    /// No date at all.
    Unreadable,
}

/// Day and month in an order that the cell alone does not always tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pair {
    first: u32,
    second: u32,
    year: i32,
    dotted: bool,
}

impl Pair {
    /// The day in the given order, if there is one.
    pub fn day(self, order: DayOrder) -> Option<NaiveDate> {
        let (day, month) = match order {
            DayOrder::DayFirst => (self.first, self.second),
            DayOrder::MonthFirst => (self.second, self.first),
        };
        NaiveDate::from_ymd_opt(self.year, month, day)
    }

    /// Whether both orders give the same day.
    pub const fn is_plain(self) -> bool {
        self.first == self.second
    }

    fn only(self) -> Option<DayOrder> {
        match (self.first, self.second) {
            (13..=31, 1..=12) => Some(DayOrder::DayFirst),
            (1..=12, 13..=31) => Some(DayOrder::MonthFirst),
            _ => None,
        }
    }
}

/// What the cells of a column together say about its order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Evidence {
    day_first: Option<String>,
    month_first: Option<String>,
    either: Option<(String, Pair)>,
    either_undotted: bool,
    serial: Option<(String, NaiveDate)>,
}

/// The order of a column, as far as its cells tell it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Found {
    /// Every cell reads one way, or none needs an order.
    Order(DayOrder),
    /// All cells could be both; an example with its two readings.
    Either(String, Pair),
    /// Some cells read only with the day first, others only with the month first.
    Mixed(String, String),
}

impl Evidence {
    /// Takes one more cell into account.
    pub fn see(&mut self, text: &str, cell: DateCell) {
        let keep = || text.trim().to_owned();
        match cell {
            DateCell::Serial(day) if self.serial.is_none() => self.serial = Some((keep(), day)),
            DateCell::Pair(pair) => match pair.only() {
                Some(DayOrder::DayFirst) => _ = self.day_first.get_or_insert_with(keep),
                Some(DayOrder::MonthFirst) => _ = self.month_first.get_or_insert_with(keep),
                None if !pair.is_plain() && pair.day(DayOrder::DayFirst).is_some() => {
                    self.either_undotted |= !pair.dotted;
                    self.either.get_or_insert_with(|| (keep(), pair));
                }
                None => {}
            },
            _ => {}
        }
    }

    /// The order, with what the heading said. Dates with dots put the day first wherever they
    /// are written (common practice, no source), unless a cell shows otherwise.
    pub fn found(&self, said: Option<DayOrder>) -> Found {
        let seen = match (&self.day_first, &self.month_first) {
            (Some(day), Some(month)) => return Found::Mixed(day.clone(), month.clone()),
            (Some(_), None) => Some(DayOrder::DayFirst),
            (None, Some(_)) => Some(DayOrder::MonthFirst),
            (None, None) => None,
        };
        match (seen.or(said), &self.either) {
            (Some(order), _) => Found::Order(order),
            (None, Some((text, pair))) if self.either_undotted => {
                Found::Either(text.clone(), *pair)
            }
            (None, _) => Found::Order(DayOrder::DayFirst),
        }
    }

    /// The order that the cells, not the heading, leave no doubt of.
    pub fn sure(&self) -> Option<DayOrder> {
        match (&self.day_first, &self.month_first) {
            (Some(_), None) => Some(DayOrder::DayFirst),
            (None, Some(_)) => Some(DayOrder::MonthFirst),
            _ => None,
        }
    }

    /// The first whole number that could be a spreadsheet's count of days, and that day.
    pub fn serial(&self) -> Option<(&str, NaiveDate)> {
        self.serial
            .as_ref()
            .map(|(text, day)| (text.as_str(), *day))
    }
}

/// Reads a cell. Years of two digits are the latest that are not after `today`'s year, because
/// nothing in a list of boars lies ahead.
pub(crate) fn read(cell: &str, today: NaiveDate) -> DateCell {
    let cell = without_time(cell.trim());
    if cell.is_empty() || ["-", "–", "—", "?"].contains(&cell) {
        return DateCell::Empty;
    }
    let parts: Vec<_> = words(cell);
    if let [word] = parts.as_slice()
        && ["never", "none", "nunca", "ninguna", "ninguno", "no"].contains(&word.as_str())
    {
        return DateCell::Never;
    }
    if cell.bytes().all(|b| b.is_ascii_digit()) {
        return digits(cell);
    }
    numeric(cell, today)
        .or_else(|| named(cell, today))
        .unwrap_or(DateCell::Unreadable)
}

/// A time of day after the date is dropped: 2024-03-05T00:00:00Z, 05/03/2024 0:00.
fn without_time(cell: &str) -> &str {
    let is_time = |rest: &str| {
        let rest = rest.trim().to_ascii_lowercase();
        rest.starts_with(|c: char| c.is_ascii_digit())
            && rest.contains(':')
            && rest
                .chars()
                .all(|c| c.is_ascii_digit() || ":.+-apmz ".contains(c))
    };
    let cut = cell.char_indices().find(|(i, c)| {
        matches!(c, ' ' | 'T' | '\u{a0}' | '\u{202f}')
            && cell.get(i + c.len_utf8()..).is_some_and(is_time)
    });
    cut.map_or(cell, |(i, _)| cell.get(..i).unwrap_or_default())
        .trim()
}

/// Days before the first serial taken and after the last: 1954-10-03 and 2119-01-10. The 1900
/// system counts from 1899-12-30 once its leap day that never was lies behind (ECMA-376 part 1, 18.17.4.1).
const SERIALS: std::ops::RangeInclusive<u64> = 20_000..=80_000;

fn digits(cell: &str) -> DateCell {
    let value = cell.parse::<u64>().unwrap_or(0);
    if cell.len() == 8 {
        return match value {
            19_000_101..=21_001_231 => day(value / 10_000, value / 100 % 100, value % 100),
            _ => DateCell::Unreadable,
        };
    }
    let start = NaiveDate::from_ymd_opt(1899, 12, 30).unwrap_or_default();
    match start
        .checked_add_days(Days::new(value))
        .filter(|_| SERIALS.contains(&value))
    {
        Some(day) => DateCell::Serial(day),
        None => DateCell::Unreadable,
    }
}

fn day(year: u64, month: u64, day: u64) -> DateCell {
    let small = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    let year = i32::try_from(year).unwrap_or(i32::MAX);
    NaiveDate::from_ymd_opt(year, small(month), small(day))
        .map_or(DateCell::NoSuchDay, DateCell::Day)
}

/// Three numbers with one separator between them.
fn numeric(cell: &str, today: NaiveDate) -> Option<DateCell> {
    let separator = ['-', '/', '.', ' ']
        .into_iter()
        .find(|s| cell.contains(*s))?;
    let parts: Vec<_> = cell.split(separator).map(str::trim).collect();
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    let numbers = [number(a)?, number(b)?, number(c)?];
    match (a.len(), b.len(), c.len()) {
        (4, 1..=2, 1..=2) => Some(day(numbers[0].into(), numbers[1].into(), numbers[2].into())),
        (1..=2, 1..=2, 2 | 4) => {
            let year = full_year(numbers[2], c.len(), today);
            let pair = Pair {
                first: numbers[0],
                second: numbers[1],
                year,
                dotted: separator == '.',
            };
            let exists = pair
                .day(DayOrder::DayFirst)
                .or(pair.day(DayOrder::MonthFirst));
            Some(exists.map_or(DateCell::NoSuchDay, |_| DateCell::Pair(pair)))
        }
        _ => None,
    }
}

fn number(text: &str) -> Option<u32> {
    (text.len() <= 4 && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}

fn full_year(read: u32, digits: usize, today: NaiveDate) -> i32 {
    let read = i32::try_from(read).unwrap_or(i32::MAX);
    if digits == 4 {
        return read;
    }
    let century = today.year() - today.year().rem_euclid(100);
    if century + read <= today.year() {
        century + read
    } else {
        century - 100 + read
    }
}

/// A month by its name, English or Spanish, with a day and a year: 5 March 2024, mar. 5 2024,
/// 5 de marzo de 2024, 2024 mar 5.
fn named(cell: &str, today: NaiveDate) -> Option<DateCell> {
    let words: Vec<_> = split_digits(&words(cell))
        .into_iter()
        .filter(|w| !FILLERS.contains(&w.as_str()))
        .collect();
    let [one, two, three] = words.as_slice() else {
        return None;
    };
    let (month_number, first, second) = match (month(one), month(two)) {
        (Some(number), None) => (number, two, three),
        (None, Some(number)) => (number, one, three),
        _ => return None,
    };
    let year_first = first.len() == 4;
    let (day_text, year_text) = if year_first {
        (second, first)
    } else {
        (first, second)
    };
    if !matches!(year_text.len(), 2 | 4) || day_text.len() > 2 {
        return None;
    }
    let year = full_year(number(year_text)?, year_text.len(), today);
    Some(day(
        u64::try_from(year).ok()?,
        month_number,
        number(day_text)?.into(),
    ))
}

const FILLERS: &[&str] = &["de", "del", "of", "the", "st", "nd", "rd", "th", "o"];

/// 5th and 5mar24 fall into numbers and letters.
fn split_digits(words: &[String]) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in words {
        let mut last = None;
        for c in word.chars() {
            let kind = c.is_ascii_digit();
            match out.last_mut().filter(|_| last == Some(kind)) {
                Some(part) => part.push(c),
                None => out.push(c.to_string()),
            }
            last = Some(kind);
        }
    }
    out
}

/// English and Spanish names; "set" for "septiembre" as in the Río de la Plata.
const MONTHS: [&[&str]; 12] = [
    &["january", "enero"],
    &["february", "febrero"],
    &["march", "marzo"],
    &["april", "abril"],
    &["may", "mayo"],
    &["june", "junio"],
    &["july", "julio"],
    &["august", "agosto"],
    &["september", "septiembre", "setiembre"],
    &["october", "octubre"],
    &["november", "noviembre"],
    &["december", "diciembre"],
];

/// A whole name, or three letters or more of one.
fn month(word: &str) -> Option<u64> {
    let long = word.len() >= 3 && word.bytes().all(|b| b.is_ascii_alphabetic());
    let found = MONTHS
        .iter()
        .position(|names| long && names.iter().any(|n| n.starts_with(word)));
    found.map(|i| i as u64 + 1)
}
