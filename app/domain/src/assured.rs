//! Doses under uncertainty: how sure one dose is to hold its target, and how many doses there are
//! that hold it with the assurance a farm asks.
//!
//! Nothing that is measured at the bench is certain. What is known of it afterwards:
//!
//! - a count, by Jeffreys' prior: gamma with shape count + ½; a share of n cells, by Jeffreys' prior:
//!   beta with hits + ½ and misses + ½ (Jeffreys 1946, Proc. R. Soc. A 186:453);
//! - a share judged by eye: beta around what was judged, with the spread that was said;
//! - a reading (volume, dilution, chamber, instrument): log-normal, its mean what was read;
//! - one dose's share of the semen: log-normal with mean one.
//!
//! The sperm of an ejaculate are the product of its factors, those of a pool the sum of its
//! ejaculates. All are taken as independent but the instrument: one that reads too high today reads
//! each ejaculate of the pool too high, so its error is one factor of all that it read, the largest
//! that was said of any. An error that counts of several ejaculates share, that of one chamber's depth,
//! say, is larger in the pool than is reckoned here.
//!
//! Of products and sums the first four moments are exact (`moments`). A three-parameter log-normal
//! distribution is laid through three of them, and the fourth says whether it fits: two parameters
//! err by a point where few cells are immotile, since the pool is then skewed to the left, and a sum
//! of logarithms does not exist for a pool. Where the fourth is off, or fewer than five were counted
//! of any class, 65,536 draws with a fixed seed answer instead. Both agree within half a point of
//! probability wherever the first is used.
//!
//! Only `+ − × ÷ √` and `libm` are used, so phone and server write the same answer.

use crate::doses::{Certain, Ejaculate, Making, Plan, Recipe, make, make_certain};
use crate::explain::Explained;
use crate::units::{Assurance, BoundError, ErrorPercent};
use serde::{Deserialize, Serialize};

mod dice;
mod fitted;
mod moments;
mod spread;
mod sure;

use moments::Relative;
use spread::{Spread, shared};
use sure::Product;

pub use spread::By;
pub use sure::{BY_EYE_POINTS, INSTRUMENT_ERROR, READ_ERROR, Source, Sureness, WEIGHED_ERROR};

#[cfg(test)]
mod tests;

/// By how much one dose's share of the semen differs from the next one's, in % (common practice,
/// no source).
pub const FILLING_ERROR: f64 = 2.0;

/// What a farm asks of each dose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// With which assurance it is to hold the target.
    pub assurance: Assurance,
    /// By how much its share of the semen differs from the next one's; [`FILLING_ERROR`] unless said.
    pub filling_error: Option<ErrorPercent>,
}

/// What is sure of doses, beside what can be made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Assured {
    /// The assurance asked in %.
    pub assurance_percent: f64,
    /// How one dose differs from the next, in %, as used.
    pub filling_error_percent: f64,
    /// How it was found.
    pub by: By,
    /// The doses to fill; absent where no number of them holds the target with that assurance in a
    /// volume a dose may have.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doses: Option<Dosed>,
    /// What the plain formula says: measurements taken as certain. Absent where it says none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plain: Option<Dosed>,
    /// How sure the target would be with all semen in one dose, in %.
    pub one_dose_percent: f64,
    /// Which error makes how much of it, the largest first.
    pub sources: Vec<Part>,
    /// Which errors nobody said, so that a usual one stands in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumed: Vec<Source>,
}

/// A number of doses, and what each of them holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Dosed {
    /// How many.
    pub doses: u32,
    /// How sure each of them is to hold the target, in %.
    pub reached_percent: f64,
    /// Sperm that count in one dose, in millions, of which 5 % of doses stay below.
    pub low_m: f64,
    /// The same, half of them.
    pub median_m: f64,
    /// The same, 95 % of them.
    pub high_m: f64,
}

/// What one kind of error makes of the whole.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Which.
    pub source: Source,
    /// Its share of the variance in %; all shares make 100.
    pub share_percent: f64,
    /// The ejaculate in which it weighs most, counting from 0; absent for filling.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ejaculate: Option<usize>,
}

