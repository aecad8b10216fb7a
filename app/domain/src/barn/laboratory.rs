//! What the farm keeps for its laboratory: lots and mixes of extender, instruments' curves, and looks
//! at retained samples.

use super::{Barn, Seen};
use crate::curve::{CurvePair, InstrumentCurve};
use crate::extender::mix::{ExtenderLot, ExtenderMix, Poured};
use crate::fact::Fact;
use crate::id::EntryId;
use crate::retained::Retained;
use crate::said::Label;

/// A mix of extender with its lot, and what a filling takes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixed {
    /// The mix.
    pub mix: Seen<ExtenderMix>,
    /// Its lot.
    pub lot: Seen<ExtenderLot>,
    /// What a filling takes of it.
    pub poured: Poured,
}

impl Barn {
    /// Lots of extender, the latest last.
    pub fn extender_lots(&self) -> Vec<Seen<ExtenderLot>> {
        self.farm_facts(|fact| match fact {
            Fact::ExtenderLot(lot) => Some(lot),
            _ => None,
        })
    }

    /// One lot.
    pub fn extender_lot(&self, entry: EntryId) -> Option<Seen<ExtenderLot>> {
        self.extender_lots()
            .into_iter()
            .find(|l| l.entry() == entry)
    }

    /// Mixes of extender, the latest last.
    pub fn extender_mixes(&self) -> Vec<Seen<ExtenderMix>> {
        self.farm_facts(|fact| match fact {
            Fact::ExtenderMix(mix) => Some(mix),
            _ => None,
        })
    }

    /// Mixes that may be poured after `since_ms`, the latest first; with the moment of now those at
    /// hand. One whose lot is not known here is left out: nobody could say what is in it.
    pub fn mixes_after(&self, since_ms: i64) -> Vec<Mixed> {
        let (zone, lots) = (self.zone_at(since_ms), self.extender_lots());
        let mixed = |mix: Seen<ExtenderMix>| {
            let lot = lots.iter().find(|l| l.entry() == mix.fact.lot)?.clone();
            let poured = Poured::of(&mix, &lot.fact, &zone).ok()?;
            (poured.life.ends_at.ms() > since_ms).then_some(Mixed { mix, lot, poured })
        };
        let mixes = self.extender_mixes().into_iter().rev();
        mixes.filter_map(mixed).collect()
    }

    /// Instruments' curves, the latest last.
    pub fn instrument_curves(&self) -> Vec<Seen<InstrumentCurve>> {
        self.farm_facts(|fact| match fact {
            Fact::InstrumentCurve(curve) => Some(curve),
            _ => None,
        })
    }

    /// Ejaculates both read and counted, the latest last.
    pub fn curve_pairs(&self) -> Vec<Seen<CurvePair>> {
        self.farm_facts(|fact| match fact {
            Fact::CurvePair(pair) => Some(pair),
            _ => None,
        })
    }

    /// The instruments that have a curve, each once, that with the latest curve first.
    pub fn instruments(&self) -> Vec<Label> {
        let mut list: Vec<Label> = vec![];
        for curve in self.instrument_curves().into_iter().rev() {
            if !list.contains(&curve.fact.instrument) {
                list.push(curve.fact.instrument);
            }
        }
        list
    }

    /// Looks at the retained samples of a batch, each once though it stands with every boar of a pool,
    /// the latest last.
    pub fn retained_of(&self, batch: EntryId) -> Vec<Seen<Retained>> {
        let Some(made) = self.batch(batch) else {
            return vec![];
        };
        let boars = made.fact.sources.iter().filter_map(|s| self.boar(s.boar));
        let mut looks: Vec<_> = boars
            .flat_map(|b| b.retained)
            .filter(|look| look.fact.batch == batch)
            .collect();
        looks.sort_by_key(|look| (look.at.ms(), look.order));
        looks.dedup_by_key(|look| look.order);
        looks
    }
}
