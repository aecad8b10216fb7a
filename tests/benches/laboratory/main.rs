//! What the laboratory's answers are worth, measured on invented benches whose truth is known.
//!
//! `PENTALLY_SEED` takes other chances, `PENTALLY_CASES` another number of benches in each row; words
//! name the parts to be run (`count`, `curve`, `doses`, `keeping`). It fails where counts or doses miss what
//! is promised of them.

mod count;
mod curve;
#[path = "../watch/dice.rs"]
#[allow(dead_code, reason = "the watch throws more kinds")]
mod dice;
mod doses;
mod keeping;

use std::process::ExitCode;

/// Prints a part, and says whether it keeps what is promised.
type Report = fn() -> bool;

/// The parts of the laboratory.
const PARTS: [(&str, Report); 4] = [
    ("count", count::report),
    ("curve", || {
        curve::report().iter().for_each(|line| println!("{line}"));
        true
    }),
    ("doses", doses::report),
    ("keeping", || {
        keeping::report();
        true
    }),
];

fn main() -> ExitCode {
    // Cargo adds words of its own to a bench.
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|w| !w.starts_with("--"))
        .collect();
    let mut kept = true;
    for (name, report) in PARTS {
        if words.is_empty() || words.iter().any(|w| w == name) {
            println!("\n{name}, seed {}", seed());
            kept &= report();
        }
    }
    if kept {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// The seed of all chances.
fn seed() -> u64 {
    said("PENTALLY_SEED", 20_261_201)
}

/// How many benches a row is measured on, unless said otherwise.
fn cases(usual: u64) -> u64 {
    said("PENTALLY_CASES", usual)
}

fn said(variable: &str, usual: u64) -> u64 {
    std::env::var(variable).map_or(usual, |said| said.parse().unwrap())
}
