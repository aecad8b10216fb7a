//! Before: the glove, the mount, what to prepare, the cautions; then go.

use super::{Flow, blocked_key, choice, head, leave};
use crate::parts::{Action, Band, Caution, Chips, Kind, ManyChips, Role};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::barn::SowFacts;
use pentally_domain::collecting::{Blocked, Collecting, Ready, Tap, Way};
use pentally_domain::collection::{Despite, Glove, Mount};
use pentally_domain::heat::heat_now;
use pentally_domain::said::Said;

const GLOVES: [Glove; 4] = [
    Glove::Vinyl,
    Glove::Nitrile,
    Glove::Polyethylene,
    Glove::Latex,
];
const REASONS: [Despite; 5] = [
    Despite::SowsWait,
    Despite::LastFailed,
    Despite::Practice,
    Despite::Veterinarian,
    Despite::RecordWrong,
];

pub(super) fn screen(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let asks_glove = RwSignal::new(!matches!(open.record.glove, Said::ByDefault(_)));
    let asks_mount = RwSignal::new(false);
    // What a tap brings stands below it: nothing moves under the finger.
    let blocked = open.blocked();
    let waits = blocked.map(blocked_key);
    let off = waits.is_some();
    let go = move |way: Way| view! { <Action word=w.tr(tell::go(way)) off=off on_tap=move |()| flow.tap(Tap::Go(way))/> };
    view! {
        {head(flow, open.boar)}
        {area(flow)}
        {glove(flow, open, asks_glove)}
        {(blocked == Some(Blocked::Latex)).then(|| view! {
            <Band role=Role::Stop headline=w.tr(key::GLOVE_LATEX_STOP) why=w.tr(key::GLOVE_LATEX_WHY)/>
        })}
        {open.against_advice.then(|| reason(flow, open))}
        <section class="words"><Caution says=w.tr(key::COLLECT_CAUTION)/></section>
        {mount(flow, open, asks_mount)}
        {ready_list(flow, open)}
        <div class="actions two stays">
            {waits.map(|why| view! { <p class="small wide" role="status">{w.tr(why)}</p> })}
            {go(Way::Helper)}{go(Way::Afterwards)}
        </div>
        {leave(flow, open.boar)}
    }
    .into_any()
}

/// Where somebody found the area not fine, that comes before everything else.
fn area(flow: Flow) -> Option<AnyView> {
    let now_ms = crate::office::now_ms();
    let barn = flow.feed.barn;
    let says = barn.with_untracked(|b| tell::area(&flow.w, b, now_ms))?;
    Some(view! { <section class="words"><Caution says=says/></section> }.into_any())
}

/// What is to be ready; ticked or passed over.
fn ready_list(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let options = open.to_prepare().iter();
    let options = options.map(|r| (*r, w.tr(tell::ready(*r)))).collect();
    let ticked = RwSignal::new(open.ready.clone());
    Effect::new(move |before: Option<Vec<Ready>>| {
        let now = ticked.get();
        if before.is_some_and(|b| b != now) {
            flow.tap(Tap::Ready(now.clone()));
        }
        now
    });
    view! { <ManyChips asked=w.tr(key::COLLECT_PREPARE) options=options chosen=ticked/> }.into_any()
}

fn glove(flow: Flow, open: &Collecting, asks: RwSignal<bool>) -> AnyView {
    let w = flow.w;
    let chosen = open.record.glove.value().copied();
    let is = chosen.map(|g| {
        w.tr_with(
            key::COLLECT_GLOVE_IS,
            &[("glove", w.tr(tell::glove(g)).into())],
        )
    });
    let confirmed = chosen.filter(|g| open.record.glove == Said::Confirmed(*g));
    let chips = move || {
        let options = GLOVES.iter().map(|g| (*g, w.tr(tell::glove(*g)))).collect();
        let chosen = choice(confirmed, move |g| flow.tap(Tap::Glove(g)));
        view! { <Chips asked=w.tr(key::COLLECT_GLOVE) options=options chosen=chosen/> }
    };
    let nitrile = (chosen == Some(Glove::Nitrile))
        .then(|| view! { <Caution says=w.tr(key::GLOVE_NITRILE_WORD)/> });
    view! {
        <section class="words">
            {move || if asks.get() {
                chips().into_any()
            } else {
                view! {
                    <p class="said">{is.clone()}</p>
                    <Action word=w.tr(key::COLLECT_CHANGE) kind=Kind::Quiet on_tap=move |()| asks.set(true)/>
                }.into_any()
            }}
            {nitrile}
        </section>
    }
    .into_any()
}

fn mount(flow: Flow, open: &Collecting, asks: RwSignal<bool>) -> AnyView {
    let w = flow.w;
    let chosen = open.record.mount.value().copied();
    let is = chosen.map(|m| {
        w.tr_with(
            key::COLLECT_MOUNT_IS,
            &[("mount", w.tr(tell::mount(m)).into())],
        )
    });
    view! {
        <section class="words">
            {move || if asks.get() {
                let options = [Mount::Dummy, Mount::Sow(None)].map(|m| (m, w.tr(tell::mount(m)))).to_vec();
                let chosen = choice(chosen, move |m| if let Some(m) = m { flow.tap(Tap::Mount(m)) });
                view! { <Chips asked=w.tr(key::COLLECT_MOUNT) options=options chosen=chosen/> }.into_any()
            } else {
                view! {
                    <p class="said">{is.clone()}</p>
                    <Action word=w.tr(key::COLLECT_CHANGE) kind=Kind::Quiet on_tap=move |()| asks.set(true)/>
                }.into_any()
            }}
        </section>
        {which_sow(flow, chosen)}
    }
    .into_any()
}

/// Off which sow: those who stand by the log; without an answer it stays "a sow".
fn which_sow(flow: Flow, mount: Option<Mount>) -> Option<AnyView> {
    let Some(Mount::Sow(which)) = mount else {
        return None;
    };
    let w = flow.w;
    let now_ms = crate::office::now_ms();
    let sows = flow.feed.barn.with_untracked(|b| b.sows());
    let stands = |s: &SowFacts| heat_now(&s.heats, now_ms).is_some();
    let options: Vec<_> = sows
        .iter()
        .filter(|s| which == Some(s.id) || stands(s))
        .map(|s| (s.id, s.number()))
        .collect();
    if options.is_empty() {
        return Some(
            view! { <p class="words quiet">{w.tr(key::COLLECT_NO_SOW_STANDS)}</p> }.into_any(),
        );
    }
    let chosen = choice(which, move |sow| flow.tap(Tap::Mount(Mount::Sow(sow))));
    Some(
        view! { <Chips asked=w.tr(key::COLLECT_WHICH_SOW) options=options chosen=chosen/> }
            .into_any(),
    )
}

fn reason(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let options = REASONS
        .iter()
        .map(|r| (*r, w.tr(tell::despite(*r))))
        .collect();
    let chosen = choice(open.record.despite, move |r| flow.tap(Tap::Despite(r)));
    view! { <Chips asked=w.tr(key::COLLECT_DESPITE) options=options chosen=chosen/> }.into_any()
}
