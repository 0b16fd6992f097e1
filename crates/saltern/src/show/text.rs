//! Pieces of text: numbers, columns, wrapping.

use units::{BenchKind, Mass, Money};

/// Width of everything printed.
pub(crate) const COLUMNS: usize = 100;

/// Grams as computed: to 0.1 g, and to 0.01 g below ten grams.
pub(crate) fn grams(g: f64, curing: bool) -> String {
    let places = if curing || g < 9.995 { 2 } else { 1 };
    format!("{} g", plan::figures::number(g, places))
}

/// What the bench weighs out.
pub(crate) fn bench(g: f64, curing: bool) -> String {
    let kind = if curing {
        BenchKind::CuringSalt
    } else {
        BenchKind::Ordinary
    };
    Mass::grams(g).map_or_else(|_| String::new(), |m| units::bench(m, kind).to_string())
}

/// Money with its sign.
pub(crate) fn money(sign: &str, amount: Money, places: u32) -> String {
    let text = plan::figures::money(amount.amount(), places);
    match text.strip_prefix('−') {
        Some(rest) => format!("−{sign}{rest}"),
        None => format!("{sign}{text}"),
    }
}

/// Money that is a difference: the sign always shown.
pub(crate) fn difference(sign: &str, amount: Money) -> String {
    let text = money(sign, amount, 2);
    if text.starts_with('−') {
        text
    } else {
        format!("+{text}")
    }
}

/// A count word for more than one.
pub(crate) fn plural(word: &str, n: f64) -> String {
    if (n - 1.0).abs() < 1e-9 || matches!(word, "fish" | "kg" | "g") {
        return word.to_owned();
    }
    match word {
        "loaf" => "loaves".to_owned(),
        w if w.ends_with("ch") || w.ends_with("sh") || w.ends_with('x') || w.ends_with('s') => {
            format!("{w}es")
        }
        w => format!("{w}s"),
    }
}

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
