//! What the log speaks of and does not have, as the office tells it.

use crate::office;
use crate::pages::rows;
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::id::{BoarId, PenId, SowId};
use serde::Deserialize;

/// The answer to `GET /api/v1/missing`.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
struct Missing {
    lost: usize,
    awaited: usize,
    boars: Vec<BoarId>,
    pens: Vec<PenId>,
    sows: Vec<SowId>,
}

/// Shown only where something is missing: after a disk died and the phones sent all they hold.
#[component]
pub fn WhatIsMissing() -> impl IntoView {
    let w = use_words();
    let missing = RwSignal::new(Missing::default());
    Effect::new(move |_| {
        spawn_local(async move {
            // An office that does not answer is said where it is asked for a backup.
            missing.set(office::get("/api/v1/missing").await.unwrap_or_default());
        });
    });
    move || missing.with(|m| (*m != Missing::default()).then(|| told(&w, m)))
}

fn told(w: &Words, missing: &Missing) -> AnyView {
    let lines = [
        (missing.lost, key::MISSING_LOST),
        (missing.awaited, key::MISSING_AWAITED),
        (missing.boars.len(), key::MISSING_BOARS),
        (missing.pens.len(), key::MISSING_PENS),
        (missing.sows.len(), key::MISSING_SOWS),
    ];
    let lines = lines.into_iter().filter(|(n, _)| *n > 0);
    let lines = lines
        .map(|(n, key)| view! { <p>{w.tr_with(key, &[("n", n.into())])}</p> })
        .collect_view();
    let none = String::new;
    let boars = missing.boars.iter().enumerate().map(|(i, id)| {
        let says = w.tr_with(key::MISSING_BOAR, &[("n", (i + 1).into())]);
        rows::link(paths::boar(*id), None, says, none(), none())
    });
    view! {
        <section class="words"><h2>{w.tr(key::MISSING_TITLE)}</h2>{lines}</section>
        <ul class="rows">{boars.collect_view()}</ul>
    }
    .into_any()
}
