//! Does training work? How long and how many sessions until a first success, with those still in
//! training as they are; and what followed a bad event.
//!
//! A view of what is held here. It shows how things went on this farm; it proves no cause.

mod aftermath;

use super::Lure;
use super::state::{Held, progress};
use crate::barn::{Barn, BoarFacts, Seen};
use crate::boar::{Before, OffReason};
use crate::collection::Collection;
use crate::farm::Standard;
use crate::id::{BoarId, PenId, PersonId};
use crate::rest::{DOUBLE_WITHIN_MS, off};
use crate::said::Label;
use crate::survival::{Compared, Curve, Observed, compare, curve};
use crate::time::Zone;
use crate::training::Training;
use crate::units::Score;
use chrono::NaiveDate;

pub use aftermath::{Aftermath, aftermath};

/// Beginning at 190 days of age did not delay adult output as beginning at 160 did (NCSU 2001).
const EARLY_DAYS: i64 = 190;

/// One boar whose training the log saw from its first session on.
#[derive(Debug, Clone, PartialEq)]
pub struct Pupil {
    /// Who.
    pub boar: BoarId,
    /// Days from his first session to his first success, or to where he was watched to.
    pub days: Observed,
    /// Sessions until then, the successful one included.
    pub sessions: Observed,
    /// The day of his success is no longer held here; the day after his last session before it stands for it.
    pub day_stands_in: bool,
    /// How old he was at his first session, in days.
    pub age_days: Option<i64>,
    /// What drew him in his first session. Later ones say nothing here: whoever is trained longer
    /// meets more of them.
    pub lures: Vec<Lure>,
    /// Who recorded his first session.
    pub handler: Option<PersonId>,
    /// His breed or line.
    pub line: Option<Label>,
    /// The pen he was in then.
    pub pen: Option<PenId>,
}

/// What is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Farm days since the first session.
    Days,
    /// Sessions.
    Sessions,
}

/// By what the boars are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Not at all.
    All,
    /// Age at the first session.
    Age,
    /// What drew him in the first session.
    Lure,
    /// Who recorded the first session.
    Handler,
    /// Breed or line.
    Line,
    /// The pen.
    Pen,
}

/// One group of them.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Everybody.
    All,
    /// Younger than 190 days.
    Early,
    /// From 190 days to the farm's age.
    Younger,
    /// Of the farm's age or older.
    Grown,
    /// Without a lure.
    NoLure,
    /// With one lure.
    Lure(Lure),
    /// With several.
    SeveralLures,
    /// That person.
    Handler(PersonId),
    /// That breed or line.
    Line(Label),
    /// That pen.
    Pen(PenId),
}

/// How long it took, in each group.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// The groups, in their own order, each with its curve.
    pub groups: Vec<(Group, Curve)>,
    /// Boars of whom nobody said to which group they belong.
    pub not_said: usize,
    /// Whether the groups wait alike.
    pub compared: Compared,
}

/// The boars whose training the log saw from its first session on, at the instant `now_ms`.
pub fn pupils(barn: &Barn, now_ms: i64) -> Vec<Pupil> {
    let (zone, standard) = (barn.zone_at(now_ms), barn.standard().standard);
    let boars = barn.boars();
    boars
        .iter()
        .filter_map(|boar| pupil(boar, &standard, &zone, now_ms))
        .collect()
}

/// How long the pupils took, told apart by `by`.
pub fn evidence(pupils: &[Pupil], by: By, measure: Measure, standard: &Standard) -> Evidence {
    let mut groups: Vec<(Group, Vec<Observed>)> = vec![];
    let mut not_said = 0;
    for pupil in pupils {
        let Some(group) = pupil.group(by, standard) else {
            not_said += 1;
            continue;
        };
        let observed = match measure {
            Measure::Days => pupil.days,
            Measure::Sessions => pupil.sessions,
        };
        match groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, list)) => list.push(observed),
            None => groups.push((group, vec![observed])),
        }
    }
    groups.sort_by(|a, b| a.0.cmp(&b.0));
    let (names, observed): (Vec<Group>, Vec<Vec<Observed>>) = groups.into_iter().unzip();
    Evidence {
        compared: compare(&observed),
        groups: names
            .into_iter()
            .zip(observed.iter().map(|o| curve(o)))
            .collect(),
        not_said,
    }
}

