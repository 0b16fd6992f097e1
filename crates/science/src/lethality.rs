//! What heat kills: minutes at a reference temperature that a core's history is worth.
//!
//! # Method
//! `F = ∫ 10^((T − Tref) ÷ z) dt`. Between two readings the core runs straight, and over a straight
//! line the integral is exact: `Δt × (r₂ − r₁) ÷ ln(r₂ ÷ r₁)`, the logarithmic mean of the two rates.
//! # Valid range
//! Up to 150 °C; the organism and food the reference was made for. What a limit asks for is judged in
//! `safety`. Cold smoking, at 30 °C and below, earns nothing: the rate there is below 1e-5.
//! # Source
//! The general method, [MEMORY](sources::list::MEMORY); each reference names its own.

use sources::Source;
use sources::list::{COMPUTED, FDA_FISH_A4, UK_VACUUM};
use units::{Elapsed, Temperature, TemperatureDifference};

use crate::ScienceError;
use crate::error::within;
use crate::heat::History;

/// Hottest a rate is given for, °C.
const HOTTEST_C: f64 = 150.0;

/// A target of kill: so many minutes at a temperature, and how the rate changes around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// What it is for, in the words of a sheet.
    pub name: &'static str,
    tref_c: f64,
    z_below_k: f64,
    z_above_k: f64,
    floor_c: Option<f64>,
    /// Minutes at the reference, and the tenfold reductions they make.
    target: Option<(f64, f64)>,
    /// Where the figures are from, and how far it was read.
    pub source: &'static Source,
}

/// *Listeria monocytogenes* in fish: a million times fewer in 2 min at 70 °C, z 7.5 °C. From memory.
pub const LISTERIA: Reference = Reference {
    name: "Listeria, six tenfold reductions",
    tref_c: 70.0,
    z_below_k: 7.5,
    z_above_k: 7.5,
    floor_c: None,
    target: Some((2.0, 6.0)),
    source: &FDA_FISH_A4,
};

/// Spores of non-proteolytic *Clostridium botulinum*, US: 10 min at 90 °C, z 7 °C below and 10 above.
/// From memory. Crab wants 57 min.
pub const NONPROTEOLYTIC_US: Reference = Reference {
    name: "non-proteolytic botulinum spores, six tenfold reductions, US",
    tref_c: 90.0,
    z_below_k: 7.0,
    z_above_k: 10.0,
    floor_c: None,
    target: Some((10.0, 6.0)),
    source: &FDA_FISH_A4,
};

/// The same, UK: z 9 °C below 90. Second-hand; it asks less below 90 °C than the US one.
pub const NONPROTEOLYTIC_UK: Reference = Reference {
    name: "non-proteolytic botulinum spores, six tenfold reductions, UK",
    z_below_k: 9.0,
    source: &UK_VACUUM,
    ..NONPROTEOLYTIC_US
};

/// *Salmonella* in meat, never in fish: 6.5 tenfold reductions in 12 min at 140 °F, z 10 °F.
///
/// The row of 140 °F was read in [FSIS_A](sources::list::FSIS_A); z is fitted here to the rows of 130 to
/// 157 °F and printed nowhere, so the reference counts as computed and shows no limit to be met.
/// The guideline's table is steps, not a curve: judge by its rows in `safety`, compare by this.
pub const SALMONELLA_MEAT: Reference = Reference {
    name: "Salmonella in meat, 6.5 tenfold reductions",
    tref_c: 60.0,
    z_below_k: 50.0 / 9.0,
    z_above_k: 50.0 / 9.0,
    floor_c: None,
    target: Some((12.0, 6.5)),
    source: &COMPUTED,
};

/// Minutes at the reference temperature that a history was worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lethality {
    /// Minutes at the reference temperature, F.
    pub minutes: f64,
    /// The reference.
    pub reference: Reference,
}

impl Reference {
    /// A reference of one z, with no target.
    ///
    /// # Errors
    /// A reference outside 40 to 150 °C; a z outside 3 to 20 °C.
    pub fn new(
        name: &'static str,
        temperature: Temperature,
        z: TemperatureDifference,
        source: &'static Source,
    ) -> Result<Self, ScienceError> {
        let tref_c = within(
            "reference temperature",
            "°C",
            temperature.c(),
            40.0,
            HOTTEST_C,
            "name the temperature the time is given for",
        )?;
        let z_k = within(
            "z",
            "°C difference",
            z.k(),
            3.0,
            20.0,
            "z is the difference that changes the time tenfold; convert from °F by 5/9",
        )?;
        Ok(Self {
            name,
            tref_c,
            z_below_k: z_k,
            z_above_k: z_k,
            floor_c: None,
            target: None,
            source,
        })
    }

