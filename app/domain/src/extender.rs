//! How long extended semen keeps, and how it is mixed and stored.

pub mod mix;

use crate::time::{DAY_MS, HOUR_MS, Stamp, TimeError};
use crate::units::BoundError;
use serde::{Deserialize, Serialize};

/// How long an extender keeps semen, as its label says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ExtenderClass {
    /// Up to 3 days.
    #[default]
    Short,
    /// 3 to 5 days (from memory).
    Medium,
    /// 7 to 10 days (from memory).
    Long,
}

/// An extender and the days it is trusted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeping {
    class: ExtenderClass,
    days: u8,
}

/// Temperatures, times and habits of mixing and storing. Raw semen at 34 °C, diluted within about
/// 15 min, extender within 1–2 °C of it and poured into it gently (common practice, no source);
/// then 1–2 h at room temperature in the dark, then the cold store at 15–18 °C, spaced, turned twice
/// a day. Extender is mixed 60–90 min ahead (Nebraska Swine Report 1999; another says at least 30).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Mixing {
    /// Of the raw semen.
    pub semen_c: f64,
    /// Minutes from the end of collection to dilution.
    pub within_min: u8,
    /// The extender is at most so many °C from the semen.
    pub apart_at_most_c: f64,
    /// Minutes at room temperature, in the dark, before the store.
    pub room_min: (u8, u8),
    /// The store's range.
    pub store_c: (f64, f64),
    /// What to set the store to.
    pub store_at_c: f64,
    /// Gentle turns a day.
    pub turns_a_day: u8,
    /// Minutes before use at which the extender is mixed.
    pub extender_ahead_min: (u8, u8),
}

/// See [`Mixing`].
pub const MIXING: Mixing = Mixing {
    semen_c: 34.0,
    within_min: 15,
    apart_at_most_c: 2.0,
    room_min: (60, 120),
    store_c: (15.0, 18.0),
    store_at_c: 17.0,
    turns_a_day: 2,
    extender_ahead_min: (60, 90),
};

/// Undiluted semen is used "within hours" (Queensland Government, which names no number): two is
/// the least that this can mean.
pub const UNDILUTED_HOURS: u8 = 2;

impl ExtenderClass {
    /// Days to start from: 3 for short, since farrowing falls beyond 72 h (Queensland Government);
    /// 4 for medium, the middle of what is remembered; 7 for long, the cautious end of it.
    pub const fn usual_days(self) -> u8 {
        match self {
            Self::Short => 3,
            Self::Medium => 4,
            Self::Long => 7,
        }
    }

    /// The most a farm may set.
    pub const fn most_days(self) -> u8 {
        match self {
            Self::Short => 3,
            Self::Medium => 5,
            Self::Long => 10,
        }
    }

    /// The shortest class that keeps so many days.
    pub const fn keeping(days: u8) -> Self {
        match days {
            0..=3 => Self::Short,
            4..=5 => Self::Medium,
            _ => Self::Long,
        }
    }
}

impl Keeping {
    /// The days are the class's own, or fewer, or up to the most of its class; without a class, the
    /// shortest class that keeps so long; without either, short.
    pub fn new(class: Option<ExtenderClass>, days: Option<u32>) -> Result<Self, BoundError> {
        let most = class.unwrap_or(ExtenderClass::Long).most_days();
        let Some(read) = days else {
            let class = class.unwrap_or_default();
            return Ok(Self {
                class,
                days: class.usual_days(),
            });
        };
        match u8::try_from(read) {
            Ok(days) if (1..=most).contains(&days) => Ok(Self {
                class: class.unwrap_or(ExtenderClass::keeping(days)),
                days,
            }),
            _ => Err(BoundError {
                field: "keeps_days",
                read: read.into(),
                low: 1.0,
                high: most.into(),
                unit: "d",
            }),
        }
    }

    /// The class.
    pub const fn class(self) -> ExtenderClass {
        self.class
    }

    /// The days.
    pub const fn days(self) -> u8 {
        self.days
    }

    /// To be used before, counted from the collection: days of 24 hours, whatever the clocks do.
    pub fn use_by(self, collected_at: Stamp) -> Result<Stamp, TimeError> {
        Stamp::new(
            collected_at.ms() + i64::from(self.days) * DAY_MS,
            collected_at.offset_min(),
        )
    }
}

/// Undiluted semen is to be used before.
pub fn undiluted_use_by(collected_at: Stamp) -> Result<Stamp, TimeError> {
    Stamp::new(
        collected_at.ms() + i64::from(UNDILUTED_HOURS) * HOUR_MS,
        collected_at.offset_min(),
    )
}
