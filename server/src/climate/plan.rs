//! What loading a file would do: typed results, for the screen to put into words.

use super::cells::Unit;
use super::header::Field;
use super::{LISTED_MAX, LoggerClock};
use crate::import::{DayOrder, Delimiter};
use chrono::{NaiveDate, NaiveDateTime};
use pentally_domain::climate::{Climate, Reading};
use pentally_domain::said::Label;
use pentally_domain::time::Stamp;
use serde::Serialize;

/// The file as understood, what is asked about it, what would be written and what was odd.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// How the file was read.
    pub shape: Shape,
    /// What only the person can tell. While one stands, there are no days and nothing is told.
    pub questions: Vec<Question>,
    /// Each room and farm day of the file, by room and day.
    pub days: Vec<PlannedDay>,
    /// What deserves a word.
    pub told: Told,
}

/// How the file was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Shape {
    /// The encoding's WHATWG name.
    pub encoding: &'static str,
    /// The delimiter.
    pub delimiter: Delimiter,
    /// The line of the headings; none where the file has none.
    pub header_line: Option<u64>,
    /// The columns.
    pub columns: Vec<Column>,
    /// The unit of the temperatures: as chosen, as headed, or °C.
    pub unit: Unit,
    /// The clock of stamps without an offset of their own: as chosen, as headed, or the farm's.
    pub clock: LoggerClock,
}

/// A column as headed and understood.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Column {
    /// Its place, from 0.
    pub index: usize,
    /// Its heading.
    pub header: String,
    /// What it holds; none where it is not read.
    pub field: Option<Field>,
    /// Its first cells that are not empty.
    pub samples: Vec<String>,
}

/// Something that the file does not tell.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Question {
    /// The heading of the column it is about; none where it is about the whole file.
    pub header: Option<String>,
    /// The question.
    pub ask: Ask,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub enum Ask {
    /// Which room did the logger hang in?
    Room,
    /// Day or month first? Every cell could be both.
    Order {
        /// A cell.
        example: String,
        /// The day it is with the day first.
        day_first: NaiveDate,
        /// The day it is with the month first.
        month_first: NaiveDate,
    },
    /// Day or month first? The cells contradict each other; those that do not fit the answer are
    /// refused.
    Mixed {
        /// A cell that reads only with the day first.
        day_first: String,
        /// A cell that reads only with the month first.
        month_first: String,
    },
    /// °C or °F? The values do not look like the unit that the heading tells, or °C where it tells none.
    Unit {
        /// What the heading tells.
        told: Option<Unit>,
        /// The lowest value.
        lowest: f64,
        /// The middle value.
        middle: f64,
        /// The highest value.
        highest: f64,
    },
    /// Is 0.65 a humidity of 65 %? No value is above 1.
    Proportion {
        /// The highest value.
        highest: f64,
    },
    /// Which clock does the logger follow? A stamp stands in the hour that the farm's clock skipped.
    Clock {
        /// The line.
        line: u64,
        /// The stamp.
        read: String,
        /// Minutes east of UTC before the farm's clock was put forward: what a logger keeps whose
        /// clock nobody changes.
        offset_min: i16,
    },
}

/// A room on a farm day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedDay {
    /// The room.
    pub room: Label,
    /// The farm's day.
    pub day: NaiveDate,
    /// Readings of the file.
    pub rows: usize,
    /// Their means, one for each half hour, at most 48.
    pub means: Vec<Reading>,
    /// What becomes of them.
    pub fate: DayFate,
    /// What would be written; none where the farm holds all of it.
    pub write: Option<Draft>,
}

/// What becomes of a room's day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(tag = "fate", rename_all = "snake_case")]
pub enum DayFate {
    /// The farm holds nothing of it.
    New,
    /// The farm holds all of it.
    Same,
    /// The farm holds some of it.
    Adds {
        /// Half hours that it does not hold.
        added: usize,
        /// Half hours that read otherwise there, and will read as in the file.
        changed: usize,
    },
}

/// A fact to be written, and when it happened.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Draft {
    /// The fact: the means that the farm does not hold as they are.
    pub climate: Climate,
    /// For the entry's `occurred_at`, ms since 1970: the last reading of that day, or the latest
    /// entry about it where that is later. So days keep their place in the farm's ledger whenever
    /// they are loaded, and what is written now holds over what was written before.
    pub at_ms: i64,
}

