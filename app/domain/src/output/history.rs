//! What a boar gave, ejaculate by ejaculate, with what bears on how much was to be expected.

use crate::barn::BoarFacts;
use crate::boar::{Before, Boar};
use crate::collection::{Collection, Outcome};
use crate::envelope::Order;
use crate::evaluation::Evaluation;
use crate::fact::Fact;
use crate::id::{BoarId, EntryId};
use crate::ledger::{Ledger, Live};
use crate::output::Measure;
use crate::rest::spent::{Spent, once};
use crate::said::Label;
use crate::sow::{By, Service};
use crate::time::Zone;
use crate::training::Training;
use crate::verdict::concentration;
use chrono::NaiveDate;
use std::collections::HashMap;

/// One ejaculate, and what bears on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The collection's entry.
    pub collection: EntryId,
    /// When, in ms since 1970.
    pub at_ms: i64,
    /// On which of the farm's days.
    pub day: NaiveDate,
    /// What was measured, in the order of [`Measure::ALL`], each in its own unit.
    pub values: [Option<f64>; 4],
    /// What bears on it.
    pub bearing: Bearing,
}

/// What bears on how much a boar gives. What nobody knows is absent.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bearing {
    /// Day of the year, 1 to 366.
    pub day_of_year: u32,
    /// His age in days.
    pub age_days: Option<i64>,
    /// His breed or line.
    pub line: Option<Label>,
    /// Farm days since he last gave semen or served.
    pub rest_days: Option<i64>,
    /// Whether the sperm-poor fraction went into the cup.
    pub sperm_poor_in: Option<bool>,
    /// Hot days that may still show; see [`crate::climate`].
    pub hot_days: Option<f64>,
}

/// What one boar's records say, as they read now, in any order.
#[derive(Debug, Clone, Default)]
pub struct History {
    boar: Option<(Option<NaiveDate>, Option<Label>, Before, EntryId)>,
    cups: Vec<Cup>,
    used: Vec<(i64, EntryId)>,
    learnt: Vec<(i64, EntryId)>,
    served: Vec<(i64, EntryId)>,
    benches: HashMap<EntryId, Bench>,
}

#[derive(Debug, Clone)]
struct Cup {
    at_ms: i64,
    entry: EntryId,
    volume_ml: Option<f64>,
    sperm_poor_in: Option<bool>,
}

#[derive(Debug, Clone)]
struct Bench {
    place: (i64, Order),
    concentration_m_per_ml: Option<f64>,
    motile: Option<f64>,
    abnormal: Option<f64>,
}

impl History {
    /// Of what is at hand about a boar.
    pub fn of(boar: &BoarFacts) -> Self {
        let mut history = Self::default();
        if let Some(b) = &boar.boar {
            history.introduced(b.entry(), &b.fact);
        }
        for c in &boar.collections {
            history.collected(c.at.ms(), c.entry(), &c.fact);
        }
        for t in &boar.trainings {
            history.trained(t.at.ms(), t.entry(), &t.fact);
        }
        for s in &boar.services {
            history.served(s.at.ms(), s.entry(), &s.fact);
        }
        for e in &boar.evaluations {
            history.evaluated((e.at.ms(), e.order), &e.fact);
        }
        history
    }

    /// Of all that a ledger holds about the boar `id`.
    pub fn of_ledger(id: BoarId, ledger: &Ledger) -> Self {
        let mut history = Self::default();
        for live in ledger.live() {
            // Of two entries that are one boar, the particulars of the identity that stays hold.
            let another = matches!(live.fact, Fact::Boar(_)) && live.order.id.as_boar() != id;
            if !another || history.boar.is_none() {
                history.take(&live);
            }
        }
        history
    }

    /// Takes in one record of his.
    pub fn take(&mut self, live: &Live<'_>) {
        let (at_ms, entry) = (live.at.ms(), live.order.id);
        match live.fact {
            Fact::Boar(boar) => self.introduced(entry, boar),
            Fact::Collection(c) => self.collected(at_ms, entry, c),
            Fact::Training(t) => self.trained(at_ms, entry, t),
            Fact::Service(s) => self.served(at_ms, entry, s),
            Fact::Evaluation(e) => self.evaluated((at_ms, live.order), e),
            _ => {}
        }
    }

