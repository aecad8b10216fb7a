//! Who stands where beside the others.

use super::{Evidence, Own, Served, compare, level_of_each, served};
use crate::barn::written::Written;
use crate::boar::{Before, Boar, CullFor, OffCollection, OffReason};
use crate::fact::Fact;
use crate::id::{BoarId, SowId};
use crate::output::Looker;
use crate::said::Label;
use crate::sow::{By, Heat, Service, Sow};
use crate::time::DAY_MS;

/// Noon UTC of 20 November 2023.
const NOON_MS: i64 = 1_700_481_600_000;

fn at(days: i64) -> i64 {
    NOON_MS + days * DAY_MS
}

fn boar(barn: &mut Written, number: &str) -> BoarId {
    let boar = Boar {
        number: Label::parse(number).unwrap(),
        name: None,
        born: None,
        line: None,
        ear: None,
        before: Before::NoneYet,
        mind: None,
    };
    barn.say(&Fact::Boar(boar), at(-200)).id.as_boar()
}

fn sow(barn: &mut Written, number: &str) -> SowId {
    let number = Label::parse(number).unwrap();
    let sow = Sow {
        number,
        gilt: false,
    };
    barn.say(&Fact::Sow(sow), at(-200)).id.as_sow()
}

fn serves(barn: &mut Written, boar: BoarId, sow: SowId, on: i64) {
    let by = By::Boar(boar);
    barn.say(&Fact::Service(Service { sow, by }), at(on));
}

fn stands(barn: &mut Written, sow: SowId, standing: bool, on: i64) {
    let onset = None;
    let heat = Heat {
        sow,
        standing,
        onset,
    };
    barn.say(&Fact::Heat(heat), at(on));
}

/// Returns from 18 to 24 days after service, farrowing at 114: `gestation` holds the sources.
#[test]
fn what_became_of_a_heat_counts_for_the_boar_who_alone_served() {
    let mut barn = Written::new();
    let (a, b) = (boar(&mut barn, "A"), boar(&mut barn, "B"));
    let sows: Vec<_> = ["1", "2", "3", "4", "5", "6"]
        .into_iter()
        .map(|n| sow(&mut barn, n))
        .collect();
    // Back in heat on day 21 after the last service, which is 20 days after the first.
    serves(&mut barn, a, sows[0], -100);
    serves(&mut barn, a, sows[0], -99);
    stands(&mut barn, sows[0], true, -78);
    // Looked at, and did not stand.
    serves(&mut barn, a, sows[1], -100);
    stands(&mut barn, sows[1], false, -79);
    // Not over: the 24th day is today's.
    serves(&mut barn, a, sows[2], -24);
    // Both served in one heat: nobody's.
    serves(&mut barn, a, sows[3], -60);
    serves(&mut barn, b, sows[3], -59);
    // Served again three weeks later, by another.
    serves(&mut barn, a, sows[4], -90);
    serves(&mut barn, b, sows[4], -69);
    // In heat again after she could have farrowed.
    serves(&mut barn, b, sows[5], -150);
    stands(&mut barn, sows[5], true, -10);
    let told = served(&barn.barn, NOON_MS);
    let counts = |boar| told.get(&boar).map(|s| (s.held, s.returned, s.waiting));
    assert_eq!(counts(a), Some((1, 2, 1)));
    assert_eq!(counts(b), Some((2, 0, 0)));
}

/// Fisher's tea: of eight cups, four with the milk in first, three of those four named right, by chance in
/// 17 of 70 (The Design of Experiments, 1935, from memory). The larger ones were summed in whole
/// numbers by Python's `math.comb`.
#[test]
fn chances_are_those_of_fishers_exact_test() {
    let of = |held, returned| Served {
        held,
        returned,
        waiting: 0,
    };
    for (own, others, chance) in [
        (of(1, 3), of(3, 1), 17.0 / 70.0),
        (of(60, 140), of(370, 630), 0.034_605_295_592_703_374),
        (of(60, 140), of(400, 600), 0.004_600_002_552_373_079),
        (of(40, 160), of(400, 600), 2.220_217_602_268_621e-8),
        (of(10, 0), of(3, 7), 1.0),
    ] {
        let found = own.chance_beside(others);
        assert!((found / chance - 1.0).abs() < 1e-9, "{found} {chance}");
    }
}

