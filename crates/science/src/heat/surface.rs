//! What crosses the surface: heat from the air in, less the heat that evaporating water takes.

use super::{HeatTransfer, Segment};
use crate::ScienceError;
use crate::psychrometrics::{
    Exchange, MASS_RATIO, SEA_LEVEL_PA, exchange, humid_heat_kj_per_kg_k, liquid_latent_kj_per_kg,
    saturated_at, saturation,
};
use crate::thermal_properties::Material;

/// Part of the air pressure that the steam at a surface may reach: beyond it the surface boils.
const BOILING_PART: f64 = 0.999;
/// Coldest surface the search looks at, °C.
const COLDEST_C: f64 = -100.0;
/// Fall of the latent heat with temperature, kJ/(kg K).
const LATENT_SLOPE: f64 = -2.326;

/// The outside of a piece at one moment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Outside {
    h_w_per_m2_k: f64,
    air_c: f64,
    water: Option<Water>,
}

/// Water leaving the surface.
#[derive(Debug, Clone, Copy)]
struct Water {
    activity: f64,
    air_ratio: f64,
    boiling_c: f64,
}

/// What crosses the surface of a cell at a known temperature.
#[derive(Debug, Clone, Copy)]
pub(super) struct Crossing {
    /// Heat in, W/m².
    pub(super) heat_w_per_m2: f64,
    /// Its change per degree of the cell.
    pub(super) slope: f64,
    pub(super) surface_c: f64,
    pub(super) water_kg_per_m2_s: f64,
}

/// Heat in at a surface temperature, its slope, and the water that leaves.
struct Net(f64, f64, f64);

impl Outside {
    /// The outside after a part of a stretch.
    pub(super) fn at(segment: &Segment, part: f64) -> Result<Self, ScienceError> {
        let air_c = segment.air_c(part);
        let water = match segment.wet {
            None => None,
            Some(wet) => {
                let air = wet.humidity.air_at(units::Temperature::celsius(air_c)?)?;
                let activity = wet.surface.aw();
                Some(Water {
                    activity,
                    air_ratio: air.humidity_ratio(),
                    boiling_c: saturated_at(BOILING_PART * SEA_LEVEL_PA / activity, 0.0, 200.0),
                })
            }
        };
        Ok(Self {
            h_w_per_m2_k: HeatTransfer::value(segment.h),
            air_c,
            water,
        })
    }

    fn net(&self, surface_c: f64) -> Net {
        let h = self.h_w_per_m2_k;
        let dry = h * (self.air_c - surface_c);
        let Some(water) = self.water else {
            return Net(dry, -h, 0.0);
        };
        let (saturated, relative_slope) = saturation(surface_c);
        let over = |activity: f64| {
            MASS_RATIO * activity * saturated / (SEA_LEVEL_PA - activity * saturated)
        };
        let activity = match exchange(over(water.activity), water.air_ratio, || over(1.0)) {
            Exchange::Leaves => water.activity,
            Exchange::Settles => 1.0,
            Exchange::Neither => return Net(dry, -h, 0.0),
        };
        let steam = activity * saturated;
        let rest = SEA_LEVEL_PA - steam;
        let excess = MASS_RATIO * steam / rest - water.air_ratio;
        let excess_slope = MASS_RATIO * SEA_LEVEL_PA * steam * relative_slope / (rest * rest);
        // kg/(m² s) per unit of humidity ratio, times a thousand: it meets kJ below.
        let carries = h / humid_heat_kj_per_kg_k(water.air_ratio);
        let latent = liquid_latent_kj_per_kg(surface_c);
        Net(
            dry - carries * latent * excess,
            -h - carries * (latent * excess_slope + LATENT_SLOPE * excess),
            carries * excess / 1000.0,
        )
    }

    /// What crosses the surface when the middle of the outermost cell, `half_cell_m` inside, is at
    /// `cell_c`. The surface temperature is where both sides agree; the search starts at `guess_c`.
    /// `None` when it does not settle.
    pub(super) fn crossing(
        &self,
        material: &impl Material,
        cell_c: f64,
        half_cell_m: f64,
        guess_c: f64,
    ) -> Option<Crossing> {
        let (mut low, mut high) = match self.water {
            None => (cell_c.min(self.air_c), cell_c.max(self.air_c)),
            Some(water) => (COLDEST_C, water.boiling_c),
        };
        let mut surface_c = guess_c.clamp(low, high);
        for _ in 0..80 {
            let Net(heat, heat_slope, water) = self.net(surface_c);
            let (k, k_slope) = material.conductivity_and_slope(0.5 * (surface_c + cell_c));
            let inward = k / half_cell_m;
            let bend = 0.5 * k_slope / half_cell_m * (surface_c - cell_c);
            let rising = inward * (surface_c - cell_c) - heat;
            let rising_slope = inward + bend - heat_slope;
            if rising > 0.0 {
                high = surface_c;
            } else {
                low = surface_c;
            }
            let step = rising / rising_slope;
            // A step of this size leaves an error far below rounding, the next being its square.
            if step.abs() < 1e-9 {
                return Some(Crossing {
                    heat_w_per_m2: heat - heat_slope * step,
                    slope: heat_slope * (inward - bend) / rising_slope,
                    surface_c: surface_c - step,
                    water_kg_per_m2_s: water,
                });
            }
            let next = surface_c - step;
            surface_c = if next > low && next < high {
                next
            } else {
                0.5 * (low + high)
            };
        }
        None
    }
}
