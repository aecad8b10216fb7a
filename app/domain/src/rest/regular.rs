//! When a boar is due: his regular days from one collection to the next, and where he stands in
//! them today. A view, beside the answer whether he may be collected, which it never contradicts.

use super::recovery::Recovery;
use super::{Answer, Gap, Practice, Spent, after, decide, first_success, spent, standing};
use crate::barn::BoarFacts;
use crate::farm::Standard;
use crate::id::EntryId;
use crate::time::Zone;
use crate::training::state::{State, progress};
use chrono::{Months, NaiveDate};

/// Days that bar one another are finite; no chain of them is longer.
const STEPS_MAX: usize = 64;

/// A boar's regular days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Regular {
    /// Farm days from one collection to the next, at least one.
    pub days: u8,
    /// What says so.
    pub from: RegularFrom,
}

/// What says how many a boar's regular days are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RegularFrom {
    /// The farm standard.
    Standard,
    /// The farm standard for a boar under a year.
    Young,
    /// What he gave after short and long rests.
    HisOwn,
}

/// When a boar is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    /// The farm's day it is about.
    pub today: NaiveDate,
    /// The day on which he is due, or was if it is past.
    pub day: NaiveDate,
    /// The farm day on which he was last used; none before the first.
    pub last: Option<NaiveDate>,
    /// His regular days since then.
    pub regular: Regular,
    /// The day is one of those of repetition after a first success, which keep their own plan.
    pub repeating: bool,
    /// Where he stands today.
    pub state: DueState,
}

/// Where a boar stands in his regular days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DueState {
    /// Not before his day: a collection today would be early.
    NotDue,
    /// Today.
    Today,
    /// He was due so many days ago.
    Late(i64),
    /// Due, and not used for so many days that he is checked before use.
    Idle(i64),
    /// Due, and not used for so many days that the first ejaculate is a clean-out.
    CleanOut(i64),
}

impl Due {
    /// Whether a collection today would be early.
    pub fn is_early(&self) -> bool {
        self.state == DueState::NotDue
    }

    /// Days since he was due; none while he is not.
    pub fn late_days(&self) -> Option<i64> {
        let days = (self.today - self.day).num_days();
        (days >= 0).then_some(days)
    }
}

/// The regular days of a boar for the time that begins on `day`: those of the farm standard for
/// his age (under a year where his birth is known), or his own. A young boar is spared for his age
/// too, so his own only lengthen them. Never below the farm's rest.
pub fn regular(
    born: Option<NaiveDate>,
    own: Option<Recovery>,
    standard: &Standard,
    day: NaiveDate,
) -> Regular {
    let year = born.and_then(|born| born.checked_add_months(Months::new(12)));
    let young = year.is_some_and(|year| day < year);
    let (days, from) = if young {
        (standard.regular_days_young, RegularFrom::Young)
    } else {
        (standard.regular_days, RegularFrom::Standard)
    };
    let (days, from) = match own {
        Some(own) if !young || own.days > days => (own.days, RegularFrom::HisOwn),
        _ => (days, from),
    };
    Regular {
        days: days.max(standard.rest_days).max(1),
        from,
    }
}

/// When a boar is due, at the instant `now_ms`, in the farm's zone and under its standard; natural
/// services count as collections do. None while he is off collection, too young, in training (from
/// the first visit to the first success, or again after he lost the habit), gone, or while the log
/// does not know: [`standing`] and [`progress`] say which. Who was never used is due now. Days
/// before the end of his time off do not count as late.
pub fn rhythm_of(
    boar: &BoarFacts,
    own: Option<Recovery>,
    standard: &Standard,
    zone: &Zone,
    now_ms: i64,
) -> Option<Due> {
    let stands = standing(boar, standard, zone, now_ms);
    let open = matches!(
        stands.answer,
        Answer::Yes | Answer::Rests(_) | Answer::ThirdInSeven(_)
    );
    let learns = matches!(
        progress(boar, standard, zone, now_ms).state,
        State::Acclimatising { .. } | State::InTraining { .. } | State::Retraining { .. }
    );
    if !open || learns {
        return None;
    }
    let today = stands.today;
    let walk = Walk::of(boar, own, standard, zone, today);
    let day = walk.due(today)?;
    let late = (today - day).num_days();
    let state = match stands.idle {
        _ if late < 0 => DueState::NotDue,
        Some(idle) if idle.clean_out => DueState::CleanOut(idle.days),
        Some(idle) => DueState::Idle(idle.days),
        None if late == 0 => DueState::Today,
        None => DueState::Late(late),
    };
    Some(Due {
        today,
        day,
        last: walk.last(),
        regular: walk.regular(today),
        repeating: walk.planned(today).is_some_and(|planned| planned == day),
        state,
    })
}

