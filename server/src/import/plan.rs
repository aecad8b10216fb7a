//! What an import would do: typed results, for the screen to put into words.

use super::dates::DayOrder;
use super::header::Field;
use super::table::Delimiter;
use chrono::NaiveDate;
use pentally_domain::boar::Boar;
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::said::Label;
use serde::Serialize;
use std::collections::BTreeSet;

/// The file as understood, what is asked about it, and the fate of each of its rows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// How the file was read.
    pub shape: Shape,
    /// What only the person can tell. While one stands, nothing is written.
    pub questions: Vec<Question>,
    /// The pens named in rows of new boars or of boars who moved, known and new.
    pub pens: Vec<PlannedPen>,
    /// The rows, in order, blank ones left out.
    pub rows: Vec<Row>,
}

/// How many rows meet which fate.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Summary {
    /// All rows.
    pub rows: usize,
    /// New boars.
    pub new: usize,
    /// Already there, nothing changes.
    pub same: usize,
    /// Already there with other particulars.
    pub differs: usize,
    /// A number that stood further up in the file.
    pub duplicates: usize,
    /// Refused.
    pub refused: usize,
    /// Waiting for an answer.
    pub waiting: usize,
    /// New pens that new boars stand in.
    pub pens: usize,
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

/// Something about one column that its cells do not tell.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Question {
    /// Which column; the answer goes under this number into the choices.
    pub column: usize,
    /// Its heading.
    pub header: String,
    /// What it holds.
    pub field: Field,
    /// The question.
    pub ask: Ask,
}

/// What is asked about a column of dates.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub enum Ask {
    /// Day or month first? Every cell could be both.
    Order {
        /// A cell.
        example: String,
        /// The day it is with the day first.
        day_first: NaiveDate,
        /// The day it is with the month first.
        month_first: NaiveDate,
        /// What another column of the same file leaves no doubt of.
        likely: Option<DayOrder>,
    },
    /// Day or month first? The cells contradict each other; those that do not fit the answer
    /// are refused.
    Mixed {
        /// A cell that reads only with the day first.
        day_first: String,
        /// A cell that reads only with the month first.
        month_first: String,
    },
    /// Are whole numbers a spreadsheet's count of days?
    Serials {
        /// A cell.
        example: String,
        /// The day it would be.
        day: NaiveDate,
    },
}

/// A pen named in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlannedPen {
    /// As first written, or as painted on the gate if known.
    pub name: Label,
    /// The pen, if the barn has it.
    pub known: Option<PenId>,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Row {
    /// The line of the file on which it begins, from 1.
    pub line: u64,
    /// The number as written, cut at 60 characters.
    pub number: String,
    /// What becomes of it.
    pub fate: Fate,
    /// What deserves a look, whatever its fate.
    pub flags: Vec<Flag>,
}

/// What becomes of a row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "fate", rename_all = "snake_case")]
pub enum Fate {
    /// A new boar.
    New {
        /// His particulars.
        boar: Box<Boar>,
        /// His pen, as a place in [`Plan::pens`].
        pen: Option<usize>,
        /// The day he came.
        arrived: Option<NaiveDate>,
    },
    /// Already there, and the row says nothing else.
    Same {
        /// Who.
        boar: BoarId,
    },
    /// Already there with other particulars. Nothing is written unless asked.
    Differs {
        /// Who.
        boar: BoarId,
        /// What differs.
        changes: Vec<Differs>,
        /// His particulars as they would read, if they differ.
        #[serde(skip)]
        to: Option<Box<Boar>>,
        /// His move, if the pen differs: where he is, and a place in [`Plan::pens`].
        #[serde(skip)]
        moves: Option<(Option<PenId>, usize)>,
    },
    /// The number stood further up.
    DuplicateInFile {
        /// On that line.
        line: u64,
        /// Whether the two rows say different things; if not, this one is merely left out.
        differs: bool,
    },
    /// It waits for the answer about that field.
    Waits {
        /// The field.
        field: Field,
        /// The cell.
        read: String,
    },
    /// It cannot be taken.
    Refused {
        /// The field at fault; none when the row as a whole is.
        field: Option<Field>,
        /// What was read, cut at 60 characters.
        read: String,
        /// What would be right.
        right: Right,
    },
}

/// A particular that reads differently in barn and file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Differs {
    /// Which.
    pub field: Field,
    /// In the barn.
    pub old: Value,
    /// In the file.
    pub new: Value,
}

/// A particular's value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// Nothing is known.
    Nothing,
    /// Words.
    Text(String),
    /// A day.
    Day(NaiveDate),
    /// He has not worked yet.
    NoneYet,
}

/// What would be right instead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "right", rename_all = "snake_case")]
pub enum Right {
    /// Something must stand here.
    Given,
    /// At most so many characters.
    AtMost {
        /// The most.
        chars: usize,
    },
    /// A text on one line.
    OneLine,
    /// A date, such as 2025-03-24.
    Date,
    /// A day that exists, in the order of the column.
    RealDay {
        /// The order, where it matters.
        order: Option<DayOrder>,
    },
    /// Not after that day.
    NotAfter {
        /// The day.
        day: NaiveDate,
    },
    /// Not before that day.
    NotBefore {
        /// The day.
        day: NaiveDate,
    },
    /// Fifteen digits: three of a country or maker, and a number up to 274 877 906 943 (ISO 11784).
    Rfid,
    /// No more cells than headings: a delimiter in a cell needs quotation marks around it.
    Cells {
        /// The headings.
        most: usize,
    },
}

/// What deserves a look.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "flag", rename_all = "snake_case")]
pub enum Flag {
    /// The cell begins like a formula. It was kept as text and never worked out.
    Formula {
        /// The field.
        field: Field,
    },
    /// The cell holds U+FFFD: letters were lost before the file came here.
    Damaged {
        /// The field.
        field: Field,
    },
    /// Older than boars are kept.
    Old {
        /// His age in whole years.
        years: u32,
    },
    /// The ear tag or transponder also stands with that number, in the barn or further up.
    EarOf {
        /// The other's number.
        number: String,
    },
    /// The number differs only in leading zeros from that one, which a spreadsheet may have dropped.
    ZerosApart {
        /// The other's number.
        number: String,
    },
    /// The transponder bears the code for tests, 999 (ISO 11784).
    TestRfid,
    /// He is known to have left the farm.
    Gone,
}

impl Plan {
    /// Counts the fates.
    pub fn summary(&self) -> Summary {
        let mut sum = Summary {
            rows: self.rows.len(),
            ..Summary::default()
        };
        for row in &self.rows {
            *match row.fate {
                Fate::New { .. } => &mut sum.new,
                Fate::Same { .. } => &mut sum.same,
                Fate::Differs { .. } => &mut sum.differs,
                Fate::DuplicateInFile { .. } => &mut sum.duplicates,
                Fate::Waits { .. } => &mut sum.waiting,
                Fate::Refused { .. } => &mut sum.refused,
            } += 1;
        }
        let used = self.rows.iter().filter_map(|row| {
            if let Fate::New { pen, .. } = row.fate {
                pen
            } else {
                None
            }
        });
        let used: BTreeSet<_> = used.collect();
        sum.pens = used
            .iter()
            .filter(|at| self.pens.get(**at).is_some_and(|p| p.known.is_none()))
            .count();
        sum
    }
}
