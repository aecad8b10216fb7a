//! The temperature-humidity index and its bands.

use super::Reading;
use crate::farm::Standard;
use crate::units::{Percent, TemperatureC};

/// What binary fractions may take from a figure that stands exactly on a limit.
const HAIR: f64 = 1e-9;

/// How much an index asks for.
///
/// In print: alert 75–78, danger 79–83, emergency above 84 (Harrington & Bowles 2002, American
/// Meteorological Society, for feedlot cattle), which leaves gaps. Ours begin where those begin, on
/// the unrounded value, and have none. They were made for cattle; no bands made for boars are
/// known to us, so the farm may set its own limit (`Standard::hot_thi`).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// Below 75.
    Normal,
    /// From 75.
    Alert,
    /// From 79.
    Danger,
    /// From 84.
    Emergency,
}

impl Band {
    /// The band of an index.
    pub fn of(thi: f64) -> Self {
        let high = [Self::Emergency, Self::Danger, Self::Alert];
        let reached = |band: &Self| band.begins().is_some_and(|low| is_from(thi, low));
        high.into_iter().find(reached).unwrap_or(Self::Normal)
    }

    /// The index it begins at; none for the lowest.
    pub const fn begins(self) -> Option<f64> {
        match self {
            Self::Normal => None,
            Self::Alert => Some(75.0),
            Self::Danger => Some(79.0),
            Self::Emergency => Some(84.0),
        }
    }
}

/// The temperature-humidity index, no unit: 0.8 T + RH (T − 14.4) + 46.4, T in °C and RH as a
/// proportion (veterinaryhandbook.com.au; within 0.1 of NRC 1971). Sun and wind are not in it.
pub fn thi(air: TemperatureC, humidity: Percent) -> f64 {
    let t = air.value();
    0.8 * t + humidity.proportion() * (t - 14.4) + 46.4
}

impl Reading {
    /// Its temperature-humidity index; none where only a thermometer was read.
    pub fn thi(&self) -> Option<f64> {
        self.humidity.map(|humidity| thi(self.air, humidity))
    }

    /// Whether it is hot by the farm's standard: by its index, or without humidity by its temperature.
    pub fn is_hot(&self, standard: &Standard) -> bool {
        match self.thi() {
            Some(thi) => is_from(thi, standard.hot_thi.into()),
            None => is_from(self.air.value(), standard.hot_celsius.into()),
        }
    }
}

fn is_from(value: f64, low: f64) -> bool {
    value >= low - HAIR
}

#[cfg(test)]
mod tests {
    use super::*;

    fn index(celsius: f64, percent: f64) -> f64 {
        thi(
            TemperatureC::new(celsius).unwrap(),
            Percent::new(percent).unwrap(),
        )
    }

    /// Source: the formula as printed by veterinaryhandbook.com.au, worked out by hand.
    #[test]
    fn the_printed_formula_gives_these() {
        for (celsius, percent, printed) in [(24.0, 80.0, 73.3), (28.0, 60.0, 77.0)] {
            let found = index(celsius, percent);
            assert!((found - printed).abs() < 0.05, "{celsius} {percent}");
        }
    }

    /// Source: Harrington & Bowles 2002 for where bands begin.
    #[test]
    fn bands_meet_without_gaps() {
        for (index, band) in [
            (-10.0, Band::Normal),
            (74.99, Band::Normal),
            (75.0, Band::Alert),
            (78.99, Band::Alert),
            (79.0, Band::Danger),
            (83.99, Band::Danger),
            (84.0, Band::Emergency),
            (120.0, Band::Emergency),
        ] {
            assert_eq!(Band::of(index), band, "{index}");
        }
    }

    /// The humidity is the formula solved for an index of 75 at 27.3 °C.
    #[test]
    fn an_index_on_the_limit_counts_as_there() {
        let humidity = (75.0 - 46.4 - 0.8 * 27.3) / (27.3 - 14.4) * 100.0;
        let reading = |humidity| Reading {
            minute: 0,
            air: TemperatureC::new(27.3).unwrap(),
            humidity: Some(Percent::new(humidity).unwrap()),
        };
        let standard = Standard::default();
        assert!(reading(humidity).is_hot(&standard));
        assert!(!reading(humidity - 0.001).is_hot(&standard));
    }

    #[test]
    fn without_humidity_the_thermometer_decides() {
        let reading = |air| Reading {
            minute: 0,
            air: TemperatureC::new(air).unwrap(),
            humidity: None,
        };
        let standard = Standard::default();
        assert!(reading(27.0).is_hot(&standard));
        assert!(!reading(26.9).is_hot(&standard));
        assert_eq!(reading(27.0).thi(), None);
    }
}
