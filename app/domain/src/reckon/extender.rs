//! The request about one mixing of extender.

use super::{ReckonError, checked};
use crate::extender::mix::{Made, MixOdd, MixState, Timing, WaterSource, odd};
use crate::time::{Stamp, Zone};
use crate::units::{Conductivity, KeepsHours, ReadyMinutes, TemperatureC};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A mixing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExtenderAsked {
    /// When it was mixed; its offset is that of the farm's days.
    pub mixed_at: Stamp,
    /// When it is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub used_at: Option<Stamp>,
    /// Minutes until it may be used; 60 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ready_after_min: Option<u32>,
    /// Hours it keeps once mixed; 24 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeps_hours: Option<u32>,
    /// The lot's last day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub best_before: Option<NaiveDate>,
    /// Where the water is from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterSource>,
    /// What it conducts in µS/cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conductivity_us_cm: Option<f64>,
    /// How warm it was mixed, in °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
}

/// From when to when it is used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ExtenderAnswer {
    /// Used from.
    pub ready_at: Stamp,
    /// Used before.
    pub ends_at: Stamp,
    /// Minutes until ready, as used.
    pub ready_after_min: u16,
    /// Hours it keeps, as used.
    pub keeps_hours: u16,
    /// Its end is that of its lot.
    pub by_lot: bool,
    /// Nobody said how long it keeps: the default stands.
    pub keeps_by_default: bool,
    /// How it stands when it is used; absent where no such moment was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub state: Option<MixState>,
    /// What is odd, to be asked about once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub odd: Vec<MixOdd>,
}

/// `extender`
pub fn extender(asked: &ExtenderAsked) -> Result<ExtenderAnswer, ReckonError> {
    let mixed_at = asked.mixed_at;
    let zone = Zone::fixed("asked", mixed_at.offset_min());
    let timing = Timing {
        ready_after: checked("ready_after_min", asked.ready_after_min, ReadyMinutes::new)?,
        keeps: checked("keeps_hours", asked.keeps_hours, KeepsHours::new)?,
    };
    let conductivity = asked.conductivity_us_cm;
    let made = Made {
        water: asked.water,
        conductivity: checked("conductivity_us_cm", conductivity, Conductivity::new)?,
        temperature: checked("temperature_c", asked.temperature_c, TemperatureC::new)?,
    };
    let life = timing.life(mixed_at, asked.best_before, &zone);
    let life = life.map_err(|_| ReckonError::Moment {
        field: "mixed_at",
        read: mixed_at.to_string(),
    })?;
    Ok(ExtenderAnswer {
        ready_at: life.ready_at,
        ends_at: life.ends_at,
        ready_after_min: timing.ready_after_min(),
        keeps_hours: timing.keeps_hours(),
        by_lot: life.by_lot,
        keeps_by_default: life.keeps_by_default,
        state: asked.used_at.map(|at| life.at(at.ms())),
        odd: odd(&made, mixed_at, asked.best_before, asked.used_at, &zone),
    })
}
