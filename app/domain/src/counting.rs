//! Counting sperm in a chamber, and how sure a count is.
//!
//! Only `+ − × ÷ √` and rounding are used here and in [`crate::agreement`], and `libm` beside them
//! in the interval: these are the same to the last bit on every machine, so a phone and the office
//! write the same answer.

use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, Cells, Concentration, Count, Percent, Squares};
use serde::{Deserialize, Serialize};

mod chamber;
mod coverage;
mod dilution;
mod further;
mod interval;

pub use chamber::Chamber;
pub use coverage::{Bench, Covered, coverage};
pub use dilution::{Dilution, Disagreement, Slip};
pub use further::{ErrorAsked, Further, further};
pub use interval::{Errors, Interval, interval};

/// One filling of the chamber, counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Replicate {
    /// Sperm counted.
    pub count: Count,
    /// Squares they lay in.
    pub squares: Squares,
}

/// A concentration counted in a chamber.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// The concentration.
    pub concentration: Concentration,
    /// Fewer than 200 in some replicate (WHO manual, 5th ed. 2010, asks 200 in each).
    pub few: bool,
    /// Some replicate did not end at a whole grid (25 squares of an improved Neubauer), as the same manual asks.
    pub part_grids: bool,
    /// Some replicate lay so close that sperm hide one another: dilute more. See [`Chamber::CROWDED`].
    pub crowded: bool,
    /// Dilution, concentration, sampling error.
    pub figures: Vec<Explained>,
}

/// A square of the central grid of an improved Neubauer chamber holds 4 nL (0.2 × 0.2 × 0.1 mm).
pub const SQUARE_NL: f64 = 4.0;
/// Squares in one grid of 100 nL.
pub const GRID_SQUARES: u16 = 25;
/// Sperm to count in each replicate, at least (WHO manual, 5th ed. 2010).
pub const COUNT_AT_LEAST: u32 = 200;
/// Two-sided 95 % point of the normal distribution, to the last bit of a double.
pub const Z95: f64 = 1.959_963_984_540_054;

/// Concentration in M/mL = count × dilution ÷ (squares × 4 nL) in an improved Neubauer chamber. See [`count_in`].
pub fn chamber(
    replicates: &[Replicate],
    dilution: &Dilution,
    from: &Origin,
) -> Result<Counted, BoundError> {
    count_in(&Chamber::IMPROVED_NEUBAUER, replicates, dilution, from)
}

/// Concentration in M/mL = count × dilution ÷ (squares × nL of a square), all replicates together.
/// An error when there is no replicate, when a count exceeds what its squares can hold, or when the
/// concentration exceeds what [`Concentration`] takes.
pub fn count_in(
    chamber: &Chamber,
    replicates: &[Replicate],
    dilution: &Dilution,
    from: &Origin,
) -> Result<Counted, BoundError> {
    can_be(chamber, replicates)?;
    let (mut figures, diluted) = dilution.explain(from);
    let (count, squares) = sums(replicates);
    let square_nl = chamber.square_nl();
    let concentration = Concentration::new(count * diluted.number() / (squares * square_nl))?;
    let explained = replicates
        .iter()
        .fold(figure(chamber), |explained, r| {
            explained
                .with(Term::Count, r.count.number(), "", from.clone())
                .with(Term::Squares, r.squares.number(), "", from.clone())
        })
        .after(&diluted)
        .is(concentration.value());
    figures.extend([diluted, explained]);
    figures.extend(sampling_error(replicates, count, from));
    let crowded =
        |r: &Replicate| r.count.number() > Chamber::CROWDED * chamber.holds(r.squares.number());
    Ok(Counted {
        concentration,
        few: replicates.iter().any(|r| r.count.value() < COUNT_AT_LEAST),
        part_grids: replicates
            .iter()
            .any(|r| r.squares.value() % chamber.grid_squares() != 0),
        crowded: replicates.iter().any(crowded),
        figures,
    })
}

