//! Who learns, under whose eyes, and who was signed off.

mod learner;

use crate::id::{BoarId, EntryId, PersonId};
use serde::{Deserialize, Serialize};

pub use learner::{Learner, learner, signed_off};

/// The work that is learnt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Work {
    /// Collecting.
    Collection,
    /// Training young boars.
    Training,
}

/// Somebody did the work while another stood by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Supervised {
    /// Who learns.
    pub person: PersonId,
    /// Who stood by; another person.
    pub by: PersonId,
    /// Which work.
    pub work: Work,
    /// The record of that work, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub record: Option<EntryId>,
    /// The boar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boar: Option<BoarId>,
}

/// Somebody may do the work without another standing by: said by a supervisor, never counted out
/// by the program. Taken back by a void.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignOff {
    /// Who.
    pub person: PersonId,
    /// Who says so; another person.
    pub by: PersonId,
    /// Which work.
    pub work: Work,
    /// How many times under supervision the supervisor saw on the screen.
    pub counted: u16,
    /// How many the farm asked for then.
    pub asked: u8,
}

impl Work {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Collection, Self::Training];
}
