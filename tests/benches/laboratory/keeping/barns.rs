//! Barns of known truth: boars, batches and samples that vary, looks at some days, and how often the
//! interval of the day of 60 % holds the day on which a batch really gets there.
//!
//! The truth is thrown anew for each barn, and is not what the program guesses before any look.

use super::retained::day::{Day, HORIZON_DAYS, day, use_by};
use super::retained::herd::{Herd, fit};
use super::retained::lines::{Batch, Placed};
use super::retained::{EyeCells, Floor, Look};
use super::{Dice, ExtenderClass, Keeping, Percent, Share};

/// How a barn looks at its retained samples.
#[derive(Debug, Clone, Copy)]
pub struct Habit {
    /// Boars.
    pub boars: usize,
    /// Batches of each.
    pub batches: usize,
    /// Looks at each batch, at least and at most.
    pub looks: (i64, i64),
    /// Cells of a look; none: judged by eye.
    pub cells: Option<u16>,
    /// Class of extender.
    pub class: ExtenderClass,
}

/// What came of it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Tally {
    /// Intervals of batches looked at, and how many held the truth.
    pub batches: (usize, usize),
    /// Those of them with both ends within the horizon, and how many held the truth: 90 % are meant
    /// to. One with an open end can miss on one side only and is meant to hold it with 95 %.
    pub closed: (usize, usize),
    /// Truths before a closed interval, and after it.
    pub missed: (usize, usize),
    /// Closed intervals of a boar's next batch, and how many held it.
    pub next: (usize, usize),
    /// Batches whose use-by was shortened by looks, and how many of them were down by then.
    pub shortened: (usize, usize),
    /// Batches that were down within the days of the class, and how many of them the use-by caught.
    pub down: (usize, usize),
    /// Sum of the widths of closed intervals in days, and how many there are.
    pub width: (f64, usize),
}

/// Two numbers that vary together.
struct Spread {
    sd: [f64; 2],
    together: f64,
}

impl Spread {
    fn thrown(dice: &mut Dice, slope: f64) -> Self {
        Self {
            sd: [
                dice.between(0.15, 0.5),
                slope.abs() * dice.between(0.1, 0.35),
            ],
            together: dice.between(-0.4, 0.4),
        }
    }

    fn about(&self, mean: [f64; 2], dice: &mut Dice) -> [f64; 2] {
        let (a, b) = (dice.normal(), dice.normal());
        let beside = (1.0 - self.together * self.together).sqrt();
        [
            mean[0] + self.sd[0] * a,
            mean[1] + self.sd[1] * (self.together * a + beside * b),
        ]
    }
}

/// Plays so many barns of a habit.
pub fn play(habit: &Habit, barns: usize, seed: u64) -> Tally {
    let mut dice = Dice::new(seed);
    let mut tally = Tally::default();
    for _ in 0..barns {
        barn(habit, &mut dice, &mut tally);
    }
    tally
}

fn barn(habit: &Habit, dice: &mut Dice, tally: &mut Tally) {
    let most = f64::from(habit.class.most_days());
    let fresh = dice.between(1.3, 2.1);
    let slope = (Floor::HARD.logit() - fresh) / (most * dice.between(0.9, 2.0));
    let (of_boars, of_batches) = (Spread::thrown(dice, slope), Spread::thrown(dice, slope));
    let of_samples = dice.between(0.1, 0.35);
    let boars: Vec<_> = (0..habit.boars)
        .map(|_| of_boars.about([fresh, slope], dice))
        .collect();
    let truth: Vec<Vec<_>> = boars
        .iter()
        .map(|boar| {
            (0..habit.batches)
                .map(|_| of_batches.about(*boar, dice))
                .collect()
        })
        .collect();
    let looked: Vec<Vec<Batch>> = truth
        .iter()
        .map(|batches| {
            batches
                .iter()
                .map(|line| looks(habit, *line, of_samples, dice))
                .collect()
        })
        .collect();
    let Ok(fitted) = fit(&Herd::printed(habit.class), &looked) else {
        return;
    };
    for ((placed, lines), boar) in fitted.boars.iter().zip(&truth).zip(&boars) {
        compare(habit, placed, lines, tally);
        let (found, next) = (
            day(&placed.next, Floor::HARD),
            really_down(of_batches.about(*boar, dice)),
        );
        if found.from.and(found.to).is_some() {
            tally.next.0 += 1;
            tally.next.1 += usize::from(side(&found, next) == 0);
        }
    }
}

/// What a handler sees of a batch.
fn looks(habit: &Habit, line: [f64; 2], of_samples: f64, dice: &mut Dice) -> Batch {
    let many = dice.whole(habit.looks.0, habit.looks.1);
    let most = i64::from(habit.class.most_days());
    (0..many)
        .filter_map(|_| {
            let days = dice.whole(1, most) as f64 + dice.between(-0.2, 0.2);
            let logit = line[0] + line[1] * days + of_samples * dice.normal();
            let share = 1.0 / (1.0 + (-logit).exp());
            let percent = if let Some(cells) = habit.cells {
                let hits = (0..cells).filter(|_| dice.is(share)).count();
                100.0 * hits as f64 / f64::from(cells)
            } else {
                let read = share + dice.normal() * (share * (1.0 - share) / 20.0).sqrt();
                (read * 20.0).round().clamp(0.0, 20.0) * 5.0
            };
            let cells = habit.cells;
            let percent = Percent::new(percent).ok()?;
            Look::new(days.max(0.0), Share { percent, cells }, EyeCells::USUAL).ok()
        })
        .collect()
}

/// The day on which a line is down; beyond all days for one that never is.
fn really_down(line: [f64; 2]) -> f64 {
    let floor = Floor::HARD.logit();
    match (line[0] <= floor, line[1] < 0.0) {
        (true, _) => 0.0,
        (false, true) => (floor - line[0]) / line[1],
        (false, false) => f64::INFINITY,
    }
}

/// −1: the truth lies before the interval; 0: in it; 1: after it.
fn side(day: &Day, truth: f64) -> i8 {
    let truth = if truth > HORIZON_DAYS {
        f64::INFINITY
    } else {
        truth
    };
    match (day.from, day.to) {
        (None, _) if truth < f64::INFINITY => -1,
        (Some(from), _) if truth < from => -1,
        (_, Some(to)) if truth > to => 1,
        _ => 0,
    }
}

fn compare(habit: &Habit, placed: &Placed, lines: &[[f64; 2]], tally: &mut Tally) {
    let Ok(keeping) = Keeping::new(Some(habit.class), Some(habit.class.most_days().into())) else {
        return;
    };
    for (line, truth) in placed.batches.iter().zip(lines) {
        let (found, truth) = (day(line, Floor::HARD), really_down(*truth));
        let side = side(&found, truth);
        tally.batches.0 += 1;
        tally.batches.1 += usize::from(side == 0);
        if let (Some(from), Some(to)) = (found.from, found.to) {
            tally.closed.0 += 1;
            tally.closed.1 += usize::from(side == 0);
            tally.missed.0 += usize::from(side < 0);
            tally.missed.1 += usize::from(side > 0);
            tally.width = (tally.width.0 + to - from, tally.width.1 + 1);
        }
        let hours = f64::from(use_by(keeping, &found, true).hours);
        let allowed = f64::from(keeping.days()) * 24.0;
        if hours < allowed {
            tally.shortened.0 += 1;
            tally.shortened.1 += usize::from(truth * 24.0 < hours);
        }
        if truth * 24.0 < allowed {
            tally.down.0 += 1;
            tally.down.1 += usize::from(hours <= truth * 24.0);
        }
    }
}