/// A boar's days as they were, and as they come if he works on given days.
pub(super) struct Walk<'a> {
    boar: &'a BoarFacts,
    own: Option<Recovery>,
    standard: &'a Standard,
    zone: &'a Zone,
    practice: Option<Practice>,
    past: Vec<Spent>,
}

impl<'a> Walk<'a> {
    /// His days until today.
    pub(super) fn of(
        boar: &'a BoarFacts,
        own: Option<Recovery>,
        standard: &'a Standard,
        zone: &'a Zone,
        today: NaiveDate,
    ) -> Self {
        let (mut past, _) = spent(boar, zone);
        past.retain(|s| s.day <= today);
        let practice = first_success(boar, &past).map(|s| Practice::after(s.day, standard));
        Self {
            boar,
            own,
            standard,
            zone,
            practice,
            past,
        }
    }

    /// He works on that day, later than all before.
    pub(super) fn work(&mut self, day: NaiveDate) {
        self.past.push(Spent {
            at_ms: self.zone.day_start_ms(day),
            day,
            // Nobody wrote it yet; it is named nowhere.
            entry: EntryId::from_uuid(self.boar.id.uuid()),
        });
    }

    /// The day on which he is due, today or to come, or since when: one on which he may be
    /// collected, unless it is past, and then he may be today.
    pub(super) fn due(&self, today: NaiveDate) -> Option<NaiveDate> {
        let day = self.free_from(self.wanted(today))?;
        if day > today {
            return Some(day);
        }
        let free = self.free_from(today)?;
        Some(if free > today { free } else { day })
    }

    fn last(&self) -> Option<NaiveDate> {
        self.past.last().map(|s| s.day)
    }

    fn regular(&self, today: NaiveDate) -> Regular {
        let born = self.boar.boar.as_ref().and_then(|b| b.fact.born);
        // By his age when it began, so that a birthday does not make him late over night.
        regular(born, self.own, self.standard, self.last().unwrap_or(today))
    }

    /// The day on which he is to work, before it is asked whether he may.
    fn wanted(&self, today: NaiveDate) -> NaiveDate {
        let Some(last) = self.last() else {
            return today;
        };
        let regular = || after(last, self.regular(today).days);
        let wanted = self.planned(today).unwrap_or_else(regular);
        // While he was off he could not be late.
        let ons = self.boar.ons.iter().map(|on| self.zone.day(on.at_ms));
        ons.filter(|back| *back <= today)
            .fold(wanted, NaiveDate::max)
    }

    /// The day of repetition that is due: the last one that was missed, and until he works it
    /// stays due; or the next. None before a first success, and from the last of them on.
    fn planned(&self, today: NaiveDate) -> Option<NaiveDate> {
        let (plan, last) = (&self.practice.as_ref()?.plan, self.last()?);
        let begun = plan.iter().rfind(|day| **day <= today);
        let missed = begun.filter(|day| last < **day);
        let next = || plan.iter().find(|day| today < **day);
        missed.or_else(next).copied()
    }

    /// The first day from `day` on that the rest rule leaves free, as things stand.
    fn free_from(&self, mut day: NaiveDate) -> Option<NaiveDate> {
        for _ in 0..STEPS_MAX {
            let practice = self.practice.as_ref();
            let (answer, _) = decide(
                self.boar,
                self.standard,
                self.zone,
                day,
                &self.past,
                practice,
            );
            day = match answer {
                Answer::Yes => return Some(day),
                Answer::Rests(free) | Answer::ThirdInSeven(free) | Answer::TooYoung(free) => free,
                Answer::Off(_, Some(until)) => until.succ_opt()?,
                Answer::Unknown(Gap::History) => self.history_known()?,
                Answer::Off(_, None) | Answer::Unknown(_) | Answer::Gone => return None,
            };
        }
        None
    }

    /// The day from which enough is known of a boar of whom nobody said what he did before.
    fn history_known(&self) -> Option<NaiveDate> {
        let boar = self.boar.boar.as_ref()?;
        Some(after(self.zone.day(boar.order.at_ms), 7))
    }
}
