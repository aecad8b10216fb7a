//! Numbers as loggers and spreadsheets write them.

use pentally_domain::units::TemperatureC;
use serde::{Deserialize, Serialize};

/// The unit of a column of temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
}

/// What a cell of numbers holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum NumberCell {
    /// Nothing, or a sign for nothing.
    Blank,
    /// A number, and its unit if the cell names one.
    Value(f64, Option<Unit>),
    /// Something else.
    Unreadable,
}

impl Unit {
    /// In °C.
    pub fn celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius => value,
            Self::Fahrenheit => (value - 32.0) / 1.8,
        }
    }

    /// The least and the most that are taken, in this unit.
    pub fn bounds(self) -> (f64, f64) {
        let of = |celsius: f64| match self {
            Self::Celsius => celsius,
            Self::Fahrenheit => celsius * 1.8 + 32.0,
        };
        (of(TemperatureC::LOW), of(TemperatureC::HIGH))
    }
}

/// What stands for nothing, in lower case.
const BLANK: &[&str] = &[
    "",
    "-",
    "--",
    "---",
    "–",
    "—",
    "nan",
    "n/a",
    "na",
    "nd",
    "null",
    "none",
    "no data",
    "sin datos",
];

/// Reads a cell of a temperature or a humidity: decimal point or comma, with or without its unit.
pub(super) fn number(cell: &str) -> NumberCell {
    let cell = cell.trim().to_lowercase();
    if BLANK.contains(&cell.as_str()) {
        return NumberCell::Blank;
    }
    let digits = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '+' | '-' | '\u{2212}');
    let end = cell.find(|c| !digits(c)).unwrap_or(cell.len());
    let (written, rest) = cell.split_at(end);
    match (value(written), unit(rest.trim())) {
        (Some(value), Some(unit)) => NumberCell::Value(value, unit),
        _ => NumberCell::Unreadable,
    }
}

fn value(written: &str) -> Option<f64> {
    // Of 1.234,5 nobody knows which is the decimal mark, and no reading has thousands.
    let marks = written.chars().filter(|c| matches!(c, '.' | ',')).count();
    let plain = written.replace(',', ".").replace('\u{2212}', "-");
    (marks <= 1).then(|| plain.parse().ok())?
}

/// The unit behind a number; the outer none where it is another's.
fn unit(rest: &str) -> Option<Option<Unit>> {
    match rest {
        "" | "%" | "% rh" | "%rh" | "% hr" | "%hr" | "°" => Some(None),
        "°c" | "ºc" | "c" | "℃" | "° c" | "º c" | "deg c" | "degc" => {
            Some(Some(Unit::Celsius))
        }
        "°f" | "ºf" | "f" | "℉" | "° f" | "º f" | "deg f" | "degf" => {
            Some(Some(Unit::Fahrenheit))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_with_point_comma_and_unit() {
        use NumberCell::*;
        for (cell, read) in [
            ("24.5", Value(24.5, None)),
            (" 24,5 ", Value(24.5, None)),
            ("\u{2212}3,0 °C", Value(-3.0, Some(Unit::Celsius))),
            ("+76 °F", Value(76.0, Some(Unit::Fahrenheit))),
            ("76.1℉", Value(76.1, Some(Unit::Fahrenheit))),
            ("61 %RH", Value(61.0, None)),
            (".5", Value(0.5, None)),
            ("", Blank),
            ("NaN", Blank),
            ("--", Blank),
            ("1.234,5", Unreadable),
            ("1e3", Unreadable),
            ("inf", Unreadable),
            ("24.5 K", Unreadable),
            ("Logged", Unreadable),
            ("- 3", Unreadable),
            ("٢٤", Unreadable),
        ] {
            assert_eq!(number(cell), read, "{cell}");
        }
    }

    /// Source: the definition of the degree Fahrenheit: 32 °F is 0 °C, 212 °F is 100 °C.
    #[test]
    fn fahrenheit_is_what_it_is_defined_to_be() {
        assert_eq!(Unit::Fahrenheit.celsius(32.0), 0.0);
        assert!((Unit::Fahrenheit.celsius(212.0) - 100.0).abs() < 1e-12);
        assert_eq!(Unit::Fahrenheit.bounds(), (-4.0, 140.0));
        assert_eq!(Unit::Celsius.bounds(), (-20.0, 60.0));
    }
}