    /// The same, counting nothing below a temperature.
    ///
    /// For a rule that says so: name it in the source. The curve itself has no floor.
    ///
    /// # Errors
    /// A floor above the reference.
    pub fn without_credit_below(mut self, floor: Temperature) -> Result<Self, ScienceError> {
        self.floor_c = Some(within(
            "least temperature that counts",
            "°C",
            floor.c(),
            0.0,
            self.tref_c,
            "it lies below the reference",
        )?);
        Ok(self)
    }

    /// The temperature its minutes are at.
    ///
    /// # Errors
    /// None in practice.
    pub fn temperature(&self) -> Result<Temperature, ScienceError> {
        Ok(Temperature::celsius(self.tref_c)?)
    }

    /// Minutes at the reference that are the target, where it has one.
    #[must_use]
    pub fn target_minutes(&self) -> Option<f64> {
        self.target.map(|(minutes, _)| minutes)
    }

    fn z_k(&self, t_c: f64) -> f64 {
        if t_c < self.tref_c {
            self.z_below_k
        } else {
            self.z_above_k
        }
    }

    /// Minutes at the reference in a minute at `t_c`; the floor is the caller's.
    fn rate(&self, t_c: f64) -> f64 {
        10_f64.powf((t_c - self.tref_c) / self.z_k(t_c))
    }

    /// Minutes at `temperature` worth `minutes` at the reference.
    ///
    /// # Method
    /// `F × 10^((Tref − T) ÷ z)`
    /// # Errors
    /// Above 150 °C; below the floor, where no time is enough; below 40 °C.
    /// # Example
    /// ```
    /// use science::lethality::LISTERIA;
    /// use units::Temperature;
    /// let at_63 = LISTERIA.minutes_at(Temperature::celsius(63.0)?, 2.0)?;
    /// assert_eq!(format!("{at_63:.2}"), "17.15");
    /// assert!(LISTERIA.minutes_at(Temperature::celsius(30.0)?, 2.0).is_err());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn minutes_at(&self, temperature: Temperature, minutes: f64) -> Result<f64, ScienceError> {
        let t_c = within(
            "temperature held",
            "°C",
            temperature.c(),
            self.floor_c.unwrap_or(0.0).max(40.0),
            HOTTEST_C,
            "below it no time is counted on to kill",
        )?;
        within(
            "minutes",
            "min",
            minutes,
            0.0,
            1e6,
            "enter minutes at the reference",
        )?;
        Ok(minutes / self.rate(t_c))
    }

    /// The exact integral over a straight line of `minutes` from `a_c` to `b_c`.
    fn over(&self, minutes: f64, a_c: f64, b_c: f64) -> f64 {
        let (low, high) = if a_c <= b_c { (a_c, b_c) } else { (b_c, a_c) };
        if high - low == 0.0 {
            let counts = self.floor_c.is_none_or(|floor| low >= floor);
            return if counts {
                minutes * self.rate(low)
            } else {
                0.0
            };
        }
        let least = self.floor_c.map_or(low, |floor| low.max(floor));
        let per_k = minutes / (high - low);
        // Where z changes the line is cut in two.
        let below = (least, high.min(self.tref_c), self.z_below_k);
        let above = (least.max(self.tref_c), high, self.z_above_k);
        [below, above]
            .into_iter()
            .filter(|(from, to, _)| to > from)
            .map(|(from, to, z_k)| {
                let start = 10_f64.powf((from - self.tref_c) / z_k);
                let ln_rise = std::f64::consts::LN_10 * (to - from) / z_k;
                per_k * (to - from) * start * mean_growth(ln_rise)
            })
            .sum()
    }
}

/// `(eˣ − 1) ÷ x`, also where x is next to nothing.
fn mean_growth(x: f64) -> f64 {
    if x == 0.0 { 1.0 } else { x.exp_m1() / x }
}

