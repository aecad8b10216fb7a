//! How much is in the cup: read or weighed, typed on the big keypad.

use super::{Flow, head, titled};
use crate::parts::{Action, Band, Figure, Keypad, Kind, PadKey, Role};
use crate::words::{Key, key};
use leptos::prelude::*;
use pentally_domain::collecting::{Collecting, Tap};
use pentally_domain::collection::Amount;
use pentally_domain::id::BoarId;
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

#[derive(Clone, Copy)]
struct Asking {
    asks: RwSignal<Asks>,
    gross: RwSignal<Option<MassG>>,
    /// Why the weights were not taken.
    refused: RwSignal<Option<String>>,
}

fn ask(flow: Flow, open: &Collecting) -> AnyView {
    let asking = Asking {
        asks: RwSignal::new(Asks::Volume),
        gross: RwSignal::new(None),
        refused: RwSignal::new(None),
    };
    let boar = open.boar;
    let skip = move |()| flow.tap(Tap::NotMeasured);
    view! {
        {move || pad(flow, boar, asking)}
        <div class="actions"><Action word=flow.w.tr(key::COLLECT_AMOUNT_SKIP) kind=Kind::Quiet on_tap=skip/></div>
        <div class="grow"></div>
    }
    .into_any()
}

fn pad(flow: Flow, boar: BoarId, asking: Asking) -> AnyView {
    let (w, asks) = (flow.w, asking.asks.get());
    let (asked, by) = match asks {
        Asks::Volume => (key::COLLECT_AMOUNT, key::COLLECT_AMOUNT_ML),
        Asks::Gross => (key::COLLECT_AMOUNT, key::COLLECT_AMOUNT_G),
        Asks::Tare => (key::COLLECT_TARE, key::COLLECT_AMOUNT_G),
    };
    let (switch, to) = match asks {
        Asks::Volume => (key::COLLECT_AMOUNT_WEIGH, Asks::Gross),
        _ => (key::COLLECT_AMOUNT_READ, Asks::Volume),
    };
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        take(flow, asking, value);
    });
    let switch = PadKey::go(w.tr(switch), move |()| {
        asking.refused.set(None);
        asking.asks.set(to);
    });
    let back = move |()| match asks {
        Asks::Tare => asking.asks.set(Asks::Gross),
        _ => flow.tap(Tap::Back),
    };
    let title = || format!("{} · {}", titled(flow, boar), w.tr(by));
    let why = asking.refused.get().unwrap_or_else(title);
    let typed = RwSignal::new(String::new());
    view! {
        <Keypad asked=w.tr(asked) why=why typed=typed figure=figure(asks) unit=w.tr(unit(asks))
            take=take other=switch on_back=back/>
    }
    .into_any()
}

fn take(flow: Flow, asking: Asking, value: f64) {
    match asking.asks.get_untracked() {
        Asks::Volume => {
            if let Ok(volume) = VolumeMl::new(value) {
                flow.tap(Tap::Amount(Amount::Volume(volume)));
            }
        }
        Asks::Gross => {
            asking.gross.set(MassG::new(value).ok());
            asking.refused.set(None);
            asking.asks.set(Asks::Tare);
        }
        Asks::Tare => {
            let (Some(gross), Ok(tare)) = (asking.gross.get_untracked(), MassG::new(value)) else {
                return;
            };
            let amount = Amount::Mass { gross, tare };
            if amount.volume().is_some() {
                flow.tap(Tap::Amount(amount));
            } else {
                let why = flow.w.tr(key::COLLECT_TARE_TOO_HIGH);
                asking.refused.set(Some(why));
                asking.asks.set(Asks::Gross);
            }
        }
    }
}

/// A cup that weighs nothing was not weighed.
const LEAST_G: f64 = 1.0;

const fn figure(asks: Asks) -> Figure {
    let (low, high) = match asks {
        Asks::Volume => (VolumeMl::LOW, VolumeMl::HIGH),
        Asks::Gross => (LEAST_G, MassG::HIGH),
        Asks::Tare => (MassG::LOW, MassG::HIGH),
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

#[cfg(test)]
mod tests {
    use super::{Asks, figure};
    use crate::parts::Reading;

    #[test]
    fn a_cup_weighs_something_and_its_tare_may_be_set_to_nothing() {
        assert_eq!(figure(Asks::Gross).read("0"), Reading::TooLow(0.0));
        assert_eq!(figure(Asks::Gross).read("1"), Reading::Value(1.0));
        assert_eq!(figure(Asks::Tare).read("0"), Reading::Value(0.0));
    }
}
