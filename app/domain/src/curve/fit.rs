//! Pairs in, curve out.

use super::polynomial::Polynomial;
use super::regress::RegressError;
use super::student::two_sided;
use super::{PAIRS_HIGH, Pair, Shape, Weighing};
use serde::{Deserialize, Serialize};

/// How often the weights are taken anew from the fitted concentrations. After four, no curve of those in
/// `tests/laboratory/curve.jsonl` moves by more than 1/400 of its standard error (half of them: by less
/// than a millionth).
const ROUNDS: usize = 4;

/// A fitted curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    pub(super) polynomial: Polynomial,
    pub(super) weighing: Weighing,
    /// The root mean square of the pairs' relative errors, as a proportion; 1 unless they weigh.
    pub(super) usual_error: f64,
    shape: Shape,
    low: f64,
    high: f64,
    way: Way,
}

/// Where the concentration goes as the reading rises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Up: the instrument shows absorbance or density.
    Rising,
    /// Down: it shows the light that comes through.
    Falling,
}

/// Why there is no curve.
#[derive(Debug, Clone, PartialEq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum CurveError {
    /// Too few pairs.
    #[error("{pairs} pairs make no such curve: read and count at least {least} ejaculates")]
    TooFew {
        /// How many there are.
        pairs: usize,
        /// The fewest.
        least: usize,
    },
    /// Too many.
    #[error("{pairs} pairs are more than a curve takes: keep the latest {most}")]
    TooMany {
        /// How many there are.
        pairs: usize,
        /// The most.
        most: usize,
    },
    /// Too few different readings.
    #[error(
        "the pairs have {distinct} different readings: add thinner and thicker semen until there are at least {least}"
    )]
    TooFewReadings {
        /// How many there are.
        distinct: usize,
        /// The fewest.
        least: usize,
    },
    /// A pair of no sperm cannot be weighed.
    #[error(
        "pair {pair} has a concentration of 0, which cannot be weighed: leave it out, or fit plainly"
    )]
    NothingCounted {
        /// Which, from 1.
        pair: usize,
    },
    /// A pair without the error that is to weigh it.
    #[error("pair {pair} has no relative error: enter it, or weigh by size")]
    ErrorUnknown {
        /// Which, from 1.
        pair: usize,
    },
    /// The reading says nothing.
    #[error(
        "the concentration does not follow the reading: check that readings and counts belong together, and add thinner and thicker semen"
    )]
    SaysNothing,
    /// The curve turns within its range, so one concentration would have two readings.
    #[error("the curve turns at a reading of {at}: fit a line, or count the pairs near it again")]
    Turns {
        /// The reading.
        at: f64,
        /// The way it goes below it.
        below: Way,
    },
    /// Readings too close, or numbers too small, to be reckoned with.
    #[error("the readings or counts are too close to each other, or to 0, to be fitted: {0}")]
    Unfit(#[from] RegressError),
}

impl Curve {
    /// Fits the pairs, at most 100, in any order. An error says what to do.
    pub fn fit(pairs: &[Pair], shape: Shape, weighing: Weighing) -> Result<Self, CurveError> {
        let readings = check(pairs, shape)?;
        let errors = errors(pairs, weighing)?;
        let polynomial = weighed(pairs, shape, weighing, &errors)?;
        let (low, high) = match (readings.first(), readings.last()) {
            (Some(low), Some(high)) => (*low, *high),
            _ => return Err(CurveError::SaysNothing),
        };
        let way = way(&polynomial, low, high)?;
        let squares: f64 = errors.iter().map(|e| e * e).sum();
        Ok(Self {
            polynomial,
            weighing,
            usual_error: (squares / errors.len() as f64).sqrt(),
            shape,
            low,
            high,
            way,
        })
    }

    /// Line or parabola.
    pub const fn shape(&self) -> Shape {
        self.shape
    }

    /// How its pairs were weighed.
    pub const fn weighing(&self) -> Weighing {
        self.weighing
    }

