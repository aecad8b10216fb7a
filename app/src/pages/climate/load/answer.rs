//! What the office says of a logger's file (`POST /api/v1/climate/preview` and `/commit`), and what
//! it is told. Fields that no word of the screen needs are left unread.

pub use crate::pages::import::answer::DayOrder;
use crate::pages::import::answer::Why as FileWhy;
use chrono::NaiveDate;
use pentally_domain::said::Label;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// Date and time of day in one.
    Stamp,
    /// The date, apart.
    Date,
    /// The time of day, apart.
    Clock,
    /// The air's temperature.
    Temperature,
    /// Relative humidity.
    Humidity,
    /// The room.
    Room,
}

impl Field {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Stamp,
        Self::Date,
        Self::Clock,
        Self::Temperature,
        Self::Humidity,
        Self::Room,
    ];

    /// As it is named in the list of choices.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stamp => "stamp",
            Self::Date => "date",
            Self::Clock => "clock",
            Self::Temperature => "temperature",
            Self::Humidity => "humidity",
            Self::Room => "room",
        }
    }
}

/// The unit of the temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
}

/// The clock that the logger follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LoggerClock {
    /// The farm's.
    Farm,
    /// One that stays so many minutes east of UTC.
    Offset(i16),
}

/// What the person chose.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Choices {
    /// Columns named by hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mapping: Option<BTreeMap<usize, Field>>,
    /// The room the logger hung in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<Label>,
    /// Day or month first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<DayOrder>,
    /// °C or °F.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<Unit>,
    /// Whether 0.65 is 65 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub proportion: Option<bool>,
    /// Whose clock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock: Option<LoggerClock>,
}

/// What a file would do.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Preview {
    /// It reads.
    Reads(Reads),
    /// It does not.
    Unread {
        /// Why, where this screen has words for it.
        why: Why,
        /// Why, in English.
        detail: String,
    },
}

/// Why a file does not read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "error", rename_all = "snake_case")]
pub enum Why {
    /// No rows.
    Empty,
    /// No column names the temperature.
    NoTemperature {
        /// The columns.
        columns: Vec<Column>,
    },
    /// No column names the time.
    NoTime {
        /// The columns.
        columns: Vec<Column>,
    },
    /// It is no table that can be read.
    File {
        /// Why.
        why: FileWhy,
    },
    /// A line longer than is taken.
    LineTooLong {
        /// The line.
        line: u32,
    },
    /// More rows than are taken.
    TooManyRows,
    /// More columns than are taken.
    TooManyColumns {
        /// The line.
        line: u32,
        /// Its columns.
        columns: u32,
    },
    /// Something else: its detail says it.
    #[serde(other)]
    Other,
}

/// A file that reads.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Reads {
    /// How it was read.
    pub shape: Shape,
    /// What only a person can tell.
    pub questions: Vec<Question>,
    /// Its rooms.
    pub rooms: Vec<OfRoom>,
    /// What deserves a word.
    pub told: Told,
}

/// How a file was read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Shape {
    /// Its columns.
    pub columns: Vec<Column>,
    /// The unit of its temperatures.
    pub unit: Unit,
    /// The clock of its stamps.
    pub clock: LoggerClock,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Column {
    /// Its place, from 0.
    pub index: usize,
    /// Its heading.
    pub header: String,
    /// What it holds.
    pub field: Option<Field>,
    /// Its first cells.
    pub samples: Vec<String>,
}

/// The days of one room.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct OfRoom {
    /// The room.
    pub room: String,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last.
    pub to: NaiveDate,
    /// How many.
    pub days: usize,
    /// Of which nothing is held.
    pub new: usize,
    /// Of which all is held.
    pub same: usize,
    /// Half hours that read otherwise here.
    pub changed: usize,
}

/// A question.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Question {
    /// The heading of the column it is about.
    pub header: Option<String>,
    /// The question.
    pub ask: Ask,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub enum Ask {
    /// Which room?
    Room,
    /// Day or month first?
    Order {
        /// A cell.
        example: String,
        /// With the day first.
        day_first: NaiveDate,
        /// With the month first.
        month_first: NaiveDate,
    },
    /// The same; some cells will not fit either way.
    Mixed {
        /// Reads only with the day first.
        day_first: String,
        /// Reads only with the month first.
        month_first: String,
    },
    /// °C or °F?
    Unit {
        /// The lowest value.
        lowest: f64,
        /// The highest.
        highest: f64,
    },
    /// Is 0.65 a humidity of 65 %?
    Proportion {
        /// The highest value.
        highest: f64,
    },
    /// Which clock?
    Clock {
        /// The line of a stamp that the farm's clock never showed.
        line: u64,
        /// The stamp.
        read: String,
        /// Minutes east of UTC in winter.
        offset_min: i16,
    },
}

/// What deserves a word.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Told {
    /// Rows that are not blank.
    pub rows: usize,
    /// Readings taken.
    pub taken: usize,
    /// Rows without a temperature.
    pub without_temperature: usize,
    /// Rows that stand there twice.
    pub doubled: usize,
    /// Cells that cannot be taken.
    pub refused: Listed<Refusal>,
    /// Rows of one stamp that differ.
    pub conflicts: Listed<Conflict>,
    /// Times without readings.
    pub gaps: Listed<Any>,
    /// Values that stood still.
    pub stuck: Listed<Any>,
}

/// The first of many, and how many there are.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Listed<T> {
    /// How many.
    pub all: usize,
    /// The first of them.
    pub first: Vec<T>,
}

/// A cell that cannot be taken.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Refusal {
    /// Its line.
    pub line: u64,
    /// What was read.
    pub read: String,
}

/// Two rows of one stamp.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Conflict {
    /// The line that holds.
    pub line: u64,
}

/// Something of a room that is only counted here.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Any {
    /// The room.
    pub room: String,
}

/// What was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub struct Written {
    /// Days of rooms.
    pub days: usize,
    /// Half hours.
    pub readings: usize,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_with_the_file_itself_reads() {
        let text = r#"{"error":"file","why":{"error":"not_text","line":3}}"#;
        let why = FileWhy::NotText { line: 3 };
        assert_eq!(
            serde_json::from_str::<Why>(text).unwrap(),
            Why::File { why }
        );
        let rows = r#"{"error":"too_many_rows"}"#;
        assert_eq!(serde_json::from_str::<Why>(rows).unwrap(), Why::TooManyRows);
    }

    #[test]
    fn choices_are_written_as_the_office_reads_them() {
        let choices = Choices {
            mapping: Some(BTreeMap::from([(1, Field::Temperature)])),
            room: Label::parse("Nave 1").ok(),
            clock: Some(LoggerClock::Offset(60)),
            ..Choices::default()
        };
        assert_eq!(
            serde_json::to_string(&choices).unwrap(),
            r#"{"mapping":{"1":"temperature"},"room":"Nave 1","clock":{"offset":60}}"#
        );
        for field in Field::ALL {
            assert_eq!(serde_json::to_value(field).unwrap(), field.name());
        }
    }
}
