//! Hands for the store's stories: phones that write, and a small dice that repeats itself.

#![allow(dead_code, reason = "each story uses some of the hands")]

use pentally_domain::amend::{Correction, Target, Void};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::{BoarId, DeviceId, EntryId, PenId};
use pentally_domain::sync::{Cursor, PROTOCOL, Push};
use pentally_domain::time::{DAY_MS, Stamp};
use pentally_domain::writer::{Head, Moment};
use pentally_server::store::{Birth, Home, Saying, Store};
use serde_json::value::RawValue;
use serde_json::{Value, json};

/// 2026-03-02 06:00 UTC.
pub const START_MS: i64 = 1_772_431_200_000;

/// A dice that repeats itself (xorshift64*).
pub struct Dice(u64);

impl Dice {
    pub const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) % n
    }

    pub fn random(&mut self) -> [u8; 10] {
        std::array::from_fn(|_| u8::try_from(self.below(256)).unwrap())
    }

    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for i in (1..list.len()).rev() {
            list.swap(i, usize::try_from(self.below(i as u64 + 1)).unwrap());
        }
    }

    pub fn birth(&mut self) -> Birth {
        Birth {
            now_ms: START_MS,
            random: self.random(),
        }
    }
}

/// A phone that keeps all it wrote.
pub struct Phone {
    pub head: Head,
    pub now_ms: i64,
    pub entries: Vec<Entry>,
}

impl Phone {
    pub fn new(home: Home, dice: &mut Dice) -> Self {
        let device = DeviceId::v7(START_MS, dice.random());
        Self {
            head: Head::new(home.farm, home.barn, device),
            now_ms: START_MS,
            entries: vec![],
        }
    }

    pub fn device(&self) -> DeviceId {
        self.head.device
    }

    pub fn write(&mut self, fact: &Fact, dice: &mut Dice) -> Entry {
        self.write_at(fact, self.now_ms + 1_000, dice)
    }

    pub fn write_at(&mut self, fact: &Fact, occurred_ms: i64, dice: &mut Dice) -> Entry {
        self.write_raw(
            fact.kind().name(),
            fact.version(),
            fact.body(),
            occurred_ms,
            dice,
        )
    }

    pub fn write_raw(
        &mut self,
        kind: &str,
        version: u16,
        body: String,
        occurred_ms: i64,
        dice: &mut Dice,
    ) -> Entry {
        self.now_ms += 1_000;
        let at = |ms| Stamp::new(ms, 60).unwrap();
        let moment = Moment {
            now: at(self.now_ms),
            occurred_at: at(occurred_ms),
            random: dice.random(),
            person: None,
        };
        let (entry, head) = self.head.write_raw(kind, version, body, moment).unwrap();
        self.head = head;
        self.entries.push(entry.clone());
        entry
    }

    pub fn push(&self, entries: &[Entry]) -> Push {
        push(self.device(), entries.iter().map(Entry::to_line), None)
    }
}

pub fn push(device: DeviceId, lines: impl Iterator<Item = String>, cursor: Option<Cursor>) -> Push {
    let entries = lines
        .map(|line| RawValue::from_string(line).unwrap())
        .collect();
    Push {
        protocol: PROTOCOL,
        device,
        cursor,
        floor: None,
        unsent: 0,
        entries,
        beside: vec![],
    }
}

/// A store in memory with a farm, and the farm's home.
pub fn started(dice: &mut Dice) -> (Store, Home) {
    let store = Store::in_memory(dice.birth()).unwrap();
    let home = begin(&store, dice);
    (store, home)
}

pub fn begin(store: &Store, dice: &mut Dice) -> Home {
    let home = Home::new(START_MS, dice.random(), dice.random());
    let farm = fact(
        json!({ "farm": { "name": "Hill", "zone": { "name": "UTC", "shifts": [{ "from_ms": 0, "offset_min": 0 }] } } }),
    );
    let saying = Saying {
        fact: farm,
        occurred_at: None,
        random: dice.random(),
    };
    store
        .begin(
            home,
            &saying,
            Stamp::new(START_MS, 0).unwrap(),
            dice.birth(),
        )
        .unwrap();
    home
}

pub fn fact(value: Value) -> Fact {
    serde_json::from_value(value).unwrap()
}

pub fn boar(number: u64) -> Fact {
    fact(json!({ "boar": { "number": format!("{number}") } }))
}

