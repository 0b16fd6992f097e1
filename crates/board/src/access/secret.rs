//! Secrets: 256 bits nobody can foretell, and what is made of them. A secret itself is only ever in a cookie.

use std::fmt::Write;

use sha2::{Digest, Sha256};
use subtle::ConstantTimeEq;

use super::{Chance, NoChance};

/// Bytes of a session's secret.
const SECRET_BYTES: usize = 32;
/// Bytes of a one-time sign-in: it lives ten minutes, and shorter makes a coarser square a tablet reads sooner.
const TOKEN_BYTES: usize = 16;
/// Numbers of six digits.
const PINS: u32 = 1_000_000;

/// A session's secret as the cookie carries it: 64 hexadecimal digits.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Secret(String);

impl Secret {
    pub(crate) fn new(chance: &dyn Chance) -> Result<Self, NoChance> {
        let mut bytes = [0; SECRET_BYTES];
        chance.fill(&mut bytes)?;
        Ok(Self(hex(&bytes)))
    }

    /// One from a cookie; only in the form this board gives out.
    pub(crate) fn read(text: &str) -> Option<Self> {
        is_hex(text, SECRET_BYTES).then(|| Self(text.to_owned()))
    }

    pub(crate) fn cookie(&self) -> &str {
        &self.0
    }

    /// What the store keeps of it: who reads the file cannot sign in with it.
    pub(crate) fn key(&self) -> String {
        hashed("session", &self.0)
    }

    /// What the forms of this session carry: no other site can read it, and it tells nothing of the cookie.
    pub(crate) fn form_token(&self) -> String {
        hashed("form", &self.0)
    }
}

/// A one-time token: 32 hexadecimal digits.
pub(crate) fn one_time(chance: &dyn Chance) -> Result<String, NoChance> {
    let mut bytes = [0; TOKEN_BYTES];
    chance.fill(&mut bytes)?;
    Ok(hex(&bytes))
}

pub(crate) fn is_one_time(text: &str) -> bool {
    is_hex(text, TOKEN_BYTES)
}

/// Six digits, each number as likely as any other.
pub(crate) fn pin(chance: &dyn Chance) -> Result<String, NoChance> {
    // The numbers above the last whole million would favour the small ones.
    let whole = u32::MAX - u32::MAX % PINS;
    loop {
        let mut bytes = [0; 4];
        chance.fill(&mut bytes)?;
        let n = u32::from_le_bytes(bytes);
        if n < whole {
            return Ok(format!("{:06}", n % PINS));
        }
    }
}

/// SHA-256 of a text for one purpose, in hexadecimal digits: the same text for another purpose gives another.
pub(crate) fn hashed(purpose: &str, text: &str) -> String {
    let mut hash = Sha256::new();
    hash.update(b"saltern ");
    hash.update(purpose.as_bytes());
    hash.update(b"\n");
    hash.update(text.as_bytes());
    hex(&hash.finalize())
}

/// Whether two texts are the same, in a time that does not tell where they differ.
pub(crate) fn same(a: &str, b: &str) -> bool {
    a.as_bytes().ct_eq(b.as_bytes()).into()
}

fn is_hex(text: &str, bytes: usize) -> bool {
    text.len() == 2 * bytes
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, b| {
        let _ = write!(text, "{b:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use super::*;

    struct Given(Mutex<Vec<u8>>);

    impl Chance for Given {
        fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance> {
            let mut given = self.0.lock().unwrap();
            if given.len() < bytes.len() {
                return Err(NoChance);
            }
            let rest = given.split_off(bytes.len());
            bytes.copy_from_slice(&given);
            *given = rest;
            Ok(())
        }
    }

    fn given(bytes: &[u8]) -> Given {
        Given(Mutex::new(bytes.to_vec()))
    }

    #[test]
    fn a_secret_reads_back_and_nothing_else_does() {
        let secret = Secret::new(&given(&[7; 32])).unwrap();
        assert!(Secret::read(secret.cookie()) == Some(secret.clone()));
        let upper = secret.cookie().to_uppercase();
        for forged in [
            "",
            "07",
            &upper.replace('7', "A"),
            "' OR 1=1 --",
            &"0".repeat(65),
        ] {
            assert!(Secret::read(forged).is_none(), "{forged}");
        }
        assert_ne!(secret.key(), secret.form_token());
        assert!(!secret.key().contains(secret.cookie()));
    }

    /// FIPS 180-4's own examples are checked in the library; this fixes the form around it. Reference:
    /// `printf 'saltern session\n00' | sha256sum` (GNU coreutils 9), run here.
    #[test]
    fn the_hash_is_sha_256_of_purpose_and_text() {
        assert_eq!(
            hashed("session", "00"),
            "c6ec11a1aba81128fcd653f227babb0abaccfbeccaa222d2d09f945853f7bdf4"
        );
    }

    #[test]
    fn a_pin_drops_what_would_favour_small_numbers() {
        let last = 4_293_999_999_u32.to_le_bytes();
        let beyond = 4_294_000_000_u32.to_le_bytes();
        let good = 7_000_042_u32.to_le_bytes();
        assert_eq!(pin(&given(&last)).unwrap(), "999999");
        assert_eq!(pin(&given(&[beyond, good].concat())).unwrap(), "000042");
        assert!(pin(&given(&beyond)).is_err());
    }

    #[test]
    fn without_randomness_nothing_is_made() {
        assert!(Secret::new(&given(&[1; 31])).is_err());
        assert!(one_time(&given(&[])).is_err());
    }
}
