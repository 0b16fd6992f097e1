//! One language's messages.

use fluent_bundle::{FluentArgs, FluentBundle, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

use crate::Language;
use crate::files::FILES;

/// Which plural rules a language takes (BCP 47).
const ENGLISH: &str = "en-CA";
const FRENCH: &str = "fr-CA";

/// What goes into a message.
#[derive(Debug, Clone, PartialEq)]
pub enum Value<'a> {
    /// Text, put in as it is.
    Text(&'a str),
    /// A count: the message chooses its plural by it.
    Count(u64),
}

impl<'a> From<&'a str> for Value<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}

impl<'a> From<&'a String> for Value<'a> {
    fn from(text: &'a String) -> Self {
        Self::Text(text)
    }
}

impl From<u64> for Value<'_> {
    fn from(count: u64) -> Self {
        Self::Count(count)
    }
}

impl From<usize> for Value<'_> {
    fn from(count: usize) -> Self {
        Self::Count(count as u64)
    }
}

impl From<u32> for Value<'_> {
    fn from(count: u32) -> Self {
        Self::Count(u64::from(count))
    }
}

/// The words of one language.
pub struct Words {
    language: Language,
    bundle: FluentBundle<FluentResource>,
}

impl std::fmt::Debug for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Words")
            .field("language", &self.language)
            .finish_non_exhaustive()
    }
}

impl Words {
    /// The words of a language.
    #[must_use]
    pub fn of(language: Language) -> Self {
        let locale = match language {
            Language::English => ENGLISH,
            Language::French => FRENCH,
        };
        // Two constants, and a test of the plurals they bring.
        let locale: LanguageIdentifier = locale.parse().unwrap_or_default();
        let mut bundle = FluentBundle::new(vec![locale]);
        // Paper is drawn by us, left to right: marks around what is put in would be boxes on it.
        bundle.set_use_isolating(false);
        for file in FILES.iter().filter(|f| f.language == language) {
            // What a file holds is tested; a part that does not read is left out here and shows as its key.
            let resource = match FluentResource::try_new(file.text.to_owned()) {
                Ok(resource) | Err((resource, _)) => resource,
            };
            bundle.add_resource_overriding(resource);
        }
        Self { language, bundle }
    }

    /// Which language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }

    /// Whether there is a message of this key.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.bundle
            .get_message(key)
            .is_some_and(|m| m.value().is_some())
    }

    /// The message of a key. A key that is not there comes back in angle brackets, never as nothing; tests keep the
    /// message files and the keys in the code together.
    #[must_use]
    pub fn say(&self, key: &str) -> String {
        self.say_with(key, &[])
    }

    /// The message of a key with what goes into it.
    #[must_use]
    pub fn say_with(&self, key: &str, with: &[(&str, Value<'_>)]) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|m| m.value()) else {
            return format!("⟨{key}⟩");
        };
        let mut args = FluentArgs::new();
        for (name, value) in with {
            match value {
                Value::Text(text) => args.set(*name, FluentValue::from(*text)),
                #[allow(clippy::cast_precision_loss)]
                Value::Count(n) => args.set(*name, FluentValue::from(*n as f64)),
            }
        }
        let mut wrong = Vec::new();
        let text = self
            .bundle
            .format_pattern(pattern, Some(&args), &mut wrong)
            .into_owned();
        if wrong.is_empty() {
            text
        } else {
            format!("⟨{key}⟩ {text}")
        }
    }
}
