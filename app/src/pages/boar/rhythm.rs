//! When he is due, what keeps him off, and the watch after a fever, in quiet lines.

use super::{Page, gives};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::rest::health::{TimeOff, fever_watch, none_at_all, offs_on};
use pentally_domain::rest::regular::rhythm_of;

/// Nothing where there is nothing to say.
pub(super) fn words(p: &Page<'_>, gives: &gives::Gives) -> Option<AnyView> {
    if p.boar.gone().is_some() {
        return None;
    }
    let zone = p.barn.zone_at(p.now_ms);
    let today = zone.day(p.now_ms);
    let offs = offs_on(p.boar, &zone, today);
    // The board tells of one; what it has no words for stands here.
    let cull = offs.iter().any(|o| o.off.fact.cull.is_some());
    let told = if offs.len() > 1 || cull {
        &offs[..]
    } else {
        &[]
    };
    let mut lines: Vec<_> = told.iter().map(|off| time_off(p, off, today)).collect();
    lines.extend(none_at_all(p.boar, &zone).map(|odd| {
        let days = [("from", odd.from), ("until", odd.until)];
        let days = days.map(|(name, day)| (name, p.w.near_day(day, today).into()));
        p.w.tr_with(key::OFF_NONE_AT_ALL, &days)
    }));
    lines.extend(due(p, gives));
    lines.extend(fever(p, &offs, today));
    let lines: Vec<_> = lines
        .into_iter()
        .map(|says| view! { <p>{says}</p> })
        .collect();
    (!lines.is_empty()).then(|| view! { <div class="words quiet">{lines}</div> }.into_any())
}

fn time_off(p: &Page<'_>, off: &TimeOff<'_>, today: chrono::NaiveDate) -> String {
    let fact = &off.off.fact;
    let says = tell::time_off(&p.w, fact.reason, off.ends, today);
    match fact.cull {
        Some(why) => format!("{says} ({})", p.w.tr(tell::cull(why)).to_lowercase()),
        None => says,
    }
}

fn due(p: &Page<'_>, gives: &gives::Gives) -> Option<String> {
    let (zone, holding) = (p.barn.zone_at(p.now_ms), p.barn.standard());
    let due = rhythm_of(p.boar, gives.recovery, &holding.standard, &zone, p.now_ms)?;
    // Who was never used is due at once; that has no rhythm behind it.
    let why = due.last.map(|_| tell::due_why(&p.w, &due));
    let says = [Some(tell::due(&p.w, &due)), why];
    Some(says.into_iter().flatten().collect::<Vec<_>>().join(" "))
}

fn fever(p: &Page<'_>, offs: &[TimeOff<'_>], today: chrono::NaiveDate) -> Option<String> {
    let zone = p.barn.zone_at(p.now_ms);
    let watch = fever_watch(p.boar, &zone, today)?;
    let open = offs
        .iter()
        .any(|o| o.off.entry() == watch.entry && o.days.until.is_none());
    if open {
        return Some(p.w.tr(key::FEVER_OPEN));
    }
    let day = p.w.near_day(watch.until, today);
    Some(p.w.tr_with(key::FEVER_TILL, &[("day", day.into())]))
}
