//! Steeping: how long acid or salt takes to the middle of a cut, and how far it has come.
//!
//! The bath is taken as staying as strong as it ends up. A small bath starts stronger than that and is
//! quicker on the whole; it is treated by [`crate::diffusion::limited_bath_mean`].

use units::{Elapsed, Length};

use crate::ScienceError;
use crate::diffusion::{
    Diffusivity, Fourier, fourier_for_centre, fourier_for_mean, slab_centre, slab_mean,
};

/// Which faces of a cut the liquor reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Faces {
    /// Both, as of a slice.
    Both,
    /// One, as of a piece with its skin on.
    One,
}

/// A cut that is wide and long against its thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Thickness.
    pub thickness: Length,
    /// Faces the liquor reaches.
    pub faces: Faces,
}

/// How fast something spreads in a cut, as a spread: a fitted quantity, never one number from a book.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spreading {
    slowest: Diffusivity,
    fastest: Diffusivity,
}

impl Spreading {
    /// From the slowest to the fastest believed.
    ///
    /// # Errors
    /// The wrong way round.
    pub fn between(slowest: Diffusivity, fastest: Diffusivity) -> Result<Self, ScienceError> {
        if slowest > fastest {
            return Err(ScienceError::OutOfRange {
                what: "slowest diffusivity",
                found: slowest.value_m2_s(),
                least: 0.0,
                most: fastest.value_m2_s(),
                unit: "m²/s",
                do_now: "give the slower one first",
            });
        }
        Ok(Self { slowest, fastest })
    }

    /// What is assumed for acid or salt in raw vegetable at room temperature: 2e-10 to 1e-9 m²/s.
    ///
    /// # Source
    /// [MEMORY](sources::list::MEMORY), from memory: below salt in plain water, 1.5e-9. Nothing for a
    /// vegetable was read. Fit your own from a cut that was tasted or measured. Cold is slower.
    /// # Errors
    /// None in practice: both are constants.
    pub fn assumed_in_vegetable() -> Result<Self, ScienceError> {
        Self::between(Diffusivity::m2_per_s(2e-10)?, Diffusivity::m2_per_s(1e-9)?)
    }
}

/// From the earliest to the latest, for a spread of diffusivities.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// With the fastest.
    pub earliest: Elapsed,
    /// With the slowest: plan on this one.
    pub latest: Elapsed,
}

/// Shares of the final strength, 0 to 1, for a spread of diffusivities.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reached {
    /// With the slowest.
    pub least: f64,
    /// With the fastest.
    pub most: f64,
}

impl Cut {
    /// The way from an open face to the slowest place.
    fn way(self) -> Result<Length, ScienceError> {
        if self.thickness.mm() <= 0.0 {
            return Err(ScienceError::None { what: "thickness" });
        }
        match self.faces {
            Faces::Both => Ok(self.thickness.scaled(0.5)?),
            Faces::One => Ok(self.thickness),
        }
    }

    fn reached(
        self,
        time: Elapsed,
        spreading: Spreading,
        share: fn(Fourier) -> f64,
    ) -> Result<Reached, ScienceError> {
        let way = self.way()?;
        Ok(Reached {
            least: share(Fourier::of(spreading.slowest, time, way)?),
            most: share(Fourier::of(spreading.fastest, time, way)?),
        })
    }

    fn wait(self, fourier: Fourier, spreading: Spreading) -> Result<Wait, ScienceError> {
        let way = self.way()?;
        Ok(Wait {
            earliest: fourier.time(spreading.fastest, way)?,
            latest: fourier.time(spreading.slowest, way)?,
        })
    }

    /// How far the middle has come towards its final strength after a time.
    ///
    /// # Method
    /// Fick's slab, [`slab_centre`].
    /// # Valid range
    /// A slab; the ends of a baton make it quicker.
    /// # Errors
    /// No thickness; a time or a cut beyond what a Fourier number takes.
    pub fn middle_after(
        self,
        time: Elapsed,
        spreading: Spreading,
    ) -> Result<Reached, ScienceError> {
        self.reached(time, spreading, slab_centre)
    }

