//! What the bench found in one ejaculate. What is absent was not measured.

use crate::counting::Dilution;
use crate::id::{BoarId, EntryId};
use crate::units::{Concentration, Count, Percent};
use serde::{Deserialize, Serialize};

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
}