/// The z behind a list of temperatures and the times that do the same at each.
///
/// # Method
/// Least squares of `log₁₀(time)` on temperature; z is the fall that makes it one.
/// # Valid range
/// The temperatures of the list and no further.
/// # Errors
/// Fewer than two temperatures; a time of nothing; a slope that is no z (3 to 20 °C).
pub fn fitted_z(times: &[(Temperature, f64)]) -> Result<TemperatureDifference, ScienceError> {
    let count = times.len() as f64;
    let mut log = Vec::with_capacity(times.len());
    for &(_, minutes) in times {
        log.push(within("time", "min", minutes, 1e-6, 1e6, "leave the row out")?.log10());
    }
    let mean_c = times.iter().map(|(t, _)| t.c()).sum::<f64>() / count;
    let mean_log = log.iter().sum::<f64>() / count;
    let (mut both, mut alone) = (0.0, 0.0);
    for ((t, _), log) in times.iter().zip(&log) {
        both += (t.c() - mean_c) * (log - mean_log);
        alone += (t.c() - mean_c).powi(2);
    }
    if times.len() < 2 || alone == 0.0 {
        return Err(ScienceError::None {
            what: "second temperature",
        });
    }
    let z_k = within(
        "fitted z",
        "°C difference",
        -alone / both,
        3.0,
        20.0,
        "check the rows: hotter must be shorter",
    )?;
    Ok(TemperatureDifference::kelvins(z_k)?)
}

/// What a list of timed core readings is worth.
///
/// # Method
/// Straight lines between readings, each integrated exactly; adding a reading on a line changes nothing.
/// # Errors
/// Fewer than two readings; times that do not go forward; a reading above 150 °C.
/// # Example
/// ```
/// use science::lethality::{LISTERIA, of_readings};
/// use units::{Elapsed, Temperature};
/// let at = |min, c| Ok::<_, units::QuantityError>((Elapsed::from_minutes(min)?, Temperature::celsius(c)?));
/// let ramp = of_readings([at(0.0, 20.0)?, at(30.0, 70.0)?], &LISTERIA)?;
/// assert_eq!(format!("{:.6}", ramp.minutes), "1.954325");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn of_readings(
    readings: impl IntoIterator<Item = (Elapsed, Temperature)>,
    reference: &Reference,
) -> Result<Lethality, ScienceError> {
    let mut minutes = 0.0;
    let mut before: Option<(Elapsed, f64)> = None;
    let mut lines = 0_usize;
    for (time, core) in readings {
        let core_c = within(
            "core reading",
            "°C",
            core.c(),
            -273.15,
            HOTTEST_C,
            "check the probe",
        )?;
        if let Some((earlier, earlier_c)) = before {
            let span = within(
                "time since the reading before",
                "min",
                time.minutes() - earlier.minutes(),
                0.0,
                Elapsed::MOST_S as f64,
                "put the readings in order of time",
            )?;
            minutes += reference.over(span, earlier_c, core_c);
            lines += 1;
        }
        before = Some((time, core_c));
    }
    if lines == 0 {
        return Err(ScienceError::None {
            what: "second core reading",
        });
    }
    Ok(Lethality {
        minutes,
        reference: *reference,
    })
}

/// What the core of a run is worth.
///
/// # Errors
/// As [`of_readings`].
pub fn lethality_of(history: &History, reference: &Reference) -> Result<Lethality, ScienceError> {
    of_readings(history.readings.iter().map(|r| (r.time, r.core)), reference)
}

impl Lethality {
    /// Tenfold reductions, by the reference's own target: its logs in proportion to the minutes.
    #[must_use]
    pub fn log_reductions(&self) -> Option<f64> {
        let (minutes, logs) = self.reference.target?;
        Some(self.minutes / minutes * logs)
    }

    /// Tenfold reductions of an organism that takes `d_minutes` at the reference for one.
    ///
    /// # Errors
    /// A D outside 0.0001 to 10 000 min.
    pub fn log_reductions_at(&self, d_minutes: f64) -> Result<f64, ScienceError> {
        let d = within(
            "D",
            "min",
            d_minutes,
            1e-4,
            1e4,
            "enter minutes at the reference",
        )?;
        Ok(self.minutes / d)
    }

    /// The part of the reference's target that is reached: 1 is all of it. A figure, not a verdict.
    #[must_use]
    pub fn part_of_target(&self) -> Option<f64> {
        self.reference
            .target
            .map(|(minutes, _)| self.minutes / minutes)
    }
}

#[cfg(test)]
mod tests;
