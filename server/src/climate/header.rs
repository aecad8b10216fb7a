//! Which column is what, from its heading, and what else a heading tells.

use super::cells::Unit;
use crate::import::header::{best, outside_brackets, with_and_without};
use crate::import::words::words;
use serde::{Deserialize, Serialize};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// Date and time of day in one.
    Stamp,
    /// The date, apart.
    Date,
    /// The time of day, apart.
    Clock,
    /// The air's temperature.
    Temperature,
    /// Relative humidity.
    Humidity,
    /// The room.
    Room,
}

impl Field {
    /// Every field, in the order in which they choose among columns.
    pub const ALL: [Self; 6] = [
        Self::Stamp,
        Self::Date,
        Self::Clock,
        Self::Temperature,
        Self::Humidity,
        Self::Room,
    ];

    /// Headings that mean it, the surest first.
    const fn headings(self) -> &'static str {
        match self {
            Self::Stamp => {
                "date time, datetime, time date, timestamp, time stamp, fecha hora, hora fecha, \
                 fechahora, recorded, recorded at, logged, logged at, sample time, measured at, \
                 created at, reading time, local time, epoch, unix time, unix timestamp, momento, \
                 instante"
            }
            Self::Date => "date, fecha, day, dia, local date",
            Self::Clock => "time, hora, clock, hour",
            Self::Temperature => {
                "temperature, temperatura, temp, air temperature, temperatura aire, \
                 temperature air, air temp, temp air, temp aire, ambient temperature, \
                 temperatura ambiente, ambient temp, temp ambiente, room temperature, temperature 1, \
                 temperatura 1, temp 1, t 1, t1, mean temperature, temperatura media, tmp, t, celsius, \
                 fahrenheit, c, f, air, aire"
            }
            Self::Humidity => {
                "relative humidity, humedad relativa, humidity, humedad, hum, rh, hr, h r, r h, \
                 rel humidity, hum rel, hum relativa, humidity rh, humedad hr, air humidity, \
                 humedad aire, humidity 1, humedad 1, hum 1, rh 1, h"
            }
            Self::Room => {
                "room, sala, nave, barn, building, edificio, galpon, location, ubicacion, place, \
                 lugar, area, zone, zona, section, seccion"
            }
        }
    }
}

/// Words that a heading may carry without meaning more.
const FILLERS: &[&str] = &["of", "the", "de", "del", "la", "el", "y", "and", "in", "en"];
/// Units say how to read, not what.
const UNITS: &[&str] = &[
    "c",
    "f",
    "celsius",
    "fahrenheit",
    "centigrados",
    "grados",
    "deg",
    "degc",
    "degf",
    "degrees",
    "rh",
    "hr",
    "pct",
    "percent",
];

/// One field for each column, or none; every field at most once. Where date and time of day do
/// not stand apart, one column holds both, whichever it is called.
pub(super) fn assign(headers: &[String]) -> Vec<Option<Field>> {
    let spellings: Vec<_> = headers.iter().map(|h| spellings(h)).collect();
    let mut fields = best(&Field::ALL, |field| field.headings(), &spellings);
    let has = |field| fields.contains(&Some(field));
    let (stamp, apart) = (has(Field::Stamp), has(Field::Date) && has(Field::Clock));
    for field in &mut fields {
        if matches!(field, Some(Field::Date | Field::Clock)) {
            *field = match (stamp, apart) {
                (true, _) => None,
                (false, true) => *field,
                (false, false) => Some(Field::Stamp),
            };
        }
    }
    fields
}

/// The unit that a heading of temperatures tells: "Temp (°F)", "Grados C".
pub(super) fn unit_said(header: &str) -> Option<Unit> {
    let words = words(&spelled(header));
    let has = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    match (
        has(&["c", "celsius", "centigrados", "degc"]),
        has(&["f", "fahrenheit", "degf"]),
    ) {
        (true, false) => Some(Unit::Celsius),
        (false, true) => Some(Unit::Fahrenheit),
        _ => None,
    }
}

