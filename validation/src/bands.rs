//! Bands of the trade: what cooks say, beside what the science says.
//!
//! Common practice, no source. They are no checks: a band that the science misses is printed with the
//! reason, and nothing is tuned to it.

use science::pellicle::{SurfaceFactor, SurfaceLoss};
use science::psychrometrics::{MoistAir, RelativeHumidity};
use science::steeping::{Cut, Faces, Reached, Spreading};
use science::transport::{Closed, Flesh, Grid, Juice, Params, Phase, Piece, Shape, WaterOut, run};
use science::{ScienceError, thickness};
use units::{Base, Elapsed, Fraction, Length, Temperature};

use crate::case::Unanswered;

/// How a band and the science stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// The science lands in the band.
    Inside,
    /// It does not.
    Outside,
    /// It cannot tell: its own spread covers both.
    Undecided,
}

impl Stands {
    /// In a word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inside => "inside",
            Self::Outside => "**outside**",
            Self::Undecided => "cannot tell",
        }
    }

    const fn when(inside: bool) -> Self {
        if inside { Self::Inside } else { Self::Outside }
    }
}

/// A band and what became of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// What the trade says.
    pub trade: &'static str,
    /// What the science says.
    pub science: String,
    /// How they stand.
    pub verdict: Stands,
    /// Why, and under which assumptions.
    pub remark: &'static str,
}

/// Every band, in the order of the report.
#[must_use]
pub fn all() -> Vec<Band> {
    [
        ("Finger-cut trout in a strong dry cure at fridge temperature: usable from about 2 h, out by 24 h", finger_of_trout as fn() -> Answer),
        ("A pellicle in moving cold air takes at least 1 h", pellicle),
        ("A small chip-fed cabinet smokes about 6 h in three 2-hour loads of fuel", fuel),
        ("Vinegar liquor 1:1 over sliced onion: a couple of hours, better overnight", onion),
        ("Equal parts of mustard, honey and vinegar carry 3 to 6 parts of oil", dressing),
        ("From 25 to 34 mm a cure takes 1.85 times as long", thicker),
    ]
    .into_iter()
    .map(|(trade, ask)| {
        let (science, verdict, remark) = ask().unwrap_or_else(|refused| {
            (refused.to_string(), Stands::Outside, "the science refuses")
        });
        Band { trade, science, verdict, remark }
    })
    .collect()
}

