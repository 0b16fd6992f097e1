//! Where everything stands: margins from the words they must hold, the plot in what is left.

use crate::chart::{Band, Chart, Shape, Size};
use crate::error::DrawingError;
use crate::labels::{Area, Flag, apart, flags};
use crate::text::{too_long, width_em, wrapped};
use crate::ticks::{Ticks, scale_words, ticks};

/// Height of a line of words, ems.
const LINE: f64 = 1.25;
/// Size of the title against other words.
const TITLE: f64 = 1.2;
/// Bold letters are wider than plain ones, about.
const BOLD: f64 = 1.12;
/// Least share of the height the plot must keep.
const LEAST_PLOT: f64 = 0.38;
/// Largest share of the width the names of curves may take.
const MOST_NAMES: f64 = 0.28;

/// A curve that stops at less than this share of the axis before its end is named right of the plot.
const NEAR_END: f64 = 0.02;

/// The name of a curve or of measured points, right of the plot.
#[derive(Debug)]
pub(crate) struct EndLabel {
    pub(crate) lines: Vec<String>,
    /// Height of the middle of the lines.
    pub(crate) centre: f64,
    /// Last point of what it names.
    pub(crate) end: (f64, f64),
    /// Shape of measured points; a curve has none.
    pub(crate) shape: Option<Shape>,
}

/// A chart laid out; lengths in CSS pixels from the top left corner.
#[derive(Debug)]
pub(crate) struct Layout {
    pub(crate) width: f64,
    pub(crate) height: f64,
    /// Width and height as the `svg` element states them.
    pub(crate) stated: (&'static str, &'static str),
    pub(crate) font: f64,
    pub(crate) edge: f64,
    pub(crate) plot: Area,
    pub(crate) title: Vec<String>,
    pub(crate) x_words: Vec<String>,
    pub(crate) y_words: Vec<String>,
    pub(crate) x_ticks: Ticks,
    pub(crate) y_ticks: Ticks,
    pub(crate) flags: Vec<Flag>,
    /// Names right of the plot.
    pub(crate) names: Vec<EndLabel>,
    /// Names of curves that end inside the plot, with the place of that end.
    pub(crate) inside: Vec<(Vec<String>, (f64, f64))>,
    x_axis: (f64, f64),
    y_axis: (f64, f64),
}

impl Layout {
    pub(crate) fn of(chart: &Chart, size: Size) -> Result<Self, DrawingError> {
        let (width, height, font, stated) = match size {
            Size::A5 => (480.0, 330.0, 11.0, ("128mm", "88mm")),
            Size::Screen => (720.0, 450.0, 14.0, ("720", "450")),
        };
        let edge = font * 0.5;
        let line = font * LINE;
        let lines_of = |what: &'static str, text: &str, room: f64| {
            wrapped(text, room / font).ok_or_else(|| too_long(what, text))
        };

        let y_ticks = ticks(chart.y.from, chart.y.to, |t| {
            t.at.len() as f64 * font * 1.6 <= height * 0.55
        });
        let widest = y_ticks
            .at
            .iter()
            .map(|(_, words)| width_em(words) * font)
            .fold(0.0, f64::max);
        let left = edge + widest + font * 0.7;

        let mut named = Vec::new();
        let mut ending = Vec::new();
        let ends = chart.x.to - NEAR_END * (chart.x.to - chart.x.from);
        let all = chart
            .curves
            .iter()
            .map(|c| (&c.name, &c.points, None))
            .chain(
                chart
                    .measured
                    .iter()
                    .map(|m| (&m.name, &m.points, Some(m.shape))),
            );
        for (name, points, shape) in all {
            let lines = lines_of("name of a curve", name, width * MOST_NAMES)?;
            let end = points.last().copied().unwrap_or((0.0, 0.0));
            if shape.is_none() && end.0 < ends {
                ending.push((lines, end));
            } else {
                named.push((lines, end, shape));
            }
        }
        let names_width = named
            .iter()
            .flat_map(|(lines, ..)| lines)
            .map(|l| width_em(l) * font)
            .fold(0.0, f64::max);
        // Without names there the column still takes half of the last tick's words.
        let right = width - edge - (names_width + gutter(font)).max(font * 2.0);

        let x_ticks = ticks(chart.x.from, chart.x.to, |t| {
            let words: f64 =
                t.at.iter()
                    .map(|(_, w)| width_em(w) * font + font * 1.2)
                    .sum();
            let widest =
                t.at.iter()
                    .map(|(_, w)| width_em(w) * font)
                    .fold(0.0, f64::max);
            words.max((widest + font * 0.8) * t.at.len() as f64) <= right - left
        });

