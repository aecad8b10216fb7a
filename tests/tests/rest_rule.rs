//! May he be collected? Against an independent calendar: `rest/generate.py` and its output.

#[path = "rest/life.rs"]
mod life;
#[path = "rest/regular.rs"]
mod regular;
#[path = "rest/training.rs"]
mod training;

use chrono::NaiveDate;
use life::{Life, collection, particulars, zones};
use pentally_domain::boar::{Move, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::Outcome;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::rest::{Answer, Gap, Standing, standing};
use pentally_domain::sow::{By, Service};
use pentally_domain::time::Zone;
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../rest/cases.jsonl");

#[derive(Deserialize)]
struct Line {
    case: Case,
    is: Is,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    zone: String,
    now_ms: i64,
    born: Option<NaiveDate>,
    before: String,
    entered_ms: i64,
    standard: Value,
    events: Vec<Event>,
}

#[derive(Deserialize)]
struct Event {
    what: String,
    at_ms: i64,
    until: Option<NaiveDate>,
}

#[derive(Deserialize, PartialEq, Debug)]
struct Is {
    answer: Value,
    idle: Option<(i64, bool)>,
    spent_on: Vec<NaiveDate>,
    doubles: usize,
    repeating: bool,
}

fn enter(life: &mut Life, case: &Case) -> BoarId {
    let boar = Fact::Boar(particulars(case.born, &case.before));
    life.write(&boar, case.entered_ms).envelope().id.as_boar()
}

fn happens(life: &mut Life, boar: BoarId, event: &Event) {
    let spent = |outcome| Fact::Collection(collection(boar, outcome));
    let fact = match event.what.as_str() {
        "collected" => spent(Outcome::Collected),
        "nothing_kept" => spent(Outcome::NothingKept),
        "no_mount" => spent(Outcome::NoMount),
        "service" => Fact::Service(Service {
            sow: SowId::v7(1, [9; 10]),
            by: By::Boar(boar),
        }),
        "off" => Fact::OffCollection(OffCollection {
            boar,
            reason: OffReason::Lame,
            until: event.until,
            cull: None,
        }),
        "on" => Fact::OnCollection(OnCollection { boar }),
        "gone" => Fact::Move(Move {
            boar,
            from: None,
            to: None,
            gone: true,
        }),
        what => panic!("no event is called {what}"),
    };
    life.write(&fact, event.at_ms);
}

/// The answer in the words of the cases.
pub fn answer(standing: &Standing) -> Value {
    match standing.answer {
        Answer::Yes => json!(["yes"]),
        Answer::Rests(day) => json!(["rests", day]),
        Answer::ThirdInSeven(day) => json!(["third_in_seven", day]),
        Answer::Off(_, until) => json!(["off", until]),
        Answer::TooYoung(day) => json!(["too_young", day]),
        Answer::Unknown(Gap::History) => json!(["unknown", "history"]),
        Answer::Unknown(Gap::Age) => json!(["unknown", "age"]),
        Answer::Unknown(Gap::Clock) => json!(["unknown", "clock"]),
        Answer::Unknown(Gap::Boar) => json!(["unknown", "boar"]),
        Answer::Gone => json!(["gone"]),
    }
}

fn said(standing: &Standing) -> Is {
    Is {
        answer: answer(standing),
        idle: standing.idle.map(|idle| (idle.days, idle.clean_out)),
        spent_on: standing.spent_on.clone(),
        doubles: standing.doubles.len(),
        repeating: standing.repeating,
    }
}

fn cases() -> Vec<Line> {
    CASES
        .lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

#[test]
fn every_answer_is_that_of_the_independent_calendar() {
    let zones = zones(CASES);
    for Line { case, is } in cases() {
        let mut life = Life::new(zones[&case.zone].clone());
        let boar = enter(&mut life, &case);
        case.events
            .iter()
            .for_each(|event| happens(&mut life, boar, event));
        let standard: Standard = serde_json::from_value(case.standard.clone()).unwrap();
        let standing = standing(
            &life.barn.boar(boar).unwrap(),
            &standard,
            &life.zone,
            case.now_ms,
        );
        assert_eq!(said(&standing), is, "{}", case.name);
    }
}

#[test]
fn the_cases_know_every_answer() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for Line { is, .. } in cases() {
        let what = is.answer[0].as_str().unwrap().to_owned();
        let gap = is.answer[1]
            .as_str()
            .filter(|_| what == "unknown")
            .unwrap_or("");
        *counts.entry(format!("{what}{gap}")).or_default() += 1;
    }
    for what in [
        "yes",
        "rests",
        "third_in_seven",
        "off",
        "too_young",
        "unknownhistory",
        "unknownage",
        "unknownclock",
        "gone",
    ] {
        assert!(
            counts.get(what).is_some_and(|n| *n >= 2),
            "{what}: {counts:?}"
        );
    }
}

/// The log has records about a boar whose own entry has not arrived.
#[test]
fn without_his_particulars_nothing_is_known() {
    let mut life = Life::new(Zone::default());
    let boar = BoarId::v7(1, [5; 10]);
    happens(
        &mut life,
        boar,
        &Event {
            what: "no_mount".into(),
            at_ms: 1_773_000_000_000,
            until: None,
        },
    );
    let facts = life.barn.boar(boar).unwrap();
    let standing = standing(&facts, &Standard::default(), &life.zone, 1_773_000_000_000);
    assert_eq!(standing.answer, Answer::Unknown(Gap::Boar));
}

/// The entry that decides is named: his page links it.
#[test]
fn the_entry_that_decides_is_named() {
    let mut life = Life::new(Zone::default());
    let now_ms = 1_773_000_000_000;
    let boar = life.write(
        &Fact::Boar(particulars(NaiveDate::from_ymd_opt(2024, 1, 1), "unknown")),
        now_ms - 90 * 86_400_000,
    );
    let boar = boar.envelope().id;
    let collected = life.write(
        &Fact::Collection(collection(boar.as_boar(), Outcome::Collected)),
        now_ms - 86_400_000,
    );
    let facts = life.barn.boar(boar.as_boar()).unwrap();
    assert_eq!(
        standing(&facts, &Standard::default(), &life.zone, now_ms).by,
        Some(collected.envelope().id)
    );
}
