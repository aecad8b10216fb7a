//! A concentration read off the curve.

use super::fit::Curve;
use super::student::two_sided;
use crate::counting::Z95;
use crate::units::{Concentration, InstrumentReading, RelativeError};
use serde::{Deserialize, Serialize};

/// A concentration read off the curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ReadOff {
    /// What the curve says, in M/mL.
    pub concentration: Concentration,
    /// The standard error of the curve itself here, in M/mL.
    pub mean_error: f64,
    /// The standard error of one count of one ejaculate here, in M/mL.
    pub one_error: f64,
    /// t of 95 %, by which the errors were multiplied.
    pub student_t: f64,
    /// Where the mean of all ejaculates with this reading lies, with 95 %.
    pub mean: Within,
    /// Where a count of this one ejaculate lies, with 95 %. It holds the counting error too, so the
    /// truth lies in it more often than that.
    pub one: Within,
    /// The error of a normal distribution whose 95 % are as wide as `one`, in % of the concentration:
    /// what doses reckon with. A curve of few pairs has wider tails than its standard error says,
    /// and this takes them in. Held to 0.1–100 %.
    pub relative_error: RelativeError,
}

/// From so much to so much, in M/mL; never below 0.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Within {
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// Why nothing is read off. Count this ejaculate in the chamber.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum Refusal {
    /// The reading lies below all that were counted.
    #[error(
        "a reading of {reading} lies below the curve, which goes from {low} to {high}: count this ejaculate, and add the pair to the next curve"
    )]
    Below {
        /// The reading.
        reading: f64,
        /// The lowest of the curve.
        low: f64,
        /// Its highest.
        high: f64,
    },
    /// It lies above them.
    #[error(
        "a reading of {reading} lies above the curve, which goes from {low} to {high}: count this ejaculate, and add the pair to the next curve"
    )]
    Above {
        /// The reading.
        reading: f64,
        /// The lowest of the curve.
        low: f64,
        /// Its highest.
        high: f64,
    },
    /// The curve says less than nothing.
    #[error("the curve says {m_per_ml} M/mL, which cannot be: count this ejaculate")]
    NotAboveZero {
        /// What it says.
        m_per_ml: f64,
    },
    /// The curve says more than can be.
    #[error(
        "the curve says {m_per_ml} M/mL, above the {high} M/mL that are taken: count this ejaculate"
    )]
    TooMuch {
        /// What it says.
        m_per_ml: f64,
        /// The most that is taken.
        high: f64,
    },
}

impl Within {
    pub(super) fn about(value: f64, half: f64) -> Self {
        Self {
            low: (value - half).max(0.0),
            high: value + half,
        }
    }

    /// Whether it lies within, ends included.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

impl Curve {
    /// The concentration at a reading: Student's t × the error of the curve there, alone for the
    /// mean, and with the scatter of one count for one ejaculate, weighed as the concentration there
    /// asks for.
    pub fn read(&self, reading: InstrumentReading) -> Result<ReadOff, Refusal> {
        let reading = reading.value();
        let (low, high) = self.range();
        if reading < low {
            return Err(Refusal::Below { reading, low, high });
        }
        if reading > high {
            return Err(Refusal::Above { reading, low, high });
        }
        let found = self.polynomial.at(reading);
        let m_per_ml = found.value;
        let most = Concentration::HIGH;
        let concentration = match Concentration::new(m_per_ml) {
            Ok(within) if m_per_ml > 0.0 => within,
            Err(_) if m_per_ml > most => {
                return Err(Refusal::TooMuch {
                    m_per_ml,
                    high: most,
                });
            }
            _ => return Err(Refusal::NotAboveZero { m_per_ml }),
        };
        let sd = self.residual_sd();
        let scatter = 1.0 / self.weight(m_per_ml, None);
        let mean_error = sd * found.share.sqrt();
        let one_error = sd * (found.share + scatter).sqrt();
        let student_t = two_sided(0.95, self.degrees());
        let (least, most) = (RelativeError::LOW, RelativeError::HIGH);
        let relative = 100.0 * student_t * one_error / Z95 / m_per_ml;
        // Held to the bounds, it is within them.
        let relative_error = RelativeError::new(relative.clamp(least, most))
            .map_err(|_| Refusal::NotAboveZero { m_per_ml })?;
        Ok(ReadOff {
            concentration,
            mean_error,
            one_error,
            student_t,
            mean: Within::about(m_per_ml, student_t * mean_error),
            one: Within::about(m_per_ml, student_t * one_error),
            relative_error,
        })
    }
}