        let title = wrapped(&chart.title, (width - 2.0 * edge) / (font * TITLE * BOLD))
            .ok_or_else(|| too_long("title", &chart.title))?;
        let whole = width - 2.0 * edge;
        let x_words = format!("{}{}", chart.x.words(), scale_words(x_ticks.scale));
        let x_words = lines_of("label of an axis", &x_words, right - left)?;
        let y_words = format!("{}{}", chart.y.words(), scale_words(y_ticks.scale));
        let y_words = lines_of("label of an axis", &y_words, whole)?;

        let x_axis = (chart.x.from, chart.x.to);
        let mut lines = Vec::with_capacity(chart.marks.len());
        for mark in &chart.marks {
            let words = width_em(&mark.label) * font;
            if words > whole {
                return Err(too_long("words of a mark", &mark.label));
            }
            lines.push((across(mark.x, x_axis, left, right), words));
        }
        let flags = flags(&lines, font * 0.3, width - edge);
        let rows = flags.iter().map(|f| f.row + 1).max().unwrap_or(0);

        let top = edge
            + title.len() as f64 * line * TITLE
            + y_words.len() as f64 * line
            + rows as f64 * line
            + font * 0.6;
        let bottom = height - edge - line * (x_words.len() as f64 + 1.0) - font * 0.4;
        if bottom - top < height * LEAST_PLOT {
            return Err(DrawingError::Crowded {
                title: chart.title.clone(),
                found: format!(
                    "{} marks and {} lines of title",
                    chart.marks.len(),
                    title.len()
                ),
                room: "lines above the plot",
            });
        }
        let plot = Area {
            left,
            top,
            right,
            bottom,
        };

        let y_axis = (chart.y.from, chart.y.to);
        let wanted: Vec<(f64, f64)> = named
            .iter()
            .map(|(lines, end, _)| {
                let height = lines.len() as f64 * line;
                (across(end.1, y_axis, bottom, top), height)
            })
            .collect();
        let centres = apart(&wanted, top - line / 2.0, bottom + line / 2.0).ok_or_else(|| {
            DrawingError::Crowded {
                title: chart.title.clone(),
                found: format!("{} names of curves and points", named.len()),
                room: "column right of the plot",
            }
        })?;
        let names = named
            .into_iter()
            .zip(centres)
            .map(|((lines, end, shape), centre)| EndLabel {
                lines,
                centre,
                end: (
                    across(end.0, x_axis, left, right),
                    across(end.1, y_axis, bottom, top),
                ),
                shape,
            })
            .collect();
        let inside = ending
            .into_iter()
            .map(|(lines, end)| {
                let place = (
                    across(end.0, x_axis, left, right),
                    across(end.1, y_axis, bottom, top),
                );
                (lines, place)
            })
            .collect();
        Ok(Self {
            width,
            height,
            stated,
            font,
            edge,
            plot,
            title,
            x_words,
            y_words,
            x_ticks,
            y_ticks,
            flags,
            names,
            inside,
            x_axis,
            y_axis,
        })
    }

    /// Height of a line of words.
    pub(crate) fn line(&self) -> f64 {
        self.font * LINE
    }

    /// Size of the letters of the title.
    pub(crate) fn title_font(&self) -> f64 {
        self.font * TITLE
    }

    /// Width between the plot and the names right of it.
    pub(crate) fn gutter(&self) -> f64 {
        gutter(self.font)
    }

    /// Place of a value of the axis running to the right.
    pub(crate) fn x(&self, value: f64) -> f64 {
        across(value, self.x_axis, self.plot.left, self.plot.right)
    }

    /// Place of a value of the axis running upwards.
    pub(crate) fn y(&self, value: f64) -> f64 {
        across(value, self.y_axis, self.plot.bottom, self.plot.top)
    }

    /// Area of a band.
    pub(crate) fn band(&self, band: &Band) -> Area {
        Area {
            top: self.y(band.to_y),
            bottom: self.y(band.from_y),
            ..self.plot
        }
    }

    /// Places of points.
    pub(crate) fn places(&self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points
            .iter()
            .map(|&(x, y)| (self.x(x), self.y(y)))
            .collect()
    }
}

fn gutter(font: f64) -> f64 {
    font * 1.5
}

fn across(value: f64, (from, to): (f64, f64), start: f64, end: f64) -> f64 {
    start + (value - from) / (to - from) * (end - start)
}
