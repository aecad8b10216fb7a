//! When a boar gave semen or served: what his rest is counted from.

use crate::barn::BoarFacts;
use crate::boar::Before;
use crate::collection::Collection;
use crate::id::EntryId;
use crate::sow::By;
use crate::time::{HOUR_MS, Zone};
use crate::training::Training;
use chrono::NaiveDate;

/// Two collections closer than this are probably one, recorded twice (common practice, no source).
pub(crate) const DOUBLE_WITHIN_MS: i64 = HOUR_MS;

/// One time that he gave semen or served.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spent {
    /// When, in ms since 1970.
    pub(crate) at_ms: i64,
    /// On which of the farm's days.
    pub(crate) day: NaiveDate,
    /// What says so.
    pub(crate) entry: EntryId,
}

/// Two records that are probably one, and the day.
pub(crate) type Double = (NaiveDate, EntryId, EntryId);

/// Every time he gave semen or served, oldest first, doubles counted once; and the doubles.
pub(crate) fn spent(boar: &BoarFacts, zone: &Zone) -> (Vec<Spent>, Vec<Double>) {
    let told = boar.boar.as_ref().and_then(|b| match b.fact.before {
        Before::LastOn(day) => Some(Spent::on(day, b.entry(), zone)),
        Before::Unknown | Before::NoneYet => None,
    });
    let at = |at_ms: i64, entry| Spent::at(at_ms, entry, zone);
    let collected = boar
        .collections
        .iter()
        .filter(|c| Collection::spends(&c.fact));
    let collected = collected.map(|c| at(c.at.ms(), c.entry()));
    let learnt: Vec<_> = boar
        .trainings
        .iter()
        .filter(|t| Training::is_success(&t.fact))
        .map(|t| at(t.at.ms(), t.entry()))
        .collect();
    let served = boar
        .services
        .iter()
        .filter(|s| matches!(s.fact.by, By::Boar(_)));
    let served = served.map(|s| at(s.at.ms(), s.entry())).collect();
    once(told.into_iter().chain(collected).collect(), &learnt, served)
}

/// The same of times at hand: collections and what was told of before, successes in training, and
/// natural services.
pub(crate) fn once(
    collected: Vec<Spent>,
    learnt: &[Spent],
    served: Vec<Spent>,
) -> (Vec<Spent>, Vec<Double>) {
    let (mut once, doubles) = told_once(collected);
    for success in learnt {
        // What he gave in a session may stand in a collection too, so that the bench sees it; the
        // two are entered at any time of that day. One of the two is counted.
        if once.iter().all(|s| s.day != success.day) {
            once.push(*success);
        }
    }
    once.extend(served);
    once.sort_by_key(|s| (s.at_ms, s.entry));
    (once, doubles)
}

impl Spent {
    /// At an instant.
    pub(crate) fn at(at_ms: i64, entry: EntryId, zone: &Zone) -> Self {
        Self {
            at_ms,
            day: zone.day(at_ms),
            entry,
        }
    }

    /// On a day, of which no more is known.
    pub(crate) fn on(day: NaiveDate, entry: EntryId, zone: &Zone) -> Self {
        Self {
            at_ms: zone.day_start_ms(day),
            day,
            entry,
        }
    }
}

fn told_once(mut list: Vec<Spent>) -> (Vec<Spent>, Vec<Double>) {
    list.sort_by_key(|s| (s.at_ms, s.entry));
    let mut once: Vec<Spent> = vec![];
    let mut doubles = vec![];
    for s in list {
        match once.last() {
            Some(last) if s.at_ms - last.at_ms < DOUBLE_WITHIN_MS => {
                doubles.push((s.day, last.entry, s.entry));
            }
            _ => once.push(s),
        }
    }
    (once, doubles)
}

/// His first success, if the log saw it: he came untried, and nothing older was dropped.
pub(crate) fn first_success(boar: &BoarFacts, past: &[Spent]) -> Option<Spent> {
    let untried = boar
        .boar
        .as_ref()
        .is_some_and(|b| b.fact.before == Before::NoneYet);
    let whole = boar.collections_whole;
    past.first().copied().filter(|_| untried && whole)
}
