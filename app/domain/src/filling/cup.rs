//! An ejaculate in its cup, and whether it may be poured together with others.

use crate::assured::Sureness;
use crate::barn::{BoarFacts, Seen};
use crate::batch::Source;
use crate::collection::Collection;
use crate::doses::{Ejaculate, Missing};
use crate::evaluation::Evaluation;
use crate::farm::{CountAs, Standard};
use crate::id::{BoarId, EntryId};
use crate::reckon::EjaculateAsked;
use crate::time::Stamp;
use crate::today::evaluation_of;
use crate::units::{Concentration, VolumeMl};
use crate::verdict::{Overall, Verdict, concentration, judge};

/// One ejaculate in its cup, as barn and bench recorded it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cup {
    /// Whose.
    pub boar: BoarId,
    /// The collection's entry.
    pub collection: EntryId,
    /// When it was collected.
    pub at: Stamp,
    /// What the barn recorded.
    pub collected: Collection,
    /// What the bench found last, and the entry that says so.
    pub evaluated: Option<(EntryId, Evaluation)>,
}

/// Why an ejaculate is not poured together with others.
#[derive(Debug, Clone, PartialEq)]
pub enum Barred {
    /// It is not to be used at all.
    Unfit(Box<Verdict>),
    /// What it takes to count its sperm was not measured.
    NotMeasured(Vec<Missing>),
}

impl Cup {
    /// What is recorded of a boar's collection.
    pub fn of(boar: &BoarFacts, collection: &Seen<Collection>) -> Self {
        Self {
            boar: boar.id,
            collection: collection.entry(),
            at: collection.at,
            collected: collection.fact.clone(),
            evaluated: evaluation_of(boar, collection).map(|e| (e.entry(), e.fact)),
        }
    }

    /// The verdict under a standard.
    pub fn verdict(&self, standard: &Standard) -> Verdict {
        judge(&self.collected, self.evaluation(), standard)
    }

    /// Why it may not be poured together with others: it failed, or its sperm cannot be counted so.
    pub fn barred(&self, count_as: CountAs, standard: &Standard) -> Option<Barred> {
        if let Some(unfit) = self.unfit(standard) {
            return Some(unfit);
        }
        let missing: Vec<_> = self.ejaculate().missing(count_as).collect();
        (!missing.is_empty()).then_some(Barred::NotMeasured(missing))
    }

    pub(super) fn unfit(&self, standard: &Standard) -> Option<Barred> {
        let verdict = self.verdict(standard);
        let failed = matches!(verdict.overall, Overall::DoNotUse { .. });
        failed.then(|| Barred::Unfit(Box::new(verdict)))
    }

    fn evaluation(&self) -> Option<&Evaluation> {
        self.evaluated.as_ref().map(|(_, e)| e)
    }

    pub(super) fn ejaculate(&self) -> Ejaculate {
        let bench = self.evaluation();
        Ejaculate {
            volume: self.collected.volume(),
            concentration: bench.and_then(concentration),
            motile: bench.and_then(|e| e.motile).map(|s| s.percent),
            abnormal: bench.and_then(|e| e.abnormal).map(|s| s.percent),
            ..Ejaculate::default()
        }
    }

    /// As a request; how sure it is only where an assurance is asked.
    pub(super) fn asked(&self, assured: bool) -> EjaculateAsked {
        let is = self.ejaculate();
        EjaculateAsked {
            volume_ml: is.volume.map(VolumeMl::value),
            concentration_m_per_ml: is.concentration.map(Concentration::value),
            motile_percent: is.motile.map(|p| p.value()),
            abnormal_percent: is.abnormal.map(|p| p.value()),
            volume_from: Some(self.collection.to_string()),
            bench_from: self.evaluated.as_ref().map(|(id, _)| id.to_string()),
            sure: assured.then(|| Sureness::of(self.evaluation(), &self.collected).into()),
        }
    }

    pub(super) const fn source(&self) -> Source {
        let evaluation = match &self.evaluated {
            Some((id, _)) => Some(*id),
            None => None,
        };
        Source {
            boar: self.boar,
            collection: self.collection,
            evaluation,
        }
    }
}
