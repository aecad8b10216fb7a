//! May this boar be collected today? Computed from collections and natural services, never
//! stored. Where the log does not know, the answer is "unknown", never "yes".

use crate::barn::BoarFacts;
use crate::boar::{Before, OffReason};
use crate::collection::Collection;
use crate::farm::Standard;
use crate::id::EntryId;
use crate::sow::By;
use crate::time::{HOUR_MS, Zone};
use chrono::{Days, NaiveDate};

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

/// Two collections closer than this are probably one (common practice, no source).
const DOUBLE_WITHIN_MS: i64 = HOUR_MS;

/// Older doubles changed no answer for long and are left to the log.
const DOUBLES_SHOWN_DAYS: i64 = 14;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Spent {
    at_ms: i64,
    day: NaiveDate,
    entry: EntryId,
}

/// Answers for the instant `now_ms`, in the farm's zone and under its standard.
pub fn standing(boar: &BoarFacts, standard: &Standard, zone: &Zone, now_ms: i64) -> Standing {
    let today = zone.day(now_ms);
    let (spent, doubles) = spent(boar, zone);
    let (past, future): (Vec<_>, Vec<_>) = spent.into_iter().partition(|s| s.day <= today);
    let first = first_success(boar, &past, standard, zone);
    let repeating =
        first.is_some_and(|day| day < today && today <= after(day, standard.repetition_days));
    let found = decide(boar, standard, zone, today, &past, first, repeating);
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

fn decide(
    boar: &BoarFacts,
    standard: &Standard,
    zone: &Zone,
    today: NaiveDate,
    past: &[Spent],
    first: Option<NaiveDate>,
    repeating: bool,
) -> (Answer, Option<EntryId>) {
    if let Some(gone) = boar.gone() {
        return (Answer::Gone, Some(gone.entry()));
    }
    if let Some(off) = off(boar, today) {
        return off;
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
    if let Some(wait) = (!repeating)
        .then(|| wait(standard, today, past, first))
        .flatten()
    {
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
    first: Option<NaiveDate>,
) -> Option<(Answer, Option<EntryId>)> {
    let last = past.last()?;
    let rested = after(last.day, standard.rest_days);
    if today < rested {
        return Some((Answer::Rests(rested), Some(last.entry)));
    }
    let practice = |s: &&Spent| {
        first.is_some_and(|f| f <= s.day && s.day <= after(f, standard.repetition_days))
    };
    let counted: Vec<_> = past.iter().filter(|s| !practice(s)).collect();
    let limit = usize::from(standard.in_seven_days).max(1);
    // The one that must leave the seven days before another fits in.
    let blocking = counted.len().checked_sub(limit).map(|i| counted[i])?;
    let free = after(blocking.day, 7);
    (today < free).then_some((Answer::ThirdInSeven(free), Some(blocking.entry)))
}

fn off(boar: &BoarFacts, today: NaiveDate) -> Option<(Answer, Option<EntryId>)> {
    let back = boar.ons.iter().map(|o| (o.at_ms, o.clock, o.id)).max();
    let open = boar.offs.iter().filter(|o| {
        let ended = back.is_some_and(|b| b > (o.order.at_ms, o.order.clock, o.order.id));
        !ended && o.fact.until.is_none_or(|until| today <= until)
    });
    // The one that lasts longest decides; one without an end lasts longest of all.
    let longest = open.max_by_key(|o| (o.fact.until.is_none(), o.fact.until))?;
    Some((
        Answer::Off(longest.fact.reason, longest.fact.until),
        Some(longest.entry()),
    ))
}

fn spent(boar: &BoarFacts, zone: &Zone) -> (Vec<Spent>, Vec<(NaiveDate, EntryId, EntryId)>) {
    let told = boar.boar.as_ref().and_then(|b| match b.fact.before {
        Before::LastOn(day) => Some(Spent {
            at_ms: zone.day_start_ms(day),
            day,
            entry: b.entry(),
        }),
        Before::Unknown | Before::NoneYet => None,
    });
    let at = |at_ms: i64, entry| Spent {
        at_ms,
        day: zone.day(at_ms),
        entry,
    };
    let collected = boar
        .collections
        .iter()
        .filter(|c| Collection::spends(&c.fact));
    let collected = collected.map(|c| at(c.at.ms(), c.entry()));
    let served = boar
        .services
        .iter()
        .filter(|s| matches!(s.fact.by, By::Boar(_)));
    let mut list: Vec<_> = told.into_iter().chain(collected).collect();
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
    once.extend(served.map(|s| at(s.at.ms(), s.entry())));
    once.sort_by_key(|s| (s.at_ms, s.entry));
    (once, doubles)
}

/// The day of his first success, if the log saw it: he came untried, and nothing older was dropped.
fn first_success(
    boar: &BoarFacts,
    past: &[Spent],
    standard: &Standard,
    zone: &Zone,
) -> Option<NaiveDate> {
    let untried = boar
        .boar
        .as_ref()
        .is_some_and(|b| b.fact.before == Before::NoneYet);
    let whole = boar.collections.len() < crate::ledger::keeps(crate::fact::Kind::Collection);
    let first = past
        .first()
        .filter(|_| untried && whole && standard.repetition_days > 0)?;
    Some(zone.day(first.at_ms))
}

fn after(day: NaiveDate, days: u8) -> NaiveDate {
    day.checked_add_days(Days::new(days.into())).unwrap_or(day)
}
