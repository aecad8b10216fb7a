//! What arrived and could not join the log: kept whole, for a person to look at.

use super::error::StoreError;
use super::tables::{Tables, author_key};
use pentally_domain::envelope::{Hash, NUMBER_MAX};
use pentally_domain::id::DeviceId;
use pentally_domain::sync::Aside;
use redb::ReadableTable;
use serde::{Deserialize, Serialize};

/// One text that stands apart from the log, letter for letter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// When it first arrived (ms since 1970).
    pub received_at_ms: i64,
    /// Who brought it.
    pub sender: DeviceId,
    /// Why it stands apart.
    pub reason: Aside,
    /// The text as it came.
    pub text: String,
}

/// Keeps a text, the same text once only; says whether it is new.
pub(super) fn keep(t: &mut Tables<'_>, aside: &SetAside) -> Result<bool, StoreError> {
    let hash = Hash::of(&[aside.text.as_bytes()]);
    if t.aside_by_hash.get(hash.bytes())?.is_some() {
        return Ok(false);
    }
    let number = t.aside.last()?.map_or(0, |(number, _)| number.value()) + 1;
    t.aside
        .insert(number, serde_json::to_vec(aside)?.as_slice())?;
    t.aside_by_hash.insert(hash.bytes(), number)?;
    Ok(true)
}

/// Why that very text stands apart; none if it does not.
pub(super) fn reason(t: &Tables<'_>, text: &str) -> Result<Option<Aside>, StoreError> {
    let hash = Hash::of(&[text.as_bytes()]);
    let Some(number) = t.aside_by_hash.get(hash.bytes())?.map(|n| n.value()) else {
        return Ok(None);
    };
    let kept = t.aside.get(number)?;
    let kept = kept.ok_or_else(|| StoreError::damaged(format!("text {number} is missing")))?;
    let kept: SetAside = serde_json::from_slice(kept.value())?;
    Ok(Some(kept.reason))
}

/// Lets go of what stands in the log now.
pub(super) fn drop(t: &mut Tables<'_>, number: u64, aside: &SetAside) -> Result<(), StoreError> {
    let hash = Hash::of(&[aside.text.as_bytes()]);
    t.aside.remove(number)?;
    t.aside_by_hash.remove(hash.bytes())?;
    Ok(())
}

/// The author and sequence of a text, where they can be read at all: so that the device need not
/// send it again, and what follows is not held up.
pub(super) fn author(text: &str) -> Option<(DeviceId, u64)> {
    #[derive(Deserialize)]
    struct Named {
        device: DeviceId,
        seq: u64,
    }
    let named: Named = serde_json::from_str(text).ok()?;
    (1..=NUMBER_MAX)
        .contains(&named.seq)
        .then_some((named.device, named.seq))
}

/// Marks a sequence as received apart from the log, unless an entry of it stands in the log.
pub(super) fn mark(t: &mut Tables<'_>, device: DeviceId, seq: u64) -> Result<(), StoreError> {
    let key = author_key(device, seq);
    if t.by_author.get(&key)?.is_none() {
        t.by_author.insert(&key, 0)?;
    }
    Ok(())
}
