//! Training a young boar to the dummy: visits to get used to it, and sessions.
//!
//! What one entry says stands here; [`state`] is what all of them say together, [`rhythm`] when he
//! works again after a first success, [`advice`] what the sessions of a boar suggest, [`group`] the
//! order of the day, and [`under_way`] a session while it lasts.

pub mod advice;
pub mod evidence;
pub mod group;
pub mod rhythm;
pub mod state;
pub mod under_way;

use crate::collection::Trouble;
use crate::id::{BoarId, PersonId};
use crate::said::{Remark, Said};
use crate::units::{Score, SessionMinutes};
use serde::{Deserialize, Serialize};

/// A visit, or a session with the dummy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lesson {
    /// He gets used to pen and people: 5–10 minutes, longer for boars unused to people
    /// (Stewart & Lovercamp 2017).
    Visit,
    /// He is led to the dummy.
    Session,
}

/// Where he lets himself be touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Touch {
    /// On the body.
    Body,
    /// On the sheath.
    Sheath,
}

/// What made the dummy worth a look (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lure {
    /// The scent of a sow in heat.
    SowScent,
    /// What another boar left on the dummy.
    BoarScent,
    /// He watched others being collected.
    OthersWatched,
}

/// What went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mishap {
    /// Noise or disturbance.
    Noise,
    /// He slipped or fell.
    Slip,
    /// He was handled roughly.
    Rough,
    /// He was hot, or the pen was.
    Hot,
    /// He limped.
    Lame,
    /// He was aggressive, however far he came after it.
    Aggressive,
    /// He bit.
    Bite,
    /// He charged.
    Charge,
    /// A person was hurt.
    PersonHurt,
}

impl Mishap {
    /// Every one, as the chips stand; dangers last.
    pub const ALL: [Self; 9] = [
        Self::Noise,
        Self::Slip,
        Self::Rough,
        Self::Hot,
        Self::Lame,
        Self::Aggressive,
        Self::Bite,
        Self::Charge,
        Self::PersonHurt,
    ];

    /// The danger to people it is, by the word that a collection has for it.
    pub const fn danger(self) -> Option<Trouble> {
        match self {
            Self::Bite => Some(Trouble::Bite),
            Self::Charge => Some(Trouble::Charge),
            Self::PersonHurt => Some(Trouble::PersonHurt),
            Self::Noise | Self::Slip | Self::Rough | Self::Hot | Self::Lame | Self::Aggressive => {
                None
            }
        }
    }
}

/// Why he is trained although he is younger than the farm begins, or nobody knows how old he is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Early {
    /// He mounts his pen mates already.
    Keen,
    /// He is needed soon.
    Needed,
    /// The veterinarian or whoever bred him advises it.
    Advised,
    /// His day of birth is wrong or missing.
    AgeWrong,
}

/// A visit or a session. When it began is the entry's `occurred_at`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Training {
    /// Who.
    pub boar: BoarId,
    /// A visit or a session.
    pub what: Lesson,
    /// How far he came; a visit has none.
    #[serde(default)]
    pub score: Said<Score>,
    /// How long it lasted. By default, where the phone's clock ran; confirmed, where a person said so.
    #[serde(default)]
    pub minutes: Said<SessionMinutes>,
    /// The minutes are outside the usual, and a person said that they are right.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub minutes_confirmed: bool,
    /// Where he let himself be touched; where nobody said, it is absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub touch: Vec<Touch>,
    /// What was used to draw him.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lures: Vec<Lure>,
    /// What went wrong.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mishaps: Vec<Mishap>,
    /// Who helped, beside the one who recorded it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub helper: Option<PersonId>,
    /// The reason given for beginning early.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub early: Option<Early>,
    /// Free text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Remark>,
}

impl Training {
    /// The version of the body it is written as: 2 where it names a mishap that version 1 did not know.
    pub fn version(&self) -> u16 {
        if self.mishaps.contains(&Mishap::Aggressive) {
            2
        } else {
            1
        }
    }

    /// Nothing said of it yet.
    pub const fn new(boar: BoarId, what: Lesson) -> Self {
        Self {
            boar,
            what,
            score: Said::Unanswered,
            minutes: Said::Unanswered,
            minutes_confirmed: false,
            touch: Vec::new(),
            lures: Vec::new(),
            mishaps: Vec::new(),
            helper: None,
            early: None,
            note: None,
        }
    }

    /// How far he came, where somebody said.
    pub fn reached(&self) -> Option<Score> {
        self.score.value().copied()
    }

    /// Whether he was collected, which uses him as a collection does.
    pub fn is_success(&self) -> bool {
        self.what == Lesson::Session && self.reached().is_some_and(Score::is_success)
    }

    /// Whether he endangered people.
    pub fn was_dangerous(&self) -> bool {
        self.mishaps.iter().any(|m| m.danger().is_some())
    }

    /// Whether the minutes are outside the usual and nobody said that they are right.
    pub fn asks_minutes(&self) -> bool {
        let improbable = self.minutes.value().is_some_and(|m| m.improbable());
        improbable && !self.minutes_confirmed
    }
}

#[cfg(test)]
mod tests;
