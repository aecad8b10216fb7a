//! How sure the concentration of an evaluation is.

use super::ConcentrationBy;
use crate::counting::{Chamber, Errors, Interval, Replicate, Z95, interval};
use crate::explain::Origin;
use crate::units::{BoundError, Squares};

impl ConcentrationBy {
    /// The 95 % interval of the concentration in M/mL, low and high end: of a count with the usual errors of
    /// the bench ([`Errors::default`]), of a curve as wide as the error it was read with. None where an
    /// instrument's figure was typed, of which nobody knows how sure it is; refused as the count is.
    pub fn between(&self) -> Option<Result<(f64, f64), BoundError>> {
        match self {
            Self::Instrument(_) => None,
            Self::Curve {
                concentration,
                relative_error,
                ..
            } => {
                let half = concentration.value() * Z95 * relative_error.value() / 100.0;
                let low = (concentration.value() - half).max(0.0);
                Some(Ok((low, concentration.value() + half)))
            }
            Self::Chamber { .. } | Self::Counts { .. } => {
                let ends = |i: Interval| (i.low_m_per_ml, i.high_m_per_ml);
                self.interval().map(|found| found.map(ends))
            }
        }
    }

    /// The interval of a count and its parts; none where nothing was counted.
    pub fn interval(&self) -> Option<Result<Interval, BoundError>> {
        let errors = Errors::default();
        match self {
            Self::Instrument(_) | Self::Curve { .. } => None,
            Self::Chamber {
                count,
                squares,
                dilution,
            } => Some(Squares::new((*squares).into()).and_then(|squares| {
                let all = [Replicate {
                    count: *count,
                    squares,
                }];
                let chamber = Chamber::IMPROVED_NEUBAUER;
                interval(&chamber, &all, dilution, &errors, &Origin::Asked)
            })),
            Self::Counts {
                chamber,
                replicates,
                dilution,
            } => Some(interval(
                chamber,
                replicates,
                dilution,
                &errors,
                &Origin::Asked,
            )),
        }
    }
}
