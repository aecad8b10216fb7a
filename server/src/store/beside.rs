//! Personal data beside the log, which can be erased without breaking the chain.

use super::aside::{self, SetAside};
use super::error::StoreError;
use super::tables::Tables;
use pentally_domain::id::DeviceId;
use pentally_domain::sync::{Aside, Beside};
use redb::ReadableTable;

/// The longest text of personal data, in bytes.
pub const BESIDE_MAX_BYTES: usize = 2_000;

/// Keeps personal data; the latest holds. A text that is too long is set aside.
pub(super) fn put_beside(
    t: &mut Tables<'_>,
    beside: &Beside,
    sender: DeviceId,
    now_ms: i64,
) -> Result<(), StoreError> {
    if beside
        .text
        .as_ref()
        .is_some_and(|text| text.len() > BESIDE_MAX_BYTES)
    {
        let detail = format!("beside.text has more than {BESIDE_MAX_BYTES} bytes");
        let text = serde_json::to_string(beside)?;
        return aside::keep(
            t,
            &SetAside {
                received_at_ms: now_ms,
                sender,
                reason: Aside::Bounds { detail },
                text,
            },
        );
    }
    let key = beside.entry.uuid();
    let stored = t
        .beside
        .get(key.as_bytes())?
        .map(|v| serde_json::from_slice::<Beside>(v.value()))
        .transpose()?;
    if stored.is_none_or(|s| s.set_at_ms < beside.set_at_ms) {
        t.beside
            .insert(key.as_bytes(), serde_json::to_vec(beside)?.as_slice())?;
    }
    Ok(())
}