    /// The lowest and highest reading it was fitted to; beyond them nothing is known.
    pub const fn range(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Where the concentration goes as the reading rises.
    pub const fn way(&self) -> Way {
        self.way
    }

    /// Its coefficients, constant first: M/mL per unit of the reading to the power; and the standard
    /// error of each.
    pub fn coefficients(&self) -> Vec<(f64, f64)> {
        let sd = self.residual_sd();
        let each = |power| {
            let found = self.polynomial.coefficient(power);
            (found.value, sd * found.share.sqrt())
        };
        (0..=self.shape.degree()).map(each).collect()
    }

    /// The scatter about it: in M/mL if plain, as a proportion of the concentration if weighed by
    /// size, and if by error as a multiple of the errors entered, which is near 1 where the
    /// instrument adds none of its own.
    pub fn residual_sd(&self) -> f64 {
        self.polynomial.fitted().residual_sd()
    }

    /// How much of the (weighed) squares about the mean it explains.
    pub fn r_squared(&self) -> f64 {
        self.polynomial.fitted().r_squared()
    }

    /// Pairs beyond coefficients.
    pub fn degrees(&self) -> usize {
        self.polynomial.fitted().degrees()
    }

    /// The weight of a count that is expected to find `concentration`, with its relative error where
    /// it is known and matters.
    pub(super) fn weight(&self, concentration: f64, error: Option<f64>) -> f64 {
        let error = error.unwrap_or(self.usual_error);
        weight(self.weighing, concentration, error)
    }
}

/// The different readings in order, once pairs are many enough.
fn check(pairs: &[Pair], shape: Shape) -> Result<Vec<f64>, CurveError> {
    let least = shape.pairs_least();
    if pairs.len() < least {
        let pairs = pairs.len();
        return Err(CurveError::TooFew { pairs, least });
    }
    if pairs.len() > PAIRS_HIGH {
        return Err(CurveError::TooMany {
            pairs: pairs.len(),
            most: PAIRS_HIGH,
        });
    }
    let mut readings: Vec<_> = pairs.iter().map(|p| p.reading.value()).collect();
    readings.sort_by(f64::total_cmp);
    readings.dedup();
    let (distinct, least) = (readings.len(), shape.readings_least());
    if distinct < least {
        return Err(CurveError::TooFewReadings { distinct, least });
    }
    Ok(readings)
}

/// The relative errors that weigh, as proportions; 1 where none does.
fn errors(pairs: &[Pair], weighing: Weighing) -> Result<Vec<f64>, CurveError> {
    let error = |(i, pair): (usize, &Pair)| {
        if weighing != Weighing::Plain && pair.concentration.value() <= 0.0 {
            return Err(CurveError::NothingCounted { pair: i + 1 });
        }
        match (weighing, pair.relative_error) {
            (Weighing::ByError, None) => Err(CurveError::ErrorUnknown { pair: i + 1 }),
            (Weighing::ByError, Some(error)) => Ok(error.value() / 100.0),
            _ => Ok(1.0),
        }
    };
    pairs.iter().enumerate().map(error).collect()
}

fn weighed(
    pairs: &[Pair],
    shape: Shape,
    weighing: Weighing,
    errors: &[f64],
) -> Result<Polynomial, RegressError> {
    let x: Vec<_> = pairs.iter().map(|p| p.reading.value()).collect();
    let y: Vec<_> = pairs.iter().map(|p| p.concentration.value()).collect();
    let fit = |sizes: &[f64]| {
        let weights = sizes
            .iter()
            .zip(errors)
            .map(|(c, e)| weight(weighing, *c, *e));
        let weights: Vec<_> = weights.collect();
        Polynomial::fit(&x, &y, Some(&weights), shape.degree())
    };
    let mut found = fit(&y)?;
    if weighing == Weighing::Plain {
        return Ok(found);
    }
    for _ in 0..ROUNDS {
        // A fitted value near 0 would outweigh all others for good.
        let size = |(x, c): (&f64, &f64)| found.at(*x).value.clamp(c / 2.0, c * 2.0);
        let sizes: Vec<_> = x.iter().zip(&y).map(size).collect();
        found = fit(&sizes)?;
    }
    Ok(found)
}

fn weight(weighing: Weighing, concentration: f64, error: f64) -> f64 {
    let sure = match weighing {
        Weighing::Plain => return 1.0,
        Weighing::ByError => error * concentration,
        Weighing::BySize => concentration,
    };
    1.0 / (sure * sure)
}

/// Which way it goes, if it goes one way from end to end and the pairs say so at all.
fn way(polynomial: &Polynomial, low: f64, high: f64) -> Result<Way, CurveError> {
    const SURE: f64 = 0.95;
    let fitted = polynomial.fitted();
    let middle = polynomial.slope(low + (high - low) / 2.0);
    let [at_low, at_high] = [low, high].map(|x| polynomial.slope(x).value);
    let goes = |slope: f64| match slope > 0.0 {
        true => Way::Rising,
        false => Way::Falling,
    };
    if at_low * at_high <= 0.0 && at_low != at_high {
        let at = low + (high - low) * at_low / (at_low - at_high);
        let below = goes(at_low);
        return Err(CurveError::Turns { at, below });
    }
    let error = fitted.residual_sd() * middle.share.sqrt();
    let least = two_sided(SURE, fitted.degrees()) * error;
    // What rounding leaves of equal counts is no slope either.
    let rounding = 1e-9 * polynomial.at(low).value.abs() / (high - low);
    if middle.value.abs() > least.max(rounding) {
        Ok(goes(middle.value))
    } else {
        Err(CurveError::SaysNothing)
    }
}
