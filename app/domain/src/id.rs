//! Identities: one newtype each, so that a boar's number never names a pen.
//!
//! ```compile_fail
//! use pentally_domain::id::{BoarId, PenId};
//! fn open(_: PenId) {}
//! open(BoarId::from_uuid(uuid::Uuid::nil()));
//! ```

use serde::{Deserialize, Serialize};
use std::fmt;
use uuid::Uuid;

/// The text was not a UUID.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{read}' is not an identity: a UUID such as 01932c5e-7b1a-7000-8000-000000000001 was expected"
)]
pub struct IdError {
    /// What was read.
    pub read: String,
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(Uuid);

        impl $name {
            /// Wraps a UUID that is already known to name this kind of thing.
            pub const fn from_uuid(uuid: Uuid) -> Self {
                Self(uuid)
            }

            /// A UUIDv7 (RFC 9562) of the given instant (ms since 1970) and ten random bytes.
            /// Instants before 1970 count as 1970, so that a wrong clock still yields an identity.
            pub fn v7(ms: i64, random: [u8; 10]) -> Self {
                let ms = u64::try_from(ms).unwrap_or(0);
                Self(uuid::Builder::from_unix_timestamp_millis(ms, &random).into_uuid())
            }

            /// Reads the hyphenated form.
            pub fn parse(text: &str) -> Result<Self, IdError> {
                Uuid::parse_str(text.trim()).map(Self).map_err(|_| IdError { read: text.to_owned() })
            }

            /// The plain UUID.
            pub const fn uuid(self) -> Uuid {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    )+};
}

ids! {
    /// One entry of the log.
    EntryId,
    /// One farm: the owner of one log.
    FarmId,
    /// One barn of a farm.
    BarnId,
    /// One writer of entries: a phone's browser, an office browser, or the server itself.
    DeviceId,
    /// A person who works here. The same UUID as the entry that introduced them.
    PersonId,
    /// A boar. The same UUID as the entry that introduced him.
    BoarId,
    /// A pen. The same UUID as the entry that introduced it.
    PenId,
    /// A sow or gilt. The same UUID as the entry that introduced her.
    SowId,
    /// The server's store as one unbroken history; a restored store gets a new one.
    Epoch,
}

impl EntryId {
    /// The boar this entry introduced.
    pub const fn as_boar(self) -> BoarId {
        BoarId(self.0)
    }
    /// The pen this entry introduced.
    pub const fn as_pen(self) -> PenId {
        PenId(self.0)
    }
    /// The sow this entry introduced.
    pub const fn as_sow(self) -> SowId {
        SowId(self.0)
    }
    /// The person this entry introduced.
    pub const fn as_person(self) -> PersonId {
        PersonId(self.0)
    }
}
