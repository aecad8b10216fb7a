//! Against statsmodels and scipy: `tests/laboratory/curve.py`, whose output names their versions.

use crate::curve::{
    AgainstCurve, Curve, Pair, Shape, Weighing, two_sided, within as chance_within,
};
use crate::units::{Concentration, InstrumentReading, RelativeError};
use serde::Deserialize;

/// One line of `curve.jsonl`.
#[derive(Deserialize)]
struct Case {
    shape: Shape,
    weighing: Weighing,
    /// Reading, concentration, relative error.
    pairs: Vec<[f64; 3]>,
    coefficients: Vec<f64>,
    standard_errors: Vec<f64>,
    residual_sd: f64,
    r_squared: f64,
    /// Reading, concentration, error of the mean and of one, ends of both intervals.
    read: Vec<[f64; 8]>,
    later: Later,
}

#[derive(Deserialize)]
struct Later {
    /// Reading, concentration, relative error, expected, 99 % from, to.
    pairs: Vec<[f64; 6]>,
    /// In %, and 99 % from, to.
    shift: [f64; 3],
}

#[derive(Deserialize)]
struct Quantile {
    degrees: usize,
    share: f64,
    t: f64,
}

fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().skip(1)
}

fn pair(reading: f64, concentration: f64, error: f64) -> Pair {
    Pair {
        reading: InstrumentReading::new(reading).unwrap(),
        concentration: Concentration::new(concentration).unwrap(),
        relative_error: Some(RelativeError::new(error).unwrap()),
    }
}

#[track_caller]
fn near(found: f64, expected: f64, size: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * size,
        "{found} {expected}"
    );
}

#[test]
fn curves_are_those_of_another_program() {
    let text = include_str!("../../../../../tests/laboratory/curve.jsonl");
    let mut values = 0;
    for line in lines(text) {
        let case: Case = serde_json::from_str(line).unwrap();
        let pairs: Vec<_> = case
            .pairs
            .iter()
            .map(|[x, y, e]| pair(*x, *y, *e))
            .collect();
        let curve = Curve::fit(&pairs, case.shape, case.weighing).unwrap();
        let expected = case.coefficients.iter().zip(&case.standard_errors);
        for ((value, error), (expected, expected_error)) in
            curve.coefficients().iter().zip(expected)
        {
            near(*value, *expected, expected.abs().max(*error));
            near(*error, *expected_error, *error);
            values += 2;
        }
        near(curve.residual_sd(), case.residual_sd, case.residual_sd);
        near(curve.r_squared(), case.r_squared, 1.0);
        values += 2 + read(&curve, &case) + held(&curve, &case);
    }
    assert_eq!(values, 12_251);
}

fn read(curve: &Curve, case: &Case) -> usize {
    for [
        x,
        y,
        mean_error,
        one_error,
        mean_low,
        mean_high,
        one_low,
        one_high,
    ] in &case.read
    {
        let found = curve.read(InstrumentReading::new(*x).unwrap()).unwrap();
        near(found.concentration.value(), *y, *y);
        near(found.mean_error, *mean_error, *mean_error);
        near(found.one_error, *one_error, *one_error);
        near(found.mean.low, mean_low.max(0.0), *y);
        near(found.mean.high, *mean_high, *y);
        near(found.one.low, one_low.max(0.0), *y);
        near(found.one.high, *one_high, *y);
    }
    7 * case.read.len()
}

fn held(curve: &Curve, case: &Case) -> usize {
    let later: Vec<_> = case
        .later
        .pairs
        .iter()
        .map(|p| pair(p[0], p[1], p[2]))
        .collect();
    let drift = curve.drift(&later);
    for (found, [_, counted, _, expected, low, high]) in drift.pairs.iter().zip(&case.later.pairs) {
        let AgainstCurve::Held {
            expected_m_per_ml,
            within,
            outside,
        } = found
        else {
            panic!("{found:?}")
        };
        near(*expected_m_per_ml, *expected, *expected);
        near(within.low, *low, *expected);
        near(within.high, *high, *expected);
        assert_eq!(*outside, counted < low || counted > high);
    }
    let mut values = 4 * later.len();
    assert_eq!(drift.shift.is_some(), later.len() >= 3);
    if let Some(shift) = drift.shift {
        let found = [shift.percent, shift.low_percent, shift.high_percent];
        for (found, expected) in found.into_iter().zip(case.later.shift) {
            near(found, expected, 100.0);
        }
        values += 3;
    }
    values
}

#[test]
fn quantiles_are_those_of_another_program() {
    let text = include_str!("../../../../../tests/laboratory/student.jsonl");
    let mut values = 0;
    for line in lines(text) {
        let case: Quantile = serde_json::from_str(line).unwrap();
        let found = two_sided(case.share, case.degrees);
        assert!((found / case.t - 1.0).abs() < 1e-12, "{}", case.degrees);
        assert!((chance_within(found, case.degrees) - case.share).abs() < 1e-14);
        values += 1;
    }
    assert_eq!(values, 700);
}
