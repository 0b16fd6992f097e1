//! Names as the record keeps them: people, devices, and what an entry is about.

use std::fmt;

use crate::error::Refusal;

/// Longest name taken, in characters.
pub const LONGEST_NAME: usize = 200;

fn checked(what: &'static str, text: &str, do_now: &'static str) -> Result<String, Refusal> {
    let kept = text.trim();
    let refuse = |found: String, expected: &str| Refusal {
        what,
        found,
        expected: expected.to_owned(),
        do_now,
    };
    // A name of nothing but invisible signs is nobody's.
    if !kept.chars().any(char::is_alphanumeric) {
        return Err(refuse(
            if kept.is_empty() {
                "nothing".to_owned()
            } else {
                format!("{kept:?}")
            },
            "at least one letter or digit",
        ));
    }
    if kept.chars().count() > LONGEST_NAME {
        return Err(refuse(
            format!("{} characters", kept.chars().count()),
            "at most 200 characters",
        ));
    }
    if let Some(sign) = kept.chars().find(|c| c.is_control()) {
        return Err(refuse(
            format!("the control character {sign:?}"),
            "one line of text",
        ));
    }
    Ok(kept.to_owned())
}

macro_rules! name {
    ($(#[$doc:meta])* $name:ident, $what:literal, $do_now:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(String);

        impl $name {
            /// One from text; blanks around it are dropped.
            ///
            /// # Errors
            /// When there is no letter or digit in it, more than [`LONGEST_NAME`] characters, or a
            /// control character.
            pub fn new(text: &str) -> Result<Self, Refusal> {
                checked($what, text, $do_now).map(Self)
            }

            /// The text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }

            pub(crate) fn stored(text: String) -> Self {
                Self(text)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }
    };
}

name!(
    /// The name of a person as it stands in the record. There is no entry without one.
    ///
    /// ```
    /// use store::Name;
    /// assert!(Name::new("Maren").is_ok());
    /// assert_eq!(
    ///     Name::new("  ").unwrap_err().to_string(),
    ///     "the name: found nothing; expected at least one letter or digit; \
    ///      now: say who enters this: the record takes nothing from nobody",
    /// );
    /// ```
    Name,
    "the name",
    "say who enters this: the record takes nothing from nobody"
);
name!(
    /// The device an entry was made on, by the id it was signed in under.
    DeviceId,
    "the device",
    "sign the device in and send its id"
);
name!(
    /// What an entry is about: an event, component, step, lot or part by its id.
    Label,
    "the id",
    "use the id that stands in the book or on the label"
);
name!(
    /// The id a client gives an entry, so that sending it twice stores it once: a UUID, or device
    /// and counter.
    EntryId,
    "the entry's id",
    "let the device make one: its own id, a colon and a counter that never repeats"
);

impl EntryId {
    /// The id of the `counter`-th entry made on a device.
    #[must_use]
    pub fn of_device(device: &DeviceId, counter: u64) -> Self {
        Self(format!("{device}:{counter}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_is_not_a_name() {
        for text in [
            "",
            " ",
            "\t\n",
            "\u{200b}",
            "...",
            "a\u{0}b",
            "a\nb",
            &"x".repeat(201),
        ] {
            assert!(Name::new(text).is_err(), "{text:?}");
        }
        assert_eq!(Name::new(" Øyvind 陳 ").unwrap().as_str(), "Øyvind 陳");
    }
}
