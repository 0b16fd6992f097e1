//! Diffusivities as published, to hold a fitted one against.

use sources::{Source, list};

/// A published range of a diffusivity, to compare a fitted one with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Published {
    /// Of what, in what, and when.
    pub what: &'static str,
    /// Least, m²/s.
    pub least_m2_s: f64,
    /// Most, m²/s.
    pub most_m2_s: f64,
    /// Activation energy, kJ/mol, where one was given.
    pub activation_kj_per_mol: Option<f64>,
    /// Where it was read; each is an abstract, not the paper.
    pub source: Source,
}

/// Published ranges. The nitrite range printed in one abstract contradicts its own activation energy, so it
/// is left out.
pub const PUBLISHED: &[Published] = &[
    read(
        "salt sprinkled on fish, flesh side",
        1e-11,
        1e-10,
        None,
        list::FISH_SKIN_D,
    ),
    read(
        "salt sprinkled on fish, skin side",
        1e-13,
        1e-10,
        None,
        list::FISH_SKIN_D,
    ),
    read(
        "salt in fish skin with its fat",
        1e-14,
        1e-12,
        None,
        list::FISH_SKIN_D,
    ),
    read(
        "water in pork curing with nitrite, 2 to 12 °C",
        5.96e-9,
        9.82e-9,
        Some(32.24),
        list::PORK_NITRITE_D,
    ),
    read(
        "nitrate in pork across the fibre",
        0.89e-10,
        1.41e-10,
        Some(24.71),
        list::PORK_NITRATE_D,
    ),
    read(
        "nitrate in pork along the fibre",
        0.007e-10,
        0.034e-10,
        Some(96.44),
        list::PORK_NITRATE_D,
    ),
    read(
        "moisture in pork, salting at 0 to 6 °C",
        0.8e-9,
        2.0e-9,
        None,
        list::PORK_MOISTURE_D,
    ),
    read(
        "moisture in pork, drying at 2 °C and 80 % humidity",
        2.5e-10,
        2.5e-10,
        None,
        list::PORK_MOISTURE_D,
    ),
    read(
        "water in sardine, 30 to 38 °C",
        2.084e-12,
        3.015e-12,
        None,
        list::SARDINE_D,
    ),
];

const fn read(
    what: &'static str,
    least_m2_s: f64,
    most_m2_s: f64,
    activation_kj_per_mol: Option<f64>,
    source: Source,
) -> Published {
    Published {
        what,
        least_m2_s,
        most_m2_s,
        activation_kj_per_mol,
        source,
    }
}
