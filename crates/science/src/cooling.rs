//! Cooling: whether a pan passes the two stages, how deep it may be, and when.
//!
//! Two views of the same pan. A liquor that stirs itself, or a small piece, is at one temperature and
//! falls by a time constant. A thick solid has a warm core: [`core_times`] conducts.

mod fit;

pub use fit::{CoolingFit, LEAST_READINGS};

use units::{Elapsed, Length, Temperature};

use crate::ScienceError;
use crate::error::within;
use crate::heat::{
    Body, Grid, HeatTransfer, Programme, Segment, series, series::Series, time_to_core,
};
use crate::thermal_properties::{Material, Properties};

/// A rule of two stages: from `start`, past `middle` in one time and to `end` in the whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stages {
    /// Where the clock starts.
    pub start: Temperature,
    /// Where the first stage ends.
    pub middle: Temperature,
    /// Where the second ends.
    pub end: Temperature,
    /// From `start` to `middle`.
    pub first: Elapsed,
    /// From `start` to `end`: both stages together.
    pub whole: Elapsed,
}

impl Stages {
    /// 57 to 21 °C in 2 h and to 5 °C in 6 h in all.
    ///
    /// # Source
    /// [FOOD_CODE_COOLING](sources::list::FOOD_CODE_COOLING), read; 135, 70 and 41 °F as the code
    /// itself rounds them to Celsius.
    /// # Errors
    /// None in practice.
    pub fn food_code() -> Result<Self, ScienceError> {
        Ok(Self {
            start: Temperature::celsius(57.0)?,
            middle: Temperature::celsius(21.0)?,
            end: Temperature::celsius(5.0)?,
            first: Elapsed::from_hours(2.0)?,
            whole: Elapsed::from_hours(6.0)?,
        })
    }

    /// The slowest time constant that passes both stages.
    ///
    /// # Method
    /// `τ = t ÷ ln((T₀ − Ta) ÷ (T − Ta))` for each stage, the smaller of the two. Rounded down.
    /// # Errors
    /// Air not colder than the end.
    /// # Example
    /// ```
    /// use science::cooling::Stages;
    /// use units::Temperature;
    /// let rule = Stages::food_code()?;
    /// let fridge = rule.slowest(Temperature::celsius(3.0)?)?;
    /// let blast = rule.slowest(Temperature::celsius(-5.0)?)?;
    /// assert_eq!(format!("{:.2} {:.2}", fridge.hours(), blast.hours()), "1.82 2.30");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn slowest(&self, air: Temperature) -> Result<Elapsed, ScienceError> {
        let of =
            |time: Elapsed, to| Ok::<_, ScienceError>(time.hours() / falls(self.start, to, air)?);
        let hours = of(self.first, self.middle)?.min(of(self.whole, self.end)?);
        Ok(Elapsed::from_seconds((hours * 3600.0).floor() as i64)?)
    }
}

/// `ln((from − air) ÷ (to − air))`: how many time constants a fall takes.
fn falls(from: Temperature, to: Temperature, air: Temperature) -> Result<f64, ScienceError> {
    within(
        "temperature to cool to",
        "°C",
        to.c(),
        air.c().next_up(),
        from.c(),
        "food never gets colder than its air, nor warmer in it: take colder air or ice",
    )?;
    Ok(((from - air).k() / (to - air).k()).ln())
}

/// A fall towards the air by a time constant: in each constant the difference shrinks to 37 %.
///
/// # Valid range
/// Food at one temperature: a stirred liquor, or a Biot number below 0.1. For a solid it also holds
/// late on, with [`TimeConstant::of_core`].
/// # Source
/// Newton's law of cooling, [CONDUCTION](sources::list::CONDUCTION), from memory.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TimeConstant(f64);

impl TimeConstant {
    /// A time constant.
    ///
    /// # Errors
    /// Below a second or above 30 days.
    pub fn new(time: Elapsed) -> Result<Self, ScienceError> {
        Self::hours(time.hours())
    }

    fn hours(hours: f64) -> Result<Self, ScienceError> {
        within(
            "time constant",
            "h",
            hours,
            1.0 / 3600.0,
            720.0,
            "check the depth, and whether it cools at all",
        )
        .map(Self)
    }

    /// From two readings of one pan in one air.
    ///
    /// # Errors
    /// A pan that did not cool, or passed its air; no time between.
    pub fn measured(
        before: Temperature,
        after: Temperature,
        air: Temperature,
        between: Elapsed,
    ) -> Result<Self, ScienceError> {
        let fell = falls(before, after, air)?;
        if fell == 0.0 {
            return Err(ScienceError::None {
                what: "fall between the two readings",
            });
        }
        Self::hours(between.hours() / fell)
    }

    /// Of a liquor that stirs itself, or a piece at one temperature: `ρ cp V ÷ (h A)`.
    ///
    /// `volume_per_surface` is the depth of a tub open above; half of it when the base cools as well.
    ///
    /// # Errors
    /// Outside a second to 30 days.
    pub fn of_lump(
        food: &Properties,
        volume_per_surface: Length,
        h: HeatTransfer,
    ) -> Result<Self, ScienceError> {
        let seconds = food.heat_capacity_j_per_m3_k() * volume_per_surface.metres() / h.value();
        Self::hours(seconds / 3600.0)
    }

