//! How many doses to fill, of what volume, with how much semen and extender.

use super::{Making, Plan, Pooled, Recipe, target_m, whole_number};
use crate::explain::{Explained, Origin, Printed, Term, whole};
use crate::units::{DoseVolumeMl, DosesAtMost};

/// The share by which sperm in a dose may fall below the target through binary fractions alone.
const HAIR: f64 = 1e-12;

/// Plans doses, given that at least one is possible.
pub(super) fn plan(pooled: &Pooled, recipe: &Recipe, possible: &Explained) -> Making {
    let (doses, limited) = limit(recipe, possible, Term::Doses);
    let full_dose_m = recipe.dose_volume.value() * pooled.counted.number() / pooled.volume.number();
    if full_dose_m >= target_m(recipe) * (1.0 - HAIR) {
        Making::Made(extended(pooled, recipe, doses, limited))
    } else {
        Making::Thin {
            larger: larger(pooled, recipe, doses, limited),
            weaker: weaker(pooled, recipe),
        }
    }
}

/// What is wanted at most, where that is less than what is possible.
fn limit(recipe: &Recipe, possible: &Explained, figure: Term) -> (Explained, bool) {
    let of = |formula| Explained::new(figure, "", formula, Printed::Definition).after(possible);
    match recipe
        .at_most
        .map(DosesAtMost::number)
        .filter(|most| *most < possible.number())
    {
        Some(most) => {
            let explained = of("min(doses_possible, doses_at_most)").with(
                Term::DosesAtMost,
                most,
                "",
                Origin::Asked,
            );
            (explained.is(most), true)
        }
        None => (of("doses_possible").is(possible.number()), false),
    }
}

/// Doses of the volume asked for. All semen goes in, except where fewer doses are wanted, or where
/// it is so dense a fit that full doses of undiluted semen leave some over.
fn extended(pooled: &Pooled, recipe: &Recipe, doses: Explained, limited: bool) -> Plan {
    let dose = dose_volume(recipe);
    let (n, each, volume) = (doses.number(), dose.number(), pooled.volume.number());
    let used = |formula| {
        Explained::new(Term::SemenUsed, "mL", formula, Printed::Definition)
            .after(&pooled.volume)
            .after(&doses)
            .with(
                Term::DoseVolume,
                each,
                "mL",
                recipe.dose_volume_from.clone(),
            )
    };
    let semen = if limited {
        pooled.counting(used("min(doses * target_billions * 1000 / pool_usable_m * pool_volume_ml, doses * dose_volume_ml)"))
            .with(Term::Target, recipe.target.value(), "×10⁹", recipe.target_from.clone())
            .is((n * recipe.target.value() * 1000.0 / pooled.counted.number() * volume).min(n * each))
    } else {
        used("min(pool_volume_ml, doses * dose_volume_ml)").is(volume.min(n * each))
    };
    let extender = Explained::new(
        Term::Extender,
        "mL",
        "doses * dose_volume_ml - semen_used_ml",
        Printed::Definition,
    )
    .after(&doses)
    .with(
        Term::DoseVolume,
        each,
        "mL",
        recipe.dose_volume_from.clone(),
    )
    .after(&semen);
    let extender = extender.is(n * each - semen.number());
    fill(pooled, doses, dose, semen, Some(extender))
}

/// As many doses as reach the target, each larger than asked; none where one would exceed a dose's bounds.
fn larger(pooled: &Pooled, recipe: &Recipe, doses: Explained, limited: bool) -> Option<Plan> {
    let (n, volume) = (doses.number(), pooled.volume.number());
    let used = |formula| {
        Explained::new(Term::SemenUsed, "mL", formula, Printed::Definition).after(&pooled.volume)
    };
    let semen = if limited {
        let formula = "doses * target_billions * 1000 / pool_usable_m * pool_volume_ml";
        pooled
            .counting(used(formula).after(&doses))
            .with(
                Term::Target,
                recipe.target.value(),
                "×10⁹",
                recipe.target_from.clone(),
            )
            .is(n * recipe.target.value() * 1000.0 / pooled.counted.number() * volume)
    } else {
        used("pool_volume_ml").is(volume)
    };
    let dose = Explained::new(
        Term::DoseVolume,
        "mL",
        "semen_used_ml / doses",
        Printed::Definition,
    );
    let dose = dose.after(&semen).after(&doses).is(semen.number() / n);
    DoseVolumeMl::new(dose.number()).ok()?;
    Some(fill(pooled, doses, dose, semen, None))
}

