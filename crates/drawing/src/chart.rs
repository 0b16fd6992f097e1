//! The parts of a chart, as the caller states them, and what makes them drawable.

use crate::error::DrawingError;
use crate::{layout, render, text};

/// One chart: curves over two axes, with bands, marks and measured points.
///
/// # Example
/// ```
/// use drawing::{Axis, Chart, Curve, Size, Stroke};
/// let chart = Chart {
///     title: "Weight while drying".into(),
///     x: Axis::new("days hung", "d", 0.0, 20.0),
///     y: Axis::new("weight left", "%", 60.0, 100.0),
///     curves: vec![Curve {
///         name: "breast".into(),
///         points: vec![(0.0, 100.0), (10.0, 80.0), (20.0, 65.0)],
///         stroke: Stroke::Solid,
///     }],
///     bands: vec![],
///     marks: vec![],
///     measured: vec![],
/// };
/// assert!(chart.svg(Size::A5)?.starts_with("<svg "));
/// # Ok::<(), drawing::DrawingError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// What the chart shows, in a line or two.
    pub title: String,
    /// The axis running to the right.
    pub x: Axis,
    /// The axis running upwards.
    pub y: Axis,
    /// Computed curves; each is named at its end.
    pub curves: Vec<Curve>,
    /// Stretches of the upright axis, such as a goal.
    pub bands: Vec<Band>,
    /// Places on the axis running to the right, such as earliest, best and latest.
    pub marks: Vec<Mark>,
    /// What was measured, as points with a shape.
    pub measured: Vec<Measured>,
}

/// An axis: what runs along it, its unit, and both ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What is measured, in the trade's word.
    pub label: String,
    /// Its unit; empty for a plain number.
    pub unit: String,
    /// Value at the start, in `unit`.
    pub from: f64,
    /// Value at the end, in `unit`; above `from`.
    pub to: f64,
}

impl Axis {
    /// An axis with both ends given.
    #[must_use]
    pub fn new(label: &str, unit: &str, from: f64, to: f64) -> Self {
        Self {
            label: label.to_owned(),
            unit: unit.to_owned(),
            from,
            to,
        }
    }

    /// An axis that begins and ends on round numbers around the values it must hold.
    ///
    /// Equal values get a stretch around them, so that a level curve is drawn mid-height.
    ///
    /// # Errors
    /// No values, or one that is not finite.
    pub fn around(
        label: &str,
        unit: &str,
        values: impl IntoIterator<Item = f64>,
    ) -> Result<Self, DrawingError> {
        let (mut low, mut high, mut count) = (f64::INFINITY, f64::NEG_INFINITY, 0_usize);
        for value in values {
            count += 1;
            if !value.is_finite() {
                return Err(DrawingError::NotFinite {
                    what: format!("axis \"{label}\""),
                    found: value,
                    index: count,
                });
            }
            (low, high) = (low.min(value), high.max(value));
        }
        if count == 0 {
            return Err(DrawingError::TooFewPoints {
                name: label.to_owned(),
                found: 0,
                least: 1,
                do_now: "give the axis the values it is to hold, or both its ends",
            });
        }
        if high <= low {
            let half = if low == 0.0 { 1.0 } else { low.abs() * 0.1 };
            (low, high) = (low - half, high + half);
        }
        let step = crate::ticks::Step::at_most((high - low) / 5.0);
        let (from, to) = step.around(low, high);
        Ok(Self::new(label, unit, from, to))
    }

    /// Label and unit as printed.
    pub(crate) fn words(&self) -> String {
        if self.unit.is_empty() {
            self.label.clone()
        } else {
            format!("{} ({})", self.label, self.unit)
        }
    }

    fn check(&self, what: &'static str) -> Result<Self, DrawingError> {
        let axis = Self {
            label: text::words(what, &self.label)?,
            unit: text::words_or_none("unit of an axis", &self.unit)?,
            ..*self
        };
        let stretch = axis.to - axis.from;
        let fine = stretch.is_finite()
            && stretch > 1e-9 * axis.from.abs().max(axis.to.abs())
            && stretch > f64::MIN_POSITIVE * 1e9;
        if fine {
            Ok(axis)
        } else {
            Err(DrawingError::NoStretch {
                axis: axis.label,
                from: axis.from,
                to: axis.to,
            })
        }
    }

    fn holds(&self, what: &str, index: usize, found: f64) -> Result<(), DrawingError> {
        if !found.is_finite() {
            return Err(DrawingError::NotFinite {
                what: what.to_owned(),
                found,
                index,
            });
        }
        // A caller that computes its last point as a sum of steps may miss the end by a rounding error.
        let slack = 1e-9 * (self.to - self.from);
        if found < self.from - slack || found > self.to + slack {
            return Err(DrawingError::OutsideAxis {
                what: what.to_owned(),
                found,
                axis: self.label.clone(),
                from: self.from,
                to: self.to,
            });
        }
        Ok(())
    }
}

/// A computed curve, named at its last point.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// What it is, in words.
    pub name: String,
    /// Its points, in the order they are joined; at least two.
    pub points: Vec<(f64, f64)>,
    /// How its line is drawn.
    pub stroke: Stroke,
}

