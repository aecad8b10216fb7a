//! What may be behind a fall: what was otherwise in the ejaculates of the fall than in those before.
//!
//! Each cause is a thing that an ejaculate had or had not. The more often the ejaculates of the
//! fall had it, and the more seldom those before, the higher the cause stands. This names what to
//! look at first; it proves nothing.

use super::{Cause, Signal};
use crate::barn::{BoarFacts, Seen};
use crate::boar::OffReason;
use crate::climate::TOLERATED_UNDER;
use crate::collection::{Collection, Glove, Trouble};
use crate::evaluation::ConcentrationBy;
use crate::id::EntryId;
use crate::output::{Given, Measure};
use crate::rest::health::{DaysOff, FEVER_WATCH_DAYS};
use crate::time::Zone;
use crate::today::evaluation_of;
use chrono::Days;

/// A cause, and what speaks for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// The cause.
    pub cause: Cause,
    /// How much speaks for it; only good for comparing.
    pub weight: f64,
    /// The entries that speak for it, latest first: ejaculates of the fall that had it, and what
    /// brought it about where that is an entry of its own.
    pub entries: Vec<EntryId>,
    /// How many ejaculates of the fall had it, of how many.
    pub during: (usize, usize),
    /// The same of those before the fall.
    pub before: (usize, usize),
}

/// So many ejaculates before the fall are looked at.
const BEFORE: usize = 12;
/// Less than this is not worth a word.
const LEAST: f64 = 0.2;

/// The causes that something speaks for, likeliest first. `given` are the boar's ejaculates at hand,
/// oldest first.
pub fn reasons(boar: &BoarFacts, signal: &Signal, given: &[Given], zone: &Zone) -> Vec<Reason> {
    let at: Vec<Known<'_>> = given
        .iter()
        .filter(|g| g.at_ms <= signal.at_ms)
        .filter_map(|g| Known::of(boar, g, zone))
        .collect();
    let split = at.partition_point(|k| k.given.at_ms < signal.fall.since_ms);
    let (before, during) = at.split_at(split);
    let before = before.get(before.len().saturating_sub(BEFORE)..);
    let before = before.unwrap_or_default();
    let usual = Usual::of(if before.is_empty() { during } else { before });
    let mut list: Vec<Reason> = CAUSES
        .iter()
        .filter_map(|cause| {
            let strength = strength(*cause, signal.measure);
            reason(*cause, strength, before, during, &usual)
        })
        .collect();
    list.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    list
}

/// One ejaculate with all that is recorded of it.
struct Known<'a> {
    given: &'a Given,
    collection: &'a Seen<Collection>,
    counted: Option<Method>,
    off: Vec<(OffReason, EntryId)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Method {
    Chamber,
    Instrument,
}

/// How it usually was before the fall.
struct Usual {
    person: Option<crate::id::PersonId>,
    glove: Option<Glove>,
    counted: Option<Method>,
    sperm_poor_in: Option<bool>,
}

/// The causes that an ejaculate itself can speak for.
pub const CAUSES: [Cause; 11] = [
    Cause::ShortRest,
    Cause::LongIdle,
    Cause::Heat,
    Cause::Fever,
    Cause::Ill,
    Cause::Handler,
    Cause::Glove,
    Cause::Dirt,
    Cause::Filter,
    Cause::Instrument,
    Cause::Fractions,
];

impl<'a> Known<'a> {
    fn of(boar: &'a BoarFacts, given: &'a Given, zone: &Zone) -> Option<Self> {
        let collection = boar
            .collections
            .iter()
            .find(|c| c.entry() == given.collection)?;
        let bench = evaluation_of(boar, collection).and_then(|e| e.fact.concentration);
        let counted = bench.map(|by| match by {
            ConcentrationBy::Chamber { .. } | ConcentrationBy::Counts { .. } => Method::Chamber,
            ConcentrationBy::Instrument(_) | ConcentrationBy::Curve { .. } => Method::Instrument,
        });
        let shows = |off: &&Seen<crate::boar::OffCollection>| {
            DaysOff::held(boar, off, zone).is_ok_and(|days| {
                let last = days.until.unwrap_or(given.day);
                let until = last.checked_add_days(Days::new(FEVER_WATCH_DAYS));
                days.from <= given.day && until.is_none_or(|until| given.day <= until)
            })
        };
        let off = boar.offs.iter().filter(shows);
        Some(Self {
            given,
            collection,
            counted,
            off: off.map(|o| (o.fact.reason, o.entry())).collect(),
        })
    }

    /// Whether it had what a cause is about.
    fn had(&self, cause: Cause, usual: &Usual) -> bool {
        let bearing = &self.given.bearing;
        let c = &self.collection.fact;
        let glove = c.glove.value().copied();
        match cause {
            Cause::ShortRest => bearing.rest_days.is_some_and(|d| d <= 2),
            Cause::LongIdle => bearing.rest_days.is_some_and(|d| d > 14),
            Cause::Heat => bearing.hot_days.is_some_and(|d| d >= TOLERATED_UNDER),
            Cause::Fever => self.off.iter().any(|(r, _)| *r == OffReason::Fever),
            Cause::Ill => self.off.iter().any(|(r, _)| is_illness(*r)),
            Cause::Handler => differs(self.collection.person, usual.person),
            Cause::Glove => glove == Some(Glove::Latex) || differs(glove, usual.glove),
            Cause::Dirt => c.trouble.contains(&Trouble::Dirt),
            Cause::Filter => c.trouble.contains(&Trouble::Filter),
            Cause::Instrument => differs(self.counted, usual.counted),
            Cause::Fractions => differs(bearing.sperm_poor_in, usual.sperm_poor_in),
            Cause::Age | Cause::Herd | Cause::Other => false,
        }
    }

