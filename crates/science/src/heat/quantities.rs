//! The quantities of heat, each with the range a kitchen meets.

use core::fmt;

use crate::ScienceError;
use crate::error::within;

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident($make:ident): $what:literal in $unit:literal, $least:literal to $most:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("So many ", $unit, ".\n\n# Errors\nOutside ", $least, " to ", $most, " ", $unit, "; NaN.")]
            pub fn $make(value: f64) -> Result<Self, ScienceError> {
                within($what, $unit, value, $least, $most, "check the unit it was given in").map(Self)
            }

            #[doc = concat!("In ", $unit, ".")]
            #[must_use]
            pub fn value(self) -> f64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{:.4} {}", self.0, $unit)
            }
        }
    )*};
}

quantities! {
    /// How readily heat runs through a food: 0.45 to 0.6 for most wet ones.
    Conductivity(w_per_m_k): "conductivity" in "W/(m K)", 0.01 to 10.0;
    /// Heat that warms a kilogram by a degree: 4.18 for water, less with fat.
    SpecificHeat(kj_per_kg_k): "specific heat" in "kJ/(kg K)", 0.2 to 10.0;
    /// How fast a temperature spreads: conductivity over density and specific heat.
    Diffusivity(m2_per_s): "thermal diffusivity" in "m²/s", 1e-9 to 1e-5;
    /// How readily the surroundings give heat to a surface: a few for still air, hundreds for water.
    HeatTransfer(w_per_m2_k): "heat transfer at the surface" in "W/(m² K)", 0.1 to 20000.0;
}
