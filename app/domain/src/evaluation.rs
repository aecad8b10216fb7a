//! What the bench found in one ejaculate. What is absent was not measured.

use crate::counting::{Chamber, Counted, Dilution, Replicate, count_in};
use crate::explain::Origin;
use crate::id::{BoarId, EntryId};
use crate::units::{
    BoundError, Concentration, Count, InstrumentReading, Percent, RelativeError, Squares,
};
use serde::{Deserialize, Serialize};

mod between;
mod tallied;

pub use tallied::{Class, Morphology, Tallied};

/// How the concentration was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ConcentrationBy {
    /// Counted in a chamber.
    Chamber {
        /// Sperm counted, all replicates together.
        count: Count,
        /// Squares of 4 nL counted, all replicates together.
        squares: u16,
        /// The dilution steps.
        dilution: Dilution,
    },
    /// Read off an instrument, in M/mL.
    Instrument(Concentration),
    /// Counted in a chamber, replicate by replicate. Since version 2.
    Counts {
        /// The chamber; absent where it is an improved Neubauer.
        #[serde(default, skip_serializing_if = "Chamber::is_improved_neubauer")]
        chamber: Chamber,
        /// Fillings of the chamber, 1 to 10.
        replicates: Vec<Replicate>,
        /// The dilution steps.
        dilution: Dilution,
    },
    /// Read off the farm's own instrument, through its curve. Since version 2.
    Curve {
        /// What the instrument showed.
        reading: InstrumentReading,
        /// The entry of the curve that was read.
        curve: EntryId,
        /// What the curve said.
        concentration: Concentration,
        /// Its relative error in %, as one standard deviation.
        relative_error: RelativeError,
    },
}

impl ConcentrationBy {
    /// The most fillings.
    pub const REPLICATES_HIGH: usize = 10;

    /// What was counted, where it was counted: refused as in [`count_in`], and where there are too
    /// many fillings.
    pub fn counted(&self, from: &Origin) -> Option<Result<Counted, BoundError>> {
        match self {
            Self::Instrument(_) | Self::Curve { .. } => None,
            Self::Chamber {
                count,
                squares,
                dilution,
            } => {
                let squares = Squares::new((*squares).into());
                Some(squares.and_then(|squares| {
                    let count = *count;
                    let all = [Replicate { count, squares }];
                    count_in(&Chamber::IMPROVED_NEUBAUER, &all, dilution, from)
                }))
            }
            Self::Counts { replicates, .. } if replicates.len() > Self::REPLICATES_HIGH => {
                Some(Err(BoundError {
                    field: "replicates",
                    read: replicates.len() as f64,
                    low: 1.0,
                    high: Self::REPLICATES_HIGH as f64,
                    unit: "replicates",
                }))
            }
            Self::Counts {
                chamber,
                replicates,
                dilution,
            } => Some(count_in(chamber, replicates, dilution, from)),
        }
    }
}

/// A share of sperm and how it was found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// The share.
    pub percent: Percent,
    /// Cells counted; absent when judged by eye.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells: Option<u16>,
}

/// What it looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Colour {
    /// White, milky.
    Milky,
    /// Cream.
    Cream,
    /// Watery.
    Watery,
    /// Yellow.
    Yellow,
    /// Pink or red.
    Pink,
    /// Brown or green.
    Brown,
}

/// What it smells like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Smell {
    /// As it should.
    Normal,
    /// Urine.
    Urine,
    /// Foul.
    Foul,
}

/// One evaluation of one collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Evaluation {
    /// The collection's entry.
    pub collection: EntryId,
    /// Whose.
    pub boar: BoarId,
    /// Concentration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub concentration: Option<ConcentrationBy>,
    /// Motile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub motile: Option<Share>,
    /// Abnormal, droplets included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub abnormal: Option<Share>,
    /// Droplets.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droplets: Option<Share>,
    /// Colour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<Colour>,
    /// Smell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smell: Option<Smell>,
    /// Blood seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blood: Option<bool>,
    /// Pus seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pus: Option<bool>,
    /// Urine found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub urine: Option<bool>,
    /// What was tallied, of which the shares above follow. Since version 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tallied: Option<Tallied>,
}

impl Evaluation {
    /// One of which nothing is measured or said yet.
    pub const fn begun(collection: EntryId, boar: BoarId) -> Self {
        Self {
            collection,
            boar,
            concentration: None,
            motile: None,
            abnormal: None,
            droplets: None,
            colour: None,
            smell: None,
            blood: None,
            pus: None,
            urine: None,
            tallied: None,
        }
    }

    /// The version of the body it is written as: 2 where it says what programs that know version 1 alone
    /// would misread or lose, else 1, with the bytes it always had.
    pub const fn version(&self) -> u16 {
        use ConcentrationBy::{Counts, Curve};
        let younger = matches!(self.concentration, Some(Counts { .. } | Curve { .. }));
        if younger || self.tallied.is_some() {
            2
        } else {
            1
        }
    }

    /// What was counted replicate by replicate. What version 1 said is kept as it was said.
    pub(crate) fn counts(&self) -> Option<Result<Counted, BoundError>> {
        let by = self.concentration.as_ref()?;
        let apart = matches!(by, ConcentrationBy::Counts { .. });
        apart.then(|| by.counted(&Origin::Asked)).flatten()
    }
}

#[cfg(test)]
mod tests;
