//! While he is collected: a helper taps as it happens, or the phone waits for the cup.

use super::{Flow, head};
use crate::parts::{Action, Band, Kind, Role};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::collecting::{Collecting, Tap, Way};
use pentally_domain::collection::{Outcome, Step};
use pentally_domain::time::{MINUTE_MS, Stamp};

/// Beyond this, enough (common practice, no source): a word, never a sound.
const LONG_MS: i64 = 15 * MINUTE_MS;

pub(super) fn screen(flow: Flow, open: &Collecting) -> AnyView {
    match open.way {
        Some(Way::Helper) => helper(flow, open),
        _ => afterwards(flow, open),
    }
}

fn helper(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let step = |s: Step| view! { <Action word=w.tr(tell::step(s)) on_tap=move |()| flow.tap(Tap::Step(s))/> };
    let next: Vec<_> = open.next_steps().iter().map(|s| step(*s)).collect();
    let given = open.record.steps.iter().any(|t| t.step >= Step::LockOn);
    let last = open.record.steps.last().map(|t| t.step);
    let undo = last.map(|s| {
        let label = w.tr_with(key::COLLECT_UNDO, &[("step", w.tr(tell::step(s)).into())]);
        view! { <Action word=label kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Undo)/> }
    });
    let now = last.map_or_else(|| w.tr(key::COLLECT_UNDER_HELPER), |s| w.tr(tell::step(s)));
    view! {
        {head(flow, open.boar)}
        <div class="words"><p class="big">{now}</p>{clock(flow, open)}</div>
        <div class="actions two">
            {next}
            {given.then(|| step(Step::End))}
        </div>
        <div class="actions two">{undo}{without(flow, open)}</div>
    }
    .into_any()
}

fn afterwards(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    view! {
        {head(flow, open.boar)}
        <Band role=Role::Ready headline=w.tr(key::COLLECT_UNDER_AFTERWARDS) why=w.tr(key::COLLECT_UNDER_AFTERWARDS_WHY)/>
        {clock(flow, open)}
        <div class="actions">
            <Action word=w.tr(key::COLLECT_CUP_SAFE) on_tap=move |()| flow.tap(Tap::Done(Outcome::Collected))/>
        </div>
        <div class="actions two">{without(flow, open)}</div>
    }
    .into_any()
}

/// Nothing came of it: who was seen to mount did mount.
fn without(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let end = |outcome: Outcome, key| view! { <Action word=w.tr(key) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Done(outcome))/> };
    view! {
        {end(Outcome::NothingKept, key::COLLECT_NOTHING_KEPT)}
        {(!open.mounted()).then(|| end(Outcome::NoMount, key::COLLECT_NO_MOUNT))}
    }
    .into_any()
}

/// Time shows, it does not ring. It is worked out from a stored start.
fn clock(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let locked = open
        .record
        .steps
        .iter()
        .find(|t| t.step == Step::LockOn)
        .and_then(|t| t.at);
    let Some(since) = locked.or(open.began_at).map(Stamp::ms) else {
        return ().into_any();
    };
    let key = if locked.is_some() {
        key::COLLECT_SINCE
    } else {
        key::COLLECT_SINCE_START
    };
    let words = move || {
        let passed = flow.feed.now_ms.get() - since;
        let span = w.tr_with(key, &[("span", w.span(passed).into())]);
        if passed > LONG_MS {
            format!("{span}. {}", w.tr(key::COLLECT_LONG))
        } else {
            span
        }
    };
    view! { <p class="words clock">{words}</p> }.into_any()
}
