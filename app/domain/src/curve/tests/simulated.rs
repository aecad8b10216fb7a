//! Simulated instruments of known truth, fewer than in `tests/benches/laboratory/curve.rs`, whose
//! figures stand in the docs.

use crate::{curve, units};
use curve::{Shape, Weighing};
use instruments::{Bench, coverage, drift, lean};

#[path = "../../../../../tests/laboratory/instruments.rs"]
mod instruments;

const SEED: u64 = 20_261_203;

fn bench(shape: Shape, weighing: Weighing, pairs: usize) -> Bench {
    Bench {
        shape,
        weighing,
        alike: weighing == Weighing::Plain,
        pairs,
    }
}

#[test]
fn intervals_hold_what_they_promise() {
    for shape in [Shape::Linear, Shape::Quadratic] {
        for weighing in [Weighing::BySize, Weighing::ByError, Weighing::Plain] {
            let found = coverage(bench(shape, weighing, 12), 800, SEED);
            for share in [found.count, found.thin, found.thick] {
                assert!(
                    (93.0..=97.0).contains(&share),
                    "{shape:?} {weighing:?} {found:?}"
                );
            }
            assert!(found.truth > 97.0 && found.refused < 25.0, "{found:?}");
        }
    }
}

/// Why counts that err by a share are not to be fitted plainly.
#[test]
fn a_plain_fit_misjudges_thin_and_thick() {
    let plain = Bench {
        alike: false,
        ..bench(Shape::Linear, Weighing::Plain, 12)
    };
    let found = coverage(plain, 800, SEED);
    assert!(found.thin > 97.0 && found.thick < 88.0, "{found:?}");
}

#[test]
fn weights_of_the_fitted_size_do_not_lean() {
    let (counted, fitted) = lean(12, 2000, SEED);
    assert!(counted < -0.5, "{counted}");
    assert!(fitted.abs() < 0.2, "{fitted}");
}

#[test]
fn drift_is_seen_and_seldom_imagined() {
    let by_size = bench(Shape::Linear, Weighing::BySize, 12);
    let none = drift(by_size, 1.0, 300, SEED);
    assert!(none.pair < 4.0 && none.run < 4.0, "{none:?}");
    assert!(none.drifting[3] < 13.0 && none.anything < 25.0, "{none:?}");
    let tenth = drift(by_size, 0.9, 300, SEED);
    assert!(tenth.drifting[2] > 70.0, "{tenth:?}");
    let fifth = drift(by_size, 0.8, 300, SEED);
    assert!(fifth.drifting[0] > 95.0, "{fifth:?}");
}
