//! The entry: an immutable record with its envelope.
//!
//! **Bytes.** An entry's bytes are the byte `1` (the envelope's version) followed by the
//! postcard encoding of [`Envelope`], fields in the order declared. Its hash is SHA-256 over
//! those bytes. They are what is stored, chained, compared and backed up. The body is text
//! nobody here looks into: a newer version's body passes through unread and unharmed.
//!
//! **Lines.** Between machines and in files an entry is one JSON object that carries the same
//! fields, the body as a JSON *string*. The two forms determine each other, so white space or
//! key order lost on the way changes nothing.
//!
//! Both are frozen; golden files in `tests/golden` hold them.

use crate::id::{BarnId, DeviceId, EntryId, FarmId, PersonId};
use crate::time::{Clock, Stamp};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt;

/// The envelope version written today.
pub const VERSION: u8 = 1;
/// The longest body, in bytes of UTF-8.
pub const BODY_MAX_BYTES: usize = 64 * 1024;
/// The longest kind name, in bytes.
pub const KIND_MAX_BYTES: usize = 40;
/// The highest sequence or offset: what JSON readers everywhere keep exact (2^53 − 1).
pub const NUMBER_MAX: u64 = (1 << 53) - 1;

/// SHA-256 of an entry's bytes; all zero before a device's first entry. Hexadecimal in JSON.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash([u8; 32]);

impl Hash {
    /// What stands before a device's first entry, and before the log's.
    pub const NONE: Self = Self([0; 32]);

    /// Wraps 32 bytes.
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// The 32 bytes.
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// SHA-256 over the parts, one after the other.
    pub fn of(parts: &[&[u8]]) -> Self {
        let mut sha = Sha256::new();
        for part in parts {
            sha.update(part);
        }
        Self(sha.finalize().into())
    }

    /// The hash of a log that went on by one entry.
    #[must_use]
    pub fn chained(&self, entry: &Self) -> Self {
        Self::of(&[&self.0, &entry.0])
    }

    fn parse(text: &str) -> Option<Self> {
        let digits = text.as_bytes();
        let nibble = |b: u8| {
            char::from(b)
                .to_digit(16)
                .filter(|_| !b.is_ascii_uppercase())
        };
        if digits.len() != 64 {
            return None;
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks(2)) {
            *byte = u8::try_from(nibble(pair[0])? * 16 + nibble(pair[1])?).ok()?;
        }
        Some(Self(bytes))
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|b| write!(f, "{b:02x}"))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Hash({self})")
    }
}

impl Serialize for Hash {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            serializer.collect_str(self)
        } else {
            self.0.serialize(serializer)
        }
    }
}

impl<'de> Deserialize<'de> for Hash {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        use serde::de::Error;
        if deserializer.is_human_readable() {
            let text = String::deserialize(deserializer)?;
            Self::parse(&text)
                .ok_or_else(|| Error::custom("a hash is 64 lower-case hexadecimal digits"))
        } else {
            Deserialize::deserialize(deserializer).map(Self)
        }
    }
}

/// Version 1 of the envelope. The order of the fields is the order of the bytes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Envelope {
    /// UUIDv7 of this entry.
    pub id: EntryId,
    /// Whose log.
    pub farm: FarmId,
    /// Which barn of that farm.
    pub barn: BarnId,
    /// Who wrote it.
    pub device: DeviceId,
    /// 1, 2, 3 … on that device, without a gap.
    pub seq: u64,
    /// Hash of the device's entry before this one.
    pub prev: Hash,
    /// The person who had been picked, if any.
    pub person: Option<PersonId>,
    /// When it happened: the order of business.
    pub occurred_at: Stamp,
    /// When it was written down.
    pub recorded_at: Stamp,
    /// The device's hybrid clock: breaks ties.
    pub clock: Clock,
    /// The last entry number of the server that the device knew of; 0 when none.
    pub seen: u64,
    /// What kind of fact the body holds.
    pub kind: String,
    /// The version of that kind's body.
    pub version: u16,
    /// The fact itself, opaque here.
    pub body: String,
}

/// Why something offered as an entry is none.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EntryError {
    /// A later version of the envelope: to be kept whole for a newer binary.
    #[error("envelope version {read} is newer than this program, which reads version 1")]
    NewerEnvelope {
        /// The version read.
        read: u64,
    },
    /// Not the fields of version 1.
    #[error("not an entry: {detail}")]
    Malformed {
        /// What the reader said.
        detail: String,
    },
    /// A field outside its bounds.
    #[error("{field} is {read}; it must be {right}")]
    Bounds {
        /// The envelope's field.
        field: &'static str,
        /// What was read.
        read: String,
        /// What would be right.
        right: &'static str,
    },
}

/// A sealed entry: an envelope within its bounds, its bytes and its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    envelope: Envelope,
    hash: Hash,
}

