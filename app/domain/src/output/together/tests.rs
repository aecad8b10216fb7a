use super::{outside, to_answer};
use crate::barn::Seen;
use crate::envelope::Order;
use crate::id::{DeviceId, EntryId};
use crate::mixed::Predicted;
use crate::output::{Bearing, Beside, Given, Herdwide, Measure};
use crate::time::{Clock, DAY_MS, Stamp, Zone};
use crate::watch::{Answered, Fall, HerdFall, Signal, SignalAnswer};

const NOW_MS: i64 = 1_700_481_600_000;

fn entry(n: u8) -> EntryId {
    EntryId::v7(NOW_MS, [n; 10])
}

/// A fall of one boar, noticed so many days ago, since two days before that.
fn signal(measure: Measure, ago: i64) -> Signal {
    let at_ms = NOW_MS - ago * DAY_MS;
    Signal {
        measure,
        collection: entry(1),
        at_ms,
        fall: Fall {
            since_ms: at_ms - 2 * DAY_MS,
            n: 2,
            by: -0.4,
        },
    }
}

/// A fall of the herd in motility, in the seven days before now.
fn herd(answer: Option<Answered>) -> Herdwide {
    let answer = answer.map(|answer| SignalAnswer {
        boar: None,
        measure: Measure::Motile,
        collection: entry(2),
        answer,
        cause: None,
        note: None,
    });
    let (at, device) = (Stamp::new(NOW_MS, 0).unwrap(), DeviceId::v7(1, [1; 10]));
    let seen = |fact| Seen {
        order: Order {
            at_ms: NOW_MS,
            clock: Clock::default(),
            id: entry(3),
        },
        at,
        person: None,
        device,
        seq: 1,
        corrected_by: None,
        fact,
    };
    Herdwide {
        fall: HerdFall {
            measure: Measure::Motile,
            boars: 12,
            worse: 11,
            by: 0.9,
            collection: entry(2),
            from_ms: NOW_MS - 7 * DAY_MS,
            to_ms: NOW_MS,
            after_heat: false,
        },
        answer: answer.map(seen),
    }
}

#[test]
fn a_fall_of_the_herd_asks_for_one_answer_and_not_for_one_a_boar() {
    let open = [
        signal(Measure::Motile, 1),
        signal(Measure::Motile, 3),
        signal(Measure::Motile, 30),
        signal(Measure::Total, 2),
    ];
    assert_eq!(to_answer(&open, &[]), 4);
    assert_eq!(
        to_answer(&open, &[herd(None)]),
        3,
        "the herd, the old one, the sperm"
    );
    for stands in [Answered::Seen, Answered::CauseFound] {
        assert_eq!(to_answer(&open, &[herd(Some(stands))]), 2, "{stands:?}");
    }
    let none = herd(Some(Answered::False));
    assert_eq!(to_answer(&open, &[none]), 4, "then it was each boar's");
    assert_eq!(to_answer(&[], &[herd(None)]), 1);
}

#[test]
fn every_figure_outside_of_its_band_is_counted_and_what_nobody_measured_is_not() {
    let of = |total: Option<f64>, motile: Option<f64>| Beside {
        given: Given {
            collection: entry(1),
            at_ms: NOW_MS,
            day: Zone::default().day(NOW_MS),
            values: [None, total, motile, None],
            bearing: Bearing::default(),
        },
        expected: Measure::ALL
            .map(|m| Predicted {
                mean: m.to_scale(60.0).unwrap(),
                sd: 0.1,
            })
            .to_vec(),
        worse: [None; 4],
    };
    // By the normal distribution nine of ten lie within 1.645 standard deviations: of 60, from 50.9 to
    // 70.7 of an amount, and from 56.0 to 63.9 % of a share.
    assert_eq!(outside(&[of(Some(51.5), Some(56.5))]), (0, 2));
    assert_eq!(
        outside(&[of(Some(50.0), Some(65.0))]),
        (2, 2),
        "either side"
    );
    assert_eq!(
        outside(&[of(None, Some(50.0)), of(Some(60.0), None)]),
        (1, 2)
    );
    assert_eq!(outside(&[]), (0, 0));
}
