//! Whether the use-by prediction keeps its word, on barns of known truth.

#[path = "keeping/barns.rs"]
mod barns;

use crate::dice::Dice;
use barns::{Habit, play};
use pentally_domain::evaluation::Share;
use pentally_domain::extender::{ExtenderClass, Keeping};
use pentally_domain::retained;
use pentally_domain::units::Percent;

/// A habit's name, the habit, and how many barns of it are played.
const HABITS: [(&str, Habit, usize); 8] = [
    (
        "40 boars, 6 batches, 1-4 counts of 200, long",
        habit(40, 6, (1, 4), Some(200), ExtenderClass::Long),
        40,
    ),
    (
        "40 boars, 6 batches, 1-3 counts of 200, medium",
        habit(40, 6, (1, 3), Some(200), ExtenderClass::Medium),
        40,
    ),
    (
        "40 boars, 6 batches, 1-2 counts of 200, short",
        habit(40, 6, (1, 2), Some(200), ExtenderClass::Short),
        40,
    ),
    (
        "40 boars, 6 batches, 1-4 by eye, long",
        habit(40, 6, (1, 4), None, ExtenderClass::Long),
        40,
    ),
    (
        "10 boars, 4 batches, 1-3 counts of 200, medium",
        habit(10, 4, (1, 3), Some(200), ExtenderClass::Medium),
        240,
    ),
    (
        "10 boars, 4 batches, 1 count of 200, medium",
        habit(10, 4, (1, 1), Some(200), ExtenderClass::Medium),
        240,
    ),
    (
        "3 boars, 3 batches, 1-3 counts of 100, medium",
        habit(3, 3, (1, 3), Some(100), ExtenderClass::Medium),
        1000,
    ),
    (
        "1 boar, 2 batches, 1-2 by eye, short",
        habit(1, 2, (1, 2), None, ExtenderClass::Short),
        3000,
    ),
];

const fn habit(
    boars: usize,
    batches: usize,
    looks: (i64, i64),
    cells: Option<u16>,
    class: ExtenderClass,
) -> Habit {
    Habit {
        boars,
        batches,
        looks,
        cells,
        class,
    }
}

/// Prints, for each habit, how often a 90 % interval of the day of 60 % held the truth, and what the
/// suggested use-by did.
pub fn report() {
    println!("The day of 60 %: how often its 90 % interval holds the true day");
    println!("(closed: both ends within 30 d, meant 90; open: one end beyond, meant 95)");
    for (name, habit, barns) in HABITS {
        let t = play(&habit, barns, 20_261_201);
        let share = |(all, some): (usize, usize)| 100.0 * some as f64 / all.max(1) as f64;
        let open = (t.batches.0 - t.closed.0, t.batches.1 - t.closed.1);
        println!("{name}");
        println!(
            "  batches: closed {:.1} of {} (truth before {:.1}, after {:.1}; {:.1} d wide), open {:.1} of {}; next batch: closed {:.1} of {}",
            share(t.closed),
            t.closed.0,
            share((t.closed.0, t.missed.0)),
            share((t.closed.0, t.missed.1)),
            t.width.0 / t.width.1.max(1) as f64,
            share(open),
            open.0,
            share(t.next),
            t.next.0,
        );
        println!(
            "  use-by: of {} shortened {:.1} % were down before it (meant at most 5); of {} down within the class's days {:.1} % were caught",
            t.shortened.0,
            share(t.shortened),
            t.down.0,
            share(t.down),
        );
    }
}