impl Pupil {
    fn group(&self, by: By, standard: &Standard) -> Option<Group> {
        match by {
            By::All => Some(Group::All),
            By::Age => self.age_days.map(|days| match days {
                ..EARLY_DAYS => Group::Early,
                days if days < i64::from(standard.young_days) => Group::Younger,
                _ => Group::Grown,
            }),
            By::Lure => Some(match self.lures[..] {
                [] => Group::NoLure,
                [lure] => Group::Lure(lure),
                _ => Group::SeveralLures,
            }),
            By::Handler => self.handler.map(Group::Handler),
            By::Line => self.line.clone().map(Group::Line),
            By::Pen => self.pen.map(Group::Pen),
        }
    }
}

/// Where his watch ended.
struct End {
    /// On which of the farm's days.
    day: NaiveDate,
    /// Sessions until then.
    sessions: usize,
    happened: bool,
    stands_in: bool,
}

fn pupil(boar: &BoarFacts, standard: &Standard, zone: &Zone, now_ms: i64) -> Option<Pupil> {
    let progress = progress(boar, standard, zone, now_ms);
    let first = progress.sessions.first()?;
    let entered = boar.boar.as_ref();
    let worked = entered.is_some_and(|b| matches!(b.fact.before, Before::LastOn(_)));
    let whole = boar.collections_whole;
    let given = given(boar, now_ms);
    // He knew it already: these sessions are no first training.
    if worked || (whole && given.first().is_some_and(|ms| *ms < first.at_ms)) {
        return None;
    }
    let end = end(
        boar,
        &progress.sessions,
        &given,
        whole,
        zone,
        progress.today,
    );
    let facts = boar.trainings.iter().find(|t| t.entry() == first.entry)?;
    Some(Pupil {
        boar: boar.id,
        days: Observed::new((end.day - first.day).num_days() as f64, end.happened).ok()?,
        sessions: Observed::new(end.sessions as f64, end.happened).ok()?,
        day_stands_in: end.stands_in,
        age_days: progress.began_at_days,
        lures: lures(facts),
        handler: facts.person,
        line: entered.and_then(|b| b.fact.line.clone()),
        pen: pen_then(boar, first.at_ms),
    })
}

/// When he gave semen at a collection, oldest first.
fn given(boar: &BoarFacts, now_ms: i64) -> Vec<i64> {
    let collected = boar.collections.iter();
    let spent = collected.filter(|c| Collection::spends(&c.fact) && c.at.ms() <= now_ms);
    spent.map(|c| c.at.ms()).collect()
}

fn end(
    boar: &BoarFacts,
    sessions: &[Held],
    given: &[i64],
    whole: bool,
    zone: &Zone,
    today: NaiveDate,
) -> End {
    let reached = sessions
        .iter()
        .find(|h| h.score.is_some_and(Score::is_success));
    let collected = given.first().copied();
    let until = |ms: i64| sessions.iter().filter(|h| h.at_ms <= ms).count();
    match (reached, collected) {
        (Some(success), collected) if collected.is_none_or(|ms| success.at_ms <= ms) => End {
            day: success.day,
            sessions: until(success.at_ms),
            happened: true,
            stands_in: false,
        },
        (_, Some(ms)) => {
            // A session of the same hour is the one in which he was collected.
            let same = sessions
                .iter()
                .any(|h| (0..DOUBLE_WITHIN_MS).contains(&(ms - h.at_ms)));
            let before = sessions.iter().rfind(|h| h.at_ms <= ms);
            let after_last = before.and_then(|h| h.day.succ_opt());
            End {
                day: after_last.filter(|_| !whole).unwrap_or(zone.day(ms)),
                sessions: until(ms) + usize::from(!same),
                happened: true,
                stands_in: !whole,
            }
        }
        _ => End {
            day: watched_to(boar, zone, today),
            sessions: sessions.len(),
            happened: false,
            stands_in: false,
        },
    }
}

/// Until when he was watched: today, or the day on which he left or was given up.
fn watched_to(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> NaiveDate {
    let gone = boar.gone().map(|m| zone.day(m.at.ms()));
    let stopped = off(boar, zone, today)
        .filter(|o| o.fact.reason == OffReason::Cull)
        .map(|o| zone.day(o.at.ms()));
    let ended = gone.into_iter().chain(stopped).min();
    ended.map_or(today, |day| day.min(today))
}

fn lures(first: &Seen<Training>) -> Vec<Lure> {
    let mut lures = first.fact.lures.clone();
    lures.sort_unstable();
    lures.dedup();
    lures
}

fn pen_then(boar: &BoarFacts, at_ms: i64) -> Option<PenId> {
    let before = boar.moves.iter().rfind(|m| m.at.ms() <= at_ms);
    before?.fact.to
}

#[cfg(test)]
mod tests;
