//! What a phone brings that was shut out: kept whole, for itself only, and no more than is bounded.

use super::{Folder, LATER_MS, fates};
use crate::store_hands::{Dice, Phone, boar, fact, push, started};
use pentally_domain::envelope::Entry;
use pentally_domain::pairing::Role;
use pentally_domain::said::Label;
use pentally_domain::sync::{Aside, Beside, Fate, PAGE_MAX_BYTES, Push};
use pentally_server::store::{APART_MAX_BYTES, Device, Store, StoreError};
use serde_json::json;
use std::fs;

const TOKEN: [u8; 32] = [7; 32];

/// A phone that the office let in, heard as that device, and shut out.
fn shut_out(store: &Store, token: [u8; 32], phone: &Phone) {
    let name = Label::parse("Barn 1").unwrap();
    let paired = store.let_in(&token, name, Role::Barn, 1).unwrap();
    store.sends_as(&token, phone.device()).unwrap();
    assert!(store.shut_out(paired.n, 2).unwrap());
}

fn device(store: &Store, phone: &Phone) -> Option<Device> {
    let mut all = store.devices().unwrap().into_iter();
    all.find(|(id, _)| *id == phone.device()).map(|(_, d)| d)
}

#[test]
fn names_wait_for_the_office_as_entries_do() {
    let dice = &mut Dice::new(30);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let person = phone.write(&fact(json!({ "person": {} })), dice);
    fates(&store, &phone.push(&phone.entries));
    shut_out(&store, TOKEN, &phone);
    let entry = person.envelope().id;
    let named = |name: &str, set_at_ms| Push {
        beside: vec![Beside {
            entry,
            text: Some(name.into()),
            set_at_ms,
        }],
        ..phone.push(&[])
    };
    for _ in 0..2 {
        let sent = store.push_apart(&TOKEN, &named("Ana", 10), LATER_MS);
        sent.unwrap();
    }
    let name = || store.barn().unwrap().name(entry.as_person());
    assert_eq!(name(), None, "nobody looked at it yet");
    let kept = store.aside(0, 10).unwrap();
    assert_eq!((kept.len(), &kept[0].1.reason), (1, &Aside::ShutOut));
    assert!(kept[0].1.text.contains("Ana"));
    let taken = store.accept(kept[0].0, LATER_MS).unwrap();
    assert_eq!(
        (taken, name().as_deref()),
        (Some(Fate::Stored), Some("Ana"))
    );
    assert!(store.aside(0, 10).unwrap().is_empty());
    // All names are sent again sometimes; what the office has is nothing new.
    for older in [named("Ana", 10), named("Eva", 5)] {
        store.push_apart(&TOKEN, &older, LATER_MS).unwrap();
    }
    assert!(store.aside(0, 10).unwrap().is_empty());
    let long = named(&"x".repeat(3_000), 30);
    store.push_apart(&TOKEN, &long, LATER_MS).unwrap();
    let kept = store.aside(0, 10).unwrap();
    assert!(matches!(kept[0].1.reason, Aside::Bounds { .. }));
}

#[test]
fn what_it_leaves_is_bounded_and_what_is_acknowledged_is_kept() {
    let dice = &mut Dice::new(31);
    let folder = Folder::new("apart");
    let (store, home) = started(dice);
    let phone = Phone::new(home, dice);
    shut_out(&store, TOKEN, &phone);
    let text = |n: usize| format!("{{\"n\":{n},\"x\":\"{}\"}}", "x".repeat(PAGE_MAX_BYTES));
    let send = |n| {
        let sent = push(phone.device(), [text(n)].into_iter(), None);
        store.push_apart(&TOKEN, &sent, LATER_MS)
    };
    let most = usize::try_from(APART_MAX_BYTES).unwrap() / PAGE_MAX_BYTES;
    let taken = (0..).take_while(|n| send(*n).is_ok()).count();
    assert_eq!(
        taken,
        most - 1,
        "its identity and what is around a text count too"
    );
    let refused = send(taken).unwrap_err();
    assert!(matches!(refused, StoreError::ApartFull), "{refused}");
    let again = send(0).unwrap().fates;
    assert!(
        matches!(again[..], [Fate::SetAside { .. }]),
        "an answer that got lost"
    );

    // However much stands apart, a page is bounded, and the next goes on behind it.
    let (mut after, mut seen) = (0, vec![]);
    loop {
        let page = store.aside(after, 1_000).unwrap();
        assert!(page.len() <= 2, "{}", page.len());
        let Some((last, _)) = page.last() else { break };
        after = *last;
        seen.extend(page.into_iter().map(|(_, aside)| aside.text));
    }
    assert_eq!(seen, (0..taken).map(text).collect::<Vec<_>>());

    let file = folder.file("b.jsonl");
    store.backup(&file, dice.birth()).unwrap();
    let whole = fs::read_to_string(&file).unwrap();
    let lines = whole.lines().filter(|line| line.starts_with("{\"aside\""));
    assert_eq!(lines.count(), taken);
    store.check().unwrap();
}

