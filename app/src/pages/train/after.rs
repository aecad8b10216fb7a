//! Afterwards: how far he came, how long it was, what went wrong; save.

use super::{Flow, head, leave};
use crate::pages::collect::choice;
use crate::parts::{Action, Band, Chips, Kind, ManyChips, Role, Title};
use crate::tell;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::training::under_way::{DAYS_BACK, Tap, UnderWay};
use pentally_domain::training::{Lure, Mishap, Touch};
use pentally_domain::units::{Score, SessionMinutes};

/// Minutes that can be tapped; a session ends by 15 to 20 (common practice).
const MINUTES: [u32; 6] = [5, 8, 10, 12, 15, 20];
const LURES: [Lure; 3] = [Lure::SowScent, Lure::BoarScent, Lure::OthersWatched];

/// How far did he come?
pub(super) fn score(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let one = move |score: Score| {
        let word = format!("{} {}", score.value(), w.tr(tell::score(score)));
        view! { <Action word=word on_tap=move |()| flow.tap(Tap::Score(score))/> }
    };
    let all = (Score::LOW..=Score::HIGH).filter_map(|n| Score::new(n.into()).ok());
    let number = super::titled(flow, key::TRAIN_TITLE, open.boar);
    view! {
        <Title headline=w.tr(key::TRAIN_HOW_FAR) why=number/>
        <div class="actions two">{all.map(one).collect_view()}</div>
        {back(flow)}
    }
    .into_any()
}

/// How long was it?
pub(super) fn minutes(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    if open.record.asks_minutes() {
        return odd(flow, open);
    }
    let number = super::titled(flow, key::TRAIN_TITLE, open.boar);
    // A clock that ran longer than any session is not believed, and the page says why it asks.
    let ran = open.clocked().filter(|n| *n > SessionMinutes::HIGH.into());
    let ran = ran.map(|n| {
        let span = w.span(i64::from(n) * MINUTE_MS);
        let says = w.tr_with(key::TRAIN_CLOCK_RAN, &[("span", span.into())]);
        view! { <p class="words">{says}</p> }
    });
    let one = move |n: u32| {
        let word = w.span(i64::from(n) * MINUTE_MS);
        let take = move |()| {
            if let Ok(minutes) = SessionMinutes::new(n) {
                flow.tap(Tap::Minutes(minutes));
            }
        };
        view! { <Action word=word on_tap=take/> }
    };
    view! {
        <Title headline=w.tr(key::TRAIN_HOW_LONG) why=number/>
        {ran}
        <div class="actions two">{MINUTES.map(one).collect_view()}</div>
        <div class="actions"><Action word=w.tr(key::TRAIN_NOT_TIMED) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::NotTimed)/></div>
        {back(flow)}
    }
    .into_any()
}

fn odd(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let n = open.record.minutes.value().map_or(0, |m| m.value());
    let says = w.tr_with(key::TRAIN_MINUTES_ODD, &[("n", n.into())]);
    view! {
        {head(flow, open.boar)}
        <Band role=Role::Unknown headline=w.tr_with(key::SPAN_MINUTES, &[("n", n.into())]) why=says/>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_AMOUNT_AGAIN) on_tap=move |()| flow.tap(Tap::MinutesAgain)/>
            <Action word=w.tr(key::COLLECT_AMOUNT_RIGHT) on_tap=move |()| flow.tap(Tap::MinutesAreRight)/>
        </div>
    }
    .into_any()
}

/// What went wrong, what helped; save.
pub(super) fn finish(flow: Flow, open: &UnderWay) -> AnyView {
    let w = flow.w;
    let mut says = vec![tell::trained(&w, &open.record)];
    says.extend(tell::trained_how(&w, &open.record).into_iter().take(1));
    let mishaps = Mishap::ALL.map(|m| (m, w.tr(tell::mishap(m)))).to_vec();
    let touch = [Touch::Body, Touch::Sheath];
    let touch = touch.map(|t| (t, w.tr(tell::touch(t)))).to_vec();
    let lures = LURES.map(|l| (l, w.tr(tell::lure(l)))).to_vec();
    let r = &open.record;
    let mishap = many(&r.mishaps, move |m| flow.tap(Tap::Mishaps(m)));
    let touched = many(&r.touch, move |t| flow.tap(Tap::Touch(t)));
    let lured = many(&r.lures, move |l| flow.tap(Tap::Lures(l)));
    view! {
        {head(flow, open.boar)}
        <p class="words big">{says.join(", ")}</p>
        {days_ago(flow, open)}
        <ManyChips asked=w.tr(key::COLLECT_TROUBLE) options=mishaps chosen=mishap/>
        <ManyChips asked=w.tr(key::TRAIN_TOUCH) options=touch chosen=touched/>
        <ManyChips asked=w.tr(key::TRAIN_LURES) options=lures chosen=lured/>
        {helper(flow, open)}
        <div class="actions stays"><Action word=w.tr(key::SAVE) on_tap=move |()| flow.save()/></div>
        {back(flow)}
        {leave(flow, open.boar)}
    }
    .into_any()
}

/// On which day it was, where the phone's clock did not run.
fn days_ago(flow: Flow, open: &UnderWay) -> Option<AnyView> {
    let entered = open.entered_at.filter(|_| open.began_at.is_none())?;
    let w: Words = flow.w;
    let zone = flow.feed.barn.with_untracked(|b| b.zone_at(entered.ms()));
    let today = zone.day(entered.ms());
    let options = (0..=DAYS_BACK).filter_map(|n| {
        let day = today.checked_sub_days(chrono::Days::new(n.into()))?;
        Some((n, w.near_day(day, today)))
    });
    let chosen = choice(Some(open.days_ago), move |n| {
        flow.tap(Tap::DaysAgo(n.unwrap_or(0)))
    });
    Some(
        view! { <Chips asked=w.tr(key::TRAIN_WHEN) options=options.collect() chosen=chosen/> }
            .into_any(),
    )
}

fn helper(flow: Flow, open: &UnderWay) -> Option<AnyView> {
    let own = flow.feed.person.get_untracked();
    let people = flow.feed.barn.with_untracked(|b| b.people());
    let options: Vec<_> = people
        .into_iter()
        .filter(|(id, _)| Some(*id) != own)
        .filter_map(|(id, name)| Some((id, name?)))
        .collect();
    let chosen = choice(open.record.helper, move |h| flow.tap(Tap::Helper(h)));
    (!options.is_empty()).then(|| {
        view! { <Chips asked=flow.w.tr(key::TRAIN_HELPER) options=options chosen=chosen/> }
            .into_any()
    })
}

fn back(flow: Flow) -> AnyView {
    view! {
        <div class="actions"><Action word=flow.w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Back)/></div>
    }
    .into_any()
}

/// Any number of answers that are a tap of the flow.
pub(super) fn many<T: Clone + PartialEq + Send + Sync + 'static>(
    chosen: &[T],
    tap: impl Fn(Vec<T>) + 'static,
) -> RwSignal<Vec<T>> {
    let signal = RwSignal::new(chosen.to_vec());
    Effect::new(move |before: Option<Vec<T>>| {
        let now = signal.get();
        if before.is_some_and(|b| b != now) {
            tap(now.clone());
        }
        now
    });
    signal
}
