//! Exact factors of the units cooks use, each with its source.
//!
//! "UCUM" is the Unified Code for Units of Measure, `ucum-essence.xml` v2.2. The US
//! volumes all follow from the gallon of 231 cubic inches and the inch of 25.4 mm;
//! the imperial ones from the gallon of 4.546 09 L. "GNU units" is its
//! `definitions.units` table. Values were read unless marked otherwise.

/// Grams in a kilogram (SI prefix).
pub const G_PER_KG: f64 = 1000.0;
/// Grams in an avoirdupois pound, exact. UCUM `[lb_av]`, 7000 grains.
pub const G_PER_LB: f64 = 453.592_37;
/// Grams in an avoirdupois ounce, exact. UCUM `[oz_av]`, pound / 16.
pub const G_PER_OZ: f64 = G_PER_LB / 16.0;

/// Millimetres in an inch, exact. UCUM `[in_i]`, 2.54 cm.
pub const MM_PER_INCH: f64 = 25.4;
/// Millimetres in a foot, exact: 12 inches.
pub const MM_PER_FOOT: f64 = 12.0 * MM_PER_INCH;

/// Millilitres in a litre (SI prefix).
pub const ML_PER_L: f64 = 1000.0;

/// Millilitres in a US gallon, exact. UCUM `[gal_us]`, 231 cubic inches.
pub const ML_PER_US_GALLON: f64 = 3_785.411_784;
/// Millilitres in a US quart, exact. UCUM `[qt_us]`, gallon / 4.
pub const ML_PER_US_QUART: f64 = ML_PER_US_GALLON / 4.0;
/// Millilitres in a US liquid pint, exact. UCUM `[pt_us]`, quart / 2.
pub const ML_PER_US_PINT: f64 = ML_PER_US_GALLON / 8.0;
/// Millilitres in a US cup, exact. UCUM `[cup_us]`, 16 tablespoons.
pub const ML_PER_US_CUP: f64 = ML_PER_US_GALLON / 16.0;
/// Millilitres in a US fluid ounce, exact. UCUM `[foz_us]`, gallon / 128.
pub const ML_PER_US_FLUID_OUNCE: f64 = ML_PER_US_GALLON / 128.0;
/// Millilitres in a US tablespoon, exact. UCUM `[tbs_us]`, fluid ounce / 2.
pub const ML_PER_US_TABLESPOON: f64 = ML_PER_US_GALLON / 256.0;
/// Millilitres in a US teaspoon, exact. UCUM `[tsp_us]`, tablespoon / 3.
pub const ML_PER_US_TEASPOON: f64 = ML_PER_US_GALLON / 768.0;

/// Millilitres in an imperial gallon, exact. UCUM `[gal_br]`, 4.546 09 L.
pub const ML_PER_IMPERIAL_GALLON: f64 = 4546.09;
/// Millilitres in an imperial quart, exact. UCUM `[qt_br]`, gallon / 4.
pub const ML_PER_IMPERIAL_QUART: f64 = ML_PER_IMPERIAL_GALLON / 4.0;
/// Millilitres in an imperial pint, exact. UCUM `[pt_br]`, quart / 2.
pub const ML_PER_IMPERIAL_PINT: f64 = ML_PER_IMPERIAL_GALLON / 8.0;
/// Millilitres in an imperial cup: half a pint. GNU units, line 3666.
pub const ML_PER_IMPERIAL_CUP: f64 = ML_PER_IMPERIAL_GALLON / 16.0;
/// Millilitres in an imperial fluid ounce, exact. UCUM `[foz_br]`, pint / 20.
pub const ML_PER_IMPERIAL_FLUID_OUNCE: f64 = ML_PER_IMPERIAL_GALLON / 160.0;
/// Millilitres in a British tablespoon. GNU units, line 3668.
pub const ML_PER_BRITISH_TABLESPOON: f64 = 15.0;
/// Millilitres in a British teaspoon: a third of the tablespoon (from memory).
pub const ML_PER_BRITISH_TEASPOON: f64 = ML_PER_BRITISH_TABLESPOON / 3.0;

/// Millilitres in a metric cup. GNU units, line 3635.
pub const ML_PER_METRIC_CUP: f64 = 250.0;
/// Millilitres in a metric tablespoon; the figure of UCUM `[tbs_m]`.
pub const ML_PER_METRIC_TABLESPOON: f64 = 15.0;
/// Millilitres in a metric teaspoon; the figure of UCUM `[tsp_m]`.
pub const ML_PER_METRIC_TEASPOON: f64 = 5.0;
/// Millilitres in an Australian tablespoon. GNU units, line 3680.
pub const ML_PER_AUSTRALIAN_TABLESPOON: f64 = 20.0;

/// A span of this many Celsius degrees is [`F_DEGREES_IN_SPAN`] Fahrenheit degrees. Kept as
/// two whole numbers so that 212 °F comes to exactly 100 °C. UCUM `[degF]`.
pub const C_DEGREES_IN_SPAN: f64 = 5.0;
/// A span of this many Fahrenheit degrees is [`C_DEGREES_IN_SPAN`] Celsius degrees. UCUM `[degF]`.
pub const F_DEGREES_IN_SPAN: f64 = 9.0;
/// The Fahrenheit reading at 0 °C. UCUM `[degF]`.
pub const F_AT_ZERO_C: f64 = 32.0;
/// Absolute zero in °C, exact by the definition of the Celsius scale (UCUM `Cel`).
pub const ABSOLUTE_ZERO_C: f64 = -273.15;
/// Absolute zero in °F, exact: −273.15 × 9/5 + 32.
pub const ABSOLUTE_ZERO_F: f64 = -459.67;

/// Seconds in a minute, an hour and a day (UCUM `min`, `h`, `d`).
pub const S_PER_MIN: i64 = 60;
/// Seconds in an hour (UCUM `h`).
pub const S_PER_HOUR: i64 = 3600;
/// Seconds in a day of 24 hours (UCUM `d`).
pub const S_PER_DAY: i64 = 86_400;
