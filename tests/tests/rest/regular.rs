//! Regular days, times off, watches and the coming plan, against an independent calendar:
//! `rest/regular.py` and its output.

use super::life::{Life, collection, particulars, zones};
use chrono::NaiveDate;
use pentally_domain::amend::{Correction, Void};
use pentally_domain::barn::BoarFacts;
use pentally_domain::boar::{Move, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::Outcome;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::{Farm, Standard};
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::rest::health::{DaysOff, Ends, fever_watch, offs_on};
use pentally_domain::rest::recovery::Recovery;
use pentally_domain::rest::regular::{Due, DueState, RegularFrom, rhythm_of};
use pentally_domain::rest::week::{Recoveries, week};
use pentally_domain::rest::{Answer, standing};
use pentally_domain::said::{Label, Said};
use pentally_domain::sow::{By, Service};
use pentally_domain::training::{Lesson, Training};
use pentally_domain::units::Score;
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../../rest/regular.jsonl");
const PLAN_DAYS: u16 = 21;

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
    own: Option<u8>,
    events: Vec<Event>,
}

#[derive(Deserialize)]
struct Event {
    what: String,
    at_ms: i64,
    until: Option<NaiveDate>,
    reason: Option<OffReason>,
    score: Option<u32>,
    born: Option<NaiveDate>,
    of: Option<usize>,
}

/// What was written of a case, and the farm around it.
struct Told {
    life: Life,
    boar: BoarId,
    standard: Standard,
    own: Option<Recovery>,
}

impl Told {
    fn of(case: &Case) -> Self {
        let mut life = Life::new(zones(CASES)[&case.zone].clone());
        let standard: Standard = serde_json::from_value(case.standard.clone()).unwrap();
        let farm = Farm {
            name: Label::parse("Invented farm").unwrap(),
            zone: life.zone.clone(),
            origin: None,
            invented: true,
        };
        life.write(&Fact::Farm(farm), 0);
        life.write(&Fact::Standard(standard.clone()), 0);
        let first = Fact::Boar(particulars(case.born, &case.before));
        let boar = life.write(&first, case.entered_ms);
        let mut entries: Vec<(Entry, Fact)> = vec![];
        for event in &case.events {
            let fact = fact(case, event, (&boar, &first), &entries);
            entries.push((life.write(&fact, event.at_ms), fact));
        }
        let by_collections = 12;
        Self {
            life,
            boar: boar.envelope().id.as_boar(),
            standard,
            own: case.own.map(|days| Recovery {
                days,
                by_collections,
            }),
        }
    }

    fn facts(&self) -> BoarFacts {
        self.life.barn.boar(self.boar).unwrap()
    }

    fn due(&self, now_ms: i64) -> Option<Due> {
        let (facts, zone) = (self.facts(), &self.life.zone);
        rhythm_of(&facts, self.own, &self.standard, zone, now_ms)
    }

    fn plan(&self, now_ms: i64) -> Vec<Value> {
        let own: Recoveries = self.own.map(|own| (self.boar, own)).into_iter().collect();
        let today = self.life.zone.day(now_ms);
        let days = week(&self.life.barn, &own, now_ms, today, PLAN_DAYS);
        assert_eq!(days.len(), usize::from(PLAN_DAYS));
        let busy = days.into_iter().filter(|(_, list)| !list.is_empty());
        busy.map(|(day, list)| {
            assert_eq!((list.len(), list[0].boar), (1, self.boar));
            json!([day, list[0].late_days, list[0].follows])
        })
        .collect()
    }
}

fn fact(case: &Case, event: &Event, first: (&Entry, &Fact), entries: &[(Entry, Fact)]) -> Fact {
    let boar = first.0.envelope().id.as_boar();
    match event.what.as_str() {
        "session" => Fact::Training(Training {
            score: event.score.map_or(Said::Unanswered, |n| {
                Said::Confirmed(Score::new(n).unwrap())
            }),
            ..Training::new(boar, Lesson::Session)
        }),
        "visit" => Fact::Training(Training::new(boar, Lesson::Visit)),
        "collected" => Fact::Collection(collection(boar, Outcome::Collected)),
        "no_mount" => Fact::Collection(collection(boar, Outcome::NoMount)),
        "service" => Fact::Service(Service {
            sow: SowId::v7(1, [9; 10]),
            by: By::Boar(boar),
        }),
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
            Fact::Correction(Correction::of(first.0.order(), first.1, right))
        }
        "void" => {
            let (entry, fact) = &entries[event.of.unwrap()];
            Fact::Void(Void::of(entry.order(), fact))
        }
        what => panic!("no event is called {what}"),
    }
}