/// As many doses of the volume asked for as the semen fills, each below the target.
fn weaker(pooled: &Pooled, recipe: &Recipe) -> Plan {
    let dose = dose_volume(recipe);
    let formula = "whole(pool_volume_ml / dose_volume_ml)";
    let possible = Explained::new(Term::DosesPossible, "", formula, Printed::Definition)
        .after(&pooled.volume)
        .with(
            Term::DoseVolume,
            dose.number(),
            "mL",
            recipe.dose_volume_from.clone(),
        )
        .is(whole(pooled.volume.number() / dose.number()));
    let (doses, _) = limit(recipe, &possible, Term::Doses);
    let semen = Explained::new(
        Term::SemenUsed,
        "mL",
        "min(pool_volume_ml, doses * dose_volume_ml)",
        Printed::Definition,
    )
    .after(&pooled.volume)
    .after(&doses)
    .with(
        Term::DoseVolume,
        dose.number(),
        "mL",
        recipe.dose_volume_from.clone(),
    )
    .is(pooled.volume.number().min(doses.number() * dose.number()));
    let mut plan = fill(pooled, doses, dose, semen, None);
    plan.figures.insert(0, possible);
    plan
}

fn dose_volume(recipe: &Recipe) -> Explained {
    let volume = recipe.dose_volume.value();
    Explained::new(
        Term::DoseVolume,
        "mL",
        "dose_volume_ml",
        Printed::Definition,
    )
    .with(
        Term::DoseVolume,
        volume,
        "mL",
        recipe.dose_volume_from.clone(),
    )
    .is(volume)
}

/// The rest of a plan, once doses, their volume and the semen in them are settled.
fn fill(
    pooled: &Pooled,
    doses: Explained,
    dose: Explained,
    semen: Explained,
    extender: Option<Explained>,
) -> Plan {
    let (n, each, used) = (doses.number(), dose.number(), semen.number());
    let left = Explained::new(
        Term::SemenLeft,
        "mL",
        "pool_volume_ml - semen_used_ml",
        Printed::Definition,
    );
    let left = left
        .after(&pooled.volume)
        .after(&semen)
        .is(pooled.volume.number() - used);
    let share = used / pooled.volume.number();
    let formula = "semen_used_ml / pool_volume_ml * pool_usable_m / doses";
    let sperm = Explained::new(Term::SpermEach, "M", formula, Printed::Definition)
        .after(&semen)
        .after(&pooled.volume)
        .after(&pooled.usable)
        .after(&doses)
        .is(share * pooled.usable.number() / n);
    let formula = "semen_used_ml / pool_volume_ml * pool_total_m / (doses * dose_volume_ml)";
    let density = Explained::new(
        Term::FinalConcentration,
        "M/mL",
        formula,
        Printed::Definition,
    )
    .after(&semen)
    .after(&pooled.volume)
    .after(&pooled.total)
    .after(&doses)
    .after(&dose)
    .is(share * pooled.total.number() / (n * each));
    Plan {
        doses: whole_number(n),
        dose_ml: each,
        semen_ml: used,
        semen_left_ml: left.number(),
        extender_ml: extender.as_ref().map_or(0.0, Explained::number),
        sperm_each_m: sperm.number(),
        final_m_per_ml: density.number(),
        figures: [doses, dose, semen, left]
            .into_iter()
            .chain(extender)
            .chain([sperm, density])
            .collect(),
    }
}