pub fn note(about: Subject, text: &str) -> Fact {
    fact(json!({ "note": { "about": about, "text": text } }))
}

pub fn collection(boar: BoarId, volume_ml: f64) -> Fact {
    fact(
        json!({ "collection": { "boar": boar, "outcome": "collected", "amount": { "volume": volume_ml } } }),
    )
}

pub fn moved(boar: BoarId, from: Option<PenId>, to: Option<PenId>) -> Fact {
    fact(json!({ "move": { "boar": boar, "from": from, "to": to } }))
}

pub fn target(entry: &Entry, amendment: Option<EntryId>) -> Target {
    Target {
        record: entry.order(),
        kind: Kind::named(&entry.envelope().kind).unwrap(),
        amendment,
    }
}

/// A void of a record, or of an amendment of it.
pub fn void(record: &Entry, amendment: Option<EntryId>) -> Fact {
    Fact::Void(Void {
        target: target(record, amendment),
        about: about(record),
    })
}

pub fn correction(record: &Entry, to: Fact, occurred_at: Option<Stamp>) -> Fact {
    let mut about = about(record);
    about.extend(to.subjects(record.envelope().id));
    about.sort_unstable();
    about.dedup();
    Fact::Correction(Correction {
        target: target(record, None),
        about,
        occurred_at,
        fact: Box::new(to),
    })
}

pub fn about(record: &Entry) -> Vec<Subject> {
    Fact::of(record.envelope())
        .unwrap()
        .unwrap()
        .subjects(record.envelope().id)
}

/// Two phones and a hundred kinds of trouble: collections, moves, corrections across boars, voids
/// and voids of voids, late entries, entries of a kind nobody knows yet. Returns what each wrote.
pub fn story(home: Home, length: usize, dice: &mut Dice) -> Vec<Phone> {
    let mut phones = [Phone::new(home, dice), Phone::new(home, dice)];
    let boars: Vec<BoarId> = (0..4)
        .map(|n| phones[0].write(&boar(n), dice).envelope().id.as_boar())
        .collect();
    let pens: Vec<PenId> = ["A", "B"]
        .map(|name| {
            phones[0]
                .write(&fact(json!({ "pen": { "name": name } })), dice)
                .envelope()
                .id
                .as_pen()
        })
        .to_vec();
    let mut records: Vec<Entry> = vec![];
    let mut amendments: Vec<(Entry, EntryId)> = vec![];
    for _ in 0..length {
        let phone = &mut phones[usize::try_from(dice.below(2)).unwrap()];
        let one = boars[usize::try_from(dice.below(4)).unwrap()];
        let when = START_MS + i64::try_from(dice.below(400)).unwrap() * DAY_MS / 8;
        let record = (!records.is_empty())
            .then(|| records[usize::try_from(dice.below(records.len() as u64)).unwrap()].clone());
        match (dice.below(10), record) {
            (0, Some(record)) => {
                let entry = phone.write(&void(&record, None), dice);
                amendments.push((record, entry.envelope().id));
            }
            (1, Some(record)) if record.envelope().kind == "collection" => {
                let to = collection(one, 0.1 + dice.below(4_000) as f64 / 7.0);
                let at = (dice.below(2) == 0).then(|| Stamp::new(when, 60).unwrap());
                let entry = phone.write(&correction(&record, to, at), dice);
                amendments.push((record, entry.envelope().id));
            }
            (2, _) if !amendments.is_empty() => {
                let (record, undone) = amendments
                    [usize::try_from(dice.below(amendments.len() as u64)).unwrap()]
                .clone();
                let entry = phone.write(&void(&record, Some(undone)), dice);
                amendments.push((record, entry.envelope().id));
            }
            (3, _) => {
                let pen = |dice: &mut Dice| Some(pens[usize::try_from(dice.below(2)).unwrap()]);
                records.push(phone.write_at(&moved(one, pen(dice), pen(dice)), when, dice));
            }
            (4, _) => records.push(phone.write_at(&note(Subject::Boar(one), "bites"), when, dice)),
            (5, _) => {
                phone.write_raw("dream", 3, "{\"of\": NaN}".into(), when, dice);
            }
            _ => records.push(phone.write_at(
                &collection(one, 0.1 + dice.below(4_000) as f64 / 7.0),
                when,
                dice,
            )),
        }
    }
    phones.into()
}
