//! How sure what was tallied is: chamber, errors and doubt as they are asked for, and a share.

use super::bench::{AgreementAnswer, TallyAsked, tally};
use super::{ReckonError, checked};
use crate::agreement::{Agreement, Tally, percentages_agree};
use crate::counting::{Chamber, Errors, Further, Interval, wilson};
use crate::explain::{Explained, Origin, Printed, Term};
use crate::intervals::exact;
use crate::units::{BoundError, Cells, Count};
use crate::verdict::Doubt;
use serde::{Deserialize, Serialize};

/// A counting chamber, by the side or by the area of its squares.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChamberAsked {
    /// The side of a square in mm; or else its area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub square_side_mm: Option<f64>,
    /// The area of a square in mm².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub square_mm2: Option<f64>,
    /// The depth in mm.
    pub depth_mm: f64,
    /// Squares in a grid.
    pub grid_squares: u32,
    /// Grids in the chamber.
    pub grids: u32,
}

/// Relative errors of the bench, one standard deviation in %; what is absent has its default.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ErrorsAsked {
    /// Of each dilution step.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step_error_percent: Option<f64>,
    /// Of each filling of the chamber.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filling_error_percent: Option<f64>,
    /// Each filling is from a dilution of its own.
    pub diluted_anew: bool,
}

/// When an outcome is doubtful; what is absent has its default.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct DoubtAsked {
    /// It passes up to this chance of a miss.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pass_chance: Option<f64>,
    /// It fails from this chance on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fail_chance: Option<f64>,
    /// How far a share judged by eye spreads, one standard deviation in points of percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eye_points: Option<f64>,
}

/// The 95 % interval of a concentration and its parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct IntervalAnswer {
    /// Low end in M/mL; 0 where nothing was counted.
    pub low_m_per_ml: f64,
    /// High end in M/mL.
    pub high_m_per_ml: f64,
    /// Error of counting in %, one standard deviation; null where nothing was counted.
    pub counting_percent: Option<f64>,
    /// Error of the dilution in %.
    pub dilution_percent: f64,
    /// Error of the chamber in %.
    pub chamber_percent: f64,
    /// All together in %; null where nothing was counted.
    pub whole_percent: Option<f64>,
    /// How each came about.
    pub figures: Vec<Explained>,
}

/// How much further to count until the error asked for is reached.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FurtherAnswer {
    /// Sperm to count in all.
    pub sperm_needed: u32,
    /// Sperm still to count.
    pub sperm_more: u32,
    /// Squares still to count; null where no sperm was counted yet.
    pub squares_more: Option<u32>,
    /// The same in whole grids.
    pub grids_more: Option<u32>,
    /// Dilution and chamber alone leave a larger error: counting on does not reach it.
    pub others_exceed: bool,
    /// How each came about.
    pub figures: Vec<Explained>,
}

/// So many of so many cells, once or twice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShareTallied {
    /// So many.
    pub hits: u32,
    /// Of so many.
    pub cells: u32,
    /// A second replicate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second: Option<TallyAsked>,
    /// The record it is from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

/// The share of both replicates together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShareAnswer {
    /// In %.
    pub percent: f64,
    /// Of so many cells.
    pub cells: u16,
    /// Wilson's 95 % interval, low end in %.
    pub low_percent: f64,
    /// Its high end.
    pub high_percent: f64,
    /// Clopper and Pearson's exact 95 % interval, low end in %.
    pub exact_low_percent: f64,
    /// Its high end.
    pub exact_high_percent: f64,
    /// Whether both replicates agree, where there are two.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub agreement: Option<AgreementAnswer>,
    /// How each came about.
    pub figures: Vec<Explained>,
}

impl ChamberAsked {
    pub(super) fn checked(self) -> Result<Chamber, ReckonError> {
        let Self {
            depth_mm,
            grid_squares,
            grids,
            ..
        } = self;
        match (self.square_side_mm, self.square_mm2) {
            (Some(side), None) => Ok(Chamber::of_side(side, depth_mm, grid_squares, grids)?),
            (None, Some(area)) => Ok(Chamber::new(area, depth_mm, grid_squares, grids)?),
            _ => Err(ReckonError::Unreadable {
                detail: "chamber: it must hold either square_side_mm or square_mm2".into(),
            }),
        }
    }
}

impl ErrorsAsked {
    pub(super) fn checked(self) -> Result<Errors, BoundError> {
        let usual = Errors::default();
        Errors::new(
            self.step_error_percent.unwrap_or(usual.step_percent()),
            self.filling_error_percent
                .unwrap_or(usual.filling_percent()),
            self.diluted_anew,
        )
    }
}

impl DoubtAsked {
    pub(super) fn checked(self) -> Result<Doubt, BoundError> {
        let usual = Doubt::default();
        Doubt::new(
            self.pass_chance.unwrap_or(usual.pass_chance()),
            self.fail_chance.unwrap_or(usual.fail_chance()),
            self.eye_points.unwrap_or(usual.eye_points()),
        )
    }
}

impl From<Interval> for IntervalAnswer {
    fn from(found: Interval) -> Self {
        Self {
            low_m_per_ml: found.low_m_per_ml,
            high_m_per_ml: found.high_m_per_ml,
            counting_percent: found.counting_percent,
            dilution_percent: found.dilution_percent,
            chamber_percent: found.chamber_percent,
            whole_percent: found.whole_percent,
            figures: found.figures,
        }
    }
}

impl From<Further> for FurtherAnswer {
    fn from(found: Further) -> Self {
        Self {
            sperm_needed: found.sperm_needed,
            sperm_more: found.sperm_more,
            squares_more: found.squares_more,
            grids_more: found.grids_more,
            others_exceed: found.others_exceed,
            figures: found.figures,
        }
    }
}

/// `share`
pub fn share(asked: &ShareTallied) -> Result<ShareAnswer, ReckonError> {
    let (hits, cells) = (asked.hits, asked.cells);
    let first = tally(TallyAsked { hits, cells })?;
    let second = checked("second", asked.second, tally)?;
    let from = Origin::of(asked.from.as_ref());
    let replicates: Vec<_> = std::iter::once(first).chain(second).collect();
    let both = together(&replicates)?;
    let formula = "100 * sum(hits) / sum(cells)";
    let figure = Explained::new(Term::Share, "%", formula, Printed::Definition);
    let figure = replicates.iter().fold(figure, |e, t| {
        e.with(Term::Hits, t.hits().number(), "", from.clone())
            .with(Term::Cells, t.cells().number(), "", from.clone())
    });
    let [low, high] = wilson(both.share(), both.cells(), &from);
    let [exact_low, exact_high] = exact(both, &from);
    let answer = |Agreement { agree, by, figures }| AgreementAnswer { agree, by, figures };
    Ok(ShareAnswer {
        percent: both.percent(),
        cells: both.cells().value(),
        low_percent: low.number(),
        high_percent: high.number(),
        exact_low_percent: exact_low.number(),
        exact_high_percent: exact_high.number(),
        agreement: second.map(|second| answer(percentages_agree(first, second))),
        figures: vec![figure.is(both.percent()), low, high, exact_low, exact_high],
    })
}

/// Both replicates as one; refused where they are more cells than are taken.
fn together(replicates: &[Tally]) -> Result<Tally, BoundError> {
    let hits = replicates.iter().map(|t| t.hits().value()).sum();
    let cells = replicates
        .iter()
        .map(|t| u32::from(t.cells().value()))
        .sum();
    Tally::new(
        Count::new(hits).map_err(|e| e.named("hits"))?,
        Cells::new(cells).map_err(|e| e.named("cells"))?,
    )
}
