//! Everything that is not this boar, today or the bench.

use crate::act::use_act;
use crate::device;
use crate::feed::{Link, use_feed};
use crate::office::{self, Body};
use crate::pages::rows;
use crate::pages::send::SendNow;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::paths;
use crate::words::{Lang, key, switch_language, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// `/more`
#[component]
pub fn MorePage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let feed = use_feed();
    let lang = use_context::<RwSignal<Lang>>();
    let places = move || {
        let go = |href: &str, drawing, key| {
            rows::link(
                href.to_owned(),
                Some(drawing),
                w.tr(key),
                String::new(),
                String::new(),
            )
        };
        let sows = feed.is_none_or(|feed| feed.holds_sows());
        let sows = sows.then(|| go(paths::SOWS, Drawing::Sow, key::MORE_SOWS));
        let first = [
            go(paths::BOARS, Drawing::Boar, key::MORE_BOARS),
            go(paths::TRAINING, Drawing::Dummy, key::TRAINING_TITLE),
            go(paths::LEARN, Drawing::Glove, key::MORE_LEARN),
            go(paths::PENS, Drawing::PenGate, key::MORE_PENS),
        ];
        let others = [
            go(paths::LOG, Drawing::Board, key::MORE_LOG),
            go(paths::EXTENDER, Drawing::Drop, key::MORE_EXTENDER),
            go(paths::STANDARD, Drawing::Thermometer, key::MORE_STANDARD),
            go(paths::PEOPLE, Drawing::TwoPeople, key::MORE_PEOPLE),
            go(paths::CHECKS, Drawing::Tick, key::MORE_CHECKS),
            go(paths::CLIMATE, Drawing::Heat, key::MORE_CLIMATE),
            go(
                paths::INSTRUMENTS,
                Drawing::ChamberGrid,
                key::MORE_INSTRUMENTS,
            ),
            go(paths::WATCH, Drawing::Warning, key::MORE_WATCH),
            go(paths::COMPARE, Drawing::Boar, key::MORE_COMPARE),
            go(paths::IMPORT, Drawing::Office, key::MORE_IMPORT),
            go(paths::BACKUP, Drawing::Phone, key::MORE_BACKUP),
            go(paths::PHONES, Drawing::Phone, key::MORE_PHONES),
            go(paths::NETWORK, Drawing::Office, key::MORE_NETWORK),
            go(paths::ASIDE, Drawing::Bar, key::MORE_ASIDE),
            go(paths::BAD_MOMENT, Drawing::Warning, key::BOAR_BAD_MOMENT),
        ];
        first.into_iter().chain(sows).chain(others)
    };
    let other = move || match w.lang() {
        Lang::En => (Lang::Es, key::LANGUAGE_ES),
        Lang::Es => (Lang::En, key::LANGUAGE_EN),
    };
    let switch = move |()| {
        let to = other().0;
        if let Some(lang) = lang {
            lang.set(to);
        }
        switch_language(to);
    };
    let send = SendNow::new(feed);
    let keep = move |()| {
        spawn_local(async move {
            let kept = device::ask_persist().await;
            act.say(w.tr(if kept == Some(true) {
                key::MORE_KEPT
            } else {
                key::MORE_NOT_KEPT
            }));
        });
    };
    // Not where the invented log itself is the office's.
    let invented = move || {
        feed.is_some_and(|f| {
            let none = |l: &Link| l.hello.as_ref().is_some_and(|h| h.farm.is_none());
            f.is_invented() && f.link.with(|l| l.says_invented() || none(l))
        })
    };
    let leave = move |()| {
        spawn_local(async move {
            let body = Body::Json(r#"{"leave_invented":true}"#.to_owned());
            match office::ask("POST", "/api/v1/start", Some(body)).await {
                Ok(_) => act.told(device::forget_farm().await, |()| {
                    device::load_page(Some("/"));
                }),
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let update = move || feed.is_some_and(|f| f.link.with(|l| l.update_ready));
    view! {
        <Title headline=Signal::derive(move || w.tr(key::PLACE_MORE))/>
        <ul class="rows">{move || places().collect_view()}</ul>
        <div class="actions two">
            <Action word=Signal::derive(move || w.tr(other().1)) kind=Kind::Quiet on_tap=switch/>
            {send.action()}
            <Show when=invented>
                <Action word=Signal::derive(move || w.tr(key::MORE_LEAVE_INVENTED)) kind=Kind::Quiet on_tap=leave/>
            </Show>
            <Action word=Signal::derive(move || w.tr(key::MORE_KEEP)) kind=Kind::Quiet on_tap=keep/>
            <Show when=update>
                <Action word=Signal::derive(move || w.tr(key::MORE_UPDATE)) kind=Kind::Quiet on_tap=move |()| device::take_update()/>
            </Show>
        </div>
        {send.says()}
        <p class="words small quiet">{move || w.tr(key::MORE_CAUTION)}</p>
        <div class="grow"></div>
    }
}
