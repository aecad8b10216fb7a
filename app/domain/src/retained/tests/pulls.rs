//! What a failed look does to a batch. Days of returns are 18 to 24 after service (TRADE: common
//! practice, no source); Wilson's intervals beside the shares are from `tests/arithmetic/wilson.csv`.

use super::*;
use crate::barn::Seen;
use crate::batch::{SemenBatch, Source};
use crate::code::Code;
use crate::doses::Technique;
use crate::envelope::Order;
use crate::id::{DeviceId, SowId};
use crate::sow::{By, Service};
use crate::time::{Clock, HOUR_MS, Zone};
use crate::units::VolumeMl;
use chrono::NaiveDate;
use pulled::{Pulled, State, left, out, state};

/// 2026-03-02 06:00 UTC.
const AT_MS: i64 = 1_772_431_200_000;
const BATCH: u8 = 1;

fn id(n: u8) -> EntryId {
    EntryId::from_uuid(uuid::Uuid::from_u128(n.into()))
}

fn sow(n: u8) -> SowId {
    id(n).as_sow()
}

fn seen<T>(n: u8, days: f64, fact: T) -> Seen<T> {
    let ms = AT_MS + (days * 24.0) as i64 * HOUR_MS;
    Seen {
        order: Order {
            at_ms: ms,
            clock: Clock::default(),
            id: id(n),
        },
        at: Stamp::new(ms, 0).unwrap(),
        person: None,
        device: DeviceId::from_uuid(uuid::Uuid::nil()),
        seq: 1,
        corrected_by: None,
        fact,
    }
}

fn batch() -> Seen<SemenBatch> {
    let fact = SemenBatch {
        code: Code::from_number(7).unwrap(),
        sources: vec![Source {
            boar: id(9).as_boar(),
            collection: id(8),
            evaluation: None,
        }],
        standard: None,
        reckoning: "doses".into(),
        asked: "{}".into(),
        answered: "{}".into(),
        doses: 13,
        dose_volume: VolumeMl::new(80.0).unwrap(),
        technique: Technique::Intracervical,
        counted: true,
        use_by: Stamp::new(AT_MS, 0).unwrap(),
        antibiotic: None,
        extender_mix: None,
    };
    seen(BATCH, 0.0, fact)
}

fn looked(
    n: u8,
    days: f64,
    percent: u8,
    cells: Option<u16>,
    warmed: Option<bool>,
) -> Seen<Retained> {
    let fact = Retained {
        batch: id(BATCH),
        boars: vec![id(9).as_boar()],
        motile: Share {
            percent: Percent::of(percent),
            cells,
        },
        warmed,
        stored_c: None,
    };
    seen(n, days, fact)
}

fn served(n: u8, days: f64, who: u8, doses: u8, of: u8) -> Seen<Service> {
    let by = By::Doses {
        batch: id(of),
        boars: vec![id(9).as_boar()],
        doses,
        technique: Technique::Intracervical,
    };
    seen(n, days, Service { sow: sow(who), by })
}

fn now(looks: &[Seen<Retained>], services: &[Seen<Service>], today: &str) -> State {
    let zone = (&Zone::fixed("UTC", 0), today.parse().unwrap());
    state(&batch(), looks, services, Floor::HARD, zone)
}

