//! Times off collection: which hold on a day, and what ends each; and the watch after a fever.

use crate::barn::{BoarFacts, Seen};
use crate::boar::{OffCollection, OffReason};
use crate::id::EntryId;
use crate::time::Zone;
use chrono::{Days, NaiveDate};
use std::cmp::Reverse;

/// How long what he gives is watched after a fever: six weeks. A sperm takes 34–40 days to grow and
/// 10–13 to pass the epididymis, and quality was back by week 5–6 after trials with heat; the sums
/// of the former reach 53 days, so six weeks is the short end (common practice, no source).
pub const FEVER_WATCH_DAYS: u64 = 42;

/// What ends a time off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// The calendar, after that day.
    Day(NaiveDate),
    /// Somebody puts him back.
    PutBack,
    /// The veterinarian's word: under treatment, and with blood or pus in the ejaculate.
    Veterinarian {
        /// The last day off that was entered, if any. The rest rule stops keeping him off after it,
        /// so whoever collects him then asks first.
        until: Option<NaiveDate>,
    },
}

/// The last day off lies before the day on which he went off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the last day off is {until}, and he went off on {from}: choose {from} or a later day")]
pub struct EndsBeforeItBegan {
    /// The day on which he went off.
    pub from: NaiveDate,
    /// The last day off, as it was entered.
    pub until: NaiveDate,
}

/// The farm days of one time off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DaysOff {
    /// The first.
    pub from: NaiveDate,
    /// The last; none until somebody puts him back.
    pub until: Option<NaiveDate>,
}

/// One time off that holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeOff<'a> {
    /// The entry.
    pub off: &'a Seen<OffCollection>,
    /// Its farm days.
    pub days: DaysOff,
    /// What ends it.
    pub ends: Ends,
}

/// What he gives is watched for the harm that a fever did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Watch {
    /// The day from which the six weeks count: the last day off with fever, which may lie ahead, or
    /// while nobody knows it the first.
    pub from: NaiveDate,
    /// The last day of the watch.
    pub until: NaiveDate,
    /// The entry that put him off.
    pub entry: EntryId,
}

impl Ends {
    /// What ends it, by its reason and by the day that was entered.
    pub const fn of(off: &OffCollection) -> Self {
        Self::after(off.reason, off.until)
    }

    /// The same, of a reason and of the last day off, where one was entered.
    pub const fn after(reason: OffReason, until: Option<NaiveDate>) -> Self {
        match (reason, until) {
            (OffReason::Treated | OffReason::BloodOrPus, until) => Self::Veterinarian { until },
            (_, Some(until)) => Self::Day(until),
            (_, None) => Self::PutBack,
        }
    }
}

impl DaysOff {
    /// From a first day to a last; for a screen to ask before it saves.
    pub fn new(from: NaiveDate, until: Option<NaiveDate>) -> Result<Self, EndsBeforeItBegan> {
        match until {
            Some(until) if until < from => Err(EndsBeforeItBegan { from, until }),
            _ => Ok(Self { from, until }),
        }
    }

    /// How an entry reads. One that ends before it began, which no type refuses because its begin
    /// is the entry's own time, is no time off at all; the page says so.
    pub fn of(off: &Seen<OffCollection>, zone: &Zone) -> Result<Self, EndsBeforeItBegan> {
        Self::new(zone.day(off.at.ms()), off.fact.until)
    }

    /// How long it was in the end: to the day entered, or to that on which he was put back if it
    /// came first.
    pub fn held(
        boar: &BoarFacts,
        off: &Seen<OffCollection>,
        zone: &Zone,
    ) -> Result<Self, EndsBeforeItBegan> {
        let days = Self::of(off, zone)?;
        let later = boar.ons.iter().filter(|on| **on > off.order);
        let back = later.map(|on| zone.day(on.at_ms).max(days.from)).min();
        let until = back.into_iter().chain(days.until).min();
        Ok(Self { until, ..days })
    }
}

/// Every time off that holds on a day, today or later, the one that lasts longest first; he may be
/// off for several reasons at once. Its begin is not asked for: an entry is written when it
/// happened, and one that a clock dated ahead keeps him off at once, which is the safe side.
pub fn offs_on<'a>(boar: &'a BoarFacts, zone: &Zone, day: NaiveDate) -> Vec<TimeOff<'a>> {
    let back = boar.ons.iter().max();
    let holds = |off: &'a Seen<OffCollection>| {
        let days = DaysOff::of(off, zone).ok()?;
        let ended = back.is_some_and(|back| *back > off.order);
        let over = days.until.is_some_and(|until| until < day);
        let ends = Ends::of(&off.fact);
        (!ended && !over).then_some(TimeOff { off, days, ends })
    };
    // Of those that last equally long the latest stands first.
    let mut offs: Vec<_> = boar.offs.iter().rev().filter_map(holds).collect();
    offs.sort_by_key(|o| Reverse((o.days.until.is_none(), o.days.until)));
    offs
}

/// The latest time off, where it was entered to end before it began and nobody put him back since:
/// it keeps him off no day, and whoever entered it believes that it does.
pub fn none_at_all(boar: &BoarFacts, zone: &Zone) -> Option<EndsBeforeItBegan> {
    let last = boar.offs.last()?;
    let put_back = boar.ons.iter().any(|on| *on > last.order);
    DaysOff::of(last, zone).err().filter(|_| !put_back)
}

/// The time off that decides a day: the one that lasts longest, and one without an end lasts
/// longest of all.
pub(crate) fn off<'a>(
    boar: &'a BoarFacts,
    zone: &Zone,
    day: NaiveDate,
) -> Option<&'a Seen<OffCollection>> {
    offs_on(boar, zone, day).first().map(|o| o.off)
}

/// The watch after a fever, if one holds today: six weeks from the last day off, also when he was
/// put back before that day, and then from the day on which he was. While the time off has no end
/// they count from its begin. Of several the one that lasts longest.
pub fn fever_watch(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Option<Watch> {
    let fevers = boar
        .offs
        .iter()
        .filter(|o| o.fact.reason == OffReason::Fever);
    let watches = fevers.filter_map(|off| {
        let days = DaysOff::held(boar, off, zone).ok()?;
        let from = days.until.unwrap_or(days.from);
        let until = from.checked_add_days(Days::new(FEVER_WATCH_DAYS))?;
        let entry = off.entry();
        let holds = days.from <= today && today <= until;
        holds.then_some(Watch { from, until, entry })
    });
    watches.max_by_key(|w| w.until)
}
