//! The laid-out chart as SVG text, and the same chart told in words.

use std::fmt::Write as _;

use crate::chart::{Chart, Shape, Stroke};
use crate::error::DrawingError;
use crate::labels::Area;
use crate::layout::Layout;
use crate::shapes::{hatch, line, point};
use crate::spots::{Drawn, Spot, at_end, in_band};
use crate::text::{escaped, place, spoken, too_long};

/// White around words that stand over lines, so that the lines stop short of them.
const HALO: &str =
    r##" stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke""##;
/// Axes, ticks, edges: the thinnest line a copier keeps, CSS pixels.
const HAIRLINE: &str = "0.6";
/// Most measured points told one by one in the description.
const MOST_TOLD: usize = 12;

pub(crate) fn svg(chart: &Chart, frame: &Layout) -> Result<String, DrawingError> {
    let mut out = String::with_capacity(4096);
    let (width, height) = (place(frame.width), place(frame.height));
    let _ = writeln!(
        out,
        r##"<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{}" height="{}" viewBox="0 0 {width} {height}" font-family="sans-serif" font-size="{}" fill="#000">"##,
        frame.stated.0,
        frame.stated.1,
        place(frame.font)
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&chart.title));
    let _ = writeln!(out, "<desc>{}</desc>", escaped(&told(chart)));
    let _ = writeln!(
        out,
        r##"<rect width="{width}" height="{height}" fill="#fff"/>"##
    );
    let mut drawn = Drawn::of(chart, frame);
    let mut spots = Vec::new();
    for band in &chart.bands {
        let spot = in_band(&mut drawn, frame, band);
        spots.push(spot.ok_or_else(|| too_long("name of a band", &band.name))?);
    }
    bands(&mut out, chart, frame);
    for Spot { area, .. } in &spots {
        // The hatch stops around the words; curves, drawn later, do not.
        let _ = writeln!(
            out,
            r##"<rect x="{}" y="{}" width="{}" height="{}" fill="#fff"/>"##,
            place(area.left - 2.0),
            place(area.top),
            place(area.width() + 2.0),
            place(area.height())
        );
    }
    for (lines, end) in &frame.inside {
        let spot = at_end(&mut drawn, frame, lines, *end);
        spots.push(spot.ok_or_else(|| too_long("name of a curve", &lines.join(" ")))?);
    }
    axes(&mut out, frame);
    marks(&mut out, chart, frame);
    curves(&mut out, chart, frame);
    words_inside(&mut out, frame, &spots);
    names(&mut out, frame);
    head(&mut out, frame);
    out.push_str("</svg>\n");
    Ok(out)
}

/// One line of words with its baseline at `y`.
fn words(out: &mut String, (x, y): (f64, f64), more: &str, text: &str) {
    let _ = writeln!(
        out,
        r#"<text x="{}" y="{}"{more}>{}</text>"#,
        place(x),
        place(y),
        escaped(text)
    );
}

fn stroke(out: &mut String, data: &str, width: &str, more: &str) {
    let _ = writeln!(
        out,
        r##"<path d="{data}" fill="none" stroke="#000" stroke-width="{width}"{more}/>"##
    );
}

fn bands(out: &mut String, chart: &Chart, frame: &Layout) {
    for (i, band) in chart.bands.iter().enumerate() {
        let area = frame.band(band);
        stroke(out, &hatch(&area, frame.font * 0.7, i % 2 == 0), "0.4", "");
        let edges = format!(
            "M{0} {2}H{1}M{0} {3}H{1}",
            place(area.left),
            place(area.right),
            place(area.top),
            place(area.bottom)
        );
        stroke(out, &edges, HAIRLINE, "");
    }
}

