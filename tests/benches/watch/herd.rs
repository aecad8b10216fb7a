//! Is a fall of the whole herd told, and is none told where there is none?

use crate::barn::{Invented, Plan, start_ms};
use crate::dice::Dice;
use crate::judge::Judge;
use crate::truth::Shape;
use pentally_domain::id::BoarId;
use pentally_domain::output::{Beside, Measure};
use pentally_domain::time::Zone;
use pentally_domain::watch::{HerdFall, herd_falls};

const FITTED: i64 = 500;
const AFTER: i64 = 252;

pub fn run(dice: &mut Dice, judge: &mut Judge) {
    println!("\n5. the whole herd");
    for boars in [8, 20, 40, 60, 250] {
        let barns = (1_000 / boars).clamp(8, 60);
        let mut told = 0;
        for _ in 0..barns {
            told += u32::from(misread(&mut dice.split(), boars));
        }
        let share = 100.0 * f64::from(told) / barns as f64;
        let what = format!(
            "concentration read 25 % low for a week, {boars} boars: told in {share:.0} % of {barns} barns"
        );
        judge.see(boars >= 40, share >= 90.0, &what);
    }
    let (mut weeks, mut wrong) = (0, 0);
    for boars in [8, 20, 60, 250] {
        let barns = (1_000 / boars).clamp(8, 60);
        let (mut in_these, mut of) = (0, 0);
        for _ in 0..barns {
            let plan = Plan {
                shape: Shape::Smooth,
                ..Plan::in_order(boars, FITTED + AFTER)
            };
            let barn = Invented::make(&mut dice.split(), plan, &|_| None);
            let herd = besides(&barn, FITTED);
            // What is told on several days running is told once.
            let told = |day: i64| !falls(&herd, FITTED + day).is_empty();
            in_these += (1..AFTER)
                .filter(|day| told(*day) && !told(*day - 1))
                .count();
            of += AFTER / 7;
        }
        println!("    {boars} boars, nothing planted: told {in_these} times in {of} weeks");
        weeks += of;
        wrong += in_these;
    }
    let fine = wrong as f64 <= weeks as f64 / 200.0;
    judge.see(
        true,
        fine,
        &format!(
            "nothing planted, looked at daily: {wrong} times in {weeks} barn-weeks (1 in 200)"
        ),
    );
}

/// Total sperm of all boars read 25 % low for seven days: is it told by two days after?
fn misread(dice: &mut Dice, boars: usize) -> bool {
    let plan = Plan {
        shape: Shape::Smooth,
        ..Plan::in_order(boars, FITTED + AFTER)
    };
    let mut barn = Invented::make(dice, plan, &|_| None);
    let from = FITTED + 100;
    for cup in barn.boars.iter_mut().flat_map(|b| &mut b.cups) {
        if (from..from + 7).contains(&cup.day) {
            let total = &mut cup.scaled[Measure::Total.place()];
            *total = total.map(|y| y + 0.75_f64.ln());
        }
    }
    let herd = besides(&barn, FITTED);
    (from..from + 9).any(|day| {
        falls(&herd, day)
            .iter()
            .any(|fall| fall.measure == Measure::Total)
    })
}

type Herd = Vec<(BoarId, Vec<Beside>)>;

fn besides(barn: &Invented, fitted: i64) -> Herd {
    let outlook = barn.fitted(fitted);
    let of = |boar: &crate::barn::Boar| {
        let mut given = boar.history(i64::MAX).given(&Zone::default(), barn.hot());
        given.retain(|g| g.at_ms >= start_ms(fitted - 90));
        (boar.id, outlook.beside(boar.id, given).unwrap().0)
    };
    barn.boars.iter().map(of).collect()
}

fn falls(herd: &Herd, day: i64) -> Vec<HerdFall> {
    herd_falls(herd, start_ms(day + 1))
}
