//! What a logger's file holds, in words.

use super::answer::{Field, LoggerClock, OfRoom, Reads, Unit};
use crate::words::{Key, Words, key};

/// So many lines are named.
const NAMED: usize = 3;

/// The word of a column.
pub const fn field(field: Field) -> Key {
    match field {
        Field::Stamp => key::CLIMATE_FIELD_STAMP,
        Field::Date => key::CLIMATE_FIELD_DATE,
        Field::Clock => key::CLIMATE_FIELD_CLOCK,
        Field::Temperature => key::CLIMATE_FIELD_TEMPERATURE,
        Field::Humidity => key::CLIMATE_FIELD_HUMIDITY,
        Field::Room => key::CLIMATE_ROOM,
    }
}

/// What becomes of a room's days.
pub fn fate(w: &Words, room: &OfRoom) -> String {
    let adds = room.days - room.new - room.same;
    let parts = [
        (room.new, key::CLIMATE_FATE_NEW),
        (adds, key::CLIMATE_FATE_ADDS),
        (room.same, key::CLIMATE_FATE_SAME),
        (room.changed, key::CLIMATE_FATE_CHANGED),
    ];
    let said = parts.iter().filter(|(n, _)| *n > 0);
    let said = said.map(|(n, key)| w.tr_with(*key, &[("n", (*n).into())]));
    said.collect::<Vec<_>>().join(" · ")
}

/// How the file was read, and what was odd.
pub fn told(w: &Words, reads: &Reads) -> Vec<String> {
    let told = &reads.told;
    let mut said = vec![];
    if told.rows > 0 {
        let args = [("rows", told.rows.into()), ("taken", told.taken.into())];
        said.push(w.tr_with(key::CLIMATE_READ_ROWS, &args));
        said.push(w.tr(match reads.shape.unit {
            Unit::Celsius => key::CLIMATE_READ_CELSIUS,
            Unit::Fahrenheit => key::CLIMATE_READ_FAHRENHEIT,
        }));
        said.push(clock(w, reads.shape.clock));
    }
    let counted = [
        (told.without_temperature, key::CLIMATE_ODD_BLANK),
        (told.doubled, key::CLIMATE_ODD_DOUBLED),
        (told.conflicts.all, key::CLIMATE_ODD_CONFLICTS),
        (told.gaps.all, key::CLIMATE_ODD_GAPS),
        (told.stuck.all, key::CLIMATE_ODD_STUCK),
    ];
    let odd = counted.iter().filter(|(n, _)| *n > 0);
    said.extend(odd.map(|(n, key)| w.tr_with(*key, &[("n", (*n).into())])));
    if told.refused.all > 0 {
        let lines = told.refused.first.iter().take(NAMED);
        let lines: Vec<_> = lines.map(|r| format!("{} “{}”", r.line, r.read)).collect();
        let args = [
            ("n", told.refused.all.into()),
            ("lines", lines.join(", ").into()),
        ];
        said.push(w.tr_with(key::CLIMATE_ODD_REFUSED, &args));
    }
    said
}

fn clock(w: &Words, clock: LoggerClock) -> String {
    let LoggerClock::Offset(minutes) = clock else {
        return w.tr(key::CLIMATE_READ_FARM_CLOCK);
    };
    let (sign, ahead) = if minutes < 0 {
        ('−', -minutes)
    } else {
        ('+', minutes)
    };
    let offset = format!("UTC{sign}{}:{:02}", ahead / 60, ahead % 60);
    w.tr_with(key::CLIMATE_READ_OFFSET, &[("offset", offset.into())])
}
