//! What arrives is judged one by one, and kept.

use super::{LATER_MS, fates};
use crate::store_hands::{Dice, Phone, START_MS, boar, collection, push, started};
use pentally_domain::envelope::Entry;
use pentally_domain::pairing::Role;
use pentally_domain::sync::{Aside, Fate, Push};
use pentally_domain::time::{Clock, DAY_MS, Stamp};
use pentally_server::carry;
use pentally_server::store::{Store, StoreError};

#[test]
fn a_repeat_is_a_duplicate_and_changes_nothing() {
    let dice = &mut Dice::new(1);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    phone.write(&boar(2), dice);
    let sent = phone.push(&phone.entries);
    assert_eq!(fates(&store, &sent), [Fate::Stored, Fate::Stored]);
    let before = store.standing().unwrap();
    assert_eq!(fates(&store, &sent), [Fate::Duplicate, Fate::Duplicate]);
    assert_eq!(store.standing().unwrap(), before);
}

#[test]
fn other_bytes_under_the_same_identity_or_sequence_are_kept_and_told() {
    let dice = &mut Dice::new(2);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let first = phone.write(&boar(1), dice);
    fates(&store, &phone.push(&phone.entries));

    let mut same_id = first.envelope().clone();
    same_id.body = boar(7).body();
    let same_id = Entry::seal(same_id).unwrap();
    let mut same_seq = first.envelope().clone();
    same_seq.id = pentally_domain::id::EntryId::v7(START_MS, dice.random());
    let same_seq = Entry::seal(same_seq).unwrap();
    let told = fates(&store, &phone.push(&[same_id.clone(), same_seq.clone()]));
    assert_eq!(
        told,
        [
            Fate::Conflict {
                reason: Aside::SameId
            },
            Fate::Conflict {
                reason: Aside::SameSequence
            }
        ]
    );

    let kept: Vec<_> = store
        .aside(0, 10)
        .unwrap()
        .into_iter()
        .map(|(_, aside)| aside.text)
        .collect();
    assert_eq!(kept, [same_id.to_line(), same_seq.to_line()]);
    fates(&store, &phone.push(&[same_id]));
    assert_eq!(
        store.aside(0, 10).unwrap().len(),
        2,
        "sent again, kept once"
    );
    assert_eq!(store.log(1, 10).unwrap().len(), 1);
    store.check().unwrap();
}

#[test]
fn what_cannot_be_read_is_set_aside_whole_and_its_neighbours_are_stored() {
    let dice = &mut Dice::new(3);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let good = phone.write(&boar(1), dice);
    let bad_body = phone.write_raw("boar", 1, "{\"number\": NaN}".into(), START_MS, dice);
    let last = phone.write(&boar(2), dice);
    let newer = format!(
        "{{\"v\":9,\"device\":\"{}\",\"seq\":4,\"more\":[1e400]}}",
        phone.device()
    );
    let lines = [
        good.to_line(),
        bad_body.to_line(),
        last.to_line(),
        newer.clone(),
        "[1,  2]".into(),
    ];
    let told = fates(&store, &push(phone.device(), lines.into_iter(), None));
    assert!(matches!(&told[0], Fate::Stored));
    assert!(
        matches!(
            &told[1],
            Fate::SetAside {
                reason: Aside::Body { .. }
            }
        ),
        "{:?}",
        told[1]
    );
    assert!(matches!(&told[2], Fate::Stored));
    assert!(
        matches!(
            &told[4],
            Fate::SetAside {
                reason: Aside::Malformed { .. }
            }
        ),
        "{:?}",
        told[4]
    );
    let kept: Vec<_> = store
        .aside(0, 10)
        .unwrap()
        .into_iter()
        .map(|(_, aside)| aside.text)
        .collect();
    assert_eq!(kept, [bad_body.to_line(), newer, "[1,  2]".into()]);
    let receipt = store.push(&phone.push(&[]), LATER_MS).unwrap();
    assert_eq!(
        receipt.contiguous[&phone.device()],
        4,
        "what was set aside holds nothing up"
    );
    store.check().unwrap();
}

#[test]
fn what_cannot_be_read_under_a_sequence_that_was_used_is_a_conflict() {
    let dice = &mut Dice::new(12);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let before = [phone.head; 1];
    phone.write(&boar(1), dice);
    let apart = phone.write_raw("boar", 1, "{\"number\": NaN}".into(), START_MS, dice);
    fates(&store, &phone.push(&phone.entries));
    // A phone that was rolled back uses its sequences again.
    [phone.head] = before;
    let twins = [(); 2]
        .map(|()| phone.write_raw("boar", 1, "{\"number\": Infinity}".into(), START_MS, dice));
    let conflict = Fate::Conflict {
        reason: Aside::SameSequence,
    };
    let told = fates(&store, &phone.push(&twins));
    assert_eq!(told, [conflict.clone(), conflict.clone()]);
    // The answer may get lost.
    let told = fates(&store, &phone.push(&twins));
    assert_eq!(told, [conflict.clone(), conflict]);
    let again = fates(&store, &phone.push(&[apart]));
    assert!(matches!(again[..], [Fate::SetAside { .. }]), "{again:?}");
    assert_eq!(store.aside(0, 10).unwrap().len(), 3, "all are kept");
    store.check().unwrap();
}

