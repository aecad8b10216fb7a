//! Regular days, times off, watches and the coming plan, against an independent calendar:
//! `rest/regular.py` and its output.

use super::case::{Case, Line, Told, cases};
use super::life::{Life, zones};
use chrono::NaiveDate;
use pentally_domain::barn::BoarFacts;
use pentally_domain::fact::Fact;
use pentally_domain::farm::{Farm, Standard};
use pentally_domain::rest::health::{DaysOff, Ends, fever_watch, offs_on};
use pentally_domain::rest::recovery::Recovery;
use pentally_domain::rest::regular::{Due, DueState, RegularFrom, rhythm_of};
use pentally_domain::rest::week::{Recoveries, week};
use pentally_domain::rest::{Answer, standing};
use pentally_domain::said::Label;
use pentally_domain::time::Zone;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../../rest/regular.jsonl");
const PLAN_DAYS: u16 = 21;

/// What was written of a case, and the farm around it.
struct Asked {
    told: Told,
    standard: Standard,
    own: Option<Recovery>,
}

impl Asked {
    fn of(case: &Case) -> Self {
        let mut life = Life::new(zones(CASES)[&case.zone].clone());
        let standard = case.standard();
        let farm = Farm {
            name: Label::parse("Invented farm").unwrap(),
            zone: life.zone.clone(),
            origin: None,
            invented: true,
        };
        life.write(&Fact::Farm(farm), 0);
        life.write(&Fact::Standard(standard.clone()), 0);
        let by_collections = 12;
        Self {
            told: Told::of(life, case),
            standard,
            own: case.own.map(|days| Recovery {
                days,
                by_collections,
            }),
        }
    }

    fn facts(&self) -> BoarFacts {
        self.told.facts()
    }

    fn zone(&self) -> &Zone {
        &self.told.life.zone
    }

    fn due(&self, now_ms: i64) -> Option<Due> {
        let (facts, zone) = (self.facts(), self.zone());
        rhythm_of(&facts, self.own, &self.standard, zone, now_ms)
    }

    fn plan(&self, now_ms: i64) -> Vec<Value> {
        let own: Recoveries = self
            .own
            .map(|own| (self.told.id(), own))
            .into_iter()
            .collect();
        let today = self.zone().day(now_ms);
        let days = week(&self.told.life.barn, &own, now_ms, today, PLAN_DAYS);
        assert_eq!(days.len(), usize::from(PLAN_DAYS));
        let busy = days.into_iter().filter(|(_, list)| !list.is_empty());
        busy.map(|(day, list)| {
            assert_eq!((list.len(), list[0].boar), (1, self.told.id()));
            json!([day, list[0].late_days, list[0].follows])
        })
        .collect()
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

fn offs(asked: &Asked, today: NaiveDate) -> Vec<Value> {
    let facts = asked.facts();
    let named = |ends, until| (ends, until);
    let mut list: Vec<_> = offs_on(&facts, asked.zone(), today)
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

fn said(asked: &Asked, now_ms: i64) -> Value {
    let (facts, zone) = (asked.facts(), asked.zone());
    let today = zone.day(now_ms);
    let wrong = facts.offs.iter().filter(|o| DaysOff::of(o, zone).is_err());
    let watch = fever_watch(&facts, zone, today).map(|w| [w.from, w.until]);
    json!({
        "due": asked.due(now_ms).as_ref().map(due),
        "may": super::answer(&standing(&facts, &asked.standard, zone, now_ms)),
        "offs": offs(asked, today),
        "ends_before_it_began": wrong.count(),
        "watch": watch,
        "plan": asked.plan(now_ms),
    })
}

#[test]
fn every_due_day_is_that_of_the_independent_calendar() {
    for Line { case, mut is } in cases::<Value>(CASES) {
        if let Some(offs) = is["offs"].as_array_mut() {
            offs.sort_by_key(Value::to_string);
        }
        assert_eq!(said(&Asked::of(&case), case.now_ms), is, "{}", case.name);
    }
}

/// Whoever is due today or late may be collected today, and who is not may be early.
#[test]
fn who_is_due_may_be_collected() {
    let (mut due, mut early) = (0, 0);
    for Line { case, .. } in cases::<Value>(CASES) {
        let asked = Asked::of(&case);
        let (facts, zone) = (asked.facts(), asked.zone());
        let may = standing(&facts, &asked.standard, zone, case.now_ms).answer == Answer::Yes;
        let Some(found) = asked.due(case.now_ms) else {
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
    for Line { is, .. } in cases::<Value>(CASES) {
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
