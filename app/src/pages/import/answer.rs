//! What the office says of a list (`POST /api/v1/import/preview` and `/commit`), and what it is
//! told. Fields that no word of the screen needs are left unread.

use super::row::Row;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// The boar's number.
    Number,
    /// A name besides.
    Name,
    /// Day of birth.
    Born,
    /// Breed or line.
    Line,
    /// His pen.
    Pen,
    /// Ear tag or notch.
    Ear,
    /// Transponder.
    Rfid,
    /// Last collection.
    LastCollection,
    /// The day he came.
    Arrived,
    /// What matters to the handler.
    Notes,
}

impl Field {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Number,
        Self::Name,
        Self::Born,
        Self::Line,
        Self::Pen,
        Self::Ear,
        Self::Rfid,
        Self::LastCollection,
        Self::Arrived,
        Self::Notes,
    ];
}

/// Which comes first in 03/04/2025.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DayOrder {
    /// The day.
    DayFirst,
    /// The month.
    MonthFirst,
}

/// What the person chose.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Choices {
    /// Columns named by hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mapping: Option<BTreeMap<usize, Field>>,
    /// Answers about columns of dates.
    pub dates: BTreeMap<usize, DateAnswer>,
}

/// What was said about one column of dates.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct DateAnswer {
    /// Day or month first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<DayOrder>,
    /// Whether numbers count days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub serials: Option<bool>,
}

/// What was decided about the list as a whole.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Decision {
    /// Leave out what cannot be taken.
    pub leave_out: bool,
    /// Write over particulars that differ.
    pub overwrite: bool,
}

/// What a list would do.
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

/// A list that reads.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Reads {
    /// Counts.
    pub summary: Summary,
    /// Its columns.
    pub shape: Shape,
    /// What only a person can tell.
    pub questions: Vec<Question>,
    /// Rows, those to be looked at first.
    pub rows: Vec<Row>,
    /// How many are not among them.
    pub more: usize,
}

/// Why a file does not read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "error", rename_all = "snake_case")]
pub enum Why {
    /// A workbook, not its text.
    Workbook,
    /// No rows.
    Empty,
    /// No column names the number.
    NoNumber {
        /// The columns.
        columns: Vec<Column>,
    },
    /// Larger than is taken.
    TooLarge {
        /// The most that is taken, in bytes.
        most: u64,
    },
    /// More rows than are taken.
    TooManyRows {
        /// The most that is taken.
        most: u32,
    },
    /// More columns than are taken.
    TooManyColumns {
        /// The line.
        line: u32,
        /// Its columns.
        columns: u32,
    },
    /// A line longer than is taken.
    LineTooLong {
        /// The line.
        line: u32,
    },
    /// Not text at all.
    NotText {
        /// The line.
        line: u32,
    },
    /// Bytes that the encoding does not have.
    Encoding {
        /// The encoding.
        encoding: String,
        /// The line.
        line: u32,
    },
    /// A quotation mark that is never closed.
    QuoteOpen {
        /// The line.
        line: u32,
    },
    /// Something else: its detail says it.
    #[serde(other)]
    Other,
}

/// How many rows meet which fate.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
pub struct Summary {
    /// All.
    pub rows: usize,
    /// New boars.
    pub new: usize,
    /// There already.
    pub same: usize,
    /// There with other particulars.
    pub differs: usize,
    /// Numbers that stood further up.
    pub duplicates: usize,
    /// Refused.
    pub refused: usize,
    /// New pens.
    pub pens: usize,
}

/// How the file was read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Shape {
    /// Its columns.
    pub columns: Vec<Column>,
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

/// A question about a column.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Question {
    /// Which.
    pub column: usize,
    /// Its heading.
    pub header: String,
    /// The question.
    pub ask: Ask,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub enum Ask {
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
    /// Are numbers days?
    Serials {
        /// A cell.
        example: String,
        /// The day it would be.
        day: NaiveDate,
    },
}