#[test]
fn it_speaks_for_itself_only() {
    let dice = &mut Dice::new(32);
    let (store, home) = started(dice);
    let (mut own, mut other) = (Phone::new(home, dice), Phone::new(home, dice));
    for phone in [&mut own, &mut other] {
        phone.write(&boar(1), dice);
        fates(&store, &phone.push(&phone.entries));
    }
    shut_out(&store, TOKEN, &own);
    let before = device(&store, &other).unwrap();
    let lies = Push {
        floor: Some(900),
        unsent: 9,
        ..other.push(&[])
    };
    let refused = store.push_apart(&TOKEN, &lies, LATER_MS + 5).unwrap_err();
    assert!(matches!(refused, StoreError::Another), "{refused}");

    // Texts that say they are another's are kept, and change nothing of that other.
    let forged = format!("{{\"v\":9,\"device\":\"{}\",\"seq\":800}}", other.device());
    let unsent = other.write(&boar(2), dice).to_line();
    let sent = push(own.device(), [forged, unsent].into_iter(), None);
    let told = store.push_apart(&TOKEN, &sent, LATER_MS).unwrap();
    assert!(
        told.fates
            .iter()
            .all(|f| matches!(f, Fate::SetAside { .. })),
        "{:?}",
        told.fates
    );
    assert_eq!(store.aside(0, 10).unwrap().len(), 2);
    assert_eq!(device(&store, &other).unwrap(), before);
    let receipt = store.push(&other.push(&other.entries), LATER_MS).unwrap();
    assert_eq!(receipt.fates, [Fate::Duplicate, Fate::Stored]);
    assert_eq!(
        (receipt.highest, receipt.contiguous[&other.device()]),
        (2, 2)
    );
    store.check().unwrap();
}

#[test]
fn an_identity_that_a_phone_in_use_speaks_under_is_not_its_own() {
    let dice = &mut Dice::new(34);
    let (store, home) = started(dice);
    let (thief, mut honest) = (Phone::new(home, dice), Phone::new(home, dice));
    honest.write(&boar(1), dice);
    fates(&store, &honest.push(&honest.entries));
    let name = Label::parse("Barn 2").unwrap();
    store.let_in(&[8; 32], name, Role::Barn, 1).unwrap();
    store.sends_as(&[8; 32], honest.device()).unwrap();
    // Said while it was in: "I am the other".
    shut_out(&store, TOKEN, &honest);
    let refused = store.push_apart(&TOKEN, &honest.push(&[]), LATER_MS);
    assert!(matches!(refused, Err(StoreError::Another)));
    store
        .push_apart(&TOKEN, &thief.push(&[]), LATER_MS)
        .unwrap();
}

/// A phone that was rolled back goes on under another identity and sends what it wrote under the old one.
#[test]
fn it_may_take_another_identity_and_bring_what_it_wrote_under_the_old_one() {
    let dice = &mut Dice::new(33);
    let (store, home) = started(dice);
    let mut old = Phone::new(home, dice);
    (1..=3).for_each(|n| drop(old.write(&boar(n), dice)));
    fates(&store, &old.push(&old.entries[..1]));
    shut_out(&store, TOKEN, &old);
    let mut new = Phone::new(home, dice);
    new.write(&boar(4), dice);
    let both: Vec<Entry> = [&old.entries[1..], &new.entries].concat();
    let receipt = store
        .push_apart(&TOKEN, &new.push(&both), LATER_MS)
        .unwrap();
    let apart = Fate::SetAside {
        reason: Aside::ShutOut,
    };
    assert_eq!(receipt.fates, [apart.clone(), apart.clone(), apart]);
    assert_eq!((receipt.highest, receipt.contiguous[&new.device()]), (1, 1));
    for (n, _) in store.aside(0, 10).unwrap() {
        assert_eq!(store.accept(n, LATER_MS).unwrap(), Some(Fate::Stored));
    }
    let old = device(&store, &old).unwrap();
    assert_eq!((old.contiguous, old.highest), (3, 3));
    store.check().unwrap();
}
