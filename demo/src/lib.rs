//! An invented farm, told from a seed.
//!
//! [`tell`] yields years of plausible entries, day by day, by several devices: what a barn with so
//! many boars would have written down. The same plan tells the same story. Nothing is kept in
//! memory but the farm's present state, so a story may be as long as it likes.

mod barn;
mod bench;
mod boar;
mod care;
mod chance;
mod climate;
mod devices;
mod evening;
mod filling;
mod founding;
mod herd;
mod laboratory;
mod sows;
mod story;
mod training;
mod year;

#[cfg(test)]
mod tests;

pub use story::Story;

use pentally_domain::envelope::{Entry, EntryError};
use pentally_domain::filling::FillError;
use pentally_domain::said::TextError;
use pentally_domain::sync::Beside;
use pentally_domain::time::TimeError;
use pentally_domain::units::BoundError;

/// The most boars.
pub const BOARS_MAX: u32 = 2_000;
/// The most years.
pub const YEARS_MAX: u32 = 30;

/// What is to be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plan {
    seed: u64,
    boars: u32,
    years: u32,
    until_ms: i64,
}

/// One entry as it reaches the office: per device in sequence, over all nearly in the order of time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// The entry.
    pub entry: Entry,
    /// Personal data beside it, such as a person's name.
    pub beside: Option<Beside>,
}

/// A plan that cannot be told.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field} is {read}; it must be from {low} to {high}")]
pub struct PlanError {
    /// Which number.
    pub field: &'static str,
    /// What was read.
    pub read: i64,
    /// The least.
    pub low: i64,
    /// The most.
    pub high: i64,
}

/// Something in the story that the domain refuses: a mistake in the story.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TaleError {
    /// An entry.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// A text.
    #[error(transparent)]
    Text(#[from] TextError),
    /// A time.
    #[error(transparent)]
    Time(#[from] TimeError),
    /// A quantity.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// A filling.
    #[error(transparent)]
    Fill(#[from] FillError),
    /// A device the story does not have.
    #[error("the story has no such device")]
    NoDevice,
}

impl Plan {
    /// A story of `boars` boars over `years` years that ends at `until_ms` (ms since 1970).
    pub fn new(seed: u64, boars: u32, years: u32, until_ms: i64) -> Result<Self, PlanError> {
        const FROM_1990: i64 = 631_152_000_000;
        const TO_2090: i64 = 3_786_912_000_000;
        let within = |field, read: i64, low, high| {
            if (low..=high).contains(&read) {
                Ok(())
            } else {
                Err(PlanError {
                    field,
                    read,
                    low,
                    high,
                })
            }
        };
        within("boars", boars.into(), 1, BOARS_MAX.into())?;
        within("years", years.into(), 1, YEARS_MAX.into())?;
        within("until_ms", until_ms, FROM_1990, TO_2090)?;
        Ok(Self {
            seed,
            boars,
            years,
            until_ms,
        })
    }

    /// The story for looking around: 24 boars over two years up to now.
    pub fn modest(now_ms: i64) -> Result<Self, PlanError> {
        Self::new(1, 24, 2, now_ms)
    }
}

/// Tells a story, entry by entry.
pub fn tell(plan: Plan) -> Story {
    Story::new(plan)
}

/// Its entries alone.
pub fn entries(plan: Plan) -> impl Iterator<Item = Result<Entry, TaleError>> {
    tell(plan).map(|told| told.map(|told| told.entry))
}
