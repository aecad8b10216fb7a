//! From the ejaculates at the bench and what people chose to a semen batch: the one way of the
//! screens and of the invented barn, through the reckonings that scripts ask.

use crate::assured::Assured;
use crate::barn::Holding;
use crate::batch::{SemenBatch, Source};
use crate::code::Code;
use crate::doses::{Making, Missing, Plan, Technique};
use crate::extender::mix::MixState;
use crate::farm::Standard;
use crate::id::EntryId;
use crate::json;
use crate::plain::{PlainMaking, PlainRoute};
use crate::reckon::{
    Confirmed, DosesAnswer, DosesAsked, Kept, PlainAnswer, PlainAsked, ReckonError, Temperatures,
    answer,
};
use crate::serving::Serving;
use crate::time::Stamp;
use crate::units::{DoseVolumeMl, DosesAtMost, SpermBillions, TemperatureC, VolumeMl};
use serde::{Serialize, de::DeserializeOwned};

mod chosen;
mod cup;
#[cfg(test)]
mod tests;

pub use chosen::{Chosen, HowSure, Odd, Overdue};
pub use cup::{Barred, Cup};

/// Why nothing can be filled.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FillError {
    /// An ejaculate may not go in.
    #[error("the ejaculate {0} may not go in")]
    Barred(EntryId, Barred),
    /// What is not counted is filled from one ejaculate.
    #[error("doses that are not counted are filled from one ejaculate, not from a pool")]
    OneAtATime,
    /// The extender is past its life: mix anew.
    #[error("the extender mix {mix} is past its life since {since}; mix anew")]
    ExtenderPast {
        /// Which mix.
        mix: EntryId,
        /// Since when.
        since: Stamp,
    },
    /// The reckoning refuses.
    #[error(transparent)]
    Reckon(#[from] ReckonError),
}

/// How it comes out.
#[derive(Debug, Clone, PartialEq)]
pub enum Fill {
    /// Doses that reach the target, or doses that nobody counted.
    Doses(Filled),
    /// Too thin for the dose volume; larger doses, where a sow could hold them.
    Thin(Option<Filled>),
    /// Not one dose.
    TooFew,
    /// Not measured: which ejaculate (counting from 0), and what of it.
    Missing(Vec<(usize, Missing)>),
}

/// What to fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filled {
    /// How many doses.
    pub doses: u32,
    /// Volume of each in mL.
    pub dose_ml: f64,
    /// Extender to add in mL.
    pub extender_ml: f64,
    /// Semen left as it is in mL.
    pub semen_left_ml: f64,
    /// All sperm in M/mL of finished dose; none where nobody counted.
    pub final_m_per_ml: Option<f64>,
}

/// What can be filled, and what a batch of it would keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Filling {
    /// How it comes out.
    pub fill: Fill,
    /// Whether the sows are served.
    pub serving: Option<Serving>,
    /// How long the doses keep.
    pub kept: Kept,
    /// Whether semen and extender may be poured together.
    pub temperatures: Temperatures,
    /// The share of each ejaculate in %, where several are pooled and counted.
    pub shares_percent: Vec<f64>,
    /// How sure the doses are; none where the farm asks no assurance, or nobody counted.
    pub assured: Option<Assured>,
    /// Raw semen that should have been diluted by now.
    pub overdue: Option<Overdue>,
    /// The mix of extender is not settled yet, and will be then.
    pub extender_ready_at: Option<Stamp>,
    /// What is still to be asked about.
    pub odd: Vec<Odd>,
    /// Which reckoning answered.
    pub reckoning: &'static str,
    /// Its request, letter for letter.
    pub asked: String,
    /// Its answer, letter for letter.
    pub answered: String,
    sources: Vec<Source>,
    standard: Option<EntryId>,
    technique: Technique,
    antibiotic: Option<bool>,
    extender_mix: Option<EntryId>,
}

impl Fill {
    /// What to fill, where something can be filled.
    pub const fn best(&self) -> Option<Filled> {
        match self {
            Self::Doses(filled) => Some(*filled),
            Self::Thin(larger) => *larger,
            Self::TooFew | Self::Missing(_) => None,
        }
    }
}

