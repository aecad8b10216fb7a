//! How long the charts run before they call a boar who is in order, and how soon they tell a fall.

use crate::barn::{Invented, Plan, Rests, start_ms};
use crate::dice::Dice;
use crate::judge::Judge;
use crate::trouble::{Plant, Trouble};
use crate::truth::Shape;
use pentally_domain::output::{Measure, Outlook};
use pentally_domain::time::Zone;
use pentally_domain::watch::Signal;
use std::collections::BTreeSet;

/// A boar's first ejaculates are not counted.
const WARM_UP: usize = 20;
/// A boar in order is to be called no more than once in so many collections.
const IN_ORDER: f64 = 370.0;

pub fn in_order(dice: &mut Dice, judge: &mut Judge) {
    println!("\n2. collections of a boar in order to one signal, after his first {WARM_UP}");
    let plan = Plan::in_order(60, 1_000);
    for (name, plan, barns, judged) in [
        (
            "rests from 3 days on, no heat, the columns' own shapes",
            plan,
            60,
            true,
        ),
        (
            "the same, smooth curves",
            Plan {
                shape: Shape::Smooth,
                ..plan
            },
            60,
            true,
        ),
        (
            "rests from 1 to 20 days",
            Plan {
                rests: Rests::Any,
                ..plan
            },
            20,
            false,
        ),
        (
            "rests from 3 days on, and hot spells",
            Plan { hot: true, ..plan },
            20,
            false,
        ),
    ] {
        println!("  {name}");
        let mut told = Told::default();
        for _ in 0..barns {
            let barn = Invented::make(&mut dice.split(), plan, &|_| None);
            told.count(&barn);
        }
        for measure in Measure::ALL {
            let (run, what) = told.run(told.signals[measure.place()]);
            judge.see(judged, run >= IN_ORDER, &format!("{measure:?}: {what}"));
        }
        let (_, what) = told.run(told.any);
        println!("    any of the four: {what}");
    }
}

/// What boars in order were told of.
#[derive(Default)]
struct Told {
    collections: f64,
    /// Signals of each measure.
    signals: [f64; 4],
    /// Collections at which any measure had one.
    any: f64,
}

impl Told {
    /// Fits at half time and walks on from there as a phone does.
    fn count(&mut self, barn: &Invented) {
        let until = 500;
        let outlook = barn.fitted(until);
        for boar in &barn.boars {
            let late = |at_ms: i64| {
                at_ms >= start_ms(until) && boar.cups.get(WARM_UP).is_some_and(|c| at_ms >= c.at_ms)
            };
            self.collections += boar.cups.iter().filter(|c| late(c.at_ms)).count() as f64;
            let mut at = BTreeSet::new();
            for signal in walked(&outlook, barn, boar) {
                if late(signal.at_ms) {
                    self.signals[signal.measure.place()] += 1.0;
                    at.insert(signal.at_ms);
                }
            }
            self.any += at.len() as f64;
        }
    }

    /// Collections to one of so many signals, and how it is said.
    fn run(&self, n: f64) -> (f64, String) {
        let run = self.collections / n.max(1.0);
        let sd = run / n.max(1.0).sqrt();
        (run, format!("{run:.0} ± {sd:.0} ({n} signals)"))
    }
}

/// A boar's signals, on a phone that holds all he gave.
fn walked(outlook: &Outlook, barn: &Invented, boar: &crate::barn::Boar) -> Vec<Signal> {
    let given = boar.history(i64::MAX).given(&Zone::default(), barn.hot());
    outlook.beside(boar.id, given).unwrap().1.signals
}

pub fn falls(dice: &mut Dice, judge: &mut Judge) {
    println!(
        "\n3. collections, the first fallen one among them, until a fall of total sperm by 30 % is told"
    );
    for (cv, most) in [(0.30, 6), (0.20, 3)] {
        let mut runs: Vec<usize> = vec![];
        for _ in 0..25 {
            let plan = Plan {
                cv: Some(cv),
                turnover: false,
                ..Plan::in_order(40, 900)
            };
            let from = dice.whole(560, 640);
            let plant = Plant {
                trouble: Trouble::Unknown,
                from,
                size: 1.0,
            };
            let barn = Invented::make(&mut dice.split(), plan, &|_| Some(plant));
            let outlook = barn.fitted(540);
            for boar in &barn.boars {
                let signals = walked(&outlook, &barn, boar);
                let told = (signals.iter())
                    .find(|s| s.measure == Measure::Total && s.at_ms >= start_ms(from));
                let told = told.map_or(i64::MAX, |s| s.at_ms);
                let fallen = (boar.cups.iter()).filter(|c| c.day >= from && c.at_ms <= told);
                runs.push(fallen.count());
            }
        }
        runs.sort_unstable();
        let at = |share: usize| runs[runs.len() * share / 100];
        let what = format!(
            "coefficient of variation {:.0} %: median {} (at most {most}), nine of ten within {}, of {}",
            100.0 * cv,
            at(50),
            at(90),
            runs.len()
        );
        judge.see(true, at(50) <= most, &what);
    }
}
