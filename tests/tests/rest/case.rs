//! The cases that an independent calendar answers, and what is written of one.

use super::life::{Life, collection, particulars};
use chrono::NaiveDate;
use pentally_domain::amend::{Correction, Void};
use pentally_domain::barn::BoarFacts;
use pentally_domain::boar::{Move, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::Outcome;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::said::Said;
use pentally_domain::sow::{By, Service};
use pentally_domain::training::{Early, Lesson, Training};
use pentally_domain::units::Score;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// A case and its answer.
#[derive(Deserialize)]
pub struct Line<I> {
    /// What happened.
    pub case: Case,
    /// The calendar's answer.
    pub is: I,
}

/// What happened to a boar, and when it is asked about.
#[derive(Deserialize)]
pub struct Case {
    pub name: String,
    pub zone: String,
    pub now_ms: i64,
    born: Option<NaiveDate>,
    before: String,
    entered_ms: i64,
    standard: Value,
    pub own: Option<u8>,
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

/// The cases of a file; its first line holds their zones.
pub fn cases<I: DeserializeOwned>(text: &'static str) -> impl Iterator<Item = Line<I>> {
    text.lines()
        .skip(1)
        .map(|line| serde_json::from_str(line).unwrap())
}

impl Case {
    /// The farm standard it is asked under.
    pub fn standard(&self) -> Standard {
        serde_json::from_value(self.standard.clone()).unwrap()
    }
}

/// What was written of a case: the boar's own entry, and one for each event.
pub struct Told {
    pub life: Life,
    boar: (Entry, Fact),
    pub events: Vec<(Entry, Fact)>,
}

impl Told {
    /// Writes a case down after whatever stands there.
    pub fn of(mut life: Life, case: &Case) -> Self {
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

    /// Who it is about.
    pub fn id(&self) -> BoarId {
        self.boar.0.envelope().id.as_boar()
    }

    /// What is known of him.
    pub fn facts(&self) -> BoarFacts {
        self.life.barn.boar(self.id()).unwrap()
    }

    fn fact(&self, case: &Case, event: &Event) -> Fact {
        let boar = self.id();
        let spent = |outcome| Fact::Collection(collection(boar, outcome));
        match event.what.as_str() {
            "session" => Fact::Training(session(boar, event)),
            "visit" => Fact::Training(Training::new(boar, Lesson::Visit)),
            "collected" => spent(Outcome::Collected),
            "nothing_kept" => spent(Outcome::NothingKept),
            "no_mount" => spent(Outcome::NoMount),
            "service" => Fact::Service(Service {
                sow: SowId::v7(1, [9; 10]),
                by: By::Boar(boar),
            }),
            "off" => Fact::OffCollection(OffCollection {
                boar,
                // The first cases know of one reason only.
                reason: event.reason.unwrap_or(OffReason::Lame),
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
}

fn session(boar: BoarId, event: &Event) -> Training {
    let score = event.score.map(|n| Score::new(n).unwrap());
    Training {
        score: score.map_or(Said::Unanswered, Said::Confirmed),
        early: event.early.then_some(Early::Keen),
        ..Training::new(boar, Lesson::Session)
    }
}
