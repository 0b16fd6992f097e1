//! The message files, compiled in.

use crate::Language;

/// One message file of one language.
#[derive(Debug, Clone, Copy)]
pub struct File {
    /// Language.
    pub language: Language,
    /// Its name, the same in every language.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

macro_rules! files {
    ($($name:literal),+ $(,)?) => {
        /// Every message file of every language.
        pub const FILES: &[File] = &[$(
            File { language: Language::English, name: $name, text: include_str!(concat!("../en/", $name, ".ftl")) },
            File { language: Language::French, name: $name, text: include_str!(concat!("../fr/", $name, ".ftl")) },
        )+];
    };
}

files!(
    "board",
    "calendar",
    "cautions",
    "columns",
    "emergency",
    "kitchen",
    "lines",
    "papers",
    "record",
);
