//! What a brine of a strength is used for, and how far it is from saturation.

use science::brine::{SATURATED_PCT, Strength};
use sources::list;

use super::super::sheet::Sheet;

/// From, to, their unit, and what for.
type Use = (f64, f64, &'static str, &'static str);
/// What a brine of a strength is used for, weakest first. Common practice, no source.
const USES: &[Use] = &[
    (4.0, 6.0, "%", "cooking brine for poultry and pork"),
    (15.0, 20.0, "%", "pump pickle for pork"),
    (60.0, 80.0, "°SAL", "fish before hot smoke"),
];
/// How far outside a use a strength still counts, of its unit: what the answer rounds away.
const ROUNDED: f64 = 0.05;
/// Temperature the salometer is marked for.
const SALOMETER_F: f64 = 60.0;

/// What a brine that strong is for, and how far it is from saturation.
pub(super) fn window(strength: Strength, sheet: &mut Sheet) -> String {
    let left = SATURATED_PCT - strength.pct();
    sheet.worked(
        "left",
        left,
        "points",
        1,
        "saturated − strength",
        &["saturated", "strength"],
    );
    sheet.known("saturated.at", SALOMETER_F, "°F", &list::SALOMETER, "");
    // Each use on the sheet only when it is printed: those that fit, or the neighbours on either side.
    let at = |unit: &str| {
        if unit == "%" {
            strength.pct()
        } else {
            strength.salometer()
        }
    };
    let fits = |(low, high, unit, _): &Use| (low - ROUNDED..=high + ROUNDED).contains(&at(unit));
    let mut name = |i: usize, (low, high, unit, what): &Use| {
        let (a, b) = (format!("use.{}.low", i + 1), format!("use.{}.high", i + 1));
        sheet.known(&a, *low, unit, &list::PRACTICE, what);
        sheet.known(&b, *high, unit, &list::PRACTICE, what);
        format!("{what} ({} to {})", sheet.bare(&a), sheet.show(&b))
    };
    let uses: Vec<String> = USES
        .iter()
        .enumerate()
        .filter(|(_, u)| fits(u))
        .map(|(i, u)| name(i, u))
        .collect();
    let uses = if uses.is_empty() {
        let below = USES
            .iter()
            .enumerate()
            .rfind(|(_, u)| u.1 < at(u.2))
            .map(|(i, u)| name(i, u));
        let above = USES
            .iter()
            .enumerate()
            .find(|(_, u)| u.0 > at(u.2))
            .map(|(i, u)| name(i, u));
        match (below, above) {
            (Some(below), Some(above)) => format!("between {below} and {above}"),
            (Some(below), None) => format!("above {below}"),
            (None, Some(above)) => format!("below {above}"),
            (None, None) => "no usual brine".to_owned(),
        }
    } else {
        format!("usual for {}", uses.join("; "))
    };
    format!(
        "{uses}; {} below saturation ({} at {})",
        sheet.show("left"),
        sheet.show("saturated"),
        sheet.show("saturated.at")
    )
}
