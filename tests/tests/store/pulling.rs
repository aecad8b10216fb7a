//! What is handed out.

use super::{LATER_MS, fates};
use crate::store_hands::{Dice, Phone, boar, fact, note, push, started, story};
use pentally_domain::barn::Barn;
use pentally_domain::envelope::Hash;
use pentally_domain::fact::Subject;
use pentally_domain::id::Epoch;
use pentally_domain::ledger::Ledger;
use pentally_domain::pairing::Role;
use pentally_domain::sync::Cursor;

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
        let page = store
            .pull(Role::Office, cursor, None, 20_000, LATER_MS)
            .unwrap();
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
            .pull(Role::Office, cursor, None, 20_000, LATER_MS)
            .unwrap()
            .ledgers
            .is_empty()
    );

    let mut phone = phones.into_iter().next().unwrap();
    let id = phone.entries[0].envelope().id.as_boar();
    let one = phone.write(&note(Subject::Boar(id), "calm today"), dice);
    fates(&store, &phone.push(&[one]));
    let page = store
        .pull(Role::Office, cursor, None, 20_000, LATER_MS)
        .unwrap();
    assert_eq!(page.ledgers.len(), 1);
}

#[test]
fn a_laboratory_is_handed_no_sows() {
    let dice = &mut Dice::new(21);
    let (store, home) = started(dice);
    let mut phones = story(home, 300, dice);
    let sow = fact(serde_json::json!({ "sow": { "number": "S1", "gilt": false } }));
    phones[0].write(&sow, dice);
    for phone in &phones {
        fates(&store, &phone.push(&phone.entries));
    }
    let subjects = |role| {
        let page = store.pull(role, None, None, usize::MAX, LATER_MS).unwrap();
        assert_eq!((page.role, page.more), (Some(role), false));
        let ledgers = page.ledgers.iter();
        ledgers
            .map(|l| serde_json::from_str::<Ledger>(l.get()).unwrap().subject())
            .collect::<Vec<_>>()
    };
    let (all, laboratory) = (subjects(Role::Barn), subjects(Role::Laboratory));
    let is_sow = |s: &Subject| matches!(s, Subject::Sow(_));
    assert!(all.iter().any(is_sow));
    let but_sows: Vec<_> = all.iter().filter(|s| !is_sow(s)).copied().collect();
    assert_eq!(laboratory, but_sows);
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
        let page = store
            .pull(Role::Office, Some(cursor), None, 1 << 20, LATER_MS)
            .unwrap();
        assert_eq!(page.restart, resend, "{cursor:?}");
        let page = store
            .pull(Role::Office, Some(ours), Some(cursor), 1 << 20, LATER_MS)
            .unwrap();
        assert_eq!((page.restart, page.apart), (resend, resend), "{cursor:?}");
    }
}