    fn entries(&self, cause: Cause) -> Vec<EntryId> {
        let about = |(reason, entry): &(OffReason, EntryId)| {
            let is = match cause {
                Cause::Fever => *reason == OffReason::Fever,
                Cause::Ill => is_illness(*reason),
                _ => false,
            };
            is.then_some(*entry)
        };
        let mut entries: Vec<_> = self.off.iter().filter_map(about).collect();
        entries.push(self.given.collection);
        entries
    }
}

impl Usual {
    fn of(list: &[Known<'_>]) -> Self {
        Self {
            person: commonest(list.iter().filter_map(|k| k.collection.person)),
            glove: commonest(
                list.iter()
                    .filter_map(|k| k.collection.fact.glove.value().copied()),
            ),
            counted: commonest(list.iter().filter_map(|k| k.counted)),
            sperm_poor_in: commonest(list.iter().filter_map(|k| k.given.bearing.sperm_poor_in)),
        }
    }
}

const fn is_illness(reason: OffReason) -> bool {
    matches!(
        reason,
        OffReason::Ill
            | OffReason::Lame
            | OffReason::Treated
            | OffReason::Injured
            | OffReason::BloodOrPus
    )
}

fn differs<T: PartialEq>(is: Option<T>, usual: Option<T>) -> bool {
    is.zip(usual).is_some_and(|(is, usual)| is != usual)
}

fn commonest<T: PartialEq + Copy>(list: impl Iterator<Item = T>) -> Option<T> {
    let mut counts: Vec<(T, usize)> = vec![];
    for item in list {
        match counts.iter_mut().find(|(known, _)| *known == item) {
            Some((_, n)) => *n += 1,
            None => counts.push((item, 1)),
        }
    }
    counts.into_iter().max_by_key(|(_, n)| *n).map(|(t, _)| t)
}

fn reason(
    cause: Cause,
    strength: f64,
    before: &[Known<'_>],
    during: &[Known<'_>],
    usual: &Usual,
) -> Option<Reason> {
    let had = |list: &[Known<'_>]| list.iter().filter(|k| k.had(cause, usual)).count();
    let (n_during, n_before) = (had(during), had(before));
    if n_during == 0 {
        return None;
    }
    let share = |n: usize, of: usize| (count(n) + 0.5) / (count(of) + 1.0);
    let (in_it, earlier) = (share(n_during, during.len()), share(n_before, before.len()));
    // What one ejaculate of many had is by chance more often than what all of them had.
    let weight = strength * in_it * (in_it / earlier).ln();
    let mut entries: Vec<EntryId> = vec![];
    for known in during.iter().rev().filter(|k| k.had(cause, usual)) {
        for entry in known.entries(cause) {
            if !entries.contains(&entry) {
                entries.push(entry);
            }
        }
    }
    (weight >= LEAST).then_some(Reason {
        cause,
        weight,
        entries,
        during: (n_during, during.len()),
        before: (n_before, before.len()),
    })
}

fn count(n: usize) -> f64 {
    u32::try_from(n).map_or(f64::MAX, f64::from)
}

/// How much a cause is known to do to a measure (common practice, no source): heat and fever strike
/// what is being made, rest and fractions what there is of it, glove and dirt what is alive, and the
/// gel that a torn filter lets through both a little.
const fn strength(cause: Cause, measure: Measure) -> f64 {
    let [volume, total, motile, abnormal] = match cause {
        Cause::ShortRest => [1.0, 1.1, 0.6, 0.5],
        Cause::LongIdle => [0.2, 0.3, 0.8, 0.7],
        Cause::Heat => [0.4, 1.0, 1.1, 1.2],
        Cause::Fever => [0.7, 1.2, 1.2, 1.3],
        Cause::Ill => [0.7, 0.9, 0.9, 0.9],
        Cause::Handler => [0.9, 0.7, 0.6, 0.2],
        Cause::Glove => [0.2, 0.2, 1.2, 0.2],
        Cause::Dirt => [0.2, 0.2, 1.0, 0.2],
        // Gel in the cup: more volume, and clots that hold sperm.
        Cause::Filter => [0.3, 0.6, 0.8, 0.2],
        Cause::Instrument => [0.0, 1.0, 0.2, 0.2],
        Cause::Fractions => [1.2, 0.8, 0.3, 0.1],
        Cause::Age | Cause::Herd | Cause::Other => [0.0; 4],
    };
    match measure {
        Measure::Volume => volume,
        Measure::Total => total,
        Measure::Motile => motile,
        Measure::Abnormal => abnormal,
    }
}

#[cfg(test)]
mod tests;
