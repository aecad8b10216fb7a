//! One boar of fifteen collections, the last four of which fell.

use super::reasons;
use crate::barn::written::Written;
use crate::boar::{OffCollection, OffReason, OnCollection};
use crate::collection::{Collection, Glove, Mount, Outcome, Trouble};
use crate::fact::Fact;
use crate::id::{BoarId, EntryId};
use crate::output::{Given, History, Measure};
use crate::said::Said;
use crate::time::{DAY_MS, Zone};
use crate::watch::{Cause, Fall, Reason, Signal};

/// Noon UTC of 20 November 2023.
const NOON_MS: i64 = 1_700_481_600_000;
const BEFORE: i64 = 11;
const ALL: i64 = 15;

fn cup(boar: BoarId) -> Collection {
    Collection {
        boar,
        outcome: Outcome::Collected,
        glove: Said::Confirmed(Glove::Vinyl),
        mount: Said::Confirmed(Mount::Dummy),
        steps: vec![],
        sperm_poor_in: Said::Confirmed(true),
        amount: None,
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    }
}

/// His reasons when each collection is changed so, after rests of five days before the fall and of
/// `rest` in it.
fn told(
    measure: Measure,
    rest: i64,
    change: impl Fn(i64, &mut Collection),
) -> (Vec<Reason>, Vec<EntryId>) {
    told_after(measure, rest, change, |_, _| {}, |_| None)
}

fn told_after(
    measure: Measure,
    rest: i64,
    change: impl Fn(i64, &mut Collection),
    first: impl Fn(&mut Written, BoarId),
    hot: impl Fn(i64) -> Option<f64>,
) -> (Vec<Reason>, Vec<EntryId>) {
    let mut barn = Written::new();
    let boar = BoarId::v7(1, [9; 10]);
    first(&mut barn, boar);
    let day = |n: i64| 5 * n.min(BEFORE - 1) + rest * (n - BEFORE + 1).max(0);
    let entries: Vec<EntryId> = (0..ALL)
        .map(|n| {
            let mut cup = cup(boar);
            change(n, &mut cup);
            barn.say(&Fact::Collection(cup), NOON_MS + day(n) * DAY_MS)
                .id
        })
        .collect();
    let facts = barn.barn.boar(boar).unwrap();
    let start = Zone::default().day(NOON_MS);
    let hot_on = |on: chrono::NaiveDate| hot((on - start).num_days());
    let given: Vec<Given> = History::of(&facts).given(&Zone::default(), hot_on);
    let signal = Signal {
        measure,
        collection: given[14].collection,
        at_ms: given[14].at_ms,
        fall: Fall {
            since_ms: given[11].at_ms,
            n: 4,
            by: -0.4,
        },
    };
    (reasons(&facts, &signal, &given, &Zone::default()), entries)
}

fn first(list: &[Reason]) -> Option<Cause> {
    list.first().map(|r| r.cause)
}

#[test]
fn where_nothing_was_otherwise_nothing_is_named() {
    for measure in Measure::ALL {
        assert_eq!(told(measure, 5, |_, _| {}).0, []);
    }
}

#[test]
fn what_the_ejaculates_of_the_fall_had_is_named_with_them() {
    let (list, entries) = told(Measure::Total, 2, |_, _| {});
    assert_eq!(first(&list), Some(Cause::ShortRest));
    assert_eq!((list[0].during, list[0].before), ((4, 4), (0, 11)));
    let latest_first: Vec<_> = entries[11..].iter().rev().copied().collect();
    assert_eq!(list[0].entries, latest_first);
    let glove = |n: i64, cup: &mut Collection| {
        if n >= BEFORE {
            cup.glove = Said::Confirmed(Glove::Latex);
        }
    };
    assert_eq!(
        first(&told(Measure::Motile, 5, glove).0),
        Some(Cause::Glove)
    );
    // A glove costs no volume.
    assert!(
        told(Measure::Volume, 5, glove)
            .0
            .iter()
            .all(|r| r.weight < 0.6)
    );
    let fractions = |n: i64, cup: &mut Collection| cup.sperm_poor_in = Said::Confirmed(n < BEFORE);
    assert_eq!(
        first(&told(Measure::Volume, 5, fractions).0),
        Some(Cause::Fractions)
    );
}

