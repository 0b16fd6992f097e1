//! Round steps along an axis: 1, 2 or 5 times a power of ten.

use crate::text::minus;

/// A distance between ticks: `mantissa × 10^exponent`, mantissa 1, 2 or 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Step {
    mantissa: i64,
    exponent: i32,
}

impl Step {
    /// The largest round step not above `distance` (finite, above 0).
    pub(crate) fn at_most(distance: f64) -> Self {
        let exponent = distance.log10().floor() as i32;
        // Whole digits below may come a rounding error short: 0.3 / 0.1 is 2.9999999999999996.
        let digits = distance / power(exponent) * (1.0 + 1e-9);
        let mantissa = if digits >= 5.0 {
            5
        } else if digits >= 2.0 {
            2
        } else {
            1
        };
        Self { mantissa, exponent }
    }

    /// The next round step up.
    pub(crate) const fn wider(self) -> Self {
        match self.mantissa {
            1 => Self {
                mantissa: 2,
                ..self
            },
            2 => Self {
                mantissa: 5,
                ..self
            },
            _ => Self {
                mantissa: 1,
                exponent: self.exponent + 1,
            },
        }
    }

    fn value(self, count: f64) -> f64 {
        // Dividing by a whole power keeps 3 × 0.1 at 0.3.
        let whole = count * self.mantissa as f64;
        if self.exponent < 0 {
            whole / power(-self.exponent)
        } else {
            whole * power(self.exponent)
        }
    }

    /// The ticks from `from` to `to`, both included where they fall on one.
    pub(crate) fn ticks(self, from: f64, to: f64) -> Vec<f64> {
        let size = self.value(1.0);
        let first = (from / size - 1e-9).ceil();
        let last = (to / size + 1e-9).floor();
        let count = (last - first).max(-1.0) as i64 + 1;
        (0..count)
            .map(|i| self.value(first + i as f64) + 0.0)
            .collect()
    }

    /// The round numbers just outside `low` and `high`.
    pub(crate) fn around(self, low: f64, high: f64) -> (f64, f64) {
        let size = self.value(1.0);
        (
            self.value((low / size + 1e-9).floor()) + 0.0,
            self.value((high / size - 1e-9).ceil()) + 0.0,
        )
    }
}

fn power(exponent: i32) -> f64 {
    10.0_f64.powi(exponent)
}

/// The ticks of one axis and their words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ticks {
    /// Value and words of each tick.
    pub(crate) at: Vec<(f64, String)>,
    /// Power of ten by which the words are to be multiplied; 0 when they stand for themselves.
    pub(crate) scale: i32,
}

/// Ticks for an axis: the narrowest round step for which `fits` says there is room.
pub(crate) fn ticks(from: f64, to: f64, fits: impl Fn(&Ticks) -> bool) -> Ticks {
    let mut step = Step::at_most((to - from) / 12.0);
    loop {
        let found = labelled(from, to, step);
        // Two ticks are the least that tell a scale; beyond that words may touch but never vanish.
        if found.at.len() <= 2 || fits(&found) {
            return found;
        }
        step = step.wider();
        if step.ticks(from, to).len() < 2 {
            return found;
        }
    }
}

fn labelled(from: f64, to: f64, step: Step) -> Ticks {
    let largest = from.abs().max(to.abs());
    let scale = if !(1e-3..1e6).contains(&largest) {
        (largest.log10().floor() as i32).div_euclid(3) * 3
    } else {
        0
    };
    let decimals = (scale - step.exponent).max(0) as usize;
    let at = step
        .ticks(from, to)
        .into_iter()
        .map(|value| {
            let shown = if scale >= 0 {
                value / power(scale)
            } else {
                value * power(-scale)
            };
            (value, minus(&format!("{shown:.decimals$}")))
        })
        .collect();
    Ticks { at, scale }
}

/// ` ×10⁶` for a scale of 6; nothing for 0.
pub(crate) fn scale_words(scale: i32) -> String {
    if scale == 0 {
        return String::new();
    }
    let raised: String = scale
        .to_string()
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            // The other superscript digits stand in order from U+2070.
            _ => c
                .to_digit(10)
                .and_then(|d| char::from_u32(0x2070 + d))
                .unwrap_or(c),
        })
        .collect();
    format!(", ×10{raised}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn words(from: f64, to: f64, most: usize) -> Vec<String> {
        let found = ticks(from, to, |t| t.at.len() <= most);
        found.at.into_iter().map(|(_, w)| w).collect()
    }

    #[test]
    fn steps_are_one_two_or_five() {
        assert_eq!(words(0.0, 48.0, 6), ["0", "10", "20", "30", "40"]);
        assert_eq!(
            words(0.0, 1.0, 6),
            ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]
        );
        assert_eq!(words(-4.0, 4.0, 5), ["−4", "−2", "0", "2", "4"]);
        assert_eq!(words(0.0, 0.3, 4), ["0.0", "0.1", "0.2", "0.3"]);
        assert_eq!(words(97.3, 104.9, 4), ["98", "100", "102", "104"]);
        assert_eq!(words(0.0, 3.0e7, 4), ["0", "10", "20", "30"]);
    }

    #[test]
    fn large_and_small_numbers_name_their_power() {
        assert_eq!(ticks(0.0, 3.0e7, |t| t.at.len() < 9).scale, 6);
        assert_eq!(ticks(0.0, 4.0e-10, |t| t.at.len() < 9).scale, -12);
        assert_eq!(scale_words(6), ", ×10⁶");
        assert_eq!(scale_words(-12), ", ×10⁻¹²");
        assert_eq!(scale_words(0), "");
    }

    proptest! {
        #[test]
        fn ticks_lie_on_the_axis_evenly_and_read_as_their_value(
            from in -1e5..1e5_f64, stretch in 1e-2..1e5_f64, most in 3_usize..12,
        ) {
            let to = from + stretch;
            let found = ticks(from, to, |t| t.at.len() <= most);
            let slack = 1e-8 * stretch;
            prop_assert!(found.at.len() >= 2);
            prop_assert!(found.at.iter().all(|(v, _)| *v >= from - slack && *v <= to + slack));
            let step = found.at[1].0 - found.at[0].0;
            for pair in found.at.windows(2) {
                prop_assert!((pair[1].0 - pair[0].0 - step).abs() < slack);
            }
            let (mantissa, _) = format!("{step:.4e}").split_once('e').map(|(m, e)| (m.to_owned(), e.to_owned())).unwrap();
            prop_assert!(["1.0000", "2.0000", "5.0000"].contains(&mantissa.as_str()), "{mantissa}");
            for (value, words) in &found.at {
                let read: f64 = words.replace('−', "-").parse().unwrap();
                prop_assert!((read - value).abs() <= slack, "{words} for {value}");
            }
        }

        #[test]
        fn an_axis_around_values_holds_them(low in -1e4..1e4_f64, stretch in 1e-3..1e4_f64) {
            let step = Step::at_most(stretch / 5.0);
            let (from, to) = step.around(low, low + stretch);
            prop_assert!(from <= low + 1e-6 * stretch && to >= low + stretch - 1e-6 * stretch);
            prop_assert!(to - from <= 1.5 * stretch);
        }
    }
}
