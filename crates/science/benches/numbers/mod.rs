//! The numbers of the problem. `benches/science/problem.py` holds the same; change both.

/// The finger, all four long sides open.
pub(crate) const THICKNESS_MM: f64 = 25.0;
pub(crate) const WIDTH_MM: f64 = 30.0;
pub(crate) const WATER_PCT: f64 = 72.0;
pub(crate) const AT_C: f64 = 4.0;
pub(crate) const HOURS: f64 = 24.0;
/// At 4 °C, of `Params::guess`: checked when the cure is made.
pub(crate) const SALT_M2_S: f64 = 2.5e-10;
pub(crate) const SUGAR_M2_S: f64 = 0.8e-10;
/// Kilograms of water out per kilogram of salt in.
pub(crate) const WATER_OUT: f64 = 1.0;

/// Laid on in plenty, percent of the green weight: some is left after 24 hours.
pub(crate) const PLENTY_SALT_PCT: f64 = 50.0;
pub(crate) const PLENTY_SUGAR_PCT: f64 = 25.0;

/// A brine of as much water as the flesh has.
pub(crate) const BRINE_WATER_PCT: f64 = 72.0;
pub(crate) const BRINE_SALT_PCT: f64 = 10.0;
pub(crate) const BRINE_SUGAR_G_PER_KG: f64 = 100.0;

pub(crate) const DRAWS: usize = 10_000;
pub(crate) const SEED: u64 = 7;
/// Median and factor of a log-normal spread.
pub(crate) const DIFFUSIVITY_M2_S: (f64, f64) = (2.5e-10, 1.5);
/// Mean and standard deviation of the thickness of a slab open on both faces.
pub(crate) const SLAB_MM: (f64, f64) = (25.0, 1.5);
/// Lower end, likeliest and upper end of a triangular spread.
pub(crate) const SALT_PCT: (f64, f64, f64) = (5.0, 6.0, 7.0);
pub(crate) const SHARE: f64 = 0.95;
/// Per kilogram of green weight.
pub(crate) const MEAN_SALT_KG_PER_KG: f64 = 0.030;
