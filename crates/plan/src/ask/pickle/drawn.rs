//! The picture of a pickle: its calculated pH against the vinegar, or against how strong it is.

use drawing::{Axis, Band, Chart, Curve, Mark, Stroke};

use super::sour::{Found, SEARCH_DRAWS, Sour, Varied};
use super::{PH_LEGAL, PH_TARGET};
use crate::ask::picture::axis;
use crate::ask::refusal::Refusal;

/// Places drawn.
const PLACES: u32 = 40;
/// Nine draws in ten lie between these marks.
const MARKS: [(&str, f64, Stroke); 3] = [
    ("5 in 100 below", 0.05, Stroke::Dashed),
    ("half above", 0.5, Stroke::Solid),
    ("5 in 100 above", 0.95, Stroke::Dotted),
];

/// Middle and both sides of the spread, the two lines as bands, the amount asked and the least as marks.
pub(super) fn picture(sour: &Sour, varied: Varied) -> Result<Chart, Refusal> {
    let asked = sour.asked(varied);
    let least = match sour.least(varied)? {
        Found::At(x) => Some(x),
        _ => None,
    };
    let (first, last) = sour.range(varied);
    let end = (2.0 * asked).max(1.3 * least.unwrap_or(0.0)).min(last);
    let start = match varied {
        Varied::Vinegar => end / f64::from(PLACES),
        Varied::Strength => first,
    };
    let mut points: [Vec<(f64, f64)>; 3] = Default::default();
    for i in 0..PLACES {
        let x = start + (end - start) * f64::from(i) / f64::from(PLACES - 1);
        let outcome = sour.with(varied, x).drawn(SEARCH_DRAWS)?;
        for (curve, (_, share, _)) in points.iter_mut().zip(MARKS) {
            curve.extend(outcome.quantile(share)?.map(|ph| (x, ph)));
        }
    }
    let curves: Vec<Curve> = MARKS
        .into_iter()
        .zip(points)
        .map(|((name, _, stroke), points)| Curve {
            name: name.to_owned(),
            points,
            stroke,
        })
        .collect();
    let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
    let y = axis(
        "pH of all once even",
        "",
        values.chain([PH_TARGET, PH_LEGAL + 0.2]),
    )?;
    let (label, unit) = match varied {
        Varied::Vinegar => ("vinegar", "g"),
        Varied::Strength => ("acid of the vinegar", "%"),
    };
    let mut marks = vec![Mark {
        x: asked,
        label: "asked".to_owned(),
    }];
    marks.extend(least.map(|x| Mark {
        x,
        label: "least".to_owned(),
    }));
    let band = |name: &str, from_y: f64, to_y: f64| Band {
        name: name.to_owned(),
        from_y,
        to_y,
    };
    Ok(Chart {
        title: "pH of the pickle: calculated, releases nothing".to_owned(),
        x: Axis::new(label, unit, 0.0, end),
        bands: vec![
            band("over the target 4.2", PH_TARGET, PH_LEGAL),
            band("over the legal line 4.6", PH_LEGAL, y.to),
        ],
        y,
        curves,
        marks,
        measured: Vec::new(),
    })
}
