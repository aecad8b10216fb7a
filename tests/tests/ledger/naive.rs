//! The law of ledgers once more, written from its words: gather everything, sort, cut, resolve.
//! It shares no code with the ledger but the types and the numbers of `keeps`.

use pentally_domain::amend::Target;
use pentally_domain::envelope::{Entry, Order};
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::EntryId;
use pentally_domain::ledger::keeps;
use std::collections::{BTreeMap, BTreeSet};

/// What a page about a subject shows: record, when, the fact, the correction that holds.
pub type Shown = (Order, i64, Fact, Option<EntryId>);

/// All rows a ledger of that subject must hold, and what it must show.
pub fn fold(entries: &[Entry], subject: Subject) -> (BTreeSet<EntryId>, Vec<Shown>) {
    let mut said: BTreeMap<EntryId, (&Entry, Fact)> = BTreeMap::new();
    for entry in entries {
        let fact = Fact::of(entry.envelope()).unwrap().unwrap();
        if fact.subjects(entry.envelope().id).contains(&subject) {
            said.insert(entry.envelope().id, (entry, fact));
        }
    }
    let floors = floors(&said);
    let kept: Vec<_> = said
        .values()
        .filter(|(entry, fact)| is_kept(entry, fact, &floors))
        .collect();
    let amendments: Vec<_> = kept
        .iter()
        .filter(|(_, fact)| target(fact).is_some())
        .copied()
        .collect();
    let mut shown = vec![];
    for (entry, fact) in &kept {
        if target(fact).is_none() {
            shown.extend(show(
                entry.order(),
                entry.envelope().occurred_at.ms(),
                Some(fact),
                &amendments,
                subject,
            ));
        }
    }
    // Records of other subjects that a correction made this subject's.
    let here: BTreeSet<_> = kept.iter().map(|(e, _)| e.order()).collect();
    let elsewhere: BTreeSet<_> = amendments
        .iter()
        .filter_map(|(_, f)| Some(target(f)?.record))
        .collect();
    for record in elsewhere.difference(&here) {
        shown.extend(show(*record, record.at_ms, None, &amendments, subject));
    }
    shown.sort_by_key(|(order, at, ..)| (*at, *order));
    (kept.iter().map(|(e, _)| e.envelope().id).collect(), shown)
}

/// Per kind of which there are as many records as are kept, or more: the oldest that is kept.
fn floors(said: &BTreeMap<EntryId, (&Entry, Fact)>) -> BTreeMap<Kind, Order> {
    let mut orders: BTreeMap<Kind, Vec<Order>> = BTreeMap::new();
    for (entry, fact) in said.values().filter(|(_, fact)| target(fact).is_none()) {
        orders.entry(fact.kind()).or_default().push(entry.order());
    }
    let mut floors = BTreeMap::new();
    for (kind, mut orders) in orders {
        orders.sort_unstable_by(|a, b| b.cmp(a));
        floors.extend(orders.get(keeps(kind) - 1).map(|floor| (kind, *floor)));
    }
    floors
}

fn is_kept(entry: &Entry, fact: &Fact, floors: &BTreeMap<Kind, Order>) -> bool {
    let (kind, order) = target(fact).map_or((fact.kind(), entry.order()), |t| (t.kind, t.record));
    floors.get(&kind).is_none_or(|floor| order >= *floor)
}

type Said<'a> = (&'a Entry, Fact);

fn show(
    order: Order,
    at_ms: i64,
    written: Option<&Fact>,
    amendments: &[&Said<'_>],
    subject: Subject,
) -> Option<Shown> {
    let of_it = || {
        amendments.iter().filter(|(_, f)| {
            target(f).is_some_and(|t| t.record.id == order.id && t.amendment.is_none())
        })
    };
    let holding = || of_it().filter(|(e, _)| holds(e.envelope().id, amendments));
    if holding().any(|(_, f)| matches!(f, Fact::Void(_))) {
        return None;
    }
    let corrections = holding().filter(|(_, f)| matches!(f, Fact::Correction(_)));
    match corrections.max_by_key(|(e, _)| (e.envelope().clock, e.envelope().id)) {
        Some((by, Fact::Correction(c))) => {
            let about = c.fact.subjects(order.id).contains(&subject);
            let at_ms = c.occurred_at.map_or(at_ms, |at| at.ms());
            about.then(|| (order, at_ms, (*c.fact).clone(), Some(by.envelope().id)))
        }
        _ => written.map(|fact| (order, at_ms, fact.clone(), None)),
    }
}

/// An amendment holds unless a void of it holds. No clock is asked.
fn holds(amendment: EntryId, amendments: &[&Said<'_>]) -> bool {
    let undoes = |f: &Fact| matches!(f, Fact::Void(v) if v.target.amendment == Some(amendment));
    !amendments
        .iter()
        .any(|(e, f)| undoes(f) && holds(e.envelope().id, amendments))
}

fn target(fact: &Fact) -> Option<Target> {
    match fact {
        Fact::Void(v) => Some(v.target),
        Fact::Correction(c) => Some(c.target),
        _ => None,
    }
}
