//! Whether the 90 % intervals of the day of 60 % hold the true day, on a few barns; the report plays
//! more of them (`cargo xtask bench laboratory`).

use crate::evaluation::Share;
use crate::extender::{ExtenderClass, Keeping};
use crate::retained;
use crate::units::Percent;
use barns::{Habit, play};
use dice::Dice;

#[path = "../../../../../tests/benches/laboratory/keeping/barns.rs"]
mod barns;
#[allow(dead_code, clippy::doc_markdown)]
#[path = "../../../../../tests/benches/watch/dice.rs"]
mod dice;

/// 2,880 batches: a share of 90 % is known to within a point.
#[test]
fn intervals_hold_what_they_promise() {
    let habit = Habit {
        boars: 30,
        batches: 4,
        looks: (1, 3),
        cells: Some(200),
        class: ExtenderClass::Medium,
    };
    let tally = play(&habit, 24, 7);
    let share = |(all, some): (usize, usize)| some as f64 / all as f64;
    assert!((0.875..=0.94).contains(&share(tally.closed)), "{tally:?}");
    assert!(share(tally.batches) >= 0.9, "{tally:?}");
    assert!(share(tally.next) >= 0.87, "{tally:?}");
    // Of those whose use-by was shortened, at most 5 % were meant to be down before it.
    assert!(share(tally.shortened) <= 0.06, "{tally:?}");
    assert!(tally.shortened.0 > 500 && tally.down.0 > 300, "{tally:?}");
}
