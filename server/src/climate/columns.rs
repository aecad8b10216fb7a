//! How the columns are read: what the file's cells together tell, and what only a person can.

use super::cells::{NumberCell, Unit, number};
use super::error::ClimateError;
use super::header::{Field, offset_said, unit_said};
use super::plan::{Ask, Column, Question};
use super::sheet::Sheet;
use super::stamp::{StampCell, stamp, stamp_apart};
use super::{Choices, LoggerClock};
use crate::import::DayOrder;
use crate::import::dates::{Evidence, Found};
use crate::import::header::order_said;
use chrono::NaiveDate;
use csv::StringRecord;
use pentally_domain::said::Label;

/// How the columns are read.
pub(super) struct Columns {
    /// Where the stamps stand.
    pub stamp: Stamps,
    /// Where the temperatures stand.
    pub temperature: usize,
    /// Where the humidity stands.
    pub humidity: Option<usize>,
    /// Where the rooms come from; none while the person is asked.
    pub rooms: Option<Rooms>,
    /// The order of day and month.
    pub order: DayOrder,
    /// The unit of temperatures that name none.
    pub unit: Unit,
    /// Whether the file or the person told the unit.
    pub unit_told: bool,
    /// Whether the humidity is a proportion.
    pub proportion: bool,
    /// The clock of stamps without an offset.
    pub clock: LoggerClock,
    /// Whether the person chose it.
    pub clock_chosen: bool,
    /// How many cells a row may have.
    pub width: usize,
    /// The farm's day.
    pub today: NaiveDate,
}

/// Where the stamps stand.
#[derive(Debug, Clone, Copy)]
pub(super) enum Stamps {
    /// Date and time of day in one column.
    One(usize),
    /// In two.
    Apart(usize, usize),
}

/// Where the rooms come from.
#[derive(Debug, Clone)]
pub(super) enum Rooms {
    /// The person said which.
    Chosen(Label),
    /// A column.
    Column(usize),
}

/// No barn in which boars live holds such a middle, day and night, in °C; in °F it is 2 °C (common
/// practice, no source).
const MIDDLE_CELSIUS_MAX: f64 = 35.0;
/// Nor one below freezing, in °F; in °C it is a summer's day (common practice, no source).
const MIDDLE_FAHRENHEIT_MIN: f64 = 32.0;

/// Walks through the file once and settles how it is read. `today` is the farm's.
pub(super) fn settle(
    sheet: &Sheet,
    choices: &Choices,
    today: NaiveDate,
) -> Result<(Columns, Vec<Question>), ClimateError> {
    let no_time = || ClimateError::NoTime {
        columns: sheet.columns().to_vec(),
    };
    let stamps = Stamps::of(sheet).ok_or_else(no_time)?;
    let no_temperature = || ClimateError::NoTemperature {
        columns: sheet.columns().to_vec(),
    };
    let temperature = sheet
        .column(Field::Temperature)
        .ok_or_else(no_temperature)?;
    let humidity = sheet.column(Field::Humidity);
    let seen = Survey::of(sheet, stamps, temperature, humidity, today)?;
    let mut asked = Asked(vec![]);
    let unit_told = choices.unit.or_else(|| unit_said(&temperature.header));
    let columns = Columns {
        stamp: stamps,
        temperature: temperature.index,
        humidity: humidity.map(|c| c.index),
        rooms: asked.rooms(sheet, choices),
        order: asked.order(&seen.dates, sheet, choices),
        unit: asked.unit(&seen, temperature, choices),
        unit_told: unit_told.is_some(),
        proportion: asked.proportion(&seen, humidity, choices),
        clock: clock(sheet, choices)?,
        clock_chosen: choices.clock.is_some(),
        width: sheet.columns().len(),
        today,
    };
    Ok((columns, asked.0))
}

impl Stamps {
    fn of(sheet: &Sheet) -> Option<Self> {
        let at = |field| sheet.column(field).map(|c| c.index);
        let apart = || Some(Self::Apart(at(Field::Date)?, at(Field::Clock)?));
        at(Field::Stamp).map(Self::One).or_else(apart)
    }

    /// Reads the stamp of a row.
    pub fn read<'a>(&self, record: &'a StringRecord, today: NaiveDate) -> StampCell<'a> {
        let cell = |at: usize| record.get(at).unwrap_or_default();
        match *self {
            Self::One(at) => stamp(cell(at), today),
            Self::Apart(date, clock) => stamp_apart(cell(date), cell(clock), today),
        }
    }

    /// The stamp's text, for showing.
    pub fn shown(&self, record: &StringRecord) -> String {
        let cell = |at: usize| record.get(at).unwrap_or_default().trim();
        match *self {
            Self::One(at) => cell(at).to_owned(),
            Self::Apart(date, clock) => format!("{} {}", cell(date), cell(clock)),
        }
    }
}

/// What the cells of the file together tell.
struct Survey {
    dates: Evidence,
    /// Temperatures without a unit of their own.
    temperatures: Vec<f64>,
    humidity_highest: Option<f64>,
}

