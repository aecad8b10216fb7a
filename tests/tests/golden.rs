//! The frozen bytes: what was written once is read for ever, and written the same.

#[path = "../golden/care.rs"]
mod care;
#[path = "../golden/evaluation.rs"]
mod evaluation;
#[path = "../golden/laboratory.rs"]
mod laboratory;
#[path = "../golden/said.rs"]
mod said;
#[path = "../golden/thread.rs"]
mod thread;
#[path = "../golden/training.rs"]
mod training;
#[path = "../golden/watch.rs"]
mod watch;

use pentally_domain::barn::Barn;
use pentally_domain::envelope::Entry;
use pentally_domain::evaluation::Evaluation;
use pentally_domain::fact::{Fact, Kind};
use pentally_domain::ledger::Ledger;
use std::collections::BTreeSet;

/// A thread of entries, and the files that hold it.
struct Set {
    said: fn() -> Vec<Said>,
    lines: &'static str,
    hex: &'static str,
    hashes: &'static str,
    ledgers: &'static str,
    outside: &'static str,
}

type Said = (&'static str, Entry, Option<Fact>);

macro_rules! set {
    ($said:path, $folder:literal) => {
        Set {
            said: $said,
            lines: include_str!(concat!("../golden/", $folder, "entries.jsonl")),
            hex: include_str!(concat!("../golden/", $folder, "entries.hex")),
            hashes: include_str!(concat!("../golden/", $folder, "entries.sha256")),
            ledgers: include_str!(concat!("../golden/", $folder, "ledgers.jsonl")),
            outside: include_str!(concat!("../golden/", $folder, "outside.txt")),
        }
    };
}

const SETS: [Set; 6] = [
    set!(said::said, ""),
    set!(training::said, "training/"),
    set!(care::said, "care/"),
    set!(watch::said, "watch/"),
    set!(evaluation::said, "evaluation/"),
    set!(laboratory::said, "laboratory/"),
];

struct Frozen {
    name: &'static str,
    line: &'static str,
    bytes: Vec<u8>,
    hash: &'static str,
}

impl Set {
    fn frozen(&self) -> Vec<Frozen> {
        let list: Vec<_> = self
            .lines
            .lines()
            .zip(self.hex.lines())
            .zip(self.hashes.lines())
            .map(|((line, hex), hash)| {
                let (hash, name) = hash.split_once("  ").expect("a hash and a name");
                let byte = |pair: &[u8]| {
                    u8::from_str_radix(std::str::from_utf8(pair).unwrap(), 16).unwrap()
                };
                Frozen {
                    name,
                    line,
                    bytes: hex.as_bytes().chunks(2).map(byte).collect(),
                    hash,
                }
            })
            .collect();
        let counts = [self.lines, self.hex, self.hashes].map(|text| text.lines().count());
        assert_eq!(counts, [list.len(); 3], "one line of each for each entry");
        list
    }
}

fn said() -> Vec<Said> {
    SETS.iter().flat_map(|set| (set.said)()).collect()
}

fn frozen() -> Vec<Frozen> {
    SETS.iter().flat_map(Set::frozen).collect()
}

#[test]
fn what_is_written_today_has_the_frozen_bytes() {
    let said = said();
    let frozen = frozen();
    assert_eq!(
        said.iter().map(|s| s.0).collect::<Vec<_>>(),
        frozen.iter().map(|f| f.name).collect::<Vec<_>>()
    );
    for ((name, entry, _), frozen) in said.iter().zip(&frozen) {
        assert_eq!(entry.to_bytes(), frozen.bytes, "{name}");
        assert_eq!(entry.to_line(), frozen.line, "{name}");
        assert_eq!(entry.hash().to_string(), frozen.hash, "{name}");
    }
}

#[test]
fn frozen_bytes_and_lines_read_and_lead_to_each_other() {
    for ((name, entry, fact), frozen) in said().iter().zip(frozen()) {
        let from_bytes = Entry::from_bytes(&frozen.bytes).unwrap();
        let from_line = Entry::from_line(frozen.line).unwrap();
        assert_eq!(from_bytes, from_line, "{name}");
        assert_eq!(&from_bytes, entry, "{name}");
        assert_eq!(from_bytes.to_line(), frozen.line, "{name}");
        assert_eq!(from_line.to_bytes(), frozen.bytes, "{name}");
        assert_eq!(&Fact::of(from_bytes.envelope()).unwrap(), fact, "{name}");
    }
}

#[test]
fn every_kind_is_frozen() {
    let kinds: BTreeSet<_> = said()
        .into_iter()
        .filter_map(|(_, _, fact)| Some(fact?.kind()))
        .collect();
    let missing: Vec<_> = Kind::ALL
        .iter()
        .filter(|k| !kinds.contains(k))
        .map(|k| k.name())
        .collect();
    assert_eq!(
        missing,
        Vec::<&str>::new(),
        "add them to a set of their own, such as golden/training.rs"
    );
}

/// The hashes of an encoder written in Python from the published wire format, see golden/outside.py.
#[test]
fn an_independent_encoder_finds_the_same_bytes() {
    let found: Vec<_> = SETS
        .iter()
        .flat_map(|set| set.outside.lines())
        .filter(|line| !line.starts_with('#'))
        .collect();
    let frozen = frozen();
    assert_eq!(found.len(), frozen.len());
    for (found, frozen) in found.iter().zip(&frozen) {
        assert_eq!(
            *found,
            format!("{} {}", frozen.hash, frozen.bytes.len()),
            "{}",
            frozen.name
        );
    }
}

#[test]
fn a_thread_names_the_hash_before_it() {
    for set in &SETS {
        let frozen = set.frozen();
        let thread = frozen.iter().take_while(|f| !f.name.starts_with("edge"));
        let mut before = "0".repeat(64);
        for f in thread {
            assert_eq!(
                Entry::from_line(f.line)
                    .unwrap()
                    .envelope()
                    .prev
                    .to_string(),
                before,
                "{}",
                f.name
            );
            f.hash.clone_into(&mut before);
        }
    }
}

#[test]
fn white_space_and_order_of_keys_lost_on_the_way_change_nothing() {
    for frozen in frozen() {
        // This map sorts its keys.
        let value: std::collections::BTreeMap<String, serde_json::Value> =
            serde_json::from_str(frozen.line).unwrap();
        let shuffled = serde_json::to_string_pretty(&value).unwrap();
        assert_ne!(shuffled, frozen.line);
        assert_eq!(
            Entry::from_line(&shuffled).unwrap().to_bytes(),
            frozen.bytes,
            "{}",
            frozen.name
        );
    }
}

#[test]
fn other_bytes_are_not_taken_for_an_entry() {
    for frozen in frozen() {
        for len in 0..frozen.bytes.len() {
            assert!(
                Entry::from_bytes(&frozen.bytes[..len]).is_err(),
                "{} cut at {len}",
                frozen.name
            );
        }
        let longer = [frozen.bytes.as_slice(), &[0]].concat();
        assert!(
            Entry::from_bytes(&longer).is_err(),
            "{} with a byte more",
            frozen.name
        );
        for at in 0..frozen.bytes.len() {
            let mut flipped = frozen.bytes.clone();
            flipped[at] ^= 1;
            // What still reads must be another entry, and encode to exactly what was read.
            if let Ok(entry) = Entry::from_bytes(&flipped) {
                assert_ne!(
                    entry.hash().to_string(),
                    frozen.hash,
                    "{} at {at}",
                    frozen.name
                );
                assert_eq!(entry.to_bytes(), flipped, "{} at {at}", frozen.name);
            }
        }
    }
}

/// A varint may be written with needless zero groups; such bytes would hash otherwise than they read.
#[test]
fn an_entry_has_one_encoding_only() {
    let frozen = &frozen()[0];
    // The version byte and four identities of 17 bytes stand before the sequence, here 1.
    let at = 1 + 4 * 17;
    assert_eq!(frozen.bytes[at], 1);
    let mut overlong = frozen.bytes.clone();
    overlong.splice(at..=at, [0x81, 0x00]);
    assert!(Entry::from_bytes(&overlong).is_err());
}

#[test]
fn frozen_ledgers_read_and_are_written_the_same() {
    for set in &SETS {
        let mut barn = Barn::default();
        for frozen in set.frozen() {
            barn.apply(&Entry::from_bytes(&frozen.bytes).unwrap());
        }
        let folded: Vec<_> = barn
            .ledgers()
            .map(|l| serde_json::to_string(l).unwrap())
            .collect();
        assert_eq!(folded, set.ledgers.lines().collect::<Vec<_>>());
        for (line, ledger) in set.ledgers.lines().zip(barn.ledgers()) {
            assert_eq!(&serde_json::from_str::<Ledger>(line).unwrap(), ledger);
        }
    }
}

#[test]
fn a_reading_off_an_instrument_keeps_its_form() {
    let body = Fact::Evaluation(said::instrument()).body();
    assert!(
        body.contains(r#""concentration":{"instrument":231.5}"#),
        "{body}"
    );
    assert_eq!(
        serde_json::from_str::<Evaluation>(&body).unwrap(),
        said::instrument()
    );
}

/// What an older program must not misread is of a version it does not know; the rest is not.
#[test]
fn only_what_is_new_has_a_new_version() {
    let all = [evaluation::said(), laboratory::said()].concat();
    let versions: Vec<_> = all
        .iter()
        .filter(|(_, entry, _)| {
            [
                "evaluation",
                "training",
                "correction",
                "collection",
                "signal_answer",
            ]
            .contains(&&*entry.envelope().kind)
        })
        .map(|(name, entry, _)| (*name, entry.envelope().version))
        .collect();
    let new = |name| (name, 2);
    assert_eq!(
        versions,
        [
            new("counted_twice"),
            new("tallied_motility"),
            new("counted_elsewhere"),
            ("nothing_new", 1),
            new("tallied_corrected"),
            new("read_off"),
            new("collection_filter"),
            new("answer_filter"),
            new("training_aggressive"),
        ]
    );
}
