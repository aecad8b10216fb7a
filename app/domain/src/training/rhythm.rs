//! When a boar works again after a first success: the two printed rhythms, day by day.

use crate::farm::{Rhythm, Standard};
use chrono::{Days, NaiveDate};

/// Days between weekly collections, and of rest before the first of them.
const WEEK: u64 = 7;
/// How many weekly collections the second rhythm has.
const WEEKLY: u64 = 4;

/// The farm days on which he is to work again after a first success on `first`, ascending.
/// They are exempt from the third in seven days. With [`Rhythm::DaysRunning`] the
/// `repetition_days` days that follow; with [`Rhythm::NextDayThenWeekly`] the next day and, a week
/// after that one, four times weekly: the days 1, 8, 15, 22 and 29. None where the farm repeats nothing.
pub fn plan(first: NaiveDate, standard: &Standard) -> Vec<NaiveDate> {
    let days: Vec<u64> = match standard.rhythm {
        Rhythm::DaysRunning => (1..=standard.repetition_days.into()).collect(),
        Rhythm::NextDayThenWeekly => (0..=WEEKLY).map(|week| 1 + WEEK * week).collect(),
    };
    days.into_iter()
        .filter_map(|n| first.checked_add_days(Days::new(n)))
        .collect()
}

/// The day until which he rests by the plan: the next planned one, if he worked on the last that
/// was due or since. None on a planned day, beyond the plan, or when the last was missed: then the
/// farm's ordinary rest decides.
pub fn rests_until(
    first: NaiveDate,
    plan: &[NaiveDate],
    last_worked: NaiveDate,
    today: NaiveDate,
) -> Option<NaiveDate> {
    if plan.contains(&today) || today <= first {
        return None;
    }
    let next = plan.iter().copied().find(|day| *day > today)?;
    let due = plan.iter().copied().rfind(|day| *day < today);
    (last_worked >= due.unwrap_or(first)).then_some(next)
}
