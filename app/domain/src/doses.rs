//! From an ejaculate to doses.
//!
//! What was not measured is never a number: a missing measurement yields [`Making::NotMeasured`].
//! Computed per ejaculate and then summed, never from averages.

use crate::explain::{Explained, Origin, Printed, Term, whole};
use crate::farm::CountAs;
use crate::units::{Concentration, DoseVolumeMl, DosesAtMost, Percent, SpermBillions, VolumeMl};
use serde::{Deserialize, Serialize};

mod plan;

/// Where the semen is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Technique {
    /// In the cervix: the default.
    #[default]
    Intracervical,
    /// Behind the cervix; in gilts the catheter may not pass.
    PostCervical,
    /// Deep in the horn; hidden unless asked for.
    DeepUterine,
}

/// One ejaculate, as far as it was measured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ejaculate {
    /// Gel-free volume.
    pub volume: Option<VolumeMl>,
    /// Concentration.
    pub concentration: Option<Concentration>,
    /// Motile.
    pub motile: Option<Percent>,
    /// Abnormal.
    pub abnormal: Option<Percent>,
    /// The record of the volume.
    pub volume_from: Origin,
    /// The record of the rest.
    pub bench_from: Origin,
}

/// What a dose is to hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// How sperm count.
    pub count_as: CountAs,
    /// Sperm counted so, in each dose.
    pub target: SpermBillions,
    /// Volume of each dose.
    pub dose_volume: DoseVolumeMl,
    /// Doses wanted at most; the rest of the semen stays as it is.
    pub at_most: Option<DosesAtMost>,
    /// Where the target is from.
    pub target_from: Origin,
    /// Where the dose volume is from.
    pub dose_volume_from: Origin,
}

/// What can be made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Making {
    /// Doses that reach the target in their volume.
    Made(Plan),
    /// Too thin to reach the target in the dose volume: no extender; larger doses, or weaker ones, or pool.
    Thin {
        /// As many as reach the target, each larger; none where a dose would exceed 200 mL.
        larger: Option<Plan>,
        /// As many as the volume fills, each below the target.
        weaker: Plan,
    },
    /// Not one dose: lower the target, or pool.
    TooFew {
        /// Sperm that count, in millions; where an assurance was asked, those that can be counted on.
        usable_m: f64,
        /// Sperm one dose is to hold, in millions.
        target_m: f64,
    },
    /// Something was not measured, so nothing is computed.
    NotMeasured {
        /// What, and of which ejaculate (counting from 0).
        missing: Vec<(usize, Missing)>,
    },
}

/// A measurement nobody made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Missing {
    /// Volume.
    Volume,
    /// Concentration.
    Concentration,
    /// Motility.
    Motility,
    /// Abnormal sperm.
    Abnormal,
}

/// Doses to fill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// How many.
    pub doses: u32,
    /// Volume of each in mL.
    pub dose_ml: f64,
    /// Semen to take in mL.
    pub semen_ml: f64,
    /// Semen left as it is in mL.
    pub semen_left_ml: f64,
    /// Extender to add in mL.
    pub extender_ml: f64,
    /// Sperm that count, in each dose, in millions.
    pub sperm_each_m: f64,
    /// All sperm in M/mL of finished dose.
    pub final_m_per_ml: f64,
    /// How each came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

impl Making {
    /// Doses that reach the target; none where that is not known, or where the semen is too thin
    /// for any dose a sow could hold.
    pub fn reaching(&self) -> Option<u32> {
        match self {
            Self::Made(plan)
            | Self::Thin {
                larger: Some(plan), ..
            } => Some(plan.doses),
            Self::TooFew { .. } => Some(0),
            Self::Thin { larger: None, .. } | Self::NotMeasured { .. } => None,
        }
    }
}

impl Technique {
    /// Target and dose volume to start from: 3×10⁹ in 80 mL (printed 2.5–3 in 80–90), 1.5×10⁹ in
    /// 45 mL, 0.15×10⁹ in 5 mL (from memory).
    pub const fn usual(self) -> (SpermBillions, DoseVolumeMl) {
        match self {
            Self::Intracervical => (SpermBillions::THREE, DoseVolumeMl::EIGHTY),
            Self::PostCervical => (SpermBillions::ONE_AND_A_HALF, DoseVolumeMl::FORTY_FIVE),
            Self::DeepUterine => (SpermBillions::DEEP, DoseVolumeMl::FIVE),
        }
    }

