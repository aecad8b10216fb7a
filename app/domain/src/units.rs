//! Quantities with their units and bounds. Two of different kinds do not mix:
//!
//! ```compile_fail,E0308
//! use pentally_domain::units::{Concentration, VolumeMl};
//! fn pour(_: VolumeMl) {}
//! pour(Concentration::new(200.0).unwrap());
//! ```
//!
//! Two levels: what is impossible is refused by the constructor; what is merely outside the
//! printed ranges is `improbable`, to be asked about once and kept.

use serde::{Deserialize, Serialize};
use std::ops::RangeInclusive;

/// A figure outside what can be.
#[derive(Debug, Clone, PartialEq, Serialize, thiserror::Error)]
#[error("{field} is {read} {unit}; it must be from {low} to {high} {unit}")]
pub struct BoundError {
    /// Which quantity, or the field of a request it was read from.
    pub field: &'static str,
    /// What was read.
    pub read: f64,
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
    /// The unit.
    pub unit: &'static str,
}

impl BoundError {
    /// The same refusal, naming the field it was read from.
    #[must_use]
    pub const fn named(mut self, field: &'static str) -> Self {
        self.field = field;
        self
    }
}

/// What was read, where it lies in `bounds`; NaN lies nowhere.
pub(crate) fn within(
    field: &'static str,
    read: f64,
    bounds: RangeInclusive<f64>,
    unit: &'static str,
) -> Result<f64, BoundError> {
    if bounds.contains(&read) {
        return Ok(read);
    }
    let (low, high) = bounds.into_inner();
    Err(BoundError {
        field,
        read,
        low,
        high,
        unit,
    })
}

/// Refuses so many where they do not lie in `bounds`.
pub(crate) fn so_many(
    field: &'static str,
    read: usize,
    bounds: RangeInclusive<usize>,
    unit: &'static str,
) -> Result<(), BoundError> {
    let bounds = *bounds.start() as f64..=*bounds.end() as f64;
    within(field, read as f64, bounds, unit).map(|_| ())
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident $unit:literal, $low:literal ..= $high:literal, usual $ulow:literal ..= $uhigh:literal;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(try_from = "f64", into = "f64")]
        pub struct $name(f64);

        impl $name {
            /// The least that is taken.
            pub const LOW: f64 = $low;
            /// The most that is taken.
            pub const HIGH: f64 = $high;
            /// The printed or customary range, outside which it is asked about once.
            pub const USUAL: (f64, f64) = ($ulow, $uhigh);
            /// The unit's symbol.
            pub const UNIT: &str = $unit;

            /// A figure within bounds; NaN and infinity are refused.
            pub fn new(value: f64) -> Result<Self, BoundError> {
                if ($low..=$high).contains(&value) {
                    // Adding zero turns −0 into 0, which would be written differently.
                    Ok(Self(value + 0.0))
                } else {
                    Err(BoundError { field: stringify!($name), read: value, low: $low, high: $high, unit: $unit })
                }
            }

            /// The figure in its unit.
            pub const fn value(self) -> f64 {
                self.0
            }

            /// Outside the printed range: to be asked about once.
            pub fn improbable(self) -> bool {
                !($ulow..=$uhigh).contains(&self.0)
            }
        }

        impl TryFrom<f64> for $name {
            type Error = BoundError;
            fn try_from(value: f64) -> Result<Self, BoundError> {
                Self::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(quantity: $name) -> Self {
                quantity.0
            }
        }
    )+};
}