    /// Of the core of a solid once the first term rules: `L² ÷ (α ζ₁²)`.
    ///
    /// Early on the core lags behind this fall by `τ ln A₁`: judge by [`core_times`].
    ///
    /// # Errors
    /// A stack; a Biot number outside 0.001 to 10 000.
    pub fn of_core(food: &Properties, body: &Body, h: HeatTransfer) -> Result<Self, ScienceError> {
        let (form, way_m) = series::form_of(body)?;
        let root = Series::new(form, h.value() * way_m / food.conductivity.value())?.first_root();
        Self::hours((way_m / root).powi(2) / food.diffusivity_m2_per_s() / 3600.0)
    }

    /// As a time.
    ///
    /// # Errors
    /// None in practice.
    pub fn time(self) -> Result<Elapsed, ScienceError> {
        Ok(Elapsed::from_hours(self.0)?)
    }

    /// How long from one temperature to a lower one.
    ///
    /// # Errors
    /// A target not above the air, or above the start.
    pub fn time_between(
        self,
        from: Temperature,
        to: Temperature,
        air: Temperature,
    ) -> Result<Elapsed, ScienceError> {
        Ok(Elapsed::from_hours(self.0 * falls(from, to, air)?)?)
    }

    /// The temperature after a time.
    ///
    /// # Errors
    /// None in practice: it lies between start and air.
    pub fn after(
        self,
        from: Temperature,
        air: Temperature,
        time: Elapsed,
    ) -> Result<Temperature, ScienceError> {
        let left = (-time.hours() / self.0).exp();
        Ok(Temperature::celsius(air.c() + (from - air).k() * left)?)
    }

    /// When both stages are over, counted from where the rule starts its clock.
    ///
    /// # Errors
    /// Air not colder than the end.
    pub fn times(self, rule: &Stages, air: Temperature) -> Result<CoolingTimes, ScienceError> {
        Ok(CoolingTimes {
            middle: Some(self.time_between(rule.start, rule.middle, air)?),
            end: Some(self.time_between(rule.start, rule.end, air)?),
        })
    }
}

/// When each stage was over, counted from where the rule starts its clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CoolingTimes {
    /// Past the middle; nothing when the run ended before.
    pub middle: Option<Elapsed>,
    /// At the end; nothing when the run ended before.
    pub end: Option<Elapsed>,
}

impl CoolingTimes {
    /// Whether both stages are inside the rule. The core is reckoned, not measured.
    #[must_use]
    pub fn inside(&self, rule: &Stages) -> bool {
        self.middle.is_some_and(|t| t <= rule.first) && self.end.is_some_and(|t| t <= rule.whole)
    }
}

/// The deepest a self-stirring liquor may stand in a tub open above and pass both stages.
///
/// # Method
/// `τ h ÷ (ρ cp)` with the slowest time constant of the rule.
/// # Errors
/// Air not colder than the end.
/// # Example
/// ```
/// use science::cooling::{Stages, deepest_stirred};
/// use science::heat::HeatTransfer;
/// use science::thermal_properties::{Food, WATER};
/// use units::Temperature;
/// let c = Temperature::celsius;
/// let liquor = Food::new(WATER)?.at(c(30.0)?)?;
/// let depth = deepest_stirred(
///     &Stages::food_code()?, &liquor, HeatTransfer::w_per_m2_k(15.0)?, c(3.0)?)?;
/// assert_eq!(depth.to_string(), "23.7 mm");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn deepest_stirred(
    rule: &Stages,
    food: &Properties,
    h: HeatTransfer,
    air: Temperature,
) -> Result<Length, ScienceError> {
    let metres = rule.slowest(air)?.seconds() as f64 * h.value() / food.heat_capacity_j_per_m3_k();
    Ok(Length::millimetres(metres * 1000.0)?)
}

/// When the core of a solid, everywhere at the start of the rule, passes its stages in one air.
///
/// # Method
/// Conduction, [`crate::heat::heat`]. A run ends at twice the time the rule gives.
/// # Valid range
/// As conduction: unfrozen. A liquor that stirs itself cools sooner.
/// # Errors
/// As [`crate::heat::heat`]; air not colder than the end.
pub fn core_times(
    rule: &Stages,
    material: &impl Material,
    body: &Body,
    h: HeatTransfer,
    air: Temperature,
    grid: Grid,
) -> Result<CoolingTimes, ScienceError> {
    falls(rule.start, rule.end, air)?;
    let programme = Programme::new(vec![Segment::steady(air, rule.whole + rule.whole, h)])?;
    let reach = |target| match time_to_core(material, body, &programme, rule.start, target, grid) {
        Ok(time) => Ok(Some(time)),
        Err(ScienceError::CoreNotReached { .. }) => Ok(None),
        Err(other) => Err(other),
    };
    Ok(CoolingTimes {
        middle: reach(rule.middle)?,
        end: reach(rule.end)?,
    })
}

#[cfg(test)]
mod tests;
