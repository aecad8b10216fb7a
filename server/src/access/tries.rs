//! How often somebody may guess.

use std::collections::HashMap;
use std::net::IpAddr;

/// Wrong guesses in a row that one address has.
const OF_ONE: f64 = 8.0;
/// An address gets another guess after so many ms.
const ONE_AFTER_MS: f64 = 60_000.0;
/// Wrong guesses in a row that all together have.
const OF_ALL: f64 = 60.0;
/// All together get another guess after so many ms.
const ALL_AFTER_MS: f64 = 10_000.0;
/// More addresses than this are not told apart; all together still have their limit.
const ADDRESSES: usize = 4_096;

/// Guesses left, by address and for all together. No clock of its own.
#[derive(Debug, Default)]
pub struct Tries {
    all: Option<Left>,
    by_address: HashMap<IpAddr, Left>,
}

#[derive(Debug, Clone, Copy)]
struct Left {
    guesses: f64,
    at_ms: i64,
}

impl Left {
    fn now(before: Option<Self>, most: f64, after_ms: f64, now_ms: i64) -> Self {
        let guesses = before.map_or(most, |left| {
            let passed = (now_ms - left.at_ms).max(0) as f64;
            (left.guesses + passed / after_ms).min(most)
        });
        Self {
            guesses,
            at_ms: now_ms,
        }
    }

    fn less_one(self) -> Self {
        Self {
            guesses: self.guesses - 1.0,
            ..self
        }
    }
}

impl Tries {
    /// Takes one guess from an address before it is looked at; false when it has none left. `now_ms`
    /// is ms since 1970.
    pub fn take(&mut self, from: IpAddr, now_ms: i64) -> bool {
        let from = network_of(from);
        let all = Left::now(self.all, OF_ALL, ALL_AFTER_MS, now_ms);
        let known = self.by_address.get(&from).copied();
        let one = Left::now(known, OF_ONE, ONE_AFTER_MS, now_ms);
        if one.guesses < 1.0 || all.guesses < 1.0 {
            return false;
        }
        if known.is_none() && self.by_address.len() >= ADDRESSES {
            self.by_address.clear();
        }
        self.all = Some(all.less_one());
        self.by_address.insert(from, one.less_one());
        true
    }

    /// The guess was right: it is given back.
    pub fn give_back(&mut self, from: IpAddr) {
        self.by_address.remove(&network_of(from));
        if let Some(all) = &mut self.all {
            all.guesses += 1.0;
        }
    }
}

/// Who has one address of version 6 has 2^64 of them.
fn network_of(ip: IpAddr) -> IpAddr {
    match ip {
        IpAddr::V6(ip) => match ip.to_ipv4_mapped() {
            Some(v4) => v4.into(),
            None => std::net::Ipv6Addr::from_bits(ip.to_bits() >> 64 << 64).into(),
        },
        v4 @ IpAddr::V4(_) => v4,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::Ipv4Addr;

    #[test]
    fn one_address_soon_has_none_left_and_gets_one_a_minute() {
        let mut tries = Tries::default();
        let ip = IpAddr::from([10, 0, 0, 1]);
        assert_eq!((0..100).filter(|_| tries.take(ip, 0)).count(), 8);
        assert!(!tries.take(ip, 59_000) && tries.take(ip, 61_000));
        assert!(tries.take(IpAddr::from([10, 0, 0, 2]), 61_000), "another");
    }

    #[test]
    fn many_addresses_together_have_a_limit_and_little_memory() {
        let mut tries = Tries::default();
        let guessed = (0..100_000_u32)
            .filter(|n| tries.take(Ipv4Addr::from_bits(*n).into(), i64::from(*n)))
            .count();
        // 60 at once and ten in the hundred seconds that pass.
        assert_eq!(guessed, 60 + 9);
        assert!(tries.by_address.len() <= ADDRESSES);
    }

    #[test]
    fn a_right_guess_costs_nothing() {
        let mut tries = Tries::default();
        let ip = IpAddr::from([10, 0, 0, 1]);
        for _ in 0..1_000 {
            assert!(tries.take(ip, 0));
            tries.give_back(ip);
        }
    }
}