/// Refuses no replicate, and a count that exceeds what its squares can hold.
fn can_be(chamber: &Chamber, replicates: &[Replicate]) -> Result<(), BoundError> {
    if replicates.is_empty() {
        return Err(BoundError {
            field: "replicates",
            read: 0.0,
            low: 1.0,
            high: 10.0,
            unit: "replicates",
        });
    }
    let over = |r: &&Replicate| r.count.number() > chamber.holds(r.squares.number());
    replicates.iter().find(over).map_or(Ok(()), |r| {
        Err(BoundError {
            field: "count",
            read: r.count.number(),
            low: 0.0,
            high: chamber.holds(r.squares.number()),
            unit: "sperm in these squares",
        })
    })
}

/// Sperm and squares of all replicates.
fn sums(replicates: &[Replicate]) -> (f64, f64) {
    replicates.iter().fold((0.0, 0.0), |(count, squares), r| {
        (count + r.count.number(), squares + r.squares.number())
    })
}

/// The concentration, before its inputs: an improved Neubauer's is as printed, another's names its square.
fn figure(chamber: &Chamber) -> Explained {
    let (formula, printed) = if chamber.is_improved_neubauer() {
        (
            "sum(count) * dilution / (sum(squares) * 4)",
            Printed::Who2010,
        )
    } else {
        (
            "sum(count) * dilution / (sum(squares) * square_nl)",
            Printed::Definition,
        )
    };
    let explained = Explained::new(Term::Concentration, Concentration::UNIT, formula, printed);
    if chamber.is_improved_neubauer() {
        explained
    } else {
        explained.with(Term::SquareNl, chamber.square_nl(), "nL", Origin::Asked)
    }
}

/// The sampling error of a count in %, 100 ÷ √N; a count of nothing has none.
fn sampling_error(replicates: &[Replicate], count: f64, from: &Origin) -> Option<Explained> {
    let explained = Explained::new(
        Term::SamplingError,
        "%",
        "100 / sqrt(sum(count))",
        Printed::Who2010,
    );
    let with =
        |e: Explained, r: &Replicate| e.with(Term::Count, r.count.number(), "", from.clone());
    (count > 0.0).then(|| {
        replicates
            .iter()
            .fold(explained, with)
            .is(100.0 / count.sqrt())
    })
}

/// Wilson's 95 % interval of a share, low and high end in % (Wilson 1927).
pub fn wilson(share: Percent, cells: Cells, from: &Origin) -> [Explained; 2] {
    let (p, n) = (share.value(), cells.number());
    let centre = p / 100.0 + Z95 * Z95 / (2.0 * n);
    let half = Z95 * (p / 100.0 * (1.0 - p / 100.0) / n + Z95 * Z95 / (4.0 * n * n)).sqrt();
    let end = |term, formula, at: f64| {
        Explained::new(term, "%", formula, Printed::Wilson1927)
            .with(Term::Share, p, "%", from.clone())
            .with(Term::Cells, n, "", from.clone())
            .is((100.0 * at / (1.0 + Z95 * Z95 / n)).clamp(0.0, 100.0))
    };
    [
        end(Term::ShareLow, WILSON_LOW, centre - half),
        end(Term::ShareHigh, WILSON_HIGH, centre + half),
    ]
}

const WILSON_LOW: &str = "max(0, 100 * (share_percent / 100 + 3.841458820694124 / (2 * cells) \
    - 1.959963984540054 * sqrt(share_percent / 100 * (1 - share_percent / 100) / cells \
    + 3.841458820694124 / (4 * cells * cells))) / (1 + 3.841458820694124 / cells))";
const WILSON_HIGH: &str = "min(100, 100 * (share_percent / 100 + 3.841458820694124 / (2 * cells) \
    + 1.959963984540054 * sqrt(share_percent / 100 * (1 - share_percent / 100) / cells \
    + 3.841458820694124 / (4 * cells * cells))) / (1 + 3.841458820694124 / cells))";

#[cfg(test)]
mod tests;
