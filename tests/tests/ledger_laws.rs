//! The laws of a ledger: order-free, idempotent, bounded, the same as an independent sorted fold.

#[path = "ledger/history.rs"]
mod history;
#[path = "ledger/naive.rs"]
mod naive;

use history::{boar, collection, entries, ops, subjects};
use pentally_domain::amend::{Correction, Target, Void};
use pentally_domain::envelope::{Entry, Order};
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::{BarnId, DeviceId, EntryId, FarmId};
use pentally_domain::ledger::{Folded, Ledger, Row, keeps};
use pentally_domain::time::{DAY_MS, Stamp};
use pentally_domain::writer::{Head, Moment};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

fn fold<'a>(entries: impl IntoIterator<Item = &'a Entry>, subject: Subject) -> Ledger {
    let mut ledger = Ledger::new(subject);
    for entry in entries {
        let fact = Fact::of(entry.envelope()).unwrap().unwrap();
        if fact.subjects(entry.envelope().id).contains(&subject) {
            ledger.apply(entry, fact);
        }
    }
    ledger
}

/// A history, an order in which its entries arrive, some twice or thrice, and three heaps of them.
fn arrivals(upto: usize) -> impl Strategy<Value = (Vec<Entry>, Vec<Entry>, Vec<u8>)> {
    ops(upto).prop_flat_map(|ops| {
        let all = entries(&ops);
        let repeats = prop::collection::vec(0..all.len(), 0..all.len());
        let heaps = prop::collection::vec(0_u8..7, all.len());
        let known = all.clone();
        let shuffled = repeats.prop_flat_map(move |repeats| {
            let mut arriving = known.clone();
            arriving.extend(repeats.iter().map(|i| known[*i].clone()));
            Just(arriving).prop_shuffle()
        });
        (Just(all), shuffled, heaps)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_order_and_any_repetition_make_the_same_ledger((all, arriving, _) in arrivals(90)) {
        for subject in subjects() {
            prop_assert_eq!(fold(&arriving, subject), fold(&all, subject));
        }
    }

    #[test]
    fn a_ledger_is_what_a_sorted_fold_of_everything_says((all, arriving, _) in arrivals(90)) {
        for subject in subjects() {
            let ledger = fold(&arriving, subject);
            let (rows, shown) = naive::fold(&all, subject);
            prop_assert_eq!(ledger.rows().map(|r| r.order.id).collect::<BTreeSet<_>>(), rows);
            let live: Vec<_> = ledger.live().iter().map(|l| (l.order, l.at.ms(), l.fact.clone(), l.corrected_by)).collect();
            prop_assert_eq!(live, shown);
        }
    }

    /// Written out and read again after every entry, as the store does.
    #[test]
    fn a_ledger_folded_as_text_is_the_ledger_byte_for_byte((_, arriving, _) in arrivals(90)) {
        for subject in subjects() {
            let mut folded = Folded::new(subject);
            for entry in &arriving {
                let fact = Fact::of(entry.envelope()).unwrap().unwrap();
                if fact.subjects(entry.envelope().id).contains(&subject) {
                    folded.insert(&Row::of(entry.envelope(), fact, entry.order())).unwrap();
                    let (index, json) = folded.written().unwrap();
                    folded = Folded::read(subject, &index, &json).unwrap();
                    prop_assert!(Folded::read(subject, &index, &json[1..]).is_none());
                }
            }
            let (_, json) = folded.written().unwrap();
            prop_assert_eq!(json, serde_json::to_string(&fold(&arriving, subject)).unwrap());
        }
    }

    /// Each bit of a heap's number puts the entry into one of three ledgers, so that they overlap.
    #[test]
    fn merging_is_commutative_associative_and_idempotent((all, _, heaps) in arrivals(80)) {
        for subject in subjects() {
            let part = |bit: u8| fold(all.iter().zip(&heaps).filter(|(_, h)| (**h + 1) & bit != 0).map(|(e, _)| e), subject);
            let (a, b, c) = (part(1), part(2), part(4));
            let merged = |x: &Ledger, y: &Ledger| { let mut whole = x.clone(); whole.merge(y); whole };
            prop_assert_eq!(merged(&a, &b), merged(&b, &a));
            prop_assert_eq!(merged(&merged(&a, &b), &c), merged(&a, &merged(&b, &c)));
            prop_assert_eq!(merged(&a, &a), a.clone());
            prop_assert_eq!(merged(&merged(&a, &b), &c), fold(&all, subject), "what was dropped from a part is never missed");
        }
    }

    #[test]
    fn a_ledger_is_bounded_and_comes_back_from_its_json((all, arriving, _) in arrivals(200)) {
        for subject in subjects() {
            let ledger = fold(&arriving, subject);
            let mut counts: BTreeMap<Kind, usize> = BTreeMap::new();
            ledger.rows().for_each(|r| *counts.entry(r.fact.kind()).or_default() += 1);
            for (kind, count) in counts {
                let amends = matches!(kind, Kind::Correction | Kind::Void);
                prop_assert!(amends || count <= keeps(kind), "{} of {}", count, kind.name());
            }
            let text = serde_json::to_string(&ledger).unwrap();
            prop_assert_eq!(&serde_json::from_str::<Ledger>(&text).unwrap(), &ledger);
            prop_assert_eq!(text, serde_json::to_string(&fold(&all, subject)).unwrap(), "the same letter for letter");
        }
    }
}

/// Writes with a device of its own, at an instant of its own.
struct Pencil(Head);

impl Pencil {
    fn new(n: u8) -> Self {
        Self(Head::new(
            FarmId::v7(1, [1; 10]),
            BarnId::v7(1, [1; 10]),
            DeviceId::v7(1, [n; 10]),
        ))
    }

    fn write(&mut self, day: i64, fact: &Fact) -> Entry {
        let at = Stamp::new(1_777_593_600_000 + day * DAY_MS, 120).unwrap();
        let mut random = [0; 10];
        random[0] = u8::try_from(self.0.seq).unwrap();
        random[1] = self.0.device.uuid().as_bytes()[15];
        let moment = Moment {
            now: at,
            occurred_at: at,
            random,
            person: None,
        };
        let (entry, next) = self.0.write(fact, moment).unwrap();
        self.0 = next;
        entry
    }
}

fn collected(n: u8) -> Fact {
    Fact::Collection(collection(boar(n)))
}

fn undo(of: Order, amendment: Option<EntryId>, fact: &Fact) -> Fact {
    let void = Void::of(of, fact);
    Fact::Void(Void {
        target: Target {
            amendment,
            ..void.target
        },
        ..void
    })
}

/// In every order of arrival, so many records show on the boar's page.
fn shows(entries: &[Entry], n: u8, count: usize) {
    for turn in 0..entries.len() {
        let mut order = entries.to_vec();
        order.rotate_left(turn);
        for arriving in [order.clone(), order.into_iter().rev().collect()] {
            let ledger = fold(&arriving, Subject::Boar(boar(n)));
            assert_eq!(ledger.live().len(), count, "arriving from {turn} on");
        }
    }
}

#[test]
fn a_void_of_a_void_brings_the_record_back_and_a_third_takes_it_again() {
    let mut phone = Pencil::new(1);
    let record = phone.write(0, &collected(0));
    let void = phone.write(1, &undo(record.order(), None, &collected(0)));
    let back = phone.write(
        2,
        &undo(record.order(), Some(void.envelope().id), &collected(0)),
    );
    let again = phone.write(
        3,
        &undo(record.order(), Some(back.envelope().id), &collected(0)),
    );
    let all = [record, void, back, again];
    shows(&all[..2], 0, 0);
    shows(&all[..3], 0, 1);
    shows(&all, 0, 0);
}

/// Corrections and voids win whatever their clock, so an undo does too: it names what it undoes.
#[test]
fn an_undo_holds_although_its_phone_s_clock_is_ten_years_behind() {
    let (mut ahead, mut behind) = (Pencil::new(1), Pencil::new(2));
    let record = ahead.write(0, &collected(0));
    let void = ahead.write(3_650, &undo(record.order(), None, &collected(0)));
    let back = behind.write(
        -3_650,
        &undo(record.order(), Some(void.envelope().id), &collected(0)),
    );
    shows(&[record, void, back], 0, 1);
}

#[test]
fn a_correction_moves_a_record_from_one_boar_to_another_and_back() {
    let mut phone = Pencil::new(1);
    let record = phone.write(0, &collected(0));
    let moved = phone.write(
        1,
        &Fact::Correction(Correction::of(record.order(), &collected(0), collected(1))),
    );
    shows(&[record.clone(), moved.clone()], 0, 0);
    shows(&[record.clone(), moved.clone()], 1, 1);
    let mut back = Correction::of(record.order(), &collected(1), collected(0));
    back.about = vec![Subject::Boar(boar(0)), Subject::Boar(boar(1))];
    let back = phone.write(2, &Fact::Correction(back));
    shows(&[record.clone(), moved.clone(), back.clone()], 0, 1);
    shows(&[record, moved, back], 1, 0);
}

#[test]
fn an_amendment_of_a_record_that_left_the_window_leaves_with_it() {
    let mut phone = Pencil::new(1);
    let old = phone.write(-1, &collected(0));
    let void = phone.write(0, &undo(old.order(), None, &collected(0)));
    let window = i64::try_from(keeps(Kind::Collection)).unwrap();
    let younger: Vec<_> = (1..=window)
        .map(|day| phone.write(day, &collected(0)))
        .collect();
    let rest = [vec![old, void.clone()], younger].concat();
    for turn in 0..rest.len() {
        let mut order = rest.clone();
        order.rotate_left(turn);
        let ledger = fold(&order, Subject::Boar(boar(0)));
        assert_eq!(ledger.rows().count(), keeps(Kind::Collection));
        assert!(ledger.rows().all(|r| r.order.id != void.envelope().id));
    }
}

#[test]
fn of_two_corrections_the_later_clock_holds_and_the_day_follows() {
    let mut phone = Pencil::new(1);
    let record = phone.write(0, &collected(0));
    let correct = |day: i64| {
        let occurred_at = Some(Stamp::new(record.order().at_ms + day * DAY_MS, 60).unwrap());
        Fact::Correction(Correction {
            occurred_at,
            ..Correction::of(record.order(), &collected(0), collected(0))
        })
    };
    let (first, second) = (phone.write(1, &correct(-9)), phone.write(2, &correct(-4)));
    for order in [[&record, &first, &second], [&second, &record, &first]] {
        let ledger = fold(order, Subject::Boar(boar(0)));
        let live = ledger.live();
        assert_eq!(live[0].at.ms(), record.order().at_ms - 4 * DAY_MS);
        assert_eq!(live[0].corrected_by, Some(second.envelope().id));
    }
}
