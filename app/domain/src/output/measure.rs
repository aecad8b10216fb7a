//! What is watched in an ejaculate.

use serde::{Deserialize, Serialize};

/// A measure that is expected, seen and compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Gel-free volume in mL.
    Volume,
    /// Total sperm in 10⁹: volume times concentration.
    Total,
    /// Motile sperm in %.
    Motile,
    /// Abnormal sperm in %.
    Abnormal,
}

impl Measure {
    /// Every measure.
    pub const ALL: [Self; 4] = [Self::Volume, Self::Total, Self::Motile, Self::Abnormal];
}
