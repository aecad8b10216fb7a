//! How much further to count until the error asked for is reached.

use super::{Chamber, Interval, Replicate, sums};
use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, within};
use serde::{Deserialize, Serialize};

/// A relative error asked for, one standard deviation in %, from 1 to 50: 5 % takes 400 sperm.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct ErrorAsked(f64);

/// How much further to count.
#[derive(Debug, Clone, PartialEq)]
pub struct Further {
    /// Sperm to count in all: (100 ÷ error)².
    pub sperm_needed: u32,
    /// Sperm still to count.
    pub sperm_more: u32,
    /// Squares still to count, as dense as those counted; none where no sperm was counted yet.
    pub squares_more: Option<u32>,
    /// The same in whole grids, as the WHO manual (5th ed. 2010) asks.
    pub grids_more: Option<u32>,
    /// Dilution and chamber alone leave a larger error than was asked for: counting on does not
    /// reach it; fill the chamber again, from a new dilution.
    pub others_exceed: bool,
    /// What was reckoned.
    pub figures: Vec<Explained>,
}

impl ErrorAsked {
    /// Within bounds.
    pub fn new(percent: f64) -> Result<Self, BoundError> {
        within("error_asked_percent", percent, 1.0..=50.0, "%").map(Self)
    }

    /// In %.
    pub const fn percent(self) -> f64 {
        self.0
    }

    /// Sperm to count in all until counting has this error.
    pub fn sperm_needed(self) -> u32 {
        // At most 10,000, for an error of 1 %.
        whole(ceil((100.0 / self.0) * (100.0 / self.0)))
    }
}

impl Default for ErrorAsked {
    /// 5 %, which is 400 sperm: two replicates of the 200 that the WHO manual (5th ed. 2010) asks.
    fn default() -> Self {
        Self(5.0)
    }
}

impl TryFrom<f64> for ErrorAsked {
    type Error = BoundError;
    fn try_from(percent: f64) -> Result<Self, BoundError> {
        Self::new(percent)
    }
}

impl From<ErrorAsked> for f64 {
    fn from(asked: ErrorAsked) -> Self {
        asked.0
    }
}

/// How much further to count until the error of counting is what was asked for. What dilution and
/// chamber add is not taken off by counting; `interval` says whether they alone exceed it.
pub fn further(
    chamber: &Chamber,
    replicates: &[Replicate],
    interval: &Interval,
    asked: ErrorAsked,
    from: &Origin,
) -> Further {
    let (count, squares) = sums(replicates);
    let needed = asked.sperm_needed();
    let formula = "ceil(100 / error_asked_percent * (100 / error_asked_percent))";
    let needed_figure = Explained::new(Term::CountNeeded, "", formula, Printed::Who2010)
        .with(Term::ErrorAsked, asked.percent(), "%", from.clone())
        .is(f64::from(needed));
    let counted =
        |e: Explained, r: &Replicate| e.with(Term::Count, r.count.number(), "", from.clone());
    let more = (f64::from(needed) - count).max(0.0);
    let formula = "max(0, count_needed - sum(count))";
    let more_figure =
        Explained::new(Term::CountMore, "", formula, Printed::Definition).after(&needed_figure);
    let more_figure = replicates.iter().fold(more_figure, counted).is(more);
    let mut figures = vec![needed_figure, more_figure];
    let in_squares = (count > 0.0).then(|| {
        let squares_more = ceil(more * squares / count);
        let formula = "ceil(count_more * sum(squares) / sum(count))";
        let e = Explained::new(Term::SquaresMore, "", formula, Printed::Definition);
        let e = figures.iter().skip(1).fold(e, Explained::after);
        let e = replicates.iter().fold(e, |e, r| {
            counted(e, r).with(Term::Squares, r.squares.number(), "", from.clone())
        });
        let squares_figure = e.is(squares_more);
        let grid = f64::from(chamber.grid_squares());
        let grids_more = ceil(squares_more / grid);
        let formula = "ceil(squares_more / grid_squares)";
        let grids_figure = Explained::new(Term::GridsMore, "", formula, Printed::Who2010)
            .after(&squares_figure)
            .with(Term::GridSquares, grid, "", from.clone())
            .is(grids_more);
        figures.extend([squares_figure, grids_figure]);
        // At most 10,000 sperm in 9,000 squares for each: within 32 bits.
        (whole(squares_more), whole(grids_more))
    });
    Further {
        sperm_needed: needed,
        sperm_more: whole(more),
        squares_more: in_squares.map(|both| both.0),
        grids_more: in_squares.map(|both| both.1),
        others_exceed: interval.other_percent > asked.percent(),
        figures,
    }
}

/// A number that is whole and from 0 to 90 million, by the bounds above.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "whole, and within 32 bits"
)]
fn whole(x: f64) -> u32 {
    x as u32
}

/// `ceil` of [`crate::explain`].
fn ceil(x: f64) -> f64 {
    (x - 1e-9).ceil().max(0.0)
}
