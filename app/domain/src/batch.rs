//! A semen batch: doses made together, with everything the decision rested on.

use crate::code::Code;
use crate::doses::Technique;
use crate::id::{BoarId, EntryId};
use crate::time::Stamp;
use crate::units::VolumeMl;
use serde::{Deserialize, Serialize};

/// One ejaculate that went in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Whose.
    pub boar: BoarId,
    /// The collection's entry.
    pub collection: EntryId,
    /// The evaluation it was judged by; none for doses that were not counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evaluation: Option<EntryId>,
}

/// A semen batch. `asked` and `answered` are the reckoning's own request and answer, letter for
/// letter as people acted on them; feeding `asked` to the same function must yield `answered`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SemenBatch {
    /// The short code on the bottles.
    pub code: Code,
    /// What went in.
    pub sources: Vec<Source>,
    /// The farm standard it was made under; none for the program's own defaults.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard: Option<EntryId>,
    /// Which reckoning was used: `doses` or `plain-doses`.
    pub reckoning: String,
    /// Its request, as JSON text.
    pub asked: String,
    /// Its answer, as JSON text.
    pub answered: String,
    /// Doses filled, 1 to 200.
    pub doses: u16,
    /// Volume of each.
    pub dose_volume: VolumeMl,
    /// Where it is to be placed.
    pub technique: Technique,
    /// False when nobody counted the sperm.
    pub counted: bool,
    /// To be used before.
    pub use_by: Stamp,
    /// Whether the extender holds an antibiotic; absent when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub antibiotic: Option<bool>,
}