impl Survey {
    fn of(
        sheet: &Sheet,
        stamps: Stamps,
        temperature: &Column,
        humidity: Option<&Column>,
        today: NaiveDate,
    ) -> Result<Self, ClimateError> {
        let mut seen = Self {
            dates: Evidence::default(),
            temperatures: vec![],
            humidity_highest: None,
        };
        sheet.each(|_, record| {
            if let StampCell::Written(written) = stamps.read(record, today) {
                seen.dates.see(written.text, written.date);
            }
            let value = |at: usize| match number(record.get(at).unwrap_or_default()) {
                NumberCell::Value(value, None) => Some(value),
                _ => None,
            };
            seen.temperatures.extend(value(temperature.index));
            if let Some(damp) = humidity.and_then(|c| value(c.index)) {
                let highest = seen.humidity_highest.unwrap_or(damp);
                seen.humidity_highest = Some(highest.max(damp));
            }
        })?;
        seen.temperatures.sort_unstable_by(f64::total_cmp);
        Ok(seen)
    }
}

/// The questions so far. Each function settles one thing, or asks.
struct Asked(Vec<Question>);

impl Asked {
    fn ask(&mut self, header: Option<&str>, ask: Ask) {
        let header = header.map(str::to_owned);
        self.0.push(Question { header, ask });
    }

    fn rooms(&mut self, sheet: &Sheet, choices: &Choices) -> Option<Rooms> {
        let column = sheet.column(Field::Room).map(|c| Rooms::Column(c.index));
        let rooms = choices.room.clone().map(Rooms::Chosen).or(column);
        if rooms.is_none() {
            self.ask(None, Ask::Room);
        }
        rooms
    }

    fn order(&mut self, dates: &Evidence, sheet: &Sheet, choices: &Choices) -> DayOrder {
        let column = sheet
            .column(Field::Stamp)
            .or_else(|| sheet.column(Field::Date));
        let header = column.map(|c| c.header.as_str());
        if let Some(order) = choices.order {
            return order;
        }
        let ask = match dates.found(header.and_then(order_said)) {
            Found::Order(order) => return order,
            Found::Mixed(day_first, month_first) => Some(Ask::Mixed {
                day_first,
                month_first,
            }),
            Found::Either(example, pair) => {
                let days = pair
                    .day(DayOrder::DayFirst)
                    .zip(pair.day(DayOrder::MonthFirst));
                days.map(|(day_first, month_first)| Ask::Order {
                    example,
                    day_first,
                    month_first,
                })
            }
        };
        if let Some(ask) = ask {
            self.ask(header, ask);
        }
        DayOrder::DayFirst
    }

    fn unit(&mut self, seen: &Survey, column: &Column, choices: &Choices) -> Unit {
        if let Some(unit) = choices.unit {
            return unit;
        }
        let told = unit_said(&column.header);
        let unit = told.unwrap_or(Unit::Celsius);
        let list = &seen.temperatures;
        let ends = list.first().zip(list.get(list.len() / 2)).zip(list.last());
        if let Some(((lowest, middle), highest)) = ends
            && is_odd(told, *middle, *highest)
        {
            let ask = Ask::Unit {
                told,
                lowest: *lowest,
                middle: *middle,
                highest: *highest,
            };
            self.ask(Some(&column.header), ask);
        }
        unit
    }

    fn proportion(&mut self, seen: &Survey, column: Option<&Column>, choices: &Choices) -> bool {
        if let Some(proportion) = choices.proportion {
            return proportion;
        }
        // No air in a barn is as dry as 1 %.
        let highest = seen.humidity_highest.filter(|h| *h > 0.0 && *h <= 1.0);
        if let Some(highest) = highest {
            let header = column.map(|c| c.header.as_str());
            self.ask(header, Ask::Proportion { highest });
        }
        false
    }
}

/// Whether temperatures do not look like their unit. Single wild values are a sensor's; where no
/// heading tells the unit they may be more.
fn is_odd(told: Option<Unit>, middle: f64, highest: f64) -> bool {
    let (_, most) = Unit::Celsius.bounds();
    match told {
        None => middle > MIDDLE_CELSIUS_MAX || highest > most,
        Some(Unit::Celsius) => middle > MIDDLE_CELSIUS_MAX,
        Some(Unit::Fahrenheit) => middle < MIDDLE_FAHRENHEIT_MIN,
    }
}

/// As chosen, as a heading tells, or the farm's.
fn clock(sheet: &Sheet, choices: &Choices) -> Result<LoggerClock, ClimateError> {
    if let Some(LoggerClock::Offset(minutes)) = choices.clock
        && !(-840..=840).contains(&minutes)
    {
        return Err(ClimateError::Offset { minutes });
    }
    let headed = [Field::Stamp, Field::Clock, Field::Date]
        .into_iter()
        .filter_map(|field| offset_said(&sheet.column(field)?.header));
    let headed = headed.map(LoggerClock::Offset).next();
    Ok(choices.clock.or(headed).unwrap_or(LoggerClock::Farm))
}
