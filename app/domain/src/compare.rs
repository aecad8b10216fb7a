//! Boars side by side: what is each one's own, and what speaks for replacing him. A view for the
//! office; people decide.

mod served;
#[cfg(test)]
mod tests;

use crate::barn::{Barn, BoarFacts};
use crate::boar::{CullFor, OffReason};
use crate::collection::{Outcome, Trouble};
use crate::output::{Look, Looker, Measure};
use crate::rest::health::offs_on;
use crate::training::Mishap;
use chrono::NaiveDate;
pub use served::{Served, level_of_each, served};

/// Fewer counted ejaculates are too few to say (our choice, no source).
pub const COUNTED_AT_LEAST: u32 = 5;
/// So much less sperm than the herd speaks against him, in % (our choice, no source).
pub const LESS_PERCENT: f64 = 25.0;
/// So many points less of motility speak against him (our choice, no source).
pub const LESS_POINTS: f64 = 8.0;
/// So many bites and charges speak against him; of persons hurt one is enough (our choice, no source).
pub const DANGERS: usize = 2;
/// So many times lame speak against him (our choice, no source).
pub const LAME: usize = 3;
/// Fewer heats whose end is known are too few to say (our choice, no source).
pub const SERVED_AT_LEAST: usize = 10;

/// What of a measure is a boar's own, age, season and all else that bears on it taken into account.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Own {
    /// Too few ejaculates were counted.
    TooFew,
    /// Nine of ten bounds reach over the herd's: no difference that could be told.
    Alike,
    /// He is above (below 0) the herd by so much, and nine of ten bounds keep to that side: in % of
    /// an amount, in points of a share.
    Apart(f64),
}

/// Something that speaks for replacing him.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Evidence {
    /// So many % less sperm than the herd.
    Output(f64),
    /// So many points less of motility than the herd.
    Quality(f64),
    /// So many times a danger to people.
    Temper(usize),
    /// So many times lame.
    Legs(usize),
    /// Sows served by him alone came back more often than those of the others.
    Fertility(Served),
}

/// One boar beside the others. Counts are of what his ledger holds: the latest of each kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Who.
    pub boar: BoarFacts,
    /// His own share of total sperm.
    pub total: Own,
    /// His own share of motility.
    pub motile: Own,
    /// Bites, charges and persons hurt, in collections and training.
    pub dangers: usize,
    /// Times lame, in collections and training, and times off for it.
    pub lame: usize,
    /// What became of the heats in which only he served; none where the log knows of no such heat.
    pub served: Option<Served>,
    /// His age in days.
    pub age_days: Option<i64>,
    /// His collections.
    pub collections: usize,
    /// He is off to be culled already.
    pub leaves: bool,
    /// What speaks for replacing him, in the order of [`CullFor`]. His age alone does not.
    pub speaks: Vec<Evidence>,
}

impl Evidence {
    /// The reason it gives.
    pub const fn cull(&self) -> CullFor {
        match self {
            Self::Output(_) => CullFor::Output,
            Self::Quality(_) => CullFor::Quality,
            Self::Temper(_) => CullFor::Temper,
            Self::Legs(_) => CullFor::Legs,
            Self::Fertility(_) => CullFor::Fertility,
        }
    }
}

impl Own {
    /// By how much he is apart; nothing where that cannot be told.
    pub const fn apart(self) -> Option<f64> {
        match self {
            Self::Apart(by) => Some(by),
            Self::TooFew | Self::Alike => None,
        }
    }
}

