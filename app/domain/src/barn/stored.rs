//! Semen batches as they are stored: what is left of each, and where it stands by its samples.

use super::{Barn, BoarFacts, Seen};
use crate::batch::SemenBatch;
use crate::code::Code;
use crate::id::EntryId;
use crate::retained::pulled::{Out, State, left, out, state};
use crate::retained::{Floor, Retained};
use crate::sow::Service;
use chrono::NaiveDate;

/// A semen batch, what was looked at and used of it, and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored {
    /// The batch.
    pub batch: Seen<SemenBatch>,
    /// Looks at its samples, the latest last.
    pub looks: Vec<Seen<Retained>>,
    /// Doses that are out, earliest first.
    pub out: Vec<Out>,
    /// Where it stands by its samples.
    pub state: State,
}

impl Stored {
    /// Doses that no service has used.
    pub fn left(&self) -> u32 {
        left(&self.batch.fact, &self.out)
    }

    /// Past its use.
    pub fn is_over(&self, now_ms: i64) -> bool {
        self.batch.fact.use_by.ms() < now_ms
    }

    /// A look at its samples failed.
    pub const fn is_pulled(&self) -> bool {
        matches!(self.state, State::Pulled(_))
    }

    /// Doses that may be used: those left of a batch that is neither pulled nor past its use.
    pub fn usable(&self, now_ms: i64) -> u32 {
        if self.is_pulled() || self.is_over(now_ms) {
            return 0;
        }
        self.left()
    }
}

impl Barn {
    /// A semen batch as it is stored.
    pub fn stored(&self, entry: EntryId, now_ms: i64) -> Option<Stored> {
        let batch = self.batch(entry)?;
        let boars: Vec<_> = batch
            .fact
            .sources
            .iter()
            .filter_map(|s| self.boar(s.boar))
            .collect();
        let boars: Vec<_> = boars.iter().collect();
        Some(self.stand(batch, &boars, now_ms))
    }

    /// The semen batches that are to be used after `since_ms`, each once though it stands with every
    /// boar of a pool, the latest first.
    pub fn stored_after(&self, since_ms: i64, now_ms: i64) -> Vec<Stored> {
        let boars = self.boars();
        let all = boars.iter().flat_map(|b| &b.batches);
        let mut list: Vec<_> = all.filter(|b| b.fact.use_by.ms() > since_ms).collect();
        list.sort_by_key(|b| std::cmp::Reverse((b.at.ms(), b.order)));
        list.dedup_by_key(|b| b.entry());
        let identity = self.identity();
        let of_it = |batch: &Seen<SemenBatch>| {
            let sources: Vec<_> = batch
                .fact
                .sources
                .iter()
                .map(|s| identity(s.boar))
                .collect();
            boars.iter().filter(move |b| sources.contains(&b.id))
        };
        list.into_iter()
            .map(|batch| {
                let behind: Vec<_> = of_it(batch).collect();
                self.stand(batch.clone(), &behind, now_ms)
            })
            .collect()
    }

    /// The semen batches that bear a code, the latest first.
    pub fn batches_of_code(&self, code: Code) -> Vec<Seen<SemenBatch>> {
        let all = self.boars().into_iter().flat_map(|b| b.batches);
        let mut list: Vec<_> = all.filter(|b| b.fact.code == code).collect();
        list.sort_by_key(|b| std::cmp::Reverse((b.at.ms(), b.order)));
        list.dedup_by_key(|b| b.entry());
        list
    }

    fn stand(&self, batch: Seen<SemenBatch>, boars: &[&BoarFacts], now_ms: i64) -> Stored {
        let id = batch.entry();
        let services: Vec<Seen<Service>> = boars.iter().flat_map(|b| b.services.clone()).collect();
        let looks = boars.iter().flat_map(|b| b.retained.iter());
        let mut looks: Vec<_> = looks.filter(|l| l.fact.batch == id).cloned().collect();
        looks.sort_by_key(|look| (look.at.ms(), look.order));
        looks.dedup_by_key(|look| look.order);
        let zone = self.zone_at(now_ms);
        let today: NaiveDate = zone.day(now_ms);
        let state = state(&batch, &looks, &services, Floor::default(), (&zone, today));
        Stored {
            out: match &state {
                State::Pulled(pulled) => pulled.out.clone(),
                _ => out(id, &services),
            },
            batch,
            looks,
            state,
        }
    }
}

#[cfg(test)]
mod tests;