/// How a line is drawn; told apart on any copier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    /// An unbroken line.
    Solid,
    /// Long strokes.
    Dashed,
    /// Round dots.
    Dotted,
    /// A stroke, a dot.
    DashDot,
}

impl Stroke {
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Solid => "solid line",
            Self::Dashed => "dashed line",
            Self::Dotted => "dotted line",
            Self::DashDot => "dash and dot line",
        }
    }
}

/// A stretch of the upright axis, drawn as a light hatch with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// What it is, in words: "goal".
    pub name: String,
    /// Lower edge, in the unit of the upright axis.
    pub from_y: f64,
    /// Upper edge, above the lower.
    pub to_y: f64,
}

/// A place on the axis running to the right, drawn as an upright line with words above it.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Where, in the axis's unit.
    pub x: f64,
    /// The words: "earliest".
    pub label: String,
}

/// Measured points, named once beside the last.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// What was measured, in words.
    pub name: String,
    /// The points; at least one.
    pub points: Vec<(f64, f64)>,
    /// The shape that stands for them.
    pub shape: Shape,
}

/// The shape of a measured point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// An open circle.
    Circle,
    /// An open square.
    Square,
    /// An open triangle, point up.
    Triangle,
    /// An open square on its corner.
    Diamond,
    /// A cross of two slanting strokes.
    Cross,
    /// A filled circle.
    Dot,
}

impl Shape {
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Circle => "circles",
            Self::Square => "squares",
            Self::Triangle => "triangles",
            Self::Diamond => "diamonds",
            Self::Cross => "crosses",
            Self::Dot => "dots",
        }
    }
}

/// What the chart is drawn for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// The width of a sheet of A5 between its margins: 128 mm by 88 mm, words of 8 point.
    A5,
    /// 720 by 450 CSS pixels; a page may scale it, nothing in it has a fixed size.
    Screen,
}

impl Chart {
    /// The chart as the text of one `<svg>` element, in UTF-8, without an XML declaration: it may
    /// stand in a file by itself or inside a page.
    ///
    /// Lengths in the text are CSS pixels with two decimals. A point is dropped from a line when
    /// that moves the line by less than 0.03 of one.
    ///
    /// # Errors
    /// No curve and no point; a curve of fewer than two points; a value that is not finite or lies
    /// outside its axis; missing, unprintable or too long words; more words than there is room for.
    pub fn svg(&self, size: Size) -> Result<String, DrawingError> {
        let chart = self.checked()?;
        let frame = layout::Layout::of(&chart, size)?;
        render::svg(&chart, &frame)
    }

    /// The same chart with its words in one line each, once everything in it can be drawn.
    fn checked(&self) -> Result<Self, DrawingError> {
        let title = text::words("title", &self.title)?;
        let x = self.x.check("axis running to the right")?;
        let y = self.y.check("axis running upwards")?;
        if self.curves.is_empty() && self.measured.is_empty() {
            return Err(DrawingError::Empty { title });
        }
        let all_hold = |name: &str, points: &[(f64, f64)]| {
            points.iter().enumerate().try_for_each(|(i, &(px, py))| {
                x.holds(name, i + 1, px)?;
                y.holds(name, i + 1, py)
            })
        };
        let mut curves = Vec::with_capacity(self.curves.len());
        for curve in &self.curves {
            let name = text::words("name of a curve", &curve.name)?;
            if curve.points.len() < 2 {
                return Err(DrawingError::TooFewPoints {
                    name,
                    found: curve.points.len(),
                    least: 2,
                    do_now: "compute more of the curve, or draw a single value as a measured point",
                });
            }
            all_hold(&name, &curve.points)?;
            curves.push(Curve {
                name,
                ..curve.clone()
            });
        }
        let mut measured = Vec::with_capacity(self.measured.len());
        for set in &self.measured {
            let name = text::words("name of measured points", &set.name)?;
            if set.points.is_empty() {
                return Err(DrawingError::TooFewPoints {
                    name,
                    found: 0,
                    least: 1,
                    do_now: "leave the set out until something is measured",
                });
            }
            all_hold(&name, &set.points)?;
            measured.push(Measured {
                name,
                ..set.clone()
            });
        }
        let mut bands = Vec::with_capacity(self.bands.len());
        for band in &self.bands {
            let name = text::words("name of a band", &band.name)?;
            y.holds(&name, 1, band.from_y)?;
            y.holds(&name, 2, band.to_y)?;
            if band.to_y <= band.from_y {
                return Err(DrawingError::NoBand {
                    name,
                    from_y: band.from_y,
                    to_y: band.to_y,
                });
            }
            bands.push(Band { name, ..*band });
        }
        let mut marks = Vec::with_capacity(self.marks.len());
        for mark in &self.marks {
            let label = text::words("words of a mark", &mark.label)?;
            x.holds(&label, 1, mark.x)?;
            marks.push(Mark { label, ..*mark });
        }
        // From left to right, whatever the order given: the reader's order, in print and aloud.
        marks.sort_by(|a, b| a.x.total_cmp(&b.x));
        Ok(Self {
            title,
            x,
            y,
            curves,
            bands,
            marks,
            measured,
        })
    }
}
