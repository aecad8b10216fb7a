//! Requests of the filling table: doses that are counted, and doses that are not.

use super::around::{
    Confirmed, KeepAsked, Kept, SowsAsked, Temperatures, TemperaturesAsked, needs,
};
use super::sure::SureAsked;
use super::{ReckonError, checked};
use crate::assured::{self, Assured, Sureness, assure};
use crate::doses::{Ejaculate, Making, Recipe, Technique, make};
use crate::explain::{Explained, Origin, Term};
use crate::extender::{MIXING, Mixing};
use crate::farm::CountAs;
use crate::plain::{PlainMaking, PlainRecipe, PlainRoute, make_plain};
use crate::serving::Serving;
use crate::units::{
    Assurance, BoundError, Concentration, DoseVolumeMl, DosesAtMost, ErrorPercent, Percent,
    SpermBillions, VolumeMl, so_many,
};
use serde::{Deserialize, Serialize};

/// An ejaculate, as far as it was measured.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct EjaculateAsked {
    /// Gel-free volume in mL.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// Concentration in M/mL.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub concentration_m_per_ml: Option<f64>,
    /// Motile in %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motile_percent: Option<f64>,
    /// Abnormal in %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abnormal_percent: Option<f64>,
    /// The record of the volume.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_from: Option<String>,
    /// The record of the rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bench_from: Option<String>,
    /// How sure these figures are; read only where an assurance is asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sure: Option<SureAsked>,
}

/// Ejaculates to make doses of, sows that stand, or both.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct DosesAsked {
    /// What is poured together, 0 to 50 ejaculates.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ejaculates: Vec<EjaculateAsked>,
    /// How sperm count.
    pub count_as: CountAs,
    /// Where the semen is placed.
    pub technique: Technique,
    /// Sperm in each dose in 10⁹; the technique's own unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub target_billions: Option<f64>,
    /// Volume of each dose in mL; the technique's own unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dose_volume_ml: Option<f64>,
    /// Doses wanted at most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most: Option<u32>,
    /// The record of target and dose volume.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standard_from: Option<String>,
    /// Sows that stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub serving: Option<SowsAsked>,
    /// Extender and time of collection.
    pub keep: KeepAsked,
    /// Both temperatures.
    pub temperatures: TemperaturesAsked,
    /// What a person settled or kept.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub confirmed: Vec<Confirmed>,
    /// Leave out figures and habits of mixing: what is kept with a semen batch is kept small, and
    /// asking again without this shows them.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub brief: bool,
    /// With which assurance each dose is to hold the target, in %, 50 to 99.9. Absent: doses are
    /// counted from the measurements as if these were certain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub assurance_percent: Option<f64>,
    /// By how much one dose's share of the semen differs from the next one's, as one standard
    /// deviation in %; 2 unless said. Read only where an assurance is asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filling_error_percent: Option<f64>,
}

/// Doses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DosesAnswer {
    /// What can be made; absent when no ejaculate was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub making: Option<Making>,
    /// Sperm in each dose in 10⁹, as used.
    pub target_billions: f64,
    /// Volume of each dose in mL, as used.
    pub dose_volume_ml: f64,
    /// Whether the sows are served.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serving: Option<Serving>,
    /// How long the doses keep.
    pub kept: Kept,
    /// Whether both may be poured together.
    pub temperatures: Temperatures,
    /// Temperatures, times and habits of mixing and storing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mixing: Option<Mixing>,
    /// Figures outside their printed range, to be asked about once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub improbable: Vec<Term>,
    /// Of the sperm that count, the share of each ejaculate in % and in the order asked; none where
    /// nothing was pooled.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shares_percent: Vec<f64>,
    /// What the plan rests on; its own figures stand with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
    /// How sure the doses are, and what the plain formula would have said; absent where no assurance
    /// was asked, or something was not measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub assured: Option<Assured>,
}

