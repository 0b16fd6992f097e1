//! The figure itself, by the way the cure goes in.

use science::nitrite::{self as ingoing, Proportion};
use sources::list;
use units::{Mass, Ppm};

use super::super::refusal::Refusal;
use super::super::sheet::Sheet;
use super::{How, Nitrite};

/// The figure, and the way it was reached in words.
pub(super) fn worked(ask: &Nitrite, sheet: &mut Sheet) -> Result<(Ppm, String), Refusal> {
    let (salt, kind) = (ask.curing_salt, ask.kind);
    let mut pickle_in = |pickle: Mass, part: Option<(Proportion, &str)>| {
        sheet.entered("pickle", pickle.g(), "g");
        if let Some((part, id)) = part {
            sheet.entered(id, part.ratio() * 100.0, "%");
            sheet.figures.of(id, "green weight");
        }
    };
    let (ppm, formula, from, way): (Ppm, &str, Vec<&str>, &str) = match ask.how {
        How::Dry { green } => {
            sheet.entered("green", green.g(), "g");
            (
                ingoing::dry(salt, kind, green)?,
                "curing salt × nitrite in it × 10⁶ ÷ green",
                vec!["curing", "curing.nitrite", "green"],
                "dry, on green weight; all that is rubbed on counts, rinsed off or not",
            )
        }
        How::Pumped { pickle, pump } => {
            pickle_in(pickle, Some((pump, "pump")));
            (
                ingoing::pumped(salt, kind, pickle, pump)?,
                "curing salt × nitrite in it × pump × 10⁶ ÷ pickle",
                vec!["curing", "curing.nitrite", "pump", "pickle"],
                "pumped: the pump is the gain of green weight, the pickle is weighed with all that is in it",
            )
        }
        How::Dipped { pickle, pick_up } => {
            pickle_in(pickle, Some((pick_up, "pick_up")));
            (
                ingoing::immersed_pick_up(salt, kind, pickle, pick_up)?,
                "curing salt × nitrite in it × pick-up × 10⁶ ÷ pickle",
                vec!["curing", "curing.nitrite", "pick_up", "pickle"],
                "immersed, Method One: what the piece picked up, weighed before and after",
            )
        }
        How::Covered { pickle, green } => {
            pickle_in(pickle, None);
            sheet.entered("green", green.g(), "g");
            (
                ingoing::immersed_equilibrium(salt, kind, green, pickle)?,
                "curing salt × nitrite in it × 10⁶ ÷ (green + pickle)",
                vec!["curing", "curing.nitrite", "green", "pickle"],
                "immersed until even, Method Two: meat and pickle are one; Method One, by pick-up, gives \
                 another figure: take the higher when unsure",
            )
        }
    };
    sheet.worked("nitrite", ppm.ppm(), "ppm NaNO2", 2, formula, &from);
    sheet.figures.of("nitrite", "green weight");
    Ok((
        ppm,
        format!("{way}. {} (second-hand)", list::FSIS_CALC.title),
    ))
}
