//! What pages show of output: each boar's ejaculates beside what was expected, his open signals,
//! and what he would give on another day.

use super::outlook::{Beside, Outlook, Past};
use super::{Bearing, History, Measure};
use crate::barn::{Barn, BoarFacts, Seen};
use crate::climate::{FarmDay, days_of, load};
use crate::fact::Fact;
use crate::farm::Standard;
use crate::id::{BoarId, EntryId};
use crate::mixed::{Predicted, RowError};
use crate::rest::recovery::{AfterRest, Recovery, recovery};
use crate::rest::regular::regular;
use crate::rest::week::Recoveries;
use crate::time::{DAY_MS, Zone};
use crate::watch::{HerdFall, Reason, Signal, SignalAnswer, herd_falls, reasons};
use chrono::NaiveDate;
use std::sync::Arc;

/// What all boars' pages rest on, read once.
#[derive(Debug)]
pub struct Looker {
    outlook: Arc<Outlook>,
    days: Vec<FarmDay>,
    zone: Zone,
    standard: Standard,
    now_ms: i64,
}

/// One boar's output.
#[derive(Debug, Clone)]
pub struct Look {
    /// His ejaculates at hand beside what was expected, oldest first.
    pub besides: Vec<Beside>,
    /// Where he stands after them.
    pub past: Past,
    history: History,
}

/// A signal as a page tells it.
#[derive(Debug, Clone)]
pub struct Told {
    /// The signal.
    pub signal: Signal,
    /// What people answered, if they did; the latest.
    pub answer: Option<Seen<SignalAnswer>>,
    /// What something speaks for, likeliest first.
    pub reasons: Vec<Reason>,
}

/// A fall of the whole herd and what people answered.
#[derive(Debug, Clone)]
pub struct Herdwide {
    /// The fall.
    pub fall: HerdFall,
    /// The latest answer to one in these days.
    pub answer: Option<Seen<SignalAnswer>>,
}

/// A signal this old is history: whatever it was, new ones tell better.
const OPEN_DAYS: i64 = 60;
/// An answer covers a signal of the same measure that was noticed up to so many days before or after
/// the collection it names, whenever it was written: a new fit may move a signal by a collection or two.
const ANSWERS_DAYS: i64 = 21;
/// The usual rest, against which a boar's own recovery is told.
const USUAL_REST_DAYS: i64 = 5;

impl Looker {
    /// Reads what all need.
    pub fn of(barn: &Barn, now_ms: i64) -> Self {
        Self {
            outlook: barn.outlook(),
            days: days_of(barn, now_ms),
            zone: barn.zone_at(now_ms),
            standard: barn.standard().standard,
            now_ms,
        }
    }

    /// The days of which the climate is known.
    pub fn days(&self) -> &[FarmDay] {
        &self.days
    }

    /// What is expected, and of when.
    pub fn outlook(&self) -> &Outlook {
        &self.outlook
    }

    /// One boar's output.
    pub fn look(&self, boar: &BoarFacts) -> Result<Look, RowError> {
        let history = History::of(boar);
        let given = history.given(&self.zone, |day| self.hot_days(day));
        let (besides, past) = self.outlook.beside(boar.id, given)?;
        Ok(Look {
            besides,
            past,
            history,
        })
    }

    /// His signals that are not history, latest first.
    pub fn told(&self, boar: &BoarFacts, look: &Look) -> Vec<Told> {
        let given: Vec<_> = look.besides.iter().map(|b| b.given.clone()).collect();
        let recent = |s: &&Signal| self.now_ms - s.at_ms < OPEN_DAYS * DAY_MS;
        let told = |signal: &Signal| Told {
            signal: *signal,
            answer: answer(boar, signal),
            reasons: reasons(boar, signal, &given, &self.zone),
        };
        let mut list: Vec<_> = look.past.signals.iter().filter(recent).map(told).collect();
        list.sort_by_key(|t| std::cmp::Reverse(t.signal.at_ms));
        list
    }

    /// How many of his signals are neither history nor answered. Looks at his ejaculates only if some
    /// came after the fit, so that a whole herd is counted quickly: the fit holds the signals up to it.
    pub fn unanswered(&self, boar: &BoarFacts) -> usize {
        let known = self.outlook.boars.get(&boar.id);
        let last = boar
            .collections
            .iter()
            .map(|c| (c.at.ms(), c.entry()))
            .max();
        let looked = match known {
            Some(past) if last <= past.through => None,
            None if last.is_none() => return 0,
            _ => self.look(boar).ok(),
        };
        let past = looked.as_ref().map(|look| &look.past).or(known);
        let signals = past.map(|past| past.signals.as_slice()).unwrap_or_default();
        let open =
            |s: &&Signal| self.now_ms - s.at_ms < OPEN_DAYS * DAY_MS && answer(boar, s).is_none();
        signals.iter().filter(open).count()
    }

