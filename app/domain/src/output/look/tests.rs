//! What a looker says of one boar.

use super::Looker;
use crate::barn::written::Written;
use crate::climate::{self, Climate, FarmDay, Reading, carried, expectation, load, lower_quality};
use crate::collection::{Amount, Collection, Glove, Mount, Outcome};
use crate::fact::Fact;
use crate::farm::Standard;
use crate::id::{BoarId, EntryId};
use crate::output::{Measure, Outlook};
use crate::said::{Label, Said};
use crate::time::{DAY_MS, Zone};
use crate::units::{TemperatureC, VolumeMl};
use crate::watch::{Answered, Fall, Signal, SignalAnswer};
use chrono::NaiveDate;
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

/// Half-hour means of one room's day: warm in the afternoon, or not.
fn logged(room: usize, day: NaiveDate, hot: bool) -> Climate {
    let reading = |minute: u16| Reading {
        minute,
        air: TemperatureC::new(if hot { 33.0 } else { 21.0 }).unwrap(),
        humidity: None,
    };
    Climate {
        room: Label::parse(&format!("Room {room}")).unwrap(),
        day,
        readings: (0..48).map(|n| reading(30 * n)).collect(),
    }
}

/// What the whole log says of a farm's days.
fn whole_log(log: &[(i64, Climate)], barn: &mut Written) -> Vec<FarmDay> {
    let mut facts = vec![];
    for (day, climate) in log {
        facts.push((barn.say(&Fact::Climate(climate.clone()), at(*day)), climate));
    }
    climate::days(facts, &Standard::default(), &Zone::default())
}

/// Loggers in four rooms write four entries a day, of which the ledger keeps 128: those of 32 days.
#[test]
fn heat_that_fell_out_of_the_ledger_is_the_fits() {
    let day = |n| Zone::default().day(at(n));
    // All rooms are hot for six days, one of them on the day of which the ledger keeps a part.
    let hot = |n: i64, room: usize| n < 6 || n == 27 && room == 3;
    let log: Vec<_> = (0..60)
        .flat_map(|n| (0..4).map(move |room| (n, logged(room, day(n), hot(n, room)))))
        .collect();
    let mut barn = Written::new();
    let whole = whole_log(&log[..238], &mut barn);
    let [first, last] = [0, 5].map(day);
    let at_hand = Looker::of(&barn.barn, at(59));
    assert_eq!(at_hand.days()[0].day, day(27), "two rooms' entries of it");
    assert_eq!(lower_quality(&expectation(at_hand.days(), day(47))), None);
    barn.barn.put_outlook(Arc::new(Outlook {
        heat: carried(&whole, day(59)),
        ..Outlook::start()
    }));
    let looker = Looker::of(&barn.barn, at(59));
    let of = |days: &[FarmDay]| days.iter().map(|d| (d.day, d.hot)).collect::<Vec<_>>();
    assert_eq!(of(looker.days()), of(&whole));
    assert_eq!(looker.days()[27].hot, Some(0.25));
    for n in 14..=90 {
        assert_eq!(load(looker.days(), day(n)), load(&whole, day(n)));
    }
    let lower = lower_quality(&expectation(looker.days(), day(47)));
    assert_eq!(lower, Some((day(14), last + chrono::Days::new(42))));
    assert_eq!(looker.days()[0].day, first);
    let cup = cup(&mut barn, 40);
    let boar = barn.barn.boar(boar()).unwrap();
    let look = looker.look(&boar).unwrap();
    assert_eq!(look.besides[0].given.collection, cup);
    assert_eq!(look.besides[0].given.bearing.hot_days, Some(6.0));
    // What is at hand whole is not the fit's: a reading that was taken back is gone at once.
    let mut wrong = carried(&whole, day(59));
    wrong.insert(day(59), 1.0);
    barn.barn.put_outlook(Arc::new(Outlook {
        heat: wrong,
        ..Outlook::start()
    }));
    let looker = Looker::of(&barn.barn, at(59));
    assert_eq!(looker.days().last().unwrap().hot, Some(0.0));
}

/// A farm whose entries all lie at hand needs nothing carried.
#[test]
fn a_ledger_that_dropped_nothing_asks_no_fit() {
    let day = |n| Zone::default().day(at(n));
    let log: Vec<_> = (0..20).map(|n| (n, logged(1, day(n), false))).collect();
    let mut barn = Written::new();
    let whole = whole_log(&log, &mut barn);
    let heat = [(day(-3), 1.0), (day(3), 1.0)];
    barn.barn.put_outlook(Arc::new(Outlook {
        heat: heat.into_iter().collect(),
        ..Outlook::start()
    }));
    assert_eq!(Looker::of(&barn.barn, at(19)).days(), whole);
}

#[test]
fn an_outlook_of_before_carries_no_heat_and_is_read() {
    let start = Outlook::start().rounded();
    let text = serde_json::to_string(&start).unwrap();
    assert!(!text.contains("heat"));
    assert_eq!(crate::json::read::<Outlook>(&text).unwrap(), start);
    let day = Zone::default().day(NOON_MS);
    let hot = Outlook {
        heat: [(day, 1.0 / 3.0)].into_iter().collect(),
        ..start
    };
    let text = serde_json::to_string(&hot.rounded()).unwrap();
    let read: Outlook = crate::json::read(&text).unwrap();
    assert!((read.heat[&day] - 1.0 / 3.0).abs() < 1e-12);
}
