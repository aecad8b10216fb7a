//! Requests that were spoilt on the way, or by somebody: each is answered, nothing breaks, and what
//! stands beside a spoilt element is stored.
//!
//! `PENTALLY_BODIES` sets how many are tried, `PENTALLY_SEED` with which chance.

#[path = "store_hands/office.rs"]
mod office;
mod store_hands;

use office::{Office, lines, push_text};
use pentally_domain::sync::{Fate, Push};
use pentally_server::store::Store;
use store_hands::{Dice, Phone, boar, started, story};

const BODIES: u64 = 3_000;

/// Pieces that mean something to a reader of JSON, of entries or of nothing.
const PIECES: [&[u8]; 24] = [
    b"{",
    b"}",
    b"[",
    b"]",
    b",",
    b":",
    b"\"",
    b"null",
    b"true",
    b"NaN",
    b"1e999",
    b"-0",
    b"18446744073709551616",
    b"9007199254740993",
    b"\\u0000",
    b"\\ud800",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"{\"protocol\":1}",
    b"\"entries\":[",
    b"\"device\":",
    b"\"seq\":0",
    b"\"id\":\"\"",
    b"2100-01-01",
];

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).map_or(usual, |text| text.parse().unwrap())
}

fn spoil(text: &str, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=dice.below(4) {
        if bytes.is_empty() {
            break;
        }
        let at = usize::try_from(dice.below(bytes.len() as u64)).unwrap();
        let upto = (at + usize::try_from(dice.below(40)).unwrap()).min(bytes.len());
        match dice.below(7) {
            0 => bytes[at] ^= 1 << dice.below(8),
            1 => bytes.truncate(at),
            2 => drop(bytes.drain(at..upto)),
            3 => {
                let piece = PIECES[usize::try_from(dice.below(24)).unwrap()];
                bytes.splice(at..upto, piece.iter().copied());
            }
            4 => {
                let copy = bytes[at..upto].to_vec();
                bytes.splice(at..at, copy);
            }
            5 => bytes
                .splice(at..at, std::iter::repeat_n(b'[', 5_000))
                .for_each(drop),
            _ => {
                let digits = dice.below(u64::MAX).to_string();
                bytes.splice(at..upto, digits.into_bytes());
            }
        }
    }
    bytes
}

#[test]
fn a_spoilt_request_is_answered_and_the_store_stays_whole() {
    let dice = &mut Dice::new(number("PENTALLY_SEED", 3));
    let (store, home) = started(dice);
    let phones = story(home, 60, dice);
    let (mut read, mut fates) = (0, 0);
    for turn in 0..number("PENTALLY_BODIES", BODIES) {
        let phone = &phones[usize::try_from(turn % 2).unwrap()];
        let first = usize::try_from(dice.below(phone.entries.len() as u64 - 4)).unwrap();
        let text = push_text(phone, &lines(&phone.entries[first..first + 4]));
        let Ok(push) = serde_json::from_slice::<Push>(&spoil(&text, dice)) else {
            continue;
        };
        read += 1;
        let receipt = store.push(&push, store_hands::START_MS).unwrap();
        assert_eq!(receipt.fates.len(), push.entries.len());
        fates += receipt.fates.len();
    }
    println!("{read} spoilt requests still read as requests and held {fates} elements");
    assert!(read > 0 && fates > 0);
    store.check().unwrap();
}

#[test]
fn what_stands_beside_a_spoilt_element_is_stored() {
    let dice = &mut Dice::new(number("PENTALLY_SEED", 5));
    for _ in 0..number("PENTALLY_BODIES", BODIES) / 30 {
        let (store, home) = started(dice);
        let mut phone = Phone::new(home, dice);
        for number in 0..3 {
            phone.write(&boar(number), dice);
        }
        let mut all = lines(&phone.entries);
        let spoilt = spoil(&all[1], dice);
        // An element that is no JSON spoils the whole request; that is the test above.
        match std::str::from_utf8(&spoilt) {
            Ok(text) if serde_json::from_str::<serde_json::Value>(text).is_ok() => {
                text.clone_into(&mut all[1]);
            }
            _ => continue,
        }
        let push: Push = serde_json::from_str(&push_text(&phone, &all)).unwrap();
        let fates = store.push(&push, store_hands::START_MS).unwrap().fates;
        assert_eq!((&fates[0], &fates[2]), (&Fate::Stored, &Fate::Stored));
        check(&store);
    }
}

#[test]
fn a_spoilt_request_over_http_is_answered_in_the_words_of_the_contract() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(number("PENTALLY_SEED", 7));
    let mut phone = Phone::new(home, dice);
    for number in 0..5 {
        phone.write(&boar(number), dice);
    }
    let text = push_text(&phone, &lines(&phone.entries));
    for _ in 0..number("PENTALLY_BODIES", BODIES) / 10 {
        let body = spoil(&text, dice);
        for path in [
            "/api/v1/sync",
            "/api/v1/import/preview",
            "/api/v1/climate/preview",
            "/api/v1/climate/commit",
            "/api/v1/reckon/doses",
            "/api/v1/start",
            "/api/v1/network",
        ] {
            let answer = office.post_bytes(path, &body);
            match answer.status {
                200 => {}
                400 | 404 | 409 | 413 | 422 | 426 => answer.is_problem(answer.status),
                other => panic!("{path} answered {other}: {}", answer.body),
            }
        }
    }
    assert_eq!(office.get("/health").status, 200);
}

fn check(store: &Store) {
    store.check().unwrap();
}
