//! The instrument's curve on simulated instruments of known truth.

use pentally_domain::{curve, units};

#[path = "../../laboratory/instruments.rs"]
mod instruments;

use curve::{Shape, Weighing};
use instruments::{Bench, WITHIN, coverage, drift, lean};

const CURVES: u32 = 4000;
const SEED: u64 = 20_261_203;

/// Lines to print: coverage of the intervals, false alarms and how soon shifts are seen.
pub fn report() -> Vec<String> {
    let mut lines = vec!["Instrument's curve: 95 % intervals, % that held".to_owned()];
    for shape in [Shape::Linear, Shape::Quadratic] {
        for weighing in [Weighing::BySize, Weighing::ByError, Weighing::Plain] {
            for pairs in [6, 12, 30] {
                lines.push(covered(shape, weighing, weighing == Weighing::Plain, pairs));
            }
        }
    }
    lines.push("The same where plain is wrong: counts err by a share".to_owned());
    lines.push(covered(Shape::Linear, Weighing::Plain, false, 12));
    let (counted, fitted) = lean(12, CURVES, SEED);
    lines.push(format!(
        "Lines lie off by {counted:+.2} % if weighed by what was counted, {fitted:+.2} % by what is fitted"
    ));
    lines.push("Later pairs, % of 12-pair curves, looked at after each pair".to_owned());
    for (shape, pairs) in [
        (Shape::Linear, 12),
        (Shape::Linear, 30),
        (Shape::Quadratic, 12),
    ] {
        for factor in [1.0, 1.1, 0.9, 1.2, 0.8] {
            lines.push(rung(shape, pairs, factor));
        }
    }
    lines
}

fn covered(shape: Shape, weighing: Weighing, alike: bool, pairs: usize) -> String {
    let bench = Bench {
        shape,
        weighing,
        alike,
        pairs,
    };
    let found = coverage(bench, CURVES, SEED);
    format!(
        "{shape:?} {weighing:?} {pairs} pairs: a count {:.1} (thin {:.1}, thick {:.1}), the truth {:.1}; refused {:.1}",
        found.count, found.thin, found.thick, found.truth, found.refused
    )
}

fn rung(shape: Shape, pairs: usize, factor: f64) -> String {
    let bench = Bench {
        shape,
        weighing: Weighing::BySize,
        alike: false,
        pairs,
    };
    let found = drift(bench, factor, CURVES / 2, SEED);
    let within: Vec<_> = WITHIN
        .iter()
        .zip(found.drifting)
        .map(|(n, percent)| format!("{percent:.1} within {n}"))
        .collect();
    format!(
        "{shape:?} {pairs} pairs, readings × {factor}: one pair outside {:.1}, a run of six strays {:.1}; drifting {}; anything within 20 {:.1}",
        found.pair,
        found.run,
        within.join(", "),
        found.anything
    )
}
