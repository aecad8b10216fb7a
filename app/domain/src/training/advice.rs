//! What the sessions of a boar suggest: when two people go, when to rest him, what speaks for
//! giving up. Evidence with its entry, never a command.

use super::state::{Held, Progress, State};
use super::{Lesson, Mishap};
use crate::barn::BoarFacts;
use crate::collection::Trouble;
use crate::id::EntryId;
use crate::time::Zone;
use crate::units::Score;
use chrono::{Days, Months, NaiveDate};

/// A danger so recent asks for two people (common practice, no source).
const DANGER_MONTHS: u32 = 6;
/// So many sessions running without interest: rest him (common practice, no source).
const WITHOUT_INTEREST: usize = 3;
/// For so many days (common practice, no source).
const REST_DAYS: u64 = 3;
/// So many scores, each below the one before (common practice, no source).
const FALLING: usize = 3;
/// Many learn within 2–4 weeks of daily sessions (Stewart & Lovercamp 2017); beyond it what is
/// in print about those who never do is worth a word.
const SLOW_DAYS: i64 = 28;
/// As old as this an event of the last session is still worth a word (common practice, no source).
const FRESH_DAYS: i64 = 14;

/// One thing worth knowing before he is taken out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Advice {
    /// He was dangerous within the last half year: two people.
    TwoPeople {
        /// What he did last.
        what: Trouble,
        /// On which day.
        day: NaiveDate,
        /// The entry that says so.
        by: EntryId,
    },
    /// He had his session today; one a day.
    HadToday(EntryId),
    /// He was hot today: he rests until tomorrow.
    HotToday(EntryId),
    /// So many sessions running without interest: rest him until that day.
    RestUntil {
        /// The day on which he may again.
        until: NaiveDate,
        /// How many sessions.
        sessions: usize,
        /// The last of them.
        by: EntryId,
    },
    /// His last scores, each below the one before: is he lame, hot, afraid?
    Falling(Vec<Score>),
    /// The last session went wrong in a way that he may remember: begin gently.
    AfterMishap {
        /// What went wrong.
        what: Mishap,
        /// The entry that says so.
        by: EntryId,
    },
    /// Longer in training than most who learn; in print 3–5 % never do (Stewart & Lovercamp 2017).
    Slow {
        /// Days since the first session.
        days: i64,
        /// Sessions since then.
        sessions: usize,
        /// The best score.
        best: Option<Score>,
    },
}

/// The advice on a boar whose progress was folded, the most pressing first.
pub fn advice(boar: &BoarFacts, progress: &Progress, zone: &Zone) -> Vec<Advice> {
    let today = progress.today;
    let mut list = vec![];
    list.extend(two_people(boar, zone, today));
    let last = progress.sessions.last();
    list.extend(
        last.filter(|h| h.day == today)
            .map(|h| Advice::HadToday(h.entry)),
    );
    list.extend(hot_today(boar, zone, today));
    list.extend(rest(&progress.sessions, today));
    list.extend(falling(&progress.sessions));
    list.extend(after_mishap(boar, zone, today));
    list.extend(slow(progress));
    list
}

/// The last danger to people within half a year, from sessions, visits and collections.
pub fn two_people(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Option<Advice> {
    let since = today.checked_sub_months(Months::new(DANGER_MONTHS))?;
    let trained = boar.trainings.iter().flat_map(|t| {
        let dangers = t.fact.mishaps.iter().filter_map(|m| m.danger());
        dangers.map(|what| (t.at.ms(), t.entry(), what))
    });
    let collected = boar.collections.iter().flat_map(|c| {
        let dangers = c.fact.trouble.iter().filter(|t| t.is_danger());
        dangers.map(|what| (c.at.ms(), c.entry(), *what))
    });
    let last = trained
        .chain(collected)
        .max_by_key(|(at_ms, by, what)| (*at_ms, *by, *what))?;
    let (at_ms, by, what) = last;
    let day = zone.day(at_ms);
    (day >= since).then_some(Advice::TwoPeople { what, day, by })
}

fn hot_today(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Option<Advice> {
    let trained = boar.trainings.iter().rev();
    let mut trained = trained.filter(|t| t.fact.mishaps.contains(&Mishap::Hot));
    let collected = boar.collections.iter().rev();
    let mut collected = collected.filter(|c| c.fact.trouble.contains(&Trouble::Hot));
    trained
        .find(|t| zone.day(t.at.ms()) == today)
        .map(|t| t.entry())
        .or_else(|| {
            let found = collected.find(|c| zone.day(c.at.ms()) == today);
            found.map(|c| c.entry())
        })
        .map(Advice::HotToday)
}

fn rest(sessions: &[Held], today: NaiveDate) -> Option<Advice> {
    let bored = |h: &&Held| h.score.is_some_and(|s| s.value() == Score::LOW);
    let running = sessions.iter().rev().take_while(bored).count();
    let last = sessions.last().filter(|_| running >= WITHOUT_INTEREST)?;
    let until = last.day.checked_add_days(Days::new(1 + REST_DAYS))?;
    (today < until).then_some(Advice::RestUntil {
        until,
        sessions: running,
        by: last.entry,
    })
}

fn falling(sessions: &[Held]) -> Option<Advice> {
    let scores: Vec<_> = sessions.iter().rev().filter_map(|h| h.score).collect();
    let mut last: Vec<_> = scores.into_iter().take(FALLING).collect();
    last.reverse();
    let falls = last.len() == FALLING && last.windows(2).all(|w| w[1] < w[0]);
    falls.then_some(Advice::Falling(last))
}

fn after_mishap(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Option<Advice> {
    let mut sessions = boar.trainings.iter().rev();
    let last = sessions.find(|t| t.fact.what == Lesson::Session && zone.day(t.at.ms()) <= today)?;
    let fresh = (today - zone.day(last.at.ms())).num_days() <= FRESH_DAYS;
    let remembered = [Mishap::Rough, Mishap::Slip, Mishap::Noise];
    let what = remembered.iter().find(|m| last.fact.mishaps.contains(m))?;
    fresh.then(|| Advice::AfterMishap {
        what: *what,
        by: last.entry(),
    })
}

fn slow(progress: &Progress) -> Option<Advice> {
    let State::InTraining { since, best, .. } = progress.state else {
        return None;
    };
    let days = (progress.today - since).num_days();
    (days > SLOW_DAYS).then_some(Advice::Slow {
        days,
        sessions: progress.sessions.len(),
        best,
    })
}
