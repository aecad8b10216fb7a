//! How warm it is and what that does, in words.

#[cfg(feature = "office")]
use crate::words::Key;
use crate::words::{Words, key};
#[cfg(feature = "office")]
use pentally_domain::climate::{Band, Level, Reading, Spell, thi};
use pentally_domain::climate::{Cooling, Expectation, lower_quality};

/// From which day to which lower quality is to be expected; none where it is not.
pub fn lower(w: &Words, expected: &[Expectation]) -> Option<String> {
    let (from, to) = lower_quality(expected)?;
    let args = [
        ("from", w.day_month(from).into()),
        ("to", w.day_month(to).into()),
    ];
    Some(w.tr_with(key::HEAT_LOWER, &args))
}

/// A room to be cooled now.
pub fn cool(w: &Words, cooling: &Cooling) -> String {
    let args = [
        ("room", cooling.room.as_str().into()),
        ("air", w.num(cooling.reading.air.value(), 1).into()),
    ];
    w.tr_with(key::HEAT_COOL, &args)
}

/// A band's name.
#[cfg(feature = "office")]
pub const fn band(band: Band) -> Key {
    match band {
        Band::Normal => key::BAND_NORMAL,
        Band::Alert => key::BAND_ALERT,
        Band::Danger => key::BAND_DANGER,
        Band::Emergency => key::BAND_EMERGENCY,
    }
}

/// A reading with all that was read and what follows from it.
#[cfg(feature = "office")]
pub fn air(w: &Words, reading: &Reading) -> String {
    let degrees = w.tr_with(
        key::CLIMATE_DEGREES,
        &[("air", w.num(reading.air.value(), 1).into())],
    );
    let Some(humidity) = reading.humidity else {
        return degrees;
    };
    let index = thi(reading.air, humidity);
    let args = [
        ("humidity", w.num(humidity.value(), 0).into()),
        ("index", w.num(index, 0).into()),
        ("band", w.tr(band(Band::of(index))).into()),
    ];
    format!("{degrees}, {}", w.tr_with(key::CLIMATE_DAMP, &args))
}

/// A hot spell: its days, how many were hot, and what that asks for.
#[cfg(feature = "office")]
pub fn spell(w: &Words, spell: &Spell) -> (String, String) {
    let args = [
        ("from", w.day_month(spell.first).into()),
        ("to", w.day_month(spell.last).into()),
        ("hot", shared_days(w, spell.hot_days).into()),
    ];
    let level = match spell.level {
        Level::Tolerated => key::LEVEL_TOLERATED,
        Level::Attention => key::LEVEL_ATTENTION,
        Level::Expected => key::LEVEL_EXPECTED,
    };
    let lower = [
        ("from", w.day_month(spell.lower_from).into()),
        ("to", w.day_month(spell.lower_to).into()),
    ];
    (
        w.tr_with(key::CLIMATE_SPELL, &args),
        w.tr_with(level, &lower),
    )
}

/// Days by the share of rooms: a decimal only where they have one.
#[cfg(feature = "office")]
fn shared_days(w: &Words, days: f64) -> String {
    let is_whole = (days - days.round()).abs() < 0.05;
    w.num(days, u8::from(!is_whole))
}
