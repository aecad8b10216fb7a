//! What a boar gives, beside what was to be expected of him.

mod columns;
mod history;
mod measure;
mod outlook;
mod short;

pub use columns::{Bears, Columns};
pub use history::{Bearing, Given, History};
pub use measure::Measure;
pub use outlook::{Beside, Outlook, Past};
pub(crate) use short::digits;
