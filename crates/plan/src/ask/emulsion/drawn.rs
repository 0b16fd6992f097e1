//! The picture of an emulsion: how full of oil it is, against the oil.

use drawing::{Axis, Band, Chart, Curve, Mark, Stroke};
use science::emulsion::{OilVolume, oil_to_add};
use units::{Mass, Volume};

use super::{Emulsion, MOST_OIL_PCT, WATERY_G_ML, YOLK_G_ML, emulsion, oil_density};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// Places drawn.
const PLACES: u32 = 60;

/// Oil by volume against the oil put in, the same water; what is asked and the most as marks.
///
/// # Errors
/// As [`emulsion`].
pub fn picture(ask: &Emulsion) -> Result<Chart, Refusal> {
    emulsion(ask)?;
    let density = oil_density(ask, &mut Sheet::default())?;
    let watery_g = ask.aqueous.g() + ask.vinegar.g();
    let watery = Volume::millilitres(watery_g / WATERY_G_ML + ask.yolk.g() / YOLK_G_ML)?;
    let most = density
        .mass_of(oil_to_add(Volume::ZERO, watery, MOST_OIL_PCT / 100.0)?)
        .g();
    let end = 1.3 * most.max(ask.oil.g());
    let points = (1..=PLACES)
        .map(|i| {
            let grams = end * f64::from(i) / f64::from(PLACES);
            let oil = density.volume_of(Mass::grams(grams)?);
            let share = OilVolume::of_volumes(oil, watery)?.share() * 100.0;
            Ok((grams, share))
        })
        .collect::<Result<Vec<_>, Refusal>>()?;
    let mark = |x: f64, label: &str| Mark {
        x,
        label: label.to_owned(),
    };
    Ok(Chart {
        title: "Oil in the emulsion, the water as it is".to_owned(),
        x: Axis::new("oil", "g", 0.0, end),
        y: Axis::new("oil by volume", "%", 0.0, 100.0),
        curves: vec![Curve {
            name: "oil".to_owned(),
            points,
            stroke: Stroke::Solid,
        }],
        bands: vec![Band {
            name: "stiff: risk of breaking".to_owned(),
            from_y: MOST_OIL_PCT,
            to_y: 100.0,
        }],
        marks: vec![mark(ask.oil.g(), "asked"), mark(most, "most")],
        measured: Vec::new(),
    })
}
