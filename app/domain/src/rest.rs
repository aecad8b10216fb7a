//! May this boar be collected today? Computed from collections, natural services and successes in
//! training, never stored. Where the log does not know, the answer is "unknown", never "yes".

pub mod health;
pub mod recovery;
pub mod regular;
pub(crate) mod spent;
pub mod week;

use crate::barn::BoarFacts;
use crate::boar::{Before, OffReason};
use crate::farm::Standard;
use crate::id::EntryId;
use crate::time::Zone;
use crate::training::rhythm;
use chrono::{Days, NaiveDate};
pub(crate) use health::off;
pub(crate) use spent::{DOUBLE_WITHIN_MS, Spent, first_success, spent};

/// The answer, and what decides it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// The farm's day it is about.
    pub today: NaiveDate,
    /// The answer.
    pub answer: Answer,
    /// The entry that decides.
    pub by: Option<EntryId>,
    /// A word on a long pause, beside the answer.
    pub idle: Option<Idle>,
    /// The farm days he gave semen or served, latest last, doubles counted once.
    pub spent_on: Vec<NaiveDate>,
    /// Recent pairs of collections so close that they are probably one, recorded twice.
    pub doubles: Vec<(EntryId, EntryId)>,
    /// He is in the days of repetition after a first success.
    pub repeating: bool,
}

/// May he be collected today?
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// Yes.
    Yes,
    /// He rests until that day, on which he may.
    Rests(NaiveDate),
    /// It would be more than the farm takes in seven days; on that day it would not.
    ThirdInSeven(NaiveDate),
    /// Off collection, with the last day if known.
    Off(OffReason, Option<NaiveDate>),
    /// Too young until that day.
    TooYoung(NaiveDate),
    /// The log does not know.
    Unknown(Gap),
    /// He left the farm.
    Gone,
}

/// What the log does not know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gap {
    /// His particulars have not arrived.
    Boar,
    /// What he did in the days before he was entered.
    History,
    /// His age.
    Age,
    /// An entry about him bears a time in the future.
    Clock,
}

/// A pause long enough for a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Idle {
    /// Farm days since he last worked.
    pub days: i64,
    /// So long that the first ejaculate is a clean-out.
    pub clean_out: bool,
}

/// Older doubles changed no answer for long and are left to the log.
const DOUBLES_SHOWN_DAYS: i64 = 14;

/// Answers for the instant `now_ms`, in the farm's zone and under its standard.
pub fn standing(boar: &BoarFacts, standard: &Standard, zone: &Zone, now_ms: i64) -> Standing {
    let today = zone.day(now_ms);
    let (spent, doubles) = spent(boar, zone);
    let (past, future): (Vec<_>, Vec<_>) = spent.into_iter().partition(|s| s.day <= today);
    let practice = first_success(boar, &past).map(|first| Practice::after(first.day, standard));
    let repeating = practice.as_ref().is_some_and(|p| p.plan.contains(&today));
    let found = decide(boar, standard, zone, today, &past, practice.as_ref());
    let (answer, by) = match (found, future.first()) {
        ((Answer::Yes, _), Some(s)) => (Answer::Unknown(Gap::Clock), Some(s.entry)),
        (found, _) => found,
    };
    let idle = past.last().and_then(|s| {
        let days = (today - s.day).num_days();
        (days > i64::from(standard.idle_check_days)).then_some(Idle {
            days,
            clean_out: days > i64::from(standard.idle_clean_out_days),
        })
    });
    let recent = doubles
        .into_iter()
        .filter(|(day, ..)| (today - *day).num_days() <= DOUBLES_SHOWN_DAYS);
    let doubles = recent.map(|(_, first, second)| (first, second)).collect();
    let mut spent_on: Vec<_> = past.iter().map(|s| s.day).collect();
    spent_on.dedup();
    Standing {
        today,
        answer,
        by,
        idle,
        spent_on,
        doubles,
        repeating,
    }
}

/// The days of repetition after a first success.
struct Practice {
    first: NaiveDate,
    plan: Vec<NaiveDate>,
}

impl Practice {
    fn after(first: NaiveDate, standard: &Standard) -> Self {
        let plan = rhythm::plan(first, standard);
        Self { first, plan }
    }

    /// Whether what was given on that day does not count among the seven.
    fn exempts(&self, day: NaiveDate) -> bool {
        // A farm that repeats nothing exempts nothing, the first success neither.
        !self.plan.is_empty() && (day == self.first || self.plan.contains(&day))
    }
}

fn decide(
    boar: &BoarFacts,
    standard: &Standard,
    zone: &Zone,
    today: NaiveDate,
    past: &[Spent],
    practice: Option<&Practice>,
) -> (Answer, Option<EntryId>) {
    if let Some(gone) = boar.gone() {
        return (Answer::Gone, Some(gone.entry()));
    }
    if let Some(off) = off(boar, zone, today) {
        let answer = Answer::Off(off.fact.reason, off.fact.until);
        return (answer, Some(off.entry()));
    }
    let Some(particulars) = &boar.boar else {
        return (Answer::Unknown(Gap::Boar), None);
    };
    let by = Some(particulars.entry());
    if let Some(born) = particulars.fact.born {
        let old_enough = born
            .checked_add_days(Days::new(standard.young_days.into()))
            .unwrap_or(born);
        if today < old_enough {
            return (Answer::TooYoung(old_enough), by);
        }
    }
    if let Some(wait) = wait(standard, today, past, practice) {
        return wait;
    }
    let told = particulars.fact.before != Before::Unknown;
    let known_since = zone.day(particulars.order.at_ms);
    if !told && (today - known_since).num_days() < 7 {
        return (Answer::Unknown(Gap::History), by);
    }
    if particulars.fact.born.is_none() && past.is_empty() {
        return (Answer::Unknown(Gap::Age), by);
    }
    (Answer::Yes, past.last().map(|s| s.entry))
}

fn wait(
    standard: &Standard,
    today: NaiveDate,
    past: &[Spent],
    practice: Option<&Practice>,
) -> Option<(Answer, Option<EntryId>)> {
    let last = past.last()?;
    if practice.is_some_and(|p| p.plan.contains(&today)) {
        return None;
    }
    let planned = practice.and_then(|p| rhythm::rests_until(p.first, &p.plan, last.day, today));
    let rested = planned.unwrap_or_else(|| after(last.day, standard.rest_days));
    if today < rested {
        return Some((Answer::Rests(rested), Some(last.entry)));
    }
    let exempt = |s: &&Spent| practice.is_some_and(|p| p.exempts(s.day));
    let counted: Vec<_> = past.iter().filter(|s| !exempt(s)).collect();
    let limit = usize::from(standard.in_seven_days).max(1);
    // The one that must leave the seven days before another fits in.
    let blocking = counted.len().checked_sub(limit).map(|i| counted[i])?;
    let free = after(blocking.day, 7);
    (today < free).then_some((Answer::ThirdInSeven(free), Some(blocking.entry)))
}

fn after(day: NaiveDate, days: u8) -> NaiveDate {
    day.checked_add_days(Days::new(days.into())).unwrap_or(day)
}

#[cfg(test)]
mod tests;
