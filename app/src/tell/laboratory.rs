//! The laboratory's facts in words.

use crate::words::{Key, Words, key};
use pentally_domain::extender::ExtenderClass;
use pentally_domain::extender::mix::{MixState, WaterSource};

/// "ready in 40 min", "ready till today 17:00", "past use since today 07:00".
pub fn mix_state(
    w: &Words,
    state: MixState,
    now_ms: i64,
    moment: impl Fn(i64) -> String,
) -> String {
    match state {
        MixState::TooFresh { ready_at } => {
            let span = w.span(ready_at.ms().saturating_sub(now_ms));
            w.tr_with(key::MIX_READY_IN, &[("span", span.into())])
        }
        MixState::Ready { until } => {
            w.tr_with(key::MIX_READY_TILL, &[("when", moment(until.ms()).into())])
        }
        MixState::Past { since } => {
            w.tr_with(key::BATCH_OVER, &[("when", moment(since.ms()).into())])
        }
    }
}

/// A class of extender.
pub const fn extender_class(class: ExtenderClass) -> Key {
    match class {
        ExtenderClass::Short => key::EXTENDER_SHORT,
        ExtenderClass::Medium => key::EXTENDER_MEDIUM,
        ExtenderClass::Long => key::EXTENDER_LONG,
    }
}

/// Where water is from.
pub const fn water(source: WaterSource) -> Key {
    match source {
        WaterSource::Distilled => key::WATER_DISTILLED,
        WaterSource::Deionised => key::WATER_DEIONISED,
        WaterSource::ReverseOsmosis => key::WATER_OSMOSIS,
        WaterSource::Bought => key::WATER_BOUGHT,
        WaterSource::Tap => key::WATER_TAP,
    }
}
