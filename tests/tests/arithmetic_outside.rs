//! Against what other programs make of the same numbers: `tests/arithmetic/generate.py` and
//! `tests/arithmetic/survival.py`, whose output names the programs and their versions.

#[path = "../arithmetic/table.rs"]
mod table;

use chrono::NaiveDate;
use pentally_domain::agreement::{Tally, exact_chance};
use pentally_domain::counting::{Dilution, Replicate, chamber, wilson};
use pentally_domain::doses::{Ejaculate, Making, Recipe, make};
use pentally_domain::explain::Origin;
use pentally_domain::farm::CountAs;
use pentally_domain::gestation::{age, expected, heat_expected};
use pentally_domain::survival::{Observed, chi_square_tail, curve, log_rank};
use pentally_domain::units::{
    Cells, Concentration, Count, DoseVolumeMl, GestationDays, Percent, SpermBillions, Squares,
    VolumeMl,
};
use serde::Deserialize;
use table::{number, rows};

/// A point of a curve, figure by figure as the generator writes them; absent where not defined.
type Point = (f64, f64, Option<f64>, Option<f64>, Option<f64>);

/// One line of `survival.jsonl`.
#[derive(Deserialize)]
struct Waits {
    groups: Vec<Vec<(f64, bool)>>,
    /// Time, share, standard error, lower and upper edge of the band.
    curves: Vec<Vec<Point>>,
    /// First times at which share, lower and upper edge are one half or less.
    medians: Vec<[Option<f64>; 3]>,
    /// Statistic, degrees of freedom, chance.
    test: Option<(f64, u32, f64)>,
}

/// The committed figures have eleven digits; lifelines sums logarithms, which costs some.
fn close(found: f64, read: f64) -> bool {
    (found - read).abs() <= 1e-8 * read.abs().max(1e-3)
}

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

#[test]
fn curves_are_those_of_lifelines_and_statsmodels() {
    let text = include_str!("../arithmetic/survival.jsonl");
    let (mut ties, mut bands, mut open, mut tests) = (0, 0, 0, [0, 0]);
    for line in text.lines().skip(1) {
        let waits: Waits = serde_json::from_str(line).expect(line);
        let observed = |(time, happened)| Observed::new(time, happened).expect("a time");
        let groups: Vec<Vec<Observed>> = waits
            .groups
            .into_iter()
            .map(|group| group.into_iter().map(observed).collect())
            .collect();
        for ((group, points), median) in groups.iter().zip(waits.curves).zip(waits.medians) {
            let found = curve(group);
            assert_eq!(found.points.len(), points.len(), "{line}");
            for (point, (time, share, error, low, high)) in found.points.iter().zip(points) {
                assert_eq!(point.time, time, "{line}");
                assert!(close(point.waiting, share), "{point:?}: {share}");
                let read = low.zip(high).map(|(low, high)| [low, high]);
                assert_eq!(point.band.is_some(), read.is_some(), "{point:?}");
                for (found, read) in point
                    .band
                    .into_iter()
                    .flatten()
                    .zip(read.into_iter().flatten())
                {
                    assert!(close(found, read), "{point:?}: {read}");
                    bands += 1;
                }
                assert_eq!(point.standard_error.is_some(), error.is_some(), "{point:?}");
                if let Some((found, read)) = point.standard_error.zip(error) {
                    assert!(close(found, read), "{point:?}: {read}");
                }
                ties += usize::from(point.happened > 1 && point.censored > 0);
            }
            let middle = found.median();
            assert_eq!(middle.map(|m| m.time), median[0], "{line}");
            if let Some(middle) = middle {
                assert_eq!([middle.from, middle.to], [median[1], median[2]], "{line}");
            }
            open += usize::from(median[0].is_none());
        }
        let found = log_rank(&groups);
        assert_eq!(found.is_some(), waits.test.is_some(), "{found:?}: {line}");
        if let Some((found, (statistic, degrees, chance))) = found.zip(waits.test) {
            assert_eq!(found.degrees, degrees, "{line}");
            assert!(close(found.chi_square, statistic), "{found:?}: {line}");
            assert!(close(found.chance, chance), "{found:?}: {line}");
            tests[usize::from(chance < 0.05)] += 1;
        }
    }
    assert!(
        ties > 30 && bands > 1000 && open > 50 && tests.iter().all(|n| *n > 20),
        "all must occur: {ties} {bands} {open} {tests:?}"
    );
}

#[test]
fn the_chi_square_tail_is_scipys() {
    for [x, degrees, chance] in rows(include_str!("../arithmetic/tail.csv")) {
        let (found, read) = (
            chi_square_tail(number(x), degrees.parse().expect(degrees)),
            number(chance),
        );
        assert!(
            (found / read - 1.0).abs() < 1e-12,
            "{x}, {degrees}: {found}, scipy {read}"
        );
    }
}
