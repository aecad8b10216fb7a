//! What travels between a device and the server, and how one entry is judged.

use crate::envelope::{Entry, EntryError, Hash};
use crate::fact::{Fact, FactError};
use crate::id::{DeviceId, EntryId, Epoch, FarmId};
use crate::pairing::Role;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use std::collections::BTreeMap;

/// The version of this conversation; each request says it.
pub const PROTOCOL: u32 = 1;
/// The largest request or page of an answer, in bytes.
pub const PAGE_MAX_BYTES: usize = 1024 * 1024;
/// How long a device keeps an entry at least, in days, and then until a backup covers it.
pub const HOLD_DAYS: i64 = 90;

/// A place in the server's log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cursor {
    /// Which unbroken history.
    pub epoch: Epoch,
    /// How many entries.
    pub n: u64,
    /// The hash of the log after them.
    pub hash: Hash,
}

/// Personal data that lives beside the log: the latest text of one entry, or none once erased.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Beside {
    /// The entry it belongs to, such as the one that introduced a person.
    pub entry: EntryId,
    /// The text; none when erased.
    pub text: Option<String>,
    /// When it was set (ms since 1970): the latest holds.
    pub set_at_ms: i64,
}

/// `POST /api/v1/sync`: a device hands over what it holds, its own and others'.
#[derive(Debug, Serialize, Deserialize)]
pub struct Push {
    /// See [`PROTOCOL`].
    pub protocol: u32,
    /// Who sends; the entries may be of others.
    pub device: DeviceId,
    /// Where the device believes the server stands.
    #[serde(default)]
    pub cursor: Option<Cursor>,
    /// The lowest sequence of its own that the sender still holds; what is missing below is lost.
    #[serde(default)]
    pub floor: Option<u64>,
    /// How many of its entries wait, these included.
    #[serde(default)]
    pub unsent: u64,
    /// The entries, each one JSON object; judged one by one.
    pub entries: Vec<Box<RawValue>>,
    /// Personal data set on the device.
    #[serde(default)]
    pub beside: Vec<Beside>,
}

/// What became of one entry. All four count as received.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "result", rename_all = "snake_case")]
pub enum Fate {
    /// In the log now.
    Stored,
    /// Was in the log: same identity, same bytes.
    Duplicate,
    /// Same identity, or same device and sequence, with other bytes: kept apart, an alarm.
    Conflict {
        /// Which of the two.
        reason: Aside,
    },
    /// Kept whole, apart from the log, for a person to look at.
    SetAside {
        /// Why.
        reason: Aside,
    },
}

/// Why an entry stands apart from the log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "snake_case")]
pub enum Aside {
    /// A newer envelope.
    NewerEnvelope,
    /// Not an entry.
    Malformed {
        /// What the reader said.
        detail: String,
    },
    /// A field outside its bounds, or a fact that cannot be.
    Bounds {
        /// What was read and what would be right.
        detail: String,
    },
    /// The body does not read.
    Body {
        /// What the reader said.
        detail: String,
    },
    /// Another farm's entry.
    OtherFarm,
    /// This identity stands in the log with other bytes.
    SameId,
    /// This sequence of this device stands in the log with another entry.
    SameSequence,
    /// The device that brought it had been shut out.
    ShutOut,
}

/// The server's answer to a [`Push`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Receipt {
    /// See [`PROTOCOL`].
    pub protocol: u32,
    /// Whose log this is.
    pub farm: FarmId,
    /// One fate for each entry sent, in order.
    pub fates: Vec<Fate>,
    /// The highest sequence up to which the server has everything, per device sent and the sender.
    pub contiguous: BTreeMap<DeviceId, u64>,
    /// The highest sequence known at all of the sender, received out of order or not.
    pub highest: u64,
    /// Where the log stands.
    pub cursor: Cursor,
    /// The sender's cursor is not of this history: send again all that is held.
    pub resend: bool,
    /// Up to here a verified backup covers the sender's entries.
    pub backed_up: u64,
    /// The server's clock (ms since 1970).
    pub now_ms: i64,
}

/// `GET /api/v1/summaries`: the ledgers that changed after a cursor.
#[derive(Debug, Serialize, Deserialize)]
pub struct Page {
    /// See [`PROTOCOL`].
    pub protocol: u32,
    /// Where to go on; the log's end on the last page.
    pub cursor: Cursor,
    /// The history is another: forget what was pulled before and begin with this page.
    pub restart: bool,
    /// The place where the asker last saw the log is not of this history: send again all that is
    /// held.
    #[serde(default)]
    pub apart: bool,
    /// Another page follows.
    pub more: bool,
    /// Where the log ends when another page follows. This page leaves out what changed again before
    /// that end, so its cursor is worth something only in a history that reaches it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<Cursor>,
    /// Per device, the sequence up to which these ledgers include everything. Holds once no page follows.
    pub includes: BTreeMap<DeviceId, u64>,
    /// The ledgers.
    pub ledgers: Vec<Box<RawValue>>,
    /// Personal data, all of it, on the first page.
    pub beside: Vec<Beside>,
    /// When the server wrote this (ms since 1970).
    pub as_of_ms: i64,
    /// The part under which the office knows the asker; it decides which ledgers are handed out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    /// What each boar is expected to give, the text of an [`crate::output::Outlook`], where it is
    /// another than the asker has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outlook: Option<String>,
}

/// What could be made of one element of a push.
#[derive(Debug, Clone, PartialEq)]
pub enum Judged {
    /// An entry of this farm; its fact, unless only a newer program knows the kind.
    Entry(Box<Entry>, Option<Box<Fact>>),
    /// To be set aside.
    Aside(Aside),
}

/// Judges one element by itself; whether it is new is the store's to say.
pub fn judge(line: &str, farm: FarmId) -> Judged {
    match Entry::from_line(line) {
        Ok(entry) => judge_entry(entry, farm),
        Err(EntryError::NewerEnvelope { .. }) => Judged::Aside(Aside::NewerEnvelope),
        Err(EntryError::Malformed { detail }) => Judged::Aside(Aside::Malformed { detail }),
        Err(error @ EntryError::Bounds { .. }) => Judged::Aside(Aside::Bounds {
            detail: error.to_string(),
        }),
    }
}

fn judge_entry(entry: Entry, farm: FarmId) -> Judged {
    if entry.envelope().farm != farm {
        return Judged::Aside(Aside::OtherFarm);
    }
    match Fact::of(entry.envelope()) {
        Ok(fact) => Judged::Entry(Box::new(entry), fact.map(Box::new)),
        Err(error @ FactError::Body { .. }) => Judged::Aside(Aside::Body {
            detail: error.to_string(),
        }),
        Err(error @ FactError::Impossible { .. }) => Judged::Aside(Aside::Bounds {
            detail: error.to_string(),
        }),
    }
}

/// What a receipt tells the sender to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Orders {
    /// Mark everything held as unsent.
    pub resend: bool,
    /// The server knows more of this device than the device itself: it was rolled back.
    pub new_device: bool,
}

/// Reads a receipt against the sender's own last sequence.
pub const fn orders(receipt: &Receipt, own_seq: u64) -> Orders {
    Orders {
        resend: receipt.resend,
        new_device: receipt.highest > own_seq,
    }
}
