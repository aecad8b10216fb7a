//! Lots of extender and what is mixed of them: ready when, usable until when, and what is odd.

use super::{ExtenderClass, MIXING};
use crate::barn::Seen;
use crate::batch::SemenBatch;
use crate::id::EntryId;
use crate::said::Label;
use crate::time::{HOUR_MS, MINUTE_MS, Stamp, TimeError, Zone};
use crate::units::{Conductivity, KeepsDays, KeepsHours, MixVolumeMl, ReadyMinutes, TemperatureC};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// What an extender comes as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// Powder.
    Powder,
    /// Liquid concentrate.
    Concentrate,
}

/// A lot of extender as it was bought.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ExtenderLot {
    /// What it is called.
    pub product: Label,
    /// The lot's number.
    pub lot: Label,
    /// How long it keeps semen, as the label says.
    pub class: ExtenderClass,
    /// Powder or concentrate.
    pub form: Form,
    /// The last day on which it is to be mixed or used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub best_before: Option<NaiveDate>,
    /// Whether it holds an antibiotic; absent when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub antibiotic: Option<bool>,
    /// What one pack makes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub makes: Option<MixVolumeMl>,
    /// Days for which the farm keeps doses made with it, at most the class's; absent: the class's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<KeepsDays>,
}

/// Where the water is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WaterSource {
    /// Distilled on the farm.
    Distilled,
    /// Deionised on the farm.
    Deionised,
    /// Reverse osmosis on the farm.
    ReverseOsmosis,
    /// Bought as purified.
    Bought,
    /// From the tap.
    Tap,
}

/// The water of a mix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Water {
    /// Where it is from.
    pub source: WaterSource,
    /// Measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conductivity: Option<Conductivity>,
    /// Who sold it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supplier: Option<Label>,
}

/// Extender mixed with water; when is the entry's own time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ExtenderMix {
    /// Of which lot.
    pub lot: EntryId,
    /// With what water.
    pub water: Water,
    /// How much.
    pub volume: MixVolumeMl,
    /// As measured while it was mixed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<TemperatureC>,
    /// Minutes until it may be used; [`MIXING`]'s 60 unless somebody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ready_after: Option<ReadyMinutes>,
    /// Hours it keeps once mixed, by label or farm; [`MIX_KEEPS_HOURS`] unless somebody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeps: Option<KeepsHours>,
}

/// Hours that mixed extender keeps where neither label nor farm says: made in the morning, gone by
/// the next (common practice, no source).
pub const MIX_KEEPS_HOURS: u16 = 24;

/// What was said of a mix's times; what is absent has its default.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Timing {
    /// Minutes until it may be used.
    pub ready_after: Option<ReadyMinutes>,
    /// Hours it keeps.
    pub keeps: Option<KeepsHours>,
}

/// What was said of how it was made.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Made {
    /// Where the water is from.
    pub water: Option<WaterSource>,
    /// What it conducts.
    pub conductivity: Option<Conductivity>,
    /// How warm it was.
    pub temperature: Option<TemperatureC>,
}

/// From when to when a mix is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Life {
    /// Used from.
    pub ready_at: Stamp,
    /// Used before.
    pub ends_at: Stamp,
    /// Its end is that of its lot, not of the hours it keeps.
    pub by_lot: bool,
    /// Nobody said how long it keeps: the default stands.
    pub keeps_by_default: bool,
}

/// How a mix stands at a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MixState {
    /// Not settled yet.
    TooFresh {
        /// When it will be.
        ready_at: Stamp,
    },
    /// Ready.
    Ready {
        /// Until then.
        until: Stamp,
    },
    /// Not used any more.
    Past {
        /// Since then.
        since: Stamp,
    },
}

/// What is asked about once.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MixOdd {
    /// The water conducts more than 5 µS/cm (Nebraska Swine Report 1999).
    Conductivity {
        /// What was read in µS/cm.
        read: f64,
        /// The most.
        most: f64,
    },
    /// Water from the tap.
    TapWater,
    /// The lot was past its date when it was mixed.
    LotPast {
        /// The date.
        best_before: NaiveDate,
    },
    /// Mixed longer ahead than is usual; whole minutes.
    Ahead {
        /// So long.
        minutes: i64,
        /// At most, usually.
        most: u8,
    },
    /// Mixed colder or warmer than is usual, in °C.
    Temperature {
        /// What was read.
        read: f64,
    },
}

/// What a filling takes of a mix: its lot's class and antibiotic, and its life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Poured {
    /// The mix.
    pub mix: EntryId,
    /// Its lot's class.
    pub class: ExtenderClass,
    /// Whether its lot holds an antibiotic.
    pub antibiotic: Option<bool>,
    /// Days for which the farm keeps doses of this lot, if it said so.
    #[serde(default)]
    pub days: Option<u8>,
    /// From when to when it is used.
    pub life: Life,
}

