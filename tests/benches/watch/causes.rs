//! Is what is behind a fall named first?

use crate::barn::{Boar, Invented, Plan, start_ms};
use crate::dice::Dice;
use crate::judge::Judge;
use crate::trouble::{Plant, Trouble};
use crate::truth::Shape;
use pentally_domain::output::{History, Outlook};
use pentally_domain::time::Zone;
use pentally_domain::watch::{Cause, Signal, reasons};
use std::collections::BTreeMap;

/// A fall is looked for in so many collections from its beginning on.
const LOOKED: usize = 16;
const FITTED: i64 = 540;

/// How one planted trouble was told.
#[derive(Default)]
struct Told {
    planted: u32,
    signalled: u32,
    first: u32,
    second: u32,
    others: BTreeMap<String, u32>,
}

pub fn run(dice: &mut Dice, judge: &mut Judge) {
    println!("\n4. what is behind a fall, named first at its first signal");
    let (mut signalled, mut first) = (0, 0);
    for trouble in Trouble::NAMED {
        let mut told = Told::default();
        for shape in [Shape::Hinges, Shape::Smooth] {
            for _ in 0..4 {
                told.barn(&mut dice.split(), trouble, shape);
            }
        }
        told.print(&format!("{trouble:?}"));
        signalled += told.signalled;
        first += told.first;
    }
    let share = f64::from(first) / f64::from(signalled.max(1));
    judge.see(
        true,
        share >= 0.8,
        &format!("all: {:.1} % of {signalled} (80)", 100.0 * share),
    );
    nothing_planted(dice);
}

/// What is named where noise made the signal.
fn nothing_planted(dice: &mut Dice) {
    let (mut signals, mut named) = (0, BTreeMap::<String, u32>::new());
    for _ in 0..12 {
        let barn = Invented::make(&mut dice.split(), Plan::in_order(40, 900), &|_| None);
        let outlook = barn.fitted(FITTED);
        for boar in &barn.boars {
            for (signal, upto) in walked(&outlook, &barn, boar) {
                if signal.at_ms >= start_ms(FITTED) {
                    signals += 1;
                    let first = causes(&barn, boar, &signal, upto).first().copied();
                    let name = first.map_or("none".to_owned(), |cause| format!("{cause:?}"));
                    *named.entry(name).or_default() += 1;
                }
            }
        }
    }
    println!("    nothing planted: {signals} signals of noise; named first: {named:?}");
}

impl Told {
    fn barn(&mut self, dice: &mut Dice, trouble: Trouble, shape: Shape) {
        let from = FITTED + 60;
        let plan = Plan {
            shape,
            turnover: false,
            // Hot days show from two weeks after the first of them on.
            spell: (trouble == Trouble::Heat).then_some(from - 14),
            ..Plan::in_order(30, FITTED + 250)
        };
        let size = [0.8, 1.0, 1.25];
        let plants = |boar: usize| {
            Some(Plant {
                trouble,
                from: from + (boar as i64 % 5),
                size: size[boar % 3],
            })
        };
        let barn = Invented::make(dice, plan, &plants);
        let outlook = barn.fitted(FITTED);
        for boar in &barn.boars {
            self.boar(&barn, &outlook, boar);
        }
    }

    fn boar(&mut self, barn: &Invented, outlook: &Outlook, boar: &Boar) {
        let plant = boar.plant.unwrap();
        self.planted += 1;
        let begun = boar.cups.partition_point(|c| c.day < plant.from);
        let signals = walked(outlook, barn, boar);
        let found = signals.into_iter().find(|(_, upto)| *upto > begun);
        let Some((signal, upto)) = found.filter(|(_, upto)| *upto <= begun + LOOKED) else {
            return;
        };
        self.signalled += 1;
        let causes = causes(barn, boar, &signal, upto);
        let place = causes
            .iter()
            .position(|c| Some(*c) == plant.trouble.cause());
        self.first += u32::from(place == Some(0));
        self.second += u32::from(place == Some(1));
        if place != Some(0) {
            let instead = causes
                .first()
                .map_or("none".to_owned(), |c| format!("{c:?}"));
            *self
                .others
                .entry(format!("{instead} ({:?})", signal.measure))
                .or_default() += 1;
        }
    }

    fn print(&self, name: &str) {
        let share = 100.0 * f64::from(self.first) / f64::from(self.signalled.max(1));
        println!(
            "    {name:10} signalled {:3} of {}, named first {share:5.1} %, second {}; instead: {:?}",
            self.signalled, self.planted, self.second, self.others
        );
    }
}

/// A boar's signals, each with how many ejaculates he had given by then.
fn walked(outlook: &Outlook, barn: &Invented, boar: &Boar) -> Vec<(Signal, usize)> {
    let given = boar.history(i64::MAX).given(&Zone::default(), barn.hot());
    let signals = outlook.beside(boar.id, given).unwrap().1.signals;
    let upto = |s: &Signal| boar.cups.partition_point(|c| c.at_ms <= s.at_ms);
    signals.into_iter().map(|s| (s, upto(&s))).collect()
}

/// The causes that a phone names, likeliest first.
fn causes(barn: &Invented, boar: &Boar, signal: &Signal, upto: usize) -> Vec<Cause> {
    let facts = boar.on_phone(upto);
    let given = History::of(&facts).given(&Zone::default(), barn.hot());
    let list = reasons(&facts, signal, &given, &Zone::default());
    list.into_iter().map(|r| r.cause).collect()
}
