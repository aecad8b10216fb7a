//! One collection, as the barn tells it.

use crate::id::{BoarId, SowId};
use crate::said::{Remark, Said};
use crate::time::Stamp;
use crate::units::{MassG, VolumeMl};
use serde::{Deserialize, Serialize};

/// The glove on the hand that grips.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Glove {
    /// Powder-free vinyl: the default.
    Vinyl,
    /// Nitrile: allowed, with a word to test the lot first, since the sources conflict.
    Nitrile,
    /// Polyethylene.
    Polyethylene,
    /// Latex kills sperm (common practice, no source): it stops the work, and what was
    /// collected with it is not used.
    Latex,
    /// A bare, clean hand.
    None,
}

/// What the boar was collected off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mount {
    /// The collection dummy.
    Dummy,
    /// A standing sow, and which if known.
    Sow(Option<SowId>),
}

/// What can be tapped while he is collected, or afterwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// He enters the pen.
    Enters,
    /// He mounts.
    Mounts,
    /// The grip is taken and held.
    LockOn,
    /// Clear pre-sperm fraction, discarded.
    PreSperm,
    /// White sperm-rich fraction.
    SpermRich,
    /// Watery sperm-poor fraction.
    SpermPoor,
    /// Gel.
    Gel,
    /// Over: he is done and down.
    End,
}

/// A step, and when, if a helper tapped as it happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Taken {
    /// What.
    pub step: Step,
    /// When; absent reads "not taken".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Stamp>,
}

/// What is in the cup.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// Read off the cup: gel-free volume.
    Volume(VolumeMl),
    /// Weighed: gross mass and the tare of cup and bag; 1 g counts as 1 mL.
    Mass {
        /// Cup, bag and semen.
        gross: MassG,
        /// Cup and bag.
        tare: MassG,
    },
}

impl Amount {
    /// The gel-free volume in mL; none when the tare exceeds what was weighed.
    pub fn volume(self) -> Option<VolumeMl> {
        match self {
            Self::Volume(volume) => Some(volume),
            Self::Mass { gross, tare } => VolumeMl::from_mass(gross, tare).ok(),
        }
    }
}

/// How it ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Semen in the cup.
    Collected,
    /// He mounted and gave nothing that was kept.
    NothingKept,
    /// He did not mount.
    NoMount,
}

/// The boar's mood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Temper {
    /// Calm.
    Calm,
    /// Restless.
    Restless,
    /// Slow, little interest.
    Slow,
    /// Dangerous.
    Dangerous,
}

/// What went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Trouble {
    /// He backed off and was let go.
    BackedOff,
    /// The grip slipped.
    Slipped,
    /// Soft or no erection.
    Soft,
    /// Noise or disturbance.
    Noise,
    /// Dirt, urine or sheath fluid in the cup.
    Dirt,
    /// Bleeding.
    Blood,
    /// He limped.
    Lame,
    /// He was hot.
    Hot,
    /// He bit.
    Bite,
    /// He charged.
    Charge,
    /// A person was hurt.
    PersonHurt,
    /// The filter tore or slid into the cup. Since version 2.
    Filter,
}

impl Trouble {
    /// A danger to people, which stands on his page before everything else.
    pub const fn is_danger(self) -> bool {
        matches!(self, Self::Bite | Self::Charge | Self::PersonHurt)
    }
}

/// Why a boar was collected although his page said no.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Despite {
    /// Sows stand and no other boar is free.
    SowsWait,
    /// The last one failed or was lost.
    LastFailed,
    /// Practice after a first success.
    Practice,
    /// Asked for by the veterinarian.
    Veterinarian,
    /// His record is wrong or missing.
    RecordWrong,
}

/// A collection, or an attempt at one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Collection {
    /// Who.
    pub boar: BoarId,
    /// How it ended.
    pub outcome: Outcome,
    /// The glove.
    #[serde(default)]
    pub glove: Said<Glove>,
    /// The mount.
    #[serde(default)]
    pub mount: Said<Mount>,
    /// What was tapped, in order. At most 40.
    #[serde(default)]
    pub steps: Vec<Taken>,
    /// Whether the sperm-poor fraction went into the cup; without it volumes do not compare.
    #[serde(default)]
    pub sperm_poor_in: Said<bool>,
    /// What is in the cup.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<Amount>,
    /// An improbable amount was asked about once, and kept.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub amount_confirmed: bool,
    /// His mood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temper: Option<Temper>,
    /// What went wrong.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub trouble: Vec<Trouble>,
    /// The reason given against the advice on his page.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub despite: Option<Despite>,
    /// Free text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Remark>,
}

impl Collection {
    /// The version of the body it is written as: 2 where it names a trouble that version 1 did not know.
    pub fn version(&self) -> u16 {
        if self.trouble.contains(&Trouble::Filter) {
            2
        } else {
            1
        }
    }

    /// The most steps one collection holds; a helper who undoes and repeats stays far below.
    pub const STEPS_MAX: usize = 40;

    /// The gel-free volume in mL.
    pub fn volume(&self) -> Option<VolumeMl> {
        self.amount.and_then(Amount::volume)
    }

    /// Lock-on to end in milliseconds, where both were tapped as they happened.
    pub fn duration_ms(&self) -> Option<i64> {
        let at = |step| {
            self.steps
                .iter()
                .rev()
                .find(|t| t.step == step)?
                .at
                .map(Stamp::ms)
        };
        Some(at(Step::End)? - at(Step::LockOn)?).filter(|ms| *ms >= 0)
    }

    /// Whether this used the boar: semen was given, kept or not.
    pub const fn spends(&self) -> bool {
        matches!(self.outcome, Outcome::Collected | Outcome::NothingKept)
    }

    /// Findings in the barn that forbid use, whatever the bench measures.
    pub fn forbids_use(&self) -> bool {
        self.glove.value() == Some(&Glove::Latex) || self.trouble.contains(&Trouble::Blood)
    }
}
