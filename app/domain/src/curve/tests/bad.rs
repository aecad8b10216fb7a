//! What makes no curve, and what is not read off one.

use super::{line, pair, pairs};
use crate::curve::{Curve, CurveError, KeptPairs, Pair, Refusal, Shape, Way, Weighing};
use crate::units::{Concentration, InstrumentReading, RelativeError};

fn refused(of: &[(f64, f64)], shape: Shape, weighing: Weighing) -> CurveError {
    Curve::fit(&pairs(of), shape, weighing).unwrap_err()
}

fn at(reading: f64) -> InstrumentReading {
    InstrumentReading::new(reading).unwrap()
}

#[test]
fn what_makes_no_curve_is_said_with_what_to_do() {
    let two = [(0.2, 100.0), (0.4, 200.0)];
    let same = [(0.3, 100.0), (0.3, 200.0), (0.3, 300.0), (0.3, 400.0)];
    let few = [(0.2, 100.0), (0.2, 110.0), (0.6, 300.0), (0.6, 320.0)];
    let constant = [(0.2, 200.0), (0.3, 200.0), (0.4, 200.0), (0.6, 200.0)];
    let scattered = [(0.2, 300.0), (0.3, 100.0), (0.4, 310.0), (0.6, 190.0)];
    let nothing = [(0.0, 0.0), (0.2, 100.0), (0.4, 210.0), (0.6, 290.0)];
    for (of, shape, weighing, says) in [
        (
            &two[..],
            Shape::Linear,
            Weighing::BySize,
            "2 pairs make no such curve: read and count at least 4 ejaculates",
        ),
        (
            &constant,
            Shape::Quadratic,
            Weighing::BySize,
            "4 pairs make no such curve: read and count at least 5 ejaculates",
        ),
        (
            &same,
            Shape::Linear,
            Weighing::Plain,
            "the pairs have 1 different readings: add thinner and thicker semen until there are at least 3",
        ),
        (
            &few,
            Shape::Linear,
            Weighing::Plain,
            "the pairs have 2 different readings: add thinner and thicker semen until there are at least 3",
        ),
        (
            &constant,
            Shape::Linear,
            Weighing::Plain,
            "the concentration does not follow the reading: check that readings and counts belong together, and add thinner and thicker semen",
        ),
        (
            &constant,
            Shape::Linear,
            Weighing::BySize,
            "the concentration does not follow the reading: check that readings and counts belong together, and add thinner and thicker semen",
        ),
        (
            &scattered,
            Shape::Linear,
            Weighing::BySize,
            "the concentration does not follow the reading: check that readings and counts belong together, and add thinner and thicker semen",
        ),
        (
            &nothing,
            Shape::Linear,
            Weighing::BySize,
            "pair 1 has a concentration of 0, which cannot be weighed: leave it out, or fit plainly",
        ),
        (
            &few,
            Shape::Linear,
            Weighing::ByError,
            "the pairs have 2 different readings: add thinner and thicker semen until there are at least 3",
        ),
        (
            &constant,
            Shape::Linear,
            Weighing::ByError,
            "pair 1 has no relative error: enter it, or weigh by size",
        ),
    ] {
        assert_eq!(refused(of, shape, weighing).to_string(), says, "{of:?}");
    }
}

#[test]
fn a_hundred_pairs_are_enough() {
    let many = vec![pair(0.1, 100.0); 101];
    let many = Curve::fit(&many, Shape::Linear, Weighing::Plain).unwrap_err();
    assert_eq!(
        many.to_string(),
        "101 pairs are more than a curve takes: keep the latest 100"
    );
}

#[test]
fn a_curve_that_turns_says_where() {
    let turning = [
        (0.1, 100.0),
        (0.2, 200.0),
        (0.3, 290.0),
        (0.4, 300.0),
        (0.5, 250.0),
    ];
    let turns = refused(&turning, Shape::Quadratic, Weighing::BySize);
    let CurveError::Turns { at, below } = turns else {
        panic!("{turns:?}")
    };
    assert!((0.35..0.45).contains(&at), "{at}");
    assert_eq!(below, Way::Rising);
}

#[test]
fn what_is_no_number_does_not_get_in() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -0.1] {
        assert!(InstrumentReading::new(bad).is_err());
        assert!(Concentration::new(bad).is_err());
        assert!(RelativeError::new(bad).is_err());
    }
    // The narrowest and the most extreme that does get in is answered or refused, never NaN.
    let tiny = f64::MIN_POSITIVE;
    for of in [
        vec![
            (0.0, tiny),
            (tiny, 2.0 * tiny),
            (2.0 * tiny, 5000.0),
            (3.0 * tiny, 1.0),
        ],
        vec![
            (1e6, 1.0),
            (1e6 - 1e-9, 2.0),
            (1e6 - 2e-9, 3.0),
            (1e6 - 3e-9, 4.0),
        ],
        vec![(0.0, 5000.0), (1e6, tiny), (tiny, 5000.0), (5e5, 2500.0)],
        vec![(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0), (4.0, 0.0)],
    ] {
        for shape in [Shape::Linear, Shape::Quadratic] {
            for weighing in [Weighing::Plain, Weighing::BySize] {
                let Ok(curve) = Curve::fit(&pairs(&of), shape, weighing) else {
                    continue;
                };
                for (value, error) in curve.coefficients() {
                    assert!(value.is_finite() && error.is_finite(), "{of:?}");
                }
                if let Ok(read) = curve.read(at(curve.range().0)) {
                    assert!(
                        read.one.high.is_finite() && read.one.low.is_finite(),
                        "{of:?}"
                    );
                }
                let drift = curve.drift(&pairs(&of));
                assert!(drift.shift.is_none_or(|s| s.percent.is_finite()), "{of:?}");
            }
        }
    }
}

#[test]
fn nothing_is_read_off_beyond_the_curve() {
    let curve = line(Weighing::BySize);
    let (low, high) = curve.range();
    assert!(curve.read(at(low)).is_ok() && curve.read(at(high)).is_ok());
    let below = curve.read(at(0.05)).unwrap_err();
    assert!(matches!(below, Refusal::Below { .. }));
    assert_eq!(
        below.to_string(),
        "a reading of 0.05 lies below the curve, which goes from 0.1 to 0.8: count this ejaculate, and add the pair to the next curve"
    );
    let above = curve.read(at(0.81)).unwrap_err();
    assert!(matches!(above, Refusal::Above { .. }));
}

#[test]
fn less_than_nothing_is_not_read_off() {
    let of = [
        (0.1, 1.0),
        (0.2, 2.0),
        (0.3, 150.0),
        (0.4, 260.0),
        (0.5, 360.0),
    ];
    let curve = Curve::fit(&pairs(&of), Shape::Linear, Weighing::Plain).unwrap();
    let refused = curve.read(at(0.1)).unwrap_err();
    assert!(matches!(refused, Refusal::NotAboveZero { m_per_ml } if m_per_ml < 0.0));
    assert!(curve.read(at(0.3)).is_ok());
}

#[test]
fn four_to_a_hundred_pairs_are_kept() {
    let kept = |many: usize| KeptPairs::new(vec![pair(0.1, 100.0); many]);
    assert!(kept(4).is_ok() && kept(100).is_ok());
    assert_eq!(
        kept(3).unwrap_err().to_string(),
        "pairs is 3 pairs; it must be from 4 to 100 pairs"
    );
    assert!(kept(101).is_err());
    let read = serde_json::from_str::<Vec<Pair>>(r#"[{"reading": -1, "concentration": 5}]"#);
    assert!(read.is_err());
}
