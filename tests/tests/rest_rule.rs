//! May he be collected? Against an independent calendar: `rest/generate.py` and its output.

#[path = "rest/case.rs"]
mod case;
#[path = "rest/life.rs"]
mod life;
#[path = "rest/regular.rs"]
mod regular;
#[path = "rest/training.rs"]
mod training;

use case::{Line, Told, cases};
use chrono::NaiveDate;
use life::{Life, collection, particulars, zones};
use pentally_domain::collection::Outcome;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::BoarId;
use pentally_domain::rest::{Answer, Gap, Standing, standing};
use pentally_domain::time::Zone;
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../rest/cases.jsonl");

#[derive(Deserialize, PartialEq, Debug)]
struct Is {
    answer: Value,
    idle: Option<(i64, bool)>,
    spent_on: Vec<NaiveDate>,
    doubles: usize,
    repeating: bool,
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

#[test]
fn every_answer_is_that_of_the_independent_calendar() {
    let zones = zones(CASES);
    for Line { case, is } in cases::<Is>(CASES) {
        let told = Told::of(Life::new(zones[&case.zone].clone()), &case);
        let (facts, zone) = (told.facts(), &told.life.zone);
        let standing = standing(&facts, &case.standard(), zone, case.now_ms);
        assert_eq!(said(&standing), is, "{}", case.name);
    }
}

#[test]
fn the_cases_know_every_answer() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for Line { is, .. } in cases::<Is>(CASES) {
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
    let fact = Fact::Collection(collection(boar, Outcome::NoMount));
    life.write(&fact, 1_773_000_000_000);
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
