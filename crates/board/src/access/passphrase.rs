//! Passphrases: long enough, kept as Argon2id, compared in a time that tells nothing.

use std::sync::OnceLock;

use argon2::Argon2;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};

use super::{Chance, NoChance};

/// Fewest letters of a passphrase.
///
/// House value: NIST SP 800-63B asks for 15 where nothing else is asked for and for 8 beside a second thing (from
/// memory); here a try costs time and is counted.
pub const FEWEST_LETTERS: usize = 12;
/// Most bytes of one: more is no passphrase but a load.
pub const MOST_BYTES: usize = 1024;

const SALT_BYTES: usize = 16;

/// Why a passphrase is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotKept {
    /// Fewer letters than [`FEWEST_LETTERS`].
    #[error("{0} letters")]
    TooShort(usize),
    /// More bytes than [`MOST_BYTES`].
    #[error("{0} bytes")]
    TooLong(usize),
    /// No randomness for its salt, or no memory.
    #[error("{0}")]
    Failed(&'static str),
}

/// The hash of a passphrase as the store keeps it: Argon2id, 19 MiB, two passes, with its own salt.
///
/// # Errors
/// [`NotKept`].
pub fn hashed(passphrase: &str, chance: &dyn Chance) -> Result<String, NotKept> {
    let letters = passphrase.chars().count();
    if letters < FEWEST_LETTERS {
        return Err(NotKept::TooShort(letters));
    }
    if passphrase.len() > MOST_BYTES {
        return Err(NotKept::TooLong(passphrase.len()));
    }
    let mut salt = [0; SALT_BYTES];
    chance
        .fill(&mut salt)
        .map_err(|NoChance| NotKept::Failed("the system gives no randomness"))?;
    made(passphrase, &salt).ok_or(NotKept::Failed("Argon2 could not be computed"))
}

/// Whether a passphrase fits a kept hash. Without one it takes as long and is no.
pub(crate) fn fits(passphrase: &str, kept: Option<&str>) -> bool {
    static NOBODYS: OnceLock<String> = OnceLock::new();
    if passphrase.len() > MOST_BYTES {
        return false;
    }
    let hash = kept.unwrap_or_else(|| {
        NOBODYS.get_or_init(|| made("nobody's passphrase", &[0; SALT_BYTES]).unwrap_or_default())
    });
    let fits = Argon2::default()
        .verify_password(passphrase.as_bytes(), hash)
        .is_ok();
    fits && kept.is_some()
}

fn made(passphrase: &str, salt: &[u8]) -> Option<String> {
    let hash = Argon2::default()
        .hash_password_with_salt(passphrase.as_bytes(), salt)
        .ok()?;
    Some(hash.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Sevens;

    impl Chance for Sevens {
        fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance> {
            bytes.fill(7);
            Ok(())
        }
    }

    #[test]
    fn only_the_passphrase_fits() {
        let kept = hashed("five char in the brine", &Sevens).unwrap();
        assert!(
            kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"),
            "{kept}"
        );
        assert!(fits("five char in the brine", Some(&kept)));
        for wrong in [
            "five char in the brine ",
            "Five char in the brine",
            "",
            &"x".repeat(2000),
        ] {
            assert!(!fits(wrong, Some(&kept)));
        }
        assert!(!fits("nobody's passphrase", None));
        assert!(!fits("five char in the brine", Some("not a hash")));
    }

    #[test]
    fn a_short_one_is_not_kept() {
        assert_eq!(hashed("elf letters", &Sevens), Err(NotKept::TooShort(11)));
        assert!(hashed("zwölf Zeichn", &Sevens).is_ok());
        assert_eq!(
            hashed(&"x".repeat(1025), &Sevens),
            Err(NotKept::TooLong(1025))
        );
    }
}
