//! What is due to be looked at: a view of the log and of now.

use super::{Check, Found, Thing};
use crate::barn::{Barn, Seen};
use crate::fact::Fact;
use crate::time::HOUR_MS;
use chrono::{Days, NaiveDate};

/// How one thing stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// What.
    pub what: Thing,
    /// The latest look at it that the ledger holds.
    pub last: Option<Seen<Check>>,
    /// How it stands.
    pub standing: Standing,
}

/// How one thing stands on the farm's day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It was not fine when last looked at, and nobody has found it fine since.
    NotFine,
    /// It is to be looked at, since that day; today counts.
    Since(NaiveDate),
    /// No look at it is known.
    Never,
    /// Fine; to be looked at again on that day.
    FineTill(NaiveDate),
}

/// How everything stands that the farm looks after, in the order of a round.
pub fn checks(barn: &Barn, now_ms: i64) -> Vec<Due> {
    let days = barn.standard().standard.checks;
    let zone = barn.zone_at(now_ms);
    let today = zone.day(now_ms);
    let looks = looks(barn, now_ms);
    let of = |what: Thing| {
        let days = days.of(what)?;
        let last = looks.iter().rev().find(|l| l.fact.what == what).cloned();
        let standing = match &last {
            None => Standing::Never,
            Some(last) if last.fact.answer == Found::NotFine => Standing::NotFine,
            Some(last) => {
                let looked = zone.day(last.at.ms());
                let again = looked + Days::new(days.into());
                if again <= today {
                    Standing::Since(again)
                } else {
                    Standing::FineTill(again)
                }
            }
        };
        Some(Due {
            what,
            last,
            standing,
        })
    };
    Thing::ALL.into_iter().filter_map(of).collect()
}

/// What is not fine or to be looked at, for the day's page. A farm that never entered a look is
/// left in peace: it may keep its rounds on paper.
pub fn wanting(barn: &Barn, now_ms: i64) -> Vec<Due> {
    let all = checks(barn, now_ms);
    if all.iter().all(|due| due.last.is_none()) {
        return vec![];
    }
    let wants = |due: &Due| !matches!(due.standing, Standing::FineTill(_));
    all.into_iter().filter(wants).collect()
}

/// Latest last. A look dated in the future, by a clock that is wrong, says nothing.
fn looks(barn: &Barn, now_ms: i64) -> Vec<Seen<Check>> {
    let mut looks = barn.farm_facts(|fact| match fact {
        Fact::Check(check) => Some(check),
        _ => None,
    });
    looks.retain(|look| look.at.ms() <= now_ms.saturating_add(HOUR_MS));
    looks
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
