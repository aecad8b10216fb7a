//! A pen's tag was scanned: the boar in it, a choice, or empty.

use crate::feed::use_feed;
use crate::pages::{boar::BoarView, rows};
use crate::parts::{Action, Band, Drawing, Kind, Role};
use crate::screens::LastBoar;
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts, PenFacts};
use pentally_domain::code::Code;
use pentally_domain::rest::standing;

/// `/T/CODE`
#[component]
pub fn TagPage(
    /// As it stands in the address.
    code: String,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let Ok(read) = Code::parse(&code) else {
        let why = w.tr_with(key::TAG_BAD_WHY, &[("read", code.into())]);
        return stop(&w, w.tr(key::TAG_BAD), why);
    };
    // Which boar it is, not what is known of him: the page below follows that by itself.
    let found = Memo::new(move |_| {
        let whole = feed.link.with(|l| l.whole);
        feed.barn.with(|barn| find(barn, read, whole))
    });
    let last = use_context::<LastBoar>();
    (move || match found.get() {
        Found::One(id) => {
            if let Some(last) = last {
                last.0.set(Some(id));
            }
            view! { <BoarView id/> }.into_any()
        }
        Found::Reading => view! { <p class="words big">{w.tr(key::READING)}</p> }.into_any(),
        Found::Other => feed
            .barn
            .with(|barn| other(&w, barn, read, feed.now_ms.get())),
    })
    .into_any()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Found {
    One(pentally_domain::id::BoarId),
    Other,
    /// Who is in it is known only once every boar was read.
    Reading,
}

fn find(barn: &Barn, code: Code, whole: bool) -> Found {
    let pens = barn.pens_of_code(code);
    if !whole && pens.iter().any(|pen| pen.perhaps_more) {
        return Found::Reading;
    }
    let boars: Vec<_> = pens.iter().flat_map(|pen| barn.boars_in(pen)).collect();
    match &boars[..] {
        [one] => Found::One(one.id),
        _ => Found::Other,
    }
}

fn other(w: &Words, barn: &Barn, code: Code, now_ms: i64) -> AnyView {
    let pens = barn.pens_of_code(code);
    let boars: Vec<_> = pens.iter().flat_map(|pen| barn.boars_in(pen)).collect();
    let Some(pen) = pens.first() else {
        // No code known here is given out twice: somebody typed what stands on a dose.
        if let Some(batch) = barn.batches_of_code(code).first() {
            let (to, name) = (paths::batch(batch.entry()), code.to_string());
            let link = rows::link(to, Some(Drawing::Dose), name, String::new(), String::new());
            return view! {
                <Band role=Role::Unknown headline=w.tr(key::TAG_IS_BATCH) why=w.tr(key::TAG_IS_BATCH_WHY)/>
                <ul class="rows">{link}</ul><div class="grow"></div>
            }
            .into_any();
        }
        return stop(
            w,
            w.tr(key::TAG_UNKNOWN),
            w.tr_with(key::TAG_UNKNOWN_WHY, &[("code", code.to_string().into())]),
        );
    };
    if boars.is_empty() {
        empty(w, pen)
    } else {
        choice(w, barn, pen, &boars, now_ms)
    }
}

fn name(pen: &PenFacts) -> String {
    pen.pen
        .as_ref()
        .map(|p| p.fact.name.as_str().to_owned())
        .unwrap_or_default()
}

fn empty(w: &Words, pen: &PenFacts) -> AnyView {
    let why = w.tr_with(key::PEN_EMPTY_WHY, &[("pen", name(pen).into())]);
    view! {
        <Band role=Role::Unknown headline=w.tr(key::PEN_EMPTY) why=why/>
        <div class="grow"></div>
        <div class="actions"><Action word=w.tr(key::PEN_MOVE_IN) drawing=Drawing::PenGate href=paths::pen(pen.id)/></div>
    }
    .into_any()
}

fn choice(w: &Words, barn: &Barn, pen: &PenFacts, boars: &[BoarFacts], now_ms: i64) -> AnyView {
    let args = [("n", boars.len().into()), ("pen", name(pen).into())];
    let (zone, holding) = (barn.zone_at(now_ms), barn.standard());
    let row = |boar: &BoarFacts| {
        let told = tell::standing(w, &standing(boar, &holding.standard, &zone, now_ms), None);
        let ear = boar
            .boar
            .as_ref()
            .and_then(|b| b.fact.ear.as_ref())
            .map(|e| e.as_str().to_owned());
        rows::link(
            paths::boar(boar.id),
            Some(told.role.drawing()),
            boar.number(),
            ear.unwrap_or_default(),
            told.headline,
        )
    };
    view! {
        <Band role=Role::Unknown headline=w.tr(key::PEN_WHICH) why=w.tr_with(key::PEN_WHICH_WHY, &args)/>
        <ul class="rows">{boars.iter().map(row).collect_view()}</ul>
        <div class="grow"></div>
    }
    .into_any()
}

fn stop(w: &Words, headline: String, why: String) -> AnyView {
    view! {
        <Band role=Role::Unknown headline=headline why=why/>
        <div class="grow"></div>
        <div class="actions">
            <Action word=w.tr(key::SCAN_TITLE) drawing=Drawing::Scan href=paths::SCAN/>
            <Action word=w.tr(key::MORE_BOARS) kind=Kind::Quiet href=paths::BOARS/>
        </div>
    }
    .into_any()
}
