//! What the office did not accept, and why.

use crate::act::use_act;
use crate::feed::{Feed, NotAccepted, use_feed};
use crate::office::{self, OfficeError};
use crate::parts::{Action, Drawing, Kind as How, Mark, Title};
use crate::tell;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::id::EntryId;
use pentally_domain::ledger::Row;
use pentally_domain::sync::Aside;
use serde::{Deserialize, Serialize};

const AT: &str = "/api/v1/aside";
const ACCEPT: &str = "/api/v1/aside/accept";

/// Which text goes into the log after all.
#[derive(Debug, Serialize)]
struct Accepted {
    n: u64,
}

/// What the office holds apart (`GET /api/v1/aside`).
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
struct Apart {
    aside: Vec<SetAside>,
    alarms: Vec<Alarm>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct SetAside {
    n: u64,
    received_at_ms: i64,
    reason: Aside,
    text: String,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Alarm {
    n: u64,
    entry: EntryId,
    #[serde(default)]
    thread_broken: bool,
    #[serde(default)]
    clock_ahead_ms: Option<i64>,
}

/// Nobody reads further on one screen.
const SHOWN_MOST: usize = 2_000;

/// All of it, page by page.
async fn whole() -> Result<Apart, OfficeError> {
    let mut whole = Apart::default();
    while whole.aside.len() + whole.alarms.len() < SHOWN_MOST {
        let after = whole.aside.last().map_or(0, |one| one.n);
        let alarms = whole.alarms.last().map_or(0, |one| one.n);
        let at = format!("{AT}?after={after}&alarms_after={alarms}");
        let page: Apart = office::get(&at).await?;
        if page == Apart::default() {
            break;
        }
        whole.aside.extend(page.aside);
        whole.alarms.extend(page.alarms);
    }
    Ok(whole)
}

/// `/aside`
#[component]
pub fn AsidePage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let count = move || feed.link.with(|l| l.not_accepted.len());
    let why = move || w.tr_with(key::ASIDE_COUNT, &[("n", count().into())]);
    let list = move || {
        let rows = feed.link.with(|l| {
            l.not_accepted
                .iter()
                .map(|n| own(&w, feed, n))
                .collect_view()
        });
        view! { <ul class="rows">{rows}</ul> }
    };
    view! {
        <Title headline=w.tr(key::MORE_ASIDE) why=Signal::derive(why)/>
        <p class="words">{w.tr(key::ASIDE_WHY)}</p>
        {list}
        <Whole feed/>
        <div class="grow"></div>
    }
    .into_any()
}

fn own(w: &Words, feed: Feed, refused: &NotAccepted) -> AnyView {
    let what = feed.barn.with(|barn| {
        let mut rows = barn.ledgers().flat_map(|ledger| ledger.rows());
        let row = rows.find(|row| row.order.id == refused.entry)?;
        Some(told(w, feed, row))
    });
    row(
        what.unwrap_or_else(|| short(refused.entry)),
        reason(w, &refused.reason),
        None,
    )
}

fn told(w: &Words, feed: Feed, row: &Row) -> String {
    let (now_ms, ms) = (feed.now_ms.get_untracked(), row.occurred_at.ms());
    feed.barn.with_untracked(|barn| {
        let when = tell::moment(w, &barn.zone_at(ms), ms, now_ms);
        let what = super::log::content(w, barn, &row.fact, row.order.id);
        format!(
            "{when} · {} · {what}",
            w.tr(super::log::kind_word(row.fact.kind()))
        )
    })
}

fn row(title: String, why: String, text: Option<(String, String)>) -> AnyView {
    let whole = text.map(|(word, text)| {
        view! { <details class="how"><summary>{word}</summary><p class="small">{text}</p></details> }
    });
    view! {
        <li class="row">
            <Mark drawing=Drawing::Bar/>
            <div class="rest-of"><p class="name">{title}</p><p class="small">{why}</p>{whole}</div>
        </li>
    }
    .into_any()
}

/// The office's whole list, asked for on a tap.
#[component]
fn Whole(feed: Feed) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let apart = RwSignal::new(None::<Apart>);
    let ask = move |()| {
        spawn_local(async move {
            match whole().await {
                Ok(list) => apart.set(Some(list)),
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let accept = move |n: u64| {
        spawn_local(async move {
            match office::post(ACCEPT, &Accepted { n }).await {
                Ok(_) => ask(()),
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let list = move || {
        apart.get().map(|apart| {
            let none = apart == Apart::default();
            view! {
                {none.then(|| view! { <p class="words">{w.tr(key::ASIDE_OFFICE_NONE)}</p> })}
                <ul class="rows">
                    {apart.aside.iter().map(|one| set_aside(&w, feed, one, accept)).collect_view()}
                    {apart.alarms.iter().map(|one| alarm(&w, one)).collect_view()}
                </ul>
            }
        })
    };
    view! {
        <section class="words"><h2>{w.tr(key::ASIDE_OFFICE)}</h2><p class="small quiet">{w.tr(key::ASIDE_OFFICE_WHY)}</p></section>
        {list}
        <div class="actions"><Action word=w.tr(key::ASIDE_OFFICE_ASK) kind=How::Quiet on_tap=ask/></div>
    }
}

fn set_aside(
    w: &Words,
    feed: Feed,
    one: &SetAside,
    accept: impl Fn(u64) + Send + Sync + 'static,
) -> AnyView {
    let (now_ms, ms) = (feed.now_ms.get(), one.received_at_ms);
    let when = feed
        .barn
        .with(|b| tell::moment(w, &b.zone_at(ms), ms, now_ms));
    let title = w.tr_with(key::ASIDE_ARRIVED, &[("when", when.into())]);
    let listed = row(
        title,
        reason(w, &one.reason),
        Some((w.tr(key::ASIDE_TEXT), one.text.clone())),
    );
    let n = one.n;
    let judged = (one.reason == Aside::ShutOut).then(|| {
        view! { <li class="row"><Action word=w.tr(key::ASIDE_ACCEPT) kind=How::Quiet on_tap=move |()| accept(n)/></li> }
    });
    view! { {listed}{judged} }.into_any()
}

fn alarm(w: &Words, alarm: &Alarm) -> AnyView {
    let broken = alarm.thread_broken.then(|| w.tr(key::ASIDE_THREAD));
    let ahead = alarm
        .clock_ahead_ms
        .map(|ms| w.tr_with(key::ASIDE_CLOCK, &[("span", w.span(ms).into())]));
    let why: Vec<_> = broken.into_iter().chain(ahead).collect();
    row(
        w.tr_with(key::ASIDE_STORED, &[("id", short(alarm.entry).into())]),
        why.join(" "),
        None,
    )
}

/// The end of an identity, enough to tell two apart on one page.
fn short(entry: EntryId) -> String {
    entry.to_string().chars().skip(24).collect()
}

/// Why a record stands apart, and what to do about it.
fn reason(w: &Words, aside: &Aside) -> String {
    let with = |key: Key, detail: &str| w.tr_with(key, &[("detail", detail.into())]);
    match aside {
        Aside::NewerEnvelope => w.tr(key::ASIDE_NEWER),
        Aside::Malformed { detail } => with(key::ASIDE_MALFORMED, detail),
        Aside::Bounds { detail } => with(key::ASIDE_BOUNDS, detail),
        Aside::Body { detail } => with(key::ASIDE_BODY, detail),
        Aside::OtherFarm => w.tr(key::ASIDE_OTHER_FARM),
        Aside::SameId => w.tr(key::ASIDE_SAME_ID),
        Aside::SameSequence => w.tr(key::ASIDE_SAME_SEQUENCE),
        Aside::ShutOut => w.tr(key::ASIDE_SHUT_OUT),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_office_s_list_reads() {
        let id = "01932c5e-7b1a-7000-8000-000000000001";
        let text = format!(
            r#"{{"aside":[{{"n":1,"received_at_ms":5,"sender":"{id}","reason":{{"why":"bounds","detail":"x"}},"text":"y"}}],
                "alarms":[{{"n":2,"entry":"{id}","thread_broken":true}}]}}"#
        );
        let apart: Apart = serde_json::from_str(&text).unwrap();
        assert_eq!(apart.aside[0].reason, Aside::Bounds { detail: "x".into() });
        assert!(apart.alarms[0].thread_broken && apart.alarms[0].clock_ahead_ms.is_none());
    }
}
