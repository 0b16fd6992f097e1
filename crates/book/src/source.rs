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

/// Where the lines of a text start, so that many places in it are found quickly.
pub(crate) struct Lines(Vec<usize>);

impl Lines {
    pub(crate) fn of(text: &str) -> Self {
        let after = text.match_indices('\n').map(|(at, _)| at + 1);
        Self(std::iter::once(0).chain(after).collect())
    }

    /// Line and column (both from 1, columns in characters) of byte `at` of `text`.
    pub(crate) fn line_column(&self, text: &str, at: usize) -> (usize, usize) {
        let at = at.min(text.len());
        let line = self.0.partition_point(|start| *start <= at);
        let start = self.0.get(line - 1).copied().unwrap_or(0);
        let column = text
            .get(start..)
            .unwrap_or("")
            .char_indices()
            .take_while(|(i, c)| start + i + c.len_utf8() <= at)
            .count();
        (line, column + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line_column(text: &str, at: usize) -> (usize, usize) {
        Lines::of(text).line_column(text, at)
    }

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_column("é = 1\nb = 2", 0), (1, 1));
        assert_eq!(line_column("é = 1\nb = 2", 3), (1, 3));
        assert_eq!(line_column("é = 1\nb = 2", 7), (2, 1));
        assert_eq!(line_column("é", 1), (1, 1));
        assert_eq!(line_column("ab", 99), (1, 3));
        assert_eq!(line_column("a\n", 2), (2, 1));
        assert_eq!(line_column("", 0), (1, 1));
    }
}
