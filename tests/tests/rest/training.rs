//! From arrival to regular use, against an independent calendar: `training/generate.py` and its output.

use super::answer;
use super::case::{Line, Told, cases};
use super::life::{Life, zones};
use pentally_domain::id::EntryId;
use pentally_domain::rest::{Gap, standing};
use pentally_domain::training::state::{Progress, State, progress};
use pentally_domain::units::Score;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../../training/cases.jsonl");

/// An entry by its number among the events.
fn number(told: &Told, entry: Option<EntryId>) -> Value {
    let Some(entry) = entry else {
        return Value::Null;
    };
    let mut events = told.events.iter();
    match events.position(|(e, _)| e.envelope().id == entry) {
        Some(n) => json!(n),
        None => json!("boar"),
    }
}

fn state(state: &State) -> Value {
    let n = |score: &Option<Score>| score.map(Score::value);
    match state {
        State::Unknown(Gap::History) => json!(["unknown", "history"]),
        State::Unknown(Gap::Age) => json!(["unknown", "age"]),
        State::Unknown(gap) => panic!("the cases know no {gap:?}"),
        State::Gone => json!(["gone"]),
        State::Stopped => json!(["stopped"]),
        State::Isolated(until) => json!(["isolated", until]),
        State::Off(_, until) => json!(["off", until]),
        State::TooYoung(until) => json!(["too_young", until]),
        State::Acclimatising { visits } => json!(["acclimatising", visits]),
        State::InTraining { since, best, last } => {
            json!(["in_training", since, n(best), n(last)])
        }
        State::Repeating { first, plan } => json!(["repeating", first, plan]),
        State::Settling { first } => json!(["settling", first]),
        State::Regular => json!(["regular"]),
        State::Retraining { since, best } => json!(["retraining", since, n(best)]),
    }
}

fn said(told: &Told, progress: &Progress, may: Value) -> Value {
    let sessions = progress.sessions.iter();
    let sessions: Vec<_> = sessions
        .map(|h| (h.day, h.score.map(Score::value)))
        .collect();
    json!({
        "state": state(&progress.state),
        "by": number(told, progress.by),
        "sessions": sessions,
        "visits": progress.visited.len(),
        "doubles": progress.doubles.len(),
        "began_at_days": progress.began_at_days,
        "asks_reason": progress.asks_reason,
        "ahead": progress.ahead.is_some(),
        "may": may,
    })
}

#[test]
fn every_state_is_that_of_the_independent_calendar() {
    let zones = zones(CASES);
    for Line { case, is } in cases::<Value>(CASES) {
        let told = Told::of(Life::new(zones[&case.zone].clone()), &case);
        let standard = case.standard();
        let (facts, zone) = (told.facts(), &told.life.zone);
        let progress = progress(&facts, &standard, zone, case.now_ms);
        let may = answer(&standing(&facts, &standard, zone, case.now_ms));
        assert_eq!(said(&told, &progress, may), is, "{}", case.name);
    }
}

#[test]
fn the_cases_know_every_state() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for Line { is, .. } in cases::<Value>(CASES) {
        let what = is["state"][0].as_str().unwrap().to_owned();
        *counts.entry(what).or_default() += 1;
    }
    assert_eq!(counts.len(), 12, "{counts:?}");
    assert!(counts.values().all(|n| *n >= 5), "{counts:?}");
}
