//! Against what other programs make of the same numbers: `tests/arithmetic/generate.py`, whose
//! output names the programs and their versions.

#[path = "../arithmetic/table.rs"]
mod table;

use chrono::NaiveDate;
use pentally_domain::agreement::{Tally, exact_chance};
use pentally_domain::counting::{Dilution, Replicate, chamber, wilson};
use pentally_domain::doses::{Ejaculate, Making, Recipe, make};
use pentally_domain::explain::Origin;
use pentally_domain::farm::CountAs;
use pentally_domain::gestation::{age, expected, heat_expected};
use pentally_domain::units::{
    Cells, Concentration, Count, DoseVolumeMl, GestationDays, Percent, SpermBillions, Squares,
    VolumeMl,
};
use table::{number, rows};

fn day(cell: &str) -> NaiveDate {
    cell.parse().expect(cell)
}

fn tally(hits: &str, cells: &str) -> Tally {
    let hits = Count::new(hits.parse().expect("hits")).expect("hits");
    Tally::new(
        hits,
        Cells::new(cells.parse().expect("cells")).expect("cells"),
    )
    .expect("tally")
}

#[test]
fn the_sows_calendar_is_pythons() {
    for row in rows::<9>(include_str!("../arithmetic/calendar.csv")) {
        let [from, after @ ..] = row.map(day);
        for (length, farrows) in [(114, after[3]), (115, after[4])] {
            let length = GestationDays::new(length).expect("days");
            let found = expected(from, length, &Origin::Asked).expect("in bounds");
            assert_eq!(
                [found.return_from, found.return_to],
                [after[0], after[1]],
                "{from}"
            );
            assert_eq!(
                [found.check_from, found.check_better],
                [after[1], after[2]],
                "{from}"
            );
            assert_eq!(found.farrows_on, farrows, "{from}");
        }
        let found = heat_expected(from, &Origin::Asked).expect("in bounds");
        assert_eq!(
            [found.look_from, found.heat_from, found.heat_to],
            after[5..8],
            "{from}"
        );
    }
}

#[test]
fn ages_are_pythons() {
    for [born, on, days, months] in rows(include_str!("../arithmetic/ages.csv")) {
        let found = age(day(born), day(on), &Origin::Asked).expect("in bounds");
        let read = [days, months].map(|n| n.parse::<u32>().expect(n));
        assert_eq!([found.days, found.months], read, "{born} to {on}");
    }
}

#[test]
fn intervals_are_those_of_statsmodels() {
    for [hits, cells, low, high] in rows(include_str!("../arithmetic/wilson.csv")) {
        let of = tally(hits, cells);
        let [found_low, found_high] = wilson(of.share(), of.cells(), &Origin::Asked);
        for (found, read) in [(found_low, low), (found_high, high)] {
            assert!(
                (found.number() - number(read)).abs() < 1e-9,
                "{hits} of {cells}: {found:?}"
            );
        }
    }
}

#[test]
fn exact_chances_are_those_of_scipy() {
    let mut sides = [0, 0];
    for [a, n, b, m, chance] in rows(include_str!("../arithmetic/chance.csv")) {
        let (found, read) = (exact_chance(tally(a, n), tally(b, m)), number(chance));
        assert!(
            (found - read).abs() < 1e-9,
            "{a}/{n} {b}/{m}: {found}, scipy {read}"
        );
        assert!(
            (found / read - 1.0).abs() < 1e-6,
            "{a}/{n} {b}/{m}: {found}, scipy {read}"
        );
        sides[usize::from(read > 0.05)] += 1;
    }
    assert!(
        sides.iter().all(|n| *n > 20),
        "both answers must occur: {sides:?}"
    );
}

#[test]
fn counts_are_those_of_exact_fractions() {
    let parts = |step: &str| {
        let (semen, diluent) = step.split_once('+').expect(step);
        (number(semen), number(diluent))
    };
    for [counts, squares, steps, read] in rows(include_str!("../arithmetic/counts.csv")) {
        let whole = |n: &str| n.parse::<u32>().expect(n);
        let pairs = counts.split(' ').zip(squares.split(' '));
        let replicate = |(count, squares): (&str, &str)| Replicate {
            count: Count::new(whole(count)).expect("count"),
            squares: Squares::new(whole(squares)).expect("squares"),
        };
        let replicates: Vec<_> = pairs.map(replicate).collect();
        let dilution = Dilution::new(steps.split_whitespace().map(parts).collect()).expect("steps");
        let found = chamber(&replicates, &dilution, &Origin::Asked).expect("in bounds");
        let far = found.concentration.value() - number(read);
        assert!(
            far.abs() <= 1e-9 * number(read),
            "{counts} in {squares} at {steps}: {found:?}"
        );
    }
}

#[test]
fn doses_are_those_of_exact_fractions() {
    for row in rows::<10>(include_str!("../arithmetic/doses.csv")) {
        let [
            ml,
            concentration,
            motile,
            abnormal,
            way,
            target,
            volume,
            doses,
            fate,
            extender,
        ] = row;
        let ejaculate = Ejaculate {
            volume: VolumeMl::new(number(ml)).ok(),
            concentration: Concentration::new(number(concentration)).ok(),
            motile: Percent::new(number(motile)).ok(),
            abnormal: Percent::new(number(abnormal)).ok(),
            ..Ejaculate::default()
        };
        let recipe = Recipe {
            count_as: serde_json::from_value::<CountAs>(way.into()).expect(way),
            target: SpermBillions::new(number(target)).expect("target"),
            dose_volume: DoseVolumeMl::new(number(volume)).expect("volume"),
            at_most: None,
            target_from: Origin::Asked,
            dose_volume_from: Origin::Asked,
        };
        let doses: u32 = doses.parse().expect(doses);
        match (make(&[ejaculate], &recipe).0, fate) {
            (Making::Made(plan), "made") => {
                assert_eq!(plan.doses, doses, "{row:?}");
                assert!(
                    (plan.extender_ml - number(extender)).abs() < 1e-6,
                    "{row:?} {plan:?}"
                );
            }
            (Making::Thin { larger, .. }, "thin") => {
                assert!(larger.is_none_or(|plan| plan.doses == doses), "{row:?}");
            }
            (Making::TooFew { .. }, "too_few") => assert_eq!(doses, 0, "{row:?}"),
            (found, _) => panic!("{row:?} is {found:?}"),
        }
    }
}