fn due(due: &Due) -> Value {
    let state = match due.state {
        DueState::NotDue => json!(["not_due"]),
        DueState::Today => json!(["today"]),
        DueState::Late(days) => json!(["late", days]),
        DueState::Idle(days) => json!(["idle", days]),
        DueState::CleanOut(days) => json!(["clean_out", days]),
    };
    let from = match due.regular.from {
        RegularFrom::Standard => "standard",
        RegularFrom::Young => "young",
        RegularFrom::HisOwn => "his_own",
    };
    json!({
        "day": due.day,
        "last": due.last,
        "regular": [due.regular.days, from],
        "repeating": due.repeating,
        "state": state,
    })
}

fn offs(told: &Told, today: NaiveDate) -> Vec<Value> {
    let facts = told.facts();
    let named = |ends, until| (ends, until);
    let mut list: Vec<_> = offs_on(&facts, &told.life.zone, today)
        .iter()
        .map(|o| {
            let (ends, until) = match o.ends {
                Ends::Day(day) => named("day", Some(day)),
                Ends::PutBack => named("put_back", None),
                Ends::Veterinarian { until } => named("veterinarian", until),
            };
            json!([o.off.fact.reason, ends, until])
        })
        .collect();
    list.sort_by_key(Value::to_string);
    list
}

fn said(told: &Told, now_ms: i64) -> Value {
    let (facts, zone) = (told.facts(), &told.life.zone);
    let today = zone.day(now_ms);
    let wrong = facts.offs.iter().filter(|o| DaysOff::of(o, zone).is_err());
    let watch = fever_watch(&facts, zone, today).map(|w| [w.from, w.until]);
    json!({
        "due": told.due(now_ms).as_ref().map(due),
        "may": super::answer(&standing(&facts, &told.standard, zone, now_ms)),
        "offs": offs(told, today),
        "ends_before_it_began": wrong.count(),
        "watch": watch,
        "plan": told.plan(now_ms),
    })
}

fn cases() -> impl Iterator<Item = Line> {
    CASES
        .lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
}

#[test]
fn every_due_day_is_that_of_the_independent_calendar() {
    for Line { case, mut is } in cases() {
        if let Some(offs) = is["offs"].as_array_mut() {
            offs.sort_by_key(Value::to_string);
        }
        assert_eq!(said(&Told::of(&case), case.now_ms), is, "{}", case.name);
    }
}

/// Whoever is due today or late may be collected today, and who is not may be early.
#[test]
fn who_is_due_may_be_collected() {
    let (mut due, mut early) = (0, 0);
    for Line { case, .. } in cases() {
        let told = Told::of(&case);
        let (facts, zone) = (told.facts(), &told.life.zone);
        let may = standing(&facts, &told.standard, zone, case.now_ms).answer == Answer::Yes;
        let Some(found) = told.due(case.now_ms) else {
            continue;
        };
        assert!(may || found.is_early(), "{}: {found:?}", case.name);
        due += u32::from(!found.is_early());
        early += u32::from(found.is_early() && may);
    }
    assert!(due > 200 && early > 60, "{due} due, {early} early");
}

#[test]
fn the_cases_know_every_word() {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for Line { is, .. } in cases() {
        let mut words = vec![
            is["due"]["state"][0].as_str().unwrap_or("none").to_owned(),
            is["due"]["regular"][1]
                .as_str()
                .unwrap_or("none")
                .to_owned(),
        ];
        let offs = is["offs"].as_array().unwrap();
        words.extend(offs.iter().filter_map(|o| o[1].as_str()).map(str::to_owned));
        let told = |word: &str, is: bool| is.then(|| word.to_owned());
        words.extend(told("repeating", is["due"]["repeating"] == true));
        words.extend(told("watch", is["watch"].is_array()));
        words.extend(told("wrong", is["ends_before_it_began"] != 0));
        words.extend(told("two offs", offs.len() > 1));
        words
            .into_iter()
            .for_each(|word| *counts.entry(word).or_default() += 1);
    }
    assert_eq!(counts.len(), 16, "{counts:?}");
    assert!(counts.values().all(|n| *n >= 20), "{counts:?}");
}
