//! Moist air: how much water it holds, how cold a wet surface gets in it, how fast that surface dries.
//!
//! # Method
//! Ideal mixture of dry air and steam; saturation pressure by the ASHRAE polynomials over water and,
//! below the triple point, over ice; wet bulb from the balance
//! `λ(t*) (W*(t*) − W) = (1.006 + 1.86 W) (t − t*)`.
//! # Valid range
//! −100 to 200 °C, at 50 to 110 kPa, steam below the pressure of the air. Against real-gas properties
//! the humidity ratio is 0.4 % low at 10 °C (CoolProp 8.0.0).
//! # Source
//! [PSYCHROLIB](sources::list::PSYCHROLIB): the equations of ASHRAE Fundamentals 2017 ch. 1, second-hand,
//! as read in the source of that library.

use units::Temperature;

use crate::ScienceError;
use crate::error::within;
use crate::heat::quantities::HeatTransfer;

/// Air pressure at sea level, Pa.
pub const SEA_LEVEL_PA: f64 = 101_325.0;
/// Weight of a mole of water over that of a mole of dry air.
pub(crate) const MASS_RATIO: f64 = 0.621_945;
/// Specific heat of dry air and of steam, kJ/(kg K).
const DRY_AIR_CP: f64 = 1.006;
const STEAM_CP: f64 = 1.86;
/// Range of the saturation pressure, °C.
const RANGE_C: (f64, f64) = (-100.0, 200.0);
/// Triple point of water, °C: where the polynomials over ice and over water meet.
const TRIPLE_POINT_C: f64 = 0.01;
const KELVIN: f64 = 273.15;

/// Saturation pressure in Pa and its relative slope `(dp/dT) ÷ p` per K, for −100 to 200 °C.
pub(crate) fn saturation(t_c: f64) -> (f64, f64) {
    let t = t_c + KELVIN;
    let (ln_p, slope) = if t_c <= TRIPLE_POINT_C {
        (
            -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t
                + 6.221_570_1e-7 * t.powi(2)
                + 2.074_782_5e-9 * t.powi(3)
                - 9.484_024e-13 * t.powi(4)
                + 4.163_501_9 * t.ln(),
            5.674_535_9e3 / t.powi(2) - 9.677_843e-3
                + 2.0 * 6.221_570_1e-7 * t
                + 3.0 * 2.074_782_5e-9 * t.powi(2)
                - 4.0 * 9.484_024e-13 * t.powi(3)
                + 4.163_501_9 / t,
        )
    } else {
        (
            -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t.powi(2)
                - 1.445_209_3e-8 * t.powi(3)
                + 6.545_967_3 * t.ln(),
            5.800_220_6e3 / t.powi(2) - 4.864_023_9e-2 + 2.0 * 4.176_476_8e-5 * t
                - 3.0 * 1.445_209_3e-8 * t.powi(2)
                + 6.545_967_3 / t,
        )
    };
    (ln_p.exp(), slope)
}

/// Heat that evaporates water at `t_c`, kJ/kg. Two straight lines: over water, and over ice below 0 °C.
pub(crate) fn latent_kj_per_kg(t_c: f64) -> f64 {
    if t_c >= 0.0 {
        liquid_latent_kj_per_kg(t_c)
    } else {
        2830.0 - 0.24 * t_c
    }
}

/// The same of liquid water, also where it is not frozen a little below 0 °C.
pub(crate) fn liquid_latent_kj_per_kg(t_c: f64) -> f64 {
    2501.0 - 2.326 * t_c
}

/// Heat that warms the air holding a kilogram of dry air by a degree, kJ/(kg K).
pub(crate) fn humid_heat_kj_per_kg_k(w: f64) -> f64 {
    DRY_AIR_CP + STEAM_CP * w
}

