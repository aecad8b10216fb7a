//! What a boar gives, beside what was to be expected of him.

mod columns;
mod history;
mod look;
mod measure;
mod outlook;
mod short;
mod together;

pub use columns::Columns;
pub use history::{Bearing, Given, History};
pub use look::{Herdwide, Look, Looker, Told};
pub use measure::Measure;
pub use outlook::{Beside, Herd, Outlook, Past, Sees};
pub(crate) use short::digits;
pub use together::{outside, to_answer};