/// The offset that a heading of stamps tells, in minutes east of UTC: "Date Time, GMT+02:00",
/// "time (UTC)".
pub(super) fn offset_said(header: &str) -> Option<i16> {
    let (_, zone) = parted(header);
    super::stamp::offset(zone.trim_end_matches([')', ']', ' ']))
}

/// The heading without fillers, zone and what stands in brackets, and again without units.
fn spellings(header: &str) -> Vec<String> {
    let (name, _) = parted(header);
    with_and_without(&outside_brackets(&spelled(name)), FILLERS, UNITS)
}

/// The two signs that are letter and degree in one.
fn spelled(header: &str) -> String {
    header.replace('℃', " C").replace('℉', " F")
}

/// The heading before and from the name of a zone on.
fn parted(header: &str) -> (&str, &str) {
    let lower = header.to_ascii_lowercase();
    let is_start = |at: usize| {
        let before = lower.get(..at).unwrap_or_default();
        !before.ends_with(|c: char| c.is_ascii_alphanumeric())
    };
    let at = ["gmt", "utc"].iter().filter_map(|name| lower.find(name));
    let at = at.filter(|at| is_start(*at)).min().unwrap_or(header.len());
    header.split_at_checked(at).unwrap_or((header, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(headers: &[&str]) -> Vec<Option<Field>> {
        assign(&headers.iter().map(|h| (*h).to_owned()).collect::<Vec<_>>())
    }

    #[test]
    fn headings_of_many_makes_are_known() {
        use Field::*;
        let dew = None;
        for (headers, known) in [
            (
                vec![
                    "#",
                    "Date Time, GMT+02:00",
                    "Temp, °C (S/N: 1)",
                    "RH, % (S/N: 1)",
                ],
                vec![None, Some(Stamp), Some(Temperature), Some(Humidity)],
            ),
            (
                vec!["Fecha", "Hora", "Temperatura (ºC)", "Humedad relativa (%)"],
                vec![Some(Date), Some(Clock), Some(Temperature), Some(Humidity)],
            ),
            (
                vec!["Time", "Celsius(°C)", "Humidity(%rh)", "dew point(°C)"],
                vec![Some(Stamp), Some(Temperature), Some(Humidity), dew],
            ),
            (
                vec!["Timestamp", "Date", "Time", "temperature_f", "Room"],
                vec![Some(Stamp), None, None, Some(Temperature), Some(Room)],
            ),
            (
                vec!["Fecha y hora", "T ℃", "HR"],
                vec![Some(Stamp), Some(Temperature), Some(Humidity)],
            ),
            (vec!["Sow", "Weight"], vec![None, None]),
        ] {
            assert_eq!(fields(&headers), known, "{headers:?}");
        }
    }

    #[test]
    fn a_heading_tells_its_unit() {
        for (header, unit) in [
            ("Temperature (°F)", Some(Unit::Fahrenheit)),
            ("Temp F", Some(Unit::Fahrenheit)),
            ("tempF", Some(Unit::Fahrenheit)),
            ("T [℉]", Some(Unit::Fahrenheit)),
            ("Temperatura ºC", Some(Unit::Celsius)),
            ("Celsius", Some(Unit::Celsius)),
            ("Temp (C/F)", None),
            ("Temperature", None),
        ] {
            assert_eq!(unit_said(header), unit, "{header}");
        }
    }

    #[test]
    fn a_heading_tells_its_offset() {
        for (header, offset) in [
            ("Date Time, GMT+02:00", Some(120)),
            ("Date Time, GMT-05:30", Some(-330)),
            ("time (UTC)", Some(0)),
            ("Time UTC+1", Some(60)),
            ("Date Time", None),
            ("Outcome", None),
        ] {
            assert_eq!(offset_said(header), offset, "{header}");
        }
    }
}
