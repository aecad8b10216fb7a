//! What becomes of one row of a list, as the office says it.

use super::answer::Field;
use chrono::NaiveDate;
use serde::Deserialize;

/// A row.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Its line.
    pub line: u64,
    /// The boar's number.
    pub number: String,
    /// What becomes of it.
    pub fate: Fate,
    /// What deserves a look.
    pub flags: Vec<Flag>,
}

/// What becomes of a row.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "fate", rename_all = "snake_case")]
pub enum Fate {
    /// A new boar.
    New,
    /// There already.
    Same,
    /// There with other particulars.
    Differs {
        /// Which.
        changes: Vec<Differs>,
    },
    /// Stood further up.
    DuplicateInFile {
        /// On that line.
        line: u64,
        /// With other particulars.
        differs: bool,
    },
    /// Waits for an answer.
    Waits {
        /// About this field.
        field: Field,
    },
    /// Cannot be taken.
    Refused {
        /// The field.
        field: Option<Field>,
        /// What was read.
        read: String,
        /// What would be right.
        right: Right,
    },
}

/// A particular that differs.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Differs {
    /// Which.
    pub field: Field,
    /// In the barn.
    pub old: Value,
    /// In the file.
    pub new: Value,
}

/// A particular's value.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// Nothing.
    Nothing,
    /// Words.
    Text(String),
    /// A day.
    Day(NaiveDate),
    /// Not worked yet.
    NoneYet,
}

/// What would be right.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "right", rename_all = "snake_case")]
pub enum Right {
    /// Something must stand here.
    Given,
    /// Fewer characters.
    AtMost {
        /// The most.
        chars: usize,
    },
    /// One line.
    OneLine,
    /// A date.
    Date,
    /// A day that exists.
    RealDay,
    /// Not after.
    NotAfter {
        /// That day.
        day: NaiveDate,
    },
    /// Not before.
    NotBefore {
        /// That day.
        day: NaiveDate,
    },
    /// ISO 11784.
    Rfid,
    /// As many cells as headings.
    Cells {
        /// The headings.
        most: usize,
    },
    /// Something a newer office asks for.
    #[serde(other)]
    Other,
}

/// What deserves a look.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "flag", rename_all = "snake_case")]
pub enum Flag {
    /// Begins like a formula.
    Formula,
    /// Letters were lost.
    Damaged,
    /// An old boar.
    Old {
        /// In years.
        years: u32,
    },
    /// The ear tag is another's too.
    EarOf {
        /// The other's number.
        number: String,
    },
    /// Differs in leading zeros only.
    ZerosApart {
        /// From that number.
        number: String,
    },
    /// A transponder for tests.
    TestRfid,
    /// He left the farm.
    Gone,
    /// Something a newer office flags.
    #[serde(other)]
    Other,
}
