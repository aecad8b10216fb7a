//! The remissions of Freireich et al. (1963, Blood 21:699), in weeks: the data that textbooks work through.

use super::*;
use crate::survival::{Compared, compare, log_rank};

/// 6-mercaptopurine: weeks, and whether the disease came back then.
const MERCAPTOPURINE: [(f64, bool); 21] = [
    (6.0, true),
    (6.0, true),
    (6.0, true),
    (6.0, false),
    (7.0, true),
    (9.0, false),
    (10.0, true),
    (10.0, false),
    (11.0, false),
    (13.0, true),
    (16.0, true),
    (17.0, false),
    (19.0, false),
    (20.0, false),
    (22.0, true),
    (23.0, true),
    (25.0, false),
    (32.0, false),
    (32.0, false),
    (34.0, false),
    (35.0, false),
];

/// Placebo: weeks; it came back in all.
const PLACEBO: [f64; 21] = [
    1.0, 1.0, 2.0, 2.0, 3.0, 4.0, 4.0, 5.0, 5.0, 8.0, 8.0, 8.0, 8.0, 11.0, 11.0, 12.0, 12.0, 15.0,
    17.0, 22.0, 23.0,
];

fn observed(time: f64, happened: bool) -> Observed {
    Observed::new(time, happened).unwrap()
}

fn treated() -> Vec<Observed> {
    MERCAPTOPURINE
        .map(|(time, happened)| observed(time, happened))
        .to_vec()
}

fn placebo() -> Vec<Observed> {
    PLACEBO.map(|time| observed(time, true)).to_vec()
}

fn near(found: f64, printed: f64, places: i32) {
    let half = 0.5 * 10_f64.powi(-places);
    assert!(
        (found - printed).abs() <= half * 1.000_001,
        "{found}, printed {printed}"
    );
}

fn at(curve: &Curve, time: f64) -> Point {
    *curve.points.iter().find(|p| p.time == time).unwrap()
}

/// Kleinbaum & Klein, Survival Analysis, chapter 2, print the shares to four places; the standard
/// errors are those that R's survival package prints for the same data (from memory).
#[test]
fn the_treated_group_is_as_printed() {
    let curve = curve(&treated());
    assert_eq!((curve.watched, curve.happened), (21, 9));
    for (week, at_risk, share, error) in [
        (6.0, 21, 0.8571, 0.0764),
        (7.0, 17, 0.8067, 0.0869),
        (10.0, 15, 0.7529, 0.0963),
        (13.0, 12, 0.6902, 0.1068),
        (16.0, 11, 0.6275, 0.1141),
        (22.0, 7, 0.5378, 0.1282),
        (23.0, 6, 0.4482, 0.1346),
    ] {
        let point = at(&curve, week);
        assert_eq!(point.at_risk, at_risk, "week {week}");
        near(point.waiting, share, 4);
        near(point.standard_error.unwrap(), error, 4);
    }
    let median = curve.median().unwrap();
    assert_eq!((median.time, median.to), (23.0, None));
    assert_eq!(curve.middle(), Middle::Reached(median));
}

/// Nobody left early here, so the share is what is left of 21 (the same chapter prints .90, .81, .76, …).
#[test]
fn without_anyone_leaving_the_share_is_a_count() {
    let curve = curve(&placebo());
    for point in &curve.points {
        let left = PLACEBO.iter().filter(|t| **t > point.time).count();
        near(point.waiting, left as f64 / 21.0, 12);
        // The binomial's standard error, to which Greenwood's comes down.
        if let Some(error) = point.standard_error {
            let share = point.waiting;
            near(error, (share * (1.0 - share) / 21.0).sqrt(), 12);
        }
    }
    assert_eq!(curve.median().unwrap().time, 8.0);
    let last = curve.points.last().unwrap();
    assert_eq!(
        (last.waiting, last.standard_error, last.band),
        (0.0, None, None)
    );
}

