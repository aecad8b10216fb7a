//! How sure a concentration is: what counting, dilution and chamber each leave open.

use super::{Chamber, Dilution, Replicate, Z95, can_be, sampling_error, sums};
use crate::explain::{Explained, Origin, Printed, Term};
use crate::intervals::poisson_jeffreys;
use crate::units::{BoundError, Concentration, within};
use serde::{Deserialize, Serialize};

/// Relative errors of the bench, each one standard deviation in %.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Errors(Written);

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Written {
    step_percent: f64,
    filling_percent: f64,
    diluted_anew: bool,
}

/// The 95 % interval of a concentration and its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Interval {
    /// Low end in M/mL: 0 where nothing was counted.
    pub low_m_per_ml: f64,
    /// High end in M/mL, always above 0.
    pub high_m_per_ml: f64,
    /// Error of counting in %, 100 ÷ √N; none where nothing was counted.
    pub counting_percent: Option<f64>,
    /// Error of the dilution in %.
    pub dilution_percent: f64,
    /// Error of the chamber in %.
    pub chamber_percent: f64,
    /// Dilution and chamber together in %: what no counting on takes away.
    pub other_percent: f64,
    /// All together in %; none where nothing was counted.
    pub whole_percent: Option<f64>,
    /// Each of these, and what the ends are made of.
    pub figures: Vec<Explained>,
}

impl Errors {
    /// The most that is taken, in %: beyond it the interval's arithmetic is not tested, and the pipette or
    /// the chamber is to be replaced.
    pub const HIGH_PERCENT: f64 = 20.0;
    /// Of a dilution step in %, unless said (Berkson, Magath & Hurn 1940, for blood cells in routine
    /// practice: the paper is real, the figure is from memory).
    pub const STEP_PERCENT: f64 = 4.7;
    /// Of a filling of the chamber in %, unless said (the same paper, from memory).
    pub const FILLING_PERCENT: f64 = 4.6;

    /// Of each dilution step, and of each filling of the chamber, 0 to 20 %. `diluted_anew`: each
    /// filling is from a dilution of its own, as the WHO manual (5th ed. 2010) asks, so that the
    /// errors of dilution partly cancel.
    pub fn new(
        step_percent: f64,
        filling_percent: f64,
        diluted_anew: bool,
    ) -> Result<Self, BoundError> {
        let within =
            |field, read| within(field, read, 0.0..=Self::HIGH_PERCENT, "%").map(|read| read + 0.0);
        Ok(Self(Written {
            step_percent: within("step_error_percent", step_percent)?,
            filling_percent: within("filling_error_percent", filling_percent)?,
            diluted_anew,
        }))
    }

    /// Of each dilution step, in %.
    pub const fn step_percent(&self) -> f64 {
        self.0.step_percent
    }

    /// Of each filling, in %.
    pub const fn filling_percent(&self) -> f64 {
        self.0.filling_percent
    }

    /// Each filling is from a dilution of its own.
    pub const fn diluted_anew(&self) -> bool {
        self.0.diluted_anew
    }
}

impl Default for Errors {
    /// All fillings from one dilution.
    fn default() -> Self {
        Self(Written {
            step_percent: Self::STEP_PERCENT,
            filling_percent: Self::FILLING_PERCENT,
            diluted_anew: false,
        })
    }
}

impl TryFrom<Written> for Errors {
    type Error = BoundError;
    fn try_from(w: Written) -> Result<Self, BoundError> {
        Self::new(w.step_percent, w.filling_percent, w.diluted_anew)
    }
}

impl From<Errors> for Written {
    fn from(errors: Errors) -> Self {
        errors.0
    }
}

/// The 95 % interval of the concentration that [`super::count_in`] finds, refused as there.
///
/// Counting gives the middle and both ends of a gamma distribution
/// ([`crate::intervals::poisson_jeffreys`]); dilution and chamber a relative error that is normal on
/// the scale of the logarithm. Both are joined on that scale as Zou & Donner 2008 join intervals of
/// parts: distances from the middle add as squares, each side for itself.
pub fn interval(
    chamber: &Chamber,
    replicates: &[Replicate],
    dilution: &Dilution,
    errors: &Errors,
    from: &Origin,
) -> Result<Interval, BoundError> {
    can_be(chamber, replicates)?;
    let (count, squares) = sums(replicates);
    let others = others(replicates, dilution, errors, from);
    let other = &others[2];
    let [dilution_percent, chamber_percent, other_percent] =
        others.each_ref().map(Explained::number);
    let counting = sampling_error(replicates, count, from);
    let whole = counting.as_ref().map(|counting| {
        let formula = "sqrt(sampling_error_percent * sampling_error_percent \
            + other_error_percent * other_error_percent)";
        Explained::new(Term::WholeError, "%", formula, Printed::Berkson1940)
            .after(counting)
            .after(other)
            .is(root(counting.number(), other.number()))
    });
    let each = Explained::new(
        Term::EachSperm,
        Concentration::UNIT,
        EACH,
        Printed::Definition,
    );
    let each = replicates
        .iter()
        .fold(each, |e, r| {
            e.with(Term::Squares, r.squares.number(), "", from.clone())
        })
        .with(Term::Dilution, dilution.factor(), "×", Origin::Figure)
        .with(Term::SquareNl, chamber.square_nl(), "nL", from.clone())
        .is(dilution.factor() / (squares * chamber.square_nl()));
    let ([low, high], ends) = ends(replicates, &each, other, from);
    Ok(Interval {
        low_m_per_ml: low,
        high_m_per_ml: high,
        counting_percent: counting.as_ref().map(Explained::number),
        dilution_percent,
        chamber_percent,
        other_percent,
        whole_percent: whole.as_ref().map(Explained::number),
        figures: counting
            .into_iter()
            .chain(others)
            .chain(whole)
            .chain([each])
            .chain(ends)
            .collect(),
    })
}