fn is_pulled(looks: &[Seen<Retained>]) -> Option<EntryId> {
    match now(looks, &[], "2026-03-06") {
        State::Pulled(pulled) => Some(pulled.by),
        _ => None,
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn a_failed_look_pulls_and_names_doses_and_sows() {
    let looks = [
        looked(20, 2.0, 82, Some(200), Some(true)),
        looked(21, 4.0, 41, Some(200), Some(true)),
    ];
    let services = [
        served(30, 1.0, 50, 1, BATCH),
        served(31, 1.5, 50, 1, BATCH),
        served(32, 3.0, 51, 2, BATCH),
        served(33, 4.5, 52, 1, BATCH),
        // A pool's service stands with each of its boars; and another batch's is not of this one.
        served(32, 3.0, 51, 2, BATCH),
        served(34, 1.0, 53, 3, 99),
    ];
    let State::Pulled(Pulled {
        since,
        by,
        left,
        out,
        watch,
    }) = now(&looks, &services, "2026-03-06")
    else {
        panic!("not pulled");
    };
    assert_eq!((since, by, left), (looks[1].at, id(21), 13 - 5));
    let told: Vec<_> = out.iter().map(|o| (o.service, o.doses, o.after)).collect();
    assert_eq!(
        told,
        [
            (id(30), 1, false),
            (id(31), 1, false),
            (id(32), 2, false),
            (id(33), 1, true)
        ]
    );
    let told: Vec<_> = watch.iter().map(|w| (w.sow, w.from, w.to)).collect();
    assert_eq!(
        told,
        [
            (sow(50), day("2026-03-21"), day("2026-03-27")),
            (sow(51), day("2026-03-23"), day("2026-03-29")),
            (sow(52), day("2026-03-24"), day("2026-03-30")),
        ]
    );
    // Whose days are over needs no watching any more.
    let State::Pulled(later) = now(&looks, &services, "2026-03-28") else {
        panic!("not pulled");
    };
    assert_eq!(later.watch.len(), 2);
}

#[test]
fn what_passes_later_does_not_bring_it_back_and_a_void_does() {
    let failed = looked(21, 3.0, 41, Some(200), None);
    let passed = looked(22, 4.0, 85, Some(200), Some(true));
    assert_eq!(is_pulled(&[failed.clone(), passed.clone()]), Some(id(21)));
    assert_eq!(is_pulled(&[passed.clone(), failed]), Some(id(21)));
    // A voided look is not handed over at all.
    let State::Holds { by, .. } = now(&[passed], &[], "2026-03-06") else {
        panic!("does not hold");
    };
    assert_eq!(by, id(22));
    assert_eq!(now(&[], &[], "2026-03-06"), State::NotLooked);
}

// 110 of 200 are 55 %: Wilson 48.1–61.7 %, which holds 60; 41 of 100 does not (31.9–50.8).
#[test]
fn chance_is_looked_at_again_and_twice_is_no_chance() {
    let doubt = |n, days| looked(n, days, 55, Some(200), Some(true));
    let open = now(&[doubt(20, 2.0), doubt(20, 2.0)][..1], &[], "2026-03-06");
    assert!(matches!(open, State::LookAgain { by, .. } if by == id(20)));
    assert_eq!(is_pulled(&[doubt(20, 2.0), doubt(21, 2.5)]), Some(id(21)));
    let passing = looked(22, 2.2, 80, Some(200), Some(true));
    assert_eq!(is_pulled(&[doubt(20, 2.0), passing, doubt(21, 2.5)]), None);
    assert_eq!(
        is_pulled(&[looked(20, 2.0, 41, Some(100), None)]),
        Some(id(20))
    );
}

#[test]
fn an_eye_below_the_floor_pulls_and_a_cold_sample_is_warmed_first() {
    let eye = |n, percent, warmed| looked(n, 2.0, percent, None, warmed);
    assert_eq!(is_pulled(&[eye(20, 55, Some(true))]), Some(id(20)));
    assert_eq!(is_pulled(&[eye(20, 55, None)]), Some(id(20)));
    assert_eq!(is_pulled(&[eye(20, 55, Some(false))]), None);
    let cold = [eye(20, 55, Some(false)), eye(21, 50, Some(false))];
    let State::LookAgain { by, .. } = now(&cold, &[], "2026-03-06") else {
        panic!("not to be looked at again");
    };
    assert_eq!(by, id(20));
    // Cold says nothing: the first warm look in doubt is the first in doubt.
    let doubt = |n, days| looked(n, days, 55, Some(200), Some(true));
    let cold = eye(20, 55, Some(false));
    assert_eq!(is_pulled(&[cold.clone(), doubt(21, 2.1)]), None);
    let second = doubt(22, 2.2);
    assert_eq!(is_pulled(&[cold, doubt(21, 2.1), second]), Some(id(22)));
    // Use needs more than 60 % (common practice, no source): exactly 60 is not more.
    assert_eq!(is_pulled(&[eye(20, 60, None)]), Some(id(20)));
    assert_eq!(is_pulled(&[eye(20, 61, None)]), None);
}

#[test]
fn what_is_left_is_never_less_than_none() {
    let batch = batch();
    let services: Vec<_> = (0..10)
        .map(|n| served(40 + n, 1.0, 60 + n, 9, BATCH))
        .collect();
    assert_eq!(left(&batch.fact, &out(batch.entry(), &services)), 0);
    assert_eq!(left(&batch.fact, &[]), 13);
}

#[test]
fn cold_looks_are_left_out_of_the_fits_and_a_farm_may_ask_for_more() {
    let at = Stamp::new(AT_MS, 0).unwrap();
    let warm = looked(20, 2.0, 80, Some(200), None);
    let cold = looked(21, 2.0, 40, Some(200), Some(false));
    let read = |l: &Seen<Retained>| Look::of(&l.fact, l.at, at, EyeCells::USUAL);
    assert_eq!(read(&warm).unwrap().unwrap().day(), 2.0);
    assert_eq!(read(&cold), None);
    let floor = Floor::of(MotilityLimit::SEVENTY);
    assert_eq!(
        looked(20, 2.0, 65, None, None).fact.standing(floor),
        Standing::Fails
    );
    assert_eq!(
        looked(20, 2.0, 70, None, None).fact.standing(floor),
        Standing::Holds { close: false }
    );
    // 130 of 200 are 65 %: Wilson 58.2–71.3 %.
    assert_eq!(
        looked(20, 2.0, 65, Some(200), None).fact.standing(floor),
        Standing::Doubtful
    );
    assert_eq!(
        looked(20, 2.0, 65, Some(200), None)
            .fact
            .standing(Floor::HARD),
        Standing::Holds { close: true }
    );
}