/// What can be made so that each dose holds the target with the assurance asked, the figures it
/// rests on, and how sure all is; none of the last where something was not measured. Never more
/// doses than the plain formula says. `sure` goes with `pool`; what it lacks is not known. An error
/// where sperm were found of which none was counted.
pub fn assure(
    pool: &[Ejaculate],
    sure: &[Sureness],
    recipe: &Recipe,
    asked: Asked,
) -> Result<(Making, Vec<Explained>, Option<Assured>), BoundError> {
    let known = |i| sure.get(i).copied().unwrap_or_default();
    let products = pool
        .iter()
        .enumerate()
        .map(|(i, e)| known(i).product(e, recipe.count_as));
    let (plain, figures) = make(pool, recipe);
    let Some(products) = products.collect::<Result<Option<Vec<_>>, _>>()? else {
        return Ok((plain, figures, None));
    };
    let percent = asked
        .filling_error
        .map_or(FILLING_ERROR, ErrorPercent::value);
    let spread = Spread::of(&products, percent / 100.0);
    let (making, figures) = make_certain(pool, recipe, Some(&spread.certain(asked.assurance)));
    let volume: f64 = pool
        .iter()
        .filter_map(|e| e.volume)
        .map(|ml| ml.value())
        .sum();
    let dosed = |making: &Making| {
        let plan = reaching(making)?;
        Some(spread.dosed(plan, plan.semen_ml / volume, recipe))
    };
    let assured = Assured {
        assurance_percent: asked.assurance.value(),
        filling_error_percent: percent,
        by: spread.by(),
        doses: dosed(&making),
        plain: dosed(&plain),
        one_dose_percent: 100.0 * spread.at_least(recipe.target.value() * 1000.0),
        sources: parts(&products, percent / 100.0),
        assumed: assumed(&products, asked),
    };
    Ok((making, figures, Some(assured)))
}

/// The plan whose doses reach the target.
const fn reaching(making: &Making) -> Option<&Plan> {
    match making {
        Making::Made(plan) => Some(plan),
        Making::Thin { larger, .. } => larger.as_ref(),
        Making::TooFew { .. } | Making::NotMeasured { .. } => None,
    }
}

impl Spread {
    fn certain(&self, assurance: Assurance) -> Certain {
        let low = self.quantile(1.0 - assurance.value() / 100.0);
        let (mean_m, spread_m) = (self.mean(), self.deviation());
        let apart = (mean_m - low) / spread_m;
        Certain {
            mean_m,
            spread_m,
            spreads: if apart.is_finite() { apart } else { 0.0 },
        }
    }

    /// What each dose of a plan holds that takes this share of the semen.
    fn dosed(&self, plan: &Plan, taken: f64, recipe: &Recipe) -> Dosed {
        let each = taken / f64::from(plan.doses);
        let holds = |p| self.quantile(p) * each;
        Dosed {
            doses: plan.doses,
            reached_percent: 100.0 * self.at_least(recipe.target.value() * 1000.0 / each),
            low_m: holds(0.05),
            median_m: holds(0.5),
            high_m: holds(0.95),
        }
    }
}

/// What each source makes of the variance, to first order, the largest first.
fn parts(products: &[Product], filling: f64) -> Vec<Part> {
    let total: f64 = products.iter().map(|p| p.mean).sum();
    if total <= 0.0 {
        return vec![];
    }
    let mut list = vec![(Source::Filling, None, filling * filling, 0.0)];
    for (i, product) in products.iter().enumerate() {
        let weight = (product.mean / total) * (product.mean / total);
        for (source, factor) in product.own() {
            let variance = weight * factor.relative().variance();
            match list.iter_mut().find(|row| row.0 == *source) {
                Some((_, which, sum, largest)) => {
                    *sum += variance;
                    if variance > *largest {
                        (*which, *largest) = (Some(i), variance);
                    }
                }
                None => list.push((*source, Some(i), variance, variance)),
            }
        }
    }
    let by_instrument = |p: &&Product| p.instrument().is_some();
    let read: f64 = products.iter().filter(by_instrument).map(|p| p.mean).sum();
    let most = |a: &(usize, &Product), b: &(usize, &Product)| a.1.mean.total_cmp(&b.1.mean);
    let largest = products.iter().enumerate();
    let largest = largest
        .filter(|(_, p)| p.instrument().is_some())
        .max_by(most);
    let error = Relative::log_normal(shared(products)).variance();
    let weight = (read / total) * (read / total);
    list.push((
        Source::Instrument,
        largest.map(|row| row.0),
        weight * error,
        0.0,
    ));
    let all: f64 = list.iter().map(|row| row.2).sum();
    list.retain(|row| row.2 > 0.0);
    list.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    let part = |(source, ejaculate, variance, _)| Part {
        source,
        share_percent: variance / all * 100.0,
        ejaculate,
    };
    list.into_iter().map(part).collect()
}

fn assumed(products: &[Product], asked: Asked) -> Vec<Source> {
    let filling = asked.filling_error.is_none().then_some(Source::Filling);
    let each = products.iter().flat_map(|p| p.assumed.iter().copied());
    let mut list: Vec<_> = each.chain(filling).collect();
    list.sort_unstable();
    list.dedup();
    list
}
