//! What a device brings that was shut out: kept whole, apart from the log, until the office takes it in.
//!
//! Such a device may be in anybody's hands. It speaks for itself only, and what it may leave here is
//! bounded; beyond that nothing is acknowledged, so that it keeps what it has.

use super::Store;
use super::aside::{self, SetAside};
use super::beside::{self, put_beside};
use super::error::StoreError;
use super::paired::{Paired, put};
use super::push::{Taking, lines};
use super::tables::Tables;
use pentally_domain::id::DeviceId;
use pentally_domain::sync::{Aside, Beside, Fate, Push, Receipt};
use redb::ReadableTable;

/// How much a device may leave here once it was shut out, in bytes: several times what a phone holds
/// that was never heard. Not given back when the office takes it in; letting the device in anew is.
pub const APART_MAX_BYTES: u64 = 16 * 1024 * 1024;
/// What it costs to speak under an identity that nobody heard of.
const IDENTITY_BYTES: u64 = 1024;

impl Store {
    /// Takes in what a device hands over that was shut out, whose token has this hash: what is new of
    /// it stands apart, entries and names alike.
    pub fn push_apart(
        &self,
        token: &[u8; 32],
        push: &Push,
        now_ms: i64,
    ) -> Result<Receipt, StoreError> {
        self.write(|t| {
            let mut paired = speaker(t, token, push.device)?;
            let mut taking = Taking::begin(t, push.device, now_ms)?.shut_out();
            let fates = taking.take_all(t, &lines(push))?;
            for beside in &push.beside {
                let reason = match beside::refused(beside) {
                    None if !beside::is_news(t, beside, now_ms)? => continue,
                    reason => reason.unwrap_or(Aside::ShutOut),
                };
                taking.keep_aside(t, &serde_json::to_string(beside)?, &reason)?;
            }
            paired.apart_bytes += taking.kept_bytes();
            if taking.kept_bytes() > 0 && paired.apart_bytes > APART_MAX_BYTES {
                return Err(StoreError::ApartFull);
            }
            put(t, token, &paired)?;
            let (receipt, sender) = taking.finish(t, push)?;
            Ok(Receipt {
                fates,
                backed_up: sender.backed_up,
                highest: sender.highest,
                ..receipt
            })
        })
    }

    /// Takes in what stands apart only because its device had been shut out: an entry into the log, a
    /// name beside it. What became of it; none if nothing of that number stands apart for that reason.
    pub fn accept(&self, number: u64, now_ms: i64) -> Result<Option<Fate>, StoreError> {
        self.write(|t| {
            let stored = t.aside.get(number)?.map(|v| v.value().to_vec());
            let Some(stored) = stored else {
                return Ok(None);
            };
            let apart: SetAside = serde_json::from_slice(&stored)?;
            if apart.reason != Aside::ShutOut {
                return Ok(None);
            }
            let fate = take_in(t, &apart, now_ms)?;
            if matches!(fate, Fate::Stored | Fate::Duplicate) {
                aside::drop(t, number, &apart)?;
            }
            Ok(Some(fate))
        })
    }
}

fn take_in(t: &mut Tables<'_>, apart: &SetAside, now_ms: i64) -> Result<Fate, StoreError> {
    if let Ok(name) = serde_json::from_str::<Beside>(&apart.text) {
        let is_news = put_beside(t, &name, apart.sender, now_ms)?;
        return Ok(if is_news {
            Fate::Stored
        } else {
            Fate::Duplicate
        });
    }
    let mut taking = Taking::begin(t, apart.sender, now_ms)?;
    let fate = taking.take(t, &apart.text)?;
    taking.settle(t)?;
    taking.write(t)?;
    Ok(fate)
}

/// Who speaks, if it may as that device: one it sent as before it was shut out, or since as the first.
fn speaker(t: &Tables<'_>, token: &[u8; 32], device: DeviceId) -> Result<Paired, StoreError> {
    let mut speaker: Option<Paired> = None;
    let mut is_taken = false;
    for item in t.paired.iter()? {
        let (key, value) = item?;
        let paired: Paired = serde_json::from_slice(value.value())?;
        if key.value() == token {
            speaker = Some(paired);
        } else {
            is_taken |= paired.device == Some(device) && paired.revoked_ms.is_none();
        }
    }
    let mut speaker = speaker.filter(|_| !is_taken).ok_or(StoreError::Another)?;
    if speaker.device != Some(device) {
        if t.devices.get(device.uuid().as_bytes())?.is_some() {
            return Err(StoreError::Another);
        }
        speaker.device = Some(device);
        speaker.apart_bytes += IDENTITY_BYTES;
        if speaker.apart_bytes > APART_MAX_BYTES {
            return Err(StoreError::ApartFull);
        }
    }
    Ok(speaker)
}
