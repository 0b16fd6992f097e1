//! Half-up rounding on decimals, and the bench rule that decides how finely a weight is written.
//!
//! Binary fractions turn 0.925 into 0.924 999…; rounding that would print 0.92 where the
//! scale should show 0.93. Every figure therefore becomes a decimal first.

use crate::{Mass, QuantityError};
use core::fmt;
use core::str::FromStr;
use rust_decimal::{Decimal, RoundingStrategy};

/// Decimals kept when a binary figure becomes a decimal. A nanogram is far below any scale.
pub const DECIMALS_KEPT: i32 = 9;
/// Significant digits a binary figure is trusted for (an `f64` carries between 15 and 17).
const DIGITS_TRUSTED: i32 = 15;

/// The decimal a cook would say a binary figure is: rounded to nine decimals, and to
/// fifteen significant digits where the figure is too large for nine decimals to mean anything.
///
/// # Errors
/// [`QuantityError::NotFinite`] for NaN and infinities, [`QuantityError::NotDecimal`] above about 7.9e28.
///
/// # Example
/// ```
/// let salt_g = 370.0 * 0.0025;
/// assert_eq!(units::decimal(salt_g)?.normalize().to_string(), "0.925");
/// assert!(units::decimal(f64::NAN).is_err());
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn decimal(figure: f64) -> Result<Decimal, QuantityError> {
    if !figure.is_finite() {
        return Err(QuantityError::NotFinite { quantity: "figure" });
    }
    // Place of the leading digit: 0 for 1..10, 3 for thousands, negative below one.
    let leading = if figure == 0.0 {
        0.0
    } else {
        figure.abs().log10().floor()
    };
    let spare = f64::from(DIGITS_TRUSTED - 1) - leading;
    let places = spare.clamp(0.0, f64::from(DECIMALS_KEPT)) as usize;
    let text = format!("{figure:.places$}");
    Decimal::from_str(&text).map_err(|_| QuantityError::NotDecimal { quantity: "figure" })
}

/// Rounds half-up (a half moves away from zero) to `places` decimals.
#[must_use]
pub fn half_up(figure: Decimal, places: u32) -> Decimal {
    figure.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero)
}

/// What is being weighed, as far as the bench rule cares.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BenchKind {
    /// Anything that is not a curing salt.
    Ordinary,
    /// A salt carrying nitrite or nitrate: always to 0.01 g.
    CuringSalt,
}

/// A weight as it is written on a bench sheet: rounded, with the decimals it is shown to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BenchWeight {
    grams: Decimal,
    places: u32,
    vanished: bool,
}

impl BenchWeight {
    /// The rounded weight in grams.
    #[must_use]
    pub fn grams(self) -> Decimal {
        self.grams
    }

    /// Decimals of a gram it is written with.
    #[must_use]
    pub fn places(self) -> u32 {
        self.places
    }

    /// True when something was to be weighed but the rounding left nothing: the sheet
    /// must then say so instead of printing 0.00 g.
    #[must_use]
    pub fn vanished(self) -> bool {
        self.vanished
    }
}

impl fmt::Display for BenchWeight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = self.places as usize;
        write!(
            f,
            "{} g",
            crate::numerals::grouped(&format!("{:.places$}", self.grams))
        )
    }
}

/// A weight in grams as a decimal. A sum of weights past 7.9e28 g, more than the planet's
/// mass, has no decimal; it is given as the largest one rather than as a panic.
fn grams_of(weight: Mass) -> Decimal {
    decimal(weight.g()).unwrap_or(Decimal::MAX)
}

/// Decimals shown for an ordinary weight of this many grams.
fn ordinary_places(grams: Decimal) -> u32 {
    if grams >= Decimal::ONE_HUNDRED {
        0
    } else if grams >= Decimal::TEN {
        1
    } else {
        2
    }
}

