//! When the whole herd falls at once, the bench or the heat is behind it and not each boar.

use super::Signal;
use crate::climate::TOLERATED_UNDER;
use crate::id::{BoarId, EntryId};
use crate::output::{Beside, Measure};
use crate::time::DAY_MS;

/// The herd as a whole gave worse than expected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HerdFall {
    /// What fell.
    pub measure: Measure,
    /// How many boars were collected in those days.
    pub boars: u32,
    /// How many of them gave worse than expected.
    pub worse: u32,
    /// By how many standard deviations, on average over boars.
    pub by: f64,
    /// The latest ejaculate of those days.
    pub collection: EntryId,
    /// From when to when, in ms since 1970.
    pub from_ms: i64,
    /// See `from_ms`.
    pub to_ms: i64,
    /// Most of them had more hot days behind them than are tolerated.
    pub after_heat: bool,
}

/// The days looked at together.
pub const HERD_DAYS: i64 = 10;
/// Fewer boars say nothing of a herd.
const BOARS: u32 = 5;
/// How unlikely it must be if each boar were in order, in standard deviations.
const LIMIT: f64 = 3.3;
/// And how much on average, so that a large herd is not troubled by what nobody would see.
const LEAST: f64 = 0.6;

/// Whether the herd fell, measure by measure, in the days before `now_ms`.
pub fn herd_falls(herd: &[(BoarId, &[Beside])], now_ms: i64) -> Vec<HerdFall> {
    let of = |measure| herd_fall(herd, measure, now_ms);
    Measure::ALL.into_iter().filter_map(of).collect()
}

impl HerdFall {
    /// Whether a boar's signal may be part of it.
    pub fn covers(&self, signal: &Signal) -> bool {
        self.measure == signal.measure
            && signal.at_ms >= self.from_ms
            && signal.at_ms <= self.to_ms
            && signal.fall.since_ms >= self.from_ms - HERD_DAYS * DAY_MS
    }
}

fn herd_fall(herd: &[(BoarId, &[Beside])], measure: Measure, now_ms: i64) -> Option<HerdFall> {
    let from_ms = now_ms - HERD_DAYS * DAY_MS;
    let mut latest: Option<(i64, EntryId)> = None;
    let (mut sum, mut boars, mut worse, mut after_heat) = (0.0, 0_u32, 0_u32, 0_u32);
    for (_, besides) in herd {
        let recent = besides.iter().rev();
        let recent: Vec<(f64, bool)> = recent
            .take_while(|b| b.given.at_ms >= from_ms)
            .filter(|b| b.given.at_ms <= now_ms)
            .filter_map(|b| Some((b.worse[measure.place()]?, is_after_heat(b))))
            .collect();
        // One boar has one voice, however often he was collected.
        let n = f64::from(u32::try_from(recent.len()).ok()?);
        if recent.is_empty() {
            continue;
        }
        let mean = recent.iter().map(|(worse, _)| worse).sum::<f64>() / n.sqrt();
        sum += mean;
        let last = besides.iter().rfind(|b| b.given.at_ms <= now_ms);
        latest = latest.max(last.map(|b| (b.given.at_ms, b.given.collection)));
        boars += 1;
        worse += u32::from(mean > 0.0);
        after_heat += u32::from(recent.iter().any(|(_, hot)| *hot));
    }
    let n = f64::from(boars);
    let fell = boars >= BOARS && sum / n.sqrt() > LIMIT && sum / n > LEAST;
    let (_, collection) = latest?;
    fell.then_some(HerdFall {
        measure,
        collection,
        boars,
        worse,
        by: sum / n,
        from_ms,
        to_ms: now_ms,
        after_heat: after_heat * 2 > boars,
    })
}

fn is_after_heat(beside: &Beside) -> bool {
    let hot_days = beside.given.bearing.hot_days;
    hot_days.is_some_and(|days| days >= TOLERATED_UNDER)
}
