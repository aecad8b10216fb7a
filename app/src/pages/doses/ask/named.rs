//! What each thing that is asked is called, its unit and its bounds.

use super::Ask;
use crate::parts::Figure;
use crate::words::{Key, key};
use pentally_domain::filling::Chosen;
use pentally_domain::units::{Sows, SpermBillions, TemperatureC};

pub(super) const fn title(ask: Ask) -> Key {
    match ask {
        Ask::Technique => key::DOSES_TECHNIQUE,
        Ask::Target => key::DOSES_TARGET,
        Ask::CountAs => key::DOSES_COUNT_AS,
        Ask::DoseVolume => key::DOSES_VOLUME,
        Ask::Class => key::DOSES_CLASS,
        Ask::Sure => key::DOSES_SURE,
        Ask::Mix => key::DOSES_MIX,
        Ask::SemenC => key::DOSES_SEMEN_C,
        Ask::ExtenderC => key::DOSES_EXTENDER_C,
        Ask::Sows => key::DOSES_SOWS,
        Ask::Services => key::DOSES_SERVICES,
        Ask::Route => key::DOSES_PLAIN,
    }
}

pub(super) const fn forget(ask: Ask) -> Key {
    match ask {
        Ask::SemenC | Ask::ExtenderC => key::COLLECT_AMOUNT_SKIP,
        Ask::Sows | Ask::Route => key::DOSES_LEAVE_OPEN,
        _ => key::DOSES_TAKE_DEFAULT,
    }
}

pub(super) const fn unit(ask: Ask) -> Key {
    match ask {
        Ask::Target => key::UNIT_BILLION,
        Ask::DoseVolume => key::UNIT_ML,
        Ask::Sows => key::UNIT_SOWS,
        _ => key::UNIT_CELSIUS,
    }
}

/// The bounds of a figure; none where answers are offered instead.
pub(super) fn figure(ask: Ask, chosen: &Chosen) -> Option<Figure> {
    let (low, high, decimals) = match ask {
        Ask::Target => (SpermBillions::LOW, SpermBillions::HIGH, 2),
        Ask::DoseVolume => (chosen.dose_bounds().0, chosen.dose_bounds().1, 0),
        // Nothing at the bench is below freezing, and the pad has no minus.
        Ask::SemenC | Ask::ExtenderC => (0.0, TemperatureC::HIGH, 1),
        Ask::Sows => (Sows::LOW.into(), Sows::HIGH.into(), 0),
        _ => return None,
    };
    Some(Figure {
        low,
        high,
        decimals,
    })
}
