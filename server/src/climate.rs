//! Reading what a logger kept of a room's climate, from a file of comma-separated values.
//!
//! Pure: [`plan()`] turns bytes, the person's answers and what the farm already holds into a [`Plan`]
//! that tells what would be written and what was odd. No store, no clock, no network.
//!
//! Loading the same file twice changes nothing: each room and day is compared with the readings the
//! farm holds of it, and only what differs is written. What the farm holds is its entries merged
//! by [`pentally_domain::climate::merged`], handed in as `already`.

mod cells;
mod clock;
mod columns;
mod error;
mod header;
mod plan;
mod read;
mod sheet;
mod stamp;
mod thin;
mod tidy;

pub use cells::Unit;
pub use error::ClimateError;
pub use header::Field;
pub use plan::{
    Ask, Column, Conflict, DayFate, Draft, Gap, Listed, Plan, PlannedDay, Question, Refusal,
    RepeatedHour, Right, Shape, Stuck, Told,
};

use crate::import::{DayOrder, Delimiter};
use chrono::NaiveDate;
use pentally_domain::climate::RoomReadings;
use pentally_domain::said::Label;
use pentally_domain::time::Zone;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashMap};

/// The most rows taken, blank ones not counted: a year of minutes is 527,040.
pub const ROWS_MAX: usize = 600_000;
/// The most columns of a header.
pub const COLUMNS_MAX: usize = 200;
/// How many oddities of a kind are listed; the others are counted.
pub const LISTED_MAX: usize = 200;

/// What the person chose or answered; empty at first. Columns count from 0.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Choices {
    /// The encoding by its WHATWG label, such as `windows-1252`, where the guess was wrong.
    pub encoding: Option<String>,
    /// The delimiter, where the guess was wrong.
    pub delimiter: Option<Delimiter>,
    /// The first row holds a reading, not headings. Needs a mapping.
    pub headerless: bool,
    /// Columns named by hand; nothing is guessed beside it.
    pub mapping: Option<BTreeMap<usize, Field>>,
    /// The room the logger hung in; it comes before a column of rooms.
    pub room: Option<Label>,
    /// Which comes first in 03/04/2026.
    pub order: Option<DayOrder>,
    /// The unit of the temperatures.
    pub unit: Option<Unit>,
    /// Whether the humidity is written as a proportion, 0.65 for 65 %.
    pub proportion: Option<bool>,
    /// Which clock the stamps without an offset of their own follow.
    pub clock: Option<LoggerClock>,
}

/// The clock that stamps without an offset follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LoggerClock {
    /// The farm's, put forward and back with it.
    Farm,
    /// One that is never put forward or back, so many minutes east of UTC.
    Offset(i16),
}

/// Reads the file and tells what would be written. `zone` is the farm's, `now_ms` the present
/// (ms since 1970): nothing that was read lies after it. `already` yields what the farm holds of a
/// room and day, or none.
pub fn plan(
    bytes: &[u8],
    choices: &Choices,
    zone: &Zone,
    now_ms: i64,
    already: impl Fn(&Label, NaiveDate) -> Option<RoomReadings>,
) -> Result<Plan, ClimateError> {
    let sheet = sheet::Sheet::read(bytes, choices)?;
    let (columns, questions) = columns::settle(&sheet, choices, zone.day(now_ms))?;
    let shape = Shape {
        encoding: sheet.encoding(),
        delimiter: sheet.delimiter(),
        header_line: sheet.header_line(),
        columns: sheet.columns().to_vec(),
        unit: columns.unit,
        clock: columns.clock,
    };
    let mut plan = Plan {
        shape,
        questions,
        days: vec![],
        told: Told::default(),
    };
    if !plan.questions.is_empty() {
        return Ok(plan);
    }
    let mut taken = read::rows(&sheet, &columns, zone, now_ms)?;
    plan.questions.append(&mut taken.questions);
    if plan.questions.is_empty() {
        let tidy = tidy::tidy(taken, zone);
        plan.days = thin::days(&tidy, zone, already);
        plan.told = tidy.told;
    }
    Ok(plan)
}

/// What the farm holds, ready for [`plan()`], from its entries as [`pentally_domain::climate::merged`]
/// puts them together.
pub fn held(all: Vec<RoomReadings>) -> impl Fn(&Label, NaiveDate) -> Option<RoomReadings> {
    let key = |room: &Label, day| (room.as_str().to_lowercase(), day);
    let all: HashMap<_, _> = all.into_iter().map(|r| (key(&r.room, r.day), r)).collect();
    move |room, day| all.get(&key(room, day)).cloned()
}

#[cfg(test)]
mod tests;
