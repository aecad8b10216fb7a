//! Corrections, voids and notes: entries about other entries and subjects.

use crate::envelope::Order;
use crate::fact::{Fact, Kind, Subject};
use crate::id::EntryId;
use crate::said::Remark;
use crate::time::Stamp;
use serde::{Deserialize, Serialize};

/// What an amendment is about. It carries the place of the record in the order of business, so
/// that a reader who no longer holds the record knows it without asking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Target {
    /// The record.
    pub record: Order,
    /// Its kind.
    pub kind: Kind,
    /// An earlier amendment of that record, when the amendment itself is undone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amendment: Option<EntryId>,
}

/// The target does not count: a mistake, or an undo. Voiding a void brings the record back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Void {
    /// What.
    pub target: Target,
    /// Whose pages it touches: those of the record.
    pub about: Vec<Subject>,
}

/// The target reads like this instead. It wins whatever its clock; of two, the later clock holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// What.
    pub target: Target,
    /// Whose pages it touches: those of the record before and after.
    pub about: Vec<Subject>,
    /// When it happened, if that was wrong too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub occurred_at: Option<Stamp>,
    /// The whole fact as it should read; of the same kind.
    pub fact: Box<Fact>,
}

/// Words about something.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// Whose page it stands on.
    pub about: Subject,
    /// The words.
    pub text: Remark,
}

impl Void {
    /// Takes back a record as it reads now.
    pub fn of(record: Order, fact: &Fact) -> Self {
        let target = Target {
            record,
            kind: fact.kind(),
            amendment: None,
        };
        Self {
            target,
            about: fact.subjects(record.id),
        }
    }
}

impl Correction {
    /// Lets a record that reads `before` read `fact` instead.
    pub fn of(record: Order, before: &Fact, fact: Fact) -> Self {
        let target = Target {
            record,
            kind: before.kind(),
            amendment: None,
        };
        let mut about = before.subjects(record.id);
        about.extend(fact.subjects(record.id));
        about.sort_unstable();
        about.dedup();
        Self {
            target,
            about,
            occurred_at: None,
            fact: Box::new(fact),
        }
    }
}
