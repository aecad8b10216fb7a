//! Counting sperm in a chamber, and how sure a count is.
//!
//! Only `+ − × ÷ √` and rounding are used here and in [`crate::agreement`]: these are exact to the
//! last bit on every machine, so a phone and the office write the same answer.

use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, Cells, Concentration, Count, Percent, Squares};
use serde::{Deserialize, Serialize};

/// Dilution steps as "parts of semen + parts of diluent": 1 + 19 is ×20, 1 + 10 done twice is ×121.
/// At most 4 steps, semen from 0.001 and diluent from 0 to 10,000 parts, ×10,000 in all. No step: undiluted.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(try_from = "Vec<(f64, f64)>", into = "Vec<(f64, f64)>")]
pub struct Dilution(Vec<(f64, f64)>);

/// One filling of the chamber, counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Replicate {
    /// Sperm counted.
    pub count: Count,
    /// Squares they lay in.
    pub squares: Squares,
}

/// A concentration counted in an improved Neubauer chamber.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// The concentration.
    pub concentration: Concentration,
    /// Fewer than 200 in some replicate (WHO manual, 5th ed. 2010, asks 200 in each).
    pub few: bool,
    /// Some replicate did not end at a whole grid of 25 squares, as the same manual asks.
    pub part_grids: bool,
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

impl Dilution {
    /// The most by which semen is diluted for counting.
    pub const FACTOR_HIGH: f64 = 10_000.0;
    /// The most steps.
    pub const STEPS_HIGH: usize = 4;

    /// Undiluted.
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// Steps of (parts of semen, parts of diluent).
    pub fn new(steps: Vec<(f64, f64)>) -> Result<Self, BoundError> {
        let bound = |field, read, low, high, unit| {
            Err(BoundError {
                field,
                read,
                low,
                high,
                unit,
            })
        };
        if steps.len() > Self::STEPS_HIGH {
            return bound(
                "dilution",
                steps.len() as f64,
                0.0,
                Self::STEPS_HIGH as f64,
                "steps",
            );
        }
        for (semen, diluent) in &steps {
            if !(0.001..=10_000.0).contains(semen) {
                return bound("semen_parts", *semen, 0.001, 10_000.0, "parts");
            }
            if !(0.0..=10_000.0).contains(diluent) {
                return bound("diluent_parts", *diluent, 0.0, 10_000.0, "parts");
            }
        }
        let made = Self(steps);
        match made.factor() {
            f if f <= Self::FACTOR_HIGH => Ok(made),
            f => bound("dilution", f, 1.0, Self::FACTOR_HIGH, "times"),
        }
    }

    /// The steps.
    pub fn steps(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// By how much the semen is diluted.
    pub fn factor(&self) -> f64 {
        self.0.iter().map(|step| factor(*step)).product()
    }

    /// One figure for each step, and the factor.
    fn explain(&self, from: &Origin) -> (Vec<Explained>, Explained) {
        let step = |&(semen, diluent): &(f64, f64)| {
            let formula = "(semen_parts + diluent_parts) / semen_parts";
            Explained::new(Term::DilutionStep, "×", formula, Printed::Definition)
                .with(Term::SemenParts, semen, "", from.clone())
                .with(Term::DiluentParts, diluent, "", from.clone())
                .is(factor((semen, diluent)))
        };
        let steps: Vec<_> = self.0.iter().map(step).collect();
        let all = Explained::new(
            Term::Dilution,
            "×",
            "product(dilution_step)",
            Printed::Definition,
        );
        let all = steps.iter().fold(all, Explained::after).is(self.factor());
        (steps, all)
    }
}

fn factor((semen, diluent): (f64, f64)) -> f64 {
    (semen + diluent) / semen
}

impl TryFrom<Vec<(f64, f64)>> for Dilution {
    type Error = BoundError;
    fn try_from(steps: Vec<(f64, f64)>) -> Result<Self, BoundError> {
        Self::new(steps)
    }
}

impl From<Dilution> for Vec<(f64, f64)> {
    fn from(dilution: Dilution) -> Self {
        dilution.0
    }
}

/// Concentration in M/mL = count × dilution ÷ (squares × 4 nL), all replicates together. An error
/// when there is no replicate, or when it exceeds what [`Concentration`] takes.
pub fn chamber(
    replicates: &[Replicate],
    dilution: &Dilution,
    from: &Origin,
) -> Result<Counted, BoundError> {
    if replicates.is_empty() {
        return Err(BoundError {
            field: "replicates",
            read: 0.0,
            low: 1.0,
            high: 10.0,
            unit: "replicates",
        });
    }
    let (mut figures, diluted) = dilution.explain(from);
    let formula = "sum(count) * dilution / (sum(squares) * 4)";
    let mut explained = Explained::new(
        Term::Concentration,
        Concentration::UNIT,
        formula,
        Printed::Who2010,
    );
    for r in replicates {
        explained = explained.with(Term::Count, r.count.number(), "", from.clone());
        explained = explained.with(Term::Squares, r.squares.number(), "", from.clone());
    }
    let count: f64 = replicates.iter().map(|r| r.count.number()).sum();
    let squares: f64 = replicates.iter().map(|r| r.squares.number()).sum();
    let concentration = Concentration::new(count * diluted.number() / (squares * SQUARE_NL))?;
    let explained = explained.after(&diluted).is(concentration.value());
    figures.extend([diluted, explained]);
    figures.extend(sampling_error(replicates, count, from));
    Ok(Counted {
        concentration,
        few: replicates.iter().any(|r| r.count.value() < COUNT_AT_LEAST),
        part_grids: replicates
            .iter()
            .any(|r| r.squares.value() % GRID_SQUARES != 0),
        figures,
    })
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
