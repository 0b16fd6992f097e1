//! A table to hand out: headings with units, rows of real values; csv and xlsx are written from the same one.

use jiff::ZonedDateTime;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// One table.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// One word: the file's and the tab's name.
    pub name: &'static str,
    /// What stands over it in print.
    pub title: String,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows, each as long as the columns.
    pub rows: Vec<Vec<Cell>>,
}

/// One column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// What stands in it.
    pub name: &'static str,
    /// In which unit; empty where there is none.
    pub unit: String,
    /// Decimals a spreadsheet shows of its numbers; what is stored is not rounded.
    pub places: u8,
    /// Characters wide in a spreadsheet.
    pub wide: u16,
}

impl Column {
    /// A column of texts, dates or words.
    #[must_use]
    pub fn text(name: &'static str, wide: u16) -> Self {
        Self {
            name,
            unit: String::new(),
            places: 0,
            wide,
        }
    }

    /// A column of numbers.
    #[must_use]
    pub fn number(name: &'static str, unit: &str, places: u8) -> Self {
        Self {
            name,
            unit: unit.to_owned(),
            places,
            wide: 12,
        }
    }

    /// `need (g)`.
    #[must_use]
    pub fn heading(&self) -> String {
        if self.unit.is_empty() {
            self.name.to_owned()
        } else {
            format!("{} ({})", self.name, self.unit)
        }
    }
}

/// One value.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Unknown, or does not apply: an empty cell, never a zero.
    Unknown,
    /// Words.
    Text(String),
    /// A number, not rounded.
    Number(f64),
    /// Money, exact.
    Money(Decimal),
    /// A moment at the site.
    Moment(ZonedDateTime),
    /// A day.
    Day(Date),
}

impl Cell {
    /// Words; an empty text is no value.
    #[must_use]
    pub fn text(words: impl Into<String>) -> Self {
        let words = words.into();
        if words.is_empty() {
            Self::Unknown
        } else {
            Self::Text(words)
        }
    }

    /// A number that may be unknown.
    #[must_use]
    pub fn number(n: impl Into<Option<f64>>) -> Self {
        n.into().map_or(Self::Unknown, Self::Number)
    }

    /// Money that may be unknown.
    #[must_use]
    pub fn money(amount: impl Into<Option<units::Money>>) -> Self {
        amount
            .into()
            .map_or(Self::Unknown, |m| Self::Money(m.amount()))
    }
}