/// Rounds a weight the way benches weigh: from 1 kg to 5 g, from 100 g to 1 g, from 10 g to
/// 0.1 g, below 10 g and for every curing salt to 0.01 g, always half-up.
///
/// The class is decided by the weight before rounding. Where the rounding carries a weight
/// over the edge of its class the figure is written with the decimals of the next one:
/// 99.96 g is written 100 g, not 100.0 g.
///
/// # Source
/// The house's printed-form rule; common practice, no source.
///
/// # Example
/// ```
/// use units::{Mass, BenchKind, bench};
/// assert_eq!(bench(Mass::grams(139.5)?, BenchKind::Ordinary).to_string(), "140 g");
/// assert_eq!(bench(Mass::grams(24.05)?, BenchKind::CuringSalt).to_string(), "24.05 g");
/// # Ok::<(), units::QuantityError>(())
/// ```
#[must_use]
pub fn bench(weight: Mass, kind: BenchKind) -> BenchWeight {
    let exact = grams_of(weight);
    let (grams, places) = match kind {
        BenchKind::CuringSalt => (half_up(exact, 2), 2),
        BenchKind::Ordinary if exact >= Decimal::ONE_THOUSAND => {
            let five = Decimal::from(5);
            let fives = half_up(exact / five, 0);
            (fives.checked_mul(five).unwrap_or(exact), 0)
        }
        BenchKind::Ordinary => {
            let rounded = half_up(exact, ordinary_places(exact));
            (rounded, ordinary_places(rounded))
        }
    };
    BenchWeight {
        grams,
        places,
        vanished: grams.is_zero() && weight.g() > 0.0,
    }
}

/// Rounds a weight half-up to a stated number of decimals of a gram, as formula tables print it.
#[must_use]
pub fn exact(weight: Mass, places: u32) -> BenchWeight {
    let places = places.min(DECIMALS_KEPT.unsigned_abs());
    let grams = half_up(grams_of(weight), places);
    BenchWeight {
        grams,
        places,
        vanished: grams.is_zero() && weight.g() > 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use BenchKind::{CuringSalt, Ordinary};

    fn written(grams: f64, kind: BenchKind) -> String {
        bench(Mass::grams(grams).unwrap(), kind).to_string()
    }

    #[test]
    fn binary_noise_does_not_decide_a_half() {
        assert_eq!(decimal(370.0 * 0.0025).unwrap(), Decimal::new(925, 3));
        assert_eq!(written(370.0 * 0.0025, CuringSalt), "0.93 g");
        assert_eq!(written(1.005, Ordinary), "1.01 g");
        assert_eq!(
            half_up(decimal(45_234_567.005).unwrap(), 2),
            Decimal::new(4_523_456_701, 2)
        );
    }

    #[test]
    fn each_class_has_its_step() {
        assert_eq!(written(1007.5, Ordinary), "1,010 g");
        assert_eq!(written(1002.4, Ordinary), "1,000 g");
        assert_eq!(written(5580.0, Ordinary), "5,580 g");
        assert_eq!(written(139.5, Ordinary), "140 g");
        assert_eq!(written(83.7, Ordinary), "83.7 g");
        assert_eq!(written(17.02, Ordinary), "17.0 g");
        assert_eq!(written(0.925, Ordinary), "0.93 g");
        assert_eq!(written(0.005, Ordinary), "0.01 g");
    }

    #[test]
    fn curing_salt_is_always_to_a_hundredth() {
        assert_eq!(written(24.05, CuringSalt), "24.05 g");
        assert_eq!(written(139.505, CuringSalt), "139.51 g");
        assert_eq!(written(1007.5, CuringSalt), "1,007.50 g");
    }

    #[test]
    fn a_weight_carried_over_the_edge_is_written_in_the_next_class() {
        assert_eq!(written(9.994, Ordinary), "9.99 g");
        assert_eq!(written(9.996, Ordinary), "10.0 g");
        assert_eq!(written(99.94, Ordinary), "99.9 g");
        assert_eq!(written(99.96, Ordinary), "100 g");
        assert_eq!(written(999.5, Ordinary), "1,000 g");
    }

    #[test]
    fn formula_tables_print_the_figure_they_ask_for() {
        assert_eq!(exact(Mass::grams(139.5).unwrap(), 1).to_string(), "139.5 g");
        assert_eq!(
            exact(Mass::grams(5580.0 * 0.025).unwrap(), 2).to_string(),
            "139.50 g"
        );
    }

    #[test]
    fn a_weight_rounded_to_nothing_says_so() {
        assert!(bench(Mass::grams(0.004).unwrap(), CuringSalt).vanished());
        assert!(!bench(Mass::ZERO, CuringSalt).vanished());
    }
}