    /// Whether screens keep it back until it is asked for.
    pub const fn hidden(self) -> bool {
        matches!(self, Self::DeepUterine)
    }
}

impl Ejaculate {
    /// What is missing to count its sperm so.
    pub fn missing(&self, count_as: CountAs) -> impl Iterator<Item = Missing> {
        let motile = count_as != CountAs::Total && self.motile.is_none();
        let abnormal = count_as == CountAs::MotileNormal && self.abnormal.is_none();
        [
            (self.volume.is_none(), Missing::Volume),
            (self.concentration.is_none(), Missing::Concentration),
            (motile, Missing::Motility),
            (abnormal, Missing::Abnormal),
        ]
        .into_iter()
        .filter_map(|(absent, what)| absent.then_some(what))
    }

    /// All sperm, and sperm that count; none where a measurement is missing.
    fn sperm(&self, count_as: CountAs) -> Option<[Explained; 2]> {
        let (volume, concentration) = (self.volume?.value(), self.concentration?.value());
        let bench = || self.bench_from.clone();
        let total = Explained::new(
            Term::Total,
            "M",
            "volume_ml * concentration_m_per_ml",
            Printed::Definition,
        )
        .with(Term::Volume, volume, "mL", self.volume_from.clone())
        .with(Term::Concentration, concentration, "M/mL", bench())
        .is(volume * concentration);
        let all = total.number();
        let usable =
            |formula| Explained::new(Term::Usable, "M", formula, Printed::Definition).after(&total);
        let usable = match count_as {
            CountAs::Total => usable("total_m").is(all),
            CountAs::Motile => {
                let motile = self.motile?.value();
                let explained = usable("total_m * motile_percent / 100");
                explained
                    .with(Term::Motile, motile, "%", bench())
                    .is(all * motile / 100.0)
            }
            CountAs::MotileNormal => {
                let (motile, abnormal) = (self.motile?.value(), self.abnormal?.value());
                usable("total_m * motile_percent / 100 * (100 - abnormal_percent) / 100")
                    .with(Term::Motile, motile, "%", bench())
                    .with(Term::Abnormal, abnormal, "%", bench())
                    .is(all * motile / 100.0 * (100.0 - abnormal) / 100.0)
            }
        };
        Some([total, usable])
    }
}

/// The sperm of a pool that can be counted on: less than its mean by so many times its spread.
pub(crate) struct Certain {
    /// The mean, in millions.
    pub(crate) mean_m: f64,
    /// One standard deviation, in millions.
    pub(crate) spread_m: f64,
    /// How many of them.
    pub(crate) spreads: f64,
}

/// What can be made of an ejaculate, or of several poured together; and the figures it rests on.
pub fn make(pool: &[Ejaculate], recipe: &Recipe) -> (Making, Vec<Explained>) {
    make_certain(pool, recipe, None)
}

/// The same, with doses counted from what can be counted on, where that is given, and never from
/// more than was measured.
pub(crate) fn make_certain(
    pool: &[Ejaculate],
    recipe: &Recipe,
    certain: Option<&Certain>,
) -> (Making, Vec<Explained>) {
    let of_each = |(i, e): (usize, &Ejaculate)| {
        e.missing(recipe.count_as)
            .map(move |what| (i, what))
            .collect::<Vec<_>>()
    };
    let missing: Vec<_> = pool.iter().enumerate().flat_map(of_each).collect();
    if !missing.is_empty() {
        return (Making::NotMeasured { missing }, vec![]);
    }
    let mut figures: Vec<_> = pool
        .iter()
        .filter_map(|e| e.sperm(recipe.count_as))
        .flatten()
        .collect();
    let mut pooled = Pooled::of(pool, &figures);
    figures.extend([
        pooled.volume.clone(),
        pooled.total.clone(),
        pooled.usable.clone(),
    ]);
    if let Some(certain) = certain {
        pooled.counted = pooled.certain(certain);
        figures.push(pooled.counted.clone());
    }
    let possible = pooled.possible(recipe);
    figures.push(possible.clone());
    figures.extend(pooled.shares(&figures));
    if possible.number() < 1.0 {
        let usable_m = pooled.counted.number();
        return (
            Making::TooFew {
                usable_m,
                target_m: target_m(recipe),
            },
            figures,
        );
    }
    (plan::plan(&pooled, recipe, &possible), figures)
}

