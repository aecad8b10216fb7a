//! From an ejaculate to doses.

use serde::{Deserialize, Serialize};

/// Where the semen is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Technique {
    /// In the cervix: the default.
    #[default]
    Intracervical,
    /// Behind the cervix.
    PostCervical,
    /// Deep in the horn; hidden unless asked for.
    DeepUterine,
}
