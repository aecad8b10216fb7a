//! What stands around a filling: the sows it is for, how long it keeps, whether both vessels are
//! equally warm.

use super::{ReckonError, checked};
use crate::doses::Recipe;
use crate::explain::{Explained, Origin, Printed, Term};
use crate::extender::{ExtenderClass, Keeping, MIXING, UNDILUTED_HOURS, undiluted_use_by};
use crate::serving::{SERVICES_PER_HEAT, Serving, serve};
use crate::time::{Stamp, TimeError};
use crate::units::{BoundError, ServicesPerHeat, Sows, TemperatureC};
use serde::{Deserialize, Serialize};

/// Sows that stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SowsAsked {
    /// How many.
    pub sows: u32,
    /// Services in this heat; 2 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub services_per_heat: Option<u32>,
}

/// What the doses are kept in, and from when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct KeepAsked {
    /// The extender's class; short unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extender: Option<ExtenderClass>,
    /// Days it is trusted for; the class's own unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
    /// When the earliest of the ejaculates was collected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub collected_at: Option<Stamp>,
}

/// Both temperatures, as measured.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct TemperaturesAsked {
    /// Of the semen in °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub semen_c: Option<f64>,
    /// Of the extender in °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extender_c: Option<f64>,
}

/// What a person settled although a default stood there, or kept although it lies outside the usual
/// range. It changes no figure; it is kept with a semen batch, so that a default taken and a default
/// confirmed stay two things, and an odd figure keeps its flag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Confirmed {
    /// The technique was chosen.
    Technique,
    /// How sperm count was chosen.
    CountAs,
    /// A volume outside its usual range was kept.
    Volume,
    /// A concentration outside its usual range was kept.
    Concentration,
    /// A target outside its usual range was kept.
    Target,
    /// A dose volume outside its usual range was kept.
    DoseVolume,
    /// A temperature of the semen outside its usual range was kept.
    SemenTemperature,
    /// A temperature of the extender outside its usual range was kept.
    ExtenderTemperature,
    /// Semen and extender stay further apart than they should.
    Temperatures,
    /// Raw semen that waited longer than undiluted semen keeps was used all the same.
    Age,
}

/// How long the doses keep.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {
    /// The extender's class; absent for undiluted semen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extender: Option<ExtenderClass>,
    /// Hours from the collection.
    pub hours: u16,
    /// To be used before; absent where the time of collection is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub use_by: Option<Stamp>,
}

/// Whether semen and extender may be poured together.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Temperatures {
    /// They may.
    Close {
        /// Apart by so many °C.
        apart_c: f64,
    },
    /// Wait: one of them has to come nearer to the other.
    Apart {
        /// Apart by so many °C.
        apart_c: f64,
        /// At most so many °C.
        at_most_c: f64,
    },
    /// One of the two was not measured.
    NotMeasured,
}

impl SowsAsked {
    /// Holds the doses at hand, where known, against what the sows need.
    pub(super) fn serve(&self, at_hand: Option<u32>) -> Result<Serving, BoundError> {
        let sows = Sows::new(self.sows).map_err(|e| e.named("sows"))?;
        let from = self
            .services_per_heat
            .map_or(Origin::Default, |_| Origin::Asked);
        let services = self.services_per_heat.unwrap_or(SERVICES_PER_HEAT.into());
        let services = ServicesPerHeat::new(services).map_err(|e| e.named("services_per_heat"))?;
        Ok(serve(sows, services, from, at_hand))
    }
}

impl KeepAsked {
    /// With extender.
    pub(super) fn extended(&self) -> Result<Kept, ReckonError> {
        let keeping = Keeping::new(self.extender, self.days).map_err(|e| e.named("days"))?;
        Ok(Kept {
            extender: Some(keeping.class()),
            hours: u16::from(keeping.days()) * 24,
            use_by: self.use_by(|at| keeping.use_by(at))?,
        })
    }

    /// Without extender.
    pub(super) fn undiluted(&self) -> Result<Kept, ReckonError> {
        let use_by = self.use_by(undiluted_use_by)?;
        Ok(Kept {
            extender: None,
            hours: UNDILUTED_HOURS.into(),
            use_by,
        })
    }

    fn use_by(
        &self,
        later: impl Fn(Stamp) -> Result<Stamp, TimeError>,
    ) -> Result<Option<Stamp>, ReckonError> {
        let late = |at: Stamp| {
            later(at).map_err(|_| ReckonError::Time {
                read: at.to_string(),
            })
        };
        self.collected_at.map(late).transpose()
    }
}

impl TemperaturesAsked {
    /// Holds both against each other. A tenth is as fine as a thermometer reads.
    pub(crate) fn compare(&self) -> Result<Temperatures, BoundError> {
        let semen = checked("semen_c", self.semen_c, TemperatureC::new)?;
        let extender = checked("extender_c", self.extender_c, TemperatureC::new)?;
        let Some((semen, extender)) = semen.zip(extender) else {
            return Ok(Temperatures::NotMeasured);
        };
        let apart_c = ((semen.value() - extender.value()).abs() * 10.0).round() / 10.0;
        let at_most_c = MIXING.apart_at_most_c;
        let close = apart_c <= at_most_c;
        Ok(if close {
            Temperatures::Close { apart_c }
        } else {
            Temperatures::Apart { apart_c, at_most_c }
        })
    }
}

/// Sperm and volume that the needed doses take.
pub(super) fn needs(serving: &Serving, recipe: &Recipe) -> Vec<Explained> {
    let needed = f64::from(serving.needed);
    let (target, volume) = (recipe.target.value(), recipe.dose_volume.value());
    let of = |figure, unit, formula| {
        let explained = Explained::new(figure, unit, formula, Printed::Definition);
        explained.with(Term::DosesNeeded, needed, "", Origin::Figure)
    };
    let sperm = of(Term::SpermNeeded, "×10⁹", "doses_needed * target_billions");
    let liquid = of(Term::VolumeNeeded, "mL", "doses_needed * dose_volume_ml");
    vec![
        sperm
            .with(Term::Target, target, "×10⁹", recipe.target_from.clone())
            .is(needed * target),
        liquid
            .with(
                Term::DoseVolume,
                volume,
                "mL",
                recipe.dose_volume_from.clone(),
            )
            .is(needed * volume),
    ]
}