type Answer = Result<(String, Stands, &'static str), Unanswered>;

/// Salt of a finger below which it eats as fresh fish, and above which as salt fish, percent of the piece.
const USABLE_PCT: (f64, f64) = (1.5, 5.0);

fn finger_of_trout() -> Answer {
    let green = Base::new("green weight")?;
    let piece = Piece::new(
        Shape::Finger {
            thickness: Length::millimetres(15.0)?,
            width: Length::millimetres(20.0)?,
        },
        Closed::One,
    )?;
    let flesh = Flesh::with_water(&Fraction::percent(71.5, green.clone())?)?;
    let salted = |hours: f64, params: &Params| -> Result<f64, Unanswered> {
        let cure = Phase::DryCure {
            salt: Fraction::percent(25.0, green.clone())?,
            sugar: Fraction::percent(0.0, green.clone())?,
            juice: Juice::AllEnters,
            water_out: WaterOut::per_salt(1.0, 1.5, 3.0)?,
            time: Elapsed::from_hours(hours)?,
            temperature: Temperature::celsius(3.0)?,
        };
        Ok(run(&piece, &flesh, params, &[cure], Grid::default())?
            .last
            .salt_pct_of_piece())
    };
    let likely = Params::guess()?;
    let slow = likely.slowest()?;
    let (two, day) = (salted(2.0, &likely)?, salted(24.0, &likely)?);
    let (slow_two, slow_day) = (salted(2.0, &slow)?, salted(24.0, &slow)?);
    let inside = two >= USABLE_PCT.0 && day > USABLE_PCT.1;
    Ok((
        format!(
            "mean salt of the finger {two:.1} % after 2 h, {day:.1} % after 24 h; with the diffusivity a third {slow_two:.1} and {slow_day:.1} %"
        ),
        Stands::when(inside),
        "15 × 20 mm on its skin, 3 °C, more salt than it takes up, juice not kept on it; usable from 1.5 %, out above 5 % of the piece (no source for either)",
    ))
}

/// Water clinging to a patted surface, g/m²: a film of a twentieth of a millimetre. Assumed.
const FILM_G_PER_M2: f64 = 50.0;

fn pellicle() -> Answer {
    let air = MoistAir::new(Temperature::celsius(4.0)?, RelativeHumidity::percent(75.0)?)?;
    let h = science::heat::Surroundings::FanFridge.heat_transfer()?;
    let wet_bulb = air.wet_bulb()?;
    let hours = |h| -> Result<f64, ScienceError> {
        let loss =
            SurfaceLoss::of_air(Temperature::celsius(4.0)?, wet_bulb, h, SurfaceFactor::WET)?;
        Ok(loss.time_for_film(FILM_G_PER_M2)?.hours())
    };
    let (quick, usual, slow) = (hours(h.high)?, hours(h.usual)?, hours(h.low)?);
    Ok((
        format!(
            "a film of 50 g/m² is gone after {usual:.1} h ({quick:.1} to {slow:.1} h over the usual heat transfer)"
        ),
        if quick >= 1.0 {
            Stands::Inside
        } else if slow >= 1.0 {
            Stands::Undecided
        } else {
            Stands::Outside
        },
        "4 °C, 75 %, fan fridge; the film is assumed, and a pellicle is more than its film gone: read as the earliest hour",
    ))
}

fn fuel() -> Answer {
    let load = Elapsed::from_hours(2.0)?;
    let all = load.scaled(3.0)?.hours();
    Ok((
        format!("3 × 2 h = {all} h"),
        Stands::when(all == 6.0),
        "arithmetic only: nothing in the science knows how chips burn",
    ))
}

/// A slice of onion as cut for a quick pickle, mm.
const ONION_SLICE_MM: f64 = 3.0;

fn onion() -> Answer {
    let slice = Cut {
        thickness: Length::millimetres(ONION_SLICE_MM)?,
        faces: Faces::Both,
    };
    let spreading = Spreading::assumed_in_vegetable()?;
    let after = |hours: f64| -> Result<Reached, ScienceError> {
        slice.middle_after(Elapsed::from_hours(hours)?, spreading)
    };
    let (half_hour, two, night) = (after(0.5)?, after(2.0)?, after(12.0)?);
    let pct = |share: f64| share * 100.0;
    Ok((
        format!(
            "the middle has {:.0} to {:.0} % of its final acid after half an hour, {:.0} to {:.0} % after 2 h, at least {:.0} % after 12 h",
            pct(half_hour.least),
            pct(half_hour.most),
            pct(two.least),
            pct(two.most),
            pct(night.least)
        ),
        if two.least >= 0.8 && half_hour.most < 0.8 {
            Stands::Inside
        } else if two.most >= 0.8 && night.least >= 0.95 {
            Stands::Undecided
        } else {
            Stands::Outside
        },
        "slices of 3 mm, diffusivity assumed over a factor of five for raw vegetable; with the fastest the slice is done long before the trade says, so the couple of hours speak for the slow end: whole cells, layers that lie on each other",
    ))
}

fn dressing() -> Answer {
    let share = |oil: f64| oil / (oil + 3.0);
    let (least, most) = (share(3.0), share(6.0));
    let closest = core::f64::consts::PI / (3.0 * 2.0_f64.sqrt());
    let carries = closest / (1.0 - closest) * 3.0;
    Ok((
        format!(
            "oil is {:.0} to {:.0} % of the volume; equal drops touch at {:.0} %, which is {carries:.1} parts",
            least * 100.0,
            most * 100.0,
            closest * 100.0
        ),
        Stands::when(most < closest),
        "parts by volume, honey and mustard counted as watery phase whole",
    ))
}

fn thicker() -> Answer {
    let factor = thickness::time_factor(Length::millimetres(25.0)?, Length::millimetres(34.0)?)?;
    Ok((
        format!("× {factor:.4}"),
        Stands::when((factor - 1.85).abs() < 0.005),
        "the square of 34 over 25",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_band_is_answered() {
        for band in all() {
            assert!(band.remark != "the science refuses", "{band:?}");
        }
    }
}
