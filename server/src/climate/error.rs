//! Why a file could not be read as a logger's readings at all.

use super::plan::Column;
use super::{COLUMNS_MAX, ROWS_MAX};
use crate::import::{ImportError, LINE_MAX};
use serde::Serialize;

/// Why the whole file is refused. Troubles of single rows are told in the plan instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, Serialize)]
#[serde(tag = "error", rename_all = "snake_case")]
pub enum ClimateError {
    /// The bytes are no table that can be read.
    #[error(transparent)]
    File {
        /// Why.
        #[from]
        #[serde(rename = "why")]
        source: ImportError,
    },
    /// No row at all.
    #[error("the file holds no rows; a line of headings and a line for each reading are needed")]
    Empty,
    /// A line longer than is taken.
    #[error(
        "line {line} has {bytes} bytes; at most {LINE_MAX} are taken: is this a file with one reading a line?"
    )]
    LineTooLong {
        /// The line.
        line: u64,
        /// Its length in UTF-8.
        bytes: usize,
    },
    /// More rows than are taken.
    #[error(
        "the file has more than {ROWS_MAX} rows: split it and load the parts one after another"
    )]
    TooManyRows,
    /// More columns than a logger's file has.
    #[error("line {line} has {columns} columns; at most {COLUMNS_MAX} are taken")]
    TooManyColumns {
        /// The line.
        line: u64,
        /// Its columns.
        columns: usize,
    },
    /// No heading names the temperature.
    #[error("no column names the temperature; the headings read are: {}; one of them must be temperature or temp, or be chosen by hand", headings(.columns))]
    NoTemperature {
        /// The columns as read.
        columns: Vec<Column>,
    },
    /// No heading names the time.
    #[error("no column names the time; the headings read are: {}; one of them must be date and time, or two of them date and time apart, or be chosen by hand", headings(.columns))]
    NoTime {
        /// The columns as read.
        columns: Vec<Column>,
    },
    /// A mapping by hand that does not fit the file.
    #[error(
        "column {column} cannot be mapped: the file has columns 0 to {last}, and each field takes one column"
    )]
    Mapping {
        /// The column.
        column: usize,
        /// The last column of the file.
        last: usize,
    },
    /// An offset that no place on Earth has.
    #[error("a clock cannot be {minutes} minutes from UTC; from -840 to 840 are taken")]
    Offset {
        /// What was chosen.
        minutes: i16,
    },
}

impl ClimateError {
    /// A trouble of the file, in the words of a logger's rather than of a list of boars.
    pub(super) fn of(error: ImportError) -> Self {
        match error {
            ImportError::Empty => Self::Empty,
            ImportError::LineTooLong { line, bytes, .. } => Self::LineTooLong { line, bytes },
            source => Self::File { source },
        }
    }
}

fn headings(columns: &[Column]) -> String {
    let list: Vec<_> = columns.iter().map(|c| format!("'{}'", c.header)).collect();
    list.join(", ")
}