/// R's survdiff prints for these data: expected 10.7 and 19.3, (O−E)²/E 9.77 and 5.46, chi-square 16.8
/// on 1 degree of freedom, p = 4.17e-05 (course notes of several universities show that output).
#[test]
fn the_log_rank_test_is_as_printed() {
    let groups = [placebo(), treated()];
    let test = log_rank(&groups).unwrap();
    for (group, happened, expected, share) in [(0, 21, 10.7, 9.77), (1, 9, 19.3, 5.46)] {
        let ranked = test.groups[group];
        assert_eq!((ranked.watched, ranked.happened), (21, happened));
        near(ranked.expected, expected, 1);
        let apart = ranked.happened as f64 - ranked.expected;
        near(apart * apart / ranked.expected, share, 2);
    }
    near(test.chi_square, 16.8, 1);
    assert_eq!(test.degrees, 1);
    near(test.chance * 1e5, 4.17, 2);
    let turned = log_rank(&[treated(), placebo()]).unwrap();
    near(turned.chi_square, test.chi_square, 9);
    let left_out = vec![];
    assert_eq!(compare(&groups), Compared::Test { test, left_out });
}

/// The 5 % and 0.1 % points of the chi-square distribution, as every table prints them
/// (for instance NIST/SEMATECH e-Handbook 1.3.6.7.4).
#[test]
fn the_tail_is_that_of_the_tables() {
    for (degrees, five, thousandth) in [
        (1, 3.841, 10.828),
        (2, 5.991, 13.816),
        (3, 7.815, 16.266),
        (4, 9.488, 18.467),
        (5, 11.070, 20.515),
        (10, 18.307, 29.588),
    ] {
        near(chi_square_tail(five, degrees), 0.05, 4);
        near(chi_square_tail(thousandth, degrees), 0.001, 6);
        assert_eq!(chi_square_tail(0.0, degrees), 1.0);
        assert_eq!(chi_square_tail(1e6, degrees), 0.0);
    }
}

#[test]
fn too_few_is_an_answer() {
    let few = vec![observed(4.0, true); 4];
    let middle = curve(&few).middle();
    let at_least = EVENTS_AT_LEAST;
    assert_eq!(
        middle,
        Middle::TooFew {
            happened: 4,
            at_least
        }
    );
    assert_eq!(compare(&[treated()]), Compared::TooFew(TooFew::Groups));
    let said = compare(&[placebo(), few.clone()]);
    let at_least = EXPECTED_AT_LEAST;
    let too_few = TooFew::Expected {
        happened: 25,
        at_least,
    };
    assert_eq!(said, Compared::TooFew(too_few));
    let Compared::Test { test, left_out } = compare(&[placebo(), few, treated()]) else {
        panic!("two large groups can be compared beside a small one")
    };
    assert_eq!((test.groups.len(), test.degrees), (2, 1));
    assert_eq!(left_out.iter().map(|l| l.group).collect::<Vec<_>>(), [1]);
    let at_once = vec![observed(1.0, true); 12];
    let same = compare(&[at_once.clone(), at_once]);
    assert_eq!(same, Compared::TooFew(TooFew::AllAtOnce));
}

/// Twenty who never came to it are evidence, although nothing happened among them.
#[test]
fn a_group_in_which_nothing_happened_is_compared() {
    let never = vec![observed(30.0, false); 20];
    let Compared::Test { test, .. } = compare(&[placebo(), never]) else {
        panic!("it has as many expected events as it takes")
    };
    assert_eq!(test.groups[1].happened, 0);
    assert!(test.chance < 1e-6, "{test:?}");
}

#[test]
fn nobody_and_nothing_make_no_figures() {
    assert_eq!(curve(&[]), Curve::default());
    assert_eq!(log_rank(&[]), None);
    assert_eq!(log_rank(&[vec![], vec![]]), None);
    let waits = curve(&[observed(3.0, false), observed(-0.0, false)]);
    assert_eq!((waits.happened, waits.median()), (0, None));
    assert_eq!(waits.points.last().unwrap().standard_error, None);
    assert_eq!(waits.points.first().unwrap().time.to_bits(), 0);
    for wrong in [-1.0, f64::NAN, f64::INFINITY, 100_001.0] {
        assert!(Observed::new(wrong, true).is_err(), "{wrong}");
    }
}
