use super::*;
use crate::amend::Void;
use crate::barn::written::Written;
use crate::collection::{Collection, Outcome};
use crate::envelope::Order;
use crate::id::BoarId;
use crate::said::Said;
use crate::time::HOUR_MS;

const BEGIN_MS: i64 = 1_773_032_400_000;

struct Log {
    written: Written,
    hours: i64,
}

impl Log {
    fn new() -> Self {
        let written = Written::new();
        Self { written, hours: 0 }
    }

    fn say(&mut self, fact: &Fact) -> Order {
        self.hours += 1;
        self.written.say(fact, BEGIN_MS + self.hours * HOUR_MS)
    }

    fn counted(&self, work: Work) -> u16 {
        learner(&self.written.barn, person(1), work).supervised
    }
}

fn person(n: u8) -> PersonId {
    PersonId::v7(BEGIN_MS, [n; 10])
}

fn boar() -> BoarId {
    BoarId::v7(BEGIN_MS, [9; 10])
}

fn supervised(record: Option<EntryId>) -> Fact {
    Fact::Supervised(Supervised {
        person: person(1),
        by: person(2),
        work: Work::Collection,
        record,
        boar: record.map(|_| boar()),
    })
}

fn collection() -> Fact {
    Fact::Collection(Collection {
        boar: boar(),
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
    })
}

fn sign_off(by: PersonId) -> Fact {
    Fact::SignOff(SignOff {
        person: person(1),
        by,
        work: Work::Collection,
        counted: 2,
        asked: 10,
    })
}

#[test]
fn each_supervised_collection_counts_once() {
    let mut log = Log::new();
    let record = log.say(&collection()).id;
    log.say(&supervised(Some(record)));
    log.say(&supervised(Some(record)));
    assert_eq!(log.counted(Work::Collection), 1);
    log.say(&supervised(None));
    log.say(&supervised(None));
    assert_eq!(log.counted(Work::Collection), 3);
    assert_eq!(log.counted(Work::Training), 0);
    let other = learner(&log.written.barn, person(2), Work::Collection);
    assert_eq!((other.supervised, other.asked), (0, 10));
}

#[test]
fn a_collection_that_was_taken_back_does_not_count() {
    let mut log = Log::new();
    let record = log.say(&collection());
    log.say(&supervised(Some(record.id)));
    log.say(&Fact::Void(Void::of(record, &collection())));
    assert_eq!(log.counted(Work::Collection), 0);
}

#[test]
fn nobody_is_signed_off_by_a_count_and_a_sign_off_can_be_taken_back() {
    let mut log = Log::new();
    for _ in 0..30 {
        log.say(&supervised(None));
    }
    let signed = |log: &Log| learner(&log.written.barn, person(1), Work::Collection).signed;
    assert_eq!(signed(&log), None);
    let order = log.say(&sign_off(person(2)));
    assert_eq!(signed(&log).map(|s| s.fact.by), Some(person(2)));
    assert_eq!(
        learner(&log.written.barn, person(1), Work::Training).signed,
        None
    );
    log.say(&Fact::Void(Void::of(order, &sign_off(person(2)))));
    assert_eq!(signed(&log), None);
}

#[test]
fn nobody_signs_off_or_supervises_himself() {
    let said = sign_off(person(1)).check().unwrap_err().to_string();
    let right = "it must be another person than the one who is signed off";
    assert!(said.ends_with(right), "{said}");
    let Fact::Supervised(fact) = supervised(None) else {
        panic!("a supervised collection was made")
    };
    let alone = Supervised {
        by: fact.person,
        ..fact
    };
    assert!(Fact::Supervised(alone).check().is_err());
}
