//! Requests about days: what follows from a service or from weaning, and an age.

use super::{ReckonError, checked};
use crate::explain::Origin;
use crate::gestation::{
    Age, Expected, GESTATION_DAYS, HeatExpected, Served, ServiceHours, expected, heat_expected,
};
use crate::units::GestationDays;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// What is known of a sow; one field or more.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct GestationAsked {
    /// The farm's day of her service.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub served_on: Option<NaiveDate>,
    /// The farm's day of her weaning.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weaned_on: Option<NaiveDate>,
    /// Which sow is to be served.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub serving: Option<Served>,
    /// Length of pregnancy; 114 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gestation_days: Option<u32>,
    /// The record of the service or weaning.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

/// What follows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GestationAnswer {
    /// From her service.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after_service: Option<Expected>,
    /// From her weaning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after_weaning: Option<HeatExpected>,
    /// Hours after she first stood at which to serve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub service_hours: Option<ServiceHours>,
}

/// A birth date and a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AgeAsked {
    /// The birth date.
    pub born_on: NaiveDate,
    /// The day of the question.
    pub on_day: NaiveDate,
    /// The record of the birth date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

/// `gestation`
pub fn gestation(asked: &GestationAsked) -> Result<GestationAnswer, ReckonError> {
    if asked.served_on.is_none() && asked.weaned_on.is_none() && asked.serving.is_none() {
        return Err(ReckonError::Nothing {
            needs: "served_on, weaned_on or serving",
        });
    }
    let from = Origin::of(asked.from.as_ref());
    let days = asked.gestation_days.unwrap_or(GESTATION_DAYS.into());
    let days = checked("gestation_days", Some(days), GestationDays::new)?;
    let served = asked
        .served_on
        .zip(days)
        .map(|(day, days)| expected(day, days, &from));
    let weaned = asked.weaned_on.map(|day| heat_expected(day, &from));
    Ok(GestationAnswer {
        after_service: served.transpose()?,
        after_weaning: weaned.transpose()?,
        service_hours: asked.serving.map(Served::hours),
    })
}

/// `age`
pub fn age(asked: &AgeAsked) -> Result<Age, ReckonError> {
    let from = Origin::of(asked.from.as_ref());
    Ok(crate::gestation::age(asked.born_on, asked.on_day, &from)?)
}