impl Timing {
    /// Ready after the minutes said; at its end after the hours it keeps, or with the last day of its
    /// lot where that comes first. An error beyond the year 9999.
    pub fn life(
        &self,
        mixed_at: Stamp,
        best_before: Option<NaiveDate>,
        zone: &Zone,
    ) -> Result<Life, TimeError> {
        let later = |ms: i64| Stamp::new(mixed_at.ms().saturating_add(ms), mixed_at.offset_min());
        let kept = later(i64::from(self.keeps_hours()) * HOUR_MS)?;
        // The day after the last on which it may be used.
        let over = best_before.and_then(|day| day.succ_opt());
        let over = over.map(|day| zone.day_start_ms(day));
        let by_lot = over.is_some_and(|ms| ms < kept.ms());
        let ends_at = match over.filter(|_| by_lot) {
            Some(ms) => Stamp::new(ms, zone.offset_min_at(ms))?,
            None => kept,
        };
        Ok(Life {
            ready_at: later(i64::from(self.ready_after_min()) * MINUTE_MS)?,
            ends_at,
            by_lot,
            keeps_by_default: self.keeps.is_none(),
        })
    }

    /// Minutes until it may be used.
    pub fn ready_after_min(&self) -> u16 {
        let usual = MIXING.extender_ahead_min.0.into();
        self.ready_after.map_or(usual, ReadyMinutes::value)
    }

    /// Hours it keeps.
    pub fn keeps_hours(&self) -> u16 {
        self.keeps.map_or(MIX_KEEPS_HOURS, KeepsHours::value)
    }
}

impl ExtenderMix {
    /// From when to when it is used; `best_before` is its lot's.
    pub fn life(
        &self,
        mixed_at: Stamp,
        best_before: Option<NaiveDate>,
        zone: &Zone,
    ) -> Result<Life, TimeError> {
        let timing = Timing {
            ready_after: self.ready_after,
            keeps: self.keeps,
        };
        timing.life(mixed_at, best_before, zone)
    }

    /// What is odd about it; see [`odd`].
    pub fn odd(
        &self,
        mixed_at: Stamp,
        best_before: Option<NaiveDate>,
        used_at: Option<Stamp>,
        zone: &Zone,
    ) -> Vec<MixOdd> {
        let made = Made {
            water: Some(self.water.source),
            conductivity: self.water.conductivity,
            temperature: self.temperature,
        };
        odd(&made, mixed_at, best_before, used_at, zone)
    }
}

/// What is odd about a mix, in the order of the work: water, lot, temperature, and, where it was used
/// then, how long ahead it was mixed. What nobody said is not odd.
pub fn odd(
    made: &Made,
    mixed_at: Stamp,
    best_before: Option<NaiveDate>,
    used_at: Option<Stamp>,
    zone: &Zone,
) -> Vec<MixOdd> {
    let conducts = made.conductivity.filter(|c| c.improbable());
    let water = conducts.map(|c| MixOdd::Conductivity {
        read: c.value(),
        most: Conductivity::USUAL.1,
    });
    let tap = (made.water == Some(WaterSource::Tap)).then_some(MixOdd::TapWater);
    let lot = best_before.filter(|day| zone.day(mixed_at.ms()) > *day);
    let lot = lot.map(|best_before| MixOdd::LotPast { best_before });
    let temperature = made.temperature.filter(|t| t.improbable());
    let temperature = temperature.map(|t| MixOdd::Temperature { read: t.value() });
    let most = MIXING.extender_ahead_min.1;
    let ahead = used_at.map(|at| (at.ms() - mixed_at.ms()).div_euclid(MINUTE_MS));
    let ahead = ahead.filter(|minutes| *minutes > i64::from(most));
    let ahead = ahead.map(|minutes| MixOdd::Ahead { minutes, most });
    let all = [water, tap, lot, temperature, ahead];
    all.into_iter().flatten().collect()
}

impl Life {
    /// How it stands at an instant (ms): what is past is past, ready or not.
    pub fn at(&self, now_ms: i64) -> MixState {
        if now_ms >= self.ends_at.ms() {
            return MixState::Past {
                since: self.ends_at,
            };
        }
        match now_ms < self.ready_at.ms() {
            true => MixState::TooFresh {
                ready_at: self.ready_at,
            },
            false => MixState::Ready {
                until: self.ends_at,
            },
        }
    }
}

impl Poured {
    /// Of a mix and its lot.
    pub fn of(mix: &Seen<ExtenderMix>, lot: &ExtenderLot, zone: &Zone) -> Result<Self, TimeError> {
        Ok(Self {
            mix: mix.entry(),
            class: lot.class,
            antibiotic: lot.antibiotic,
            days: lot.days.map(|days| days.value().min(lot.class.most_days())),
            life: mix.fact.life(mix.at, lot.best_before, zone)?,
        })
    }
}

/// The batches made with any of these mixes, each once though it stands with each boar of a pool,
/// earliest first.
pub fn made_with(mixes: &[EntryId], batches: &[Seen<SemenBatch>]) -> Vec<EntryId> {
    let with = |b: &&Seen<SemenBatch>| b.fact.extender_mix.is_some_and(|mix| mixes.contains(&mix));
    let mut list: Vec<_> = batches
        .iter()
        .filter(with)
        .map(|b| (b.at.ms(), b.entry()))
        .collect();
    list.sort_unstable();
    list.dedup();
    list.into_iter().map(|(_, entry)| entry).collect()
}

#[cfg(test)]
mod tests;
