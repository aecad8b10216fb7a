//! How much is in the cup: read or weighed, typed on the big keypad.

use super::{Flow, head};
use crate::parts::{Action, Band, Figure, Keypad, Kind, Reading, Role};
use crate::words::{Key, key};
use leptos::prelude::*;
use pentally_domain::collecting::{Collecting, Tap};
use pentally_domain::collection::Amount;
use pentally_domain::units::{MassG, VolumeMl};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Asks {
    Volume,
    Gross,
    Tare,
}

pub(super) fn screen(flow: Flow, open: &Collecting) -> AnyView {
    if open.asks_amount() {
        odd(flow, open)
    } else {
        ask(flow, open)
    }
}

fn ask(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let asks = RwSignal::new(Asks::Volume);
    let typed = RwSignal::new(String::new());
    let gross = RwSignal::new(None::<MassG>);
    let take = move |()| take(flow, asks, typed, gross);
    let other = move |()| {
        asks.set(if asks.get_untracked() == Asks::Volume {
            Asks::Gross
        } else {
            Asks::Volume
        });
        typed.set(String::new());
    };
    let head_words = move || {
        w.tr(match asks.get() {
            Asks::Volume => key::COLLECT_AMOUNT_ML,
            Asks::Gross => key::COLLECT_AMOUNT_G,
            Asks::Tare => key::COLLECT_TARE,
        })
    };
    let switch = move || {
        w.tr(if asks.get() == Asks::Volume {
            key::COLLECT_AMOUNT_WEIGH
        } else {
            key::COLLECT_AMOUNT_READ
        })
    };
    view! {
        {head(flow, open.boar)}
        <h2>{w.tr(key::COLLECT_AMOUNT)}" "{head_words}</h2>
        {move || {
            let unit = w.tr(unit(asks.get()));
            view! { <Keypad typed=typed figure=figure(asks.get()) unit=unit/> }
        }}
        <div class="actions">
            <Action word=w.tr(key::COLLECT_AMOUNT_OK) on_tap=take/>
            <Action word=w.tr(key::COLLECT_AMOUNT_SKIP) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::NotMeasured)/>
            <Action word=Signal::derive(switch) kind=Kind::Quiet on_tap=other/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Back)/>
        </div>
    }
    .into_any()
}

/// What does not read is said by the keypad, and nothing moves.
fn take(flow: Flow, asks: RwSignal<Asks>, typed: RwSignal<String>, gross: RwSignal<Option<MassG>>) {
    let (w, now) = (flow.w, asks.get_untracked());
    let reading = figure(now).read(&typed.get_untracked());
    let Reading::Value(value) = reading else {
        let fault = figure(now).fault(reading, &w.tr(unit(now)), w);
        return flow.act.say(fault.unwrap_or_default());
    };
    match now {
        Asks::Volume => {
            if let Ok(volume) = VolumeMl::new(value) {
                flow.tap(Tap::Amount(Amount::Volume(volume)));
            }
        }
        Asks::Gross => {
            gross.set(MassG::new(value).ok());
            if gross.get_untracked().is_some() {
                typed.set(String::new());
                asks.set(Asks::Tare);
            }
        }
        Asks::Tare => {
            let (Some(gross), Ok(tare)) = (gross.get_untracked(), MassG::new(value)) else {
                return;
            };
            let amount = Amount::Mass { gross, tare };
            if amount.volume().is_some() {
                flow.tap(Tap::Amount(amount));
            } else {
                flow.act.say(flow.w.tr(key::COLLECT_TARE_TOO_HIGH));
                asks.set(Asks::Gross);
                typed.set(String::new());
            }
        }
    }
}

const fn figure(asks: Asks) -> Figure {
    let (low, high) = match asks {
        Asks::Volume => (VolumeMl::LOW, VolumeMl::HIGH),
        Asks::Gross | Asks::Tare => (MassG::LOW, MassG::HIGH),
    };
    Figure {
        low,
        high,
        decimals: 0,
    }
}

const fn unit(asks: Asks) -> Key {
    match asks {
        Asks::Volume => key::UNIT_ML,
        Asks::Gross | Asks::Tare => key::UNIT_G,
    }
}

fn odd(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let ml = open.record.volume().map_or(0.0, VolumeMl::value);
    let says = w.tr_with(key::COLLECT_AMOUNT_ODD, &[("ml", w.num(ml, 0).into())]);
    view! {
        {head(flow, open.boar)}
        <Band role=Role::Unknown headline=w.tr_with(key::COLLECTED_VOLUME, &[("ml", w.num(ml, 0).into())]) why=says/>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_AMOUNT_AGAIN) on_tap=move |()| flow.tap(Tap::AmountAgain)/>
            <Action word=w.tr(key::COLLECT_AMOUNT_RIGHT) on_tap=move |()| flow.tap(Tap::AmountIsRight)/>
        </div>
    }
    .into_any()
}
