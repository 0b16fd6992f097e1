//! Density: what turns a measured volume into a weight.

use crate::error::within;
use crate::{Mass, QuantityError, Volume, numerals};
use core::fmt;

/// Grams per millilitre, above zero. For powders and flakes this is the bulk density of
/// that very product as poured, never of the substance.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Density(f64);

impl Density {
    /// The least taken, in g/mL: about the density of air, below any food.
    pub const LEAST_G_PER_ML: f64 = 0.001;
    /// The most taken, in g/mL: above the densest metal (osmium, about 22.6, from memory).
    pub const MOST_G_PER_ML: f64 = 30.0;

    /// A density in grams per millilitre.
    ///
    /// # Errors
    /// Refuses NaN, infinities and values outside
    /// [`Density::LEAST_G_PER_ML`]..=[`Density::MOST_G_PER_ML`], zero and negatives included.
    pub fn g_per_millilitre(value: f64) -> Result<Self, QuantityError> {
        within(
            "density",
            "g/mL",
            value,
            Self::LEAST_G_PER_ML,
            Self::MOST_G_PER_ML,
        )
        .map(Self)
    }

    /// The density of what weighs `mass` and fills `volume`.
    ///
    /// # Errors
    /// An empty volume, or a density outside the range of [`Density::g_per_millilitre`].
    pub fn from_weighed(mass: Mass, volume: Volume) -> Result<Self, QuantityError> {
        if volume.ml() > 0.0 {
            Self::g_per_millilitre(mass.g() / volume.ml())
        } else {
            Err(QuantityError::DividedByNothing {
                quantity: "density",
            })
        }
    }

    /// In grams per millilitre.
    #[must_use]
    pub fn g_per_ml(self) -> f64 {
        self.0
    }

    /// The weight of `volume`.
    #[must_use]
    pub fn mass_of(self, volume: Volume) -> Mass {
        Mass::unchecked_g(volume.ml() * self.0)
    }

    /// The volume filled by `mass`.
    #[must_use]
    pub fn volume_of(self, mass: Mass) -> Volume {
        Volume::unchecked_ml(mass.g() / self.0)
    }
}

impl fmt::Display for Density {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g/mL", numerals::plain(self.0, 0, 4))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_density_of_nothing_is_refused() {
        for bad in [0.0, -1.0, 1e-9, 31.0, f64::NAN, f64::INFINITY] {
            assert!(Density::g_per_millilitre(bad).is_err(), "{bad}");
        }
        assert!(Density::from_weighed(Mass::ZERO, Volume::ZERO).is_err());
    }

    proptest! {
        #[test]
        fn volume_to_weight_and_back_is_identity(ml in 0.0..1e6_f64, d in 0.001..30.0_f64) {
            let density = Density::g_per_millilitre(d).unwrap();
            let volume = Volume::millilitres(ml).unwrap();
            let back = density.volume_of(density.mass_of(volume));
            prop_assert!((back.ml() - ml).abs() <= 2.0 * f64::EPSILON * ml);
        }
    }
}
