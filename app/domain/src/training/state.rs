//! Where a boar stands between arrival and regular use: a view of the log, with the entry that
//! caused it. Nothing here is set by hand; what was corrected afterwards is folded anew.

use super::rhythm;
use super::{Lesson, Training};
use crate::barn::{BoarFacts, Seen};
use crate::boar::{Before, OffReason};
use crate::collection::Outcome;
use crate::farm::Standard;
use crate::id::EntryId;
use crate::rest::{DOUBLE_WITHIN_MS, Gap, Spent, first_success, off, spent};
use crate::time::Zone;
use crate::units::Score;
use chrono::{Days, NaiveDate};

/// Attempts at a collection without a mount, running, after which a boar who knew it has lost the
/// habit (common practice, no source).
const LOST_AFTER: usize = 3;

/// Where he stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum State {
    /// The log does not know enough.
    Unknown(Gap),
    /// He left the farm.
    Gone,
    /// Training was given up: he is to be culled.
    Stopped,
    /// Kept apart after arrival, to that day included; none while nobody said until when.
    Isolated(Option<NaiveDate>),
    /// Not worked with for another reason, to that day included if one was said.
    Off(OffReason, Option<NaiveDate>),
    /// Under the age at which the farm begins, until that day.
    TooYoung(NaiveDate),
    /// He gets used to pen and people; no session yet.
    Acclimatising {
        /// The visits so far.
        visits: usize,
    },
    /// He has sessions, or attempts at a collection, and no success yet.
    InTraining {
        /// The farm's day of the first.
        since: NaiveDate,
        /// The best score so far.
        best: Option<Score>,
        /// The last score.
        last: Option<Score>,
    },
    /// The days of repetition after a first success.
    Repeating {
        /// The day of the first success.
        first: NaiveDate,
        /// The days planned, and whether he worked on each, or since and before the next.
        plan: Vec<(NaiveDate, bool)>,
    },
    /// The days of repetition went by and he gave nothing since the first success.
    Settling {
        /// The day of the first success.
        first: NaiveDate,
    },
    /// In regular use.
    Regular,
    /// He lost the habit, or a session was held again after he had learnt it.
    Retraining {
        /// The day of the first attempt that failed since his last success.
        since: NaiveDate,
        /// The best score since.
        best: Option<Score>,
    },
}

/// One session, those that two phones wrote down counted once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// The record; of two that are one, the first.
    pub entry: EntryId,
    /// When it began, in ms since 1970.
    pub at_ms: i64,
    /// On which of the farm's days.
    pub day: NaiveDate,
    /// How far he came; of two that are one and disagree, the higher, since somebody saw it.
    pub score: Option<Score>,
}

/// See the module's words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Progress {
    /// The farm's day it is about.
    pub today: NaiveDate,
    /// Where he stands.
    pub state: State,
    /// The entry that says so.
    pub by: Option<EntryId>,
    /// His sessions until now, oldest first.
    pub sessions: Vec<Held>,
    /// The farm's days on which he was visited, until today.
    pub visited: Vec<NaiveDate>,
    /// Pairs of records of probably one session; they may disagree.
    pub doubles: Vec<(EntryId, EntryId)>,
    /// How old he was at his first session here, in days, where both are known.
    pub began_at_days: Option<i64>,
    /// Whether he is under the farm's age, or of unknown age, and never gave semen.
    pub asks_reason: bool,
    /// An entry of his training that bears a day in the future, and is not counted.
    pub ahead: Option<EntryId>,
}

impl Progress {
    /// Whether he is being trained or about to be: those whom the page of training lists.
    pub const fn is_pupil(&self) -> bool {
        matches!(
            self.state,
            State::TooYoung(_)
                | State::Acclimatising { .. }
                | State::InTraining { .. }
                | State::Repeating { .. }
                | State::Settling { .. }
                | State::Retraining { .. }
                | State::Isolated(_)
        )
    }

    /// Whether a session may begin today as far as state goes: neither gone nor kept off.
    pub const fn is_open(&self) -> bool {
        !matches!(
            self.state,
            State::Gone | State::Stopped | State::Isolated(_) | State::Off(..)
        )
    }

