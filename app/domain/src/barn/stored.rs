//! Semen batches as they are stored: what is left of each, and where it stands by its samples.

use super::{Barn, BoarFacts, Seen, SowFacts};
use crate::batch::SemenBatch;
use crate::code::Code;
use crate::id::{EntryId, SowId};
use crate::retained::pulled::{Out, State, left, out, state};
use crate::retained::{Floor, Retained};
use crate::sow::{By, Service};
use chrono::NaiveDate;
use std::cell::OnceCell;
use std::collections::BTreeSet;

/// A semen batch, what was looked at and used of it, and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored {
    /// The batch.
    pub batch: Seen<SemenBatch>,
    /// Looks at its samples, the latest last.
    pub looks: Vec<Seen<Retained>>,
    /// Doses that are out, earliest first.
    pub out: Vec<Out>,
    /// `out` is all of it. A boar keeps his latest services only, and a device of the laboratory does
    /// not know the sows, who keep theirs.
    pub out_whole: bool,
    /// Where it stands by its samples.
    pub state: State,
}

impl Stored {
    /// Doses that no service has used; at most, unless `out_whole`.
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
        Some(self.stand(batch, &boars, &OnceCell::new(), now_ms))
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
        let sows = OnceCell::new();
        list.into_iter()
            .map(|batch| {
                let behind: Vec<_> = of_it(batch).collect();
                self.stand(batch.clone(), &behind, &sows, now_ms)
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

    fn stand(
        &self,
        batch: Seen<SemenBatch>,
        boars: &[&BoarFacts],
        sows: &OnceCell<Vec<SowFacts>>,
        now_ms: i64,
    ) -> Stored {
        let id = batch.entry();
        let (services, out_whole) = self.services_with(id, boars, sows);
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
            out_whole,
            state,
        }
    }

    /// The services with a batch's doses, and whether these are all. Each stands in the ledger of every
    /// boar of the batch and of the sow: hers are asked only where no boar knows them all.
    fn services_with(
        &self,
        id: EntryId,
        boars: &[&BoarFacts],
        sows: &OnceCell<Vec<SowFacts>>,
    ) -> (Vec<Seen<Service>>, bool) {
        let of_it =
            |s: &&Seen<Service>| matches!(s.fact.by, By::Doses { batch, .. } if batch == id);
        let of_boars = boars.iter().flat_map(|b| &b.services);
        let mut services: Vec<_> = of_boars.clone().filter(of_it).cloned().collect();
        if boars.iter().any(|b| b.services_whole) {
            return (services, true);
        }
        let sows = sows.get_or_init(|| self.sows());
        let known: BTreeSet<SowId> = sows.iter().map(|sow| sow.id).collect();
        let whole = of_boars.clone().all(|s| known.contains(&s.fact.sow));
        let of_sows = sows.iter().flat_map(|sow| &sow.services);
        services.extend(of_sows.filter(of_it).cloned());
        (services, whole)
    }
}

#[cfg(test)]
mod tests;
