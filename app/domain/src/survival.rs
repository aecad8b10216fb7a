//! How long until it happens, where some are still waiting: the curve of Kaplan and Meier, and in
//! [`compare`] whether several groups wait alike.
//!
//! A boar still in training is no failure and no success; he was watched so long, and that much he
//! says. Leaving him out, or counting him as never trained, would both bend the answer.
//! Time is in whatever unit the asker counts in, days or sessions.

mod rank;
mod tail;

use crate::counting::Z95;
use crate::units::{BoundError, within};
use serde::{Deserialize, Serialize};

pub use rank::{Compared, EXPECTED_AT_LEAST, LeftOut, LogRank, Ranked, TooFew, compare, log_rank};
pub use tail::chi_square_tail;

/// With fewer events than this the middle of a curve is not said: one boar more would move it too
/// far (common practice, no source).
pub const EVENTS_AT_LEAST: usize = 5;

/// A share that binary fractions left this much above one half counts as one half.
const HAIR: f64 = 1e-12;

/// One of those who were watched: for how long, and whether it happened at the end of that time or
/// was still awaited (censored).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observed {
    time: f64,
    happened: bool,
}

/// What stands at one time of a curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// The time.
    pub time: f64,
    /// How many were watched until then or longer.
    pub at_risk: usize,
    /// For how many of them it happened then.
    pub happened: usize,
    /// How many were watched until then and no longer.
    pub censored: usize,
    /// The share for whom it has not happened yet, 0 to 1 (Kaplan & Meier 1958).
    pub waiting: f64,
    /// The standard error of that share (Greenwood 1926); none while all wait, when it would come
    /// out as 0 and pass for certainty, and none once nobody does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_error: Option<f64>,
    /// The 95 % band of that share, on the log-log scale (Kalbfleisch & Prentice 1980); none where
    /// there is no standard error.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<[f64; 2]>,
}

/// The curve of one group.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Curve {
    /// How many were watched.
    pub watched: usize,
    /// For how many it happened.
    pub happened: usize,
    /// A point for each time at which somebody's watch ended, in order.
    pub points: Vec<Point>,
}

/// The time by which it has happened for half.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Median {
    /// The first time at which half or fewer wait.
    pub time: f64,
    /// The first time at which the lower edge of the band is there: not sooner, with 95 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<f64>,
    /// The first time at which its upper edge is there; none while that is still open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
}

/// What can be said of the middle of a curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Middle {
    /// Half have come that far.
    Reached(Median),
    /// More than half still wait, or left before.
    NotReached,
    /// Too few to say.
    TooFew {
        /// For how many it happened.
        happened: usize,
        /// For how many it would have to.
        at_least: usize,
    },
}

impl Observed {
    /// The longest that is taken: 270 years of days, so that a mistyped century is found out.
    pub const TIME_MAX: f64 = 100_000.0;

    /// Watched for `time`, 0 to [`Self::TIME_MAX`]; NaN is refused.
    pub fn new(time: f64, happened: bool) -> Result<Self, BoundError> {
        // Adding zero turns −0 into 0, which would be another time.
        let time = within("time", time, 0.0..=Self::TIME_MAX, "days or sessions")? + 0.0;
        Ok(Self { time, happened })
    }

    /// How long.
    pub const fn time(self) -> f64 {
        self.time
    }

    /// Whether it happened then.
    pub const fn happened(self) -> bool {
        self.happened
    }
}

/// The curve of those who were watched, in any order.
pub fn curve(observed: &[Observed]) -> Curve {
    let mut sorted = observed.to_vec();
    sorted.sort_by(|a, b| a.time.total_cmp(&b.time));
    let mut points: Vec<Point> = vec![];
    let (mut at_risk, mut waiting, mut spread) = (sorted.len(), 1.0, 0.0);
    for same in sorted.chunk_by(|a, b| a.time == b.time) {
        let happened = same.iter().filter(|o| o.happened).count();
        let (n, d) = (at_risk as f64, happened as f64);
        waiting *= (n - d) / n;
        spread += if d > 0.0 { d / (n * (n - d)) } else { 0.0 };
        let some = waiting > 0.0 && waiting < 1.0;
        points.push(Point {
            time: same.first().map_or(0.0, |o| o.time),
            at_risk,
            happened,
            censored: same.len() - happened,
            waiting,
            standard_error: some.then(|| waiting * spread.sqrt()),
            band: some.then(|| band(waiting, spread)),
        });
        at_risk -= same.len();
    }
    Curve {
        watched: sorted.len(),
        happened: points.iter().map(|p| p.happened).sum(),
        points,
    }
}

/// `spread` is Greenwood's sum.
fn band(waiting: f64, spread: f64) -> [f64; 2] {
    let log = waiting.ln();
    let apart = (Z95 * spread.sqrt() / log.abs()).exp();
    [(log * apart).exp(), (log / apart).exp()]
}

impl Curve {
    /// The time by which it has happened for half, if the curve comes that far.
    pub fn median(&self) -> Option<Median> {
        let first = |half: fn(&Point) -> Option<f64>| {
            let there = |p: &&Point| half(p).is_some_and(|share| share <= 0.5 + HAIR);
            self.points.iter().find(there).map(|p| p.time)
        };
        Some(Median {
            time: first(|p| Some(p.waiting))?,
            from: first(|p| p.band.map(|b| b[0])),
            to: first(|p| p.band.map(|b| b[1])),
        })
    }

    /// What can be said of its middle; see [`EVENTS_AT_LEAST`].
    pub fn middle(&self) -> Middle {
        if self.happened < EVENTS_AT_LEAST {
            return Middle::TooFew {
                happened: self.happened,
                at_least: EVENTS_AT_LEAST,
            };
        }
        self.median().map_or(Middle::NotReached, Middle::Reached)
    }
}

#[cfg(test)]
mod tests;
