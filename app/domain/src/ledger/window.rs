//! What a ledger keeps: of each kind the latest few, and what amends them.

use super::keeps;
use crate::envelope::Order;
use crate::fact::Kind;
use crate::id::EntryId;
use std::collections::BTreeMap;

/// What the window has to know of a row.
pub(super) trait Kept {
    /// The entry and its place in the order of business.
    fn order(&self) -> Order;
    /// What it says, by kind.
    fn kind(&self) -> Kind;
    /// Of an amendment: the kind and place of the record it amends.
    fn amends(&self) -> Option<(Kind, Order)>;
}

/// See the module's words. Any order of insertion, any number of times, yields the same window.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Window<R> {
    pub(super) rows: BTreeMap<(Kind, Order), R>,
    pub(super) amendments: BTreeMap<Order, R>,
    /// Nothing is dropped.
    whole: bool,
}

impl<R> Window<R> {
    pub(super) const fn new() -> Self {
        Self {
            rows: BTreeMap::new(),
            amendments: BTreeMap::new(),
            whole: false,
        }
    }

    /// One that keeps everything.
    pub(super) const fn whole() -> Self {
        Self {
            rows: BTreeMap::new(),
            amendments: BTreeMap::new(),
            whole: true,
        }
    }

    /// Every row held, amendments last.
    pub(super) fn all(&self) -> impl Iterator<Item = &R> {
        self.rows.values().chain(self.amendments.values())
    }
}

impl<R: Kept> Window<R> {
    pub(super) fn insert(&mut self, row: R) {
        if let Some((kind, record)) = row.amends() {
            if self.whole || self.retains(kind, record) {
                self.amendments.insert(row.order(), row);
            }
            return;
        }
        let kind = row.kind();
        self.rows.insert((kind, row.order()), row);
        if self.whole {
            return;
        }
        let count = self.of_kind(kind).count();
        if count > keeps(kind) {
            let oldest = self.of_kind(kind).next().copied();
            oldest.map(|key| self.rows.remove(&key));
        }
        // A window that is just full has a floor too: what amends something below it goes.
        if count >= keeps(kind) && !self.amendments.is_empty() {
            let kept = std::mem::take(&mut self.amendments);
            self.amendments = kept
                .into_iter()
                .filter(|(_, row)| row.amends().is_some_and(|(k, r)| self.retains(k, r)))
                .collect();
        }
    }

    fn of_kind(&self, kind: Kind) -> impl Iterator<Item = &(Kind, Order)> {
        self.rows
            .range((kind, LOWEST)..)
            .take_while(move |((k, _), _)| *k == kind)
            .map(|(key, _)| key)
    }

    /// An amendment is kept as long as its record is kept or may still come.
    fn retains(&self, kind: Kind, record: Order) -> bool {
        let mut kept = self.of_kind(kind);
        let floor = kept.next().map(|(_, order)| *order);
        let count = 1 + kept.count();
        floor.is_none_or(|floor| count < keeps(kind) || record >= floor)
    }
}

const LOWEST: Order = Order {
    at_ms: i64::MIN,
    clock: crate::time::Clock { ms: i64::MIN, n: 0 },
    id: EntryId::from_uuid(uuid::Uuid::nil()),
};
