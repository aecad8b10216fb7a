//! How warm and damp it was where the boars stand, and what it does to what they give.
//!
//! [`Reading::thi`] puts both into one figure, [`days`] folds the entries into farm days with their
//! hot hours, and [`load()`] and [`spells`] say what those days do weeks later.

mod carried;
mod day;
mod load;
mod thi;

pub use carried::{CARRIED_DAYS, carried};
pub use day::{
    FarmDay, HAND_READINGS, Heat, REACH_MINUTES, RoomDay, RoomReadings, WARM_PART, days, days_of,
    entries_of, merged,
};
pub use load::{
    Cooling, Expectation, LASTS_DAYS, Level, Load, SHOWS_AFTER_DAYS, Spell, TOLERATED_TO,
    TOLERATED_UNDER, When, cooling_due, expectation, load, lower_quality, spells,
};
pub use thi::{Band, thi};

use crate::said::Label;
use crate::units::{Percent, TemperatureC};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Readings of one room on one of the farm's days: one taken by hand, or what a logger kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Climate {
    /// The room.
    pub room: Label,
    /// The farm's day.
    pub day: NaiveDate,
    /// The readings, ascending in time. From 1 to 48.
    pub readings: Vec<Reading>,
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Minutes since the farm's day began; 1,500 at most, on the day the clock is put back.
    #[serde(rename = "m")]
    pub minute: u16,
    /// The air's temperature.
    #[serde(rename = "t")]
    pub air: TemperatureC,
    /// Relative humidity; absent when only a thermometer was read.
    #[serde(rename = "h", default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<Percent>,
}

impl Climate {
    /// The most readings one entry holds: one each half hour.
    pub const READINGS_MAX: usize = 48;
    /// The last minute a day may have.
    pub const MINUTE_MAX: u16 = 1_500;

    /// Whether the readings are as many as an entry holds, within the day and ascending.
    pub fn is_ordered(&self) -> bool {
        (1..=Self::READINGS_MAX).contains(&self.readings.len())
            && self.readings.iter().all(|r| r.minute <= Self::MINUTE_MAX)
            && self.readings.is_sorted_by(|a, b| a.minute < b.minute)
    }
}
