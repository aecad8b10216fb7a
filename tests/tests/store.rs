//! The store's own stories: what arrives is judged, kept, folded, handed out, checked, backed up.

mod store_hands;

use pentally_domain::barn::Barn;
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::Subject;
use pentally_domain::id::Epoch;
use pentally_domain::sync::{Aside, Beside, Cursor, Fate, Push};
use pentally_domain::time::{Clock, DAY_MS, Stamp};
use pentally_server::carry;
use pentally_server::store::{Store, StoreError};
use std::fs;
use std::path::PathBuf;
use store_hands::{Dice, Phone, START_MS, boar, collection, note, push, started, story};

const LATER_MS: i64 = START_MS + 90 * DAY_MS;

fn fates(store: &Store, push: &Push) -> Vec<Fate> {
    store.push(push, LATER_MS).unwrap().fates
}

/// A folder of its own, emptied before and after.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let place =
            std::env::temp_dir().join(format!("pentally-store-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&place);
        fs::create_dir_all(&place).unwrap();
        Self(place)
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

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
    let alarms = store.alarms().unwrap();
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
    assert!(store.alarms().unwrap()[0].1.clock_ahead_ms.is_some());
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
fn a_pull_page_by_page_is_the_whole_and_then_only_what_changed() {
    let dice = &mut Dice::new(9);
    let (store, home) = started(dice);
    let phones = story(home, 300, dice);
    for phone in &phones {
        fates(&store, &phone.push(&phone.entries));
    }
    let (mut cursor, mut barn, mut pages) = (None, Barn::default(), 0);
    loop {
        let page = store.pull(cursor, None, 20_000, LATER_MS).unwrap();
        assert!(!page.restart);
        page.ledgers
            .iter()
            .for_each(|l| barn.put(&serde_json::from_str(l.get()).unwrap()));
        (cursor, pages) = (Some(page.cursor), pages + 1);
        if !page.more {
            phones
                .iter()
                .for_each(|p| assert_eq!(page.includes[&p.device()], p.entries.len() as u64));
            break;
        }
    }
    assert!(pages > 2, "{pages} pages");
    assert_eq!(barn, store.barn().unwrap());
    assert_eq!(cursor, Some(store.standing().unwrap().cursor));
    assert!(
        store
            .pull(cursor, None, 20_000, LATER_MS)
            .unwrap()
            .ledgers
            .is_empty()
    );

    let mut phone = phones.into_iter().next().unwrap();
    let id = phone.entries[0].envelope().id.as_boar();
    let one = phone.write(&note(Subject::Boar(id), "calm today"), dice);
    fates(&store, &phone.push(&[one]));
    let page = store.pull(cursor, None, 20_000, LATER_MS).unwrap();
    assert_eq!(page.ledgers.len(), 1);
}

#[test]
fn a_cursor_of_another_history_is_noticed() {
    let dice = &mut Dice::new(10);
    let (store, home) = started(dice);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    fates(&store, &phone.push(&phone.entries));
    let ours = store.standing().unwrap().cursor;
    let others = [
        (ours, false),
        (
            Cursor {
                n: 0,
                hash: Hash::NONE,
                ..ours
            },
            false,
        ),
        (
            Cursor {
                epoch: Epoch::v7(1, dice.random()),
                ..ours
            },
            true,
        ),
        (
            Cursor {
                n: ours.n + 1,
                ..ours
            },
            true,
        ),
        (Cursor { n: 1, ..ours }, true),
    ];
    for (cursor, resend) in others {
        let receipt = store
            .push(
                &push(phone.device(), std::iter::empty(), Some(cursor)),
                LATER_MS,
            )
            .unwrap();
        assert_eq!(receipt.resend, resend, "{cursor:?}");
        let page = store.pull(Some(cursor), None, 1 << 20, LATER_MS).unwrap();
        assert_eq!(page.restart, resend, "{cursor:?}");
    }
}

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
        .write(
            &store_hands::fact(serde_json::json!({ "person": {} })),
            dice,
        )
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
    let home = store_hands::begin(&store, dice);
    let phones = story(home, 60, dice);
    fates(&store, &phones[0].push(&phones[0].entries));
    let before = (store.standing().unwrap(), store.barn().unwrap());
    drop(store);
    let store = Store::open(&place, dice.birth()).unwrap();
    assert_eq!((store.standing().unwrap(), store.barn().unwrap()), before);
    fates(&store, &phones[1].push(&phones[1].entries));
    store.check().unwrap();
}

/// What a bad disk or a curious hand may do to the file: each is found.
#[test]
fn check_finds_what_was_changed_behind_its_back() {
    use redb::{Database, ReadableDatabase, ReadableTable, TableDefinition as Table};
    const LOG: Table<u64, &[u8]> = Table::new("log");
    const BY_ID: Table<&[u8; 16], u64> = Table::new("by_id");
    const BY_AUTHOR: Table<&[u8; 24], u64> = Table::new("by_author");
    const LEDGERS: Table<&[u8; 17], &[u8]> = Table::new("ledgers");
    const OF_SUBJECT: Table<&[u8; 25], ()> = Table::new("of_subject");
    const CHANGED: Table<&[u8; 25], ()> = Table::new("changed");
    const DEVICES: Table<&[u8; 16], &[u8]> = Table::new("devices");

    let dice = &mut Dice::new(18);
    let folder = Folder::new("changed");
    let (whole, place) = (folder.file("whole.redb"), folder.file("barn.redb"));
    let store = Store::open(&whole, dice.birth()).unwrap();
    let home = store_hands::begin(&store, dice);
    let phones = story(home, 60, dice);
    phones
        .iter()
        .for_each(|p| drop(fates(&store, &p.push(&p.entries))));
    store.check().unwrap();
    drop(store);

    type Change = fn(&redb::WriteTransaction);
    fn edit(
        txn: &redb::WriteTransaction,
        table: Table<u64, &'static [u8]>,
        n: u64,
        change: impl Fn(&mut Vec<u8>),
    ) {
        let mut table = txn.open_table(table).unwrap();
        let mut value = table.get(n).unwrap().unwrap().value().to_vec();
        change(&mut value);
        table.insert(n, value.as_slice()).unwrap();
    }
    let changes: &[(&str, Change)] = &[
        ("hash does not hold at entry 9", |txn| {
            edit(txn, LOG, 9, |v| *v.last_mut().unwrap() ^= 1)
        }),
        ("hash does not hold at entry 9", |txn| {
            edit(txn, LOG, 9, |v| v[0] ^= 1)
        }),
        ("entry 9 of the log does not read", |txn| {
            edit(txn, LOG, 9, |v| v.truncate(40))
        }),
        ("entry 5 is missing", |txn| {
            drop(txn.open_table(LOG).unwrap().remove(5))
        }),
        ("names entries that the log does not have", |txn| {
            let last = txn
                .open_table(LOG)
                .unwrap()
                .last()
                .unwrap()
                .unwrap()
                .0
                .value();
            txn.open_table(LOG).unwrap().remove(last).unwrap();
        }),
        ("not found by its identity", |txn| {
            drop(txn.open_table(BY_ID).unwrap().pop_first())
        }),
        ("not found as number", |txn| {
            drop(txn.open_table(BY_AUTHOR).unwrap().pop_first())
        }),
        ("is not listed under", |txn| {
            drop(txn.open_table(OF_SUBJECT).unwrap().pop_last())
        }),
        ("which entry changed it last", |txn| {
            drop(txn.open_table(CHANGED).unwrap().pop_last())
        }),
        ("the ledger of", |txn| {
            drop(txn.open_table(LEDGERS).unwrap().pop_last())
        }),
        ("is not what the log says", |txn| {
            let mut table = txn.open_table(LEDGERS).unwrap();
            let (key, value) = table
                .last()
                .map(|l| l.map(|(k, v)| (*k.value(), v.value().to_vec())))
                .unwrap()
                .unwrap();
            // After the number, the index's length and the index.
            let json = 12 + u32::from_be_bytes(value[8..12].try_into().unwrap()) as usize;
            let text = std::str::from_utf8(&value[json..]).unwrap();
            let text = text.replacen("\"seq\":", "\"seq\":1", 1);
            table
                .insert(&key, [&value[..json], text.as_bytes()].concat().as_slice())
                .unwrap();
        }),
        ("the index of the ledger of", |txn| {
            let mut table = txn.open_table(LEDGERS).unwrap();
            let last = table.last().unwrap().unwrap();
            let (key, mut value) = (*last.0.value(), last.1.value().to_vec());
            drop(last);
            value[14] ^= 1;
            table.insert(&key, value.as_slice()).unwrap();
        }),
        ("is not listed", |txn| {
            drop(txn.open_table(DEVICES).unwrap().pop_last())
        }),
    ];
    for (i, (reason, change)) in changes.iter().enumerate() {
        fs::copy(&whole, &place).unwrap();
        let db = Database::create(&place).unwrap();
        let txn = db.begin_write().unwrap();
        change(&txn);
        txn.commit().unwrap();
        db.begin_read().unwrap().close().unwrap();
        drop(db);
        let found = Store::open(&place, dice.birth())
            .unwrap()
            .check()
            .map_err(|e| e.to_string());
        assert!(
            matches!(&found, Err(text) if text.contains(reason)),
            "change {i}, {reason}: {found:?}"
        );
    }
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
            .pull(None, None, 1 << 20, LATER_MS)
            .unwrap()
            .ledgers
            .is_empty()
    );
    store.check().unwrap();
}