/// What was written.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
pub struct Written {
    /// New boars.
    pub boars: usize,
    /// New pens.
    pub pens: usize,
    /// Corrected particulars.
    pub changes: usize,
}

/// A path with JSON texts behind the `?`, percent-encoded (RFC 3986, 2.1).
pub fn path(at: &str, query: &[(&str, String)]) -> String {
    let mut out = at.to_owned();
    for (at, (name, text)) in query.iter().enumerate() {
        out.push(if at == 0 { '?' } else { '&' });
        out.push_str(name);
        out.push('=');
        for byte in text.bytes() {
            match byte {
                b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                    out.push(char::from(byte))
                }
                other => out.push_str(&format!("%{other:02X}")),
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::row::{Fate, Flag, Right};
    use super::*;

    #[test]
    fn choices_travel_in_the_query() {
        let mapping = Some(BTreeMap::from([(2, Field::LastCollection)]));
        let dates = BTreeMap::from([(
            1,
            DateAnswer {
                order: Some(DayOrder::DayFirst),
                serials: None,
            },
        )]);
        let text = serde_json::to_string(&Choices { mapping, dates }).unwrap();
        assert_eq!(
            text,
            r#"{"mapping":{"2":"last_collection"},"dates":{"1":{"order":"day_first"}}}"#
        );
        assert_eq!(
            path(
                "/api/v1/import/preview",
                &[("choices", r#"{"a":1}"#.to_owned())]
            ),
            "/api/v1/import/preview?choices=%7B%22a%22%3A1%7D"
        );
    }

    #[test]
    fn a_row_of_each_fate_reads() {
        let rows = r#"[
            {"line":2,"number":"12","fate":{"fate":"new","boar":{"number":"12"},"pen":null,"arrived":null},"flags":[{"flag":"formula","field":"name"}]},
            {"line":3,"number":"13","fate":{"fate":"same","boar":"01932c5e-7b1a-7000-8000-000000000001"},"flags":[]},
            {"line":4,"number":"14","fate":{"fate":"differs","boar":"x","changes":[{"field":"line","old":"nothing","new":{"text":"North"}}]},"flags":[]},
            {"line":5,"number":"12","fate":{"fate":"duplicate_in_file","line":2,"differs":true},"flags":[]},
            {"line":6,"number":"15","fate":{"fate":"waits","field":"born","read":"03/04/2025"},"flags":[]},
            {"line":7,"number":"16","fate":{"fate":"refused","field":"born","read":"soon","right":{"right":"real_day","order":null}},"flags":[{"flag":"later"}]}
        ]"#;
        let rows: Vec<Row> = serde_json::from_str(rows).unwrap();
        assert_eq!(rows[0].fate, Fate::New);
        assert_eq!(rows[1].fate, Fate::Same);
        assert!(matches!(
            &rows[5].fate,
            Fate::Refused {
                right: Right::RealDay,
                ..
            }
        ));
        assert_eq!(rows[5].flags, [Flag::Other]);
    }

    #[test]
    fn a_file_that_does_not_read_says_why() {
        let text = r#"{"unread":{"why":{"error":"no_number","columns":[{"index":0,"header":"W","field":null,"samples":[]}]},"detail":"d"}}"#;
        let Preview::Unread {
            why: Why::NoNumber { columns },
            ..
        } = serde_json::from_str(text).unwrap()
        else {
            panic!("no number")
        };
        assert_eq!(columns.len(), 1);
        let other = r#"{"unread":{"why":{"error":"of_a_newer_office","line":1},"detail":"d"}}"#;
        let long = r#"{"error":"line_too_long","line":1,"bytes":9,"most":8}"#;
        assert_eq!(
            serde_json::from_str::<Why>(long).unwrap(),
            Why::LineTooLong { line: 1 }
        );
        assert!(matches!(
            serde_json::from_str(other),
            Ok(Preview::Unread {
                why: Why::Other,
                ..
            })
        ));
    }
}
