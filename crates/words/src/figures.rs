//! Numbers as a language writes them: "5,220.5" and "5 220,5". Rounded half-up on decimals, once.

use crate::{Language, Words};

/// Between thousands in French, before a unit and before a percent sign: a narrow space that does not break.
const NARROW: char = '\u{202f}';
/// Between a number and its unit: a space that does not break.
const NO_BREAK: char = '\u{a0}';

impl Words {
    /// A number with so many decimals. What is no number is said to be none.
    #[must_use]
    pub fn number(&self, n: f64, places: u32) -> String {
        let Ok(decimal) = units::decimal(n) else {
            return self.say("not-a-number");
        };
        self.decimal(units::half_up(decimal, places), places)
    }

    /// A decimal that is rounded already, with so many decimals.
    #[must_use]
    pub fn decimal(&self, n: units::Decimal, places: u32) -> String {
        let plain = format!("{:.*}", places as usize, n.abs());
        let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
        let (thousands, point) = match self.language() {
            Language::English => (',', '.'),
            Language::French => (NARROW, ','),
        };
        let mut text = String::new();
        if n.is_sign_negative() && !n.is_zero() {
            text.push('−');
        }
        for (i, digit) in whole.chars().enumerate() {
            if i > 0 && (whole.len() - i).is_multiple_of(3) {
                text.push(thousands);
            }
            text.push(digit);
        }
        if !part.is_empty() {
            text.push(point);
            text.push_str(part);
        }
        text
    }

    /// A number as short as it is: "4", "4.5", with at most so many decimals.
    #[must_use]
    pub fn short(&self, n: f64, most: u32) -> String {
        let Ok(decimal) = units::decimal(n) else {
            return self.say("not-a-number");
        };
        let rounded = units::half_up(decimal, most).normalize();
        self.decimal(rounded, rounded.scale())
    }

    /// A number with its unit, held together.
    #[must_use]
    pub fn with_unit(&self, number: &str, unit: &str) -> String {
        format!("{number}{NO_BREAK}{unit}")
    }

    /// A percentage.
    #[must_use]
    pub fn percent(&self, n: f64, places: u32) -> String {
        self.with_unit(&self.number(n, places), "%")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_and_decimals_are_of_the_language() {
        let (en, fr) = (Words::of(Language::English), Words::of(Language::French));
        assert_eq!(en.number(5220.0, 0), "5,220");
        assert_eq!(fr.number(5220.0, 0), "5\u{202f}220");
        assert_eq!(en.number(1_234_567.25, 1), "1,234,567.3");
        assert_eq!(fr.number(139.5, 1), "139,5");
        assert_eq!(
            fr.with_unit(&fr.number(5220.0, 0), "g"),
            "5\u{202f}220\u{a0}g"
        );
        assert_eq!(en.number(-3.0, 0), "−3");
        assert_eq!(en.number(-0.001, 2), "0.00");
        assert_eq!(en.short(4.50, 2), "4.5");
    }

    #[test]
    fn halves_go_up_on_the_decimal_and_not_on_the_binary_figure() {
        // 0.925 g is 0.93 g, though the nearest binary fraction lies below it.
        assert_eq!(Words::of(Language::English).number(0.925, 2), "0.93");
    }

    #[test]
    fn what_is_no_number_is_never_printed_as_one() {
        let text = Words::of(Language::English).number(f64::NAN, 1);
        assert!(!text.is_empty() && !text.contains("NaN"), "{text}");
    }
}
