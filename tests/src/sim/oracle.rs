//! What must be true, kept apart from everything that is tested.

use pentally_domain::envelope::Entry;
use pentally_domain::id::EntryId;
use std::collections::{BTreeMap, BTreeSet};

/// See the module's words.
#[derive(Debug, Clone, Default)]
pub struct Oracle {
    /// Every entry any phone ever committed or claimed.
    pub written: BTreeMap<EntryId, Entry>,
    /// Those of which a phone's screen said "saved".
    pub saved: BTreeSet<EntryId>,
    /// Those a phone took for received.
    pub received: BTreeSet<EntryId>,
    /// What was written again, and as what, each time.
    pub again: BTreeMap<EntryId, Vec<EntryId>>,
    /// Those whose last copy a disaster destroyed, before anything acknowledged them or after all.
    pub excused: BTreeSet<EntryId>,
    /// Those the office lost in going back, so that only a phone had them until it sent them again.
    vanished: BTreeSet<EntryId>,
    /// Those whose second writing a disaster wiped out, so that they may be written a third time.
    pub may_be_twice: BTreeSet<EntryId>,
}

impl Oracle {
    /// A phone committed an entry.
    pub fn wrote(&mut self, entry: &Entry) {
        self.written.insert(entry.envelope().id, entry.clone());
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

    /// A phone came back from an older copy that holds only `kept`; `safe` is what the office has.
    pub fn rolled_back(
        &mut self,
        held: &BTreeSet<EntryId>,
        kept: &BTreeSet<EntryId>,
        safe: &BTreeSet<EntryId>,
    ) {
        let lost: BTreeSet<_> = held.difference(kept).copied().collect();
        let was_safe = |id: &EntryId| self.received.contains(id) && !self.vanished.contains(id);
        let gone = |id: &EntryId| lost.contains(id) && !safe.contains(id) && !was_safe(id);
        let mut excused: BTreeSet<_> = lost.iter().filter(|id| gone(id)).copied().collect();
        for (old, successors) in &self.again {
            let lost_successor = successors.iter().any(|s| lost.contains(s));
            if lost_successor && kept.contains(old) {
                // The old copy does not know that it was written again.
                self.may_be_twice.insert(*old);
            }
            if successors.iter().all(|s| excused.contains(s)) && lost.contains(old) {
                excused.insert(*old);
            }
        }
        self.excused.extend(excused);
    }

    /// The office came back without `lost`; `held` is what phones hold.
    pub fn restored(&mut self, lost: &BTreeSet<EntryId>, held: &BTreeSet<EntryId>) {
        self.excused.extend(lost.difference(held));
        self.vanished.extend(lost);
    }
}
