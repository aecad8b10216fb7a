//! The boar, his pen, his tag and his whereabouts; and why he may be off collection.

use crate::code::Code;
use crate::id::{BoarId, PenId};
use crate::said::{Label, Remark};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A boar, as introduced or corrected.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Boar {
    /// What he is called in the barn: his number or name.
    pub number: Label,
    /// A name besides the number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<Label>,
    /// Day of birth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub born: Option<NaiveDate>,
    /// Breed or line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<Label>,
    /// Ear tag, notch or RFID by which he is known outside his pen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ear: Option<Label>,
    /// What was known of his work when he was entered.
    #[serde(default)]
    pub before: Before,
    /// What matters to whoever handles him: bites, charges, a bad leg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mind: Option<Remark>,
}

/// A boar's work before his first entry here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Before {
    /// Nobody said: his rest is unknown until a week of entries stands.
    #[default]
    Unknown,
    /// He has not worked yet.
    NoneYet,
    /// He last gave semen, or served, on that day.
    LastOn(NaiveDate),
}

/// A pen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pen {
    /// What is painted on the gate.
    pub name: Label,
}

/// A printed tag hangs on a pen. A pen may have had several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PenTag {
    /// The pen.
    pub pen: PenId,
    /// The code on the tag.
    pub code: Code,
}

/// A boar moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Move {
    /// Who.
    pub boar: BoarId,
    /// Where he was, as the mover saw it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<PenId>,
    /// Where he is now; none when he left the farm or his place is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<PenId>,
    /// He left for good: sold, culled or dead.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub gone: bool,
}

/// Why a boar is off collection.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OffReason {
    /// Ill.
    Ill,
    /// Lame.
    Lame,
    /// Fever; output suffers for about six weeks.
    Fever,
    /// Under treatment.
    Treated,
    /// Injured.
    Injured,
    /// Kept apart after arrival.
    Isolation,
    /// Blood or pus in the ejaculate: the veterinarian first.
    BloodOrPus,
    /// To be culled.
    Cull,
    /// Something else, said in a note.
    Other,
}

/// A boar goes off collection.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct OffCollection {
    /// Who.
    pub boar: BoarId,
    /// Why.
    pub reason: OffReason,
    /// The last farm day off; none until somebody puts him back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<NaiveDate>,
    /// Why he is to be culled, where that is the reason.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cull: Option<CullFor>,
}

/// What speaks for replacing a boar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CullFor {
    /// He gives too little.
    Output,
    /// What he gives is poor.
    Quality,
    /// He is a danger to people.
    Temper,
    /// Legs and feet.
    Legs,
    /// Sows served by him return, or farrow few.
    Fertility,
    /// His age.
    Age,
    /// Better ones are at hand.
    Replaced,
}

impl CullFor {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 7] = [
        Self::Output,
        Self::Quality,
        Self::Temper,
        Self::Legs,
        Self::Fertility,
        Self::Age,
        Self::Replaced,
    ];

    /// Its word in an address.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Output => "output",
            Self::Quality => "quality",
            Self::Temper => "temper",
            Self::Legs => "legs",
            Self::Fertility => "fertility",
            Self::Age => "age",
            Self::Replaced => "replaced",
        }
    }
}

/// A boar is back: every time off that began before this ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnCollection {
    /// Who.
    pub boar: BoarId,
}