    /// What he gave, oldest first. `hot_days` says for one of the farm's days how many hot days may
    /// still show then.
    pub fn given(&self, zone: &Zone, hot_days: impl Fn(NaiveDate) -> Option<f64>) -> Vec<Given> {
        let spent = self.spent(zone);
        let mut cups: Vec<&Cup> = self.cups.iter().collect();
        cups.sort_by_key(|c| (c.at_ms, c.entry));
        let mut list: Vec<Given> = vec![];
        for cup in cups {
            let at = spent.partition_point(|s| s.at_ms < cup.at_ms);
            // A double is told by its own page; the first of the two stands here.
            if spent.get(at).is_none_or(|s| s.entry != cup.entry) {
                continue;
            }
            let day = zone.day(cup.at_ms);
            let before = at.checked_sub(1).and_then(|i| spent.get(i));
            list.push(Given {
                collection: cup.entry,
                at_ms: cup.at_ms,
                day,
                values: self.values(cup),
                bearing: Bearing {
                    rest_days: before.map(|s| (day - s.day).num_days()),
                    hot_days: hot_days(day),
                    sperm_poor_in: cup.sperm_poor_in,
                    ..self.on(day)
                },
            });
        }
        list
    }

    /// What would bear on a collection on some day, as far as it is known beforehand. The sperm-poor
    /// fraction is left open.
    pub fn bearing_on(&self, day: NaiveDate, zone: &Zone, hot_days: Option<f64>) -> Bearing {
        let last = self.spent(zone).into_iter().rfind(|s| s.day < day);
        Bearing {
            rest_days: last.map(|s| (day - s.day).num_days()),
            hot_days,
            ..self.on(day)
        }
    }

    /// His line.
    pub fn line(&self) -> Option<&Label> {
        self.boar.as_ref()?.1.as_ref()
    }

    fn on(&self, day: NaiveDate) -> Bearing {
        let (born, line) = match &self.boar {
            Some((born, line, ..)) => (*born, line.clone()),
            None => (None, None),
        };
        Bearing {
            day_of_year: chrono::Datelike::ordinal(&day),
            age_days: born.map(|born| (day - born).num_days()),
            line,
            ..Bearing::default()
        }
    }

    fn values(&self, cup: &Cup) -> [Option<f64>; 4] {
        let bench = self.benches.get(&cup.entry);
        let concentration = bench.and_then(|b| b.concentration_m_per_ml);
        let total = |ml: f64| Some(ml * concentration? / 1_000.0);
        [
            cup.volume_ml,
            cup.volume_ml.and_then(total),
            bench.and_then(|b| b.motile),
            bench.and_then(|b| b.abnormal),
        ]
    }

    fn spent(&self, zone: &Zone) -> Vec<Spent> {
        let list = |of: &[(i64, EntryId)]| -> Vec<Spent> {
            let spent = |(at_ms, entry): &(i64, EntryId)| Spent::at(*at_ms, *entry, zone);
            of.iter().map(spent).collect()
        };
        let told = self.boar.as_ref().and_then(|(.., before, entry)| {
            let Before::LastOn(day) = before else {
                return None;
            };
            Some(Spent::on(*day, *entry, zone))
        });
        let used = told.into_iter().chain(list(&self.used)).collect();
        once(used, &list(&self.learnt), list(&self.served)).0
    }

    fn introduced(&mut self, entry: EntryId, boar: &Boar) {
        self.boar = Some((boar.born, boar.line.clone(), boar.before, entry));
    }

    fn collected(&mut self, at_ms: i64, entry: EntryId, collection: &Collection) {
        if collection.spends() {
            self.used.push((at_ms, entry));
        }
        if collection.outcome == Outcome::Collected {
            self.cups.push(Cup {
                at_ms,
                entry,
                volume_ml: collection.volume().map(|v| v.value()),
                sperm_poor_in: collection.sperm_poor_in.value().copied(),
            });
        }
    }

    fn trained(&mut self, at_ms: i64, entry: EntryId, training: &Training) {
        if training.is_success() {
            self.learnt.push((at_ms, entry));
        }
    }

    fn served(&mut self, at_ms: i64, entry: EntryId, service: &Service) {
        if matches!(service.by, By::Boar(_)) {
            self.served.push((at_ms, entry));
        }
    }

    fn evaluated(&mut self, place: (i64, Order), evaluation: &Evaluation) {
        let bench = Bench {
            place,
            concentration_m_per_ml: concentration(evaluation).map(|c| c.value()),
            motile: evaluation.motile.map(|s| s.percent.value()),
            abnormal: evaluation.abnormal.map(|s| s.percent.value()),
        };
        let held = self.benches.get(&evaluation.collection);
        if held.is_none_or(|held| held.place < bench.place) {
            self.benches.insert(evaluation.collection, bench);
        }
    }
}

impl Given {
    /// What was measured, in the measure's own unit.
    pub const fn value(&self, measure: Measure) -> Option<f64> {
        self.values[measure.place()]
    }

    /// What was measured, on the scale of comparison.
    pub fn scaled(&self, measure: Measure) -> Option<f64> {
        measure.to_scale(self.value(measure)?)
    }
}
