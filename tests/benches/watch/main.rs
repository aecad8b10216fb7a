//! What the watch over each boar's output is worth, measured on invented barns whose truth is known:
//! how often a value lies within its band, how long the charts run in order and how soon they tell a
//! fall, whether the cause is named, and how fast it goes. Ends with 1 when a target is missed.
//!
//! `PENTALLY_SEED` takes other chances; words name the parts to be run (`coverage runs falls causes herd speed`).

mod barn;
mod causes;
mod coverage;
mod dice;
mod herd;
mod judge;
mod runs;
mod speed;
mod trouble;
mod truth;
mod written;

use dice::Dice;
use judge::Judge;
use std::process::ExitCode;

type Part = fn(&mut Dice, &mut Judge);

const PARTS: [(&str, Part); 6] = [
    ("coverage", coverage::run),
    ("runs", runs::in_order),
    ("falls", runs::falls),
    ("causes", causes::run),
    ("herd", herd::run),
    ("speed", speed::run),
];

fn main() -> ExitCode {
    let seed = std::env::var("PENTALLY_SEED").map_or(20_261_201, |seed| seed.parse().unwrap());
    println!("the watch on invented barns, seed {seed}");
    // Cargo adds words of its own to a bench.
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|w| !w.starts_with("--"))
        .collect();
    let mut judge = Judge::default();
    for (at, (name, part)) in PARTS.into_iter().enumerate() {
        if words.is_empty() || words.iter().any(|w| w == name) {
            part(&mut Dice::new(seed + 1_000 * at as u64), &mut judge);
        }
    }
    if judge.over() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
