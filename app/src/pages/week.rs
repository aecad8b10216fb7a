//! The coming seven days: who is due on which, if everybody works when he is due.

use crate::feed::use_feed;
use crate::parts::Title;
use crate::tell;
use crate::words::{Words, key, use_words};
use chrono::NaiveDate;
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::climate::expectation;
use pentally_domain::id::BoarId;
use pentally_domain::output::Looker;
use pentally_domain::rest::week::{Planned, week};
use std::collections::BTreeMap;

const DAYS: u16 = 7;

/// `/week`
#[component]
pub fn WeekPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let page = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        of(&w, &barn, now_ms)
    };
    view! { {page} }.into_any()
}

fn of(w: &Words, barn: &Barn, now_ms: i64) -> AnyView {
    let looker = Looker::of(barn, now_ms);
    let today = barn.zone_at(now_ms).day(now_ms);
    let own = looker.recoveries(barn);
    let plan = week(barn, &own, now_ms, today, DAYS);
    let mut lower = expectation(looker.days(), today);
    lower.retain(|e| plan.last().is_some_and(|(day, _)| e.from <= *day));
    let numbers: BTreeMap<BoarId, String> = barn
        .boars()
        .iter()
        .map(|boar| (boar.id, boar.number()))
        .collect();
    let days: Vec<_> = plan
        .iter()
        .map(|(day, due)| of_day(w, *day, due, &numbers))
        .collect();
    view! {
        <Title headline=w.tr(key::TODAY_WEEK) why=w.tr(key::WEEK_WHY)/>
        {tell::lower(w, &lower).map(|says| view! { <p class="words">{says}</p> })}
        {days}
        <div class="grow"></div>
    }
    .into_any()
}

fn of_day(
    w: &Words,
    day: NaiveDate,
    due: &[Planned],
    numbers: &BTreeMap<BoarId, String>,
) -> AnyView {
    let boar = |planned: &Planned| {
        let number = numbers.get(&planned.boar)?;
        if planned.late_days == 0 {
            return Some(number.clone());
        }
        let late = planned.late_days.into();
        let args = [("number", number.as_str().into()), ("n", late)];
        Some(w.tr_with(key::WEEK_LATE, &args))
    };
    let boars: Vec<_> = due.iter().filter_map(boar).collect();
    let heading = format!("{} ({})", w.weekday_day_month(day), boars.len());
    let says = if boars.is_empty() {
        w.tr(key::WEEK_NOBODY)
    } else {
        boars.join(" · ")
    };
    view! { <section class="words"><h2>{heading}</h2><p>{says}</p></section> }.into_any()
}