quantities! {
    /// A volume in mL, 0 to 1500: no ejaculate, and no vessel at the bench, holds more. Usual for an
    /// ejaculate: 50–500 mL (veterinary-manual breeding-soundness table).
    VolumeMl "mL", 0.0 ..= 1500.0, usual 50.0 ..= 500.0;
    /// A mass in g, of a cup with what is in it, 0 to 3000: a kitchen scale carries no more.
    MassG "g", 0.0 ..= 3000.0, usual 0.0 ..= 1500.0;
    /// Sperm per mL in millions, 0 to 5000. Usual from 50 (the same table). Queensland Government
    /// prints up to 500 for the whole ejaculate; the sperm-rich fraction alone may reach 1000
    /// (common practice, no source).
    Concentration "M/mL", 0.0 ..= 5000.0, usual 50.0 ..= 1000.0;
    /// What a photometer or densitometer shows, in whatever it shows, 0 to 1,000,000: absorbance,
    /// transmission, or digits of its own. No range is usual for all of them.
    InstrumentReading "", 0.0 ..= 1_000_000.0, usual 0.0 ..= 1_000_000.0;
    /// The standard error of a measured concentration in % of it, 0.1 to 100: less is claimed by no
    /// count. Usual 2–20: 2500 sperm to 25 counted, and 100 / √N of these (WHO manual, 5th ed. 2010).
    RelativeError "%", 0.1 ..= 100.0, usual 2.0 ..= 20.0;
    /// A share in %, 0 to 100.
    Percent "%", 0.0 ..= 100.0, usual 0.0 ..= 100.0;
    /// A motility in % that a farm may ask for: strictly above 60, the hard floor (common practice,
    /// no source), which no farm lowers; 60.01 because nobody writes finer than hundredths.
    /// Usual: 65–90.
    MotilityLimit "%", 60.01 ..= 100.0, usual 65.0 ..= 90.0;
    /// A temperature at the bench in °C, −20 to 60: beyond it no thermometer of the barn reads.
    /// Usual: 10–40.
    TemperatureC "°C", -20.0 ..= 60.0, usual 10.0 ..= 40.0;
    /// Sperm in one dose in 10⁹ (billions), 0.05 to 20. Usual from 0.15, deep uterine, to 6, the
    /// double of what is printed for the cervix.
    SpermBillions "×10⁹", 0.05 ..= 20.0, usual 0.15 ..= 6.0;
    /// The volume of one dose in mL, 1 to 200. Usual from 5, deep uterine, to 100 (Queensland Government).
    DoseVolumeMl "mL", 1.0 ..= 200.0, usual 5.0 ..= 100.0;
    /// How well water conducts in µS/cm, 0 to 5000: beyond it is brine. Usual for extender: below 5
    /// (Nebraska Swine Report 1999).
    Conductivity "µS/cm", 0.0 ..= 5000.0, usual 0.0 ..= 5.0;
    /// Extender in mL that one pack makes or one mixing fills, 10 to 500,000. Usual: 100 mL–100 L.
    MixVolumeMl "mL", 10.0 ..= 500_000.0, usual 100.0 ..= 100_000.0;
    /// A relative error in %, as one standard deviation of the logarithm, 0 to 100: what errs by more
    /// measures nothing. Usual: up to 20 (common practice, no source).
    ErrorPercent "%", 0.0 ..= 100.0, usual 0.0 ..= 20.0;
    /// How far a share judged by eye may be off, as one standard deviation in percentage points,
    /// 0.5 to 30. Usual: 2–10 (common practice, no source).
    SpreadPoints "points", 0.5 ..= 30.0, usual 2.0 ..= 10.0;
    /// The assurance asked of each dose in %, 50 to 99.9: below, most doses would miss their target;
    /// above, no count at the bench says anything. Usual: 80–99 (common practice, no source).
    Assurance "%", 50.0 ..= 99.9, usual 80.0 ..= 99.0;
}

