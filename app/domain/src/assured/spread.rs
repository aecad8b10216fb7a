//! How the sperm of one dose spread, for all semen in one dose: worked out, or drawn by chance.

use super::dice::Dice;
use super::fitted::Fitted;
use super::moments::{Relative, Sum};
use super::sure::{Factor, Product};
use crate::doses::whole_number;
use serde::{Deserialize, Serialize};

/// How a distribution was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// Worked out from its moments.
    Analytic,
    /// Drawn by chance, with a fixed seed: too few were counted for the other.
    Simulated,
}

/// Where the fitted distribution's kurtosis is further than this from the true one, chance draws it.
/// So far off, its probabilities err by up to 0.4 points (measured; see the tests).
const KURTOSIS_APART: f64 = 0.1;
/// How often chance draws: a probability near 95 % then errs by 0.09 points (one standard error),
/// and one near 50 % by 0.2.
const DRAWS: u32 = 65_536;
const SEED: u64 = 20_261_201;

/// Sperm that count, in millions: of the pool, times what filling makes of one dose's share.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spread {
    shape: Shape,
    mean: f64,
    relative: Relative,
}

#[derive(Debug, Clone, PartialEq)]
enum Shape {
    Fitted(Fitted),
    /// In order.
    Drawn(Vec<f64>),
}

impl Spread {
    /// Of ejaculates that share nothing but an instrument; `filling` is the standard deviation of a dose's logarithm.
    pub(super) fn of(pool: &[Product], filling: f64) -> Self {
        let analytic = Self::worked_out(pool, filling);
        let few = |p: &Product| p.factors.iter().any(|(_, f)| f.few());
        let Shape::Fitted(fitted) = &analytic.shape else {
            return analytic;
        };
        let apart = (fitted.excess() - analytic.relative.excess()).abs();
        if apart <= KURTOSIS_APART && !pool.iter().any(few) {
            analytic
        } else {
            Self::drawn(pool, filling)
        }
    }

    pub(super) fn worked_out(pool: &[Product], filling: f64) -> Self {
        let one = |p: &Product| {
            let each = p.own().map(|(_, f)| f.relative());
            each.fold(Relative::default(), Relative::times)
        };
        let sum_of = |is_read: bool| {
            let those = pool.iter().filter(|p| p.instrument().is_some() == is_read);
            those.fold(Sum::default(), |sum, p| sum.and(p.mean, one(p)))
        };
        let read = sum_of(true);
        let all_read = read.relative().times(Relative::log_normal(shared(pool)));
        let sum = sum_of(false).and(read.mean(), all_read);
        let relative = sum.relative().times(Relative::log_normal(filling));
        Self {
            shape: Shape::Fitted(Fitted::new(sum.mean(), relative)),
            mean: sum.mean(),
            relative,
        }
    }

    pub(super) fn drawn(pool: &[Product], filling: f64) -> Self {
        let mut dice = Dice::new(SEED);
        let shared = shared(pool);
        let mut one = || {
            let instrument = log_normal(shared, &mut dice);
            let sum: f64 = pool
                .iter()
                .map(|p| draw(p, &mut dice) * p.instrument().map_or(1.0, |_| instrument))
                .sum();
            sum * log_normal(filling, &mut dice)
        };
        let mut all: Vec<f64> = (0..DRAWS).map(|_| one()).collect();
        all.sort_unstable_by(f64::total_cmp);
        Self {
            shape: Shape::Drawn(all),
            ..Self::worked_out(pool, filling)
        }
    }

    pub(super) const fn by(&self) -> By {
        match self.shape {
            Shape::Fitted(_) => By::Analytic,
            Shape::Drawn(_) => By::Simulated,
        }
    }

    pub(super) const fn mean(&self) -> f64 {
        self.mean
    }

    pub(super) fn deviation(&self) -> f64 {
        self.mean * self.relative.variance().sqrt()
    }

    /// The probability that it is at least `x`.
    pub(super) fn at_least(&self, x: f64) -> f64 {
        match &self.shape {
            Shape::Fitted(fitted) => fitted.at_least(x),
            Shape::Drawn(all) => {
                // What was asked for by its quantile reaches it, whatever binary fractions leave.
                let below = all.partition_point(|one| *one < x * (1.0 - 1e-9));
                (all.len() - below) as f64 / f64::from(DRAWS)
            }
        }
    }

    /// What it stays below with probability `p`.
    pub(super) fn quantile(&self, p: f64) -> f64 {
        match &self.shape {
            Shape::Fitted(fitted) => fitted.quantile(p).max(0.0),
            Shape::Drawn(all) => {
                let at = whole_number((p * f64::from(DRAWS)).floor()) as usize;
                all.get(at).or(all.last()).copied().unwrap_or(0.0)
            }
        }
    }
}

/// The instrument's error: the largest said of what it read.
pub(super) fn shared(pool: &[Product]) -> f64 {
    pool.iter()
        .filter_map(Product::instrument)
        .fold(0.0, f64::max)
}

fn draw(product: &Product, dice: &mut Dice) -> f64 {
    // Errors of readings multiply, so their logarithms add to one that is normal again.
    let (mut variance, mut drawn) = (0.0, product.mean);
    for (_, factor) in product.own() {
        match *factor {
            Factor::LogNormal(sigma) => variance += sigma * sigma,
            Factor::Gamma(shape) => drawn *= dice.gamma(shape) / shape,
            Factor::Beta(a, b) => drawn *= dice.beta(a, b) * (a + b) / a,
        }
    }
    drawn * log_normal(variance.sqrt(), dice)
}

/// Of mean 1.
fn log_normal(sigma: f64, dice: &mut Dice) -> f64 {
    libm::exp(sigma * dice.normal() - sigma * sigma / 2.0)
}