/// Low and high end of a concentration in M/mL: `count` sperm that stand for `each` M/mL, and
/// `other_percent` of error beside the counting.
pub(super) fn bounds([low, middle, high]: [f64; 3], each: f64, other_percent: f64) -> [f64; 2] {
    let other = Z95 * Z95 * other_percent * other_percent / 10_000.0;
    let far = |ratio: f64| {
        let log = libm::log(ratio);
        libm::exp((log * log + other).sqrt())
    };
    let from_below = if low > 0.0 {
        middle * each / far(middle / low)
    } else {
        0.0
    };
    [from_below, middle * each * far(high / middle)]
}

/// The errors of dilution, of chamber, and of both.
fn others(
    replicates: &[Replicate],
    dilution: &Dilution,
    errors: &Errors,
    from: &Origin,
) -> [Explained; 3] {
    let (_, squares) = sums(replicates);
    let of_squares = replicates
        .iter()
        .map(|r| r.squares.number() * r.squares.number())
        .sum::<f64>()
        .sqrt();
    // Fillings weigh as the squares they were counted in.
    let weight = of_squares / squares;
    let with_squares = |e: Explained| {
        replicates.iter().fold(e, |e, r| {
            e.with(Term::Squares, r.squares.number(), "", from.clone())
        })
    };
    let steps = dilution.pipetted();
    let (formula, share) = if errors.diluted_anew() {
        (
            "norm(step_error_percent) * norm(squares) / sum(squares)",
            weight,
        )
    } else {
        ("norm(step_error_percent)", 1.0)
    };
    let step = errors.step_percent();
    let mut diluted = Explained::new(Term::DilutionError, "%", formula, Printed::Berkson1940);
    for _ in 0..steps {
        diluted = diluted.with(Term::StepError, step, "%", from.clone());
    }
    if errors.diluted_anew() {
        diluted = with_squares(diluted);
    }
    let diluted = diluted.is((step * step * steps as f64).sqrt() * share);
    let formula = "filling_error_percent * norm(squares) / sum(squares)";
    let filled = Explained::new(Term::ChamberError, "%", formula, Printed::Berkson1940);
    let filled = filled.with(
        Term::FillingError,
        errors.filling_percent(),
        "%",
        from.clone(),
    );
    let filled = with_squares(filled).is(errors.filling_percent() * weight);
    let formula = "sqrt(dilution_error_percent * dilution_error_percent \
        + chamber_error_percent * chamber_error_percent)";
    let both = Explained::new(Term::OtherError, "%", formula, Printed::Berkson1940)
        .after(&diluted)
        .after(&filled)
        .is(root(diluted.number(), filled.number()));
    [diluted, filled, both]
}

/// The gamma distribution's points, and both ends.
fn ends(
    replicates: &[Replicate],
    each: &Explained,
    other: &Explained,
    from: &Origin,
) -> ([f64; 2], Vec<Explained>) {
    let count: u32 = replicates.iter().map(|r| r.count.value()).sum();
    let points = poisson_jeffreys(count);
    let [low_end, high_end] = bounds(points, each.number(), other.number());
    let formulas = if count == 0 { OF_NOTHING } else { OF_COUNT };
    let terms = [Term::CountLow, Term::CountMiddle, Term::CountHigh];
    let of_count = |((term, formula), point): ((Term, &'static str), f64)| {
        let explained = Explained::new(term, "", formula, Printed::Brown2001);
        replicates
            .iter()
            .fold(explained, |e, r| {
                e.with(Term::Count, r.count.number(), "", from.clone())
            })
            .is(point)
    };
    let mut figures: Vec<_> = terms
        .into_iter()
        .zip(formulas)
        .zip(points)
        .map(of_count)
        .collect();
    let joined = |figures: &[Explained], term, formula: &'static str, end: f64| {
        let explained = Explained::new(term, Concentration::UNIT, formula, Printed::ZouDonner2008);
        figures
            .iter()
            .chain([each, other])
            .filter(|figure| formula.contains(figure.figure.name()))
            .fold(explained, Explained::after)
            .is(end)
    };
    let low = if count == 0 { LOW_OF_NOTHING } else { LOW };
    let low = joined(&figures, Term::ConcentrationLow, low, low_end);
    let high = joined(&figures, Term::ConcentrationHigh, HIGH, high_end);
    figures.extend([low, high]);
    ([low_end, high_end], figures)
}

fn root(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

const EACH: &str = "dilution / (sum(squares) * square_nl)";
const OF_COUNT: [&str; 3] = [
    "gamma_quantile(0.025, sum(count) + 0.5)",
    "gamma_quantile(0.5, sum(count) + 0.5)",
    "gamma_quantile(0.975, sum(count) + 0.5)",
];
const OF_NOTHING: [&str; 3] = [
    "sum(count)",
    "gamma_quantile(0.5, sum(count) + 1)",
    "gamma_quantile(0.975, sum(count) + 1)",
];
const LOW_OF_NOTHING: &str = "count_low * each_m_per_ml";
const LOW: &str = "count_middle * each_m_per_ml / exp(sqrt(ln(count_middle / count_low) \
    * ln(count_middle / count_low) \
    + 3.841458820694124 * other_error_percent * other_error_percent / 10000))";
const HIGH: &str = "count_middle * each_m_per_ml * exp(sqrt(ln(count_high / count_middle) \
    * ln(count_high / count_middle) \
    + 3.841458820694124 * other_error_percent * other_error_percent / 10000))";
