//! What a looker says of one boar.

use super::Looker;
use crate::barn::written::Written;
use crate::collection::{Amount, Collection, Glove, Mount, Outcome};
use crate::fact::Fact;
use crate::id::{BoarId, EntryId};
use crate::output::{Measure, Outlook};
use crate::said::Said;
use crate::time::DAY_MS;
use crate::units::VolumeMl;
use crate::watch::{Answered, Fall, Signal, SignalAnswer};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Noon UTC of 20 November 2023.
const NOON_MS: i64 = 1_700_481_600_000;

const fn at(day: i64) -> i64 {
    NOON_MS + day * DAY_MS
}

fn boar() -> BoarId {
    BoarId::v7(1, [9; 10])
}

fn cup(barn: &mut Written, day: i64) -> EntryId {
    let volume = VolumeMl::new(220.0).unwrap();
    let cup = Fact::Collection(Collection {
        boar: boar(),
        outcome: Outcome::Collected,
        glove: Said::Confirmed(Glove::Vinyl),
        mount: Said::Confirmed(Mount::Dummy),
        steps: vec![],
        sperm_poor_in: Said::Confirmed(true),
        amount: Some(Amount::Volume(volume)),
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    });
    barn.say(&cup, at(day)).id
}

/// Says whether a signal noticed on day 40 has an answer, which names a collection of another day
/// and is written on a third.
fn covers(measure: Measure, names: i64, written: i64) -> bool {
    let mut barn = Written::new();
    let mut cups: BTreeMap<i64, EntryId> = BTreeMap::new();
    for day in (0..=60).step_by(5) {
        cups.insert(day, cup(&mut barn, day));
    }
    let answer = SignalAnswer {
        boar: Some(boar()),
        measure,
        collection: cups[&names],
        answer: Answered::Seen,
        cause: None,
        note: None,
    };
    barn.say(&Fact::SignalAnswer(answer), at(written));
    let mut outlook = Outlook::start();
    let mut past = outlook.nobody();
    past.through = Some((at(60), cups[&60]));
    past.signals = vec![Signal {
        measure: Measure::Total,
        collection: cups[&40],
        at_ms: at(40),
        fall: Fall {
            since_ms: at(30),
            n: 3,
            by: -0.3,
        },
    }];
    outlook.boars.insert(boar(), past);
    barn.barn.put_outlook(Arc::new(outlook));
    let looker = Looker::of(&barn.barn, at(70));
    let facts = barn.barn.boar(boar()).unwrap();
    let told = looker.told(&facts, &looker.look(&facts).unwrap());
    let answered = told[0].answer.is_some();
    assert_eq!(looker.unanswered(&facts), usize::from(!answered));
    answered
}

#[test]
fn an_answer_covers_the_signal_it_names_and_its_neighbours_whenever_it_was_written() {
    let total = Measure::Total;
    assert!(covers(total, 40, 40));
    assert!(covers(total, 40, 69), "the one it names, four weeks late");
    // A new fit moved the signal by four collections at the most.
    assert!(covers(total, 20, 21) && covers(total, 60, 60));
    assert!(!covers(total, 15, 15), "a fall three weeks before it");
    // What was written lately about an old fall is no answer to a new one.
    assert!(!covers(total, 15, 69));
    assert!(!covers(Measure::Motile, 40, 41), "of another measure");
}
