//! A file as it was handed in, and where a byte of it stands.

/// A file of a book: its name and its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    /// Name as the user knows it.
    pub name: String,
    /// Content.
    pub bytes: Vec<u8>,
}

impl SourceFile {
    /// A file from text.
    #[must_use]
    pub fn text(name: &str, text: &str) -> Self {
        Self {
            name: name.to_owned(),
            bytes: text.as_bytes().to_vec(),
        }
    }
}

/// Line and column (both from 1, columns in characters) of byte `at` of `text`.
#[must_use]
pub(crate) fn line_column(text: &str, at: usize) -> (usize, usize) {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .map_or(1, |tail| tail.chars().count() + 1);
    (line, column)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_column("é = 1\nb = 2", 0), (1, 1));
        assert_eq!(line_column("é = 1\nb = 2", 3), (1, 3));
        assert_eq!(line_column("é = 1\nb = 2", 7), (2, 1));
        assert_eq!(line_column("é", 1), (1, 1));
        assert_eq!(line_column("ab", 99), (1, 3));
    }
}
