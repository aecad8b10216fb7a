//! Use now: doses of a batch onto sows, one after the other.

use crate::act::use_act;
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::{batch, rows};
use crate::parts::{Action, Caution, Figure, Keypad, Kind, Stepper, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::SowFacts;
use pentally_domain::fact::Fact;
use pentally_domain::heat::heat_now;
use pentally_domain::id::{EntryId, SowId};
use pentally_domain::said::Label;
use pentally_domain::sow::{By, Service, Sow};

/// The most doses one service takes.
const DOSES_MOST: i64 = 9;
/// Sow numbers on the keypad.
const NUMBERS: Figure = Figure {
    low: 1.0,
    high: 999_999.0,
    decimals: 0,
};
/// How many sows whose number begins as typed are offered.
const OFFERED: usize = 6;

/// `/batch/ENTRY/use`
#[component]
pub fn ServePage(
    /// The batch's entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let typed = RwSignal::new(String::new());
    let doses = RwSignal::new(Some(1_i64));
    let serve = move |sow: Option<SowId>| {
        let Some(made) = feed.barn.with_untracked(|b| b.batch(id)) else {
            return;
        };
        let taken = doses
            .get_untracked()
            .and_then(|n| u8::try_from(n).ok())
            .unwrap_or(1);
        if let Some(over) = over(&w, feed, made.fact.use_by.ms()) {
            return act.say(over);
        }
        let left = feed.barn.with_untracked(|b| batch::left(b, &made));
        if u32::from(taken) > left {
            return act.say(w.tr_with(key::SERVE_TOO_MANY, &[("n", left.into())]));
        }
        let by = |sow| {
            Fact::Service(Service {
                sow,
                by: By::Doses {
                    batch: id,
                    boars: made.fact.sources.iter().map(|s| s.boar).collect(),
                    doses: taken,
                    technique: made.fact.technique,
                },
            })
        };
        let drafts = match (sow, Label::parse(&typed.get_untracked())) {
            (Some(sow), _) => vec![Draft::of(by(sow))],
            (None, Ok(number)) => {
                let new = device::new_id();
                let sow = Draft::of(Fact::Sow(Sow {
                    number,
                    gilt: false,
                }))
                .with_id(new);
                vec![sow, Draft::of(by(new.id().as_sow()))]
            }
            (None, Err(_)) => return act.say(w.tr(key::KEYPAD_EMPTY)),
        };
        act.save(drafts, move |_| typed.set(String::new()));
    };
    let offers = move || {
        let typed = typed.get();
        let sows = feed.barn.with(|b| b.sows());
        let exact = sows.iter().any(|s| s.number() == typed);
        let fitting = fitting(&sows, &typed, feed.now_ms.get_untracked());
        let known = fitting.iter().map(|s| {
            let (sow, word) = (
                s.id,
                w.tr_with(key::SERVE_SOW, &[("number", s.number().into())]),
            );
            view! { <Action word=word on_tap=move |()| serve(Some(sow))/> }.into_any()
        });
        let new = (!exact && !typed.is_empty()).then(|| {
            let word = w.tr_with(key::SERVE_NEW_SOW, &[("number", typed.clone().into())]);
            view! { <Action word=word kind=Kind::Quiet on_tap=move |()| serve(None)/> }.into_any()
        });
        known.chain(new).collect::<Vec<_>>()
    };
    let left = move || {
        feed.barn.with(|b| {
            b.batch(id)
                .map(|made| (batch::left(b, &made), made.fact.code))
        })
    };
    let why = move || {
        left().map(|(n, code)| {
            w.tr_with(
                key::SERVE_LEFT,
                &[("n", n.into()), ("code", code.to_string().into())],
            )
        })
    };
    let withdrawal = move || {
        feed.barn
            .with(|b| b.batch(id))
            .is_some_and(|b| b.fact.antibiotic != Some(false))
    };
    view! {
        <Title headline=w.tr(key::SERVE_WHICH) why=Signal::derive(move || why().unwrap_or_default())/>
        <Stepper asked=w.tr(key::SERVE_DOSES) value=doses start=1 low=1 high=DOSES_MOST/>
        <Keypad typed=typed figure=NUMBERS unit=String::new()/>
        <div class="actions">{offers}</div>
        <Show when=withdrawal><div class="words"><Caution says=w.tr(key::BATCH_WITHDRAWAL)/></div></Show>
        <ul class="rows">{rows::link(paths::batch(id), None, w.tr(key::SERVE_DONE), String::new(), String::new())}</ul>
        <div class="grow"></div>
    }
    .into_any()
}

/// Says that the doses are past their use.
fn over(w: &Words, feed: Feed, use_by_ms: i64) -> Option<String> {
    let now_ms = feed.now_ms.get_untracked();
    (use_by_ms < now_ms).then(|| {
        let zone = feed.barn.with_untracked(|b| b.zone_at(now_ms));
        let when = tell::moment(w, &zone, use_by_ms, now_ms);
        w.tr_with(key::SERVE_OVER, &[("when", when.into())])
    })
}

/// The sows whose number, or the figures in it, begin as typed: letters cannot be typed on the pad.
/// Before anything is typed all who stand.
fn fitting<'a>(sows: &'a [SowFacts], typed: &str, now_ms: i64) -> Vec<&'a SowFacts> {
    if typed.is_empty() {
        let stands = |s: &&SowFacts| heat_now(&s.heats, now_ms).is_some();
        return sows.iter().filter(stands).collect();
    }
    let begins = |s: &&SowFacts| {
        let number = s.number();
        let figures: String = number.chars().filter(char::is_ascii_digit).collect();
        number.starts_with(typed) || figures.starts_with(typed)
    };
    sows.iter().filter(begins).take(OFFERED).collect()
}
