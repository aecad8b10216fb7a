//! What a person should look at although it was stored.

use super::error::StoreError;
use super::tables::{Tables, author_key, entry_at, split};
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::id::EntryId;
use pentally_domain::time::Clock;
use redb::ReadableTable;
use serde::{Deserialize, Serialize};

/// What is odd about one stored entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Alarm {
    /// The entry.
    pub entry: EntryId,
    /// It does not follow the entry stored before it on its device: two histories of one device.
    #[serde(default)]
    pub thread_broken: bool,
    /// Its clock stood so many ms ahead of the server's when it arrived, and was not followed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clock_ahead_ms: Option<i64>,
}

/// Looks at the neighbours of the entry just stored as `n`, and at its clock.
pub(super) fn raise(
    t: &mut Tables<'_>,
    n: u64,
    entry: &Entry,
    now_ms: i64,
) -> Result<(), StoreError> {
    let e = entry.envelope();
    if !follows(t, entry)? {
        keep(t, n, e.id, |alarm| alarm.thread_broken = true)?;
    }
    if let Some(next) = neighbour(t, entry, e.seq + 1)?
        && entry_at(&t.log, next)?.envelope().prev != entry.hash()
    {
        let id = entry_at(&t.log, next)?.envelope().id;
        keep(t, next, id, |alarm| alarm.thread_broken = true)?;
    }
    let ahead_ms = e.clock.ms.saturating_sub(now_ms);
    if ahead_ms > Clock::TRUSTED_LEAD_MS {
        keep(t, n, e.id, |alarm| alarm.clock_ahead_ms = Some(ahead_ms))?;
    }
    Ok(())
}

/// The first entry follows nothing; an entry whose predecessor has not arrived cannot be judged yet.
fn follows(t: &Tables<'_>, entry: &Entry) -> Result<bool, StoreError> {
    let e = entry.envelope();
    if e.seq == 1 {
        return Ok(e.prev == Hash::NONE);
    }
    let Some(before) = neighbour(t, entry, e.seq - 1)? else {
        return Ok(true);
    };
    match t.log.get(before)? {
        // The stored bytes are hashed as they are: decoding them would cost more than the rest of a push.
        Some(value) => Ok(Hash::of(&[split(value.value())?.1]) == e.prev),
        None => Err(StoreError::damaged(format!(
            "entry {before} is missing from the log"
        ))),
    }
}

fn neighbour(t: &Tables<'_>, entry: &Entry, seq: u64) -> Result<Option<u64>, StoreError> {
    let n = t
        .by_author
        .get(&author_key(entry.envelope().device, seq))?
        .map(|n| n.value());
    Ok(n.filter(|n| *n > 0))
}

fn keep(
    t: &mut Tables<'_>,
    n: u64,
    entry: EntryId,
    change: impl FnOnce(&mut Alarm),
) -> Result<(), StoreError> {
    let fresh = Alarm {
        entry,
        thread_broken: false,
        clock_ahead_ms: None,
    };
    let mut alarm = t
        .alarms
        .get(n)?
        .map_or(Ok(fresh), |v| serde_json::from_slice(v.value()))?;
    change(&mut alarm);
    t.alarms.insert(n, serde_json::to_vec(&alarm)?.as_slice())?;
    Ok(())
}
