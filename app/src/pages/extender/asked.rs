//! What is asked of a mix: its name, unit and bounds, and what is odd about an answer.

use super::mixing::Mix;
use crate::parts::Figure;
use crate::words::{Key, Words, key};
use pentally_domain::extender::mix::MixOdd;
use pentally_domain::units::{Conductivity, KeepsHours, MixVolumeMl, ReadyMinutes, TemperatureC};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    Lot,
    Volume,
    Water,
    Conductivity,
    Temperature,
    Ready,
    Keeps,
}

pub(super) const ASKED: [Ask; 7] = [
    Ask::Lot,
    Ask::Volume,
    Ask::Water,
    Ask::Conductivity,
    Ask::Temperature,
    Ask::Ready,
    Ask::Keeps,
];
pub(super) fn says(w: &Words, odd: MixOdd) -> String {
    let figure = |value: f64| w.num(value, u8::from(value.fract() != 0.0));
    match odd {
        MixOdd::Conductivity { read, most } => {
            let args = [("read", figure(read).into()), ("most", figure(most).into())];
            w.tr_with(key::MIX_ODD_CONDUCTS, &args)
        }
        MixOdd::TapWater => w.tr(key::MIX_ODD_TAP),
        MixOdd::LotPast { best_before } => {
            let day = w.day_month_year(best_before);
            w.tr_with(key::MIX_ODD_LOT, &[("day", day.into())])
        }
        MixOdd::Ahead { minutes, most } => {
            let args = [("minutes", minutes.into()), ("most", most.into())];
            w.tr_with(key::MIX_ODD_AHEAD, &args)
        }
        MixOdd::Temperature { read } => {
            w.tr_with(key::MIX_ODD_TEMPERATURE, &[("read", figure(read).into())])
        }
    }
}

/// Where it is changed.
pub(super) const fn about(odd: MixOdd) -> Ask {
    match odd {
        MixOdd::Conductivity { .. } => Ask::Conductivity,
        MixOdd::TapWater => Ask::Water,
        MixOdd::LotPast { .. } => Ask::Lot,
        MixOdd::Ahead { .. } => Ask::Ready,
        MixOdd::Temperature { .. } => Ask::Temperature,
    }
}

pub(super) const fn title(ask: Ask) -> Key {
    match ask {
        Ask::Lot => key::LOT_LOT_WHICH,
        Ask::Volume => key::MIX_VOLUME,
        Ask::Water => key::MIX_WATER,
        Ask::Conductivity => key::MIX_CONDUCTIVITY,
        Ask::Temperature => key::MIX_TEMPERATURE,
        Ask::Ready => key::MIX_READY_AFTER,
        Ask::Keeps => key::MIX_KEEPS,
    }
}

pub(super) const fn unit(ask: Ask) -> Key {
    match ask {
        Ask::Conductivity => key::UNIT_CONDUCTIVITY,
        Ask::Temperature => key::UNIT_CELSIUS,
        Ask::Ready => key::UNIT_MIN,
        Ask::Keeps => key::UNIT_HOURS,
        Ask::Lot | Ask::Volume | Ask::Water => key::UNIT_ML,
    }
}

pub(super) fn figure(ask: Ask) -> Figure {
    let (low, high, decimals) = match ask {
        Ask::Conductivity => (Conductivity::LOW, Conductivity::HIGH, 1),
        // Nothing is mixed below freezing, and the pad has no minus.
        Ask::Temperature => (0.0, TemperatureC::HIGH, 1),
        Ask::Ready => (ReadyMinutes::LOW.into(), ReadyMinutes::HIGH.into(), 0),
        Ask::Keeps => (KeepsHours::LOW.into(), KeepsHours::HIGH.into(), 0),
        Ask::Lot | Ask::Volume | Ask::Water => (MixVolumeMl::LOW, MixVolumeMl::HIGH, 0),
    };
    Figure {
        low,
        high,
        decimals,
    }
}

pub(super) fn set(mix: &mut Mix, ask: Ask, value: Option<f64>) {
    let whole = value.map(whole);
    match ask {
        Ask::Volume => mix.volume = value.and_then(|v| MixVolumeMl::new(v).ok()),
        Ask::Conductivity => mix.conductivity = value.and_then(|v| Conductivity::new(v).ok()),
        Ask::Temperature => mix.temperature = value.and_then(|v| TemperatureC::new(v).ok()),
        Ask::Ready => mix.ready_after = whole.and_then(|n| ReadyMinutes::new(n).ok()),
        Ask::Keeps => mix.keeps = whole.and_then(|n| KeepsHours::new(n).ok()),
        Ask::Lot | Ask::Water => {}
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the keypad holds it to whole bounds"
)]
const fn whole(value: f64) -> u32 {
    value as u32
}
