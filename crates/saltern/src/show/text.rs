//! Pieces of text: numbers, columns, wrapping.

/// Width of everything printed.
pub(crate) const COLUMNS: usize = 100;

pub(crate) use plan::wording::{bench, difference, grams, money, plural};

/// Text in a column: cut with an ellipsis when it is longer.
pub(crate) fn column(text: &str, width: usize) -> String {
    let length = text.chars().count();
    if length <= width {
        return format!("{text}{}", " ".repeat(width - length));
    }
    let kept: String = text.chars().take(width.saturating_sub(1)).collect();
    format!("{kept}…")
}

/// Text at the right edge of a column.
pub(crate) fn right(text: &str, width: usize) -> String {
    let length = text.chars().count();
    format!("{}{text}", " ".repeat(width.saturating_sub(length)))
}

/// A paragraph behind a mark, wrapped and indented to stand under itself.
pub(crate) fn paragraph(mark: &str, text: &str) -> String {
    let indent = mark.chars().count();
    let parts = plan::figures::wrap(text, COLUMNS - indent);
    let mut out = String::new();
    for (i, part) in parts.iter().enumerate() {
        if i == 0 {
            out.push_str(mark);
        } else {
            out.push_str(&" ".repeat(indent));
        }
        out.push_str(part);
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_keep_their_width() {
        assert_eq!(column("abc", 5), "abc  ");
        assert_eq!(column("abcdef", 4), "abc…");
        assert_eq!(right("7", 3), "  7");
    }
}
