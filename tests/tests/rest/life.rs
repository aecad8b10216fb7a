//! Writes a boar's life down, and folds it.

use chrono::NaiveDate;
use pentally_domain::barn::Barn;
use pentally_domain::boar::{Before, Boar};
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, BoarId, DeviceId, FarmId};
use pentally_domain::said::{Label, Said};
use pentally_domain::time::{Shift, Zone};
use pentally_domain::writer::{Head, Moment};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Writes a boar's life down and folds it.
pub struct Life {
    head: Head,
    /// What was folded.
    pub barn: Barn,
    /// The farm's zone.
    pub zone: Zone,
    random: u8,
}

impl Life {
    /// Nothing written yet.
    pub fn new(zone: Zone) -> Self {
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

    /// Writes a fact at an instant (ms since 1970).
    pub fn write(&mut self, fact: &Fact, at_ms: i64) -> Entry {
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
        entry
    }
}

/// A boar as the cases introduce him: `before` is `none_yet`, `unknown` or a day.
pub fn particulars(born: Option<NaiveDate>, before: &str) -> Boar {
    let before = match before {
        "none_yet" => Before::NoneYet,
        "unknown" => Before::Unknown,
        day => Before::LastOn(day.parse().unwrap()),
    };
    Boar {
        number: Label::parse("117").unwrap(),
        name: None,
        born,
        line: None,
        ear: None,
        before,
        mind: None,
    }
}

/// A collection of which only the end is told.
pub fn collection(boar: BoarId, outcome: Outcome) -> Collection {
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

#[derive(Deserialize)]
struct Header {
    zones: BTreeMap<String, Vec<(i64, i16)>>,
}

/// The zones as a generator knew them: the first line of its cases.
pub fn zones(cases: &str) -> BTreeMap<String, Zone> {
    let header: Header = serde_json::from_str(cases.lines().next().unwrap()).unwrap();
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
