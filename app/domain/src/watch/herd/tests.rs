use super::{HERD_DAYS, herd_falls};
use crate::id::{BoarId, EntryId};
use crate::output::{Bearing, Beside, Given, Measure};
use crate::time::DAY_MS;
use crate::watch::{Fall, Signal};

const NOW_MS: i64 = 1_700_481_600_000;

/// So many boars, each with these: days ago, and by how much worse he gave of total sperm.
fn herd(boars: u8, each: &[(i64, f64)], hot_days: f64) -> Vec<(BoarId, Vec<Beside>)> {
    let beside = |n: u8, (ago, worse): &(i64, f64)| {
        let at_ms = NOW_MS - ago * DAY_MS;
        Beside {
            given: Given {
                collection: EntryId::v7(at_ms, [n; 10]),
                at_ms,
                day: crate::time::Zone::default().day(at_ms),
                values: [None; 4],
                bearing: Bearing {
                    hot_days: Some(hot_days),
                    ..Bearing::default()
                },
            },
            expected: vec![],
            worse: [None, Some(*worse), None, None],
        }
    };
    (0..boars)
        .map(|n| {
            (
                BoarId::v7(1, [n; 10]),
                each.iter().map(|e| beside(n, e)).collect(),
            )
        })
        .collect()
}

#[test]
fn a_fall_of_all_is_told_with_its_size() {
    let herd = herd(20, &[(20, 0.0), (10, 0.0), (5, 1.0), (1, 0.8)], 0.0);
    let falls = herd_falls(&herd, NOW_MS);
    let [fall] = falls[..] else {
        panic!("{falls:?}")
    };
    assert_eq!(
        (fall.measure, fall.boars, fall.worse),
        (Measure::Total, 20, 20)
    );
    assert!((fall.by - 0.9).abs() < 1e-12);
    assert!(!fall.after_heat);
    let signal = |ago: i64, measure| Signal {
        measure,
        collection: EntryId::v7(1, [1; 10]),
        at_ms: NOW_MS - ago * DAY_MS,
        fall: Fall {
            since_ms: NOW_MS - (ago + 3) * DAY_MS,
            n: 2,
            by: -0.3,
        },
    };
    assert!(fall.covers(&signal(1, Measure::Total)));
    assert!(!fall.covers(&signal(1, Measure::Volume)));
    assert!(!fall.covers(&signal(HERD_DAYS + 1, Measure::Total)));
}

#[test]
fn few_boars_or_one_bad_one_are_no_herd() {
    assert_eq!(herd_falls(&herd(0, &[], 0.0), NOW_MS), []);
    assert_eq!(herd_falls(&herd(4, &[(1, 3.0), (3, 3.0)], 0.0), NOW_MS), []);
    let mut with_one = herd(20, &[(1, 0.0)], 0.0);
    with_one[3].1 = herd(1, &[(5, 3.0), (4, 3.0), (3, 3.0)], 0.0).remove(0).1;
    assert_eq!(herd_falls(&with_one, NOW_MS), []);
    // What was, is over; and what is better is no fall.
    assert_eq!(
        herd_falls(&herd(20, &[(9, 2.0), (1, 0.1)], 0.0), NOW_MS),
        []
    );
    assert_eq!(herd_falls(&herd(20, &[(1, -2.0)], 0.0), NOW_MS), []);
    // A large herd's small fall is certain, and too small to be worth a word.
    assert_eq!(herd_falls(&herd(250, &[(1, 0.3)], 0.0), NOW_MS), []);
}

#[test]
fn heat_before_it_is_said() {
    let falls = herd_falls(&herd(10, &[(2, 1.5)], 6.0), NOW_MS);
    assert!(falls.len() == 1 && falls[0].after_heat);
}