impl Filling {
    /// The batch, under the code given out to it; none where nothing can be filled, where nobody
    /// knows until when it keeps, or while something odd was not asked about.
    pub fn batch(&self, code: Code) -> Option<SemenBatch> {
        let filled = self.fill.best().filter(|_| self.odd.is_empty())?;
        Some(SemenBatch {
            code,
            sources: self.sources.clone(),
            standard: self.standard,
            reckoning: self.reckoning.to_owned(),
            asked: self.asked.clone(),
            answered: self.answered.clone(),
            doses: u16::try_from(filled.doses).ok()?,
            dose_volume: VolumeMl::new(filled.dose_ml).ok()?,
            technique: self.technique,
            counted: self.counted(),
            use_by: self.kept.use_by?,
            antibiotic: self.antibiotic,
            extender_mix: self.extender_mix,
        })
    }

    /// Whether somebody counted the sperm.
    pub fn counted(&self) -> bool {
        self.reckoning == DOSES
    }
}

const DOSES: &str = "doses";
const PLAIN: &str = "plain-doses";

/// Reckons what can be filled, at the instant `now_ms`, from one ejaculate or from several poured
/// together.
pub fn fill(
    cups: &[Cup],
    holding: &Holding,
    chosen: &Chosen,
    now_ms: i64,
) -> Result<Filling, FillError> {
    let standard = &holding.standard;
    if let Some((id, why)) = cups
        .iter()
        .find_map(|c| Some((c.collection, c.unfit(standard)?)))
    {
        return Err(FillError::Barred(id, why));
    }
    let mix = chosen.mix();
    let extender_ready_at = match mix.map(|mix| (mix.mix, mix.life.at(now_ms))) {
        Some((mix, MixState::Past { since })) => {
            return Err(FillError::ExtenderPast { mix, since });
        }
        Some((_, MixState::TooFresh { ready_at })) => Some(ready_at),
        Some((_, MixState::Ready { .. })) | None => None,
    };
    let overdue = chosen.overdue(cups, now_ms);
    let mut odd: Vec<_> = overdue.and_then(Overdue::odd).into_iter().collect();
    odd.extend(chosen.odd(cups));
    let temperatures = chosen.temperatures().compare();
    if let Temperatures::Apart { apart_c, at_most_c } = temperatures.map_err(ReckonError::from)? {
        odd.push(Odd {
            collection: None,
            what: Confirmed::Temperatures,
            read: apart_c,
            usual: (0.0, at_most_c),
            unit: TemperatureC::UNIT,
        });
    }
    let reckon = |confirmed: Vec<Confirmed>| -> Result<Reckoned, FillError> {
        match chosen.route {
            Some(_) if cups.len() > 1 => Err(FillError::OneAtATime),
            Some(route) => Ok(plain(cups, standard, chosen, (route, confirmed))?),
            None => Ok(counted(cups, standard, chosen, confirmed)?),
        }
    };
    let mut reckoned = reckon(chosen.confirmed(&odd))?;
    // How large thin semen makes the doses is known only now; what was kept stands in the request.
    if let Fill::Thin(Some(larger)) = reckoned.fill
        && let Some(large) = chosen.large(larger.dose_ml)
    {
        odd.push(large);
        reckoned = reckon(chosen.confirmed(&odd))?;
    }
    odd.retain(|one| !chosen.kept.contains(one));
    Ok(Filling {
        fill: reckoned.fill,
        serving: reckoned.serving,
        kept: reckoned.kept,
        temperatures: reckoned.temperatures,
        shares_percent: reckoned.shares_percent,
        assured: reckoned.assured,
        overdue,
        extender_ready_at,
        odd,
        reckoning: reckoned.reckoning,
        asked: reckoned.asked,
        answered: reckoned.answered,
        sources: cups.iter().map(Cup::source).collect(),
        standard: holding.entry,
        technique: chosen.technique(),
        antibiotic: chosen.antibiotic(standard),
        extender_mix: mix.map(|mix| mix.mix),
    })
}

/// What one of the two reckonings answered.
struct Reckoned {
    fill: Fill,
    serving: Option<Serving>,
    kept: Kept,
    temperatures: Temperatures,
    shares_percent: Vec<f64>,
    assured: Option<Assured>,
    reckoning: &'static str,
    asked: String,
    answered: String,
}

