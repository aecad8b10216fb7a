//! A line through the looks of one batch, or of one boar's batches, alone: binomial regression with
//! a logit link, fitted by iteratively reweighted least squares (Nelder & Wedderburn 1972,
//! Journal of the Royal Statistical Society A 135:370).

use super::Look;
use super::square::{Pair, Square, less};
use serde::{Deserialize, Serialize};

/// A fitted line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// Intercept in logits and slope in logits a day.
    pub coefficients: Pair,
    /// Their standard errors, by chance of the cells alone.
    pub standard_errors: Pair,
    /// Their covariance.
    pub covariance: Square,
    /// Twice the log-likelihood that the line falls short of one share for each look.
    pub deviance: f64,
    /// Looks less 2.
    pub degrees_of_freedom: usize,
    /// Rounds until it stood still.
    pub rounds: u8,
}

/// Why there is no line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum Refusal {
    /// A line takes two days.
    #[error("there are looks on {days} days; a line takes looks on at least 2")]
    FewDays {
        /// On how many there are looks.
        days: usize,
    },
    /// Nothing has fallen yet.
    #[error("every cell of every look was motile; look again on a later day")]
    AllMotile,
    /// Nothing moved from the first look on.
    #[error("no cell of any look was motile; there is no day on which it fell")]
    NoneMotile,
    /// Some day has all motile before it and none after: no line is steep enough.
    #[error(
        "all cells were motile up to a day and none after it; a look on a day between would tell how fast it fell"
    )]
    Separated,
    /// The rounds did not come to rest.
    #[error("the fit did not come to rest; look whether a count is mistyped")]
    NotSettled,
}

const ROUNDS: u8 = 60;
/// The next step is shorter than this share of a standard error: one more is exact to the last digits.
const STILL: f64 = 1e-7;

/// The share at a logit, without overflow at either end.
pub(super) fn share(logit: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-logit.clamp(-700.0, 700.0)))
}

/// Fits the line; at least two different days and some overlap are needed.
pub fn fit(looks: &[Look]) -> Result<Fit, Refusal> {
    refuse(looks)?;
    let mut logits: Vec<f64> = looks
        .iter()
        .map(|l| libm::log((l.hits + 0.5) / (l.cells - l.hits + 0.5)))
        .collect();
    let mut kept: Option<(Pair, f64)> = None;
    for round in 1..=ROUNDS {
        let (to, covariance) = weighted(looks, &logits).ok_or(Refusal::NotSettled)?;
        let [[a, _], [_, d]] = covariance.0;
        let standard_errors = [a.sqrt(), d.sqrt()];
        let still = |from: Pair| {
            let way = less(to, from);
            (0..2).all(|i| way[i].abs() <= STILL * standard_errors[i])
        };
        if kept.is_some_and(|(from, _)| still(from)) {
            return Ok(Fit {
                coefficients: to,
                standard_errors,
                covariance,
                // A line through two points falls short by nothing but rounding.
                deviance: deviance(looks, to).max(0.0),
                degrees_of_freedom: looks.len() - 2,
                rounds: round,
            });
        }
        let now = step(looks, to, kept);
        logits = looks.iter().map(|l| now.0[0] + now.0[1] * l.day).collect();
        kept = Some(now);
    }
    Err(Refusal::NotSettled)
}

/// A line exists where motile and other cells overlap in time (Albert & Anderson 1984, Biometrika
/// 71:1): with one column, where neither all motile come before all others nor after them.
fn refuse(looks: &[Look]) -> Result<(), Refusal> {
    let mut days: Vec<f64> = looks.iter().map(|l| l.day).collect();
    days.sort_by(f64::total_cmp);
    days.dedup();
    if days.len() < 2 {
        return Err(Refusal::FewDays { days: days.len() });
    }
    let span = |pick: fn(&&Look) -> bool| {
        let days = looks.iter().filter(pick).map(|l| l.day);
        days.fold(None, |span: Option<(f64, f64)>, day| {
            let (low, high) = span.unwrap_or((day, day));
            Some((low.min(day), high.max(day)))
        })
    };
    let motile = span(|l| l.hits > 0.0).ok_or(Refusal::NoneMotile)?;
    let others = span(|l| l.hits < l.cells).ok_or(Refusal::AllMotile)?;
    if motile.1 <= others.0 || others.1 <= motile.0 {
        return Err(Refusal::Separated);
    }
    Ok(())
}

/// One round of weighted least squares.
fn weighted(looks: &[Look], logits: &[f64]) -> Option<(Pair, Square)> {
    let (mut cross, mut right) = (Square::default(), [0.0, 0.0]);
    for (look, logit) in looks.iter().zip(logits) {
        let p = share(*logit);
        let weight = (look.cells * p * (1.0 - p)).max(1e-12);
        let working = logit + (look.hits - look.cells * p) / weight;
        let x = [1.0, look.day];
        cross = cross.plus(Square::outer(x, x).times(weight));
        right = [
            right[0] + weight * working,
            right[1] + weight * working * look.day,
        ];
    }
    let covariance = cross.inverse()?;
    Some((covariance.of(right), covariance))
}

/// The new line, halfway back as often as the deviance would rise by more than its last digits.
fn step(looks: &[Look], to: Pair, kept: Option<(Pair, f64)>) -> (Pair, f64) {
    let mut at = to;
    let mut found = deviance(looks, at);
    let Some((from, before)) = kept else {
        return (at, found);
    };
    let rises = |found: f64| found.is_nan() || found > before + 1e-9 * (1.0 + before);
    for _ in 0..20 {
        if !rises(found) {
            break;
        }
        let way = less(at, from);
        at = [from[0] + way[0] / 2.0, from[1] + way[1] / 2.0];
        found = deviance(looks, at);
    }
    (at, found)
}

fn deviance(looks: &[Look], line: Pair) -> f64 {
    let part = |seen: f64, expected: f64| match seen > 0.0 {
        true => seen * libm::log(seen / expected),
        false => 0.0,
    };
    looks
        .iter()
        .map(|l| {
            let logit = line[0] + line[1] * l.day;
            let others = l.cells - l.hits;
            2.0 * (part(l.hits, l.cells * share(logit)) + part(others, l.cells * share(-logit)))
        })
        .sum()
}
