//! Personal data beside the log, which can be erased without breaking the chain.

use super::aside::{self, SetAside};
use super::error::StoreError;
use super::tables::Tables;
use pentally_domain::id::DeviceId;
use pentally_domain::sync::{Aside, Beside};
use pentally_domain::time::Clock;
use redb::ReadableTable;

/// The longest text of personal data, in bytes.
pub const BESIDE_MAX_BYTES: usize = 2_000;

/// Takes personal data in; see [`news`]. A text that is too long is set aside. Says whether it changed
/// what stands. `now_ms` is the server's clock.
pub(super) fn put_beside(
    t: &mut Tables<'_>,
    beside: &Beside,
    sender: DeviceId,
    now_ms: i64,
) -> Result<bool, StoreError> {
    if let Some(reason) = refused(beside) {
        let apart = SetAside {
            received_at_ms: now_ms,
            sender,
            reason,
            text: serde_json::to_string(beside)?,
        };
        return aside::keep(t, &apart);
    }
    match news(standing(t, beside)?.as_ref(), beside, now_ms) {
        Some(news) => keep(t, &news).map(|()| true),
        None => Ok(false),
    }
}

/// Keeps personal data as it is, unjudged: it was judged when it first came.
pub(super) fn keep(t: &mut Tables<'_>, beside: &Beside) -> Result<(), StoreError> {
    let value = serde_json::to_vec(beside)?;
    t.beside
        .insert(beside.entry.uuid().as_bytes(), value.as_slice())?;
    Ok(())
}

/// Whether it would change what stands.
pub(super) fn is_news(t: &Tables<'_>, beside: &Beside, now_ms: i64) -> Result<bool, StoreError> {
    Ok(news(standing(t, beside)?.as_ref(), beside, now_ms).is_some())
}

/// Why it cannot stand beside the log; none if it can.
pub(super) fn refused(beside: &Beside) -> Option<Aside> {
    let is_long = |text: &String| text.len() > BESIDE_MAX_BYTES;
    beside.text.as_ref().is_some_and(is_long).then(|| {
        let detail = format!("beside.text has more than {BESIDE_MAX_BYTES} bytes");
        Aside::Bounds { detail }
    })
}

fn standing(t: &Tables<'_>, beside: &Beside) -> Result<Option<Beside>, StoreError> {
    let stored = t.beside.get(beside.entry.uuid().as_bytes())?;
    Ok(stored
        .map(|v| serde_json::from_slice(v.value()))
        .transpose()?)
}

/// What stands from now on, if that changes: the latest holds. A clock far in the future says nothing
/// about when, as with entries ([`Clock::TRUSTED_LEAD_MS`]): what it dates holds as of its arrival,
/// and gives way to the next. An erasure holds whatever it is dated; only a name that a sound
/// clock dates later comes after it. Devices take what is dated later, so each change is.
fn news(stands: Option<&Beside>, said: &Beside, now_ms: i64) -> Option<Beside> {
    let is_far = |b: &Beside| b.set_at_ms.saturating_sub(now_ms) > Clock::TRUSTED_LEAD_MS;
    let said_at_ms = if is_far(said) { now_ms } else { said.set_at_ms };
    let Some(stands) = stands else {
        return Some(Beside {
            set_at_ms: said_at_ms,
            ..said.clone()
        });
    };
    let holds = match (&stands.text, &said.text) {
        (Some(_), None) => true,
        (None, None) => false,
        (None, Some(_)) => !is_far(said) && said.set_at_ms > stands.set_at_ms,
        (Some(before), Some(now)) if is_far(said) || is_far(stands) => before != now,
        (Some(_), Some(_)) => said.set_at_ms > stands.set_at_ms,
    };
    holds.then(|| Beside {
        set_at_ms: said_at_ms.max(stands.set_at_ms.saturating_add(1)),
        ..said.clone()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::id::EntryId;
    use pentally_domain::time::DAY_MS;

    const NOW_MS: i64 = 1_780_000_000_000;
    const YEARS_MS: i64 = 3_650 * DAY_MS;

    fn said(text: Option<&str>, set_at_ms: i64) -> Beside {
        Beside {
            entry: EntryId::v7(1, [1; 10]),
            text: text.map(Into::into),
            set_at_ms,
        }
    }

    /// What stands after all of that was said, each a minute after the one before.
    fn after(all: &[Beside]) -> Beside {
        let mut stands: Option<Beside> = None;
        for (n, said) in (0..).zip(all) {
            stands = news(stands.as_ref(), said, NOW_MS + n * 60_000).or(stands);
        }
        stands.unwrap()
    }

    #[test]
    fn a_clock_years_ahead_freezes_no_name() {
        let ahead = said(Some("Ana"), NOW_MS + YEARS_MS);
        assert_eq!(after(std::slice::from_ref(&ahead)).set_at_ms, NOW_MS);
        let renamed = said(Some("Bea"), NOW_MS + 60_000);
        assert_eq!(after(&[ahead.clone(), renamed.clone()]), renamed);
        let erased = said(None, NOW_MS + 60_000);
        assert_eq!(after(&[ahead.clone(), erased.clone()]), erased);
        let again = [ahead.clone(), erased, ahead.clone()];
        assert_eq!(after(&again).text, None, "sent again");
        // A store from before may hold such a date: phones that hold it too must see the change as later.
        let now = news(Some(&ahead), &renamed, NOW_MS).unwrap();
        assert_eq!(
            (now.text.as_deref(), now.set_at_ms),
            (Some("Bea"), NOW_MS + YEARS_MS + 1)
        );
        assert_eq!(news(Some(&ahead), &ahead, NOW_MS), None);
    }

    #[test]
    fn an_erasure_holds_whatever_it_is_dated() {
        let ana = said(Some("Ana"), NOW_MS + DAY_MS / 2);
        let stands = after(&[ana.clone(), said(None, 5), ana.clone()]);
        assert_eq!(stands, said(None, ana.set_at_ms + 1));
        let anew = said(Some("Bea"), ana.set_at_ms + 60_000);
        assert_eq!(after(&[ana, said(None, 5), anew.clone()]), anew);
    }

    #[test]
    fn under_a_server_clock_that_was_never_set_names_hold_as_they_come() {
        let mut stands = said(Some("Ana"), NOW_MS);
        for name in ["Bea", "Cleo"] {
            stands = news(Some(&stands), &said(Some(name), NOW_MS + 5), 0).unwrap();
        }
        assert_eq!(stands.text.as_deref(), Some("Cleo"));
    }
}