#[test]
fn one_mishap_stands_behind_what_all_had() {
    let both = |n: i64, cup: &mut Collection| {
        if n == 13 {
            cup.trouble.push(Trouble::Dirt);
        }
        if n >= BEFORE {
            cup.glove = Said::Confirmed(Glove::Nitrile);
        }
    };
    let (list, _) = told(Measure::Motile, 5, both);
    let causes: Vec<_> = list.iter().map(|r| r.cause).collect();
    assert_eq!(causes, [Cause::Glove, Cause::Dirt]);
    let torn = |n: i64, cup: &mut Collection| {
        if n >= BEFORE {
            cup.trouble.push(Trouble::Filter);
        }
    };
    for measure in [Measure::Total, Measure::Motile] {
        let (list, entries) = told(measure, 5, torn);
        assert_eq!((first(&list), list.len()), (Some(Cause::Filter), 1));
        assert_eq!(list[0].entries.last(), entries.get(11));
    }
    // Dirt that was there before as often is behind no fall.
    let always = |n: i64, cup: &mut Collection| {
        if n % 2 == 0 {
            cup.trouble.push(Trouble::Dirt);
        }
    };
    assert_eq!(told(Measure::Motile, 5, always).0, []);
}

/// An open time off ends on the day he was put back, and what he gives is watched for six weeks from
/// then; see `rest::health`.
#[test]
fn a_fever_that_is_long_over_is_behind_nothing_and_hides_no_other() {
    let off = |barn: &mut Written, boar: BoarId, day: i64| {
        let off = OffCollection {
            boar,
            reason: OffReason::Fever,
            until: None,
            cull: None,
        };
        barn.say(&Fact::OffCollection(off), NOON_MS + day * DAY_MS)
    };
    let back = |barn: &mut Written, boar: BoarId, day: i64| {
        let back = Fact::OnCollection(OnCollection { boar });
        barn.say(&back, NOON_MS + day * DAY_MS);
    };
    // Put back 43 days before the fall begins, on day 55.
    let over = |barn: &mut Written, boar: BoarId| {
        off(barn, boar, 5);
        back(barn, boar, 12);
    };
    let (list, _) = told_after(Measure::Abnormal, 5, |_, _| {}, over, |_| None);
    assert_eq!(list, []);
    let again = |barn: &mut Written, boar: BoarId| {
        off(barn, boar, -90);
        back(barn, boar, -80);
        off(barn, boar, 51);
        back(barn, boar, 53);
    };
    let (list, _) = told_after(Measure::Abnormal, 5, |_, _| {}, again, |_| None);
    assert_eq!(first(&list), Some(Cause::Fever));
    assert_eq!((list[0].during, list[0].before), ((4, 4), (0, 11)));
    assert_eq!(list[0].entries.len(), 5, "the second fever alone");
    // While nobody put him back, all that he gives has it.
    let still = |barn: &mut Written, boar: BoarId| {
        off(barn, boar, 52);
    };
    let (list, _) = told_after(Measure::Abnormal, 5, |_, _| {}, still, |_| None);
    assert_eq!(first(&list), Some(Cause::Fever));
}

#[test]
fn fever_and_heat_are_named_with_what_says_so() {
    let fever = |barn: &mut Written, boar: BoarId| {
        let off = OffCollection {
            boar,
            reason: OffReason::Fever,
            until: Some(Zone::default().day(NOON_MS + 53 * DAY_MS)),
            cull: None,
        };
        barn.say(&Fact::OffCollection(off), NOON_MS + 51 * DAY_MS);
    };
    let (list, _) = told_after(Measure::Abnormal, 5, |_, _| {}, fever, |_| None);
    assert_eq!(first(&list), Some(Cause::Fever));
    assert_eq!(list[0].entries.len(), 5, "four ejaculates and the time off");
    let hot = |day: i64| Some(if day > 52 { 8.0 } else { 1.0 });
    let (list, _) = told_after(Measure::Motile, 5, |_, _| {}, |_, _| {}, hot);
    assert_eq!(first(&list), Some(Cause::Heat));
}
