//! Histories of a few subjects by a few devices, with clocks that are wrong, and amendments.

use pentally_domain::amend::{Correction, Note, Target, Void};
use pentally_domain::boar::{Move, PenTag};
use pentally_domain::code::Code;
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::envelope::{Entry, Order};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::{BarnId, BoarId, DeviceId, FarmId, PenId};
use pentally_domain::said::{Remark, Said};
use pentally_domain::time::{DAY_MS, HOUR_MS, Stamp};
use pentally_domain::writer::{Head, Moment};
use proptest::prelude::*;
use std::collections::BTreeMap;

/// 2026-05-01.
const BEGIN_MS: i64 = 1_777_593_600_000;

/// One thing that is written down, in small numbers.
#[derive(Debug, Clone)]
pub struct Op {
    device: u8,
    what: u8,
    subject: u8,
    about: usize,
    skew_days: i64,
    back_hours: i64,
}

/// Histories of up to so many entries.
pub fn ops(upto: usize) -> impl Strategy<Value = Vec<Op>> {
    let skew = prop_oneof![4 => Just(0_i64), 1 => -3_650_i64..3_650];
    let op = (0_u8..3, 0_u8..10, 0_u8..2, 0_usize..40, skew, 0_i64..600);
    let op = op.prop_map(|(device, what, subject, about, skew_days, back_hours)| Op {
        device,
        what,
        subject,
        about,
        skew_days,
        back_hours,
    });
    prop::collection::vec(op, 1..upto)
}

pub fn boar(n: u8) -> BoarId {
    BoarId::v7(BEGIN_MS, [n + 1; 10])
}

fn pen(n: u8) -> PenId {
    PenId::v7(BEGIN_MS, [n + 101; 10])
}

pub fn subjects() -> Vec<Subject> {
    (0..2)
        .flat_map(|n| [Subject::Boar(boar(n)), Subject::Pen(pen(n))])
        .collect()
}

pub fn collection(of: BoarId) -> Collection {
    Collection {
        boar: of,
        outcome: Outcome::Collected,
        glove: Said::Unanswered,
        mount: Said::Unanswered,
        steps: vec![],
        sperm_poor_in: Said::Unanswered,
        amount: None,
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    }
}

struct Record {
    order: Order,
    fact: Fact,
    amendments: Vec<Order>,
}

/// The entries of a history. Amendments name records and amendments of any device, however their
/// clocks stand.
pub fn entries(ops: &[Op]) -> Vec<Entry> {
    let mut heads: BTreeMap<u8, Head> = BTreeMap::new();
    let mut records: Vec<Record> = vec![];
    let mut all = vec![];
    for (n, op) in ops.iter().enumerate() {
        let head = heads
            .entry(op.device)
            .or_insert_with(|| new_head(op.device));
        let (fact, of) = said(op, &records);
        let (entry, next) = head.write(&fact, moment(op, n)).unwrap();
        *head = next;
        match of.and_then(|of| records.get_mut(of)) {
            Some(record) => record.amendments.push(entry.order()),
            None => records.push(Record {
                order: entry.order(),
                fact,
                amendments: vec![],
            }),
        }
        all.push(entry);
    }
    all
}

fn new_head(device: u8) -> Head {
    Head::new(
        FarmId::v7(1, [1; 10]),
        BarnId::v7(1, [1; 10]),
        DeviceId::v7(BEGIN_MS, [device + 1; 10]),
    )
}

fn moment(op: &Op, n: usize) -> Moment {
    let n = i64::try_from(n).unwrap();
    let now_ms = BEGIN_MS + n * HOUR_MS + op.skew_days * DAY_MS;
    let stamp = |ms| Stamp::new(ms, 120).unwrap();
    let random = [
        op.device,
        u8::try_from(n % 256).unwrap(),
        0,
        0,
        0,
        0,
        0,
        0,
        0,
        0,
    ];
    Moment {
        now: stamp(now_ms),
        occurred_at: stamp(now_ms - op.back_hours * HOUR_MS),
        random,
        person: None,
    }
}

/// What an operation says, and which record it amends.
fn said(op: &Op, records: &[Record]) -> (Fact, Option<usize>) {
    let plain = |what| match what {
        0 => Fact::PenTag(PenTag {
            pen: pen(op.subject),
            code: Code::from_number(u32::from(op.device)).unwrap(),
        }),
        1 => Fact::Move(Move {
            boar: boar(op.subject),
            from: Some(pen(0)),
            to: Some(pen(1)),
            gone: false,
        }),
        2 => Fact::Note(Note {
            about: Subject::Boar(boar(op.subject)),
            text: Remark::parse("w").unwrap(),
        }),
        _ => Fact::Collection(collection(boar(op.subject))),
    };
    if op.what < 6 || records.is_empty() {
        return (plain(op.what), None);
    }
    let of = op.about % records.len();
    let record = &records[of];
    let fact = match (op.what, record.amendments.last(), &record.fact) {
        (6, _, Fact::Collection(_)) => {
            let other = Fact::Collection(collection(boar(1 - op.subject)));
            Fact::Correction(Correction::of(record.order, &record.fact, other))
        }
        (7, _, fact) => {
            let occurred_at = Some(Stamp::new(BEGIN_MS - op.back_hours * HOUR_MS, 60).unwrap());
            Fact::Correction(Correction {
                occurred_at,
                ..Correction::of(record.order, fact, fact.clone())
            })
        }
        (8, Some(amendment), fact) => {
            let void = Void::of(record.order, fact);
            let target = Target {
                amendment: Some(amendment.id),
                ..void.target
            };
            // Two boars may be concerned, as the amendment says.
            Fact::Void(Void {
                target,
                about: subjects(),
            })
        }
        (_, _, fact) => Fact::Void(Void {
            about: subjects(),
            ..Void::of(record.order, fact)
        }),
    };
    (fact, Some(of))
}
