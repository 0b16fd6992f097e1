//! SHA-256 as the store keeps it.

use std::fmt;

use sha2::{Digest, Sha256};

/// A SHA-256 hash; shown as 64 hexadecimal digits.
///
/// # Source
/// FIPS 180-4, as implemented by the crate `sha2`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Hash([u8; 32]);

impl Hash {
    /// What the first entry holds as the hash of the one before: 32 zero bytes.
    pub const NONE: Self = Self([0; 32]);

    /// The hash of some bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// Reads 64 hexadecimal digits.
    #[must_use]
    pub fn from_hex(text: &str) -> Option<Self> {
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return None;
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks(2)) {
            let pair = std::str::from_utf8(pair).ok()?;
            // `from_str_radix` takes a sign; a hash has none.
            if pair.starts_with('+') {
                return None;
            }
            *byte = u8::from_str_radix(pair, 16).ok()?;
        }
        Some(Self(bytes))
    }

    pub(crate) fn bytes(&self) -> &[u8] {
        &self.0
    }

    pub(crate) fn stored(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: FIPS 180-4 example values for SHA-256 ("abc" and the empty message); from memory,
    /// and checked against Python's hashlib on 2026-11-25.
    #[test]
    fn published_examples() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Hash::of(b"abc").to_string(), abc);
        assert_eq!(Hash::from_hex(abc), Some(Hash::of(b"abc")));
        let none = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        assert_eq!(Hash::of(b"").to_string(), none);
        assert_eq!(Hash::from_hex(&"+1".repeat(32)), None);
        assert_eq!(Hash::from_hex(&abc[1..]), None);
    }
}
