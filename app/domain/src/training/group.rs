//! Many at once: today's order of those in training.

use super::advice::{Advice, advice};
use super::state::{Progress, State, progress};
use crate::barn::{Barn, BoarFacts};
use chrono::NaiveDate;

/// One of those in training, and what he waits for.
#[derive(Debug, Clone, PartialEq)]
pub struct Pupil {
    /// Who.
    pub boar: BoarFacts,
    /// Where he stands.
    pub progress: Progress,
    /// What his sessions suggest.
    pub advice: Vec<Advice>,
    /// Whether it is his turn.
    pub turn: Turn,
}

/// Whether it is his turn, in the order in which the page lists them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// A day of repetition, on which he has not worked yet.
    Planned,
    /// He may have his session; the one whose last lies longest ago first.
    Free,
    /// He waits until that day.
    Waits(NaiveDate),
    /// He was hot today.
    Hot,
    /// He has had his session today.
    Done,
    /// Kept apart or too young, until that day if it is known.
    NotYet(Option<NaiveDate>),
}

impl Pupil {
    /// Whether he is to have a session today.
    pub const fn is_due(&self) -> bool {
        matches!(self.turn, Turn::Planned | Turn::Free)
    }
}

/// Everybody in training at the instant `now_ms`, in today's order.
pub fn order(barn: &Barn, now_ms: i64) -> Vec<Pupil> {
    let (zone, holding) = (barn.zone_at(now_ms), barn.standard());
    let mut pupils: Vec<_> = barn
        .boars()
        .into_iter()
        .filter_map(|boar| {
            let progress = progress(&boar, &holding.standard, &zone, now_ms);
            let advice = advice(&boar, &progress, &zone);
            progress.is_pupil().then(|| Pupil {
                turn: turn(&progress, &advice),
                boar,
                progress,
                advice,
            })
        })
        .collect();
    // The boars come by number, and a sort that is stable leaves those alike so.
    pupils.sort_by_key(|p| (p.turn, p.progress.sessions.last().map(|h| h.at_ms)));
    pupils
}

/// Whose turn it is, by where he stands and what his sessions suggest.
pub fn turn(progress: &Progress, advice: &[Advice]) -> Turn {
    match &progress.state {
        State::Isolated(until) => return Turn::NotYet(*until),
        State::TooYoung(until) => return Turn::NotYet(Some(*until)),
        _ => {}
    }
    let rests = |a: &Advice| match a {
        Advice::HadToday(_) => Some(Turn::Done),
        Advice::HotToday(_) => Some(Turn::Hot),
        Advice::RestUntil { until, .. } => Some(Turn::Waits(*until)),
        _ => None,
    };
    if let Some(turn) = advice.iter().find_map(rests) {
        return turn;
    }
    let State::Repeating { plan, .. } = &progress.state else {
        return Turn::Free;
    };
    let today = progress.today;
    let missed = plan.iter().rfind(|(day, _)| *day < today);
    if missed.is_some_and(|(_, kept)| !kept) && plan.iter().all(|(day, _)| *day != today) {
        return Turn::Free;
    }
    match plan.iter().find(|(day, _)| *day >= today) {
        Some((day, worked)) if *day == today && *worked => Turn::Done,
        Some((day, _)) if *day == today => Turn::Planned,
        Some((day, _)) => Turn::Waits(*day),
        None => Turn::Free,
    }
}
