//! Letting a device in: offered at the office, asked for by the device, confirmed at the office.
//!
//! A pure machine: the clock and the secrets come from outside, and only hashes are kept.

use super::{SecretHash, hash_of};
use pentally_domain::pairing::{CODE_TRIES, Finished, OFFER_MS, Role, Standing};
use pentally_domain::said::Label;

/// How many offers stand at once; an older one makes room.
const OFFERS: usize = 8;

/// By what a device asks to come in.
#[derive(Debug, Clone, Copy)]
pub enum Proof<'a> {
    /// The secret behind `#`.
    Secret(&'a str),
    /// The eight digits.
    Code(&'a str),
}

/// The offers that stand.
#[derive(Debug, Default)]
pub struct Pairings {
    offers: Vec<Offered>,
    last: u64,
}

#[derive(Debug)]
struct Offered {
    n: u64,
    role: Role,
    until_ms: i64,
    secret: SecretHash,
    /// None once it was guessed at too often.
    code: Option<SecretHash>,
    tries: u8,
    claim: Option<Claim>,
}

#[derive(Debug)]
struct Claim {
    name: Label,
    hash: SecretHash,
    answer: Option<bool>,
    /// What the device was given. Kept until the ten minutes are over: an answer can get lost.
    token: Option<String>,
}

impl Pairings {
    /// Stands for ten minutes, for the first device that asks. Answers with its number.
    pub fn offer(&mut self, role: Role, secret: &str, code: &str, now_ms: i64) -> u64 {
        self.forget(now_ms);
        if self.offers.len() >= OFFERS {
            self.offers.remove(0);
        }
        self.last += 1;
        self.offers.push(Offered {
            n: self.last,
            role,
            until_ms: now_ms + OFFER_MS,
            secret: hash_of(secret),
            code: Some(hash_of(code)),
            tries: 0,
            claim: None,
        });
        self.last
    }

    /// What stands.
    pub fn standing(&mut self, now_ms: i64) -> Vec<Standing> {
        self.forget(now_ms);
        let told = |offer: &Offered| Standing {
            n: offer.n,
            role: offer.role,
            until_ms: offer.until_ms,
            name: offer.claim.as_ref().map(|claim| claim.name.clone()),
            confirmed: offer.claim.as_ref().and_then(|c| c.answer) == Some(true),
        };
        self.offers.iter().map(told).collect()
    }

    /// A device asks, and will come back with `claim`. Until when the office can say yes; none when
    /// what it says opens nothing.
    pub fn knock(
        &mut self,
        proof: Proof<'_>,
        name: Label,
        claim: &str,
        now_ms: i64,
    ) -> Option<i64> {
        self.forget(now_ms);
        let fits = |offer: &Offered| {
            offer.claim.is_none()
                && match proof {
                    Proof::Secret(secret) => offer.secret == hash_of(secret),
                    Proof::Code(code) => offer.code == Some(hash_of(code)),
                }
        };
        let Some(offer) = self.offers.iter_mut().find(|offer| fits(offer)) else {
            if let Proof::Code(_) = proof {
                self.guessed_wrong();
            }
            return None;
        };
        offer.claim = Some(Claim {
            name,
            hash: hash_of(claim),
            answer: None,
            token: None,
        });
        Some(offer.until_ms)
    }

    /// The office looked at the name. False when nobody waits there.
    pub fn answer(&mut self, n: u64, yes: bool, now_ms: i64) -> bool {
        self.forget(now_ms);
        let offer = self.offers.iter_mut().find(|offer| offer.n == n);
        match offer.and_then(|offer| offer.claim.as_mut()) {
            Some(claim) => {
                claim.answer = Some(yes);
                true
            }
            None => false,
        }
    }

    /// How a device that asked stands. With `paired` come its name and its token: `fresh` the first
    /// time, and the same again when the device asks again because the answer got lost.
    pub fn finish(
        &mut self,
        claim: &str,
        fresh: &str,
        now_ms: i64,
    ) -> (Finished, Option<(Label, String)>) {
        self.forget(now_ms);
        let hash = hash_of(claim);
        let is_it = |offer: &Offered| offer.claim.as_ref().is_some_and(|c| c.hash == hash);
        let Some(at) = self.offers.iter().position(is_it) else {
            return (Finished::Over, None);
        };
        let role = self.offers[at].role;
        match self.offers[at].claim.as_mut() {
            Some(claim) if claim.answer == Some(true) => {
                let token = claim.token.get_or_insert_with(|| fresh.to_owned());
                let given = (claim.name.clone(), token.clone());
                (Finished::Paired { role }, Some(given))
            }
            Some(claim) if claim.answer.is_none() => (Finished::Waiting, None),
            _ => (Finished::Refused, None),
        }
    }

    /// A wrong code may be meant for any offer: it counts against every one.
    fn guessed_wrong(&mut self) {
        for offer in &mut self.offers {
            offer.tries += 1;
            if offer.tries >= CODE_TRIES {
                offer.code = None;
            }
        }
    }

    fn forget(&mut self, now_ms: i64) {
        // A clock that was set back must not make an offer stand for longer.
        let stands = |offer: &Offered| (now_ms..=now_ms + OFFER_MS).contains(&offer.until_ms);
        self.offers.retain(stands);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name() -> Label {
        Label::parse("Barn 2").unwrap()
    }

    #[test]
    fn a_device_comes_in_once_and_only_after_a_yes() {
        let mut all = Pairings::default();
        let n = all.offer(Role::Barn, "secret", "12345678", 0);
        assert_eq!(all.knock(Proof::Secret("other"), name(), "a", 1), None);
        assert_eq!(
            all.knock(Proof::Secret("secret"), name(), "a", 1),
            Some(OFFER_MS)
        );
        assert_eq!(
            all.knock(Proof::Secret("secret"), name(), "b", 1),
            None,
            "taken"
        );
        assert_eq!(all.finish("a", "t", 2).0, Finished::Waiting);
        assert_eq!(all.finish("b", "t", 2).0, Finished::Over);
        assert!(!all.answer(n + 1, true, 3) && all.answer(n, true, 3));
        let paired = (
            Finished::Paired { role: Role::Barn },
            Some((name(), "t".to_owned())),
        );
        assert_eq!(all.finish("a", "t", 4), paired);
        assert_eq!(all.finish("a", "u", 5), paired, "the answer got lost");
        assert_eq!(all.finish("a", "v", OFFER_MS + 1).0, Finished::Over);
    }

    #[test]
    fn a_no_and_ten_minutes_end_it() {
        let mut all = Pairings::default();
        let n = all.offer(Role::Office, "s", "1", 0);
        all.knock(Proof::Code("1"), name(), "a", 1);
        all.answer(n, false, 2);
        assert_eq!(all.finish("a", "t", 3).0, Finished::Refused);
        all.offer(Role::Office, "s", "1", 0);
        assert_eq!(
            all.knock(Proof::Secret("s"), name(), "a", OFFER_MS + 1),
            None
        );
        all.offer(Role::Office, "s", "1", OFFER_MS);
        assert!(all.standing(0 - 1).is_empty(), "the clock was set back");
    }

    #[test]
    fn five_wrong_codes_end_the_codes_but_not_the_secret() {
        let mut all = Pairings::default();
        all.offer(Role::Barn, "secret", "12345678", 0);
        for wrong in 0..5 {
            assert_eq!(
                all.knock(Proof::Code(&format!("{wrong}")), name(), "a", 1),
                None
            );
        }
        assert_eq!(all.knock(Proof::Code("12345678"), name(), "a", 1), None);
        assert!(all.knock(Proof::Secret("secret"), name(), "a", 1).is_some());
    }

    #[test]
    fn only_so_many_offers_stand() {
        let mut all = Pairings::default();
        for _ in 0..100 {
            all.offer(Role::Barn, "s", "c", 0);
        }
        assert_eq!(all.standing(0).len(), OFFERS);
    }
}
