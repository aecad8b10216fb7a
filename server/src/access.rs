//! Who asks, and what they may.
//!
//! Whoever sits at the machine itself is its office: the listener on the loopback asks for no
//! password, so that nobody can be locked out of their own log. Over the farm's network a device is
//! known by a cookie it got when the office let it in.

mod door;
mod pairings;
mod passphrase;
mod tries;
mod who;

pub use door::{Door, LiveNames, is_own};
pub use pairings::{Pairings, Proof};
pub use passphrase::{PassphraseError, hashed, matches};
pub use tries::Tries;
pub use who::{COOKIE, Who, cookie, token_in};

use sha2::{Digest, Sha256};

/// A secret's hash, as it is kept.
pub type SecretHash = [u8; 32];

/// The hash of a secret that is long enough to need no salt.
pub fn hash_of(secret: &str) -> SecretHash {
    Sha256::digest(secret.as_bytes()).into()
}

/// A secret of 256 random bits, in hexadecimal digits.
pub fn secret() -> std::io::Result<String> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes)
        .map_err(|e| std::io::Error::other(format!("no random bytes: {e}")))?;
    Ok(hexadecimal(&bytes))
}

/// Bytes in hexadecimal digits.
pub fn hexadecimal(bytes: &[u8]) -> String {
    let pairs: Vec<_> = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    pairs.concat()
}
