//! Which amendments hold, and how a record reads after them.

use super::{Live, Row, target};
use crate::fact::Fact;
use crate::id::EntryId;
use std::collections::{BTreeMap, HashMap, HashSet};

/// The amendments that hold: those that no amendment that holds undoes, whatever the clocks say.
/// Of the corrections of one record the later decides.
#[derive(Debug, Default)]
pub struct Acts<'a> {
    pub(super) voids: HashSet<EntryId>,
    pub(super) corrections: BTreeMap<EntryId, &'a Row>,
}

impl<'a> Acts<'a> {
    /// Decides among rows that are voids and corrections; others do nothing.
    pub fn of(amendments: impl Iterator<Item = &'a Row>) -> Self {
        let mut acts = Self::default();
        for row in holding(amendments.collect()) {
            match &row.fact {
                Fact::Void(v) if v.target.amendment.is_none() => {
                    acts.voids.insert(v.target.record.id);
                }
                Fact::Correction(c) => {
                    let by = acts.corrections.entry(c.target.record.id).or_insert(row);
                    let later = |row: &Row| (row.order.clock, row.order.id);
                    if later(row) > later(by) {
                        *by = row;
                    }
                }
                _ => {}
            }
        }
        acts
    }

    /// The record as it reads now; none if it was taken back.
    pub fn read(&self, row: &'a Row) -> Option<Live<'a>> {
        if self.voids.contains(&row.order.id) {
            return None;
        }
        let as_written = Live {
            order: row.order,
            at: row.occurred_at,
            person: row.person,
            device: row.device,
            seq: row.seq,
            fact: &row.fact,
            corrected_by: None,
        };
        match self.corrections.get(&row.order.id).map(|by| (by, &by.fact)) {
            Some((by, Fact::Correction(c))) => Some(Live {
                at: c.occurred_at.unwrap_or(row.occurred_at),
                fact: &c.fact,
                corrected_by: Some(by.order.id),
                ..as_written
            }),
            _ => Some(as_written),
        }
    }
}

/// Each void names at most one amendment, so they are decided from those that nobody undoes
/// onwards. Voids that name each other in a ring, which no program writes, undo nothing.
fn holding(amendments: Vec<&Row>) -> Vec<&Row> {
    let undoes = |row: &Row| target(&row.fact).and_then(|t| t.amendment);
    let mut undecided: HashMap<EntryId, usize> = HashMap::new();
    amendments
        .iter()
        .filter_map(|row| undoes(row))
        .for_each(|named| *undecided.entry(named).or_default() += 1);
    let by_id: HashMap<EntryId, &Row> = amendments.iter().map(|row| (row.order.id, *row)).collect();
    let mut ready: Vec<&Row> = amendments
        .into_iter()
        .filter(|row| !undecided.contains_key(&row.order.id))
        .collect();
    let (mut undone, mut holding) = (HashSet::new(), vec![]);
    while let Some(row) = ready.pop() {
        let holds = !undone.contains(&row.order.id);
        if holds {
            holding.push(row);
        }
        let Some(named) = undoes(row) else { continue };
        if holds {
            undone.insert(named);
        }
        if let Some(left) = undecided.get_mut(&named) {
            *left -= 1;
            ready.extend(by_id.get(&named).filter(|_| *left == 0));
        }
    }
    holding
}
