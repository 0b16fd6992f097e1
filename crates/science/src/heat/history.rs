//! What a run leaves: a row a step, and what crossed the surface.

use units::{Elapsed, Temperature};

/// One row of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Since the start.
    pub time: Elapsed,
    /// Air or water around the piece.
    pub air: Temperature,
    /// The surface.
    pub surface: Temperature,
    /// The mean of the piece, by weight.
    pub mean: Temperature,
    /// The core: the place heat reaches last.
    pub core: Temperature,
}

/// A run of a piece through a programme.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Rows, the first at time zero.
    pub readings: Vec<Reading>,
    /// Heat taken in (negative: given off), kJ per kg of food.
    pub heat_kj_per_kg: f64,
    /// Water evaporated less water condensed, grams per m² of open surface. It is not taken off the weight.
    pub evaporated_g_per_m2: f64,
    /// Heat that is in the food less what crossed its surface, over all that crossed it either way.
    pub energy_gap: f64,
}

/// How long a core was at or above a temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// All stretches together.
    pub total: Elapsed,
    /// The longest without a dip.
    pub longest: Elapsed,
}

/// How long the core was at or above `temperature`.
///
/// # Method
/// Straight lines between readings; a dip ends a stretch. Rounded down to whole seconds.
/// # Errors
/// None in practice: the parts of a valid time are valid.
pub fn hold_time_above(
    history: &History,
    temperature: Temperature,
) -> Result<Hold, crate::ScienceError> {
    let line = temperature.c();
    let (mut total, mut longest, mut stretch) = (0.0_f64, 0.0_f64, 0.0_f64);
    for pair in history.readings.windows(2) {
        let seconds = (pair[1].time.seconds() - pair[0].time.seconds()) as f64;
        let (before, after) = (pair[0].core.c() - line, pair[1].core.c() - line);
        let above = match (before >= 0.0, after >= 0.0) {
            (true, true) => 1.0,
            (false, false) => 0.0,
            (false, true) => after / (after - before),
            (true, false) => before / (before - after),
        } * seconds;
        total += above;
        stretch = if before >= 0.0 {
            stretch + above
        } else {
            above
        };
        longest = longest.max(stretch);
        if after < 0.0 {
            stretch = 0.0;
        }
    }
    Ok(Hold {
        total: whole(total)?,
        longest: whole(longest)?,
    })
}

/// Whole seconds, rounded down: a hold is never made longer than it was.
fn whole(seconds: f64) -> Result<Elapsed, crate::ScienceError> {
    // The sum of whole steps may fall a rounding short of its second.
    Ok(Elapsed::from_seconds((seconds + 1e-6).floor() as i64)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(cores: &[(i64, f64)]) -> History {
        let readings = cores
            .iter()
            .map(|&(s, c)| {
                let c = Temperature::celsius(c).unwrap();
                Reading {
                    time: Elapsed::from_seconds(s).unwrap(),
                    air: c,
                    surface: c,
                    mean: c,
                    core: c,
                }
            })
            .collect();
        History {
            readings,
            heat_kj_per_kg: 0.0,
            evaporated_g_per_m2: 0.0,
            energy_gap: 0.0,
        }
    }

    #[test]
    fn a_dip_ends_a_hold() {
        let line = Temperature::celsius(63.0).unwrap();
        let is = run(&[
            (0, 61.0),
            (600, 65.0),
            (1200, 65.0),
            (1800, 61.0),
            (2400, 65.0),
        ]);
        let hold = hold_time_above(&is, line).unwrap();
        assert_eq!(hold.longest.seconds(), 1200);
        assert_eq!(hold.total.seconds(), 1500);
        let all = hold_time_above(&run(&[(0, 63.0), (90, 63.0)]), line).unwrap();
        assert_eq!((all.longest.seconds(), all.total.seconds()), (90, 90));
        let none = hold_time_above(&run(&[(0, 62.9), (90, 62.9)]), line).unwrap();
        assert_eq!(none.total, Elapsed::ZERO);
    }
}
