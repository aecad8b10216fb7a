//! Falls told together: where the whole herd fell, its boars' signals are part of that and say
//! nothing of each boar.

use super::{Beside, Herdwide, Looker};
use crate::barn::{Barn, BoarFacts};
use crate::time::DAY_MS;
use crate::watch::{Answered, HERD_DAYS, Signal};

/// Fewer signals of late are counted one by one: it takes a look at everybody to tell a herd's fall.
const MAY_BE_HERDS: usize = 2;

impl Looker {
    /// The falls of the herd that one of a few boars' signals may be part of. Where none of these is
    /// as recent as what is looked at together, nobody is looked at.
    pub fn herd_behind(&self, barn: &Barn, signals: &[Signal], now_ms: i64) -> Vec<Herdwide> {
        if !signals.iter().any(|s| is_recent(s.at_ms, now_ms)) {
            return vec![];
        }
        let given = |boar: &BoarFacts| {
            let mut at = boar.collections.iter().map(|c| c.at.ms());
            boar.gone().is_none() && at.any(|ms| is_recent(ms, now_ms))
        };
        let boars = barn.boars().into_iter().filter(given);
        let looks = boars.filter_map(|boar| Some((boar.id, self.look(&boar).ok()?)));
        let mut falls = self.herdwide(barn, &looks.collect::<Vec<_>>());
        falls.retain(|herd| signals.iter().any(|s| herd.fall.covers(s)));
        falls
    }

    /// How many falls of these boars nobody answered, counting the herd's once. A herd's fall of
    /// which fewer than two boars were told is left to whoever looks at everybody.
    pub fn falls_unanswered<'a>(
        &self,
        barn: &Barn,
        boars: impl Iterator<Item = &'a BoarFacts>,
        now_ms: i64,
    ) -> usize {
        let mut open = vec![];
        for boar in boars.filter(|boar| self.unanswered(boar) > 0) {
            let Ok(look) = self.look(boar) else { continue };
            let told = self.told(boar, &look).into_iter();
            open.extend(told.filter(|t| t.answer.is_none()).map(|t| t.signal));
        }
        let recent = open.iter().filter(|s| is_recent(s.at_ms, now_ms));
        let herd = if recent.count() < MAY_BE_HERDS {
            vec![]
        } else {
            self.herd_behind(barn, &open, now_ms)
        };
        to_answer(&open, &herd)
    }
}

impl Herdwide {
    /// Whether a boar's signal is the herd's: it may be part of this fall, and nobody said that
    /// nothing is the matter with the herd.
    pub fn explains(&self, signal: &Signal) -> bool {
        let answer = self.answer.as_ref().map(|a| a.fact.answer);
        answer != Some(Answered::False) && self.fall.covers(signal)
    }
}

/// How many answers are waited for: one for each fall of the herd that has none, and one for each of
/// these open signals that is not the herd's.
pub fn to_answer(open: &[Signal], herd: &[Herdwide]) -> usize {
    let herds = herd.iter().filter(|h| h.answer.is_none()).count();
    let own = |s: &&Signal| !herd.iter().any(|h| h.explains(s));
    herds + open.iter().filter(own).count()
}

/// How many figures of these ejaculates lie outside of where nine of ten were expected, and how many
/// there are.
pub fn outside(besides: &[Beside]) -> (usize, usize) {
    let figures = besides.iter().flat_map(|beside| {
        let expected = super::Measure::ALL.into_iter().zip(&beside.expected);
        expected.filter_map(|(measure, expected)| {
            let [low, high] = expected.interval();
            Some((low..=high).contains(&beside.given.scaled(measure)?))
        })
    });
    figures.fold((0, 0), |(out, all), within| {
        (out + usize::from(!within), all + 1)
    })
}

fn is_recent(at_ms: i64, now_ms: i64) -> bool {
    at_ms >= now_ms - HERD_DAYS * DAY_MS
}

#[cfg(test)]
mod tests;
