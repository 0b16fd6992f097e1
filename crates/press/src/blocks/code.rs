//! A code a camera reads, with the same code in letters.

use qrcode::{Color, EcLevel, QrCode};

use super::{Desk, lay};
use crate::PressError;
use crate::face::{Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark, Pen};
use crate::paper::mm;

/// A module narrower than this is lost on a wet label and a cheap camera. House value.
const LEAST_MODULE_MM: f64 = 0.4;
/// White around the code, in modules.
///
/// # Source
///
/// ISO/IEC 18004: four modules on all sides (from memory).
const QUIET: usize = 4;

/// The code as wide as `side` with its quiet zone, or as wide as the narrowest module allows; and how wide that is.
///
/// Error correction M, so that about 15 % of it may be lost (ISO/IEC 18004, from memory).
pub(crate) fn code_marks(
    desk: &Desk<'_>,
    holds: &str,
    x: f64,
    y: f64,
    side: f64,
) -> Result<(Vec<Mark>, f64), PressError> {
    let code = QrCode::with_error_correction_level(holds, EcLevel::M).map_err(|error| {
        desk.refuse(
            format!("a code of {} bytes ({error})", holds.len()),
            "a code short enough for a camera",
        )
    })?;
    let across = code.width();
    #[allow(clippy::cast_precision_loss)] // at most 177 modules
    let modules = (across + 2 * QUIET) as f64;
    let module = (side / modules).max(mm(LEAST_MODULE_MM));
    let whole = module * modules;
    if whole > desk.width {
        return Err(desk.refuse(
            format!("a code of {across} by {across} modules, which is {:.0} mm wide at {LEAST_MODULE_MM} mm a module", whole / mm(1.0)),
            &format!("a code no wider than {:.0} mm: hold less in it", desk.width / mm(1.0)),
        ));
    }
    let mut pens = Vec::new();
    for (row, colours) in code.to_colors().chunks(across).enumerate() {
        let mut column = 0;
        while column < across {
            let dark = colours[column..]
                .iter()
                .take_while(|c| **c == Color::Dark)
                .count();
            if dark > 0 {
                #[allow(clippy::cast_precision_loss)] // at most 185
                let (left, top, wide) = (
                    x + (column + QUIET) as f64 * module,
                    y + (row + QUIET) as f64 * module,
                    dark as f64 * module,
                );
                pens.extend([
                    Pen::Move(left, top),
                    Pen::Line(left + wide, top),
                    Pen::Line(left + wide, top + module),
                    Pen::Line(left, top + module),
                    Pen::Close,
                ]);
            }
            column += dark.max(1);
        }
    }
    Ok((
        vec![Mark::Shape {
            pens,
            fill: Some(Ink::Black),
            stroke: None,
        }],
        whole,
    ))
}

/// The code with its letters beside it.
pub(super) fn strips(
    desk: &Desk<'_>,
    holds: &str,
    letters: &str,
) -> Result<Vec<Strip>, PressError> {
    let (mut marks, whole) = code_marks(desk, holds, 0.0, 0.0, mm(26.0))?;
    let gap = desk.look.body * 0.5;
    let set = desk.set(
        letters,
        Weight::Bold,
        desk.look.heading * 1.3,
        desk.width - whole - gap,
    );
    let high = whole.max(height(&set));
    lay(&mut marks, &set, whole + gap, (high - height(&set)) / 2.0);
    Ok(vec![Strip::new(marks, high)])
}
