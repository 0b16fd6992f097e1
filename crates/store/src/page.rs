//! A page of the book and its revisions.

use std::fmt;

use crate::error::Refusal;
use crate::hash::Hash;
use crate::moment::Moment;
use crate::names::Name;

/// Longest page id, in bytes.
pub const LONGEST_PAGE_ID: usize = 255;

/// A page by the name of its file in the book: `recipes/hot-smoked-char.toml`.
///
/// An export writes files under these names, so nothing in them may lead out of the folder.
///
/// ```
/// use store::PageId;
/// assert!(PageId::new("recipes/hot-smoked-char.toml").is_ok());
/// for wrong in ["", "/etc/x.toml", "../x.toml", "a//b.toml", "a\\b.toml", ".x/y.toml", "x.txt"] {
///     assert!(PageId::new(wrong).is_err(), "{wrong}");
/// }
/// ```
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PageId(String);

impl PageId {
    /// A page id from a relative path with `/` between its parts.
    ///
    /// # Errors
    /// When it is empty, too long, absolute, hidden, leads upwards, holds a sign that files cannot
    /// have everywhere, or does not end in `.toml`.
    pub fn new(text: &str) -> Result<Self, Refusal> {
        let part_fits = |part: &str| {
            !part.is_empty()
                && !part.starts_with('.')
                && !part.ends_with(['.', ' '])
                && !part
                    .chars()
                    .any(|c| c.is_control() || "\\:*?\"<>|".contains(c))
        };
        let fits = text.len() <= LONGEST_PAGE_ID
            && text.split('/').all(part_fits)
            && text
                .rsplit('/')
                .next()
                .is_some_and(|file| file.len() > ".toml".len())
            && text.ends_with(".toml");
        if fits {
            return Ok(Self(text.to_owned()));
        }
        Err(Refusal {
            what: "the name of a page",
            found: format!(
                "{:?}",
                text.chars().take(LONGEST_PAGE_ID).collect::<String>()
            ),
            expected: format!(
                "a relative path such as \"recipes/char.toml\" of at most {LONGEST_PAGE_ID} bytes, \
                 nothing hidden, no \"..\", none of \\ : * ? \" < > |"
            ),
            do_now: "name the file so",
        })
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

impl fmt::Display for PageId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

/// What a page holds, by the first key that says so, as the book room reads it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PageKind {
    /// The name of the book.
    Book,
    /// One recipe.
    Recipe,
    /// One kitchen.
    Site,
    /// One event.
    Event,
    /// Lists of ingredients and dishes.
    Lists,
    /// Nothing the book room would read; kept all the same.
    Unread,
}

const KINDS: [(PageKind, &str); 6] = [
    (PageKind::Book, "book"),
    (PageKind::Recipe, "recipe"),
    (PageKind::Site, "site"),
    (PageKind::Event, "event"),
    (PageKind::Lists, "lists"),
    (PageKind::Unread, "unread"),
];

impl PageKind {
    /// What a text holds. The store keeps any text; whether it is right, `book::read` says.
    #[must_use]
    pub fn of(text: &str) -> Self {
        if text.len() > book::Limits::default().file_bytes {
            return Self::Unread;
        }
        let Ok(table) = text.parse::<toml::Table>() else {
            return Self::Unread;
        };
        let has = |key: &str| table.contains_key(key);
        // The order of the book room: an event names its site too, its own key decides.
        match () {
            () if has("book") => Self::Book,
            () if has("recipe") => Self::Recipe,
            () if has("event") => Self::Event,
            () if has("site") => Self::Site,
            () if has("ingredient") || has("dish") => Self::Lists,
            () => Self::Unread,
        }
    }

    /// How it is stored.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        KINDS
            .iter()
            .find(|(kind, _)| *kind == self)
            .map_or("", |(_, name)| name)
    }

    pub(crate) fn stored(text: &str) -> Option<Self> {
        KINDS
            .iter()
            .find(|(_, name)| *name == text)
            .map(|(kind, _)| *kind)
    }
}

/// A revision of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// Its place among all revisions of all pages: the number of the book once it was saved.
    pub book_number: i64,
    /// The page.
    pub page: PageId,
    /// Its number among the revisions of the page, from 1.
    pub number: u32,
    /// The revision it was made from; `None` for the first.
    pub parent: Option<u32>,
    /// What it holds.
    pub kind: PageKind,
    /// The text, byte for byte; `None` where the page was taken out of the book.
    pub text: Option<String>,
    /// Who saved it.
    pub who: Name,
    /// When.
    pub at: Moment,
    /// SHA-256 of all of the above, checked whenever the revision is read.
    pub hash: Hash,
}

/// A save that met a newer revision: its text is kept until somebody settles it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// Its number.
    pub id: i64,
    /// The page.
    pub page: PageId,
    /// What the writer had in hand; `None` where they thought the page new.
    pub parent: Option<Revision>,
    /// The newest revision when they saved.
    pub met: Revision,
    /// What they wrote; `None` where they wanted the page taken out.
    pub text: Option<String>,
    /// Who wrote it.
    pub who: Name,
    /// When.
    pub at: Moment,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_those_of_the_book_room() {
        for (text, kind) in [
            ("book = 'a'", PageKind::Book),
            ("recipe = 'a'", PageKind::Recipe),
            ("site = 'a'", PageKind::Site),
            ("event = 'a'\nsite = 'b'", PageKind::Event),
            ("[[ingredient]]\nid = 'a'", PageKind::Lists),
            ("[[dish]]\nid = 'a'", PageKind::Lists),
            ("x = 1", PageKind::Unread),
            ("recipe = 'a", PageKind::Unread),
            ("", PageKind::Unread),
        ] {
            assert_eq!(PageKind::of(text), kind, "{text}");
            assert_eq!(PageKind::stored(kind.as_str()), Some(kind));
        }
    }

    #[test]
    fn a_page_name_stays_in_its_folder() {
        for wrong in [
            "a/../b.toml",
            "a/./b.toml",
            ".toml",
            "a/.toml",
            "C:a.toml",
            "a\0.toml",
            "a/",
            "/a.toml",
            "a .toml/b.toml ",
            &format!("{}.toml", "x".repeat(251)),
        ] {
            assert!(PageId::new(wrong).is_err(), "{wrong:?}");
        }
        assert!(PageId::new("demo/recipes/flød.toml").is_ok());
    }
}
