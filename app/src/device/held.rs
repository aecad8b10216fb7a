//! The key under which a phone holds an entry.

use pentally_domain::envelope::Entry;
use pentally_domain::id::DeviceId;
use std::fmt;

/// Device and sequence; written `<device>/<16 digits>`, so that keys sort by both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HeldKey {
    /// Who wrote the entry.
    pub device: DeviceId,
    /// Its number there.
    pub seq: u64,
}

impl HeldKey {
    /// The key of an entry.
    pub const fn of(entry: &Entry) -> Self {
        Self {
            device: entry.envelope().device,
            seq: entry.envelope().seq,
        }
    }

    /// Reads the written form.
    pub fn parse(text: &str) -> Option<Self> {
        let (device, seq) = text.split_once('/')?;
        Some(Self {
            device: DeviceId::parse(device).ok()?,
            seq: seq.parse().ok()?,
        })
    }
}

impl fmt::Display for HeldKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{:016}", self.device, self.seq)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::envelope::NUMBER_MAX;

    #[test]
    fn keys_sort_as_they_are_written_and_read_back() {
        let device = DeviceId::v7(1, [1; 10]);
        let keys = [1, 9, 10, 99_999, NUMBER_MAX].map(|seq| HeldKey { device, seq });
        let written = keys.map(|k| k.to_string());
        assert!(written.is_sorted());
        assert!(written.iter().all(|w| w.len() == written[0].len()));
        for (key, text) in keys.iter().zip(&written) {
            assert_eq!(HeldKey::parse(text), Some(*key));
        }
        assert_eq!(HeldKey::parse("farm"), None);
    }
}
