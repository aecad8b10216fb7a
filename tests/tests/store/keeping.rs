//! Any order, erased names, backups, exports, a store opened again.

use super::{Folder, LATER_MS, fates};
use crate::store_hands::{Dice, Phone, begin, boar, collection, fact, note, push, started, story};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Subject;
use pentally_domain::sync::{Beside, Push};
use pentally_server::carry;
use pentally_server::store::{Store, StoreError};
use std::fs;

#[test]
fn in_any_order_the_same_ledgers_and_they_pass_the_other_fold() {
    for seed in 20..28 {
        let dice = &mut Dice::new(seed);
        let (store, home) = started(dice);
        let phones = story(home, 400, dice);
        let mut all: Vec<Entry> = phones.iter().flat_map(|p| p.entries.clone()).collect();
        let shuffled = Store::in_memory(dice.birth()).unwrap();
        shuffled.adopt(home, dice.birth()).unwrap();
        all.chunks(37)
            .for_each(|some| drop(fates(&store, &phones[0].push(some))));
        dice.shuffle(&mut all);
        all.chunks(53)
            .for_each(|some| drop(fates(&shuffled, &phones[0].push(some))));
        assert_eq!(
            store.check().unwrap().entries,
            all.len() as u64 + 1,
            "seed {seed}"
        );
        shuffled.check().unwrap();
        for ledger in shuffled
            .barn()
            .unwrap()
            .ledgers()
            .filter(|l| l.subject() != Subject::Farm)
        {
            assert_eq!(
                store.ledger(ledger.subject()).unwrap().as_ref(),
                Some(ledger),
                "seed {seed}"
            );
        }
    }
}

#[test]
fn personal_data_holds_the_latest_and_is_erased() {
    let dice = &mut Dice::new(11);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    let entry = phone
        .write(&fact(serde_json::json!({ "person": {} })), dice)
        .envelope()
        .id;
    let set = |text: Option<&str>, set_at_ms| Beside {
        entry,
        text: text.map(Into::into),
        set_at_ms,
    };
    for (beside, name) in [
        (set(Some("Ana"), 10), Some("Ana")),
        (set(Some("Bea"), 5), Some("Ana")),
        (set(None, 20), None),
        (set(Some("Ana"), 10), None),
    ] {
        let sent = Push {
            beside: vec![beside],
            ..phone.push(&phone.entries)
        };
        fates(&store, &sent);
        assert_eq!(
            store.barn().unwrap().name(entry.as_person()).as_deref(),
            name
        );
    }
    let long = Push {
        beside: vec![set(Some(&"x".repeat(3_000)), 30)],
        ..phone.push(&[])
    };
    fates(&store, &long);
    assert_eq!(store.aside(0, 10).unwrap().len(), 1);
}

#[test]
fn a_backup_comes_back_whole_as_a_new_history() {
    let dice = &mut Dice::new(12);
    let folder = Folder::new("backup");
    let (store, home) = started(dice);
    let phones = story(home, 200, dice);
    fates(&store, &phones[0].push(&phones[0].entries[..50]));
    fates(&store, &phones[1].push(&phones[1].entries));
    fates(
        &store,
        &push(
            phones[0].device(),
            ["{\"v\":2}".to_owned()].into_iter(),
            None,
        ),
    );
    let file = folder.file("b.jsonl");
    let header = store.backup(&file, dice.birth()).unwrap();
    assert_eq!(header.n, store.standing().unwrap().cursor.n);
    assert_eq!(
        store
            .push(&phones[0].push(&[]), LATER_MS)
            .unwrap()
            .backed_up,
        50
    );
    fates(&store, &phones[0].push(&phones[0].entries[50..]));
    let after = store.standing().unwrap().cursor;

    let restored = Store::in_memory(dice.birth()).unwrap();
    restored.restore(&file, dice.birth()).unwrap();
    restored.check().unwrap();
    let cursor = restored.standing().unwrap().cursor;
    assert_eq!((cursor.n, cursor.hash), (header.n, header.hash));
    assert_ne!(cursor.epoch, header.epoch);
    assert_eq!(restored.aside(0, 9).unwrap(), store.aside(0, 9).unwrap());
    let receipt = restored
        .push(
            &push(phones[0].device(), std::iter::empty(), Some(after)),
            LATER_MS,
        )
        .unwrap();
    assert!(receipt.resend);
    fates(&restored, &phones[0].push(&phones[0].entries));
    assert_eq!(restored.barn().unwrap(), store.barn().unwrap());
    restored.check().unwrap();
    assert!(
        matches!(restored.restore(&file, dice.birth()).unwrap_err().to_string().as_str(), text if text.contains("farm here already"))
    );
    assert_eq!(
        fs::read_dir(&folder.0).unwrap().count(),
        1,
        "no draft, no rehearsal left"
    );
}

#[test]
fn a_backup_that_was_touched_is_refused_and_restores_nothing() {
    let dice = &mut Dice::new(13);
    let folder = Folder::new("touched");
    let (store, home) = started(dice);
    let phones = story(home, 30, dice);
    fates(&store, &phones[0].push(&phones[0].entries));
    let file = folder.file("b.jsonl");
    store.backup(&file, dice.birth()).unwrap();
    let whole = fs::read_to_string(&file).unwrap();
    let lines: Vec<&str> = whole.lines().collect();
    let without = |skip: usize| {
        lines
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != skip)
            .fold(String::new(), |s, (_, l)| s + l + "\n")
    };
    let touched = [
        whole[..whole.len() / 2].to_owned(),
        without(5),
        without(lines.len() - 1),
        without(lines.len() - 2),
        whole.replacen("bites", "bitez", 1),
        whole.replacen("bites", "bites ", 1),
        String::new(),
    ];
    for (i, text) in touched
        .iter()
        .enumerate()
        .filter(|(_, text)| **text != whole)
    {
        fs::write(&file, text).unwrap();
        let empty = Store::in_memory(dice.birth()).unwrap();
        let refused = empty.restore(&file, dice.birth());
        assert!(refused.is_err(), "touch {i}");
        let standing = empty.standing().unwrap();
        assert_eq!((standing.home, standing.cursor.n), (None, 0), "touch {i}");
    }
}

