//! What a barn knows of stored semen, as a request.

use crate::barn::{Barn, BoarFacts, Seen, Stored};
use crate::batch::SemenBatch;
use crate::extender::{ExtenderClass, Keeping};
use crate::json;
use crate::plain::PlainRoute;
use crate::reckon::{BatchAsked, KeepingAsked, LOOKS_HIGH, LookAsked, OTHERS_HIGH, PlainAsked};
use crate::retained::{Look, Retained};
use crate::time::{DAY_MS, Stamp};

/// The other batches of the same boar that stand behind one, at most.
const BESIDE: usize = 30;

/// The request about one batch: its own looks first, then those at the boar's other batches in the
/// same class of extender, and the looks at other boars' batches, from which the herd is fitted. Semen
/// pooled of several boars stands as a boar of its own. None where nobody knows when it was collected.
pub fn keeping_of(barn: &Barn, stored: &Stored) -> Option<KeepingAsked> {
    let batch = &stored.batch;
    let own = kept(batch, &stored.looks)?;
    let class = class_of(&batch.fact)?;
    let boars = barn.boars();
    let identity = barn.identity();
    let mut beside = vec![];
    let mut others: Vec<Vec<BatchAsked>> = vec![];
    for boar in &boars {
        let (mut alone, mut pools) = (vec![], vec![]);
        for made in looked(boar, class) {
            let first = made.fact.sources.first().map(|s| identity(s.boar));
            let looks = looks_at(boar, made);
            let Some(read) = kept(made, &looks).filter(|_| made.entry() != batch.entry()) else {
                continue;
            };
            match made.fact.sources.len() {
                1 => alone.push(read),
                // It stands with every boar of the pool, and counts once.
                _ if first == Some(boar.id) => pools.push(vec![read]),
                _ => {}
            }
        }
        others.extend(pools);
        match &batch.fact.sources[..] {
            [one] if identity(one.boar) == boar.id => beside = alone,
            _ if alone.is_empty() => {}
            _ => others.push(alone),
        }
    }
    let skip = beside.len().saturating_sub(BESIDE);
    let batches: Vec<_> = std::iter::once(own)
        .chain(beside.into_iter().skip(skip))
        .collect();
    let mine = batches.iter().map(|b| b.looks.len()).sum();
    Some(KeepingAsked {
        extender: class,
        days: batch.fact.keep().and_then(|keep| keep.days),
        batches,
        others: latest(others, LOOKS_HIGH.saturating_sub(mine)),
        ..KeepingAsked::default()
    })
}

/// Those last looked at, as many as a request takes, with at most so many looks.
pub(crate) fn latest(mut others: Vec<Vec<BatchAsked>>, most: usize) -> Vec<Vec<BatchAsked>> {
    let collected = |boar: &Vec<BatchAsked>| {
        boar.iter()
            .filter_map(|b| b.collected_at)
            .map(Stamp::ms)
            .max()
    };
    others.sort_by_key(|boar| std::cmp::Reverse(collected(boar)));
    let mut looks = 0;
    let fits = |boar: &Vec<BatchAsked>| {
        looks += boar.iter().map(|b| b.looks.len()).sum::<usize>();
        looks <= most
    };
    others
        .into_iter()
        .take(OTHERS_HIGH)
        .take_while(fits)
        .collect()
}

/// The class of extender a batch was filled with; none for undiluted semen.
fn class_of(batch: &SemenBatch) -> Option<ExtenderClass> {
    let undiluted = |asked: PlainAsked| asked.route == PlainRoute::Undiluted;
    if !batch.counted && json::read(&batch.asked).is_ok_and(undiluted) {
        return None;
    }
    let keep = batch.keep()?;
    Some(Keeping::new(keep.extender, keep.days).ok()?.class())
}

/// His batches in a class that somebody looked at.
fn looked(boar: &BoarFacts, class: ExtenderClass) -> impl Iterator<Item = &Seen<SemenBatch>> {
    let has = |b: &&Seen<SemenBatch>| boar.retained.iter().any(|l| l.fact.batch == b.entry());
    let batches = boar.batches.iter().filter(has);
    batches.filter(move |b| class_of(&b.fact) == Some(class))
}

fn looks_at(boar: &BoarFacts, batch: &Seen<SemenBatch>) -> Vec<Seen<Retained>> {
    let of_it = |l: &&Seen<Retained>| l.fact.batch == batch.entry();
    boar.retained.iter().filter(of_it).cloned().collect()
}

fn kept(batch: &Seen<SemenBatch>, looks: &[Seen<Retained>]) -> Option<BatchAsked> {
    let collected_at = batch.fact.keep()?.collected_at?;
    let read = |look: &Seen<Retained>| {
        let days = (look.at.ms() - collected_at.ms()) as f64 / DAY_MS as f64;
        let motile = look.fact.motile;
        let cells = motile.cells.map(u32::from);
        let hits = cells.map(|n| whole(motile.percent.proportion() * f64::from(n)));
        (0.0..=Look::DAYS_MAX).contains(&days).then_some(LookAsked {
            days,
            hits,
            cells,
            percent: motile.cells.is_none().then_some(motile.percent.value()),
            warmed: look.fact.warmed,
        })
    };
    Some(BatchAsked {
        looks: looks.iter().filter_map(read).collect(),
        collected_at: Some(collected_at),
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of 65,535 cells at most"
)]
fn whole(hits: f64) -> u32 {
    hits.round() as u32
}
