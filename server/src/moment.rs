//! The server's clock and its chance: the one place that asks the operating system for either.

use crate::store::Birth;
use std::io;
use std::time::{SystemTime, UNIX_EPOCH};

/// Milliseconds since 1970, UTC.
pub fn now_ms() -> i64 {
    let since = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}

/// Ten fresh random bytes, as identities need them.
pub fn random() -> io::Result<[u8; 10]> {
    let mut bytes = [0; 10];
    getrandom::fill(&mut bytes).map_err(|e| io::Error::other(format!("no random bytes: {e}")))?;
    Ok(bytes)
}

/// What a new store or a new device is born with.
pub fn birth() -> io::Result<Birth> {
    Ok(Birth {
        now_ms: now_ms(),
        random: random()?,
    })
}
