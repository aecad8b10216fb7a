//! From arrival to regular use, against an independent calendar: `training/generate.py` and its output.

use super::answer;
use super::life::{Life, collection, particulars, zones};
use chrono::NaiveDate;
use pentally_domain::amend::{Correction, Void};
use pentally_domain::barn::BoarFacts;
use pentally_domain::boar::{Move, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::Outcome;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::rest::{Gap, standing};
use pentally_domain::said::Said;
use pentally_domain::training::state::{Progress, State, progress};
use pentally_domain::training::{Early, Lesson, Training};
use pentally_domain::units::Score;
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../../training/cases.jsonl");

#[derive(Deserialize)]
struct Line {
    case: Case,
    is: Value,
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
    reason: Option<OffReason>,
    score: Option<u32>,
    #[serde(default)]
    early: bool,
    born: Option<NaiveDate>,
    of: Option<usize>,
}

/// What was written of a case: the boar's own entry, and one for each event.
struct Told {
    life: Life,
    boar: (Entry, Fact),
    events: Vec<(Entry, Fact)>,
}

impl Told {
    fn of(case: &Case) -> Self {
        let mut life = Life::new(zones(CASES)[&case.zone].clone());
        let fact = Fact::Boar(particulars(case.born, &case.before));
        let entry = life.write(&fact, case.entered_ms);
        let mut told = Self {
            life,
            boar: (entry, fact),
            events: vec![],
        };
        for event in &case.events {
            let fact = told.fact(case, event);
            let entry = told.life.write(&fact, event.at_ms);
            told.events.push((entry, fact));
        }
        told
    }

    fn id(&self) -> BoarId {
        self.boar.0.envelope().id.as_boar()
    }

    fn fact(&self, case: &Case, event: &Event) -> Fact {
        let boar = self.id();
        match event.what.as_str() {
            "session" => Fact::Training(session(boar, event)),
            "visit" => Fact::Training(Training::new(boar, Lesson::Visit)),
            "collected" => Fact::Collection(collection(boar, Outcome::Collected)),
            "no_mount" => Fact::Collection(collection(boar, Outcome::NoMount)),
            "off" => Fact::OffCollection(OffCollection {
                boar,
                reason: event.reason.unwrap(),
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
            "born" => {
                let right = Fact::Boar(particulars(event.born, &case.before));
                Fact::Correction(Correction::of(self.boar.0.order(), &self.boar.1, right))
            }
            "void" => {
                let (entry, fact) = &self.events[event.of.unwrap()];
                Fact::Void(Void::of(entry.order(), fact))
            }
            what => panic!("no event is called {what}"),
        }
    }

    fn facts(&self) -> BoarFacts {
        self.life.barn.boar(self.id()).unwrap()
    }

    /// An entry by its number among the events.
    fn number(&self, entry: Option<EntryId>) -> Value {
        let Some(entry) = entry else {
            return Value::Null;
        };
        let mut events = self.events.iter();
        match events.position(|(e, _)| e.envelope().id == entry) {
            Some(n) => json!(n),
            None => json!("boar"),
        }
    }
}

fn session(boar: BoarId, event: &Event) -> Training {
    let score = event.score.map(|n| Score::new(n).unwrap());
    Training {
        score: score.map_or(Said::Unanswered, Said::Confirmed),
        early: event.early.then_some(Early::Keen),
        ..Training::new(boar, Lesson::Session)
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
        "by": told.number(progress.by),
        "sessions": sessions,
        "visits": progress.visited.len(),
        "doubles": progress.doubles.len(),
        "began_at_days": progress.began_at_days,
        "asks_reason": progress.asks_reason,
        "ahead": progress.ahead.is_some(),
        "may": may,
    })
}

fn cases() -> impl Iterator<Item = Line> {
    CASES
        .lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
}

#[test]
fn every_state_is_that_of_the_independent_calendar() {
    for Line { case, is } in cases() {
        let told = Told::of(&case);
        let standard: Standard = serde_json::from_value(case.standard.clone()).unwrap();
        let (facts, zone) = (told.facts(), &told.life.zone);
        let progress = progress(&facts, &standard, zone, case.now_ms);
        let may = answer(&standing(&facts, &standard, zone, case.now_ms));
        assert_eq!(said(&told, &progress, may), is, "{}", case.name);
    }
}

#[test]
fn the_cases_know_every_state() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for Line { is, .. } in cases() {
        let what = is["state"][0].as_str().unwrap().to_owned();
        *counts.entry(what).or_default() += 1;
    }
    assert_eq!(counts.len(), 12, "{counts:?}");
    assert!(counts.values().all(|n| *n >= 5), "{counts:?}");
}
