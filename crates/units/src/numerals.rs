//! Writing figures: decimals half-up, trailing zeros dropped, thousands grouped by a comma.

use crate::rounding::{decimal, half_up};

/// `figure` rounded half-up to at most `most` decimals, with at least `least` of them kept.
/// A figure no decimal can hold is written as it stands.
pub(crate) fn plain(figure: f64, least: u32, most: u32) -> String {
    let Ok(exact) = decimal(figure) else {
        return format!("{figure}");
    };
    let rounded = half_up(exact, most).normalize();
    if rounded.is_zero() {
        return format!("{:.*}", least as usize, 0.0);
    }
    let places = rounded.scale().max(least) as usize;
    format!("{rounded:.places$}")
}

/// The digits of a plain figure with commas between thousands: "5580.5" becomes "5,580.5".
pub(crate) fn grouped(plain: &str) -> String {
    let (sign, rest) = plain
        .strip_prefix('-')
        .map_or(("", plain), |rest| ("-", rest));
    let (whole, tail) = rest.find('.').map_or((rest, ""), |dot| rest.split_at(dot));
    let mut out = String::from(sign);
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    out.push_str(tail);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_written_without_noise() {
        assert_eq!(plain(0.1 + 0.2, 0, 2), "0.3");
        assert_eq!(plain(2.5, 2, 4), "2.50");
        assert_eq!(plain(-0.001, 0, 1), "0");
        assert_eq!(grouped("1234567.25"), "1,234,567.25");
        assert_eq!(grouped("-1234"), "-1,234");
        assert_eq!(grouped("999"), "999");
    }
}