/// The boars who are here, by number, at the instant `now_ms`.
pub fn compare(barn: &Barn, looker: &Looker, now_ms: i64) -> Vec<Compared> {
    let zone = barn.zone_at(now_ms);
    let today = zone.day(now_ms);
    let mut sows = served(barn, now_ms);
    let herd = sows.values().copied().fold(Served::default(), Served::and);
    let told = sows.values().filter(|s| s.can_be_told()).count();
    let here = barn.boars().into_iter().filter(|b| b.gone().is_none());
    let one = |boar: BoarFacts| {
        let look = looker.look(&boar).ok();
        let own = |measure| look.as_ref().and_then(|look| own(looker, look, measure));
        let offs = offs_on(&boar, &zone, today);
        let mut row = Compared {
            total: own(Measure::Total).unwrap_or(Own::TooFew),
            motile: own(Measure::Motile).unwrap_or(Own::TooFew),
            dangers: dangers(&boar),
            lame: lame(&boar),
            served: sows.remove(&boar.id),
            age_days: age(&boar, today),
            collections: collections(&boar),
            leaves: offs.iter().any(|o| o.off.fact.reason == OffReason::Cull),
            speaks: vec![],
            boar,
        };
        row.speaks = speaks(&row, herd, told);
        row
    };
    here.map(one).collect()
}

fn own(looker: &Looker, look: &Look, measure: Measure) -> Option<Own> {
    let outlook = looker.outlook();
    if look.past.sums.get(measure.place())?.n < COUNTED_AT_LEAST {
        return Some(Own::TooFew);
    }
    let own = outlook.own(measure, &look.past).ok()?;
    let [low, high] = own.interval();
    if low <= 0.0 && 0.0 <= high {
        return Some(Own::Alike);
    }
    if !measure.is_share() {
        return Some(Own::Apart((own.mean.exp() - 1.0) * 100.0));
    }
    // On the scale of log odds a difference has no one size in points: it is told of what the herd
    // would have given in his place the last time.
    let on = &look.besides.last()?.given.bearing;
    let herd = outlook.forecast(&outlook.nobody(), on).ok()?;
    let herd = herd.get(measure.place())?.mean;
    let points = measure.from_scale(herd + own.mean) - measure.from_scale(herd);
    Some(Own::Apart(points))
}

fn dangers(boar: &BoarFacts) -> usize {
    troubles(boar).filter(|t| t.is_danger()).count()
}

fn lame(boar: &BoarFacts) -> usize {
    let offs = boar.offs.iter();
    let offs = offs.filter(|o| o.fact.reason == OffReason::Lame).count();
    troubles(boar).filter(|t| *t == Trouble::Lame).count() + offs
}

/// What went wrong in his collections and his training.
fn troubles(boar: &BoarFacts) -> impl Iterator<Item = Trouble> {
    let collected = boar.collections.iter().flat_map(|c| &c.fact.trouble);
    let trained = boar.trainings.iter().flat_map(|t| &t.fact.mishaps);
    let trained = trained.filter_map(|mishap| match mishap {
        Mishap::Lame => Some(Trouble::Lame),
        other => other.danger(),
    });
    collected.copied().chain(trained)
}

fn hurt(boar: &BoarFacts) -> bool {
    troubles(boar).any(|t| t == Trouble::PersonHurt)
}

fn age(boar: &BoarFacts, today: NaiveDate) -> Option<i64> {
    let born = boar.boar.as_ref()?.fact.born?;
    let days = (today - born).num_days();
    (days >= 0).then_some(days)
}

fn collections(boar: &BoarFacts) -> usize {
    let all = boar.collections.iter();
    all.filter(|c| c.fact.outcome == Outcome::Collected).count()
}

fn speaks(row: &Compared, herd: Served, told: usize) -> Vec<Evidence> {
    let less = |own: Own, least: f64| own.apart().map(|by| -by).filter(|by| *by >= least);
    let danger = row.dangers >= DANGERS || hurt(&row.boar);
    let fewer = row.served.filter(|s| s.is_worse_than(herd.less(*s), told));
    [
        less(row.total, LESS_PERCENT).map(Evidence::Output),
        less(row.motile, LESS_POINTS).map(Evidence::Quality),
        danger.then_some(Evidence::Temper(row.dangers)),
        (row.lame >= LAME).then_some(Evidence::Legs(row.lame)),
        fewer.map(Evidence::Fertility),
    ]
    .into_iter()
    .flatten()
    .collect()
}
