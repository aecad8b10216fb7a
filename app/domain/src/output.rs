//! What a boar gives, beside what was to be expected of him.

mod columns;
mod history;
mod look;
mod measure;
mod outlook;

pub use columns::{Bears, Columns};
pub use history::{Bearing, Given, History};
pub use look::{Herdwide, Look, Looker, Told};
pub use measure::Measure;
pub use outlook::{Beside, Herd, Outlook, Past, Sees};
