//! The charts of one boar's measure: has it become worse, and since when?
//!
//! Each ejaculate brings one residual: how many standard deviations it was worse than expected. An
//! exponentially weighted moving average of them (Roberts 1959; NIST/SEMATECH e-Handbook 6.3.2.4)
//! tells that it fell; a cumulative sum (Page 1954; e-Handbook 6.3.2.3) tells since when.

use crate::output::digits;
use serde::{Deserialize, Serialize};

/// The weight of the newest residual.
pub const LAMBDA: f64 = 0.3;
/// The limit in standard deviations of the average. With it, and no residual counted for more than
/// three standard deviations, a boar in order is called once in 431 collections if residuals are normal
/// and independent (a Markov chain after Brook & Evans 1972: `tests/watch/arl.py`); `cargo xtask bench
/// watch` counts it on invented barns.
pub const LIMIT: f64 = 2.844;
/// What the cumulative sum takes for no change, in standard deviations.
const SLACK: f64 = 0.5;
/// One ejaculate counts for no more than this, in standard deviations: a single mishap, a spilt
/// cup, is told by its own page and is no fall.
const MOST: f64 = 3.0;

/// Where the charts of one measure of one boar stand.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Chart {
    /// The moving average, never below 0: better than expected is no store for later.
    ewma: f64,
    /// The cumulative sum.
    cusum: f64,
    /// Since the cumulative sum last left 0: how many ejaculates.
    n: u32,
    /// Their residuals, on the measure's scale, added up.
    sum: f64,
    /// When the first of them was collected, in ms since 1970.
    since_ms: i64,
}

/// What a chart says of a fall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Fall {
    /// The first ejaculate of it, in ms since 1970.
    pub since_ms: i64,
    /// How many ejaculates of it stand.
    pub n: u32,
    /// By how much they differ from what was expected, on average, on the measure's scale.
    pub by: f64,
}

/// The next value of an exponentially weighted moving average.
pub fn ewma(before: f64, newest: f64, lambda: f64) -> f64 {
    lambda * newest + (1.0 - lambda) * before
}

/// How far from its target such an average may lie, where `sd` is that of one value and `limit` the
/// number of standard deviations of the average, once it has run for long.
pub fn ewma_limit(sd: f64, lambda: f64, limit: f64) -> f64 {
    limit * sd * (lambda / (2.0 - lambda)).sqrt()
}

/// The next value of a one-sided cumulative sum of what exceeds `slack`.
pub fn cusum(before: f64, newest: f64, slack: f64) -> f64 {
    (before + newest - slack).max(0.0)
}

impl Chart {
    /// Takes in the next ejaculate: `worse` standard deviations worse than expected, `apart` from it
    /// on the measure's scale. A signal starts the charts anew.
    pub fn next(&mut self, at_ms: i64, worse: f64, apart: f64) -> Option<Fall> {
        let worse = worse.clamp(-MOST, MOST);
        self.ewma = ewma(self.ewma, worse, LAMBDA).max(0.0);
        self.cusum = cusum(self.cusum, worse, SLACK);
        if self.cusum <= 0.0 {
            (self.n, self.sum) = (0, 0.0);
        } else {
            if self.n == 0 {
                self.since_ms = at_ms;
            }
            self.n += 1;
            self.sum += apart;
        }
        if self.ewma <= ewma_limit(1.0, LAMBDA, LIMIT) {
            return None;
        }
        let fall = Fall {
            since_ms: self.since_ms,
            n: self.n,
            by: self.sum / f64::from(self.n.max(1)),
        };
        *self = Self::default();
        Some(fall)
    }

    /// The same to eight significant digits.
    #[must_use]
    pub fn rounded(&self) -> Self {
        Self {
            ewma: digits(self.ewma),
            cusum: digits(self.cusum),
            sum: digits(self.sum),
            ..*self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Chart;

    #[test]
    fn a_lasting_fall_is_told_with_its_beginning_and_a_mishap_is_not() {
        let mut chart = Chart::default();
        for at in 0..20 {
            let usual = if at % 2 == 0 { 0.6 } else { -0.7 };
            assert_eq!(chart.next(at, usual, -usual / 10.0), None);
        }
        assert_eq!(chart.next(20, 9.0, -0.9), None, "one spilt cup");
        for at in 21..40 {
            assert_eq!(chart.next(at, -0.4, 0.04), None);
        }
        let told = (40..60).find_map(|at| Some((at, chart.next(at, 1.8, -0.36)?)));
        let (at, fall) = told.unwrap();
        assert!((42..=46).contains(&at), "told at {at}");
        assert_eq!(fall.since_ms, 40);
        assert!((fall.by + 0.36).abs() < 1e-9);
        assert_eq!(chart, Chart::default());
    }
}
