//! The sow, her heat and her services.

use crate::doses::Technique;
use crate::id::{BoarId, EntryId, SowId};
use crate::said::Label;
use crate::time::Stamp;
use serde::{Deserialize, Serialize};

/// A sow or gilt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sow {
    /// Her number.
    pub number: Label,
    /// Has not farrowed yet.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub gilt: bool,
}

/// Somebody looked whether she is in heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Heat {
    /// Who.
    pub sow: SowId,
    /// Whether she stood.
    pub standing: bool,
    /// When she first stood in this heat, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub onset: Option<Stamp>,
}

/// One mating or insemination.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Service {
    /// Who was served.
    pub sow: SowId,
    /// By what.
    pub by: By,
}

/// What a sow was served by.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// A boar, naturally: it counts in his rest.
    Boar(BoarId),
    /// Doses of a semen batch.
    Doses {
        /// The batch.
        batch: EntryId,
        /// The boars whose semen is in it.
        boars: Vec<BoarId>,
        /// How many doses, 1 to 9.
        doses: u8,
        /// Where the semen was placed.
        technique: Technique,
    },
}
