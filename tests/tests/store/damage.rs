//! What a bad disk or a curious hand may do to the file.

use super::{Folder, fates};
use crate::store_hands::{Dice, begin, story};
use pentally_server::store::Store;
use std::fs;

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
    let home = begin(&store, dice);
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