/// A volume nobody counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlainAsked {
    /// Gel-free volume in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The record of the volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_from: Option<String>,
    /// Undiluted, or 20 mL made up.
    pub route: PlainRoute,
    /// Volume of each dose in mL: up to 100 undiluted, 80–100 made up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dose_volume_ml: Option<f64>,
    /// Doses wanted at most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_most: Option<u32>,
    /// Sows that stand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serving: Option<SowsAsked>,
    /// Extender and time of collection.
    #[serde(default)]
    pub keep: KeepAsked,
    /// Both temperatures.
    #[serde(default)]
    pub temperatures: TemperaturesAsked,
    /// What a person settled or kept.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub confirmed: Vec<Confirmed>,
    /// As in [`DosesAsked`].
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub brief: bool,
}

/// Doses that nobody counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlainAnswer {
    /// What can be made.
    pub making: PlainMaking,
    /// Whether the sows are served.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serving: Option<Serving>,
    /// How long the doses keep.
    pub kept: Kept,
    /// Whether both may be poured together.
    pub temperatures: Temperatures,
    /// Temperatures, times and habits of mixing and storing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mixing: Option<Mixing>,
    /// Figures outside their printed range, to be asked about once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub improbable: Vec<Term>,
}

/// `doses`
pub fn doses(asked: &DosesAsked) -> Result<DosesAnswer, ReckonError> {
    if asked.ejaculates.is_empty() && asked.serving.is_none() {
        return Err(ReckonError::Nothing {
            needs: "ejaculates or serving",
        });
    }
    few("ejaculates", asked.ejaculates.len(), 0, 50)?;
    let measured = asked.ejaculates.iter().map(EjaculateAsked::measured);
    let measured = measured.collect::<Result<Vec<_>, _>>()?;
    let (pool, sure): (Vec<_>, Vec<_>) = measured.into_iter().unzip();
    let recipe = recipe(asked)?;
    let (making, mut figures, assured) = made(asked, (&pool, &sure), &recipe)?;
    let (target, volume) = (recipe.target.value(), recipe.dose_volume.value());
    let at_hand = making.as_ref().and_then(Making::reaching);
    let serving = asked.serving.map(|sows| sows.serve(at_hand)).transpose()?;
    figures.extend(serving.iter().flat_map(|serving| needs(serving, &recipe)));
    let mut answer = DosesAnswer {
        making,
        target_billions: target,
        dose_volume_ml: volume,
        serving,
        kept: asked.keep.extended()?,
        temperatures: asked.temperatures.compare()?,
        mixing: Some(MIXING),
        improbable: improbable(&pool, &recipe),
        shares_percent: figures
            .iter()
            .filter(|f| f.figure == Term::PoolShare)
            .map(Explained::number)
            .collect(),
        figures,
        assured,
    };
    if asked.brief {
        answer.shorten();
    }
    Ok(answer)
}

/// What can be made, if any ejaculate was given; with assurance, where one is asked.
fn made(
    asked: &DosesAsked,
    (pool, sure): (&[Ejaculate], &[Sureness]),
    recipe: &Recipe,
) -> Result<Made, BoundError> {
    let filling = asked.filling_error_percent;
    let filling_error = checked("filling_error_percent", filling, ErrorPercent::new)?;
    let assurance = checked("assurance_percent", asked.assurance_percent, Assurance::new)?;
    if pool.is_empty() {
        return Ok((None, vec![], None));
    }
    let Some(assurance) = assurance else {
        let (making, figures) = make(pool, recipe);
        return Ok((Some(making), figures, None));
    };
    let asked = assured::Asked {
        assurance,
        filling_error,
    };
    let (making, figures, assured) = assure(pool, sure, recipe, asked)?;
    Ok((Some(making), figures, assured))
}

type Made = (Option<Making>, Vec<Explained>, Option<Assured>);

/// `plain-doses`
pub fn plain_doses(asked: &PlainAsked) -> Result<PlainAnswer, ReckonError> {
    let volume = checked("volume_ml", asked.volume_ml, VolumeMl::new)?;
    let dose = checked("dose_volume_ml", asked.dose_volume_ml, DoseVolumeMl::new)?;
    let most = checked("at_most", asked.at_most, DosesAtMost::new)?;
    let recipe = PlainRecipe::new(asked.route, dose, most)?;
    let making = make_plain(volume, &Origin::of(asked.volume_from.as_ref()), &recipe);
    let serving = asked
        .serving
        .map(|sows| sows.serve(making.doses()))
        .transpose()?;
    let mut answer = PlainAnswer {
        making,
        serving,
        kept: match asked.route {
            PlainRoute::Undiluted => asked.keep.undiluted()?,
            PlainRoute::Extended => asked.keep.extended()?,
        },
        temperatures: asked.temperatures.compare()?,
        mixing: Some(MIXING),
        improbable: odd(Term::Volume, volume.map(VolumeMl::improbable)).collect(),
    };
    if asked.brief {
        answer.shorten();
    }
    Ok(answer)
}