#[test]
fn only_more_returns_than_chance_explains_speak_against_him() {
    let of = |held, returned| Served {
        held,
        returned,
        waiting: 3,
    };
    let many = of(60, 140);
    assert!(many.is_worse_than(of(400, 600), 1));
    assert!(!many.is_worse_than(of(370, 630), 1));
    assert!(!of(0, 9).is_worse_than(of(90, 10), 1), "too few to say");
    assert!(!of(10, 40).is_worse_than(of(9, 0), 1), "nothing to compare");
    // Of five hundred boars one gets as far by chance.
    assert!(!many.is_worse_than(of(400, 600), 500));
    assert!(of(40, 160).is_worse_than(of(400, 600), 500));
    assert_eq!(
        of(100, 50).less(of(40, 20)),
        Served {
            waiting: 0,
            ..of(60, 30)
        }
    );
}

/// A herd of five hundred boars of whom none is worse: two hundred heats each, one of five came back
/// by chance alone (numbers from a multiplicative generator, Park & Miller 1988). At the level of
/// one boar alone a dozen would be called.
#[test]
fn among_many_sound_boars_hardly_one_is_called_worse() {
    let mut seed: u64 = 20_261_201;
    let mut back = || {
        seed = seed * 48_271 % 2_147_483_647;
        seed % 1_000 < 200
    };
    let mut one = || {
        let returned = (0..200).filter(|_| back()).count();
        Served {
            held: 200 - returned,
            returned,
            waiting: 0,
        }
    };
    let mut called = [0, 0];
    for _ in 0..4 {
        let boars: Vec<Served> = (0..500).map(|_| one()).collect();
        let herd = boars.iter().copied().fold(Served::default(), Served::and);
        for (called, level) in called.iter_mut().zip([1, boars.len()]) {
            let worse = |s: &&Served| s.is_worse_than(herd.less(**s), level);
            *called += boars.iter().filter(worse).count();
        }
    }
    assert!((20..=60).contains(&called[0]), "{called:?}");
    assert!(called[1] <= 1, "{called:?}");
    assert!((level_of_each(1) - 0.025).abs() < 1e-12);
    assert!((1.0 - (1.0 - level_of_each(500)).powi(500) - 0.025).abs() < 1e-9);
}

#[test]
fn lame_three_times_speaks_against_him_and_no_ejaculate_says_nothing() {
    let mut barn = Written::new();
    let (a, b) = (boar(&mut barn, "A"), boar(&mut barn, "B"));
    for on in [-90, -60, -30] {
        let off = OffCollection {
            boar: a,
            reason: OffReason::Lame,
            until: None,
            cull: None,
        };
        barn.say(&Fact::OffCollection(off), at(on));
    }
    let cull = OffCollection {
        boar: b,
        reason: OffReason::Cull,
        until: None,
        cull: Some(CullFor::Age),
    };
    barn.say(&Fact::OffCollection(cull), at(-1));
    let looker = Looker::of(&barn.barn, NOON_MS);
    let rows = compare(&barn.barn, &looker, NOON_MS);
    let [a, b] = &rows[..] else {
        panic!("{rows:?}")
    };
    assert_eq!(
        (a.total, a.motile, a.served),
        (Own::TooFew, Own::TooFew, None)
    );
    assert_eq!(
        (a.lame, a.speaks.as_slice()),
        (3, [Evidence::Legs(3)].as_slice())
    );
    assert_eq!(a.speaks[0].cull(), CullFor::Legs);
    assert!(b.leaves && !a.leaves && b.speaks.is_empty());
}
