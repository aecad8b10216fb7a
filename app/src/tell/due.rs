//! When a boar is due and why, and what ends his times off, in words.

use super::off_reason;
use crate::words::{Words, key};
use chrono::NaiveDate;
use pentally_domain::boar::OffReason;
use pentally_domain::rest::health::Ends;
use pentally_domain::rest::regular::{Due, RegularFrom};

/// When he is due, or since when.
pub fn due(w: &Words, due: &Due) -> String {
    let key = if due.day < due.today {
        key::DUE_SINCE
    } else {
        key::DUE_ON
    };
    let day = w.near_day(due.day, due.today);
    w.tr_with(key, &[("day", day.into())])
}

/// Why then.
pub fn due_why(w: &Words, due: &Due) -> String {
    let key = match due.regular.from {
        _ if due.repeating => key::DUE_REPEATS,
        RegularFrom::Standard => key::DUE_STANDARD,
        RegularFrom::Young => key::DUE_YOUNG,
        RegularFrom::HisOwn => key::DUE_OWN,
    };
    let span = w.tr_with(key::SPAN_DAYS, &[("n", due.regular.days.into())]);
    w.tr_with(key, &[("span", span.into())])
}

/// Why he is off, and what ends it.
pub fn time_off(w: &Words, reason: OffReason, ends: Ends, today: NaiveDate) -> String {
    let till = |key, day| w.tr_with(key, &[("day", w.near_day(day, today).into())]);
    let ends = match ends {
        Ends::Day(day) => till(key::OFF_TILL, day),
        Ends::PutBack => w.tr(key::OFF_PUT_BACK),
        Ends::Veterinarian { until: None } => w.tr(key::OFF_VETERINARIAN),
        Ends::Veterinarian { until: Some(day) } => till(key::OFF_TILL_VETERINARIAN, day),
    };
    let reason = w.tr(off_reason(reason)).into();
    w.tr_with(
        key::STAND_OFF_UNTIL,
        &[("reason", reason), ("ends", ends.into())],
    )
}
