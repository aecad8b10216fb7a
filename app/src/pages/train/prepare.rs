//! Before: what is known of him, the cautions, a reason if he is young; then go.

use super::after::many;
use super::{Flow, head, leave};
use crate::pages::collect::choice;
use crate::parts::{Action, Caution, Chips, Kind, ManyChips};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::farm::Standard;
use pentally_domain::training::advice::{Advice, advice};
use pentally_domain::training::state::{State, progress};
use pentally_domain::training::under_way::{Tap, UnderWay};
use pentally_domain::training::{Early, Lesson};

const REASONS: [Early; 4] = [Early::Keen, Early::Needed, Early::Advised, Early::AgeWrong];

/// What the log knows of him as he is taken out.
struct Known {
    standard: Standard,
    advice: Vec<Advice>,
    says: Vec<String>,
    visits_first: bool,
}

pub(super) fn screen(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let known = known(flow, open);
    let two = known.as_ref().is_some_and(|k| {
        let mut list = k.advice.iter();
        list.any(|a| matches!(a, Advice::TwoPeople { .. }))
    });
    let says = known.as_ref().map(|k| k.says.clone()).unwrap_or_default();
    let limit = known.as_ref().map_or(15, |k| k.standard.session_minutes);
    let quiet = w.tr_with(key::TRAIN_QUIET, &[("n", limit.into())]);
    let visits_first = known.as_ref().is_some_and(|k| k.visits_first);
    let now_ms = crate::office::now_ms();
    let barn = flow.feed.barn;
    let area = barn.with_untracked(|b| tell::area(&w, b, now_ms));
    view! {
        {head(flow, open.boar)}
        {area.map(|says| view! { <section class="words"><Caution says=says/></section> })}
        {(!says.is_empty()).then(|| said(says, two))}
        {open.asks_reason.then(|| early(flow, open))}
        {go(flow, open, visits_first)}
        <section class="words"><Caution says=w.tr(key::COLLECT_CAUTION)/><p>{quiet}</p></section>
        {shakes(flow, open)}
        {leave(flow, open.boar)}
    }
    .into_any()
}

/// What his sessions suggest; the first line is a caution where two people go in.
fn said(says: Vec<String>, two: bool) -> AnyView {
    let line = |(n, line): (usize, String)| {
        if two && n == 0 {
            view! { <Caution says=line/> }.into_any()
        } else {
            view! { <p>{line}</p> }.into_any()
        }
    };
    let lines = says.into_iter().enumerate().map(line).collect_view();
    view! { <section class="words">{lines}</section> }.into_any()
}

fn known(flow: Flow, open: &UnderWay) -> Option<Known> {
    let (w, now_ms) = (flow.w, crate::office::now_ms());
    flow.feed.barn.with_untracked(|barn| {
        let boar = barn.boar(open.boar)?;
        let (zone, standard) = (barn.zone_at(now_ms), barn.standard().standard);
        let progress = progress(&boar, &standard, &zone, now_ms);
        let advice = advice(&boar, &progress, &zone);
        let says = advice.iter().map(|a| tell::advice(&w, a, progress.today));
        Some(Known {
            standard,
            says: says.collect(),
            advice,
            visits_first: matches!(progress.state, State::Acclimatising { visits: 0 }),
        })
    })
}

/// What is known of an early start, and the reason of one who goes on.
fn early(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let options = REASONS
        .iter()
        .map(|r| (*r, w.tr(tell::early(*r))))
        .collect();
    let chosen = choice(open.record.early, move |r| flow.tap(Tap::Early(r)));
    view! {
        <section class="words"><p>{w.tr(key::TRAIN_EARLY_WHY)}</p></section>
        <Chips asked=w.tr(key::TRAIN_EARLY) options=options chosen=chosen/>
    }
    .into_any()
}

fn go(flow: Flow, open: &UnderWay, visits_first: bool) -> AnyView {
    let w = flow.w;
    // A session waits for the reason above it.
    let blocked = open.blocked(Lesson::Session).is_some();
    let waits = move |what: Lesson| blocked && what == Lesson::Session;
    let begin = move |what: Lesson, kind: Kind| {
        let key = match what {
            Lesson::Session => key::TRAIN_GO_SESSION,
            Lesson::Visit => key::TRAIN_GO_VISIT,
        };
        view! { <Action word=w.tr(key) kind=kind off=waits(what) on_tap=move |()| flow.tap(Tap::Begin(what))/> }
    };
    if open.began_at.is_some() {
        let what = open.record.what;
        return view! {
            <div class="actions stays"><Action word=w.tr(key::BOAR_TRAIN_GO_ON) on_tap=move |()| flow.tap(Tap::Begin(what))/></div>
        }
        .into_any();
    }
    let afterwards = move |what: Lesson, key| view! { <Action word=w.tr(key) kind=Kind::Quiet off=waits(what) on_tap=move |()| flow.tap(Tap::Afterwards(what))/> };
    let (first, second) = if visits_first {
        (Lesson::Visit, Lesson::Session)
    } else {
        (Lesson::Session, Lesson::Visit)
    };
    view! {
        <div class="actions stays">
            {blocked.then(|| view! { <p class="small" role="status">{w.tr(key::TRAIN_WAITS_REASON)}</p> })}
            {begin(first, Kind::Primary)}
        </div>
        <div class="actions">{begin(second, Kind::Quiet)}</div>
        <div class="actions two">
            {afterwards(Lesson::Session, key::TRAIN_AFTER_SESSION)}
            {afterwards(Lesson::Visit, key::TRAIN_AFTER_VISIT)}
        </div>
    }
    .into_any()
}

/// Shaking is asked for, never the rule; a phone that cannot is not asked.
fn shakes(flow: Flow, open: &UnderWay) -> Option<AnyView> {
    let w = flow.w;
    crate::device::can_shake().then(|| {
        let options = vec![((), w.tr(key::TRAIN_SHAKE_CHIP))];
        let asked = if open.shake { vec![()] } else { vec![] };
        let chosen = many(&asked, move |all| flow.tap(Tap::Shake(!all.is_empty())));
        view! {
            <ManyChips asked=w.tr(key::TRAIN_SHAKE) options=options chosen=chosen/>
            <p class="words small quiet">{w.tr(key::TRAIN_SHAKE_WHY)}</p>
        }
        .into_any()
    })
}
