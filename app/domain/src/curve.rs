//! The instrument's curve: the farm's own photometer or densitometer against the farm's own counts.
//!
//! [`Curve::fit`] fits the concentration as a line or a parabola of the reading; [`Curve::read`]
//! reads a concentration off it, with its errors, or refuses; [`Curve::drift`] holds later counts
//! against it; [`standing`] finds which curve holds.
//!
//! The concentration is the fitted side because it is what is asked for: the scatter about the curve
//! then holds the error of counting and that of the instrument together. Which is whose cannot be told
//! from ten pairs or twenty, so an interval is that of one more count, and holds the truth more often.
//!
//! Measured on simulated instruments of 6, 12 and 30 pairs (`tests/benches/laboratory/curve.rs`, 16,000
//! ejaculates each; counts sure to 6 %, readings to 2 %): the 95 % interval held 94.4 to 95.2 % of the
//! counts in either shape and every weighing, and 98.5 to 100 % of the truths. Where counts err by a
//! share and are fitted plainly, it held 98 % of thin ones and 81 % of thick ones.
//!
//! **Weighing.** A count is about as sure as a share of what it finds: 7 % of 100 M/mL is 7, of
//! 800 M/mL it is 56. A plain fit takes both for equally sure, which makes its interval too wide for
//! thin semen and too narrow for thick semen. [`Weighing::BySize`] is what we suggest: it asks for
//! nothing but the counts. [`Weighing::ByError`] is for counts that were made very unequally well.
//! The size that weighs is the fitted one: weighed by what was counted, a count that came out low by
//! chance would draw the curve to itself, and every curve would lie low (measured: by 0.7 % at errors
//! of 6 %, and by nothing if weighed by the fitted size).

mod double;
mod drift;
mod fit;
mod kept;
mod polynomial;
mod read;
mod regress;
mod student;

pub use drift::{AgainstCurve, Drift, Finding, Next, RUN, RUN_LEAST, Shift};
pub use fit::{Curve, CurveError, Way};
pub use kept::{CurvePair, InstrumentCurve, KeptPairs, Standing, standing};
pub use polynomial::Polynomial;
pub use read::{ReadOff, Refusal, Within};
pub use regress::{Combined, RegressError, Regression};
pub use student::{two_sided, within};

use crate::units::{Concentration, InstrumentReading, RelativeError};
use serde::{Deserialize, Serialize};

/// The most pairs of a curve.
pub const PAIRS_HIGH: usize = 100;

/// One ejaculate, read and counted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pair {
    /// What the instrument showed.
    pub reading: InstrumentReading,
    /// What was counted, in M/mL.
    pub concentration: Concentration,
    /// The count's standard error in % of it, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relative_error: Option<RelativeError>,
}

/// The concentration as a function of the reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// A line.
    #[default]
    Linear,
    /// A parabola: for instruments whose reading falls behind in thick semen.
    Quadratic,
}

/// How much each pair counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weighing {
    /// All alike: each is as sure in M/mL.
    Plain,
    /// By 1 ÷ (relative error × concentration)²; every pair must have its relative error.
    ByError,
    /// By 1 ÷ concentration²: each is as sure in %.
    #[default]
    BySize,
}

impl Shape {
    /// 1 or 2.
    pub const fn degree(self) -> usize {
        match self {
            Self::Linear => 1,
            Self::Quadratic => 2,
        }
    }

    /// The fewest pairs: two more than the curve has coefficients, so that there is a scatter at all
    /// (common practice, no source; ten and more are better).
    pub const fn pairs_least(self) -> usize {
        self.degree() + 3
    }

    /// The fewest different readings: one more than coefficients, so that they can disagree with the
    /// shape (common practice, no source).
    pub const fn readings_least(self) -> usize {
        self.degree() + 2
    }
}

#[cfg(test)]
mod tests;
