//! Why a file could not be read as a list of boars at all.

use super::plan::Column;
use super::{BYTES_MAX, COLUMNS_MAX, LINE_MAX, ROWS_MAX};
use serde::Serialize;

/// Why the whole file is refused. Troubles of single rows are fates in the plan instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, Serialize)]
#[serde(tag = "error", rename_all = "snake_case")]
pub enum ImportError {
    /// Larger than is taken.
    #[error(
        "the file has {bytes} bytes; at most {BYTES_MAX} are taken: split it and bring in the parts one after another"
    )]
    TooLarge {
        /// Its size.
        bytes: usize,
        /// The most that is taken.
        most: usize,
    },
    /// More rows than are taken.
    #[error(
        "the file has more than {ROWS_MAX} rows: split it and bring in the parts one after another"
    )]
    TooManyRows {
        /// The most that is taken.
        most: usize,
    },
    /// More columns than a list of boars has.
    #[error("line {line} has {columns} columns; at most {COLUMNS_MAX} are taken")]
    TooManyColumns {
        /// The line.
        line: u64,
        /// Its columns.
        columns: usize,
        /// The most that is taken.
        most: usize,
    },
    /// A line longer than is taken.
    #[error(
        "line {line} has {bytes} bytes; at most {LINE_MAX} are taken: is this a list with one boar a line?"
    )]
    LineTooLong {
        /// The line.
        line: u64,
        /// Its length in UTF-8.
        bytes: usize,
        /// The most that is taken.
        most: usize,
    },
    /// A spreadsheet's own file, not its text.
    #[error("this is a spreadsheet's workbook; save the sheet as CSV there and bring in that file")]
    Workbook,
    /// Not text at all.
    #[error(
        "line {line} holds bytes that are no text; a CSV file in UTF-8, UTF-16 or Windows-1252 is read"
    )]
    NotText {
        /// The line.
        line: u64,
    },
    /// Bytes that the encoding does not have.
    #[error("line {line} is not {encoding}; save the file as UTF-8, or choose its encoding")]
    Encoding {
        /// The encoding tried.
        encoding: String,
        /// The first line that does not read.
        line: u64,
    },
    /// An encoding nobody knows.
    #[error("'{read}' is no encoding known here; utf-8, utf-16le, utf-16be or windows-1252 is")]
    UnknownEncoding {
        /// What was asked for.
        read: String,
    },
    /// No row at all.
    #[error("the file holds no rows; a line of headings and a line for each boar are needed")]
    Empty,
    /// No heading names the boar's number.
    #[error("no column names the boar's number; the headings read are: {}; one of them must be number, id, tag or boar, or be chosen by hand", headings(.columns))]
    NoNumber {
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
    /// A quotation mark opens a cell and none closes it, so rows would be swallowed.
    #[error("the quotation mark that opens in the row of line {line} is never closed")]
    QuoteOpen {
        /// Where that row begins.
        line: u64,
    },
}

fn headings(columns: &[Column]) -> String {
    let list: Vec<_> = columns.iter().map(|c| format!("'{}'", c.header)).collect();
    list.join(", ")
}