#[test]
fn an_export_comes_back_through_import() {
    let dice = &mut Dice::new(14);
    let (store, home) = started(dice);
    let phones = story(home, 100, dice);
    phones
        .iter()
        .for_each(|p| drop(fates(&store, &p.push(&p.entries))));
    let mut out = vec![];
    let n = carry::export(&store, &mut out).unwrap();
    let mut file = out.clone();
    file.extend(b"\n\nnot an entry\n\xff\xfe\n");
    let other = Store::in_memory(dice.birth()).unwrap();
    let counts = carry::import(&other, &mut file.as_slice()).unwrap();
    assert_eq!(
        (
            counts.stored,
            counts.duplicates,
            counts.conflicts,
            counts.set_aside
        ),
        (n, 0, 0, 2)
    );
    assert_eq!(other.barn().unwrap(), store.barn().unwrap());
    let again = carry::import(&other, &mut out.as_slice()).unwrap();
    assert_eq!((again.stored, again.duplicates), (0, n));
    let mut back = vec![];
    carry::export(&other, &mut back).unwrap();
    assert_eq!(back, out);
    other.check().unwrap();
}

#[test]
fn a_second_process_is_told_in_one_sentence() {
    let dice = &mut Dice::new(15);
    let folder = Folder::new("busy");
    let place = folder.file("barn.redb");
    let _held = Store::open(&place, dice.birth()).unwrap();
    let refused = Store::open(&place, dice.birth()).unwrap_err();
    assert!(matches!(refused, StoreError::InUse { .. }), "{refused}");
    assert!(
        refused.to_string().contains("in use by another process"),
        "{refused}"
    );
}

#[test]
fn a_store_opened_again_is_the_same_and_goes_on() {
    let dice = &mut Dice::new(16);
    let folder = Folder::new("again");
    let place = folder.file("barn.redb");
    let store = Store::open(&place, dice.birth()).unwrap();
    let home = begin(&store, dice);
    let phones = story(home, 60, dice);
    fates(&store, &phones[0].push(&phones[0].entries));
    let before = (store.standing().unwrap(), store.barn().unwrap());
    drop(store);
    let store = Store::open(&place, dice.birth()).unwrap();
    assert_eq!((store.standing().unwrap(), store.barn().unwrap()), before);
    fates(&store, &phones[1].push(&phones[1].entries));
    store.check().unwrap();
}

#[test]
fn a_store_that_a_newer_program_wrote_is_refused_and_left_as_it_is() {
    use redb::{ReadableDatabase, TableDefinition};
    const META: TableDefinition<'static, &'static str, &'static [u8]> =
        TableDefinition::new("meta");
    // A newer program may have given its tables another shape.
    const LOG: TableDefinition<'static, &'static str, u64> = TableDefinition::new("log");
    let dice = &mut Dice::new(17);
    let folder = Folder::new("newer");
    for (what, version) in [("format", 2_u32), ("views", 9_999)] {
        let place = folder.file(what);
        drop(Store::open(&place, dice.birth()).unwrap());
        let file = redb::Database::open(&place).unwrap();
        let txn = file.begin_write().unwrap();
        let text = version.to_string();
        let mut meta = txn.open_table(META).unwrap();
        meta.insert(what, text.as_bytes()).unwrap();
        drop(meta);
        if what == "format" {
            txn.delete_table(TableDefinition::<u64, &[u8]>::new("log"))
                .unwrap();
            txn.open_table(LOG).unwrap().insert("x", 1).unwrap();
        }
        txn.commit().unwrap();
        drop(file);
        let refused = Store::open(&place, dice.birth()).unwrap_err();
        assert!(
            matches!(&refused, StoreError::Newer { what: of, read, .. } if *of == what && *read == version),
            "{refused}"
        );
        assert!(refused.to_string().contains("start the newer one"));
        let file = redb::Database::open(&place).unwrap();
        let meta = file.begin_read().unwrap().open_table(META).unwrap();
        assert_eq!(meta.get(what).unwrap().unwrap().value(), text.as_bytes());
    }
}

/// The office's disk died with the barn's boars and pens on it; a phone hands over all that it holds.
#[test]
fn what_only_the_dead_office_had_is_told() {
    let dice = &mut Dice::new(22);
    let (store, home) = started(dice);
    let (mut other, mut phone) = (Phone::new(home, dice), Phone::new(home, dice));
    let boar = other.write(&boar(1), dice).envelope().id.as_boar();
    assert!(store.missing().unwrap().is_nothing());
    let lost = phone.write(&note(Subject::Boar(boar), "never sent"), dice);
    let held = phone.write(&collection(boar, 200.0), dice);
    fates(&store, &phone.push(std::slice::from_ref(&held)));
    let missing = store.missing().unwrap();
    assert_eq!(
        (missing.boars, missing.lost, missing.awaited),
        (vec![boar], 0, 1)
    );

    let push = Push {
        floor: Some(2),
        ..phone.push(&[])
    };
    fates(&store, &push);
    let missing = store.missing().unwrap();
    assert_eq!((missing.lost, missing.awaited), (1, 0));
    fates(&store, &other.push(&other.entries));
    fates(&store, &phone.push(&[lost]));
    assert!(store.missing().unwrap().boars.is_empty());
}
