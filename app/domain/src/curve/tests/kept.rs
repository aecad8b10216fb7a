//! Which curve holds, what later pairs say of it, and what is written down.

use super::{LINE, line, pair, pairs};
use crate::curve::{
    AgainstCurve, CurvePair, Finding, InstrumentCurve, KeptPairs, Next, Shape, Standing, Way,
    Weighing, standing,
};
use crate::said::Label;
use crate::time::Stamp;

fn label(text: &str) -> Label {
    Label::parse(text).unwrap()
}

fn at(minute: i64) -> Stamp {
    Stamp::new(minute * 60_000, 60).unwrap()
}

fn kept(instrument: &str, of: &[(f64, f64)]) -> InstrumentCurve {
    InstrumentCurve {
        instrument: label(instrument),
        reads: None,
        shape: Shape::Linear,
        weighing: Weighing::BySize,
        pairs: KeptPairs::new(pairs(of)).unwrap(),
    }
}

fn later(instrument: &str, reading: f64, concentration: f64) -> CurvePair {
    let pair = pair(reading, concentration);
    CurvePair {
        instrument: label(instrument),
        reading: pair.reading,
        concentration: pair.concentration,
        relative_error: None,
        collection: None,
    }
}

fn holds<'a>(
    curves: &'a [(Stamp, InstrumentCurve)],
    pairs: &'a [(Stamp, CurvePair)],
    instrument: &str,
) -> Option<Standing<'a>> {
    let curves = curves.iter().map(|(at, curve)| (*at, curve));
    let pairs = pairs.iter().map(|(at, pair)| (*at, pair));
    standing(curves, pairs, &label(instrument))
}

#[test]
fn the_latest_curve_of_the_instrument_holds_and_later_pairs_are_held_against_it() {
    let falling: Vec<_> = LINE.iter().map(|(x, y)| (1.0 - x, *y)).collect();
    let curves = [
        (at(20), kept("Photometer", &LINE)),
        (at(10), kept("Photometer", &falling)),
        (at(30), kept("Densitometer", &falling)),
    ];
    let pairs = [
        (at(26), later("Photometer", 0.5, 400.0)),
        (at(25), later("Photometer", 0.3, 305.0)),
        (at(15), later("Photometer", 0.3, 100.0)),
        (at(27), later("Densitometer", 0.3, 100.0)),
    ];
    let found = holds(&curves, &pairs, "Photometer").unwrap();
    assert_eq!(found.since, at(20));
    assert_eq!(found.curve.as_ref().unwrap().way(), Way::Rising);
    let readings: Vec<_> = found.later.iter().map(|p| p.reading.value()).collect();
    assert_eq!(readings, [0.3, 0.5]);
    let drift = found.drift.unwrap();
    assert_eq!(
        (drift.finding, drift.next),
        (Finding::Disagrees, Next::CountAgain)
    );
    // However the slices are ordered.
    let (mut turned, mut others) = (curves.clone(), pairs.clone());
    turned.reverse();
    others.reverse();
    let again = holds(&turned, &others, "Photometer").unwrap();
    assert_eq!(again.later, found.later);
    assert_eq!(again.kept, found.kept);
    assert!(holds(&curves, &pairs, "Other").is_none());
    let other = holds(&curves, &pairs, "Densitometer").unwrap();
    assert_eq!(other.curve.unwrap().way(), Way::Falling);
    let next = other.drift.map(|d| (d.finding, d.next));
    assert_eq!(next, Some((Finding::NoPairs, Next::CountOne)));
}

#[test]
fn pairs_that_stray_together_drift_and_persist() {
    let curve = line(Weighing::BySize);
    let strays = |many: usize, factor: f64| {
        let readings = [0.2, 0.35, 0.5, 0.65, 0.3, 0.45];
        let expected = |x: &f64| {
            let reading = pair(*x, 1.0).reading;
            curve.read(reading).unwrap().concentration.value()
        };
        let pairs: Vec<_> = readings[..many]
            .iter()
            .map(|x| (*x, factor * expected(x)))
            .collect();
        curve.drift(&super::pairs(&pairs))
    };
    let fine = strays(6, 1.0);
    assert_eq!((fine.finding, fine.next), (Finding::Agrees, Next::Nothing));
    let some = strays(3, 0.8);
    assert_eq!(
        (some.finding, some.next),
        (Finding::Drifting, Next::CleanAndZero)
    );
    let shift = some.shift.unwrap();
    assert!((shift.percent + 20.0).abs() < 1e-9 && shift.high_percent < 0.0);
    let all = strays(6, 0.8);
    assert_eq!((all.finding, all.next), (Finding::Drifting, Next::FitAnew));
    let off = curve.drift(&pairs(&[(0.05, 50.0)]));
    assert!(matches!(off.pairs[0], AgainstCurve::Off(_)));
    assert_eq!(off.finding, Finding::NoPairs);
}

#[test]
fn what_is_not_known_is_not_written() {
    let written = serde_json::to_string(&kept("Photometer", &LINE[..4])).unwrap();
    assert_eq!(
        written,
        r#"{"instrument":"Photometer","shape":"linear","weighing":"by_size","pairs":[{"reading":0.1,"concentration":105.0},{"reading":0.2,"concentration":198.0},{"reading":0.3,"concentration":310.0},{"reading":0.4,"concentration":402.0}]}"#
    );
    let read: InstrumentCurve = serde_json::from_str(&written).unwrap();
    assert_eq!(read, kept("Photometer", &LINE[..4]));
    let written = serde_json::to_string(&later("Photometer", 0.5, 400.0)).unwrap();
    assert_eq!(
        written,
        r#"{"instrument":"Photometer","reading":0.5,"concentration":400.0}"#
    );
}
