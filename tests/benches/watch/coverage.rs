//! Of what a phone says beforehand, is nine of ten within the band? Overall, and for boars of each age
//! and in each season.

use crate::barn::{Cup, Invented, Plan, Rests};
use crate::dice::Dice;
use crate::judge::Judge;
use crate::truth::{Shape, Spread};
use crate::written::WINDOW;
use pentally_domain::output::{Measure, Outlook};
use pentally_domain::time::Zone;
use std::collections::BTreeMap;

/// Boars in a barn, and how many such barns.
const BARNS: [(usize, usize); 4] = [(1, 480), (8, 64), (60, 10), (250, 4)];
/// Days of entries before the fit.
const FITTED: [i64; 4] = [180, 365, 730, 1_460];
/// Days that are foretold after it.
const FORETOLD: i64 = 100;
/// So many cases of each class and size of barn are drawn: more of the same barns would tell little
/// more, since boars and effects are shared among them.
const DRAWN: usize = 1_000;
/// The normal distribution's two-sided 1 % point: n·0.9·0.1 is far above what that asks for.
const Z99: f64 = 2.576;

const AGES: [(&str, i64); 6] = [
    ("7 to 10 months", 10),
    ("10 to 12 months", 12),
    ("12 to 18 months", 18),
    ("18 to 24 months", 24),
    ("24 to 42 months", 42),
    ("42 months and over", i64::MAX),
];
const SEASONS: [&str; 4] = ["winter", "spring", "summer", "autumn"];

/// Whether one thing foretold came true.
#[derive(Default)]
struct Cases(BTreeMap<(String, usize), Vec<bool>>);

pub fn run(dice: &mut Dice, judge: &mut Judge) {
    println!("\n1. nine of ten within the 90 % band, of what comes after a fit");
    for (name, shape, spread, judged) in [
        (
            "the columns' own shapes, normal residuals",
            Shape::Hinges,
            Spread::Normal,
            true,
        ),
        (
            "smooth curves, normal residuals",
            Shape::Smooth,
            Spread::Normal,
            true,
        ),
        (
            "smooth curves, Student's residuals (4 d.f.)",
            Shape::Smooth,
            Spread::Heavy,
            false,
        ),
    ] {
        println!("  truth: {name}");
        let cases = cases(dice, shape, spread);
        let mut mean = 0.0;
        for ((name, size), list) in &cases.0 {
            if name == "all" {
                println!(
                    "    barns of {size:3}: {:5.2} % of {}",
                    percent(list),
                    list.len()
                );
                mean += percent(list) / BARNS.len() as f64;
            }
        }
        let within = (88.0..=92.0).contains(&mean);
        judge.see(
            judged,
            within,
            &format!("overall, all sizes alike: {mean:.2} % (88 to 92)"),
        );
        for measure in Measure::ALL {
            let list = drawn(dice, &cases, &format!("{measure:?}"));
            let within = (88.0..=92.0).contains(&percent(&list));
            judge.see(
                judged,
                within,
                &format!("{measure:?}: {:.2} % of {}", percent(&list), list.len()),
            );
        }
        for class in AGES.iter().map(|(name, _)| *name).chain(SEASONS) {
            let list = drawn(dice, &cases, class);
            let n = list.len() as f64;
            let z = (percent(&list) / 100.0 - 0.9) * n / (n * 0.09).sqrt();
            let fine = z.abs() <= Z99 && list.len() >= 3_000;
            judge.see(
                judged,
                fine,
                &format!("{class}: {:.2} % of {n} (z = {z:+.2})", percent(&list)),
            );
        }
    }
}

fn percent(list: &[bool]) -> f64 {
    100.0 * list.iter().filter(|b| **b).count() as f64 / list.len().max(1) as f64
}

/// As many of each size of barn, drawn at random.
fn drawn(dice: &mut Dice, cases: &Cases, class: &str) -> Vec<bool> {
    let mut all = vec![];
    for ((name, _), list) in &cases.0 {
        if name == class {
            let mut list = list.clone();
            for _ in 0..DRAWN.min(list.len()) {
                let at = dice.whole(0, list.len() as i64 - 1) as usize;
                all.push(list.swap_remove(at));
            }
        }
    }
    all
}

fn cases(dice: &mut Dice, shape: Shape, spread: Spread) -> Cases {
    let mut cases = Cases::default();
    for (boars, barns) in BARNS {
        for barn in 0..barns {
            let until = FITTED[barn % FITTED.len()] + dice.whole(0, 180);
            let plan = Plan {
                shape,
                spread,
                rests: Rests::Any,
                hot: true,
                gaps: true,
                ..Plan::in_order(boars, until + FORETOLD)
            };
            let made = Invented::make(&mut dice.split(), plan, &|_| None);
            cases.foretell(&made, until, boars);
        }
    }
    cases
}

impl Cases {
    fn foretell(&mut self, barn: &Invented, until: i64, size: usize) {
        let (zone, hot) = (Zone::default(), barn.hot());
        let outlook = barn.fitted(until);
        for boar in &barn.boars {
            let after = boar.cups.iter().filter(|c| c.day >= until).count();
            if after == 0 {
                continue;
            }
            let given = boar.history(i64::MAX).given(&zone, &hot);
            let window = given.len().saturating_sub(WINDOW.max(after));
            let (besides, _) = outlook.beside(boar.id, given[window..].to_vec()).unwrap();
            let foretold = &besides[besides.len() - after..];
            let cups = &boar.cups[boar.cups.len() - after..];
            for (beside, cup) in foretold.iter().zip(cups) {
                assert_eq!(beside.given.collection, cup.entry);
                let months = (cup.day - boar.born) * 12 / 365;
                for measure in Measure::ALL {
                    let [low, high] = beside.expected[measure.place()].interval();
                    // Young boars' days of birth are always entered.
                    if let Some(y) = cup.scaled[measure.place()] {
                        self.take(size, measure, months, cup, (low..=high).contains(&y));
                    }
                }
            }
        }
    }

    fn take(&mut self, size: usize, measure: Measure, months: i64, cup: &Cup, within: bool) {
        let age = AGES.iter().find(|(_, below)| months < *below).unwrap().0;
        let season = SEASONS[usize::try_from((cup.bearing.day_of_year + 30) % 365 / 92)
            .unwrap()
            .min(3)];
        for class in ["all", age, season, &format!("{measure:?}")] {
            self.0
                .entry((class.to_owned(), size))
                .or_default()
                .push(within);
        }
    }
}

impl Invented {
    /// What the office fits on a day.
    pub fn fitted(&self, until: i64) -> Outlook {
        let herd: BTreeMap<_, _> = (self.boars.iter())
            .map(|boar| (boar.id, boar.history(until)))
            .collect();
        Outlook::fitted(
            &herd,
            &Zone::default(),
            &self.hot(),
            crate::barn::start_ms(until),
        )
        .unwrap()
    }
}
