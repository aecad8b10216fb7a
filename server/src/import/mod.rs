//! Bringing in a list of boars from a file of comma-separated values.
//!
//! Pure on both halves: [`plan`] turns bytes and what is already known into a [`Plan`] that tells
//! each row's fate, and [`facts`] turns an accepted plan into everything to be written, or into
//! nothing. No store, no clock, no network; the person's answers come in as [`Choices`].

mod cells;
pub(crate) mod dates;
mod error;
mod facts;
pub(crate) mod header;
mod judge;
mod plan;
pub(crate) mod table;
pub(crate) mod text;
pub(crate) mod words;

pub use dates::DayOrder;
pub use error::ImportError;
pub use facts::{BoarRef, Change, Decision, Draft, Facts, FactsError, PenRef, Unmade, facts};
pub use header::Field;
pub use plan::{
    Ask, Column, Differs, Fate, Flag, Plan, PlannedPen, Question, Right, Row, Shape, Summary, Value,
};
pub use table::{Delimiter, Table};

use chrono::NaiveDate;
use pentally_domain::boar::Boar;
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::said::Label;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The largest file taken, in bytes.
pub const BYTES_MAX: usize = 20_000_000;
/// The most rows taken, blank ones not counted.
pub const ROWS_MAX: usize = 100_000;
/// The most columns of a header.
pub const COLUMNS_MAX: usize = 200;
/// The longest line taken, in bytes of UTF-8. It bounds what one row can cost.
pub const LINE_MAX: usize = 65_536;

/// What the person chose or answered; empty at first. Columns count from 0.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Choices {
    /// The encoding by its WHATWG label, such as `windows-1252`, where the guess was wrong.
    pub encoding: Option<String>,
    /// The delimiter, where the guess was wrong.
    pub delimiter: Option<Delimiter>,
    /// The first row holds a boar, not headings. Needs a mapping.
    pub headerless: bool,
    /// Columns named by hand; nothing is guessed beside it.
    pub mapping: Option<BTreeMap<usize, Field>>,
    /// Answers to the questions about columns of dates.
    pub dates: BTreeMap<usize, DateAnswer>,
}

/// What the person said about one column of dates.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct DateAnswer {
    /// Which comes first in 03/04/2025.
    pub order: Option<DayOrder>,
    /// Whether 45000 is a spreadsheet's count of days (1900 system).
    pub serials: Option<bool>,
}

/// A boar already in the barn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownBoar {
    /// Who.
    pub id: BoarId,
    /// His particulars as they read now.
    pub boar: Boar,
    /// Where he is now.
    pub pen: Option<PenId>,
    /// He left the farm for good. His number still names him, so that an old list does not
    /// bring him in a second time.
    pub gone: bool,
}

/// A pen already in the barn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownPen {
    /// Which.
    pub id: PenId,
    /// What is painted on the gate.
    pub name: Label,
}

/// What the barn already holds.
#[derive(Debug, Clone, Copy, Default)]
pub struct Known<'a> {
    /// Its boars.
    pub boars: &'a [KnownBoar],
    /// Its pens.
    pub pens: &'a [KnownPen],
}

/// Reads the file and tells each row's fate. `today` is the farm's day: nothing that has
/// happened lies after it.
pub fn plan(
    bytes: &[u8],
    choices: &Choices,
    known: Known<'_>,
    today: NaiveDate,
) -> Result<Plan, ImportError> {
    let table = Table::read(bytes, choices)?;
    judge::judge(&table, choices, known, today)
}

/// Two numbers or names that a person would call the same: case and outer or doubled white space
/// do not count. Leading zeros do: 007 and 7 may be two boars.
pub fn same_key(name: &str) -> String {
    name.split_whitespace()
        .map(str::to_lowercase)
        .collect::<Vec<_>>()
        .join(" ")
}
