//! A short code with a check character, so that a smudged label is noticed and not misread.
//!
//! The check is ISO/IEC 7064 MOD 37,36, a hybrid system with one check character out of the same 36 letters and digits: it
//! finds every single wrong character and nearly every swap of two neighbours. The standard itself was not read: the
//! algorithm is second-hand, from libraries that agree, and is tested against published numbers of two schemes that use it.

/// Letters and digits in the order of their values.
const ALPHABET: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// Characters of the alphabet: the inner modulus.
const N: usize = 36;
/// The outer modulus.
const M: usize = 37;
/// What our own payloads are written in: none of I, L, O and U, which are read as 1, 1, 0 and V.
const PAYLOAD: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// What a camera reads before the code. A scheme of our own, for a label of our own; it leads nowhere on any network.
pub const SCHEME: &str = "saltern:";

fn value(character: char) -> Option<usize> {
    ALPHABET.iter().position(|c| char::from(*c) == character)
}

/// What is left after every character of `text` went through the sum; `None` for a character outside the alphabet.
fn product(text: &str) -> Option<usize> {
    text.chars().try_fold(N, |product, character| {
        let sum = (product + value(character)?) % N;
        Some((if sum == 0 { N } else { sum }) * 2 % M)
    })
}

/// The check character of a payload of digits and capital letters; `None` when it holds anything else, or nothing.
///
/// # Source
/// ISO/IEC 7064 MOD 37,36, second-hand.
#[must_use]
pub fn check_character(payload: &str) -> Option<char> {
    if payload.is_empty() {
        return None;
    }
    let left = product(payload)?;
    Some(char::from(ALPHABET[(M - left) % N]))
}

/// Whether the last character of a code is the check character of the rest. Hyphens do not count, small letters do as large.
#[must_use]
pub fn holds(code: &str) -> bool {
    let plain: String = code
        .chars()
        .filter(|c| *c != '-')
        .map(|c| c.to_ascii_uppercase())
        .collect();
    let mut payload = plain.chars();
    let Some(last) = payload.next_back() else {
        return false;
    };
    check_character(payload.as_str()) == Some(last)
}

/// Whether a character is of the alphabet of our payloads.
pub(crate) fn in_payload(character: char) -> bool {
    PAYLOAD.iter().any(|c| char::from(*c) == character)
}

/// A number in so many characters of the payload alphabet; what does not fit is cut off at the front.
pub(crate) fn digits(mut n: u64, characters: usize) -> String {
    let base = PAYLOAD.len() as u64;
    let mut text = vec![b'0'; characters];
    for place in text.iter_mut().rev() {
        #[allow(clippy::cast_possible_truncation)] // below 32
        let digit = (n % base) as usize;
        *place = PAYLOAD[digit];
        n /= base;
    }
    text.into_iter().map(char::from).collect()
}

/// How many different payloads of so many characters there are.
pub(crate) const fn room(characters: u32) -> u64 {
    (PAYLOAD.len() as u64).pow(characters)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published numbers: the example of the Global Release Identifier (A1-2425G-ABC1234002-M) and two ISANs of one film
    /// (C36D-002B… with checks K and E), second-hand, from test lists of several unrelated libraries.
    #[test]
    fn published_numbers_carry_the_check_character_we_compute() {
        for (payload, check) in [
            ("A12425GABC1234002", 'M'),
            ("00000000C36D002B", 'K'),
            ("00000000C36D002B00000000", 'E'),
        ] {
            assert_eq!(check_character(payload), Some(check), "{payload}");
        }
        assert!(holds("A1-2425G-ABC1234002-M"));
        assert!(!holds("A1-2425G-ABC1234002-N"));
    }

    #[test]
    fn every_single_wrong_character_is_found() {
        let payload = "7XQ4K03";
        let code = format!("{payload}{}", check_character(payload).unwrap());
        assert!(holds(&code));
        for at in 0..code.len() {
            for wrong in ALPHABET {
                let mut bytes = code.clone().into_bytes();
                if bytes[at] == *wrong {
                    continue;
                }
                bytes[at] = *wrong;
                let read = String::from_utf8(bytes).unwrap();
                assert!(!holds(&read), "{read} passes for {code}");
            }
        }
    }

    #[test]
    fn what_is_no_code_does_not_hold() {
        for text in ["", "-", "é", "A12425GABC1234002é", "7"] {
            // One character alone has nothing to check.
            assert!(!holds(text), "{text}");
        }
    }

    #[test]
    fn digits_are_of_our_alphabet() {
        assert_eq!(digits(0, 2), "00");
        assert_eq!(digits(31, 2), "0Z");
        assert_eq!(digits(32, 2), "10");
        assert_eq!(room(2), 1024);
    }
}
