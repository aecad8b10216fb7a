//! From rows to readings at instants, or to why a row cannot be taken.

use super::LoggerClock;
use super::cells::{NumberCell, Unit, number};
use super::clock::{Wall, instants};
use super::columns::{Columns, Rooms, Stamps};
use super::error::ClimateError;
use super::header::Field;
use super::plan::{Ask, Question, Refusal, RepeatedHour, Right, Told};
use super::sheet::Sheet;
use super::stamp::{StampCell, Written};
use crate::import::table::shown;
use chrono::{Datelike, NaiveDate};
use csv::StringRecord;
use pentally_domain::said::Label;
use pentally_domain::time::{MINUTE_MS, Zone};
use pentally_domain::units::{Percent, TemperatureC};
use std::collections::HashMap;

/// The readings of a file.
pub(super) struct Taken {
    /// What only the person can tell.
    pub questions: Vec<Question>,
    /// The rooms, by first appearance.
    pub rooms: Vec<Label>,
    /// The readings, in no order.
    pub readings: Vec<Raw>,
    /// What deserves a word.
    pub told: Told,
}

/// One row's reading.
#[derive(Debug, Clone, Copy)]
pub(super) struct Raw {
    /// A place in [`Taken::rooms`].
    pub room: usize,
    /// When, ms since 1970.
    pub ms: i64,
    /// The line of the file.
    pub line: u64,
    /// In °C, within what is taken.
    pub air: f64,
    /// In %, within what is taken.
    pub humidity: Option<f64>,
}

/// A logger older than this many years has lost its date (common practice, no source).
const AGE_YEARS_MAX: i32 = 10;

/// Reads every row.
pub(super) fn rows(
    sheet: &Sheet,
    columns: &Columns,
    zone: &Zone,
    now_ms: i64,
) -> Result<Taken, ClimateError> {
    let oldest = NaiveDate::from_ymd_opt(columns.today.year() - AGE_YEARS_MAX, 1, 1);
    let mut desk = Desk {
        columns,
        zone,
        now_ms,
        oldest: oldest.unwrap_or(NaiveDate::MIN),
        oldest_ms: zone.day_start_ms(oldest.unwrap_or_default()),
        room_at: HashMap::new(),
        rooms: vec![],
        waiting: vec![],
        asked: None,
        told: Told::default(),
    };
    sheet.each(|line, record| desk.row(line, record))?;
    Ok(desk.finish())
}

struct Desk<'a> {
    columns: &'a Columns,
    zone: &'a Zone,
    now_ms: i64,
    oldest: NaiveDate,
    oldest_ms: i64,
    room_at: HashMap<String, usize>,
    rooms: Vec<Label>,
    waiting: Vec<Waiting>,
    asked: Option<Ask>,
    told: Told,
}

/// A reading whose instant may be one of two.
struct Waiting {
    wall: Wall,
    raw: Raw,
}

/// Why a cell cannot be taken.
struct No {
    field: Option<Field>,
    read: String,
    right: Right,
}

