//! The owner's passphrase: hashed slowly, never kept.

use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};
use pentally_domain::pairing::{PASSPHRASE_MAX, PASSPHRASE_MIN};

/// Why a passphrase cannot be the owner's.
#[derive(Debug, thiserror::Error)]
pub enum PassphraseError {
    /// Too short or too long.
    #[error(
        "the passphrase has {chars} characters; from {PASSPHRASE_MIN} to {PASSPHRASE_MAX} are \
         taken: three or four words of your own are easy to keep"
    )]
    Length {
        /// How many it has.
        chars: usize,
    },
    /// The libraries said no.
    #[error("the passphrase could not be hashed: {0}")]
    Library(String),
}

/// The hash to keep. Takes tens of milliseconds and 19 MiB on purpose.
pub fn hashed(passphrase: &str) -> Result<String, PassphraseError> {
    let chars = passphrase.chars().count();
    if !(PASSPHRASE_MIN..=PASSPHRASE_MAX).contains(&chars) {
        return Err(PassphraseError::Length { chars });
    }
    let library = |e: &dyn std::fmt::Display| PassphraseError::Library(e.to_string());
    let mut salt = [0; 16];
    getrandom::fill(&mut salt).map_err(|e| library(&e))?;
    let salt = SaltString::encode_b64(&salt).map_err(|e| library(&e))?;
    let hash = argon()
        .hash_password(passphrase.as_bytes(), &salt)
        .map_err(|e| library(&e))?;
    Ok(hash.to_string())
}

/// Whether this is the passphrase that was hashed.
pub fn matches(passphrase: &str, hash: &str) -> bool {
    PasswordHash::new(hash).is_ok_and(|hash| {
        argon()
            .verify_password(passphrase.as_bytes(), &hash)
            .is_ok()
    })
}

/// OWASP Password Storage Cheat Sheet: Argon2id with 19 MiB, two passes, one lane.
fn argon() -> Argon2<'static> {
    Argon2::new(Algorithm::Argon2id, Version::V0x13, Params::DEFAULT)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_known_again_and_no_other_is() {
        let hash = hashed("four calm grey boars").unwrap();
        assert!(
            hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"),
            "{hash}"
        );
        assert!(matches("four calm grey boars", &hash));
        assert!(!matches("four calm grey boar", &hash) && !matches("four calm grey boars", "x"));
        assert_ne!(hashed("four calm grey boars").unwrap(), hash, "salted");
        assert!(hashed("short").is_err() && hashed(&"x".repeat(201)).is_err());
    }
}
