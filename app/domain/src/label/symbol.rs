//! Whether a symbol (ISO/IEC 18004) fits on a label and still reads.

use serde::{Deserialize, Serialize};

/// How much of a symbol may be spoilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// About 15 %.
    M,
    /// About 25 %.
    Q,
    /// About 30 %.
    H,
}

/// How a symbol goes on a label.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fit {
    /// It reads: the strongest level whose modules are large enough.
    Reads {
        /// The level.
        level: Level,
        /// Modules along one side, without the quiet zone.
        modules: u8,
        /// One module in mm.
        module_mm: f64,
    },
    /// Too small to read: leave the symbol out and print the code alone.
    TooSmall {
        /// One side with its quiet zone would have to be so many mm.
        needs_mm: f64,
    },
    /// The address is longer than a small symbol holds: leave the symbol out.
    TooLong {
        /// Characters that fit at most.
        most: u8,
    },
}

/// A module smaller than this is lost on phones at arm's length and on label printers, whose dots
/// are an eighth of a millimetre (common practice, no source).
pub const MODULE_LOW_MM: f64 = 0.33;
/// Modules that stay white around a symbol (ISO/IEC 18004).
pub const QUIET_ZONE: u8 = 4;

/// Characters of digits, capitals and the signs of an address that versions 1 to 8 hold at levels
/// M, Q and H (ISO/IEC 18004, table 7, alphanumeric).
const HOLDS: [[u8; 3]; 8] = [
    [20, 16, 10],
    [38, 29, 20],
    [61, 47, 35],
    [90, 67, 50],
    [122, 87, 64],
    [154, 108, 84],
    [178, 125, 93],
    [221, 157, 122],
];

/// Modules along one side for so many characters; none beyond version 8.
pub fn modules(characters: usize, level: Level) -> Option<u8> {
    let holds = |row: &[u8; 3]| {
        row.get(level as usize)
            .is_some_and(|n| characters <= usize::from(*n))
    };
    let version = HOLDS.iter().zip(1u8..).find(|(row, _)| holds(row))?.1;
    Some(17 + 4 * version)
}

/// Whether an address of so many characters reads in a square of `side_mm`, its quiet zone included.
pub fn fit(characters: usize, side_mm: f64) -> Fit {
    let across = |modules: u8| f64::from(modules + 2 * QUIET_ZONE);
    for level in [Level::H, Level::Q, Level::M] {
        let Some(modules) = modules(characters, level) else {
            continue;
        };
        let module_mm = side_mm / across(modules);
        if module_mm >= MODULE_LOW_MM {
            return Fit::Reads {
                level,
                modules,
                module_mm,
            };
        }
    }
    match modules(characters, Level::M) {
        Some(modules) => Fit::TooSmall {
            needs_mm: across(modules) * MODULE_LOW_MM,
        },
        None => Fit::TooLong { most: HOLDS[7][0] },
    }
}
