//! The square-root model: growth against temperature alone.

use sources::Status;
use units::Temperature;

use super::StatedRate;
use crate::ScienceError;
use crate::error::within;

/// Least temperature of the square-root model for Listeria monocytogenes in milk, °C, and how far it may
/// be off. It belongs to that model and that food.
///
/// # Source
/// J. Dairy Sci. 2021, abstract read.
pub const LISTERIA_MILK_T_MIN_C: (f64, f64) = (0.6, 0.2);

/// A square-root model, with the range and the standing of its own figures. A least temperature belongs
/// to the model it was fitted in: never put one into another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareRoot {
    /// Slope, h^(−½) per kelvin.
    pub slope_per_sqrt_h_k: f64,
    /// Least temperature of the model, which is no limit of growth.
    pub t_min: Temperature,
    /// Coldest temperature it was fitted at.
    pub coldest: Temperature,
    /// Warmest temperature it was fitted at.
    pub warmest: Temperature,
    /// How far the source of its figures was read.
    pub status: Status,
}

impl SquareRoot {
    /// The growth rate at a temperature.
    ///
    /// # Method
    /// `√μ = b (T − T_min)`; nought at and below `T_min`, as the model has it.
    /// # Valid range
    /// The range it was fitted in.
    /// # Source
    /// [RATKOWSKY](sources::list::RATKOWSKY), from memory; the figures as given.
    /// # Errors
    /// Outside the range; a slope that is not above nothing.
    pub fn rate(&self, temperature: Temperature) -> Result<StatedRate, ScienceError> {
        let slope = within(
            "slope of the square-root model",
            "h^-½/K",
            self.slope_per_sqrt_h_k,
            1e-6,
            1.0,
            "check the unit: the slope of a rate per hour",
        )?;
        within(
            "temperature for the square-root model",
            "°C",
            temperature.c(),
            self.coldest.c(),
            self.warmest.c(),
            "use a model fitted there",
        )?;
        let above = (temperature.c() - self.t_min.c()).max(0.0);
        Ok(StatedRate {
            per_hour: (slope * above).powi(2),
            status: self.status,
        })
    }
}