fn target_m(recipe: &Recipe) -> f64 {
    recipe.target.value() * 1000.0
}

/// A whole number that is not negative; the bounds of what goes in keep it far below 2³².
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "whole, from 0 to 3,000,000 an ejaculate"
)]
pub(crate) fn whole_number(doses: f64) -> u32 {
    doses as u32
}

/// All ejaculates poured together.
struct Pooled {
    volume: Explained,
    total: Explained,
    usable: Explained,
    /// What doses are counted from: `usable`, or what of it can be counted on.
    counted: Explained,
}

impl Pooled {
    fn of(pool: &[Ejaculate], figures: &[Explained]) -> Self {
        let volume = Explained::new(
            Term::PoolVolume,
            "mL",
            "sum(volume_ml)",
            Printed::Definition,
        );
        let held = || {
            pool.iter()
                .filter_map(|e| Some((e.volume?.value(), &e.volume_from)))
        };
        let volume = held().fold(volume, |e, (ml, from)| {
            e.with(Term::Volume, ml, "mL", from.clone())
        });
        let sum = |figure, formula, of: Term| {
            let parts = || figures.iter().filter(|f| f.figure == of);
            let explained = Explained::new(figure, "M", formula, Printed::Definition);
            parts()
                .fold(explained, Explained::after)
                .is(parts().map(Explained::number).sum::<f64>())
        };
        let usable = sum(Term::PoolUsable, "sum(usable_m)", Term::Usable);
        Self {
            volume: volume.is(held().map(|held| held.0).sum::<f64>()),
            total: sum(Term::PoolTotal, "sum(total_m)", Term::Total),
            counted: usable.clone(),
            usable,
        }
    }

    fn certain(&self, certain: &Certain) -> Explained {
        let formula = "max(0, min(pool_usable_m, pool_mean_m - spreads * pool_spread_m))";
        let (mean, spread) = (certain.mean_m, certain.spread_m);
        let of = || Origin::Sureness;
        Explained::new(Term::PoolAssured, "M", formula, Printed::Definition)
            .after(&self.usable)
            .with(Term::PoolMean, mean, "M", of())
            .with(Term::Spreads, certain.spreads, "", of())
            .with(Term::PoolSpread, spread, "M", of())
            .is((mean - certain.spreads * spread)
                .min(self.usable.number())
                .max(0.0))
    }

    /// A figure whose formula counts `pool_usable_m`, counting what doses are counted from.
    fn counting(&self, mut figure: Explained) -> Explained {
        let name = self.counted.figure.name();
        if self.counted.figure != Term::PoolUsable {
            figure.formula = figure.formula.replace("pool_usable_m", name).into();
        }
        figure.after(&self.counted)
    }

    /// Of the sperm that count, the share of each; none where nothing is pooled, or nothing counts.
    fn shares(&self, figures: &[Explained]) -> Vec<Explained> {
        let each = figures.iter().filter(|f| f.figure == Term::Usable);
        if each.clone().count() < 2 || self.usable.number() <= 0.0 {
            return vec![];
        }
        let formula = "usable_m / pool_usable_m * 100";
        let share = |one: &Explained| {
            Explained::new(Term::PoolShare, "%", formula, Printed::Definition)
                .after(one)
                .after(&self.usable)
                .is(one.number() / self.usable.number() * 100.0)
        };
        each.map(share).collect()
    }

    fn possible(&self, recipe: &Recipe) -> Explained {
        let formula = "whole(pool_usable_m / (target_billions * 1000))";
        let possible = Explained::new(Term::DosesPossible, "", formula, Printed::Definition);
        self.counting(possible)
            .with(
                Term::Target,
                recipe.target.value(),
                "×10⁹",
                recipe.target_from.clone(),
            )
            .is(whole(self.counted.number() / target_m(recipe)))
    }
}
