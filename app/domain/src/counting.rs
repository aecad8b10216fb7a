//! Counting sperm in a chamber.

use serde::{Deserialize, Serialize};

/// Dilution steps as "parts + parts": 1 + 19 is ×20. Each part is above 0.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Dilution(Vec<(f64, f64)>);
