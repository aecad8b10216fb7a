//! How a phone and the office come to know each other: what they say over the wire.

use crate::fact::Subject;
use crate::id::DeviceId;
use crate::said::Label;
use serde::{Deserialize, Serialize};

/// How long an offer to pair stands, in ms.
pub const OFFER_MS: i64 = 10 * 60_000;
/// How many wrong codes end all codes that are shown.
pub const CODE_TRIES: u8 = 5;
/// The fewest characters of the owner's passphrase.
pub const PASSPHRASE_MIN: usize = 12;
/// The most characters of the owner's passphrase.
pub const PASSPHRASE_MAX: usize = 200;

/// What a paired device may do; each may do what stands before it too. What it is handed to hold is
/// another thing: see [`Role::holds`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Collects, makes doses, and looks after boars and sows.
    Barn,
    /// Stands at the bench: the same, but it holds no sows.
    Laboratory,
    /// Everything: settings, the log, imports, backups, other devices.
    Office,
}

impl Role {
    /// Whether a device with this part is handed the ledger of a subject.
    pub const fn holds(self, subject: Subject) -> bool {
        self.holds_sows() || !matches!(subject, Subject::Sow(_))
    }

    /// A laboratory weighs, judges and fills; a farm's thousands of sows are no business of a device
    /// that may stand in another house.
    pub const fn holds_sows(self) -> bool {
        !matches!(self, Self::Laboratory)
    }
}

/// `POST /api/v1/pairings`: the office wants to let a device in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OfferAsked {
    /// What it may do.
    pub role: Role,
}

/// The answer: an offer that stands for ten minutes and for one device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Offer {
    /// Its number.
    pub n: u64,
    /// The address to open on the device, with the secret behind `#`.
    pub address: String,
    /// The address as a symbol to scan: an SVG.
    pub symbol: String,
    /// Eight digits to type where nothing can be scanned.
    pub code: String,
    /// Until when it stands (ms since 1970).
    pub until_ms: i64,
}

/// `GET /api/v1/pairings`: the offers that stand, a list of these.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Standing {
    /// Its number.
    pub n: u64,
    /// What the device may do.
    pub role: Role,
    /// Until when it stands (ms since 1970).
    pub until_ms: i64,
    /// What the device that asks to come in calls itself; the office confirms that this is the
    /// device at hand. None while nobody asked.
    pub name: Option<Label>,
    /// The office said yes.
    pub confirmed: bool,
}

/// `POST /api/v1/pairings/answer`: the office looked at the name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// Which offer.
    pub n: u64,
    /// Whether the device may come in.
    pub yes: bool,
}

/// `POST /api/v1/pair`: a device asks to come in, with the secret it scanned or the code typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Knock {
    /// What stood behind `#`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub secret: Option<String>,
    /// The eight digits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<String>,
    /// What the device is called from now on.
    pub name: Label,
}

/// The answer to a [`Knock`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Knocked {
    /// To be said with [`Finish`].
    pub claim: String,
    /// Until when the office can say yes (ms since 1970).
    pub until_ms: i64,
}

/// `POST /api/v1/pair/finish`: has the office looked? Asked every other second.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finish {
    /// From [`Knocked`].
    pub claim: String,
}

/// The answer to a [`Finish`]. With `paired` comes the cookie by which the device is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "state")]
pub enum Finished {
    /// Not yet.
    Waiting,
    /// The office said no.
    Refused,
    /// The ten minutes are over, or the office was restarted.
    Over,
    /// Welcome.
    Paired {
        /// What the device may do.
        role: Role,
    },
}

/// `GET /api/v1/paired`: every device that was let in, a list of these.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairedDevice {
    /// Its number.
    pub n: u64,
    /// What it is called.
    pub name: Label,
    /// What it may do.
    pub role: Role,
    /// When it was let in (ms since 1970).
    pub since_ms: i64,
    /// When it was shut out (ms since 1970).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revoked_ms: Option<i64>,
    /// Under which identity it last sent; `GET /api/v1/devices` has more about that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub device: Option<DeviceId>,
    /// When it was last heard of (ms since 1970).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_seen_ms: Option<i64>,
    /// How many entries it said were waiting on it, when it was last heard of.
    #[serde(default)]
    pub unsent: u64,
}

/// `POST /api/v1/paired/revoke`: shuts a device out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Revoke {
    /// Which.
    pub n: u64,
}

/// `POST /api/v1/login`: a browser that knows the owner's passphrase becomes an office.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Login {
    /// The owner's.
    pub passphrase: String,
    /// What this browser is called from now on.
    pub name: Label,
}

/// `GET /api/v1/network`: where the barn is on the farm's network.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Network {
    /// The address on the tags, such as `https://barn.local:8443`; none while the barn is open on
    /// this machine only.
    pub origin: Option<String>,
    /// Where phones find the steps to trust the farm's authority, over plain http.
    pub steps: Vec<String>,
    /// SHA-256 of the authority, in pairs of hexadecimal digits; none with certificates of one's own.
    pub fingerprint: Option<String>,
    /// This machine's own addresses on private networks.
    pub addresses: Vec<String>,
    /// Whether the owner has a passphrase.
    pub has_owner: bool,
    /// Why https is not open, if it should be.
    pub trouble: Option<String>,
}

/// `POST /api/v1/network`: puts the barn on the farm's network, or gives it another name there.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NetworkAsked {
    /// A local name or a private address, such as `barn.local`.
    pub name: String,
    /// The owner's passphrase: a new one while there is none, else the one that stands.
    pub passphrase: String,
    /// The name was chosen before, and all tags that were printed lead to the old one.
    #[serde(default)]
    pub tags_will_be_printed_again: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_office_may_do_what_the_others_may() {
        assert!(Role::Office > Role::Laboratory && Role::Laboratory > Role::Barn);
    }

    #[test]
    fn a_laboratory_holds_no_sows() {
        let sow = Subject::Sow(crate::id::SowId::v7(1, [1; 10]));
        let boar = Subject::Boar(crate::id::BoarId::v7(1, [1; 10]));
        assert!(!Role::Laboratory.holds(sow) && Role::Laboratory.holds(boar));
        assert!(Role::Barn.holds(sow) && Role::Office.holds(sow));
    }

    #[test]
    fn a_state_is_a_word_beside_what_it_brings() {
        let text = serde_json::to_string(&Finished::Paired { role: Role::Barn }).unwrap();
        assert_eq!(text, r#"{"state":"paired","role":"barn"}"#);
    }
}
