//! The sows: a list, and one sow's heat and services.

mod after;
mod natural;
mod one;

pub use one::{SowPage, served_by};

use crate::act::use_act;
use crate::device::Draft;
use crate::feed::use_feed;
use crate::pages::fields::{Line, Tick};
use crate::pages::rows;
use crate::parts::{Action, Drawing, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::{Barn, SowFacts};
use pentally_domain::fact::Fact;
use pentally_domain::heat::heat_now;
use pentally_domain::said::Label;
use pentally_domain::sow::Sow;

/// How many rows are shown at once; the filter finds the others.
const SHOWN: usize = 200;

/// `/sows`
#[component]
pub fn SowsPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let typed = RwSignal::new(String::new());
    let list = move || {
        let now_ms = feed.now_ms.get();
        let wanted = typed.with(|t| t.trim().to_lowercase());
        feed.barn.with(|barn| {
            let mut sows = known(barn);
            sows.retain(|s| s.number().to_lowercase().contains(&wanted));
            let more = sows.len().saturating_sub(SHOWN);
            let more = (more > 0).then(|| {
                let says = w.tr_with(key::BOARS_MORE, &[("n", more.into())]);
                view! { <p class="words quiet">{says}</p> }
            });
            let row = |s: SowFacts| {
                rows::link(
                    paths::sow(s.id),
                    Some(Drawing::Sow),
                    s.number(),
                    state(&w, barn, &s, now_ms),
                    gilt(&w, &s),
                )
            };
            let rows = sows.into_iter().take(SHOWN).map(row).collect_view();
            view! { <ul class="rows">{rows}</ul>{more} }
        })
    };
    let count = move || {
        w.tr_with(
            key::SOWS_COUNT,
            &[("n", feed.barn.with(|b| known(b).len()).into())],
        )
    };
    view! {
        <Title headline=w.tr(key::MORE_SOWS) why=Signal::derive(count)/>
        <NewSow/>
        <div class="words"><Line name=w.tr(key::SOWS_FILTER) value=typed/></div>
        {list}
        <div class="grow"></div>
    }
    .into_any()
}

#[component]
fn NewSow() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let feed = use_feed();
    let navigate = use_navigate();
    let typed = RwSignal::new(String::new());
    let gilt = RwSignal::new(false);
    let wrong = RwSignal::new(None::<String>);
    let asked = RwSignal::new(None::<Label>);
    let take = move |()| {
        let new = match Label::parse(&typed.get_untracked()) {
            Ok(new) => new,
            Err(error) => {
                let args = [
                    ("chars", error.chars.into()),
                    ("low", error.low.into()),
                    ("high", error.high.into()),
                ];
                return wrong.set(Some(w.tr_with(key::TEXT_LENGTH, &args)));
            }
        };
        let is_same = |s: &SowFacts| s.number().to_lowercase() == new.as_str().to_lowercase();
        let twice = feed.is_some_and(|f| f.barn.with_untracked(|b| b.sows().iter().any(is_same)));
        if twice && asked.get_untracked().as_ref() != Some(&new) {
            wrong.set(Some(w.tr(key::SOWS_TWICE)));
            return asked.set(Some(new));
        }
        let fact = Fact::Sow(Sow {
            number: new,
            gilt: gilt.get_untracked(),
        });
        let navigate = navigate.clone();
        act.save(vec![Draft::of(fact)], move |entries| {
            if let Some(entry) = entries.first() {
                navigate(
                    &paths::sow(entry.envelope().id.as_sow()),
                    Default::default(),
                );
            }
        });
    };
    view! {
        <div class="words">
            <Line name=w.tr(key::SOWS_NUMBER) value=typed hint=w.tr(key::FIELD_LABEL) wrong=wrong/>
            <Tick name=w.tr(key::SOWS_GILT) value=gilt/>
        </div>
        <div class="actions"><Action word=w.tr(key::SOWS_ADD) drawing=Drawing::Sow on_tap=take/></div>
    }
}

/// The sows that count: not those taken back.
fn known(barn: &Barn) -> Vec<SowFacts> {
    barn.sows()
        .into_iter()
        .filter(|s| s.sow.is_some())
        .collect()
}

fn gilt(w: &Words, sow: &SowFacts) -> String {
    let is_gilt = sow.sow.as_ref().is_some_and(|s| s.fact.gilt);
    if is_gilt {
        w.tr(key::SOWS_IS_GILT)
    } else {
        String::new()
    }
}

/// Her heat or her last service, in a few words.
fn state(w: &Words, barn: &Barn, sow: &SowFacts, now_ms: i64) -> String {
    let zone = barn.zone_at(now_ms);
    let day = |ms: i64| w.near_day(zone.day(ms), zone.day(now_ms));
    if let Some(heat) = heat_now(&sow.heats, now_ms) {
        return w.tr_with(key::SOWS_STANDS_SINCE, &[("day", day(heat.ms).into())]);
    }
    sow.services
        .last()
        .map(|s| w.tr_with(key::SOWS_SERVED_ON, &[("day", day(s.at.ms()).into())]))
        .unwrap_or_default()
}

/// So many hours ago, in words.
fn ago(w: &Words, hours: i64) -> String {
    if hours == 0 {
        w.tr(key::SOWS_JUST_NOW)
    } else {
        w.tr_with(key::SOWS_HOURS_AGO, &[("n", hours.into())])
    }
}
