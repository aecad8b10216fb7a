//! May he be collected? Against an independent calendar: `rest/generate.py` and its output.

use chrono::NaiveDate;
use pentally_domain::barn::Barn;
use pentally_domain::boar::{Before, Boar, Move, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BarnId, BoarId, DeviceId, EntryId, FarmId, SowId};
use pentally_domain::rest::{Answer, Gap, Standing, standing};
use pentally_domain::said::{Label, Said};
use pentally_domain::sow::{By, Service};
use pentally_domain::time::{Shift, Zone};
use pentally_domain::writer::{Head, Moment};
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const CASES: &str = include_str!("../rest/cases.jsonl");

#[derive(Deserialize)]
struct Header {
    zones: BTreeMap<String, Vec<(i64, i16)>>,
}

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

/// Writes a boar's life down and folds it.
struct Life {
    head: Head,
    barn: Barn,
    zone: Zone,
    random: u8,
}

impl Life {
    fn new(zone: Zone) -> Self {
        let head = Head::new(
            FarmId::v7(1, [1; 10]),
            BarnId::v7(1, [1; 10]),
            DeviceId::v7(1, [1; 10]),
        );
        Self {
            head,
            barn: Barn::default(),
            zone,
            random: 0,
        }
    }

    fn write(&mut self, fact: &Fact, at_ms: i64) -> EntryId {
        self.random += 1;
        let at = self.zone.stamp(at_ms).unwrap();
        let moment = Moment {
            now: at,
            occurred_at: at,
            random: [self.random; 10],
            person: None,
        };
        let (entry, head) = self.head.write(fact, moment).unwrap();
        self.head = head;
        assert!(self.barn.apply(&entry));
        entry.envelope().id
    }

    fn enter(&mut self, case: &Case) -> BoarId {
        let before = match case.before.as_str() {
            "none_yet" => Before::NoneYet,
            "unknown" => Before::Unknown,
            day => Before::LastOn(day.parse().unwrap()),
        };
        let number = Label::parse("117").unwrap();
        let boar = Boar {
            number,
            name: None,
            born: case.born,
            line: None,
            ear: None,
            before,
            mind: None,
        };
        self.write(&Fact::Boar(boar), case.entered_ms).as_boar()
    }

    fn happens(&mut self, boar: BoarId, event: &Event) {
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
        self.write(&fact, event.at_ms);
    }
}

fn collection(boar: BoarId, outcome: Outcome) -> Collection {
    Collection {
        boar,
        outcome,
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
    }
}

fn said(standing: &Standing) -> Is {
    let answer = match standing.answer {
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
    };
    Is {
        answer,
        idle: standing.idle.map(|idle| (idle.days, idle.clean_out)),
        spent_on: standing.spent_on.clone(),
        doubles: standing.doubles.len(),
        repeating: standing.repeating,
    }
}

/// The zones as the generator knew them.
fn zones() -> BTreeMap<String, Zone> {
    let header: Header = serde_json::from_str(CASES.lines().next().unwrap()).unwrap();
    let shifts = |list: Vec<(i64, i16)>| {
        list.into_iter().map(|(from_ms, offset_min)| Shift {
            from_ms,
            offset_min,
        })
    };
    let zone = |(name, list): (String, Vec<_>)| {
        (
            name.clone(),
            Zone {
                name,
                shifts: shifts(list).collect(),
            },
        )
    };
    header.zones.into_iter().map(zone).collect()
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
    let zones = zones();
    for Line { case, is } in cases() {
        let mut life = Life::new(zones[&case.zone].clone());
        let boar = life.enter(&case);
        case.events
            .iter()
            .for_each(|event| life.happens(boar, event));
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
    life.happens(
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
        &Fact::Boar(Boar {
            number: Label::parse("117").unwrap(),
            name: None,
            born: NaiveDate::from_ymd_opt(2024, 1, 1),
            line: None,
            ear: None,
            before: Before::Unknown,
            mind: None,
        }),
        now_ms - 90 * 86_400_000,
    );
    let collected = life.write(
        &Fact::Collection(collection(boar.as_boar(), Outcome::Collected)),
        now_ms - 86_400_000,
    );
    let facts = life.barn.boar(boar.as_boar()).unwrap();
    assert_eq!(
        standing(&facts, &Standard::default(), &life.zone, now_ms).by,
        Some(collected)
    );
}