macro_rules! counts {
    ($($(#[$doc:meta])* $name:ident($int:ident) $unit:literal, $low:literal ..= $high:literal;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(try_from = "u32", into = "u32")]
        pub struct $name($int);

        impl $name {
            /// The least that is taken.
            pub const LOW: $int = $low;
            /// The most that is taken.
            pub const HIGH: $int = $high;

            /// A whole number within bounds.
            pub fn new(value: u32) -> Result<Self, BoundError> {
                match $int::try_from(value) {
                    Ok(whole) if ($low..=$high).contains(&whole) => Ok(Self(whole)),
                    _ => Err(BoundError {
                        field: stringify!($name),
                        read: value.into(),
                        low: $low.into(),
                        high: $high.into(),
                        unit: $unit,
                    }),
                }
            }

            /// The number.
            pub const fn value(self) -> $int {
                self.0
            }

            /// The number, for reckoning.
            pub fn number(self) -> f64 {
                self.0.into()
            }
        }

        impl TryFrom<u32> for $name {
            type Error = BoundError;
            fn try_from(value: u32) -> Result<Self, BoundError> {
                Self::new(value)
            }
        }

        impl From<$name> for u32 {
            fn from(count: $name) -> Self {
                count.0.into()
            }
        }
    )+};
}

counts! {
    /// Sperm counted one by one, 0 to 100,000: more is a typing error, not a morning at the microscope.
    Count(u32) "sperm", 0u32 ..= 100_000u32;
    /// Squares of 4 nL counted, 1 to 900: two chambers of nine grids of 25 squares, twice.
    Squares(u16) "squares", 1u16 ..= 900u16;
    /// Cells looked at for a share, 1 to 2000: ten times the 200 of the WHO manual.
    Cells(u16) "cells", 1u16 ..= 2000u16;
    /// Sows to serve, 1 to 1000.
    Sows(u16) "sows", 1u16 ..= 1000u16;
    /// Services in one heat, 1 to 4; usual 2–3 (common practice, no source).
    ServicesPerHeat(u8) "services", 1u8 ..= 4u8;
    /// Doses to fill at most, 1 to 200, as one semen batch holds.
    DosesAtMost(u16) "doses", 1u16 ..= 200u16;
    /// Length of pregnancy in days, 110 to 120; calendars print 114 or 115.
    GestationDays(u8) "d", 110u8 ..= 120u8;
    /// Minutes a training session or visit lasted, 1 to 1440: none lasts longer than a day.
    SessionMinutes(u16) "min", 1u16 ..= 1440u16;
    /// Days that a farm keeps doses in an extender, 1 to 10, as long as any class.
    KeepsDays(u8) "d", 1u8 ..= 10u8;
    /// Minutes from mixing extender to its use at the earliest, 0 to 1440.
    ReadyMinutes(u16) "min", 0u16 ..= 1440u16;
    /// Hours that mixed extender keeps, 1 to 336: none keeps longer than two weeks.
    KeepsHours(u16) "h", 1u16 ..= 336u16;
    /// How far a boar came in a training session, 0 to 5, as printed by Stewart & Lovercamp 2017:
    /// 0 no interest, 1 sniffs, 2 aggressive, 3 mounts, 4 extends, 5 collected.
    Score(u8) "points", 0u8 ..= 5u8;
}

impl Percent {
    /// A whole percentage; above 100 counts as 100.
    pub const fn of(whole: u8) -> Self {
        Self(if whole > 100 { 100.0 } else { whole as f64 })
    }

    /// As a proportion from 0 to 1.
    pub fn proportion(self) -> f64 {
        self.0 / 100.0
    }
}

impl SessionMinutes {
    /// Longer than an hour: to be asked about once. In print a session ends by 15 to 20 minutes
    /// (common practice, no source for the bound).
    pub const fn improbable(self) -> bool {
        self.0 > 60
    }
}

impl Score {
    /// He is aggressive.
    pub const AGGRESSIVE: Self = Self(2);

    /// He mounts, or more.
    pub const fn mounted(self) -> bool {
        self.0 >= 3
    }

    /// He was collected.
    pub const fn is_success(self) -> bool {
        self.0 == Self::HIGH
    }
}

impl MotilityLimit {
    /// The 70 % that many farms ask (common practice, no source).
    pub const SEVENTY: Self = Self(70.0);

    /// As a share.
    pub const fn percent(self) -> Percent {
        Percent(self.0)
    }
}

impl SpermBillions {
    /// 3×10⁹, intracervical.
    pub const THREE: Self = Self(3.0);
    /// 1.5×10⁹, post-cervical.
    pub const ONE_AND_A_HALF: Self = Self(1.5);
    /// 0.15×10⁹, deep uterine (from memory).
    pub const DEEP: Self = Self(0.15);
}

impl DoseVolumeMl {
    /// 80 mL, intracervical.
    pub const EIGHTY: Self = Self(80.0);
    /// 45 mL, post-cervical.
    pub const FORTY_FIVE: Self = Self(45.0);
    /// 5 mL, deep uterine (from memory).
    pub const FIVE: Self = Self(5.0);
    /// 100 mL, undiluted (Queensland Government).
    pub const HUNDRED: Self = Self(100.0);
}

impl VolumeMl {
    /// The volume of what was weighed: 1 g counts as 1 mL (common practice, no source).
    pub fn from_mass(gross: MassG, tare: MassG) -> Result<Self, BoundError> {
        // Scales show tenths; the rounding undoes what binary fractions add (271.3 − 38.8).
        Self::new(((gross.0 - tare.0) * 1000.0).round() / 1000.0)
    }
}