/// Refuses a list that is too short or too long.
pub(super) fn few(field: &'static str, len: usize, low: u8, high: u8) -> Result<(), BoundError> {
    so_many(field, len, low.into()..=high.into(), field)
}

impl DosesAnswer {
    fn shorten(&mut self) {
        self.figures.clear();
        self.mixing = None;
        self.serving
            .iter_mut()
            .for_each(|serving| serving.figures.clear());
        match &mut self.making {
            Some(Making::Made(plan)) => plan.figures.clear(),
            Some(Making::Thin { larger, weaker }) => {
                weaker.figures.clear();
                larger.iter_mut().for_each(|plan| plan.figures.clear());
            }
            Some(Making::TooFew { .. } | Making::NotMeasured { .. }) | None => {}
        }
    }
}

impl PlainAnswer {
    fn shorten(&mut self) {
        self.mixing = None;
        self.serving
            .iter_mut()
            .for_each(|serving| serving.figures.clear());
        if let PlainMaking::NotCounted(plan) = &mut self.making {
            plan.figures.clear();
        }
    }
}

impl EjaculateAsked {
    /// Checked: what was measured, and how sure it is.
    pub(crate) fn measured(&self) -> Result<(Ejaculate, Sureness), BoundError> {
        let concentration = self.concentration_m_per_ml;
        let ejaculate = Ejaculate {
            volume: checked("volume_ml", self.volume_ml, VolumeMl::new)?,
            concentration: checked("concentration_m_per_ml", concentration, Concentration::new)?,
            motile: checked("motile_percent", self.motile_percent, Percent::new)?,
            abnormal: checked("abnormal_percent", self.abnormal_percent, Percent::new)?,
            volume_from: Origin::of(self.volume_from.as_ref()),
            bench_from: Origin::of(self.bench_from.as_ref()),
        };
        let sure = self.sure.as_ref().map(SureAsked::sureness).transpose()?;
        Ok((ejaculate, sure.unwrap_or_default()))
    }
}

fn recipe(asked: &DosesAsked) -> Result<Recipe, BoundError> {
    let (target, volume) = asked.technique.usual();
    let from = |given: bool| match given {
        true => Origin::of(asked.standard_from.as_ref()),
        false => Origin::Default,
    };
    let asked_target = checked("target_billions", asked.target_billions, SpermBillions::new)?;
    let asked_volume = checked("dose_volume_ml", asked.dose_volume_ml, DoseVolumeMl::new)?;
    Ok(Recipe {
        count_as: asked.count_as,
        target: asked_target.unwrap_or(target),
        dose_volume: asked_volume.unwrap_or(volume),
        at_most: checked("at_most", asked.at_most, DosesAtMost::new)?,
        target_from: from(asked_target.is_some()),
        dose_volume_from: from(asked_volume.is_some()),
    })
}

fn improbable(pool: &[Ejaculate], recipe: &Recipe) -> Vec<Term> {
    let any = |odd: fn(&Ejaculate) -> bool| Some(pool.iter().any(odd));
    let volume = |e: &Ejaculate| e.volume.is_some_and(VolumeMl::improbable);
    let concentration = |e: &Ejaculate| e.concentration.is_some_and(Concentration::improbable);
    odd(Term::Volume, any(volume))
        .chain(odd(Term::Concentration, any(concentration)))
        .chain(odd(Term::Target, Some(recipe.target.improbable())))
        .chain(odd(Term::DoseVolume, Some(recipe.dose_volume.improbable())))
        .collect()
}

fn odd(term: Term, odd: Option<bool>) -> impl Iterator<Item = Term> {
    (odd == Some(true)).then_some(term).into_iter()
}