impl Desk<'_> {
    fn row(&mut self, line: u64, record: &StringRecord) {
        self.told.rows += 1;
        match self.read(line, record) {
            Ok(Some(waiting)) => self.waiting.push(waiting),
            Ok(None) => {}
            Err(no) => self.refuse(line, no),
        }
    }

    fn refuse(&mut self, line: u64, no: No) {
        self.told.refused.push(Refusal {
            line,
            field: no.field,
            read: shown(&no.read),
            right: no.right,
        });
    }

    fn read(&mut self, line: u64, record: &StringRecord) -> Result<Option<Waiting>, No> {
        let width = self.columns.width;
        let beyond = record.iter().skip(width).find(|c| !c.trim().is_empty());
        if let Some(extra) = beyond {
            return Err(no(None, extra, Right::Cells { most: width }));
        }
        let Some(air) = self.air(record)? else {
            self.told.without_temperature += 1;
            return Ok(None);
        };
        let Some(wall) = self.wall(line, record)? else {
            return Ok(None);
        };
        let room = self.room(record)?;
        let humidity = match self.humidity(record) {
            Ok(humidity) => humidity,
            // The thermometer beside it may well be right.
            Err(trouble) => {
                self.refuse(line, trouble);
                None
            }
        };
        let raw = Raw {
            room,
            ms: 0,
            line,
            air,
            humidity,
        };
        Ok(Some(Waiting { wall, raw }))
    }

    fn air(&self, record: &StringRecord) -> Result<Option<f64>, No> {
        let cell = record.get(self.columns.temperature).unwrap_or_default();
        let wrong = |right| Err(no(Some(Field::Temperature), cell, right));
        let unit = self.columns.unit;
        match number(cell) {
            NumberCell::Blank => Ok(None),
            NumberCell::Unreadable => wrong(Right::Number),
            NumberCell::Value(_, Some(own)) if self.columns.unit_told && own != unit => {
                wrong(Right::InUnit { unit })
            }
            NumberCell::Value(value, own) => {
                let unit = own.unwrap_or(unit);
                let celsius = TemperatureC::new(unit.celsius(value));
                celsius
                    .map(|c| Some(c.value()))
                    .or_else(|_| wrong(bounds(unit)))
            }
        }
    }

    fn humidity(&self, record: &StringRecord) -> Result<Option<f64>, No> {
        let Some(cell) = self.columns.humidity.and_then(|at| record.get(at)) else {
            return Ok(None);
        };
        let wrong = |right| Err(no(Some(Field::Humidity), cell, right));
        match number(cell) {
            NumberCell::Blank => Ok(None),
            NumberCell::Value(value, None) => {
                let times = if self.columns.proportion { 100.0 } else { 1.0 };
                let percent = Percent::new(value * times);
                percent
                    .map(|p| Some(p.value()))
                    .or_else(|_| wrong(Right::Humidity))
            }
            NumberCell::Unreadable | NumberCell::Value(_, Some(_)) => wrong(Right::Number),
        }
    }

    fn room(&mut self, record: &StringRecord) -> Result<usize, No> {
        let room = match &self.columns.rooms {
            Some(Rooms::Chosen(room)) => room.clone(),
            Some(Rooms::Column(at)) => {
                let cell = record.get(*at).unwrap_or_default();
                Label::parse(cell).map_err(|_| no(Some(Field::Room), cell, Right::Room))?
            }
            None => return Err(no(Some(Field::Room), "", Right::Room)),
        };
        let next = self.rooms.len();
        let at = *self
            .room_at
            .entry(room.as_str().to_lowercase())
            .or_insert(next);
        if at == next {
            self.rooms.push(room);
        }
        Ok(at)
    }

    /// None while the person is asked which clock the logger follows.
    fn wall(&mut self, line: u64, record: &StringRecord) -> Result<Option<Wall>, No> {
        let field = match self.columns.stamp {
            Stamps::One(_) => Field::Stamp,
            Stamps::Apart(..) => Field::Date,
        };
        let read = || self.columns.stamp.shown(record);
        let wrong = |right| Err(no(Some(field), &read(), right));
        let wall = match self.columns.stamp.read(record, self.columns.today) {
            StampCell::Empty | StampCell::Unreadable => return wrong(Right::Stamp),
            StampCell::Instant(ms) => Wall::At(ms),
            StampCell::Written(written) => {
                let order = self.columns.order;
                match written.wall_ms(order) {
                    Some(wall_ms) => self.place(wall_ms, &written),
                    None => return wrong(Right::RealDay { order }),
                }
            }
        };
        match wall {
            Wall::Skipped(_) if self.columns.clock_chosen => wrong(Right::RealTime),
            Wall::Skipped(offset_min) => {
                let read = shown(&read());
                // Once for the whole file.
                self.asked.get_or_insert(Ask::Clock {
                    line,
                    read,
                    offset_min,
                });
                Ok(None)
            }
            Wall::At(ms) | Wall::Twice(ms, _) if ms > self.now_ms => {
                let now = self.zone.local(self.now_ms);
                wrong(Right::NotAfter { now })
            }
            Wall::At(ms) | Wall::Twice(ms, _) if ms < self.oldest_ms => {
                wrong(Right::NotBefore { day: self.oldest })
            }
            wall => Ok(Some(wall)),
        }
    }

    fn place(&self, wall_ms: i64, written: &Written<'_>) -> Wall {
        let fixed = |minutes: i16| Wall::At(wall_ms - i64::from(minutes) * MINUTE_MS);
        match (written.offset_min, self.columns.clock) {
            (Some(minutes), _) | (None, LoggerClock::Offset(minutes)) => fixed(minutes),
            (None, LoggerClock::Farm) => instants(self.zone, wall_ms),
        }
    }

    fn finish(mut self) -> Taken {
        // Loggers write the oldest first or the newest first; the hour that came twice is told by
        // where the file goes back in time, so it is walked in the direction of time.
        let first = self.waiting.first().map(|w| w.wall.earliest());
        let last = self.waiting.last().map(|w| w.wall.earliest());
        if first > last {
            self.waiting.reverse();
        }
        let mut latest: Vec<Option<i64>> = vec![None; self.rooms.len()];
        let mut readings = Vec::with_capacity(self.waiting.len());
        for waiting in self.waiting {
            let mut raw = waiting.raw;
            let before = latest.get_mut(raw.room);
            raw.ms = match waiting.wall {
                Wall::Twice(first, second) => {
                    let is_second = before
                        .as_ref()
                        .is_some_and(|b| b.is_some_and(|b| b >= first));
                    count(&mut self.told.repeated, raw.line, is_second);
                    if is_second { second } else { first }
                }
                wall => wall.earliest(),
            };
            if let Some(before) = before {
                *before = Some(raw.ms);
            }
            readings.push(raw);
        }
        Taken {
            questions: self
                .asked
                .map(|ask| Question { header: None, ask })
                .into_iter()
                .collect(),
            rooms: self.rooms,
            readings,
            told: self.told,
        }
    }
}

impl Wall {
    /// The first instant it may be.
    const fn earliest(self) -> i64 {
        match self {
            Self::At(ms) | Self::Twice(ms, _) => ms,
            Self::Skipped(_) => i64::MIN,
        }
    }
}

fn count(repeated: &mut Option<RepeatedHour>, line: u64, is_second: bool) {
    let hour = repeated.get_or_insert(RepeatedHour {
        line,
        first: 0,
        second: 0,
    });
    hour.line = hour.line.min(line);
    *(if is_second {
        &mut hour.second
    } else {
        &mut hour.first
    }) += 1;
}

fn no(field: Option<Field>, read: &str, right: Right) -> No {
    No {
        field,
        read: read.to_owned(),
        right,
    }
}

fn bounds(unit: Unit) -> Right {
    let (low, high) = unit.bounds();
    Right::Temperature { low, high, unit }
}
