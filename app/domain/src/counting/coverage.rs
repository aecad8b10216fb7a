//! Benches whose truth is known: how often the interval of a concentration holds it.

use super::interval::bounds;
use super::{Dilution, Errors, SQUARE_NL};
use crate::intervals::poisson_jeffreys;
use std::collections::BTreeMap;

/// A bench at which the same semen is counted again and again in an improved Neubauer chamber.
#[derive(Debug, Clone, PartialEq)]
pub struct Bench {
    /// Sperm that a filling would show on average without errors of the bench, above 0, at most 100,000.
    pub sperm_each: f64,
    /// Fillings of 25 squares each, at least 1.
    pub fillings: u8,
    /// How it is diluted.
    pub dilution: Dilution,
    /// The errors that the bench makes, which the interval is told.
    pub errors: Errors,
}

/// How often the interval held the truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Covered {
    /// Counts made.
    pub runs: u32,
    /// Of these the truth lay below the interval.
    pub truth_below: u32,
    /// Of these the truth lay above it.
    pub truth_above: u32,
}

impl Covered {
    /// The share of counts whose interval held the truth, in %.
    pub fn percent(&self) -> f64 {
        let missed = self.truth_below + self.truth_above;
        100.0 * (1.0 - f64::from(missed) / f64::from(self.runs.max(1)))
    }
}

/// Counts `runs` times. Volumes and depths are off by normal errors of the deviation said, which is
/// not the logarithm's normal that the interval takes them for. The same seed gives the same
/// counts.
pub fn coverage(bench: &Bench, runs: u32, seed: u64) -> Covered {
    told(bench, &bench.errors, runs, seed)
}

/// The same where the interval is told other errors than the bench makes.
pub(super) fn told(bench: &Bench, told: &Errors, runs: u32, seed: u64) -> Covered {
    let mut dice = Dice(seed);
    let factor = bench.dilution.factor();
    let fillings = bench.fillings.max(1);
    let squares = f64::from(fillings) * 25.0;
    let truth = bench.sperm_each * factor / (25.0 * SQUARE_NL);
    let each = factor / (squares * SQUARE_NL);
    let (step, filling) = (bench.errors.step_percent(), bench.errors.filling_percent());
    let anew = bench.errors.diluted_anew();
    let other = other_percent(bench, told);
    let mut covered = Covered {
        runs,
        truth_below: 0,
        truth_above: 0,
    };
    // The same counts come again and again.
    let mut points = BTreeMap::new();
    for _ in 0..runs {
        let mut thinned = dice.off_by(step, bench);
        let mut count = 0;
        for n in 0..fillings {
            if anew && n > 0 {
                thinned = dice.off_by(step, bench);
            }
            let depth = 1.0 + filling / 100.0 * dice.normal();
            count += dice.poisson(bench.sperm_each * thinned * depth);
        }
        let [low, high] = bounds(
            *points
                .entry(count)
                .or_insert_with(|| poisson_jeffreys(count)),
            each,
            other,
        );
        covered.truth_below += u32::from(truth < low);
        covered.truth_above += u32::from(truth > high);
    }
    covered
}

fn other_percent(bench: &Bench, told: &Errors) -> f64 {
    let fillings = f64::from(bench.fillings.max(1));
    let steps = bench.dilution.steps().len() as f64;
    let diluted = told.step_percent() * told.step_percent() * steps;
    let filled = told.filling_percent() * told.filling_percent() / fillings;
    let shared = if told.diluted_anew() { fillings } else { 1.0 };
    (diluted / shared + filled).sqrt()
}

/// Throws from a seed (Steele, Lea & Flood 2014, `SplitMix64`; from memory).
struct Dice(u64);

impl Dice {
    /// Between 0 and 1, neither of them.
    fn throw(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Box & Muller 1958; no farther out than four deviations.
    fn normal(&mut self) -> f64 {
        let far = (-2.0 * libm::log(self.throw())).sqrt();
        (far * libm::cos(std::f64::consts::TAU * self.throw())).clamp(-4.0, 4.0)
    }

    /// How much denser than meant it comes out after every step of the dilution.
    fn off_by(&mut self, step_percent: f64, bench: &Bench) -> f64 {
        let steps = bench.dilution.steps().iter();
        steps
            .map(|_| 1.0 + step_percent / 100.0 * self.normal())
            .product()
    }

    /// A count of that mean, in portions small enough to be looked up from 0.
    fn poisson(&mut self, mean: f64) -> u32 {
        const PORTION: f64 = 16.0;
        let mut left = mean.clamp(0.0, 1e6);
        let mut count = 0;
        while left > 0.0 {
            let portion = left.min(PORTION);
            let mut chance = libm::exp(-portion);
            let mut at = self.throw() - chance;
            let mut k = 0;
            while at > 0.0 && k < 200 {
                k += 1;
                chance *= portion / f64::from(k);
                at -= chance;
            }
            count += k;
            left -= portion;
        }
        count
    }
}
