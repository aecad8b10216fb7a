//! What is looked after at intervals: the area, the dummy, the cup, the instruments, the water.

mod due;

use crate::said::Remark;
use serde::{Deserialize, Serialize};

pub use due::{Due, Standing, checks, wanting};

/// What is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Thing {
    /// The footing is dry, rough and clear.
    Footing,
    /// The dummy stands firm, at a height that fits the boars.
    DummyStands,
    /// The board is in its place and the gaps to step out are free (23–25 cm: Pork Information Gateway).
    WayOut,
    /// The area is quiet.
    Quiet,
    /// The dummy was cleaned.
    DummyClean,
    /// The cup is clean and whatever warms it holds 37–38 °C.
    Cup,
    /// The microscope's stage holds 37 °C.
    Stage,
    /// The thermometer agrees with another, or with melting ice.
    Thermometer,
    /// The scale shows a known mass.
    Scale,
    /// The water for the extender (below 5 µS/cm: Nebraska Swine Report 1999).
    Water,
}

/// What was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Found {
    /// As it should be.
    Fine,
    /// Not; it stays so until somebody finds it fine.
    NotFine,
}

/// Somebody looked. Who and when stand in the entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Check {
    /// At what.
    pub what: Thing,
    /// And found.
    pub answer: Found,
    /// What was seen or done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remark: Option<Remark>,
}

/// After how many farm days each is to be looked at again; 0 where the farm has no such thing.
/// All are common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct CheckDays {
    /// Footing, dummy's stand, way out and quiet: a week; before each collection they are looked
    /// at anyway.
    pub area: u8,
    /// The dummy's cleaning: each day.
    pub dummy: u8,
    /// Cup and warming: a week.
    pub cup: u8,
    /// The stage's temperature: a week.
    pub stage: u8,
    /// The thermometer: ninety days.
    pub thermometer: u8,
    /// The scale: thirty days.
    pub scale: u8,
    /// The water: thirty days.
    pub water: u8,
}

impl Thing {
    /// Each of them, in the order of a round.
    pub const ALL: [Self; 10] = [
        Self::Footing,
        Self::DummyStands,
        Self::WayOut,
        Self::Quiet,
        Self::DummyClean,
        Self::Cup,
        Self::Stage,
        Self::Thermometer,
        Self::Scale,
        Self::Water,
    ];

    /// Whether people can be hurt where it is not fine.
    pub const fn is_danger(self) -> bool {
        matches!(self, Self::Footing | Self::DummyStands | Self::WayOut)
    }
}

impl CheckDays {
    /// The most days between two looks: as far back as the farm's ledger reaches, see
    /// [`crate::ledger::keeps`].
    pub const HIGH: f64 = 92.0;

    /// After how many days this one is looked at again; none where the farm has no such thing.
    pub fn of(&self, what: Thing) -> Option<u8> {
        let days = match what {
            Thing::Footing | Thing::DummyStands | Thing::WayOut | Thing::Quiet => self.area,
            Thing::DummyClean => self.dummy,
            Thing::Cup => self.cup,
            Thing::Stage => self.stage,
            Thing::Thermometer => self.thermometer,
            Thing::Scale => self.scale,
            Thing::Water => self.water,
        };
        (days > 0).then_some(days)
    }

    /// Whether nothing was chosen.
    pub fn is_default(&self) -> bool {
        *self == Self::default()
    }
}

impl Default for CheckDays {
    fn default() -> Self {
        Self {
            area: 7,
            dummy: 1,
            cup: 7,
            stage: 7,
            thermometer: 90,
            scale: 30,
            water: 30,
        }
    }
}
