//! Against scipy and statsmodels: `tests/laboratory/intervals.py`, whose output names the versions.

use super::*;
use crate::counting::wilson;
use crate::explain::Origin;
use crate::units::Count;

fn rows<const N: usize>(text: &str) -> Vec<[f64; N]> {
    let read = |line: &str| {
        let cells: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
        cells.try_into().unwrap()
    };
    text.lines().skip(2).map(read).collect()
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "whole numbers of a table"
)]
fn whole(cell: f64) -> u32 {
    cell as u32
}

/// The committed figures have twelve digits.
fn near(found: f64, read: f64, case: &str) {
    let far = (found - read).abs();
    assert!(
        far <= 2e-9 * read.abs() + 1e-12,
        "{case}: {found}, scipy {read}"
    );
}

fn tally(hits: f64, cells: f64) -> Tally {
    let hits = Count::new(whole(hits)).unwrap();
    Tally::new(hits, Cells::new(whole(cells)).unwrap()).unwrap()
}

#[test]
fn shares_are_those_of_statsmodels() {
    let rows = rows(include_str!("../../../../tests/laboratory/shares.csv"));
    assert!(rows.len() > 1500, "{}", rows.len());
    for [hits, cells, low, high, exact_low, exact_high] in rows {
        let of = tally(hits, cells);
        let case = format!("{hits} of {cells}");
        let [found_low, found_high] = wilson(of.share(), of.cells(), &Origin::Asked);
        // Where nothing was hit the end is 0 but for the last bits of a difference.
        assert!((found_low.number() - low).abs() < 1e-9, "{case}");
        assert!((found_high.number() - high).abs() < 1e-9, "{case}");
        let found = clopper_pearson(of);
        near(found[0], exact_low, &case);
        near(found[1], exact_high, &case);
    }
}

#[test]
fn poisson_counts_are_those_of_scipy() {
    let rows = rows(include_str!("../../../../tests/laboratory/poisson.csv"));
    assert!(rows.len() > 800, "{}", rows.len());
    for [count, low, high, jeffreys_low, middle, jeffreys_high] in rows {
        let case = format!("{count} sperm");
        let found = poisson(whole(count));
        near(found[0], low, &case);
        near(found[1], high, &case);
        let found = poisson_jeffreys(whole(count));
        if count == 0.0 {
            assert_eq!([found[0], found[2]], poisson(0));
            continue;
        }
        near(found[0], jeffreys_low, &case);
        near(found[1], middle, &case);
        near(found[2], jeffreys_high, &case);
    }
}

#[test]
fn tails_are_those_of_scipy() {
    let rows = rows(include_str!("../../../../tests/laboratory/tails.csv"));
    assert!(rows.len() > 1500, "{}", rows.len());
    for [percent, cells, limit, below, above] in rows {
        let (share, limit) = (Percent::new(percent).unwrap(), Percent::new(limit).unwrap());
        let cells = Cells::new(whole(cells)).unwrap();
        let case = format!("{percent} % of {cells:?} under {limit:?}");
        near(chance_below(share, cells, limit), below, &case);
        near(chance_above(share, cells, limit), above, &case);
    }
}

/// Garwood 1936 as printed in tables of exact Poisson limits (from memory): 0 → 0–3.69, 10 → 4.80–18.39.
#[test]
fn printed_limits_of_small_counts() {
    let rounded = |count| poisson(count).map(|x| (100.0 * x).round() / 100.0);
    assert_eq!(rounded(0), [0.0, 3.69]);
    assert_eq!(rounded(10), [4.8, 18.39]);
}

#[test]
fn limits_at_the_ends_leave_nothing_or_all() {
    let cells = Cells::new(200).unwrap();
    for percent in [0, 50, 100] {
        let share = Percent::of(percent);
        assert_eq!(chance_below(share, cells, Percent::of(0)), 0.0);
        assert_eq!(chance_below(share, cells, Percent::of(100)), 1.0);
        assert_eq!(chance_above(share, cells, Percent::of(0)), 1.0);
        assert_eq!(chance_above(share, cells, Percent::of(100)), 0.0);
    }
    assert_eq!(clopper_pearson(tally(0.0, 7.0))[0], 0.0);
    assert_eq!(clopper_pearson(tally(7.0, 7.0))[1], 100.0);
}

/// The bits themselves: whoever changes how they are found changes what farms have stored.
#[test]
fn the_bits_stay() {
    let share = Percent::of(70);
    let chance = chance_below(share, Cells::new(200).unwrap(), Percent::of(65));
    let bits = [poisson(412)[0], poisson(412)[1], chance, normal_below(-1.5)].map(f64::to_bits);
    let known = [
        4_645_272_536_791_282_144,
        4_646_690_417_267_038_200,
        4_589_548_282_999_935_863,
        4_589_478_386_851_006_445,
    ];
    assert_eq!(bits, known);
}