#[test]
fn an_unknown_kind_is_stored_byte_for_byte() {
    let dice = &mut Dice::new(4);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let entry = phone.write_raw(
        "moonphase",
        7,
        "{ \"a\":1e400 ,  \"ñ\": NaN }".into(),
        START_MS,
        dice,
    );
    assert_eq!(fates(&store, &phone.push(&phone.entries)), [Fate::Stored]);
    let mut out = vec![];
    carry::export(&store, &mut out).unwrap();
    let out = String::from_utf8(out).unwrap();
    assert_eq!(out.lines().nth(1), Some(entry.to_line().as_str()));
}

#[test]
fn the_years_1900_and_2100_are_stored() {
    let dice = &mut Dice::new(5);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let id = phone.write(&boar(1), dice).envelope().id.as_boar();
    for at in [
        "1900-01-01T00:00:00.000+01:00",
        "2100-12-31T23:59:59.999+01:00",
    ] {
        phone.write_at(&collection(id, 200.0), Stamp::parse(at).unwrap().ms(), dice);
    }
    assert_eq!(
        fates(&store, &phone.push(&phone.entries)),
        [Fate::Stored, Fate::Stored, Fate::Stored]
    );
    store.check().unwrap();
}

#[test]
fn a_gap_waits_until_it_closes_or_the_floor_says_it_is_lost() {
    let dice = &mut Dice::new(6);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    (0..6).for_each(|n| drop(phone.write(&boar(n), dice)));
    let e = phone.entries.clone();
    let receipt = store
        .push(&phone.push(&[e[1].clone(), e[3].clone()]), LATER_MS)
        .unwrap();
    assert_eq!(
        (receipt.contiguous[&phone.device()], receipt.highest),
        (0, 4)
    );
    let receipt = store.push(&phone.push(&[e[0].clone()]), LATER_MS).unwrap();
    assert_eq!(
        (receipt.contiguous[&phone.device()], receipt.highest),
        (2, 4)
    );

    let floored = Push {
        floor: Some(5),
        ..phone.push(&[e[5].clone()])
    };
    let receipt = store.push(&floored, LATER_MS).unwrap();
    assert_eq!(
        (receipt.contiguous[&phone.device()], receipt.highest),
        (4, 6)
    );
    let device = store
        .devices()
        .unwrap()
        .into_iter()
        .find(|(id, _)| *id == phone.device())
        .unwrap()
        .1;
    assert_eq!(device.lost, [(3, 3)]);
    store.check().unwrap();
    assert_eq!(
        fates(&store, &phone.push(&e[2..3])),
        [Fate::Stored],
        "what was lost may still be found"
    );
    store.check().unwrap();
}

#[test]
fn two_histories_of_one_device_raise_an_alarm() {
    let dice = &mut Dice::new(7);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    let rolled_back = phone.head;
    phone.write(&boar(2), dice);
    fates(&store, &phone.push(&phone.entries));
    phone.head = rolled_back;
    phone.write(&boar(3), dice);
    phone.write(&boar(4), dice);
    let told = fates(&store, &phone.push(&phone.entries[2..]));
    assert_eq!(
        told,
        [
            Fate::Conflict {
                reason: Aside::SameSequence
            },
            Fate::Stored
        ]
    );
    let alarms = store.alarms(0, 10).unwrap();
    assert!(
        matches!(alarms.as_slice(), [(4, alarm)] if alarm.thread_broken),
        "{alarms:?}"
    );
    assert_eq!(store.check().unwrap().alarms, 1);
}

#[test]
fn a_clock_far_ahead_is_kept_flagged_and_not_followed() {
    let dice = &mut Dice::new(8);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    phone.now_ms = LATER_MS + 400 * DAY_MS;
    phone.write(&boar(1), dice);
    assert_eq!(fates(&store, &phone.push(&phone.entries)), [Fate::Stored]);
    assert!(store.alarms(0, 10).unwrap()[0].1.clock_ahead_ms.is_some());
    let now = Stamp::new(LATER_MS, 0).unwrap();
    let saying = pentally_server::store::Saying {
        fact: boar(9),
        occurred_at: None,
        random: dice.random(),
    };
    let own = store.say(&[saying], now).unwrap();
    assert!(
        own[0].envelope().clock
            < Clock {
                ms: LATER_MS + Clock::TRUSTED_LEAD_MS,
                n: 0
            }
    );
}

#[test]
fn nothing_is_taken_before_there_is_a_farm() {
    let dice = &mut Dice::new(17);
    let store = Store::in_memory(dice.birth()).unwrap();
    let (_, home) = started(dice);
    let phone = Phone::new(home, dice);
    assert!(matches!(
        store.push(&phone.push(&[]), LATER_MS),
        Err(StoreError::NoFarm)
    ));
    assert!(
        store
            .pull(Role::Office, None, None, 1 << 20, LATER_MS)
            .unwrap()
            .ledgers
            .is_empty()
    );
    store.check().unwrap();
}
