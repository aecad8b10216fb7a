//! What may be used of a batch, by what is recorded of it; and what the model is asked.

use crate::barn::written::Written;
use crate::batch::{SemenBatch, Source};
use crate::code::{Code, Symbol};
use crate::doses::Technique;
use crate::evaluation::Share;
use crate::extender::ExtenderClass;
use crate::fact::{Fact, Kind, Subject};
use crate::id::{BoarId, EntryId, SowId};
use crate::json;
use crate::ledger::keeps;
use crate::reckon::{BatchAsked, DosesAsked, KeepAsked, LookAsked};
use crate::retained::Retained;
use crate::retained::asked::{keeping_of, latest};
use crate::retained::pulled::State;
use crate::sow::{By, Service};
use crate::time::{DAY_MS, HOUR_MS, Stamp};
use crate::units::{Percent, VolumeMl};

/// 2026-03-02 06:00 UTC.
const AT_MS: i64 = 1_772_431_200_000;

fn boar(barn: &mut Written, number: &str) -> BoarId {
    let fact = json::read(&format!(r#"{{"number":"{number}"}}"#)).unwrap();
    barn.say(&Fact::Boar(fact), AT_MS - DAY_MS).id.as_boar()
}

/// 13 doses of these boars, collected an hour before, to be used within three days.
fn made(barn: &mut Written, code: u32, boars: &[BoarId], class: ExtenderClass) -> EntryId {
    let collected_at = Stamp::new(AT_MS - HOUR_MS, 60).unwrap();
    let asked = DosesAsked {
        keep: KeepAsked {
            extender: Some(class),
            days: None,
            collected_at: Some(collected_at),
        },
        ..DosesAsked::default()
    };
    let source = |boar: &BoarId| Source {
        boar: *boar,
        collection: EntryId::from_uuid(uuid::Uuid::from_u128(7)),
        evaluation: None,
    };
    let batch = SemenBatch {
        code: Code::from_number(code).unwrap(),
        sources: boars.iter().map(source).collect(),
        standard: None,
        reckoning: "doses".into(),
        asked: serde_json::to_string(&asked).unwrap(),
        answered: "{}".into(),
        doses: 13,
        dose_volume: VolumeMl::new(80.0).unwrap(),
        technique: Technique::Intracervical,
        counted: true,
        use_by: Stamp::new(AT_MS + 3 * DAY_MS, 60).unwrap(),
        antibiotic: None,
        extender_mix: None,
    };
    barn.say(&Fact::SemenBatch(batch), AT_MS).id
}

fn looked(barn: &mut Written, batch: EntryId, boars: &[BoarId], percent: u8, at_ms: i64) {
    let look = Retained {
        batch,
        boars: boars.to_vec(),
        motile: Share {
            percent: Percent::of(percent),
            cells: Some(200),
        },
        warmed: Some(true),
        stored_c: None,
    };
    barn.say(&Fact::Retained(look), at_ms);
}

fn used(barn: &mut Written, batch: EntryId, boars: &[BoarId], doses: u8) {
    used_on(barn, batch, boars, (77, doses));
}

fn used_on(barn: &mut Written, batch: EntryId, boars: &[BoarId], (sow, doses): (u128, u8)) {
    let sow = SowId::from_uuid(uuid::Uuid::from_u128(sow));
    let by = By::Doses {
        batch,
        boars: boars.to_vec(),
        doses,
        technique: Technique::Intracervical,
    };
    barn.say(&Fact::Service(Service { sow, by }), AT_MS + HOUR_MS);
}

#[test]
fn of_a_pool_each_use_counts_once_and_a_pulled_batch_has_no_dose_to_use() {
    let mut barn = Written::new();
    let pair = [boar(&mut barn, "101"), boar(&mut barn, "102")];
    let batch = made(&mut barn, 1, &pair, ExtenderClass::Short);
    used(&mut barn, batch, &pair, 2);
    let now = AT_MS + DAY_MS;
    let list = barn.barn.stored_after(now, now);
    let [only] = &list[..] else {
        panic!("{list:?}")
    };
    assert_eq!(
        (only.left(), only.usable(now), only.is_pulled()),
        (11, 11, false)
    );
    assert_eq!(barn.barn.stored(batch, now).as_ref(), Some(only));
    // Past its use nothing is usable, though it is there.
    let over = only.batch.fact.use_by.ms() + 1;
    assert_eq!((only.left(), only.usable(over)), (11, 0));
    // 50 % of 200 cells: its 95 % interval ends below 60 % (Wilson 1927: 43.1 to 56.9).
    looked(&mut barn, batch, &pair, 50, now);
    let pulled = barn.barn.stored(batch, now + 1).unwrap();
    assert!(pulled.is_pulled());
    assert_eq!(
        (pulled.left(), pulled.usable(now + 1), pulled.looks.len()),
        (11, 0, 1)
    );
}

#[test]
fn a_pool_used_on_more_sows_than_a_boar_s_ledger_keeps_is_still_counted_whole() {
    let mut barn = Written::new();
    let pair = [boar(&mut barn, "101"), boar(&mut barn, "102")];
    let pool = made(&mut barn, 1, &pair, ExtenderClass::Short);
    let later = made(&mut barn, 2, &pair, ExtenderClass::Short);
    for sow in 0..10 {
        used_on(&mut barn, pool, &pair, (sow, 1));
    }
    let keeps = u128::try_from(keeps(Kind::Service)).unwrap();
    for sow in 0..keeps {
        used_on(&mut barn, later, &pair, (100 + sow, 1));
    }
    let now = AT_MS + DAY_MS;
    let stored = barn.barn.stored(pool, now).unwrap();
    assert_eq!(
        (stored.left(), stored.out.len(), stored.out_whole),
        (3, 10, true)
    );
    assert_eq!(barn.barn.stored_after(now, now).last(), Some(&stored));
    looked(&mut barn, pool, &pair, 50, now);
    let State::Pulled(pulled) = barn.barn.stored(pool, now + 1).unwrap().state else {
        panic!("not pulled")
    };
    assert_eq!(
        (pulled.left, pulled.out.len(), pulled.watch.len()),
        (3, 10, 10)
    );
    // A device of the laboratory holds no sows: it says that it does not know them all.
    let laboratory = barn
        .barn
        .of_those(|subject| !matches!(subject, Subject::Sow(_)));
    let there = laboratory.stored(pool, now + 1).unwrap();
    assert_eq!((there.left(), there.out_whole), (13, false));
}

#[test]
fn a_label_leads_to_its_batch_whichever_device_made_it() {
    let mut barn = Written::new();
    let one = [boar(&mut barn, "101")];
    let batch = made(&mut barn, 12_345, &one, ExtenderClass::Short);
    let code = Code::from_number(12_345).unwrap();
    let address = format!("HTTPS://ELSEWHERE.EXAMPLE/B/{}", code.digits());
    assert_eq!(Symbol::scanned(&address), Ok(Symbol::Batch(code)));
    assert!(Code::scanned(&address).is_err(), "it is no pen's tag");
    let found: Vec<_> = barn.barn.batches_of_code(code);
    assert_eq!(found.iter().map(|b| b.entry()).collect::<Vec<_>>(), [batch]);
    assert!(
        barn.barn
            .batches_of_code(Code::from_number(1).unwrap())
            .is_empty()
    );
}

#[test]
fn the_model_is_asked_of_the_boar_first_then_of_others_in_the_same_class_and_of_a_pool_once() {
    let mut barn = Written::new();
    let (a, b) = (boar(&mut barn, "101"), boar(&mut barn, "102"));
    let own = made(&mut barn, 1, &[a], ExtenderClass::Long);
    let beside = made(&mut barn, 2, &[a], ExtenderClass::Long);
    let other_class = made(&mut barn, 3, &[a], ExtenderClass::Short);
    let other = made(&mut barn, 4, &[b], ExtenderClass::Long);
    let pool = made(&mut barn, 5, &[a, b], ExtenderClass::Long);
    let day = AT_MS + DAY_MS - HOUR_MS;
    looked(&mut barn, beside, &[a], 80, day);
    looked(&mut barn, other_class, &[a], 70, day);
    looked(&mut barn, other, &[b], 75, day);
    looked(&mut barn, pool, &[a, b], 90, day);
    looked(&mut barn, own, &[a], 85, day);
    let stored = barn.barn.stored(own, day + 1).unwrap();
    let asked = keeping_of(&barn.barn, &stored).unwrap();
    let hits = |batch: &BatchAsked| {
        batch
            .looks
            .iter()
            .map(|l| l.hits.unwrap())
            .collect::<Vec<_>>()
    };
    assert_eq!(asked.extender, ExtenderClass::Long);
    assert_eq!(
        asked.batches.iter().map(hits).collect::<Vec<_>>(),
        [[170], [160]]
    );
    let mut others: Vec<_> = asked.others.iter().flatten().map(hits).collect();
    others.sort();
    assert_eq!(others, [[150], [180]]);
    assert!((asked.batches[0].looks[0].days - 1.0).abs() < 1e-9);
}

#[test]
fn on_a_large_farm_the_model_is_asked_of_those_looked_at_last() {
    let of = |n: i64| {
        vec![BatchAsked {
            looks: vec![
                LookAsked {
                    days: 1.0,
                    hits: Some(180),
                    cells: Some(200),
                    ..LookAsked::default()
                };
                20
            ],
            collected_at: Some(Stamp::new(AT_MS + n * HOUR_MS, 0).unwrap()),
        }]
    };
    let all: Vec<_> = (0..400).map(of).collect();
    let taken = latest(all, 2_000);
    assert_eq!(taken.len(), 100);
    assert_eq!(
        taken[0][0].collected_at.unwrap().ms(),
        AT_MS + 399 * HOUR_MS
    );
}
