//! What must be true, kept apart from everything that is tested.

use pentally_domain::envelope::Entry;
use pentally_domain::id::EntryId;
use std::collections::{BTreeMap, BTreeSet};

/// See the module's words.
#[derive(Debug, Clone, Default)]
pub struct Oracle {
    /// Every entry any phone ever committed or claimed.
    pub written: BTreeMap<EntryId, Entry>,
    /// Those of which a screen said "saved".
    pub saved: BTreeSet<EntryId>,
    /// Those of which the office told a phone that they are in its log.
    received: BTreeSet<EntryId>,
    /// What was written again, and as what, each time.
    pub again: BTreeMap<EntryId, Vec<EntryId>>,
    /// Those whose last copy a disaster destroyed.
    pub excused: BTreeSet<EntryId>,
    /// Those the office lost in going back, so that only phones had them until they sent them again.
    vanished: BTreeSet<EntryId>,
    /// Those whose second writing a disaster wiped out, so that they may be written a third time.
    pub may_be_twice: BTreeSet<EntryId>,
}

impl Oracle {
    /// A phone committed an entry, or said so.
    pub fn wrote(&mut self, entry: &Entry) {
        self.written.insert(entry.envelope().id, entry.clone());
    }

    /// A phone was told that the office has an entry in its log.
    pub fn receives(&mut self, id: EntryId) {
        self.received.insert(id);
        self.vanished.remove(&id);
    }

    /// The entry and whatever was written in its place, and in the place of that.
    pub fn family(&self, id: EntryId) -> Vec<EntryId> {
        let mut family = vec![id];
        let mut next = 0;
        while let Some(member) = family.get(next).copied() {
            family.extend(self.again.get(&member).into_iter().flatten());
            next += 1;
        }
        family
    }

    /// A phone that held entries came back from an older copy that holds only `kept`.
    pub fn rolled_back(&mut self, held: &BTreeSet<EntryId>, kept: &BTreeSet<EntryId>) {
        for (old, successors) in &self.again {
            let forgets = |s| held.contains(s) && !kept.contains(s);
            if kept.contains(old) && successors.iter().any(forgets) {
                // The old copy does not know that it was written again.
                self.may_be_twice.insert(*old);
            }
        }
    }

    /// The office came back without `lost`.
    pub fn office_lost(&mut self, lost: impl Iterator<Item = EntryId>) {
        self.vanished.extend(lost);
    }

    /// After a disaster: what no phone holds and the office's log does not have is gone with it,
    /// unless the office had said that it has it and did not lose it in going back.
    pub fn takes_stock(&mut self, held: &BTreeSet<EntryId>, log: &BTreeSet<EntryId>) {
        let safe = |id: &EntryId| {
            held.contains(id)
                || log.contains(id)
                || (self.received.contains(id) && !self.vanished.contains(id))
        };
        let gone: Vec<EntryId> = self
            .saved
            .iter()
            .filter(|id| !self.excused.contains(id) && !self.family(**id).iter().any(safe))
            .copied()
            .collect();
        self.excused.extend(gone);
    }

    /// How many entries the log will hold at least, once all is handed over.
    pub fn expects(&self) -> usize {
        self.saved.len() - self.excused.len()
    }
}
