//! Half-hour means of a day's readings, and which of them the farm does not hold yet.

use super::plan::{DayFate, Draft, PlannedDay};
use super::read::Raw;
use super::tidy::Tidy;
use chrono::NaiveDate;
use pentally_domain::climate::{Climate, Reading, RoomReadings};
use pentally_domain::said::Label;
use pentally_domain::time::{MINUTE_MS, Zone};
use pentally_domain::units::{Percent, TemperatureC};

/// Means are of half hours, around the full and the half hour.
const HALF_HOUR: i64 = 30;

/// Each room and day of the file.
pub(super) fn days(
    tidy: &Tidy,
    zone: &Zone,
    already: impl Fn(&Label, NaiveDate) -> Option<RoomReadings>,
) -> Vec<PlannedDay> {
    let mut days = vec![];
    for readings in tidy.readings.chunk_by(|a, b| a.room == b.room) {
        let room = readings.first().and_then(|r| tidy.rooms.get(r.room));
        let mut rest = readings;
        while let (Some(room), Some(first)) = (room, rest.first()) {
            let day = Day::of(first.ms, zone);
            let (of_day, later) = rest.split_at(rest.partition_point(|r| r.ms < day.end_ms));
            days.extend(day.plan(room, of_day, &already));
            rest = later;
        }
    }
    days
}

/// A farm day cut into marks, one for each mean.
struct Day {
    day: NaiveDate,
    start_ms: i64,
    end_ms: i64,
    /// Minutes from mark to mark: 30, and a little more on a day of 25 hours, of which a fact
    /// would not hold 50 half hours.
    step: i64,
    marks: i64,
}

impl Day {
    fn of(ms: i64, zone: &Zone) -> Self {
        let day = zone.day(ms);
        let start_ms = zone.day_start_ms(day);
        let next = day.succ_opt().map(|next| zone.day_start_ms(next));
        // Never empty, so that the walk through the readings ends.
        let end_ms = next.unwrap_or(i64::MAX).max(ms.saturating_add(1));
        let minutes = (end_ms - start_ms) / MINUTE_MS;
        let most = i64::try_from(Climate::READINGS_MAX).unwrap_or(i64::MAX);
        let step = HALF_HOUR.max((minutes + most - 1) / most);
        Self {
            day,
            start_ms,
            end_ms,
            step,
            marks: ((minutes + step - 1) / step).max(1),
        }
    }

    /// The mark nearest to an instant, in minutes since the day began; the last one where the next
    /// would be midnight.
    fn mark(&self, ms: i64) -> i64 {
        let minute = (ms - self.start_ms) / MINUTE_MS;
        self.step * ((minute + self.step / 2) / self.step).min(self.marks - 1)
    }

    fn plan(
        &self,
        room: &Label,
        readings: &[Raw],
        already: &impl Fn(&Label, NaiveDate) -> Option<RoomReadings>,
    ) -> Option<PlannedDay> {
        let means: Vec<Reading> = readings
            .chunk_by(|a, b| self.mark(a.ms) == self.mark(b.ms))
            .filter_map(|same| mean(self.mark(same.first()?.ms), same))
            .collect();
        let last_ms = readings.last()?.ms;
        let held = already(room, self.day);
        let wanted = wanted(&means, held.as_ref());
        let write = (!wanted.is_empty()).then(|| Draft {
            at_ms: held
                .as_ref()
                .map_or(last_ms, |h| h.latest.at_ms.max(last_ms)),
            climate: Climate {
                room: room.clone(),
                day: self.day,
                readings: wanted,
            },
        });
        Some(PlannedDay {
            room: room.clone(),
            day: self.day,
            rows: readings.len(),
            fate: fate(write.as_ref(), held.as_ref()),
            means,
            write,
        })
    }
}

/// The means that the farm does not hold as they are. A mean without humidity is held where the
/// temperature is.
fn wanted(means: &[Reading], held: Option<&RoomReadings>) -> Vec<Reading> {
    let is_held = |mean: &Reading| {
        let same = held.and_then(|h| at(h, mean.minute));
        same.is_some_and(|h| {
            h.air == mean.air && (mean.humidity.is_none() || h.humidity == mean.humidity)
        })
    };
    means.iter().filter(|m| !is_held(m)).copied().collect()
}

fn at(held: &RoomReadings, minute: u16) -> Option<&Reading> {
    let place = held.readings.binary_search_by_key(&minute, |r| r.minute);
    held.readings.get(place.ok()?)
}

fn fate(write: Option<&Draft>, held: Option<&RoomReadings>) -> DayFate {
    match (write, held) {
        (None, _) => DayFate::Same,
        (Some(_), None) => DayFate::New,
        (Some(draft), Some(held)) => {
            let all = &draft.climate.readings;
            let changed = all.iter().filter(|r| at(held, r.minute).is_some()).count();
            DayFate::Adds {
                added: all.len() - changed,
                changed,
            }
        }
    }
}

fn mean(mark: i64, same: &[Raw]) -> Option<Reading> {
    let humidity = average(same.iter().filter_map(|r| r.humidity));
    Some(Reading {
        minute: u16::try_from(mark).ok()?,
        air: TemperatureC::new(average(same.iter().map(|r| r.air))?).ok()?,
        humidity: humidity.and_then(|h| Percent::new(h).ok()),
    })
}

/// To hundredths: no sensor of a barn tells more.
fn average(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = values.fold((0.0, 0), |(sum, count), v| (sum + v, count + 1));
    (count > 0).then(|| (sum / f64::from(count) * 100.0).round() / 100.0)
}
