//! What the office already has of something that arrives.

use super::aside;
use super::error::StoreError;
use super::tables::{Tables, author_key, split};
use pentally_domain::envelope::Entry;
use pentally_domain::id::FarmId;
use pentally_domain::sync::{Aside, Fate};
use redb::ReadableTable;

/// What the log says about an entry: a duplicate, a conflict, or nothing.
pub(super) fn of(t: &Tables<'_>, entry: &Entry) -> Result<Option<Fate>, StoreError> {
    let e = entry.envelope();
    if let Some(n) = t.by_id.get(e.id.uuid().as_bytes())?.map(|n| n.value()) {
        let stored = t
            .log
            .get(n)?
            .ok_or_else(|| StoreError::damaged(format!("entry {n} is missing from the log")))?;
        let same = split(stored.value())?.1 == entry.to_bytes();
        return Ok(Some(if same {
            Fate::Duplicate
        } else {
            conflict(Aside::SameId)
        }));
    }
    let taken = t
        .by_author
        .get(&author_key(e.device, e.seq))?
        .is_some_and(|n| n.value() > 0);
    Ok(taken.then(|| conflict(Aside::SameSequence)))
}

/// The same of a text whose body this program does not read. Taken for new, a rolled-back phone
/// that reuses a sequence would not learn of it, and what it wrote would be missed by nobody
/// once this office goes back to where it stood.
pub(super) fn of_unread(
    t: &Tables<'_>,
    text: &str,
    farm: FarmId,
) -> Result<Option<Fate>, StoreError> {
    let Ok(entry) = Entry::from_line(text) else {
        return Ok(None);
    };
    if entry.envelope().farm != farm {
        return Ok(None);
    }
    if let Some(fate) = of(t, &entry)? {
        return Ok(Some(fate));
    }
    // The answer may have got lost: it is given again.
    match aside::reason(t, text)? {
        Some(reason @ (Aside::SameId | Aside::SameSequence)) => Ok(Some(conflict(reason))),
        Some(_) => Ok(None),
        None => {
            let author = author_key(entry.envelope().device, entry.envelope().seq);
            let taken = t.by_author.get(&author)?.is_some();
            Ok(taken.then(|| conflict(Aside::SameSequence)))
        }
    }
}

const fn conflict(reason: Aside) -> Fate {
    Fate::Conflict { reason }
}
