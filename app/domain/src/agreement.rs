//! Whether two replicate counts, or two replicate percentages, agree.

use crate::counting::Replicate;
use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, Cells, Count, Percent};
use serde::{Deserialize, Serialize};

/// So many of so many cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Tally {
    hits: Count,
    cells: Cells,
}

/// A tally as it is written, before anybody looked whether the hits exceed the cells.
#[derive(Serialize, Deserialize)]
struct Written {
    hits: Count,
    cells: Cells,
}

impl TryFrom<Written> for Tally {
    type Error = BoundError;
    fn try_from(written: Written) -> Result<Self, BoundError> {
        Self::new(written.hits, written.cells)
    }
}

impl From<Tally> for Written {
    fn from(tally: Tally) -> Self {
        Self {
            hits: tally.hits,
            cells: tally.cells,
        }
    }
}

/// Whether two replicates agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Agreement {
    /// They do.
    pub agree: bool,
    /// What decided.
    pub by: AgreementBy,
    /// Difference, then the limit or the chance it is held against.
    pub figures: Vec<Explained>,
}

/// What decided whether two replicates agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AgreementBy {
    /// Difference of two counts ≤ round(1.96·√sum) (WHO manual, 5th ed. 2010, table 2.4).
    Sum,
    /// Difference of two percentages of 200 cells ≤ the row of their average (table 2.1).
    Table,
    /// A difference as large has a chance above 5 %, counted out on two binomials of one share.
    Exact,
}

impl Tally {
    /// `hits` of `cells`; not more than there are.
    pub fn new(hits: Count, cells: Cells) -> Result<Self, BoundError> {
        if hits.value() > u32::from(cells.value()) {
            let (read, high) = (hits.number(), cells.number());
            return Err(BoundError {
                field: "hits",
                read,
                low: 0.0,
                high,
                unit: "cells",
            });
        }
        Ok(Self { hits, cells })
    }

    /// The hits.
    pub const fn hits(self) -> Count {
        self.hits
    }

    /// The cells looked at.
    pub const fn cells(self) -> Cells {
        self.cells
    }

    /// The share in %.
    pub fn percent(self) -> f64 {
        100.0 * self.hits.number() / self.cells.number()
    }

    /// The share as a quantity.
    pub fn share(self) -> Percent {
        // Hits do not exceed cells, so this lies within 0 to 100.
        Percent::new(self.percent()).unwrap_or(Percent::of(100))
    }
}

/// Whether the last two fillings agree; none before there are two. See [`fillings_agree`].
pub fn last_agree(fillings: &[Replicate]) -> Option<Agreement> {
    match fillings {
        [.., first, second] => Some(fillings_agree(first, second)),
        _ => None,
    }
}

/// Whether two fillings agree. Over the same number of squares this is the published test. Over
/// different numbers the second is scaled to the squares of the first, and the limit comes from the
/// same law: where both have one concentration, the first of a given sum is binomial with the share of its
/// squares (Przyborowski & Wilenski 1940, Biometrika 31:313, from memory).
pub fn fillings_agree(first: &Replicate, second: &Replicate) -> Agreement {
    let [s, t] = [first, second].map(|r| r.squares.number());
    if first.squares == second.squares {
        return counts_agree(first.count, second.count);
    }
    let (a, b) = (first.count.number(), second.count.number());
    let all = |e: Explained| {
        e.with(Term::First, a, "", Origin::Asked)
            .with(Term::Second, b, "", Origin::Asked)
            .with(Term::FirstSquares, s, "", Origin::Asked)
            .with(Term::SecondSquares, t, "", Origin::Asked)
    };
    let formula = "max(first, second * first_squares / second_squares) \
        - min(first, second * first_squares / second_squares)";
    let apart = all(Explained::new(
        Term::Difference,
        "",
        formula,
        Printed::Definition,
    ));
    let apart = apart.is((a - b * s / t).abs());
    let formula = "1.96 * sqrt((first + second) * first_squares / second_squares)";
    let allowed = all(Explained::new(
        Term::AllowedDifference,
        "",
        formula,
        Printed::Przyborowski1940,
    ));
    let allowed = allowed.is(1.96 * ((a + b) * s / t).sqrt());
    Agreement {
        agree: apart.number() <= allowed.number(),
        by: AgreementBy::Sum,
        figures: vec![apart, allowed],
    }
}

/// Whether two counts over the same squares agree.
pub fn counts_agree(first: Count, second: Count) -> Agreement {
    let (a, b) = (first.number(), second.number());
    let both = |e: Explained| {
        e.with(Term::First, a, "", Origin::Asked)
            .with(Term::Second, b, "", Origin::Asked)
    };
    let apart = both(difference("")).is((a - b).abs());
    let formula = "round(1.96 * sqrt(first + second))";
    let allowed = both(Explained::new(
        Term::AllowedDifference,
        "",
        formula,
        Printed::Who2010,
    ));
    let allowed = allowed.is((1.96 * (a + b).sqrt()).round());
    Agreement {
        agree: apart.number() <= allowed.number(),
        by: AgreementBy::Sum,
        figures: vec![apart, allowed],
    }
}

