//! What is said of an instrument's curve: why there is none, why nothing is read off, and drift.

use crate::words::{Words, key};
use pentally_domain::curve::{CurveError, Drift, Finding, Next, Refusal};

/// A reading with as many decimals as it has, three at most.
pub fn reading(w: &Words, value: f64) -> String {
    let whole = |d: &u8| {
        let scaled = value * 10_f64.powi(i32::from(*d));
        (scaled - scaled.round()).abs() < 1e-6
    };
    w.num(value, (0..3).find(whole).unwrap_or(3))
}

/// Why nothing is read off.
pub fn refusal(w: &Words, why: &Refusal) -> String {
    let ends = |read: f64, low: f64, high: f64| {
        [
            ("reading", reading(w, read).into()),
            ("low", reading(w, low).into()),
            ("high", reading(w, high).into()),
        ]
    };
    match *why {
        Refusal::Below { reading, low, high } => {
            w.tr_with(key::REFUSED_BELOW, &ends(reading, low, high))
        }
        Refusal::Above { reading, low, high } => {
            w.tr_with(key::REFUSED_ABOVE, &ends(reading, low, high))
        }
        Refusal::NotAboveZero { .. } => w.tr(key::REFUSED_ZERO),
        Refusal::TooMuch { high, .. } => {
            w.tr_with(key::REFUSED_TOO_MUCH, &[("high", w.num(high, 0).into())])
        }
    }
}

/// Why there is no curve.
pub fn curve_error(w: &Words, why: &CurveError) -> String {
    let two = |key, a: usize, b: usize| w.tr_with(key, &[("n", a.into()), ("bound", b.into())]);
    match why {
        CurveError::TooFew { pairs, least } => two(key::NO_CURVE_TOO_FEW, *pairs, *least),
        CurveError::TooMany { pairs, most } => two(key::NO_CURVE_TOO_MANY, *pairs, *most),
        CurveError::TooFewReadings { distinct, least } => {
            two(key::NO_CURVE_READINGS, *distinct, *least)
        }
        CurveError::NothingCounted { pair } => {
            w.tr_with(key::NO_CURVE_NOTHING, &[("n", (*pair).into())])
        }
        CurveError::ErrorUnknown { pair } => {
            w.tr_with(key::NO_CURVE_ERROR, &[("n", (*pair).into())])
        }
        CurveError::SaysNothing => w.tr(key::NO_CURVE_SAYS_NOTHING),
        CurveError::Turns { at, .. } => {
            w.tr_with(key::NO_CURVE_TURNS, &[("at", reading(w, *at).into())])
        }
        CurveError::Unfit(_) => w.tr(key::NO_CURVE_UNFIT),
    }
}

/// What later pairs say, and what to do.
pub fn drift(w: &Words, drift: &Drift) -> String {
    let finding = match (drift.finding, drift.shift) {
        (Finding::NoPairs, _) => w.tr(key::DRIFT_NO_PAIRS),
        (Finding::Agrees, _) => w.tr(key::DRIFT_AGREES),
        (Finding::Disagrees, _) => w.tr(key::DRIFT_DISAGREES),
        (Finding::Drifting, shift) => {
            let percent = shift.map_or(0.0, |s| s.percent);
            let key = match percent >= 0.0 {
                true => key::DRIFT_ABOVE,
                false => key::DRIFT_BELOW,
            };
            let pairs = shift.map_or(0, |s| s.pairs);
            let args = [
                ("n", pairs.into()),
                ("percent", w.num(percent.abs(), 0).into()),
            ];
            w.tr_with(key, &args)
        }
    };
    let next = match drift.next {
        Next::Nothing => return finding,
        Next::CountOne => key::DRIFT_COUNT_ONE,
        Next::CountAgain => key::DRIFT_COUNT_AGAIN,
        Next::CleanAndZero => key::DRIFT_CLEAN,
        Next::FitAnew => key::DRIFT_FIT_ANEW,
    };
    format!("{finding} {}", w.tr(next))
}
