//! Quantities with their units and bounds. Two of different kinds do not mix:
//!
//! ```compile_fail
//! use pentally_domain::units::{Concentration, VolumeMl};
//! fn pour(_: VolumeMl) {}
//! pour(Concentration::new(200.0).unwrap());
//! ```
//!
//! Two levels: what is impossible is refused by the constructor; what is merely outside the
//! printed ranges is `improbable`, to be asked about once and kept.

use serde::{Deserialize, Serialize};

/// A figure outside what can be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{field} is {read} {unit}; it must be from {low} to {high} {unit}")]
pub struct BoundError {
    /// Which quantity.
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

            /// A figure within bounds; NaN and infinity are refused.
            pub fn new(value: f64) -> Result<Self, BoundError> {
                if ($low..=$high).contains(&value) {
                    Ok(Self(value))
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
    /// A volume in mL. Usual for an ejaculate: 50–500 mL (veterinary-manual breeding-soundness table).
    VolumeMl "mL", 0.0 ..= 1500.0, usual 50.0 ..= 500.0;
    /// A mass in g, of a cup with what is in it.
    MassG "g", 0.0 ..= 3000.0, usual 0.0 ..= 1500.0;
    /// Sperm per mL in millions. Usual: above 50, up to 500 (the same table; Queensland Government).
    Concentration "M/mL", 0.0 ..= 5000.0, usual 50.0 ..= 1000.0;
    /// A share in %.
    Percent "%", 0.0 ..= 100.0, usual 0.0 ..= 100.0;
    /// A temperature in °C.
    TemperatureC "°C", -20.0 ..= 60.0, usual 10.0 ..= 40.0;
    /// Sperm in 10⁹ (billions).
    SpermBillions "×10⁹", 0.0 ..= 1000.0, usual 0.0 ..= 250.0;
}

/// Things counted one by one, 0 to 100,000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "u32", into = "u32")]
pub struct Count(u32);

impl Count {
    /// The most that is taken.
    pub const HIGH: u32 = 100_000;

    /// A count within bounds.
    pub fn new(value: u32) -> Result<Self, BoundError> {
        if value <= Self::HIGH {
            Ok(Self(value))
        } else {
            Err(BoundError { field: "Count", read: value.into(), low: 0.0, high: Self::HIGH.into(), unit: "" })
        }
    }

    /// The count.
    pub const fn value(self) -> u32 {
        self.0
    }
}

impl TryFrom<u32> for Count {
    type Error = BoundError;
    fn try_from(value: u32) -> Result<Self, BoundError> {
        Self::new(value)
    }
}

impl From<Count> for u32 {
    fn from(count: Count) -> Self {
        count.0
    }
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

impl VolumeMl {
    /// The volume of what was weighed: 1 g counts as 1 mL (common practice, no source).
    pub fn from_mass(gross: MassG, tare: MassG) -> Result<Self, BoundError> {
        Self::new(gross.0 - tare.0)
    }
}