/// Whether two percentages agree: by the table where both are of 200 cells and it has a row, else exactly.
pub fn percentages_agree(first: Tally, second: Tally) -> Agreement {
    let (a, b) = (first.percent(), second.percent());
    let both = |e: Explained| {
        e.with(Term::First, a, "%", Origin::Asked)
            .with(Term::Second, b, "%", Origin::Asked)
    };
    let apart = both(difference("%")).is((a - b).abs());
    let average = both(Explained::new(
        Term::Average,
        "%",
        "(first + second) / 2",
        Printed::Definition,
    ))
    .is((a + b) / 2.0);
    let of_200 = [first, second].iter().all(|t| t.cells.value() == 200);
    if let Some(limit) = who_2_1(average.number()).filter(|_| of_200) {
        let allowed = Explained::new(
            Term::AllowedDifference,
            "%",
            "who_2_1(average)",
            Printed::Who2010,
        );
        let allowed = allowed.after(&average).is(f64::from(limit));
        let agree = apart.number() <= allowed.number();
        return Agreement {
            agree,
            by: AgreementBy::Table,
            figures: vec![apart, average, allowed],
        };
    }
    let chance = exactly(first, second);
    Agreement {
        agree: chance.number() > 0.05,
        by: AgreementBy::Exact,
        figures: vec![apart, chance],
    }
}

/// The difference that two percentages of 200 cells may have, by their average (WHO manual, 5th ed.
/// 2010, table 2.1); none below 3 and above 97. The table is the same from both ends and has whole
/// averages only: between two rows the stricter holds, since no rounding is printed.
pub fn who_2_1(average_percent: f64) -> Option<u8> {
    const ROWS: [(f64, u8); 7] = [
        (3.0, 4),
        (5.0, 5),
        (8.0, 6),
        (12.0, 7),
        (17.0, 8),
        (24.0, 9),
        (35.0, 10),
    ];
    let from_the_end = average_percent.min(100.0 - average_percent);
    ROWS.iter()
        .rev()
        .find(|row| from_the_end >= row.0)
        .map(|row| row.1)
}

/// The chance that two samples of one share differ by as much as these or more: two independent
/// binomials with the share of both together.
pub fn exact_chance(first: Tally, second: Tally) -> f64 {
    let (n, m) = (
        i64::from(first.cells.value()),
        i64::from(second.cells.value()),
    );
    let (a, b) = (
        i64::from(first.hits.value()),
        i64::from(second.hits.value()),
    );
    let apart = (a * m - b * n).abs();
    if apart == 0 {
        return 1.0;
    }
    let share = (a + b) as f64 / (n + m) as f64;
    let others = binomial(m, share);
    let below = running(others.iter());
    let above = running(others.iter().rev());
    let at = |sums: &[f64], many: i64| {
        usize::try_from(many)
            .ok()
            .and_then(|many| sums.get(many))
            .copied()
            .unwrap_or(0.0)
    };
    // Of the other's m, few enough are up to (i·m − apart) ÷ n, and many enough from (i·m + apart) ÷ n.
    let tail = |i: i64| {
        let few = (i * m - apart).div_euclid(n);
        let many = -((-(i * m + apart)).div_euclid(n));
        at(&below, few + 1) + at(&above, m - many + 1)
    };
    (0i64..)
        .zip(binomial(n, share))
        .map(|(i, p)| p * tail(i))
        .sum::<f64>()
        .min(1.0)
}

fn difference(unit: &'static str) -> Explained {
    Explained::new(
        Term::Difference,
        unit,
        "max(first, second) - min(first, second)",
        Printed::Definition,
    )
}

fn exactly(first: Tally, second: Tally) -> Explained {
    let formula = "exact_chance(first, first_cells, second, second_cells)";
    Explained::new(Term::Chance, "", formula, Printed::Definition)
        .with(Term::First, first.hits.number(), "", Origin::Asked)
        .with(Term::FirstCells, first.cells.number(), "", Origin::Asked)
        .with(Term::Second, second.hits.number(), "", Origin::Asked)
        .with(Term::SecondCells, second.cells.number(), "", Origin::Asked)
        .is(exact_chance(first, second))
}

/// Sums of the first 0, 1, 2 … chances.
fn running<'a>(chances: impl Iterator<Item = &'a f64>) -> Vec<f64> {
    let sums = chances.scan(0.0, |sum, chance| {
        *sum += chance;
        Some(*sum)
    });
    std::iter::once(0.0).chain(sums).collect()
}

/// The chances of 0..=n, from the likeliest outwards, so that nothing underflows that matters.
/// `share` lies between 0 and 1, both excluded.
fn binomial(n: i64, share: f64) -> Vec<f64> {
    let odds = share / (1.0 - share);
    let size = usize::try_from(n).unwrap_or(0) + 1;
    let mut chances = vec![0.0; size];
    let top = (0..size)
        .rev()
        .find(|k| *k as f64 <= size as f64 * share)
        .unwrap_or(0);
    chances[top] = 1.0;
    for k in top + 1..size {
        chances[k] = chances[k - 1] * odds * (size - k) as f64 / k as f64;
    }
    for k in (0..top).rev() {
        chances[k] = chances[k + 1] / odds * (k + 1) as f64 / (size - 1 - k) as f64;
    }
    let sum: f64 = chances.iter().sum();
    chances.iter().map(|c| c / sum).collect()
}
