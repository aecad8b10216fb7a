//! How hot the days were that a ledger holds no more, as a fit carries them.
//!
//! A logger writes one entry for each room and day, and the farm's ledger keeps the latest of them:
//! with ten rooms those of twelve days, while heat shows for six weeks. A fit reads the whole log, so it
//! hands on what each of the last days was, and pages and fit speak of the same heat.

use super::day::FarmDay;
use crate::barn::Barn;
use crate::fact::{Kind, Subject};
use crate::time::Zone;
use chrono::{Days, NaiveDate};
use std::collections::BTreeMap;

/// So many days are carried: a ledger's 24 collections of a boar who is collected each fortnight, and
/// the six weeks before the first of them.
pub const CARRIED_DAYS: u64 = 24 * 14 + super::LASTS_DAYS;

/// The share of rooms that were hot, 0 to 1, on each of the [`CARRIED_DAYS`] up to today of which it
/// is known.
pub fn carried(days: &[FarmDay], today: NaiveDate) -> BTreeMap<NaiveDate, f64> {
    let from = today.checked_sub_days(Days::new(CARRIED_DAYS));
    let recent = |d: &&FarmDay| Some(d.day) > from && d.day <= today;
    let known = days.iter().filter(recent);
    known.filter_map(|d| Some((d.day, d.hot?))).collect()
}

/// The days at hand with those before them as the barn's fit carries them. A day from which the ledger
/// may have dropped readings is as hot as the fit says.
pub(super) fn with_carried(days: Vec<FarmDay>, barn: &Barn, zone: &Zone) -> Vec<FarmDay> {
    let Some(dropped) = dropped_to(barn, zone) else {
        return days;
    };
    let mut days: BTreeMap<NaiveDate, FarmDay> = days.into_iter().map(|d| (d.day, d)).collect();
    for (day, hot) in barn.outlook().heat.range(..=dropped) {
        let nothing = || FarmDay {
            day: *day,
            rooms: vec![],
            hot: None,
        };
        days.entry(*day).or_insert_with(nothing).hot = Some(*hot);
    }
    days.into_values().collect()
}

/// The last farm day of which the ledger may have dropped a reading; none while it holds all.
fn dropped_to(barn: &Barn, zone: &Zone) -> Option<NaiveDate> {
    let farm = barn.ledger(Subject::Farm)?;
    let read = farm.rows().filter(|r| r.fact.kind() == Kind::Climate);
    let oldest_ms = read.map(|r| r.order.at_ms).min()?;
    farm.is_full_of(Kind::Climate).then(|| zone.day(oldest_ms))
}
