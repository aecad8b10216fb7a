//! How a figure is to be found: counted now, read off an instrument, or typed.

use super::measure::{Ask, clear};
use super::open::{At, Desk, Which};
use super::{found, tally};
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::key;
use leptos::prelude::*;

/// Instruments that are offered by name; the rest are reached by typing.
const INSTRUMENTS: usize = 3;

/// One figure: what it is so far, and the ways to it, the surest first.
pub fn screen(desk: Desk, ask: Ask) -> AnyView {
    let w = desk.w;
    let open = desk.open.get_untracked();
    let which = ask.tallied();
    let (begun, so_far) = (tally::is_open(&open, which), tally::counted(&open, which));
    let count = move |()| {
        desk.go(match (begun, which) {
            (true, _) => At::Sum(which),
            (false, Which::Sperm) => At::Dilution { tally: true },
            (false, _) => At::Tally(which),
        });
    };
    let word = if begun {
        w.tr_with(key::COUNTING_GO_ON, &[("n", so_far.into())])
    } else {
        w.tr(key::COUNTING_NOW)
    };
    let (value, sure) = (
        found::value(&w, &open.values, ask),
        found::sure(desk, &open, ask),
    );
    let why = match sure.is_empty() {
        true => value,
        false => format!("{value}. {}", sure.join(" ")),
    };
    let instruments = match ask {
        Ask::Concentration => desk.feed.barn.with_untracked(|b| b.instruments()),
        _ => vec![],
    };
    let instruments = instruments.into_iter().take(INSTRUMENTS).map(|instrument| {
        let name = instrument.as_str().to_owned();
        let word = w.tr_with(key::COUNTING_READ, &[("instrument", name.into())]);
        let go = move |()| desk.go(At::Reading(instrument.clone()));
        view! { <Action word=word kind=Kind::Quiet on_tap=go/> }
    });
    view! {
        <Title headline=w.tr(ask.name()) why=why/>
        <div class="actions">
            <Action word=word drawing=Drawing::ChamberGrid on_tap=count/>
            {instruments.collect_view()}
            <Action word=w.tr(key::COUNTING_TYPE) kind=Kind::Quiet on_tap=move |()| desk.go(At::Typed(ask))/>
            <Action word=w.tr(key::COLLECT_AMOUNT_SKIP) kind=Kind::Quiet on_tap=move |()| desk.take(|v| clear(v, ask))/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Form)/>
        </div>
        <div class="words">{found::how(desk, &open.values, ask)}</div>
        <div class="grow"></div>
    }
    .into_any()
}