    /// Sessions in the last seven farm days, today included.
    pub fn in_seven_days(&self) -> usize {
        let in_week = |h: &&Held| (self.today - h.day).num_days() < 7;
        self.sessions.iter().filter(in_week).count()
    }
}

/// Folds what is known of a boar at the instant `now_ms`, in the farm's zone and under its standard.
pub fn progress(boar: &BoarFacts, standard: &Standard, zone: &Zone, now_ms: i64) -> Progress {
    let today = zone.day(now_ms);
    let (past, ahead): (Vec<_>, Vec<_>) = boar
        .trainings
        .iter()
        .partition(|t| zone.day(t.at.ms()) <= today);
    let (sessions, doubles) = held(&past, zone);
    let mut visited: Vec<_> = of(&past, Lesson::Visit)
        .map(|t| zone.day(t.at.ms()))
        .collect();
    visited.dedup();
    let (mut worked, _) = spent(boar, zone);
    worked.retain(|s| s.day <= today);
    let born = boar.boar.as_ref().and_then(|b| b.fact.born);
    let old_enough = born.and_then(|b| grown(b, standard));
    let fold = Fold {
        boar,
        standard,
        zone,
        today,
        old_enough,
        past: &past,
        sessions: &sessions,
        visits: visited.len(),
        worked: &worked,
    };
    let (state, by) = fold.state();
    let begun = sessions.first().zip(born);
    Progress {
        today,
        state,
        by,
        began_at_days: begun.map(|(first, born)| (first.day - born).num_days()),
        asks_reason: fold.asks_reason(),
        ahead: ahead.first().map(|t| t.entry()),
        sessions,
        visited,
        doubles,
    }
}

/// The day on which a boar reaches the age at which the farm begins.
fn grown(born: NaiveDate, standard: &Standard) -> Option<NaiveDate> {
    born.checked_add_days(Days::new(standard.young_days.into()))
}

fn of<'a>(
    list: &'a [&'a Seen<Training>],
    what: Lesson,
) -> impl Iterator<Item = &'a &'a Seen<Training>> {
    list.iter().filter(move |t| t.fact.what == what)
}

fn held(past: &[&Seen<Training>], zone: &Zone) -> (Vec<Held>, Vec<(EntryId, EntryId)>) {
    let (mut list, mut doubles): (Vec<Held>, Vec<_>) = (vec![], vec![]);
    for t in of(past, Lesson::Session) {
        let (at_ms, score) = (t.at.ms(), t.fact.reached());
        match list.last_mut() {
            Some(last) if at_ms - last.at_ms < DOUBLE_WITHIN_MS => {
                doubles.push((last.entry, t.entry()));
                last.score = last.score.max(score);
            }
            _ => list.push(Held {
                entry: t.entry(),
                at_ms,
                day: zone.day(at_ms),
                score,
            }),
        }
    }
    (list, doubles)
}

struct Fold<'a> {
    boar: &'a BoarFacts,
    standard: &'a Standard,
    zone: &'a Zone,
    today: NaiveDate,
    old_enough: Option<NaiveDate>,
    past: &'a [&'a Seen<Training>],
    sessions: &'a [Held],
    visits: usize,
    worked: &'a [Spent],
}

/// An attempt that did not succeed.
struct Attempt {
    at_ms: i64,
    day: NaiveDate,
    entry: EntryId,
    score: Option<Score>,
    session: bool,
}

type Found = (State, Option<EntryId>);

