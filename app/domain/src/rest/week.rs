//! The coming plan: who is due on which day, if everybody works when he is due.

use super::health::{Ends, offs_on};
use super::recovery::Recovery;
use super::regular::{Walk, rhythm_of};
use crate::barn::{Barn, BoarFacts};
use crate::farm::Standard;
use crate::id::BoarId;
use crate::time::Zone;
use chrono::{Days, NaiveDate};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Days of a plan at most: beyond them it says nothing about the boars any more.
pub const PLAN_DAYS_MAX: u16 = 366;

/// The boars' own recoveries, as far as they are known.
pub type Recoveries = BTreeMap<BoarId, Recovery>;

/// A boar who is due on a day of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Planned {
    /// Who.
    pub boar: BoarId,
    /// How many days he is late by then; on the first day of the plan only.
    pub late_days: i64,
    /// The day assumes that he works on an earlier day of the plan.
    pub follows: bool,
}

/// What is to be done on `days` days from `from` on, as things stand at the instant `now_ms`: every
/// day with the boars due on it, the latest first and the others by number. Each is assumed to work
/// on the day on which he is due, today if that is past, and then again every regular days, or by
/// the plan of his repetition; never on a day on which the rest rule would keep him. Who is off
/// collection is planned from the day after if the calendar ends it, and not if it takes somebody's
/// word. No day before today has anybody, nor has one more than [`PLAN_DAYS_MAX`] days ahead.
pub fn week(
    barn: &Barn,
    own: &Recoveries,
    now_ms: i64,
    from: NaiveDate,
    days: u16,
) -> Vec<(NaiveDate, Vec<Planned>)> {
    let (zone, standard) = (barn.zone_at(now_ms), barn.standard().standard);
    let today = zone.day(now_ms);
    let shown = from.iter_days().take(days.min(PLAN_DAYS_MAX).into());
    let mut plan: BTreeMap<NaiveDate, Vec<Planned>> = shown.map(|day| (day, vec![])).collect();
    let ahead = today.checked_add_days(Days::new(PLAN_DAYS_MAX.into()));
    let Some(end) = plan.last_key_value().map(|(day, _)| *day).min(ahead) else {
        return vec![];
    };
    for boar in barn.boars() {
        let own = own.get(&boar.id).copied();
        for (day, planned) in ahead_of(&boar, own, &standard, &zone, now_ms, end) {
            if let Some(list) = plan.get_mut(&day) {
                list.push(planned);
            }
        }
    }
    // The boars come by number, and a sort that is stable leaves those alike so.
    plan.values_mut()
        .for_each(|list| list.sort_by_key(|p| Reverse(p.late_days)));
    plan.into_iter().collect()
}

/// The days on which one boar works until `end`, ascending.
fn ahead_of(
    boar: &BoarFacts,
    own: Option<Recovery>,
    standard: &Standard,
    zone: &Zone,
    now_ms: i64,
    end: NaiveDate,
) -> Vec<(NaiveDate, Planned)> {
    let due = open_from(boar, zone, now_ms)
        .and_then(|open_ms| rhythm_of(boar, own, standard, zone, open_ms));
    let Some(due) = due else { return vec![] };
    let mut walk = Walk::of(boar, own, standard, zone, due.today);
    let mut next = Some(due.day.max(due.today));
    let mut list: Vec<(NaiveDate, Planned)> = vec![];
    while let Some(day) = next.filter(|day| *day <= end) {
        let follows = !list.is_empty();
        let late_days = due.late_days().filter(|_| !follows).unwrap_or(0);
        let boar = boar.id;
        let planned = Planned {
            boar,
            late_days,
            follows,
        };
        list.push((day, planned));
        walk.work(day);
        next = walk.due(day).filter(|later| *later > day);
    }
    list
}

/// The instant at which his plan begins: now, or when the day after his times off begins, if the
/// calendar ends all of them.
fn open_from(boar: &BoarFacts, zone: &Zone, now_ms: i64) -> Option<i64> {
    let offs = offs_on(boar, zone, zone.day(now_ms));
    if offs.is_empty() {
        return Some(now_ms);
    }
    let last = |ends: Ends| match ends {
        Ends::Day(day) => Some(day),
        Ends::PutBack | Ends::Veterinarian { .. } => None,
    };
    let lasts: Option<Vec<_>> = offs.iter().map(|o| last(o.ends)).collect();
    let back = lasts?.into_iter().max()?.succ_opt()?;
    Some(zone.day_start_ms(back))
}