/// Which way water goes between a surface and its air.
pub(crate) enum Exchange {
    /// It evaporates, held back by the surface's activity.
    Leaves,
    /// It condenses as free water: the surface is below the dew point.
    Settles,
    /// The air is too moist to take it and too dry to give it. What a salty skin would draw from such
    /// air is little and soon over: none is counted, so that it warms nothing.
    Neither,
}

/// The way water goes, from the humidity ratios over the surface, in the air, and over free water.
pub(crate) fn exchange(surface: f64, air: f64, free: impl FnOnce() -> f64) -> Exchange {
    if surface > air {
        Exchange::Leaves
    } else if free() < air {
        Exchange::Settles
    } else {
        Exchange::Neither
    }
}

/// The temperature at which steam of `pressure_pa` is saturated, by halving between two bounds.
pub(crate) fn saturated_at(pressure_pa: f64, least_c: f64, most_c: f64) -> f64 {
    bisect(least_c, most_c, |t| saturation(t).0 - pressure_pa)
}

/// The root of a rising function. Sixty halvings of 300 °C leave less than the last digit.
fn bisect(mut low: f64, mut high: f64, rising: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if rising(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// Relative humidity, percent of the steam that air of its temperature could hold.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct RelativeHumidity(f64);

impl RelativeHumidity {
    /// So many percent.
    ///
    /// # Errors
    /// Outside 0 to 100.
    pub fn percent(pct: f64) -> Result<Self, ScienceError> {
        within(
            "relative humidity",
            "%",
            pct,
            0.0,
            100.0,
            "check the hygrometer",
        )
        .map(Self)
    }

    /// In percent.
    #[must_use]
    pub fn pct(self) -> f64 {
        self.0
    }
}

/// Water activity of a surface: 1 is free water, a salted or dried skin is lower.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SurfaceWater(f64);

impl SurfaceWater {
    /// Free water: a rinsed fish before the pellicle, an open liquor.
    pub const FREE: Self = Self(1.0);

    /// A water activity.
    ///
    /// # Valid range
    /// Above 0.05 to 1. It stands for the skin as well as the salt: fit it to a weighed loss.
    /// # Errors
    /// Outside it; a dry surface is no surface water at all.
    pub fn activity(aw: f64) -> Result<Self, ScienceError> {
        within(
            "water activity of the surface",
            "",
            aw,
            0.05,
            1.0,
            "leave it out for a dry surface",
        )
        .map(Self)
    }

    /// The water activity.
    #[must_use]
    pub fn aw(self) -> f64 {
        self.0
    }
}

/// Air with water in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistAir {
    t_c: f64,
    pressure_pa: f64,
    /// kg of water per kg of dry air.
    w: f64,
}

impl MoistAir {
    /// Air at sea level from a thermometer and a hygrometer.
    ///
    /// # Errors
    /// Outside −100 to 200 °C; hot air so humid that it would be steam alone.
    /// # Example
    /// ```
    /// use science::psychrometrics::{MoistAir, RelativeHumidity};
    /// use units::Temperature;
    /// let cabinet = MoistAir::new(Temperature::celsius(65.0)?, RelativeHumidity::percent(20.0)?)?;
    /// assert_eq!(cabinet.wet_bulb()?.to_string(), "38.2 °C");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(temperature: Temperature, humidity: RelativeHumidity) -> Result<Self, ScienceError> {
        let t_c = in_range(temperature)?;
        Self::holding(t_c, humidity.0 / 100.0 * saturation(t_c).0, SEA_LEVEL_PA)
    }

    /// Air at sea level whose moisture would condense at `dew_point`.
    ///
    /// # Errors
    /// As [`MoistAir::new`]; a dew point above the air.
    pub fn with_dew_point(
        temperature: Temperature,
        dew_point: Temperature,
    ) -> Result<Self, ScienceError> {
        let t_c = in_range(temperature)?;
        let dew_c = within(
            "dew point",
            "°C",
            dew_point.c(),
            RANGE_C.0,
            t_c,
            "air cannot hold more: part of it is fog",
        )?;
        Self::holding(t_c, saturation(dew_c).0, SEA_LEVEL_PA)
    }

    /// Air at sea level from a dry and a wetted thermometer.
    ///
    /// # Errors
    /// As [`MoistAir::new`]; a wet bulb above the dry one, or lower than dry air would give.
    pub fn with_wet_bulb(
        temperature: Temperature,
        wet_bulb: Temperature,
    ) -> Result<Self, ScienceError> {
        let t_c = in_range(temperature)?;
        let wet_c = within(
            "wet bulb",
            "°C",
            wet_bulb.c(),
            RANGE_C.0,
            t_c,
            "swap the two readings",
        )?;
        let (latent, gap) = (latent_kj_per_kg(wet_c), t_c - wet_c);
        let full = humidity_ratio(saturation(wet_c).0, SEA_LEVEL_PA)?;
        let w = (latent * full - DRY_AIR_CP * gap) / (latent + STEAM_CP * gap);
        if w < 0.0 {
            return Err(ScienceError::OutOfRange {
                what: "wet bulb",
                found: wet_c,
                least: Self {
                    t_c,
                    pressure_pa: SEA_LEVEL_PA,
                    w: 0.0,
                }
                .wet_bulb_c(),
                most: t_c,
                unit: "°C",
                do_now: "wet the wick again",
            });
        }
        Ok(Self {
            t_c,
            pressure_pa: SEA_LEVEL_PA,
            w,
        })
    }

    /// The same moisture and temperature at another air pressure.
    ///
    /// # Errors
    /// Outside 50 to 110 kPa.
    pub fn at_pressure_pa(self, pressure_pa: f64) -> Result<Self, ScienceError> {
        let pa = within(
            "air pressure",
            "Pa",
            pressure_pa,
            5e4,
            1.1e5,
            "enter it in pascals",
        )?;
        Self::holding(self.t_c, self.vapour_pressure_pa(), pa)
    }

    fn holding(t_c: f64, vapour_pa: f64, pressure_pa: f64) -> Result<Self, ScienceError> {
        Ok(Self {
            t_c,
            pressure_pa,
            w: humidity_ratio(vapour_pa, pressure_pa)?,
        })
    }

    /// Kilograms of water with each kilogram of dry air.
    #[must_use]
    pub fn humidity_ratio(&self) -> f64 {
        self.w
    }

    /// Pressure of the steam in it, Pa.
    #[must_use]
    pub fn vapour_pressure_pa(&self) -> f64 {
        self.pressure_pa * self.w / (MASS_RATIO + self.w)
    }

    /// Relative humidity.
    ///
    /// # Errors
    /// None in practice: constructed air is not above saturation beyond rounding.
    pub fn relative_humidity(&self) -> Result<RelativeHumidity, ScienceError> {
        // A wet bulb equal to the dry one may come back as 100 and a last binary digit.
        RelativeHumidity::percent(
            (100.0 * self.vapour_pressure_pa() / saturation(self.t_c).0).min(100.0),
        )
    }

    /// Where its moisture begins to condense.
    ///
    /// # Errors
    /// Dry air, which has none.
    pub fn dew_point(&self) -> Result<Temperature, ScienceError> {
        let vapour = self.vapour_pressure_pa();
        if vapour <= saturation(RANGE_C.0).0 {
            return Err(ScienceError::None {
                what: "moisture in the air",
            });
        }
        Ok(Temperature::celsius(saturated_at(
            vapour, RANGE_C.0, self.t_c,
        ))?)
    }

    /// How cold a wet surface gets in it.
    ///
    /// # Errors
    /// None in practice: the result lies between the air and its dew point.
    pub fn wet_bulb(&self) -> Result<Temperature, ScienceError> {
        Ok(Temperature::celsius(self.wet_bulb_c())?)
    }

    fn wet_bulb_c(&self) -> f64 {
        let vapour = self.vapour_pressure_pa();
        let boiling = saturated_at(0.999 * self.pressure_pa, 0.0, RANGE_C.1);
        let low = if vapour > saturation(RANGE_C.0).0 {
            saturated_at(vapour, RANGE_C.0, self.t_c)
        } else {
            RANGE_C.0
        };
        bisect(low, self.t_c.min(boiling), |wet| {
            let steam = saturation(wet).0;
            let full = MASS_RATIO * steam / (self.pressure_pa - steam);
            latent_kj_per_kg(wet) * (full - self.w)
                - humid_heat_kj_per_kg_k(self.w) * (self.t_c - wet)
        })
    }

    /// Heat in the air that holds a kilogram of dry air, kJ, from dry air and liquid water at 0 °C.
    #[must_use]
    pub fn enthalpy_kj_per_kg(&self) -> f64 {
        DRY_AIR_CP * self.t_c + self.w * (2501.0 + STEAM_CP * self.t_c)
    }

    /// What a surface of free water, at its wet bulb, loses in this air: grams per m² and hour.
    ///
    /// # Method
    /// `h (T − Twb) ÷ λ(Twb)`. A cooked or dried surface loses less: see [`MoistAir::loss_g_per_m2_h`].
    /// # Valid range
    /// The wet bulb is the balance of this very formula, so their agreement proves nothing about fish.
    /// # Errors
    /// None in practice.
    pub fn free_water_loss_g_per_m2_h(&self, h: HeatTransfer) -> Result<f64, ScienceError> {
        let wet_c = self.wet_bulb_c();
        Ok(h.value() * (self.t_c - wet_c) / latent_kj_per_kg(wet_c) * 3600.0)
    }

    /// What a surface of known temperature and water activity loses in this air: grams per m² and
    /// hour; negative where moisture settles on it.
    ///
    /// # Method
    /// Lewis number of one: `h ÷ (1.006 + 1.86 W) × (Wₛ − W)`, `Wₛ` at `aw × p(Ts)`. Below the dew point
    /// it condenses as on free water; between the two nothing goes either way.
    /// # Valid range
    /// A surface below the boiling point at its activity. It overstates above some 70 °C, where steam
    /// leaves faster than it mixes.
    /// # Errors
    /// A surface that would boil.
    pub fn loss_g_per_m2_h(
        &self,
        h: HeatTransfer,
        surface: Temperature,
        water: SurfaceWater,
    ) -> Result<f64, ScienceError> {
        let saturated = saturation(in_range(surface)?).0;
        let at_surface = humidity_ratio(water.0 * saturated, self.pressure_pa)?;
        let free = || MASS_RATIO * saturated / (self.pressure_pa - saturated);
        let at_surface = match exchange(at_surface, self.w, free) {
            Exchange::Leaves => at_surface,
            Exchange::Settles => free(),
            Exchange::Neither => self.w,
        };
        // kJ/(kg K) against W: the thousand turns kilograms into grams.
        Ok(h.value() / humid_heat_kj_per_kg_k(self.w) * (at_surface - self.w) * 3600.0)
    }
}

fn in_range(temperature: Temperature) -> Result<f64, ScienceError> {
    within(
        "temperature of the air",
        "°C",
        temperature.c(),
        RANGE_C.0,
        RANGE_C.1,
        "check the unit",
    )
}

fn humidity_ratio(vapour_pa: f64, pressure_pa: f64) -> Result<f64, ScienceError> {
    // At 99.9 % steam the ratio is 621: beyond it nothing here is air.
    let vapour = within(
        "pressure of the steam",
        "Pa",
        vapour_pa,
        0.0,
        0.999 * pressure_pa,
        "that is steam, not moist air: give the dew point or a lower humidity",
    )?;
    Ok(MASS_RATIO * vapour / (pressure_pa - vapour))
}

#[cfg(test)]
mod tests;