/// What deserves a word.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Told {
    /// Rows below the headings that are not blank.
    pub rows: usize,
    /// Readings taken.
    pub taken: usize,
    /// Rows without a temperature, such as marks of when the logger was read out.
    pub without_temperature: usize,
    /// Rows left out because an equal one bears the same stamp.
    pub doubled: usize,
    /// Cells that cannot be taken. Except for a humidity, the row is left out.
    pub refused: Listed<Refusal>,
    /// Rows of the same stamp that say different things. The later line holds: whoever sends again
    /// corrects, and a mean would be something that nobody measured.
    pub conflicts: Listed<Conflict>,
    /// Times without readings.
    pub gaps: Listed<Gap>,
    /// Values that did not change for a day or more: the sensor may be stuck. They are taken.
    pub stuck: Listed<Stuck>,
    /// The hour that the farm's clock had twice, if the file has readings in it.
    pub repeated: Option<RepeatedHour>,
}

/// The first of many, and how many there are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Listed<T> {
    /// How many.
    pub all: usize,
    /// The first of them.
    pub first: Vec<T>,
}

/// A cell that cannot be taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Refusal {
    /// The line of the file on which its row begins, from 1.
    pub line: u64,
    /// The field at fault; none when the row as a whole is.
    pub field: Option<Field>,
    /// What was read, cut at 60 characters.
    pub read: String,
    /// What would be right.
    pub right: Right,
}

/// What would be right instead.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "right", rename_all = "snake_case")]
pub enum Right {
    /// A date and a time of day, such as 2026-07-01 14:30.
    Stamp,
    /// A day that exists, in the order of the column.
    RealDay {
        /// The order.
        order: DayOrder,
    },
    /// A time that the farm's clock had: on that day it skipped an hour.
    RealTime,
    /// Not after now.
    NotAfter {
        /// Now, by the farm's clock.
        now: NaiveDateTime,
    },
    /// Not before that day: the logger's clock had probably lost the date.
    NotBefore {
        /// The day.
        day: NaiveDate,
    },
    /// A number, such as 24.5 or 24,5.
    Number,
    /// A temperature from `low` to `high`.
    Temperature {
        /// The least.
        low: f64,
        /// The most.
        high: f64,
        /// The unit of both.
        unit: Unit,
    },
    /// A temperature in the column's unit.
    InUnit {
        /// The column's unit.
        unit: Unit,
    },
    /// A humidity from 0 to 100 %.
    Humidity,
    /// A room of 1 to 40 characters.
    Room,
    /// No more cells than headings: a decimal comma between commas needs quotation marks around
    /// its number.
    Cells {
        /// The headings.
        most: usize,
    },
}

/// Two rows of the same stamp.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Conflict {
    /// The line that holds.
    pub line: u64,
    /// The line that was left out.
    pub instead_of: u64,
    /// The stamp.
    pub at: Stamp,
}

/// A time without readings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Gap {
    /// The room.
    pub room: Label,
    /// The last reading before it.
    pub from: Stamp,
    /// The first after it.
    pub to: Stamp,
}

/// A value that did not change.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stuck {
    /// The room.
    pub room: Label,
    /// Temperature or humidity.
    pub field: Field,
    /// The value, in °C or %.
    pub value: f64,
    /// How many readings.
    pub readings: usize,
    /// The first of them.
    pub from: Stamp,
    /// The last.
    pub to: Stamp,
}

/// Readings in the hour that the farm's clock had twice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct RepeatedHour {
    /// The first line that stands in it.
    pub line: u64,
    /// Rows taken for its first passage, before the clock was put back.
    pub first: usize,
    /// Rows taken for its second: those that come after them in the file and go back in time.
    pub second: usize,
}

impl Plan {
    /// What would be written.
    pub fn drafts(&self) -> impl Iterator<Item = &Draft> {
        self.days.iter().filter_map(|d| d.write.as_ref())
    }
}

impl<T> Listed<T> {
    pub(super) fn push(&mut self, one: T) {
        self.all += 1;
        if self.first.len() < LISTED_MAX {
            self.first.push(one);
        }
    }
}

impl<T> Default for Listed<T> {
    fn default() -> Self {
        Self {
            all: 0,
            first: vec![],
        }
    }
}
