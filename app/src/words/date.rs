//! Days and spans of time in words.

use super::{Arg, Key, Words, key};
use chrono::{Datelike, NaiveDate, Weekday};

const MINUTE_MS: i64 = 60_000;
const HOUR_MS: i64 = 60 * MINUTE_MS;
const DAY_MS: i64 = 24 * HOUR_MS;

impl Words {
    /// "Thursday", as it stands at the start of a line.
    pub fn weekday(&self, day: NaiveDate) -> String {
        self.tr(weekday_key(day.weekday()))
    }

    /// "12 March".
    pub fn day_month(&self, day: NaiveDate) -> String {
        let args = [
            ("day", Arg::from(day.day())),
            ("month", self.month(day).into()),
        ];
        self.tr_with(key::DATE_DAY_MONTH, &args)
    }

    /// "Thursday 12 March".
    pub fn weekday_day_month(&self, day: NaiveDate) -> String {
        let args = [
            ("weekday", self.weekday(day).into()),
            ("date", self.day_month(day).into()),
        ];
        self.tr_with(key::DATE_WEEKDAY_DAY_MONTH, &args)
    }

    /// "12 March 2026".
    pub fn day_month_year(&self, day: NaiveDate) -> String {
        let year = day.year().to_string();
        let args = [("date", self.day_month(day).into()), ("year", year.into())];
        self.tr_with(key::DATE_DAY_MONTH_YEAR, &args)
    }

    /// "today", "yesterday" or "tomorrow"; the weekday within six days; else the
    /// date, with its year where that is another one. In Spanish with its article, as it
    /// stands in a sentence: "hoy", "el jueves".
    pub fn near_day(&self, day: NaiveDate, today: NaiveDate) -> String {
        match (day - today).num_days() {
            0 => self.tr(key::DATE_TODAY),
            -1 => self.tr(key::DATE_YESTERDAY),
            1 => self.tr(key::DATE_TOMORROW),
            -6..=6 => self.on(self.weekday(day)),
            _ if day.year() == today.year() => self.on(self.day_month(day)),
            _ => self.on(self.day_month_year(day)),
        }
    }

    fn on(&self, day: String) -> String {
        self.tr_with(key::DATE_ON, &[("day", day.into())])
    }

    /// A span in its largest whole unit: "3 min", "2 h", "4 days"; below a minute
    /// "less than 1 min". The span is in milliseconds; its sign is dropped.
    pub fn span(&self, span_ms: i64) -> String {
        let span_ms = span_ms.saturating_abs();
        let count = |unit_ms: i64| [("n", Arg::Count(span_ms / unit_ms))];
        match span_ms {
            DAY_MS.. => self.tr_with(key::SPAN_DAYS, &count(DAY_MS)),
            HOUR_MS.. => self.tr_with(key::SPAN_HOURS, &count(HOUR_MS)),
            MINUTE_MS.. => self.tr_with(key::SPAN_MINUTES, &count(MINUTE_MS)),
            _ => self.tr(key::SPAN_UNDER_A_MINUTE),
        }
    }

    fn month(&self, day: NaiveDate) -> String {
        self.tr(MONTHS[day.month0() as usize])
    }
}

const MONTHS: [Key; 12] = [
    key::MONTH_JANUARY,
    key::MONTH_FEBRUARY,
    key::MONTH_MARCH,
    key::MONTH_APRIL,
    key::MONTH_MAY,
    key::MONTH_JUNE,
    key::MONTH_JULY,
    key::MONTH_AUGUST,
    key::MONTH_SEPTEMBER,
    key::MONTH_OCTOBER,
    key::MONTH_NOVEMBER,
    key::MONTH_DECEMBER,
];

const fn weekday_key(day: Weekday) -> Key {
    match day {
        Weekday::Mon => key::DAY_MONDAY,
        Weekday::Tue => key::DAY_TUESDAY,
        Weekday::Wed => key::DAY_WEDNESDAY,
        Weekday::Thu => key::DAY_THURSDAY,
        Weekday::Fri => key::DAY_FRIDAY,
        Weekday::Sat => key::DAY_SATURDAY,
        Weekday::Sun => key::DAY_SUNDAY,
    }
}