    /// Falls of the whole herd in the last days.
    pub fn herdwide(&self, barn: &Barn, looks: &[(BoarId, Look)]) -> Vec<Herdwide> {
        let answers = barn.farm_facts(|fact| match fact {
            Fact::SignalAnswer(answer) => Some(answer),
            _ => None,
        });
        let herd = looks
            .iter()
            .map(|(id, look)| (*id, look.besides.as_slice()));
        let falls = herd_falls(&herd.collect::<Vec<_>>(), self.now_ms);
        let besides = || looks.iter().flat_map(|(_, look)| &look.besides);
        let at = |entry| {
            let named = besides().find(|b| b.given.collection == entry);
            named.map(|b| b.given.at_ms)
        };
        let told = |fall: HerdFall| Herdwide {
            answer: answered(&answers, (fall.measure, fall.collection, fall.to_ms), at),
            fall,
        };
        falls.into_iter().map(told).collect()
    }

    /// What he would give on a day, of each of [`Measure::ALL`], on its scale, and his rest by then.
    /// The cup is filled as the farm does.
    pub fn forecast(
        &self,
        look: &Look,
        day: NaiveDate,
    ) -> Result<(Vec<Predicted>, Option<i64>), RowError> {
        let bearing = Bearing {
            sperm_poor_in: Some(self.standard.sperm_poor_in),
            ..look.history.bearing_on(day, &self.zone, self.hot_days(day))
        };
        let expected = self.outlook.forecast(&look.past, &bearing)?;
        Ok((expected, bearing.rest_days))
    }

    /// How long he takes to recover, if enough of his collections tell.
    pub fn recovery(&self, boar: &BoarFacts, look: &Look) -> Option<Recovery> {
        let born = boar.boar.as_ref().and_then(|b| b.fact.born);
        let today = self.zone.day(self.now_ms);
        let regular = regular(born, None, &self.standard, today);
        let after: Vec<_> = look
            .besides
            .iter()
            .filter_map(|beside| self.after_rest(look, beside))
            .collect();
        recovery(&after, regular, &self.standard)
    }

    /// The same of every boar of a barn for whom it can be told.
    pub fn recoveries(&self, barn: &Barn) -> Recoveries {
        let of = |boar: BoarFacts| {
            let look = self.look(&boar).ok()?;
            Some((boar.id, self.recovery(&boar, &look)?))
        };
        barn.boars().into_iter().filter_map(of).collect()
    }

    fn after_rest(&self, look: &Look, beside: &Beside) -> Option<AfterRest> {
        let given = &beside.given;
        let days = u16::try_from(given.bearing.rest_days?).ok()?;
        let rested = Bearing {
            rest_days: Some(USUAL_REST_DAYS),
            ..given.bearing.clone()
        };
        let expected = self.outlook.forecast(&look.past, &rested).ok()?;
        let total = expected.get(Measure::Total.place())?;
        Some(AfterRest {
            days,
            residual: total.distance(given.scaled(Measure::Total)?),
        })
    }

    fn hot_days(&self, day: NaiveDate) -> Option<f64> {
        let load = load(&self.days, day);
        (load.days_known > 0).then_some(load.hot_days)
    }
}

/// What people answered to one boar's signal; the latest.
fn answer(boar: &BoarFacts, signal: &Signal) -> Option<Seen<SignalAnswer>> {
    let at = |entry| {
        let named = boar.collections.iter().find(|c| c.entry() == entry);
        named.map(|c| c.at.ms())
    };
    let noticed = (signal.measure, signal.collection, signal.at_ms);
    answered(&boar.answers, noticed, at)
}

/// The latest answer to what was `noticed`: of which measure, at which collection and when. `at` says
/// when a collection was, as far as it is at hand.
fn answered(
    answers: &[Seen<SignalAnswer>],
    noticed: (Measure, EntryId, i64),
    at: impl Fn(EntryId) -> Option<i64>,
) -> Option<Seen<SignalAnswer>> {
    let (measure, collection, at_ms) = noticed;
    let near = |ms: i64| (ms - at_ms).abs() <= ANSWERS_DAYS * DAY_MS;
    let covers = |a: &&Seen<SignalAnswer>| {
        let named = a.fact.collection;
        a.fact.measure == measure && (named == collection || at(named).is_some_and(near))
    };
    answers.iter().rev().find(covers).cloned()
}

#[cfg(test)]
mod tests;
