//! What goes with a picture: an answer and the curve behind it, and times as one figure with one unit.

use drawing::{Axis, Chart};
use units::Elapsed;

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::Sheet;

/// An answer and the picture of how it comes about.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// The answer.
    pub answer: Answer,
    /// The picture; drawn by whoever has a place to put it.
    pub picture: Chart,
}

/// Hours below which a time is told in minutes, and from which it is told in days.
const MINUTES_BELOW_H: f64 = 2.0;
const DAYS_FROM_H: f64 = 48.0;

/// A time as a cook says it: minutes, hours or days, never two of them.
pub(super) fn said(hours: f64) -> (f64, &'static str, u32) {
    if hours < MINUTES_BELOW_H {
        (hours * 60.0, "min", 0)
    } else if hours < DAYS_FROM_H {
        (hours, "h", 1)
    } else {
        (hours / 24.0, "d", 1)
    }
}

/// Puts a computed time on the sheet.
pub(super) fn lasts(sheet: &mut Sheet, id: &str, time: Elapsed, formula: &str, from: &[&str]) {
    let (value, unit, places) = said(time.hours());
    sheet.worked(id, value, unit, places, formula, from);
}

/// Puts a computed time on the sheet in minutes, as work at a stove is told.
pub(super) fn lasts_minutes(
    sheet: &mut Sheet,
    id: &str,
    time: Elapsed,
    formula: &str,
    from: &[&str],
) {
    sheet.worked(id, time.minutes(), "min", 0, formula, from);
}

/// Puts a time somebody typed on the sheet, in the unit it is told in.
pub(super) fn entered_time(sheet: &mut Sheet, id: &str, time: Elapsed) {
    let (value, unit, _) = said(time.hours());
    sheet.entered(id, value, unit);
}

/// At most `most` points of a curve, evenly picked, both ends kept: a picture needs no more.
pub(super) fn thinned(points: Vec<(f64, f64)>, most: usize) -> Vec<(f64, f64)> {
    let count = points.len();
    if count <= most || most < 2 {
        return points;
    }
    (0..most)
        .filter_map(|i| points.get(i * (count - 1) / (most - 1)).copied())
        .collect()
}

/// An axis from its first to its last value, ends on round numbers.
pub(super) fn axis(
    label: &str,
    unit: &str,
    values: impl IntoIterator<Item = f64>,
) -> Result<Axis, Refusal> {
    Ok(Axis::around(label, unit, values)?)
}

/// The axis of time, from nothing to where the curves end, so that their names stand beside the chart.
pub(super) fn until(label: &str, unit: &str, end: f64) -> Axis {
    Axis::new(label, unit, 0.0, end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_has_one_unit() {
        assert_eq!(said(1.5), (90.0, "min", 0));
        assert_eq!(said(22.0), (22.0, "h", 1));
        assert_eq!(said(72.0), (3.0, "d", 1));
    }

    #[test]
    fn a_thinned_curve_keeps_its_ends() {
        let points: Vec<(f64, f64)> = (0..1000).map(|i| (f64::from(i), 0.0)).collect();
        let few = thinned(points, 50);
        assert_eq!(few.len(), 50);
        assert_eq!((few[0].0, few[49].0), (0.0, 999.0));
    }
}