    /// How much of its final acid or salt the whole cut has taken up after a time.
    ///
    /// # Method
    /// Fick's slab, [`slab_mean`].
    /// # Errors
    /// As [`Cut::middle_after`].
    pub fn whole_after(self, time: Elapsed, spreading: Spreading) -> Result<Reached, ScienceError> {
        self.reached(time, spreading, slab_mean)
    }

    /// How long until the middle has come `share` of the way to its final strength.
    ///
    /// # Method
    /// Fick's slab, [`fourier_for_centre`]; time goes with the square of the thickness.
    /// # Valid range
    /// Share above 0 and below 1. The spread is the spread of the diffusivity; nothing else is in it.
    /// # Source
    /// [CRANK](sources::list::CRANK), from memory; diffusivity as given.
    /// # Errors
    /// Share outside; no thickness.
    /// # Example
    /// ```
    /// use science::steeping::{Cut, Faces, Spreading};
    /// use units::Length;
    /// let onion = Cut { thickness: Length::millimetres(3.0)?, faces: Faces::Both };
    /// let wait = onion.time_to_middle(0.9, Spreading::assumed_in_vegetable()?)?;
    /// assert_eq!((wait.earliest.whole_minutes(), wait.latest.whole_minutes()), (39, 193));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn time_to_middle(self, share: f64, spreading: Spreading) -> Result<Wait, ScienceError> {
        self.wait(fourier_for_centre(share)?, spreading)
    }

    /// How long until the whole cut has taken up `share` of its final acid or salt.
    ///
    /// # Errors
    /// As [`Cut::time_to_middle`].
    pub fn time_to_whole(self, share: f64, spreading: Spreading) -> Result<Wait, ScienceError> {
        self.wait(fourier_for_mean(share)?, spreading)
    }
}

