//! The request about an instrument's curve.

use super::ReckonError;
use crate::curve::{
    Curve, Drift, InstrumentCurve, Pair, ReadOff, Refusal, Shape, Way, Weighing, Within,
};
use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, Concentration, InstrumentReading, RelativeError};
use serde::{Deserialize, Serialize};

/// The most pairs in either list, as many as a curve takes.
const MOST: u8 = 100;

/// Pairs to fit, a reading to read off, later pairs to hold against the curve.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CurveAsked {
    /// The pairs, 4 (a parabola: 5) to 100.
    pub pairs: Vec<PairAsked>,
    /// Line or parabola.
    #[serde(default)]
    pub shape: Shape,
    /// How pairs are weighed.
    #[serde(default)]
    pub weighing: Weighing,
    /// What the instrument shows now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading: Option<f64>,
    /// Pairs counted since, oldest first, at most 100.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub later: Vec<PairAsked>,
    /// The record of the pairs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

impl CurveAsked {
    /// What a kept curve is made of, with pairs counted since.
    pub fn of(kept: &InstrumentCurve, later: &[Pair]) -> Self {
        Self {
            pairs: kept.pairs.pairs().iter().map(PairAsked::from).collect(),
            shape: kept.shape,
            weighing: kept.weighing,
            later: later.iter().map(PairAsked::from).collect(),
            ..Self::default()
        }
    }
}

/// One ejaculate, read and counted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PairAsked {
    /// What the instrument showed.
    pub reading: f64,
    /// What was counted.
    pub concentration_m_per_ml: f64,
    /// Its standard error in % of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relative_error_percent: Option<f64>,
}

impl From<&Pair> for PairAsked {
    fn from(pair: &Pair) -> Self {
        Self {
            reading: pair.reading.value(),
            concentration_m_per_ml: pair.concentration.value(),
            relative_error_percent: pair.relative_error.map(|error| error.value()),
        }
    }
}

/// The curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CurveAnswer {
    /// Constant first: M/mL per unit of the reading to the power.
    pub coefficients: Vec<f64>,
    /// Their standard errors.
    pub standard_errors: Vec<f64>,
    /// The scatter: in M/mL if plain, as a proportion if weighed by size, as a multiple of the
    /// errors entered if weighed by error.
    pub residual_sd: f64,
    /// Pairs beyond coefficients.
    pub degrees: usize,
    /// Of the weighed squares about the mean, explained.
    pub r_squared: f64,
    /// The lowest reading it holds for.
    pub reading_low: f64,
    /// The highest.
    pub reading_high: f64,
    /// Where the concentration goes as the reading rises.
    pub way: Way,
    /// At the reading asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read: Option<ReadAnswer>,
    /// What later pairs say; none where there are none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drift: Option<Drift>,
    /// The concentration read off, and the ends of its interval.
    pub figures: Vec<Explained>,
}

/// What the curve says at a reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadAnswer {
    /// A concentration.
    Found {
        /// In M/mL.
        concentration_m_per_ml: f64,
        /// 95 % for the mean of all ejaculates with this reading, in M/mL.
        mean: Within,
        /// 95 % for a count of this one, in M/mL.
        one: Within,
        /// The error that doses reckon with, in %.
        relative_error_percent: f64,
    },
    /// None: count this ejaculate.
    Refused {
        /// Why.
        why: Refusal,
        /// In words.
        says: String,
    },
}

/// `curve`
pub fn curve(asked: &CurveAsked) -> Result<CurveAnswer, ReckonError> {
    let later = pairs(&asked.later, "later")?;
    let curve = Curve::fit(&pairs(&asked.pairs, "pairs")?, asked.shape, asked.weighing)?;
    let reading = super::checked("reading", asked.reading, InstrumentReading::new)?;
    let found = reading.map(|reading| (reading, curve.read(reading)));
    let from = Origin::of(asked.from.as_ref());
    let figures = match &found {
        Some((reading, Ok(read))) => explain(&curve, *reading, read, &from),
        _ => Vec::new(),
    };
    let (reading_low, reading_high) = curve.range();
    let (coefficients, standard_errors) = curve.coefficients().into_iter().unzip();
    Ok(CurveAnswer {
        coefficients,
        standard_errors,
        residual_sd: curve.residual_sd(),
        degrees: curve.degrees(),
        r_squared: curve.r_squared(),
        reading_low,
        reading_high,
        way: curve.way(),
        read: found.map(|(_, read)| answer(read)),
        drift: (!later.is_empty()).then(|| curve.drift(&later)),
        figures,
    })
}

fn answer(read: Result<ReadOff, Refusal>) -> ReadAnswer {
    match read {
        Ok(read) => ReadAnswer::Found {
            concentration_m_per_ml: read.concentration.value(),
            mean: read.mean,
            one: read.one,
            relative_error_percent: read.relative_error.value(),
        },
        Err(why) => ReadAnswer::Refused {
            says: why.to_string(),
            why,
        },
    }
}

fn pairs(asked: &[PairAsked], field: &'static str) -> Result<Vec<Pair>, BoundError> {
    super::fill::few(field, asked.len(), 0, MOST)?;
    let pair = |asked: &PairAsked| {
        let counted = Concentration::new(asked.concentration_m_per_ml);
        let error = asked.relative_error_percent;
        Ok(Pair {
            reading: InstrumentReading::new(asked.reading).map_err(|e| e.named("reading"))?,
            concentration: counted.map_err(|e| e.named("concentration_m_per_ml"))?,
            relative_error: super::checked("relative_error_percent", error, RelativeError::new)?,
        })
    };
    asked.iter().map(pair).collect()
}

/// The concentration from the coefficients, and from it the ends of the interval of one count. The
/// coefficients and the error are the fit's; the rest anyone can work out.
fn explain(
    curve: &Curve,
    reading: InstrumentReading,
    read: &ReadOff,
    from: &Origin,
) -> Vec<Explained> {
    const UNIT: &str = Concentration::UNIT;
    let formula = match curve.shape() {
        Shape::Linear => "curve_constant + curve_slope * reading",
        Shape::Quadratic => {
            "curve_constant + curve_slope * reading + curve_bend * reading * reading"
        }
    };
    let names = [Term::CurveConstant, Term::CurveSlope, Term::CurveBend];
    let found = Explained::new(Term::Concentration, UNIT, formula, Printed::Definition);
    let found = found.with(Term::Reading, reading.value(), "", Origin::Asked);
    let each = names.into_iter().zip(curve.coefficients());
    let found = each.fold(found, |found, (name, (value, _))| {
        found.with(name, value, "", from.clone())
    });
    let found = found.is(read.concentration.value());
    let end = |name, formula, value: f64| {
        Explained::new(name, UNIT, formula, Printed::Definition)
            .after(&found)
            .with(Term::StudentT, read.student_t, "", from.clone())
            .with(Term::ReadError, read.one_error, UNIT, from.clone())
            .is(value)
    };
    let low = "max(0, concentration_m_per_ml - student_t * read_error_m_per_ml)";
    let high = "concentration_m_per_ml + student_t * read_error_m_per_ml";
    let low = end(Term::ReadLow, low, read.one.low);
    let high = end(Term::ReadHigh, high, read.one.high);
    vec![found, low, high]
}
