//! Later counts against the curve.

use super::Pair;
use super::fit::Curve;
use super::read::{Refusal, Within};
use super::student::two_sided;
use serde::{Deserialize, Serialize};

/// How many of the latest pairs are judged together.
pub const RUN: usize = 6;
/// The fewest pairs that are judged together.
pub const RUN_LEAST: usize = 3;
/// From so many pairs that stray together cleaning was tried, or would have shown.
const PERSISTS: usize = 5;
/// A single pair disagrees where it lies beyond so much of what is expected.
const PAIR_SHARE: f64 = 0.99;
/// A run drifts where its shift differs from none by so much.
const RUN_SHARE: f64 = 0.99;

/// What later pairs say about a curve.
///
/// Two questions. Does the latest pair lie outside its own 99 % prediction interval? And are the
/// latest six (at least three) shifted together: the common factor between counts and curve is
/// estimated by weighted least squares, with the curve's own error in it, and held against 0 at 99 %.
///
/// Measured on 2,000 simulated lines each (`tests/benches/laboratory/curve.rs`; counts sure to 6 %,
/// readings to 2 %), looked at after every pair:
///
/// | | 12 pairs in the curve | 30 pairs |
/// |---|---|---|
/// | nothing is wrong: one pair outside | 1.4 % | 1.2 % |
/// | a run of six strays, looked at once | 1.6 % | 0.8 % |
/// | drifting at any look within 20 pairs | 7 % | 8 % |
/// | anything said within 20 pairs | 16 % | 20 % |
/// | readings 10 % too high: drifting within 6, 10 pairs | 50, 65 % | 77, 90 % |
/// | readings 10 % too low: drifting within 6, 10 pairs | 69, 83 % | 90, 98 % |
/// | readings 20 % too high: drifting within 3, 6 pairs | 84, 97 % | 98, 100 % |
/// | readings 20 % too low: drifting within 3, 6 pairs | 99, 100 % | 100, 100 % |
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Drift {
    /// Each pair in the order given.
    pub pairs: Vec<AgainstCurve>,
    /// The common shift of the latest pairs, from three on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shift: Option<Shift>,
    /// What to make of it.
    pub finding: Finding,
    /// What to do.
    pub next: Next,
}

/// One pair against the curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AgainstCurve {
    /// Held against it.
    Held {
        /// What the curve says, in M/mL.
        expected_m_per_ml: f64,
        /// Where a count lies with 99 %.
        within: Within,
        /// It lies outside.
        outside: bool,
    },
    /// The curve says nothing at its reading.
    Off(Refusal),
}

/// By how much counts lie above the curve, in %; below where negative.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Shift {
    /// From how many pairs.
    pub pairs: usize,
    /// So much.
    pub percent: f64,
    /// With 99 % at least.
    pub low_percent: f64,
    /// At most.
    pub high_percent: f64,
}

/// What later pairs say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Finding {
    /// No pair within the curve's range: nothing can be said.
    NoPairs,
    /// They agree.
    Agrees,
    /// The latest pair does not.
    Disagrees,
    /// The latest pairs stray together.
    Drifting,
}

/// What to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Next {
    /// Count one of the next ejaculates and enter the pair.
    CountOne,
    /// Nothing.
    Nothing,
    /// Read and count the same ejaculate again: a slip is likelier than a drift.
    CountAgain,
    /// Clean the cuvette and the instrument, set it to zero, then read and count again.
    CleanAndZero,
    /// It persists: fit a new curve from new pairs, and count in the meantime.
    FitAnew,
}

/// A pair within the range, with what is needed to judge it.
struct Judged {
    reading: f64,
    expected: f64,
    counted: f64,
    weight: f64,
}

impl Curve {
    /// Holds later pairs, oldest first, against the curve.
    pub fn drift(&self, later: &[Pair]) -> Drift {
        let judged: Vec<_> = later.iter().map(|pair| self.judge(pair)).collect();
        let pairs = judged.iter().map(|j| self.against(j)).collect::<Vec<_>>();
        let usable: Vec<_> = judged.into_iter().filter_map(Result::ok).collect();
        let run = &usable[usable.len().saturating_sub(RUN)..];
        let shift = (run.len() >= RUN_LEAST).then(|| self.shift(run));
        let strays = |s: &Shift| s.low_percent > 0.0 || s.high_percent < 0.0;
        let last = pairs.iter().rev().find_map(|pair| match pair {
            AgainstCurve::Held { outside, .. } => Some(*outside),
            AgainstCurve::Off(_) => None,
        });
        let (finding, next) = match (shift.filter(strays), last) {
            (_, None) => (Finding::NoPairs, Next::CountOne),
            (Some(s), _) if s.pairs >= PERSISTS => (Finding::Drifting, Next::FitAnew),
            (Some(_), _) => (Finding::Drifting, Next::CleanAndZero),
            (None, Some(true)) => (Finding::Disagrees, Next::CountAgain),
            (None, Some(false)) => (Finding::Agrees, Next::Nothing),
        };
        Drift {
            pairs,
            shift,
            finding,
            next,
        }
    }

    fn judge(&self, pair: &Pair) -> Result<Judged, Refusal> {
        let expected = self.read(pair.reading)?.concentration.value();
        let error = pair.relative_error.map(|e| e.value() / 100.0);
        Ok(Judged {
            reading: pair.reading.value(),
            expected,
            counted: pair.concentration.value(),
            weight: self.weight(expected, error),
        })
    }

    fn against(&self, judged: &Result<Judged, Refusal>) -> AgainstCurve {
        let judged = match judged {
            Ok(judged) => judged,
            Err(refusal) => return AgainstCurve::Off(*refusal),
        };
        let share = self.polynomial.at(judged.reading).share + 1.0 / judged.weight;
        let half = two_sided(PAIR_SHARE, self.degrees()) * self.residual_sd() * share.sqrt();
        let within = Within::about(judged.expected, half);
        AgainstCurve::Held {
            expected_m_per_ml: judged.expected,
            within,
            outside: !within.holds(judged.counted),
        }
    }

    /// Counted = (1 + shift) × expected, each pair with its weight; the error is that of the counts
    /// and of the curve, which all pairs share.
    fn shift(&self, run: &[Judged]) -> Shift {
        let on_each = |j: &Judged| (j.weight * j.expected, j.reading);
        let numbers: Vec<_> = run.iter().map(on_each).collect();
        let size: f64 = run.iter().map(|j| j.weight * j.expected * j.expected).sum();
        let apart = |j: &Judged| j.weight * j.expected * (j.counted - j.expected);
        let shift = run.iter().map(apart).sum::<f64>() / size;
        // Each count adds (weight × expected)² ÷ weight, which sums to the size.
        let share = size + self.polynomial.over(&numbers).share;
        let error = self.residual_sd() * share.sqrt() / size;
        let half = two_sided(RUN_SHARE, self.degrees()) * error;
        Shift {
            pairs: run.len(),
            percent: 100.0 * shift,
            low_percent: 100.0 * (shift - half),
            high_percent: 100.0 * (shift + half),
        }
    }
}
