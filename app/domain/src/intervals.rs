//! Exact intervals of counts and shares, and the chance that a true share lies beyond a limit.
//!
//! Everything here rests on `+ − × ÷ √` and on `libm`'s logarithm, exponential, gamma and error
//! functions, which are the same code on every machine: a phone and the office find the same bits.

mod beta;
mod gamma;

use crate::agreement::Tally;
use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{Cells, Percent};

pub(crate) use beta::{below as beta_below, quantile as beta_quantile};
pub(crate) use gamma::quantile as gamma_quantile;

/// What lies beyond each end of a two-sided 95 % interval.
pub(crate) const TAIL: f64 = 0.025;

/// The exact 95 % interval of the mean of a Poisson count (Garwood 1936, Biometrika 28:437): low
/// and high end, in sperm. The low end of a count of 0 is 0.
pub fn poisson(count: u32) -> [f64; 2] {
    let n = f64::from(count);
    let low = if count == 0 {
        0.0
    } else {
        gamma_quantile(TAIL, n)
    };
    [low, gamma_quantile(1.0 - TAIL, n + 1.0)]
}

/// The 95 % interval of the mean of a Poisson count from Jeffreys' prior, with the middle between:
/// the 2.5, 50 and 97.5 % points of a gamma distribution of shape count + ½, in sperm. A count
/// of 0 has low end 0, and middle and high end of shape 1, which is the exact high end. On average it holds the truth in 95 of
/// 100 counts, where the exact interval holds it in more (Brown, Cai & `DasGupta` 2003, Statistica
/// Sinica 13:19; from memory).
pub fn poisson_jeffreys(count: u32) -> [f64; 3] {
    if count == 0 {
        return [
            0.0,
            gamma_quantile(0.5, 1.0),
            gamma_quantile(1.0 - TAIL, 1.0),
        ];
    }
    [TAIL, 0.5, 1.0 - TAIL].map(|chance| gamma_quantile(chance, f64::from(count) + 0.5))
}

/// The exact 95 % interval of a share (Clopper & Pearson 1934, Biometrika 26:404): low and high end in %.
pub fn clopper_pearson(tally: Tally) -> [f64; 2] {
    let (hits, cells) = (tally.hits().number(), tally.cells().number());
    let low = if hits == 0.0 {
        0.0
    } else {
        beta_quantile(TAIL, hits, cells - hits + 1.0)
    };
    let high = if hits == cells {
        1.0
    } else {
        beta_quantile(1.0 - TAIL, hits + 1.0, cells - hits)
    };
    [100.0 * low, 100.0 * high]
}

/// [`clopper_pearson`], explained.
pub fn exact(tally: Tally, from: &Origin) -> [Explained; 2] {
    let (hits, cells) = (tally.hits().number(), tally.cells().number());
    let [low, high] = clopper_pearson(tally);
    let end = |term, formula: &'static str, at: f64| {
        let explained = Explained::new(term, "%", formula, Printed::ClopperPearson1934);
        [(Term::Hits, hits), (Term::Cells, cells)]
            .into_iter()
            .filter(|input| formula.contains(input.0.name()))
            .fold(explained, |e, (name, value)| {
                e.with(name, value, "", from.clone())
            })
            .is(at)
    };
    let low_formula = if hits == 0.0 { "0" } else { EXACT_LOW };
    let high_formula = if hits == cells { "100" } else { EXACT_HIGH };
    [
        end(Term::ShareExactLow, low_formula, low),
        end(Term::ShareExactHigh, high_formula, high),
    ]
}

const EXACT_LOW: &str = "100 * beta_quantile(0.025, hits, cells - hits + 1)";
const EXACT_HIGH: &str = "100 * beta_quantile(0.975, hits + 1, cells - hits)";

/// The chance, from 0 to 1, that the true share lies below `limit`, after `share` was seen among
/// `cells`: the tail of the beta distribution that Jeffreys' prior leaves, with hits + ½ and
/// misses + ½ (Brown, Cai & `DasGupta` 2001, Statistical Science 16:101).
pub fn chance_below(share: Percent, cells: Cells, limit: Percent) -> f64 {
    let (a, b) = posterior(share, cells);
    beta_below(limit.value() / 100.0, a, b)
}

/// The chance, from 0 to 1, that the true share lies above `limit`. See [`chance_below`].
pub fn chance_above(share: Percent, cells: Cells, limit: Percent) -> f64 {
    let (a, b) = posterior(share, cells);
    beta_below((100.0 - limit.value()) / 100.0, b, a)
}

fn posterior(share: Percent, cells: Cells) -> (f64, f64) {
    let hits = share.value() * cells.number() / 100.0;
    (hits + 0.5, cells.number() - hits + 0.5)
}

/// The chance that a normal variable of mean 0 and deviation 1 lies below `z`.
pub(crate) fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The point between `low` and `high` where `below`, which grows, reaches `chance`: halved until no
/// number lies between, at most 2,000 times.
fn halved(mut low: f64, mut high: f64, chance: f64, below: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..2000 {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

#[cfg(test)]
mod tests;
