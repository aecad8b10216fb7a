//! What a boar gives, beside what was to be expected of him.

mod history;
mod measure;

pub use history::{Bearing, Given, History};
pub use measure::Measure;
