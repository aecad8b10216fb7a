//! The tally screen as a pure state: sperm square by square, motile or not, morphology by class.
//!
//! Each tap yields the next state and no tap loses one: undo takes back the last. The state is kept
//! on the phone after every tap. Hits above the cells cannot come about, because only single
//! cells are ever added; a draft that says otherwise does not read.

mod cells;
mod sperm;

pub use cells::{CELLS_TARGET, CellTally, CellTap, Motion};
pub use sperm::{Place, SpermTally, SpermTap};

use crate::evaluation::{Class, Evaluation, Tallied};
use crate::units::BoundError;
use serde::{Deserialize, Serialize};

/// Why a tap does not go through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Blocked {
    /// A square can show no more sperm than these: dilute more.
    SquareFull,
    /// So much was counted that no more is taken.
    Enough,
    /// Nothing was counted yet in this replicate.
    NothingYet,
    /// There is nothing to take back.
    NothingToUndo,
    /// No more replicates are taken.
    NoMoreReplicates,
}

/// What is being tallied for one evaluation; each is absent until somebody begins with it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Tallying {
    /// Sperm in the chamber.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sperm: Option<SpermTally>,
    /// Motile or not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motility: Option<CellTally<Motion>>,
    /// Classes of morphology.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub morphology: Option<CellTally<Class>>,
}

impl Tallying {
    /// The evaluation with everything that was tallied so far. What was not tallied stays as it was;
    /// an error where the counts cannot be.
    pub fn put_into(&self, mut evaluation: Evaluation) -> Result<Evaluation, BoundError> {
        if let Some(by) = self.sperm.as_ref().and_then(SpermTally::finished) {
            if let Some(counted) = by.counted(&crate::explain::Origin::Asked) {
                counted?;
            }
            evaluation.concentration = Some(by);
        }
        let motility = self.motility.as_ref().map(CellTally::tallies);
        let morphology = self.morphology.as_ref().map(CellTally::classes);
        let (motility, morphology) = (
            motility.filter(|all| !all.is_empty()),
            morphology.filter(|all| !all.is_empty()),
        );
        if motility.is_none() && morphology.is_none() {
            return Ok(evaluation);
        }
        // Of what is not tallied anew, what was tallied before stays.
        let before = evaluation.tallied.take();
        let before = before.as_ref();
        let motility = motility.or_else(|| Some(before?.motility().to_vec()));
        let morphology = morphology.or_else(|| Some(before?.morphology().to_vec()));
        let (motility, morphology) = (motility.unwrap_or_default(), morphology.unwrap_or_default());
        Ok(evaluation.with_tallied(Tallied::new(motility, morphology)?))
    }
}

#[cfg(test)]
mod tests;
