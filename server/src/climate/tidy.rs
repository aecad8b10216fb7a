//! Readings in order, each stamp once, with a word on what is odd about them.

use super::header::Field;
use super::plan::{Conflict, Gap, Stuck, Told};
use super::read::{Raw, Taken};
use pentally_domain::said::Label;
use pentally_domain::time::{DAY_MS, HOUR_MS, Zone};

/// The readings of a file, by room and time.
pub(super) struct Tidy {
    /// The rooms.
    pub rooms: Vec<Label>,
    /// By room and time, each stamp of a room once.
    pub readings: Vec<Raw>,
    /// What deserves a word.
    pub told: Told,
}

/// A silence longer than this, and twice as long as the file's usual one, is told (common practice, no source).
const GAP_MS: i64 = HOUR_MS;
/// A value that stands still so long is told, if it was read so often (common practice, no source).
const STUCK_MS: i64 = DAY_MS;
const STUCK_READINGS: usize = 12;

/// Sorts, drops doubles and looks for what is odd.
pub(super) fn tidy(taken: Taken, zone: &Zone) -> Tidy {
    let mut all = taken.readings;
    all.sort_unstable_by_key(|r| (r.room, r.ms, r.line));
    let mut tidy = Tidy {
        rooms: taken.rooms,
        readings: Vec::with_capacity(all.len()),
        told: taken.told,
    };
    for same in all.chunk_by(|a, b| (a.room, a.ms) == (b.room, b.ms)) {
        tidy.keep_last(same, zone);
    }
    tidy.told.taken = tidy.readings.len();
    let rooms: Vec<_> = tidy.readings.chunk_by(|a, b| a.room == b.room).collect();
    for (readings, room) in rooms
        .into_iter()
        .filter_map(|r| Some((r, tidy.rooms.get(r.first()?.room)?)))
    {
        gaps(&mut tidy.told, room, readings, zone);
        stuck(
            &mut tidy.told,
            room,
            readings,
            Field::Temperature,
            zone,
            |r| Some(r.air),
        );
        stuck(&mut tidy.told, room, readings, Field::Humidity, zone, |r| {
            r.humidity
        });
    }
    tidy
}

impl Tidy {
    fn keep_last(&mut self, same: &[Raw], zone: &Zone) {
        for pair in same.windows(2) {
            let [earlier, later] = pair else { continue };
            if (earlier.air, earlier.humidity) == (later.air, later.humidity) {
                self.told.doubled += 1;
            } else if let Ok(at) = zone.stamp(later.ms) {
                self.told.conflicts.push(Conflict {
                    line: later.line,
                    instead_of: earlier.line,
                    at,
                });
            }
        }
        self.readings.extend(same.last());
    }
}

fn gaps(told: &mut Told, room: &Label, readings: &[Raw], zone: &Zone) {
    let apart = |pair: &[Raw]| match pair {
        [a, b] => b.ms - a.ms,
        _ => 0,
    };
    let mut usual: Vec<i64> = readings.windows(2).map(apart).collect();
    usual.sort_unstable();
    let usual = usual.get(usual.len() / 2).copied().unwrap_or(0);
    let long = GAP_MS.max(2 * usual);
    for pair in readings.windows(2).filter(|pair| apart(pair) > long) {
        if let [a, b] = pair
            && let (Ok(from), Ok(to)) = (zone.stamp(a.ms), zone.stamp(b.ms))
        {
            let room = room.clone();
            told.gaps.push(Gap { room, from, to });
        }
    }
}

fn stuck(
    told: &mut Told,
    room: &Label,
    readings: &[Raw],
    field: Field,
    zone: &Zone,
    value: impl Fn(&Raw) -> Option<f64>,
) {
    for run in readings.chunk_by(|a, b| value(a) == value(b)) {
        let ([from, .., to], Some(still)) = (run, run.first().and_then(&value)) else {
            continue;
        };
        let long = run.len() >= STUCK_READINGS && to.ms - from.ms >= STUCK_MS;
        if let (true, Ok(from), Ok(to)) = (long, zone.stamp(from.ms), zone.stamp(to.ms)) {
            told.stuck.push(Stuck {
                room: room.clone(),
                field,
                value: still,
                readings: run.len(),
                from,
                to,
            });
        }
    }
}
