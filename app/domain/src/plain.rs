//! Doses without a microscope, as the Queensland Government prints them for small herds: up to
//! 100 mL gel-free semen undiluted at 34 °C within hours, or 20 mL made up to 80–100 mL.
//! Such doses are never counted, and say so.

use crate::explain::{Explained, Origin, Printed, Term, whole};
use crate::units::{BoundError, DoseVolumeMl, DosesAtMost, VolumeMl, within};
use serde::{Deserialize, Serialize};

/// Which of the two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlainRoute {
    /// Undiluted, used within hours.
    Undiluted,
    /// 20 mL of semen made up with extender.
    Extended,
}

/// What to fill.
#[derive(Debug, Clone, PartialEq)]
pub struct PlainRecipe {
    route: PlainRoute,
    dose_volume: DoseVolumeMl,
    at_most: Option<DosesAtMost>,
}

/// What can be made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlainMaking {
    /// Doses that nobody counted.
    NotCounted(PlainPlan),
    /// Less than the 20 mL of one dose.
    TooLittle,
    /// The volume was not measured.
    NotMeasured,
}

/// Doses to fill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlainPlan {
    /// How many.
    pub doses: u32,
    /// Volume of each in mL.
    pub dose_ml: f64,
    /// Semen in each in mL.
    pub semen_each_ml: f64,
    /// Extender to add in mL, for all.
    pub extender_ml: f64,
    /// Semen left as it is in mL.
    pub semen_left_ml: f64,
    /// How each came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// Semen in each extended dose in mL (Queensland Government).
pub const SEMEN_EACH_ML: f64 = 20.0;

impl PlainMaking {
    /// How many; none where the volume was not measured.
    pub fn doses(&self) -> Option<u32> {
        match self {
            Self::NotCounted(plan) => Some(plan.doses),
            Self::TooLittle => Some(0),
            Self::NotMeasured => None,
        }
    }
}

impl PlainRecipe {
    /// Undiluted up to 100 mL, 100 unless said; extended 80–100 mL, 80 unless said.
    pub fn new(
        route: PlainRoute,
        dose_volume: Option<DoseVolumeMl>,
        at_most: Option<DosesAtMost>,
    ) -> Result<Self, BoundError> {
        let (usual, low) = match route {
            PlainRoute::Undiluted => (DoseVolumeMl::HUNDRED, DoseVolumeMl::LOW),
            PlainRoute::Extended => (DoseVolumeMl::EIGHTY, 80.0),
        };
        let dose_volume = dose_volume.unwrap_or(usual);
        let (read, high) = (dose_volume.value(), DoseVolumeMl::HUNDRED.value());
        within("dose_volume_ml", read, low..=high, "mL")?;
        Ok(Self {
            route,
            dose_volume,
            at_most,
        })
    }

    /// The volume of each dose.
    pub const fn dose_volume(&self) -> DoseVolumeMl {
        self.dose_volume
    }
}

/// What can be made of a volume that nobody counted.
pub fn make_plain(volume: Option<VolumeMl>, from: &Origin, recipe: &PlainRecipe) -> PlainMaking {
    let Some(volume) = volume else {
        return PlainMaking::NotMeasured;
    };
    let each = semen_each(volume, from, recipe);
    let possible = whole(volume.value() / each.number());
    // No volume at all divides to NaN, which is not a dose either.
    if possible.is_nan() || possible < 1.0 {
        return PlainMaking::TooLittle;
    }
    let possible = Explained::new(
        Term::DosesPossible,
        "",
        "whole(volume_ml / semen_each_ml)",
        Printed::Queensland,
    )
    .with(Term::Volume, volume.value(), "mL", from.clone())
    .after(&each)
    .is(possible);
    let most = recipe
        .at_most
        .map_or(f64::from(DosesAtMost::HIGH), DosesAtMost::number);
    let doses = Explained::new(
        Term::Doses,
        "",
        "min(doses_possible, doses_at_most)",
        Printed::Definition,
    )
    .after(&possible)
    .with(
        Term::DosesAtMost,
        most,
        "",
        if recipe.at_most.is_some() {
            Origin::Asked
        } else {
            Origin::Default
        },
    )
    .is(possible.number().min(most));
    PlainMaking::NotCounted(fill(volume, from, recipe, [each, possible, doses]))
}

fn semen_each(volume: VolumeMl, from: &Origin, recipe: &PlainRecipe) -> Explained {
    let of = |formula| Explained::new(Term::SemenEach, "mL", formula, Printed::Queensland);
    match recipe.route {
        PlainRoute::Undiluted => of("min(volume_ml, dose_volume_ml)")
            .with(Term::Volume, volume.value(), "mL", from.clone())
            .with(
                Term::DoseVolume,
                recipe.dose_volume.value(),
                "mL",
                Origin::Asked,
            )
            .is(volume.value().min(recipe.dose_volume.value())),
        PlainRoute::Extended => of("20").is(SEMEN_EACH_ML),
    }
}

fn fill(
    volume: VolumeMl,
    from: &Origin,
    recipe: &PlainRecipe,
    [each, possible, doses]: [Explained; 3],
) -> PlainPlan {
    let n = doses.number();
    let full = recipe.dose_volume.value();
    let (dose_ml, extender) = match recipe.route {
        PlainRoute::Undiluted => (each.number(), None),
        PlainRoute::Extended => {
            let formula = "doses * (dose_volume_ml - semen_each_ml)";
            let extender = Explained::new(Term::Extender, "mL", formula, Printed::Queensland)
                .after(&doses)
                .with(Term::DoseVolume, full, "mL", Origin::Asked)
                .after(&each);
            (full, Some(extender.is(n * (full - each.number()))))
        }
    };
    let left = Explained::new(
        Term::SemenLeft,
        "mL",
        "max(0, volume_ml - doses * semen_each_ml)",
        Printed::Definition,
    )
    .with(Term::Volume, volume.value(), "mL", from.clone())
    .after(&doses)
    .after(&each)
    .is((volume.value() - n * each.number()).max(0.0));
    PlainPlan {
        doses: crate::doses::whole_number(n),
        dose_ml,
        semen_each_ml: each.number(),
        extender_ml: extender.as_ref().map_or(0.0, Explained::number),
        semen_left_ml: left.number(),
        figures: [each, possible, doses, left]
            .into_iter()
            .chain(extender)
            .collect(),
    }
}