fn counted(
    cups: &[Cup],
    standard: &Standard,
    chosen: &Chosen,
    confirmed: Vec<Confirmed>,
) -> Result<Reckoned, ReckonError> {
    let assurance = chosen.assurance(standard);
    let filling_error = standard
        .filling_error_percent
        .filter(|_| assurance.is_some());
    let asked = DosesAsked {
        ejaculates: cups.iter().map(|c| c.asked(assurance.is_some())).collect(),
        count_as: chosen.count_as(standard),
        technique: chosen.technique(),
        target_billions: chosen.target.map(SpermBillions::value),
        dose_volume_ml: chosen.dose_volume.map(DoseVolumeMl::value),
        // A batch holds no more.
        at_most: Some(DosesAtMost::HIGH.into()),
        standard_from: None,
        serving: chosen.sows(),
        keep: chosen.keep(cups, standard),
        temperatures: chosen.temperatures(),
        confirmed,
        brief: true,
        assurance_percent: assurance.map(Into::into),
        filling_error_percent: filling_error.map(Into::into),
    };
    let (asked, answered, answer): (_, _, DosesAnswer) = ask(DOSES, &asked)?;
    let fill = match answer.making {
        Some(Making::Made(plan)) => Fill::Doses(filled(&plan)),
        Some(Making::Thin { larger, .. }) => Fill::Thin(larger.as_ref().map(filled)),
        Some(Making::TooFew { .. }) => Fill::TooFew,
        Some(Making::NotMeasured { missing }) => Fill::Missing(missing),
        None => Fill::Missing(vec![]),
    };
    Ok(Reckoned {
        fill,
        serving: answer.serving,
        kept: answer.kept,
        temperatures: answer.temperatures,
        shares_percent: answer.shares_percent,
        assured: answer.assured,
        reckoning: DOSES,
        asked,
        answered,
    })
}

fn plain(
    cups: &[Cup],
    standard: &Standard,
    chosen: &Chosen,
    (route, confirmed): (PlainRoute, Vec<Confirmed>),
) -> Result<Reckoned, ReckonError> {
    let cup = cups.first();
    let asked = PlainAsked {
        volume_ml: cup.and_then(|c| c.collected.volume()).map(VolumeMl::value),
        volume_from: cup.map(|c| c.collection.to_string()),
        route,
        dose_volume_ml: chosen.dose_volume.map(DoseVolumeMl::value),
        at_most: None,
        serving: chosen.sows(),
        keep: chosen.keep(cups, standard),
        temperatures: chosen.temperatures(),
        confirmed,
        brief: true,
    };
    let (asked, answered, answer): (_, _, PlainAnswer) = ask(PLAIN, &asked)?;
    let fill = match answer.making {
        PlainMaking::NotCounted(plan) => Fill::Doses(Filled {
            doses: plan.doses,
            dose_ml: plan.dose_ml,
            extender_ml: plan.extender_ml,
            semen_left_ml: plan.semen_left_ml,
            final_m_per_ml: None,
        }),
        PlainMaking::TooLittle => Fill::TooFew,
        PlainMaking::NotMeasured => Fill::Missing(vec![(0, Missing::Volume)]),
    };
    Ok(Reckoned {
        fill,
        serving: answer.serving,
        kept: answer.kept,
        temperatures: answer.temperatures,
        shares_percent: vec![],
        assured: None,
        reckoning: PLAIN,
        asked,
        answered,
    })
}

/// Asks in writing, as a script would, so that the batch keeps what was asked and answered.
fn ask<A: Serialize, B: DeserializeOwned>(
    name: &str,
    asked: &A,
) -> Result<(String, String, B), ReckonError> {
    let asked = serde_json::to_string(asked).map_err(|e| ReckonError::Unwritable {
        detail: e.to_string(),
    })?;
    let answered = answer(name, asked.as_bytes())?;
    let read = json::read(&answered).map_err(|e| ReckonError::Unreadable {
        detail: e.to_string(),
    })?;
    Ok((asked, answered, read))
}

const fn filled(plan: &Plan) -> Filled {
    Filled {
        doses: plan.doses,
        dose_ml: plan.dose_ml,
        extender_ml: plan.extender_ml,
        semen_left_ml: plan.semen_left_ml,
        final_m_per_ml: Some(plan.final_m_per_ml),
    }
}
