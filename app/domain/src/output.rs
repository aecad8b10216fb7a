//! What a boar gives, beside what was to be expected of him.

mod measure;

pub use measure::Measure;
