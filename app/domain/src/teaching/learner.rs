//! How far somebody is: a view of the log.

use super::{SignOff, Supervised, Work};
use crate::barn::{Barn, Seen};
use crate::fact::{Fact, Subject};
use crate::id::{EntryId, PersonId};
use std::collections::BTreeSet;

/// How far a person is with a work.
#[derive(Debug, Clone, PartialEq)]
pub struct Learner {
    /// Who.
    pub person: PersonId,
    /// With which work.
    pub work: Work,
    /// How often under supervision, as far as the ledger reaches back.
    pub supervised: u16,
    /// How often the farm asks for.
    pub asked: u8,
    /// The latest sign-off that was not taken back.
    pub signed: Option<Seen<SignOff>>,
}

/// How far a person is with a work. A collection that two people entered as supervised counts
/// once, and one that was taken back does not count.
pub fn learner(barn: &Barn, person: PersonId, work: Work) -> Learner {
    let supervised = barn.farm_facts(|fact| match fact {
        Fact::Supervised(s) if s.person == person && s.work == work => Some(s),
        _ => None,
    });
    let signed = barn.farm_facts(|fact| match fact {
        Fact::SignOff(s) if s.person == person && s.work == work => Some(s),
        _ => None,
    });
    let (mut known, mut count) = (BTreeSet::<EntryId>::new(), 0_u16);
    for seen in supervised.iter().filter(|s| !taken_back(barn, &s.fact)) {
        let fresh = seen.fact.record.is_none_or(|record| known.insert(record));
        count = count.saturating_add(u16::from(fresh));
    }
    Learner {
        person,
        work,
        supervised: count,
        asked: barn.standard().standard.supervised_times,
        signed: signed.into_iter().next_back(),
    }
}

/// The people who work here and are signed off for a work, in the order in which they came.
pub fn signed_off(barn: &Barn, work: Work) -> Vec<PersonId> {
    let here = barn.people().into_iter().map(|(person, _)| person);
    here.filter(|person| learner(barn, *person, work).signed.is_some())
        .collect()
}

fn taken_back(barn: &Barn, supervised: &Supervised) -> bool {
    let ledger = supervised.boar.and_then(|b| barn.ledger(Subject::Boar(b)));
    ledger
        .zip(supervised.record)
        .is_some_and(|(ledger, record)| ledger.is_void(record))
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