/// The diffusivity behind one cut that was found to have reached `share` in its middle after `time`:
/// log it, with what was cut, how thick and how warm.
///
/// # Method
/// `Fo(share) L² ÷ t`.
/// # Errors
/// No time; share outside 0 to 1; a diffusivity that cannot be.
pub fn fitted(cut: Cut, share: f64, time: Elapsed) -> Result<Diffusivity, ScienceError> {
    if time <= Elapsed::ZERO {
        return Err(ScienceError::None {
            what: "time in the liquor",
        });
    }
    let metres = cut.way()?.metres();
    Diffusivity::m2_per_s(fourier_for_centre(share)?.fo() * metres * metres / time.seconds() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cut(mm: f64, faces: Faces) -> Cut {
        Cut {
            thickness: Length::millimetres(mm).unwrap(),
            faces,
        }
    }

    fn one(d: f64) -> Spreading {
        let d = Diffusivity::m2_per_s(d).unwrap();
        Spreading::between(d, d).unwrap()
    }

    /// Fourier numbers at which the middle and the whole have come so far, of the series by another
    /// program; times are whole seconds, half of one here is 1e-5.
    #[test]
    fn cuts_reach_their_share_at_the_known_fourier_numbers() {
        for (share, middle, whole) in [
            (0.5, 0.378_748, 0.196_731),
            (0.9, 1.031_105, 0.848_085),
            (0.95, 1.312_027, 1.129_007),
            (0.99, 1.964_308, 1.781_288),
        ] {
            // 10 mm of way at 1e-9: a Fourier number of one is 100 000 s.
            let piece = cut(20.0, Faces::Both);
            let m = piece.time_to_middle(share, one(1e-9)).unwrap();
            let w = piece.time_to_whole(share, one(1e-9)).unwrap();
            assert!(
                (m.latest.seconds() as f64 / 1e5 - middle).abs() < 1.1e-5,
                "{share}"
            );
            assert!(
                (w.latest.seconds() as f64 / 1e5 - whole).abs() < 1.1e-5,
                "{share}"
            );
            assert_eq!(m.earliest, m.latest);
        }
    }

    /// Worked from the series: D 2.5e-10, 25 mm.
    #[test]
    fn a_skin_side_costs_what_the_series_says() {
        for (hours, one_face, both) in [
            (6.0, 0.1049, 0.2098),
            (12.0, 0.1483, 0.2967),
            (24.0, 0.2098, 0.4195),
            (48.0, 0.2967, 0.5901),
        ] {
            let time = Elapsed::from_hours(hours).unwrap();
            let share = |faces| {
                cut(25.0, faces)
                    .whole_after(time, one(2.5e-10))
                    .unwrap()
                    .least
            };
            assert!((share(Faces::One) - one_face).abs() < 6e-5);
            assert!((share(Faces::Both) - both).abs() < 6e-5);
        }
    }

    /// Common practice, no source: half water, half vinegar over sliced onion works in a couple of hours
    /// and is better overnight. Slices of 2 to 4 mm; a couple is 1 to 4 h, overnight 8 to 14 h.
    #[test]
    fn onions_are_ready_in_a_couple_of_hours_and_better_overnight() {
        let assumed = Spreading::assumed_in_vegetable().unwrap();
        for mm in [2.0, 3.0, 4.0] {
            let onion = cut(mm, Faces::Both);
            let two = onion
                .whole_after(Elapsed::from_hours(2.0).unwrap(), assumed)
                .unwrap();
            assert!(two.least > 0.65, "{mm} mm: {two:?}");
            let night = onion
                .middle_after(Elapsed::from_hours(10.0).unwrap(), assumed)
                .unwrap();
            assert!(night.least > 0.95, "{mm} mm: {night:?}");
        }
    }

    #[test]
    fn a_cut_without_thickness_or_a_spread_turned_round_is_refused() {
        assert!(
            cut(0.0, Faces::Both)
                .time_to_middle(0.9, one(1e-9))
                .is_err()
        );
        assert!(
            cut(5.0, Faces::Both)
                .time_to_middle(1.0, one(1e-9))
                .is_err()
        );
        let (slow, fast) = (
            Diffusivity::m2_per_s(1e-10).unwrap(),
            Diffusivity::m2_per_s(1e-9).unwrap(),
        );
        assert!(Spreading::between(fast, slow).is_err());
        assert!(fitted(cut(5.0, Faces::Both), 0.9, Elapsed::ZERO).is_err());
    }

    proptest! {
        #[test]
        fn thinner_and_longer_never_reach_less(mm in 1.0..40.0_f64, part in 0.5..1.0_f64, h in 0.0..100.0_f64, more in 0.0..50.0_f64) {
            let d = Spreading::assumed_in_vegetable().unwrap();
            let hours = |h| Elapsed::from_hours(h).unwrap();
            let at = |mm, h| cut(mm, Faces::Both).middle_after(hours(h), d).unwrap();
            prop_assert!(at(mm * part, h).least >= at(mm, h).least - 1e-12);
            prop_assert!(at(mm, h + more).most >= at(mm, h).most - 1e-12);
            prop_assert!(at(mm, h).least <= at(mm, h).most + 1e-12);
            prop_assert_eq!(at(mm, 0.0).most, 0.0);
        }

        #[test]
        fn a_fitted_diffusivity_gives_its_time_back(mm in 2.0..40.0_f64, share in 0.1..0.95_f64, h in 1.0..48.0_f64) {
            let time = Elapsed::from_hours(h).unwrap();
            let d = fitted(cut(mm, Faces::One), share, time).unwrap();
            let back = cut(mm, Faces::One).time_to_middle(share, Spreading::between(d, d).unwrap()).unwrap();
            prop_assert!((back.latest.seconds() - time.seconds()).abs() <= 1);
        }
    }
}
