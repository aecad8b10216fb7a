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

/// The days looked at together: once or twice a week each boar is collected (common practice), and
/// what is amiss at the bench seldom lasts longer unnoticed.
pub const HERD_DAYS: i64 = 7;
/// Fewer boars say nothing of a herd.
const BOARS: u32 = 5;
/// How unlikely it must be if each boar were in order, in standard deviations. Four measures are looked
/// at each day; `cargo xtask bench watch` counts how often it is told for nothing.
const LIMIT: f64 = 3.7;
/// And how much on average, so that a large herd is not troubled by what nobody would see.
const LEAST: f64 = 0.4;

/// Whether the herd fell, measure by measure, in the days before `now_ms`.
pub fn herd_falls<B: AsRef<[Beside]>>(herd: &[(BoarId, B)], now_ms: i64) -> Vec<HerdFall> {
    let herd: Vec<&[Beside]> = herd.iter().map(|(_, besides)| besides.as_ref()).collect();
    let of = |measure| herd_fall(&herd, measure, now_ms);
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

fn herd_fall(herd: &[&[Beside]], measure: Measure, now_ms: i64) -> Option<HerdFall> {
    let from_ms = now_ms - HERD_DAYS * DAY_MS;
    let voice = |list: &&[Beside]| voice(list, measure, from_ms, now_ms);
    let voices: Vec<Voice> = herd.iter().filter_map(voice).collect();
    let count = |of: &dyn Fn(&Voice) -> bool| voices.iter().filter(|v| of(v)).count();
    let boars = u32::try_from(voices.len()).ok()?;
    let n = f64::from(boars);
    let unlikely = voices.iter().map(|v| v.n.sqrt() * v.mean).sum::<f64>() / n.sqrt();
    let by = voices.iter().map(|v| v.mean).sum::<f64>() / n;
    let latest = voices.iter().map(|v| v.latest).max();
    let (_, collection) = latest?;
    (boars >= BOARS && unlikely > LIMIT && by > LEAST).then_some(HerdFall {
        measure,
        collection,
        boars,
        worse: u32::try_from(count(&|v| v.mean > 0.0)).ok()?,
        by,
        from_ms,
        to_ms: now_ms,
        after_heat: count(&|v| v.after_heat) * 2 > voices.len(),
    })
}

/// One boar has one voice, however often he was collected.
struct Voice {
    /// How often he was.
    n: f64,
    /// By how many standard deviations he gave worse than expected, on average.
    mean: f64,
    /// His latest ejaculate of those days.
    latest: (i64, EntryId),
    after_heat: bool,
}

/// None for a boar of whom nothing was measured in those days.
fn voice(besides: &[Beside], measure: Measure, from_ms: i64, to_ms: i64) -> Option<Voice> {
    let recent = besides.iter().rev();
    let recent = recent.take_while(|b| b.given.at_ms >= from_ms);
    let recent = recent.filter(|b| b.given.at_ms <= to_ms);
    let (mut n, mut sum, mut after_heat) = (0.0, 0.0, false);
    let mut latest = None;
    for beside in recent {
        let Some(worse) = beside.worse[measure.place()] else {
            continue;
        };
        n += 1.0;
        sum += worse;
        latest = latest.max(Some((beside.given.at_ms, beside.given.collection)));
        after_heat |= is_after_heat(beside);
    }
    Some(Voice {
        n,
        mean: sum / n,
        latest: latest?,
        after_heat,
    })
}

fn is_after_heat(beside: &Beside) -> bool {
    let hot_days = beside.given.bearing.hot_days;
    hot_days.is_some_and(|days| days >= TOLERATED_UNDER)
}

#[cfg(test)]
mod tests;