impl Fold<'_> {
    fn state(&self) -> Found {
        if let Some(gone) = self.boar.gone() {
            return (State::Gone, Some(gone.entry()));
        }
        if let Some(off) = off(self.boar, self.zone, self.today) {
            let state = match off.fact.reason {
                OffReason::Cull => State::Stopped,
                OffReason::Isolation => State::Isolated(off.fact.until),
                reason => State::Off(reason, off.fact.until),
            };
            return (state, Some(off.entry()));
        }
        match self.worked.last() {
            Some(last) => self.learnt(last),
            None => self.untried(),
        }
    }

    fn learnt(&self, last: &Spent) -> Found {
        let first = first_success(self.boar, self.worked);
        if let Some(first) = first {
            let plan = rhythm::plan(first.day, self.standard);
            if plan.last().is_some_and(|day| self.today <= *day) {
                let plan = self.kept(&plan);
                let day = first.day;
                return (State::Repeating { first: day, plan }, Some(first.entry));
            }
        }
        if let Some(lost) = self.lost(last) {
            return lost;
        }
        match first {
            Some(first) if self.worked.len() == 1 => {
                (State::Settling { first: first.day }, Some(first.entry))
            }
            _ => (State::Regular, Some(last.entry)),
        }
    }

    /// The days of a plan, and whether he worked on each, or made up for it before the next.
    fn kept(&self, plan: &[NaiveDate]) -> Vec<(NaiveDate, bool)> {
        let next = |n: usize| plan.get(n + 1).copied().unwrap_or(NaiveDate::MAX);
        let worked = |from, until| self.worked.iter().any(|s| from <= s.day && s.day < until);
        let days = plan.iter().enumerate();
        days.map(|(n, day)| (*day, worked(*day, next(n)))).collect()
    }

    /// Sessions and attempts at a collection that did not succeed, later than an instant, oldest first.
    fn failed(&self, after_ms: i64) -> Vec<Attempt> {
        let success = |h: &&Held| h.score.is_some_and(Score::is_success);
        let sessions = self.sessions.iter().filter(|h| !success(h));
        let sessions = sessions.map(|h| Attempt {
            at_ms: h.at_ms,
            day: h.day,
            entry: h.entry,
            score: h.score,
            session: true,
        });
        let attempts = self.boar.collections.iter();
        let attempts = attempts.filter(|c| c.fact.outcome == Outcome::NoMount);
        let attempts = attempts.map(|c| Attempt {
            at_ms: c.at.ms(),
            day: self.zone.day(c.at.ms()),
            entry: c.entry(),
            score: None,
            session: false,
        });
        let mut list: Vec<_> = sessions.chain(attempts).collect();
        list.retain(|a| a.at_ms > after_ms && a.day <= self.today);
        list.sort_by_key(|a| (a.at_ms, a.entry));
        list
    }

    /// Whether enough failed since his last success to say that he lost the habit.
    fn lost(&self, last: &Spent) -> Option<Found> {
        let failed = self.failed(last.at_ms);
        let again = failed.iter().any(|a| a.session);
        if !again && failed.len() < LOST_AFTER {
            return None;
        }
        let first = failed.first()?;
        let state = State::Retraining {
            since: first.day,
            best: failed.iter().filter_map(|a| a.score).max(),
        };
        Some((state, Some(first.entry)))
    }

    fn untried(&self) -> Found {
        let failed = self.failed(i64::MIN);
        if let Some(first) = failed.first() {
            let state = State::InTraining {
                since: first.day,
                best: failed.iter().filter_map(|a| a.score).max(),
                last: self.sessions.last().and_then(|h| h.score),
            };
            return (state, Some(first.entry));
        }
        let Some(boar) = &self.boar.boar else {
            return (State::Unknown(Gap::Boar), None);
        };
        let by = Some(boar.entry());
        if let Some(day) = self.old_enough.filter(|day| self.today < *day) {
            return (State::TooYoung(day), by);
        }
        if let Some(first) = of(self.past, Lesson::Visit).next() {
            let visits = self.visits;
            return (State::Acclimatising { visits }, Some(first.entry()));
        }
        if boar.fact.before == Before::Unknown {
            return (State::Unknown(Gap::History), by);
        }
        if boar.fact.born.is_none() {
            return (State::Unknown(Gap::Age), by);
        }
        (State::Acclimatising { visits: 0 }, by)
    }

    /// Under age or of unknown age, never collected, and nobody gave a reason yet.
    fn asks_reason(&self) -> bool {
        let young = self.old_enough.is_none_or(|day| self.today < day);
        let given = self.past.iter().any(|t| t.fact.early.is_some());
        young && !given && self.worked.is_empty()
    }
}
