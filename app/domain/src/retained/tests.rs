//! Retained samples: what other programs make of the same looks, laws, refusals, and whether the
//! prediction keeps its word.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts and days, checked where they are made"
)]

mod kept;
mod laws;
mod outside;
mod pulls;

use super::*;
use crate::units::Percent;
use herd::Herd;
use lines::{Batch, Line, place};
use square::Square;

/// So many of so many cells after so many days.
fn look(day: f64, hits: u32, cells: u16) -> Look {
    let percent = Percent::new(100.0 * f64::from(hits) / f64::from(cells)).unwrap();
    let share = Share {
        percent,
        cells: Some(cells),
    };
    Look::new(day, share, EyeCells::USUAL).unwrap()
}

fn by_eye(day: f64, percent: u8) -> Look {
    let share = Share {
        percent: Percent::of(percent),
        cells: None,
    };
    Look::new(day, share, EyeCells::USUAL).unwrap()
}

fn near(found: f64, read: f64, far: f64) {
    assert!((found - read).abs() <= far, "{found}, not {read}");
}
