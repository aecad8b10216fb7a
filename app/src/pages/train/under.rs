//! While he is in: the time at arm's length, when it is enough, and what a helper sees.

use super::{Flow, titled};
use crate::device;
use crate::pages::bad_moment::BadMoment;
use crate::parts::{Action, Band, Kind, Role};
use crate::tell;
use crate::words::{Key, key};
use leptos::prelude::*;
use pentally_domain::farm::Standard;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::training::Lesson;
use pentally_domain::training::under_way::{Sight, Sign, Tap, UnderWay};

pub(super) fn screen(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let standard = flow.feed.barn.with_untracked(|b| b.standard()).standard;
    let session = open.record.what == Lesson::Session;
    view! {
        {board(flow, open, standard)}
        <div class="actions stays"><Action word=w.tr(key::TRAIN_OVER) on_tap=move |()| flow.tap(Tap::Over)/></div>
        {session.then(|| sights(flow, open))}
        <div class="actions"><Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Back)/></div>
    }
    .into_any()
}

/// The clock is worked out from a stored start; the board changes with it, and rings never.
fn board(flow: Flow, open: &UnderWay, standard: Standard) -> AnyView {
    let w = flow.w;
    let title = titled(flow, key::TRAIN_TITLE, open.boar);
    let (clocked, limits) = (open.clone(), standard.clone());
    let elapsed = move || clocked.elapsed_ms(flow.feed.now_ms.get()).unwrap_or(0);
    let minutes = move || (elapsed() / MINUTE_MS).to_string();
    let (signed, n) = (open.clone(), standard.session_minutes);
    let idle = standard.session_minutes_without_interest;
    let sign = Memo::new(move |_| signed.sign(&limits, flow.feed.now_ms.get()));
    let role = Signal::derive(move || role(sign.get()));
    let headline = Signal::derive(move || w.tr(sign_keys(sign.get()).0));
    let why = Signal::derive(move || {
        let n = if sign.get() == Sign::EnoughIfIdle {
            idle
        } else {
            n
        };
        w.tr_with(sign_keys(sign.get()).1, &[("n", n.into())])
    });
    // What he did stands above what the clock says, as long as the session lasts.
    let band = if open.was_aggressive() {
        view! {
            <Band role=Role::Stop headline=w.tr(key::SCORE_2) why=w.tr(key::SIGN_AGGRESSIVE_WHY)><b>{title}</b><BadMoment/></Band>
            <p class="words"><b>{headline}</b><br/>{why}</p>
        }
        .into_any()
    } else {
        view! { <Band role=role headline=headline why=why><b>{title}</b><BadMoment/></Band> }
            .into_any()
    };
    view! {
        {band}
        <p class="words"><span class="figure huge clock">{minutes}<span class="unit">{w.tr(key::UNIT_MIN)}</span></span></p>
    }
    .into_any()
}

const fn role(sign: Sign) -> Role {
    match sign {
        Sign::GoOn | Sign::Mounted => Role::Ready,
        Sign::EnoughIfIdle | Sign::EnoughIfDown => Role::Rest,
        Sign::Enough => Role::Stop,
    }
}

const fn sign_keys(sign: Sign) -> (Key, Key) {
    match sign {
        Sign::GoOn => (key::SIGN_GO_ON, key::SIGN_GO_ON_WHY),
        Sign::Mounted => (key::SIGN_MOUNTED, key::SIGN_MOUNTED_WHY),
        Sign::EnoughIfIdle => (key::SIGN_ENOUGH_IF, key::SIGN_ENOUGH_IF_IDLE_WHY),
        Sign::EnoughIfDown => (key::SIGN_ENOUGH_IF, key::SIGN_ENOUGH_IF_DOWN_WHY),
        Sign::Enough => (key::SIGN_ENOUGH, key::SIGN_ENOUGH_WHY),
    }
}

/// What a helper sees; nothing asks for it.
fn sights(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let word = move |sight: Sight| match sight {
        Sight::Reached(score) => w.tr(tell::score(score)),
        Sight::Down => w.tr(key::SIGHT_DOWN),
    };
    let buttons: Vec<_> = open
        .next_sights()
        .into_iter()
        .map(|sight| view! { <Action word=word(sight) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Sight(sight))/> })
        .collect();
    let last = open.seen.last().map(|sight| {
        let undo = w.tr_with(key::COLLECT_UNDO, &[("step", word(*sight).into())]);
        view! { <Action word=undo kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Undo)/> }
    });
    view! {
        <div class="actions two">{buttons}</div>
        <p class="words small quiet">{w.tr(key::TRAIN_HELPER_TAPS)}</p>
        <div class="actions">{last}</div>
    }
    .into_any()
}

/// Shakes the phone once each time it becomes enough, where it was asked to and nothing is startled.
pub(super) fn shake(flow: Flow) {
    Effect::new(move |before: Option<bool>| {
        let now_ms = flow.feed.now_ms.get();
        let shakes = flow.work.with(|work| {
            let open = work.as_ref().filter(|w| w.shake && w.ended_at.is_none());
            open.is_some_and(|open| {
                let standard = flow.feed.barn.with_untracked(|b| b.standard()).standard;
                open.shakes(&standard, now_ms)
            })
        });
        if shakes && before == Some(false) {
            device::shake();
        }
        shakes
    });
}