#[derive(Serialize)]
struct LineOut<'a> {
    v: u8,
    #[serde(flatten)]
    envelope: &'a Envelope,
}

impl Entry {
    /// Checks the bounds and works out the hash.
    pub fn seal(envelope: Envelope) -> Result<Self, EntryError> {
        Self::sealed(envelope).map(|(entry, _)| entry)
    }

    fn sealed(envelope: Envelope) -> Result<(Self, Vec<u8>), EntryError> {
        check(&envelope)?;
        let bytes = encode(&envelope)?;
        let hash = Hash::of(&[&bytes]);
        Ok((Self { envelope, hash }, bytes))
    }

    /// Reads the stored bytes. A number written with needless zeros reads, but would hash to
    /// something else than it was read from: an entry has one encoding only.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, EntryError> {
        match bytes.split_first() {
            Some((&VERSION, rest)) => {
                let (envelope, left) =
                    postcard::take_from_bytes(rest).map_err(|e| malformed(&e))?;
                if !left.is_empty() {
                    return Err(EntryError::Malformed {
                        detail: format!("{} bytes too many", left.len()),
                    });
                }
                match Self::sealed(envelope)? {
                    (entry, written) if written == bytes => Ok(entry),
                    _ => Err(EntryError::Malformed {
                        detail: "a number has needless zeros".into(),
                    }),
                }
            }
            Some((&read, _)) => Err(EntryError::NewerEnvelope { read: read.into() }),
            None => Err(EntryError::Malformed {
                detail: "no bytes".into(),
            }),
        }
    }

    /// Reads one JSON line.
    pub fn from_line(line: &str) -> Result<Self, EntryError> {
        let mut fields: serde_json::Map<String, serde_json::Value> =
            serde_json::from_str(line).map_err(|e| malformed(&e))?;
        let v =
            fields
                .remove("v")
                .and_then(|v| v.as_u64())
                .ok_or_else(|| EntryError::Malformed {
                    detail: "field 'v', the envelope's version, is missing or no whole number"
                        .into(),
                })?;
        if v != u64::from(VERSION) {
            return Err(EntryError::NewerEnvelope { read: v });
        }
        Self::seal(crate::json::of(&fields.into()).map_err(|e| malformed(&e))?)
    }

    /// The bytes that are stored and hashed.
    pub fn to_bytes(&self) -> Vec<u8> {
        // A sealed envelope was encoded once already; encoding cannot fail for want of anything but memory.
        encode(&self.envelope).unwrap_or_default()
    }

    /// One JSON line, without the line's end.
    pub fn to_line(&self) -> String {
        serde_json::to_string(&LineOut {
            v: VERSION,
            envelope: &self.envelope,
        })
        .unwrap_or_default()
    }

    /// The envelope.
    pub const fn envelope(&self) -> &Envelope {
        &self.envelope
    }

    /// SHA-256 of the bytes.
    pub const fn hash(&self) -> Hash {
        self.hash
    }

    /// The place of this entry in the order of business.
    pub fn order(&self) -> Order {
        Order {
            at_ms: self.envelope.occurred_at.ms(),
            clock: self.envelope.clock,
            id: self.envelope.id,
        }
    }
}

/// The order of business: by when it happened; ties by the hybrid clock, then by identity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Order {
    /// When it happened (ms since 1970).
    pub at_ms: i64,
    /// The writer's clock.
    pub clock: Clock,
    /// The entry.
    pub id: EntryId,
}

fn encode(envelope: &Envelope) -> Result<Vec<u8>, EntryError> {
    postcard::to_extend(envelope, vec![VERSION]).map_err(|e| malformed(&e))
}

fn malformed(error: &dyn fmt::Display) -> EntryError {
    EntryError::Malformed {
        detail: error.to_string(),
    }
}

fn check(e: &Envelope) -> Result<(), EntryError> {
    let bounds = |field, read: String, right| Err(EntryError::Bounds { field, read, right });
    let named = |k: &str| {
        k.bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
    };
    if e.seq == 0 || e.seq > NUMBER_MAX {
        return bounds("seq", e.seq.to_string(), "from 1 to 2^53 - 1");
    }
    if e.seen > NUMBER_MAX {
        return bounds("seen", e.seen.to_string(), "from 0 to 2^53 - 1");
    }
    if e.kind.is_empty() || e.kind.len() > KIND_MAX_BYTES || !named(&e.kind) {
        return bounds(
            "kind",
            e.kind.chars().take(60).collect(),
            "1 to 40 of a-z, 0-9 and _",
        );
    }
    if e.version == 0 {
        return bounds("version", "0".into(), "1 or more");
    }
    if e.body.len() > BODY_MAX_BYTES {
        return bounds(
            "body",
            format!("{} bytes long", e.body.len()),
            "at most 65,536 bytes",
        );
    }
    Ok(())
}
