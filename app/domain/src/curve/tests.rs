mod bad;
mod kept;
mod nist;
mod outside;
mod reckoned;
mod simulated;

use super::{Curve, Pair, Shape, Weighing};
use crate::units::{Concentration, InstrumentReading};

/// Readings and counts near 1000 × reading.
const LINE: [(f64, f64); 8] = [
    (0.1, 105.0),
    (0.2, 198.0),
    (0.3, 310.0),
    (0.4, 402.0),
    (0.5, 489.0),
    (0.6, 612.0),
    (0.7, 694.0),
    (0.8, 808.0),
];

fn pair(reading: f64, concentration: f64) -> Pair {
    Pair {
        reading: InstrumentReading::new(reading).unwrap(),
        concentration: Concentration::new(concentration).unwrap(),
        relative_error: None,
    }
}

fn pairs(of: &[(f64, f64)]) -> Vec<Pair> {
    of.iter().map(|(x, y)| pair(*x, *y)).collect()
}

fn line(weighing: Weighing) -> Curve {
    Curve::fit(&pairs(&LINE), Shape::Linear, weighing).unwrap()
}

/// In every shape and weighing: the concentration rises with the reading, the interval of the mean lies
/// within that of one, both about the concentration; and the unit of the reading does not matter.
#[test]
fn the_concentration_follows_the_reading() {
    for shape in [Shape::Linear, Shape::Quadratic] {
        for weighing in [Weighing::Plain, Weighing::BySize] {
            let curve = Curve::fit(&pairs(&LINE), shape, weighing).unwrap();
            let scaled: Vec<_> = LINE.iter().map(|(x, y)| (1000.0 * x, *y)).collect();
            let other = Curve::fit(&pairs(&scaled), shape, weighing).unwrap();
            let mut before = 0.0;
            for step in 0..=70 {
                let reading = f64::from(step).mul_add(0.01, 0.1).min(0.8);
                let read = |curve: &Curve, x| curve.read(InstrumentReading::new(x).unwrap());
                let found = read(&curve, reading).unwrap();
                let value = found.concentration.value();
                assert!(value > before);
                before = value;
                assert!(found.one.low < found.mean.low && found.mean.low < value);
                assert!(found.one.high > found.mean.high && found.mean.high > value);
                let same = read(&other, (1000.0 * reading).clamp(100.0, 800.0)).unwrap();
                assert!((same.one_error / found.one_error - 1.0).abs() < 1e-9);
                assert!((same.concentration.value() / value - 1.0).abs() < 1e-9);
            }
        }
    }
}

/// A worse count makes a wider interval: the same pairs with their scatter doubled.
#[test]
fn more_scatter_is_more_error() {
    let calm = line(Weighing::BySize);
    let fit = |(x, y): &(f64, f64)| {
        let expected = calm.read(pair(*x, 1.0).reading).unwrap();
        let expected = expected.concentration.value();
        (*x, expected + 2.0 * (y - expected))
    };
    let wild: Vec<_> = LINE.iter().map(fit).collect();
    let wild = Curve::fit(&pairs(&wild), Shape::Linear, Weighing::BySize).unwrap();
    for (x, _) in LINE {
        let error = |curve: &Curve| curve.read(pair(x, 1.0).reading).unwrap().relative_error;
        assert!(error(&wild) > error(&calm));
    }
}