fn axes(out: &mut String, frame: &Layout) {
    let Area {
        left,
        top,
        right,
        bottom,
    } = frame.plot;
    let tick = frame.font * 0.35;
    let mut lines = format!(
        "M{} {}V{}H{}",
        place(left),
        place(top),
        place(bottom),
        place(right)
    );
    for (value, _) in &frame.x_ticks.at {
        let _ = write!(
            lines,
            "M{} {}v{}",
            place(frame.x(*value)),
            place(bottom),
            place(tick)
        );
    }
    for (value, _) in &frame.y_ticks.at {
        let _ = write!(
            lines,
            "M{} {}h{}",
            place(left),
            place(frame.y(*value)),
            place(-tick)
        );
    }
    stroke(out, &lines, HAIRLINE, "");
    let below = bottom + tick + frame.font;
    for (value, text) in &frame.x_ticks.at {
        words(
            out,
            (frame.x(*value), below),
            r#" text-anchor="middle""#,
            text,
        );
    }
    for (value, text) in &frame.y_ticks.at {
        let at = (left - tick * 1.6, frame.y(*value) + frame.font * 0.36);
        words(out, at, r#" text-anchor="end""#, text);
    }
    for (i, text) in frame.x_words.iter().enumerate() {
        let at = (
            (left + right) / 2.0,
            below + (i as f64 + 1.0) * frame.line(),
        );
        words(out, at, r#" text-anchor="middle""#, text);
    }
}

/// Baseline of the words of a mark in a row.
fn mark_baseline(frame: &Layout, row: usize) -> f64 {
    frame.plot.top - frame.font * 0.45 - row as f64 * frame.line()
}

fn marks(out: &mut String, chart: &Chart, frame: &Layout) {
    for (mark, flag) in chart.marks.iter().zip(&frame.flags) {
        let base = mark_baseline(frame, flag.row);
        let x = place(frame.x(mark.x));
        let top = place(base - frame.font * 0.75);
        stroke(
            out,
            &format!("M{x} {top}V{}", place(frame.plot.bottom)),
            "0.9",
            "",
        );
        words(out, (flag.left, base), HALO, &mark.label);
    }
}

fn curves(out: &mut String, chart: &Chart, frame: &Layout) {
    for curve in &chart.curves {
        let more = match curve.stroke {
            Stroke::Solid => r#" stroke-linejoin="round""#,
            Stroke::Dashed => r#" stroke-linejoin="round" stroke-dasharray="7 4""#,
            Stroke::Dotted => r#" stroke-linecap="round" stroke-dasharray="0.1 4""#,
            Stroke::DashDot => {
                r#" stroke-linecap="round" stroke-linejoin="round" stroke-dasharray="9 4.5 0.1 4.5""#
            }
        };
        // Dots read thinner than strokes of the same width.
        let width = if curve.stroke == Stroke::Dotted {
            "2.1"
        } else {
            "1.7"
        };
        stroke(out, &line(&frame.places(&curve.points)), width, more);
    }
    for set in &chart.measured {
        for at in frame.places(&set.points) {
            out.push_str(&point(set.shape, at, frame.font * 0.3));
            out.push('\n');
        }
    }
}

/// Words in the plot, and the dot that shows where a curve named there ends.
fn words_inside(out: &mut String, frame: &Layout, spots: &[Spot]) {
    // The names of curves come after those of the bands.
    let of_curves = spots.iter().rev().zip(frame.inside.iter().rev());
    for (spot, &(_, (x, y))) in of_curves {
        out.push_str(&point(Shape::Dot, (x, y), frame.font * 0.2));
        out.push('\n');
        let area = spot.area;
        let near = (
            x.clamp(area.left, area.right),
            y.clamp(area.top, area.bottom),
        );
        // A name close to its end needs no line to it.
        if (near.0 - x).hypot(near.1 - y) > frame.font * 0.8 {
            stroke(out, &line(&[(x, y), near]), "0.5", "");
        }
    }
    for spot in spots {
        let line = spot.area.height() / spot.lines.len().max(1) as f64;
        for (i, text) in spot.lines.iter().enumerate() {
            let middle = spot.area.top + (i as f64 + 0.5) * line;
            let base = middle + frame.font * 0.36;
            words(out, (spot.area.left, base), HALO, text);
        }
    }
}

fn names(out: &mut String, frame: &Layout) {
    let column = frame.plot.right + frame.gutter();
    for name in &frame.names {
        let (x, y) = name.end;
        if let Some(shape) = name.shape {
            let at = (column - frame.gutter() * 0.4, name.centre);
            out.push_str(&point(shape, at, frame.font * 0.3));
            out.push('\n');
        } else {
            let leader = [
                (x.max(frame.plot.right) + 2.0, y),
                (column - frame.font * 0.3, name.centre),
            ];
            stroke(out, &line(&leader), "0.5", "");
        }
        let count = name.lines.len() as f64;
        for (i, text) in name.lines.iter().enumerate() {
            let base =
                name.centre + (i as f64 - (count - 1.0) / 2.0) * frame.line() + frame.font * 0.36;
            words(out, (column, base), "", text);
        }
    }
}

fn head(out: &mut String, frame: &Layout) {
    let mut base = frame.edge;
    let size = frame.title_font();
    let bold = format!(r#" font-size="{}" font-weight="bold""#, place(size));
    for text in &frame.title {
        words(out, (frame.edge, base + size), &bold, text);
        base += frame.line() * size / frame.font;
    }
    for text in &frame.y_words {
        words(out, (frame.edge, base + frame.font), "", text);
        base += frame.line();
    }
}

/// The chart in words, for those who hear it.
fn told(chart: &Chart) -> String {
    let with = |value: f64, unit: &str| match unit {
        "" => spoken(value),
        "%" => format!("{} %", spoken(value)),
        _ => format!("{} {unit}", spoken(value)),
    };
    let x = |value: f64| with(value, &chart.x.unit);
    let y = |value: f64| with(value, &chart.y.unit);
    let at = |(px, py): (f64, f64)| format!("{} at {}", y(py), x(px));
    let mut text = format!(
        "Upwards {}, {} to {}; to the right {}, {} to {}.",
        chart.y.label,
        spoken(chart.y.from),
        y(chart.y.to),
        chart.x.label,
        spoken(chart.x.from),
        x(chart.x.to)
    );
    for curve in &chart.curves {
        let (Some(&first), Some(&last)) = (curve.points.first(), curve.points.last()) else {
            continue;
        };
        let _ = write!(
            text,
            " Curve {} ({}): from {}",
            curve.name,
            curve.stroke.words(),
            at(first)
        );
        let least = curve
            .points
            .iter()
            .copied()
            .min_by(|a, b| a.1.total_cmp(&b.1));
        let most = curve
            .points
            .iter()
            .copied()
            .max_by(|a, b| a.1.total_cmp(&b.1));
        for (word, extreme) in [("lowest", least), ("highest", most)] {
            // An end that is also the extreme is told once.
            if let Some(e) = extreme.filter(|e| e.1 != first.1 && e.1 != last.1) {
                let _ = write!(text, ", {word} {}", at(e));
            }
        }
        let _ = write!(text, ", to {}.", at(last));
    }
    for set in &chart.measured {
        let _ = write!(text, " Measured {} ({}): ", set.name, set.shape.words());
        let told: Vec<String> = set.points.iter().take(MOST_TOLD).map(|&p| at(p)).collect();
        text.push_str(&told.join(", "));
        if set.points.len() > MOST_TOLD {
            let _ = write!(text, ", and {} more", set.points.len() - MOST_TOLD);
        }
        text.push('.');
    }
    for band in &chart.bands {
        let _ = write!(
            text,
            " Band {}: {} to {}.",
            band.name,
            spoken(band.from_y),
            y(band.to_y)
        );
    }
    for mark in &chart.marks {
        let _ = write!(text, " Mark {}: {}.", mark.label, x(mark.x));
    }
    text
}
