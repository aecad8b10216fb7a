//! What the server can be called on the farm's network.

use std::collections::BTreeSet;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

/// The endings of names that no public registry gives out (RFC 6762, RFC 8375, RFC 6761, and
/// `internal` as reserved by ICANN in 2024; `lan` and `home` as routers use them).
pub(super) const LOCAL_ENDINGS: [&str; 6] =
    ["local", "home.arpa", "internal", "lan", "home", "localhost"];

/// The address blocks that only private networks use, with their prefix lengths (RFC 1918, RFC 3927,
/// RFC 1122; RFC 4193, RFC 4291).
pub(super) const PRIVATE_BLOCKS: [(IpAddr, u8); 8] = [
    (IpAddr::V4(Ipv4Addr::new(10, 0, 0, 0)), 8),
    (IpAddr::V4(Ipv4Addr::new(172, 16, 0, 0)), 12),
    (IpAddr::V4(Ipv4Addr::new(192, 168, 0, 0)), 16),
    (IpAddr::V4(Ipv4Addr::new(169, 254, 0, 0)), 16),
    (IpAddr::V4(Ipv4Addr::new(127, 0, 0, 0)), 8),
    (IpAddr::V6(Ipv6Addr::new(0xfc00, 0, 0, 0, 0, 0, 0, 0)), 7),
    (IpAddr::V6(Ipv6Addr::new(0xfe80, 0, 0, 0, 0, 0, 0, 0)), 10),
    (IpAddr::V6(Ipv6Addr::LOCALHOST), 128),
];

/// A name that cannot be the server's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NameError {
    /// Not one of the farm's network.
    #[error(
        "'{read}' is no local name: letters, digits and dashes, ending in .local, .home.arpa, .internal, .lan \
         or .home, such as barn.local; or a private address such as 192.168.1.20"
    )]
    NotLocal {
        /// What was read.
        read: String,
    },
    /// Not one that the farm's own certificate bears.
    #[error("'{read}' does not stand on the certificate, which is for {bears}: take one of those")]
    NotBorne {
        /// What was read.
        read: String,
        /// What stands there.
        bears: String,
    },
    /// The farm's own certificate does not read.
    #[error("{why}")]
    Unread {
        /// Which, and why.
        why: String,
    },
}

/// Names and addresses that a certificate is made for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Names {
    /// Host names, in lower case.
    pub dns: BTreeSet<String>,
    /// Addresses of this machine.
    pub ips: BTreeSet<IpAddr>,
}

impl Names {
    /// Those of this machine now, and a chosen one.
    pub fn of_machine(chosen: Option<&str>) -> Self {
        let mut names = Self {
            dns: BTreeSet::from(["localhost".to_owned()]),
            ips: BTreeSet::from([Ipv4Addr::LOCALHOST.into(), Ipv6Addr::LOCALHOST.into()]),
        };
        for interface in if_addrs::get_if_addrs().unwrap_or_default() {
            let ip = interface.ip();
            if is_private(ip) && !is_link_local_v6(ip) {
                names.ips.insert(ip);
            }
        }
        if let Some(name) = chosen {
            match name.parse() {
                Ok(ip) => names.ips.insert(ip),
                Err(_) => names.dns.insert(name.to_lowercase()),
            };
        }
        names
    }

    /// The addresses other machines can use.
    pub fn reachable(&self) -> impl Iterator<Item = IpAddr> {
        self.ips.iter().copied().filter(|ip| !ip.is_loopback())
    }

    /// Whether all of the other's are among these.
    pub fn cover(&self, other: &Self) -> bool {
        self.dns.is_superset(&other.dns) && self.ips.is_superset(&other.ips)
    }

    /// Whether this is what a browser calls the server, without the port.
    pub fn has(&self, host: &str) -> bool {
        let bare = host.trim_start_matches('[').trim_end_matches(']');
        match bare.parse::<IpAddr>() {
            Ok(ip) => self.ips.contains(&ip),
            Err(_) => self.dns.contains(&bare.to_lowercase()),
        }
    }
}

/// Reads a name or address that the server may have on a farm's network.
pub fn local_name(text: &str) -> Result<String, NameError> {
    let name = plain(text);
    let fails = || NameError::NotLocal {
        read: text.to_owned(),
    };
    if let Ok(ip) = name.parse::<IpAddr>() {
        return if is_private(ip) && !ip.is_loopback() {
            Ok(ip.to_string())
        } else {
            Err(fails())
        };
    }
    let ends = |ending: &&str| {
        **ending != *"localhost"
            && name
                .strip_suffix(*ending)
                .is_some_and(|before| before.len() > 1 && before.ends_with('.'))
    };
    if is_dns(&name) && LOCAL_ENDINGS.iter().any(ends) {
        Ok(name)
    } else {
        Err(fails())
    }
}

/// A name as it is compared: in lower case, without a dot at its end.
pub(super) fn plain(text: &str) -> String {
    text.trim().trim_end_matches('.').to_lowercase()
}

/// Whether a name in lower case is one of hosts (RFC 1123, 2.1).
pub(super) fn is_dns(name: &str) -> bool {
    let label = |part: &str| {
        (1..=63).contains(&part.len())
            && !part.starts_with('-')
            && !part.ends_with('-')
            && part.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-')
    };
    name.len() <= 253 && name.split('.').all(label)
}

fn is_private(ip: IpAddr) -> bool {
    PRIVATE_BLOCKS
        .iter()
        .any(|(block, prefix)| match (ip, block) {
            (IpAddr::V4(ip), IpAddr::V4(block)) => {
                shifted(ip.to_bits().into(), 32, *prefix)
                    == shifted(block.to_bits().into(), 32, *prefix)
            }
            (IpAddr::V6(ip), IpAddr::V6(block)) => {
                shifted(ip.to_bits(), 128, *prefix) == shifted(block.to_bits(), 128, *prefix)
            }
            _ => false,
        })
}

fn shifted(bits: u128, width: u8, prefix: u8) -> u128 {
    bits >> (width - prefix)
}

/// Such an address means something only together with an interface, which a browser cannot name.
fn is_link_local_v6(ip: IpAddr) -> bool {
    matches!(ip, IpAddr::V6(ip) if ip.segments()[0] & 0xffc0 == 0xfe80)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_local_name_is_read_and_a_public_one_refused() {
        for (read, name) in [
            ("Barn.local", "barn.local"),
            (" pigs.home.arpa. ", "pigs.home.arpa"),
            ("a-1.b.lan", "a-1.b.lan"),
            ("192.168.1.20", "192.168.1.20"),
            ("fd00::7", "fd00::7"),
        ] {
            assert_eq!(local_name(read).as_deref(), Ok(name), "{read}");
        }
        for read in [
            "",
            "local",
            ".local",
            "barn",
            "farm.example.com",
            "a_b.local",
            "-a.local",
            "8.8.8.8",
            "127.0.0.1",
            "barn.localhost",
            "barn.local/x",
            "barn.local:8443",
            "xlocal",
            "172.32.0.1",
        ] {
            assert!(local_name(read).is_err(), "{read}");
        }
    }

    #[test]
    fn a_host_is_known_whatever_its_case_and_brackets() {
        let names = Names {
            dns: BTreeSet::from(["barn.local".to_owned()]),
            ips: BTreeSet::from([Ipv6Addr::LOCALHOST.into()]),
        };
        assert!(names.has("Barn.Local") && names.has("[::1]"));
        assert!(!names.has("evil.local") && !names.has("127.0.0.1"));
    }
}
