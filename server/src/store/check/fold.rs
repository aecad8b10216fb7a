//! The other fold: everything about one subject is sorted first and cut afterwards. It shares no
//! code with the incremental one, so that a mistake in either shows.

use pentally_domain::amend::Target;
use pentally_domain::envelope::Order;
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::EntryId;
use pentally_domain::ledger::{Row, keeps};
use pentally_domain::time::Stamp;

/// What a ledger of these rows must hold, in the order of business.
pub(super) fn fold(mut all: Vec<Row>) -> Vec<Row> {
    all.sort_by_key(|row| row.order);
    all.dedup_by_key(|row| row.order);
    let floors: Vec<(Kind, Option<Order>)> = Kind::ALL
        .iter()
        .map(|kind| (*kind, floor(&all, *kind)))
        .collect();
    let above = |kind: Kind, order: Order| {
        floors
            .iter()
            .any(|(of, floor)| *of == kind && floor.is_none_or(|floor| order >= floor))
    };
    all.retain(|row| match amended(&row.fact) {
        Some(target) => above(target.kind, target.record),
        None => above(row.fact.kind(), row.order),
    });
    all
}

/// The oldest record of a kind that is still kept; none while there is room for older ones.
fn floor(all: &[Row], kind: Kind) -> Option<Order> {
    let orders: Vec<_> = all
        .iter()
        .filter(|row| row.fact.kind() == kind && amended(&row.fact).is_none())
        .collect();
    let dropped = orders.len().checked_sub(keeps(kind))?;
    orders.get(dropped).map(|row| row.order)
}

type Reads = (Order, Stamp, Fact, Option<EntryId>);

/// What counts on a subject's page, in the order of when it happened.
pub(super) fn read(subject: Subject, rows: &[Row]) -> Vec<Reads> {
    let mut list: Vec<Reads> = vec![];
    for row in rows.iter().filter(|row| amended(&row.fact).is_none()) {
        let id = row.order.id;
        if is_void(rows, id) {
            continue;
        }
        match correction(rows, id) {
            None => list.push((row.order, row.occurred_at, row.fact.clone(), None)),
            Some((by, fact, at)) if fact.subjects(id).contains(&subject) => {
                list.push((
                    row.order,
                    at.unwrap_or(row.occurred_at),
                    fact.clone(),
                    Some(by.order.id),
                ));
            }
            Some(_) => {}
        }
    }
    list.extend(moved_here(subject, rows));
    list.sort_by_key(|(order, at, _, _)| (at.ms(), *order));
    list
}

/// Records held elsewhere that a correction made records of this subject.
fn moved_here(subject: Subject, rows: &[Row]) -> Vec<Reads> {
    let mut list = vec![];
    for row in rows {
        let Fact::Correction(c) = &row.fact else {
            continue;
        };
        let record = c.target.record;
        let holds = correction(rows, record.id).is_some_and(|(by, _, _)| by.order == row.order);
        let is_here = rows.iter().any(|r| {
            r.order == record && r.fact.kind() == c.target.kind && amended(&r.fact).is_none()
        });
        if !holds
            || is_here
            || is_void(rows, record.id)
            || !c.fact.subjects(record.id).contains(&subject)
        {
            continue;
        }
        let at = c
            .occurred_at
            .or_else(|| Stamp::new(record.at_ms, row.occurred_at.offset_min()).ok());
        list.extend(at.map(|at| (record, at, (*c.fact).clone(), Some(row.order.id))));
    }
    list
}

fn is_void(rows: &[Row], record: EntryId) -> bool {
    rows.iter().any(|row| match &row.fact {
        Fact::Void(v) => {
            v.target.record.id == record && v.target.amendment.is_none() && stands(rows, row)
        }
        _ => false,
    })
}

fn correction(rows: &[Row], record: EntryId) -> Option<(&Row, &Fact, Option<Stamp>)> {
    let standing = rows
        .iter()
        .filter(|row| stands(rows, row))
        .filter_map(|row| match &row.fact {
            Fact::Correction(c) if c.target.record.id == record => {
                Some((row, &*c.fact, c.occurred_at))
            }
            _ => None,
        });
    standing.max_by_key(|(row, _, _)| age(row))
}

/// An amendment stands unless a void that stands itself undoes it, whatever the clocks say.
/// Voids that name each other in a ring do not stand.
fn stands(rows: &[Row], amendment: &Row) -> bool {
    let id = amendment.order.id;
    let undone = |row: &Row| names(row) == Some(id) && stands(rows, row);
    !in_ring(rows, amendment) && !rows.iter().any(undone)
}

fn in_ring(rows: &[Row], amendment: &Row) -> bool {
    let mut at = amendment;
    for _ in rows {
        let next = names(at).and_then(|id| rows.iter().find(|row| row.order.id == id));
        match next {
            None => return false,
            Some(next) if next.order == amendment.order => return true,
            Some(next) => at = next,
        }
    }
    false
}

/// The amendment that a row undoes.
fn names(row: &Row) -> Option<EntryId> {
    amended(&row.fact).and_then(|target| target.amendment)
}

const fn age(row: &Row) -> (pentally_domain::time::Clock, EntryId) {
    (row.order.clock, row.order.id)
}

const fn amended(fact: &Fact) -> Option<Target> {
    match fact {
        Fact::Void(v) => Some(v.target),
        Fact::Correction(c) => Some(c.target),
        _ => None,
    }
}
