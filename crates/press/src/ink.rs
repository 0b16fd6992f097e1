//! What is put on paper: black or white, lines, areas and set text. No grey anywhere, so a poor copier loses nothing.

use std::rc::Rc;

use crate::face::Line;

/// Ink or bare paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Black.
    Black,
    /// White: paper colour, over something black.
    White,
}

/// A piece of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Pen {
    /// Lift and set down here.
    Move(f64, f64),
    /// A straight line to here.
    Line(f64, f64),
    /// A curve with two handles to here.
    Curve(f64, f64, f64, f64, f64, f64),
    /// Back to where the pen was set down.
    Close,
}

/// A stroke: width and, when broken, the length of dash and gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stroke {
    /// Width in points.
    pub(crate) width: f64,
    /// Dash and gap in points.
    pub(crate) dash: Option<f64>,
}

/// One thing on paper; y grows downward from the top edge.
#[derive(Debug, Clone)]
pub(crate) enum Mark {
    /// A line of text; `x`, `y` is where its base line starts. A turned line runs upward.
    Text {
        /// Start of the base line.
        x: f64,
        /// Base line.
        y: f64,
        /// What is set.
        line: Rc<Line>,
        /// Black, or white on black.
        ink: Ink,
        /// Runs upward instead of to the right.
        turned: bool,
    },
    /// An outline, filled, stroked or both.
    Shape {
        /// The outline.
        pens: Vec<Pen>,
        /// What it is filled with.
        fill: Option<Ink>,
        /// What it is stroked with, in black.
        stroke: Option<Stroke>,
    },
}

impl Mark {
    /// The same mark further right and further down.
    pub(crate) fn moved(self, dx: f64, dy: f64) -> Self {
        match self {
            Self::Text {
                x,
                y,
                line,
                ink,
                turned,
            } => Self::Text {
                x: x + dx,
                y: y + dy,
                line,
                ink,
                turned,
            },
            Self::Shape { pens, fill, stroke } => {
                let pens = pens
                    .into_iter()
                    .map(|pen| match pen {
                        Pen::Move(x, y) => Pen::Move(x + dx, y + dy),
                        Pen::Line(x, y) => Pen::Line(x + dx, y + dy),
                        Pen::Curve(a, b, c, d, x, y) => {
                            Pen::Curve(a + dx, b + dy, c + dx, d + dy, x + dx, y + dy)
                        }
                        Pen::Close => Pen::Close,
                    })
                    .collect();
                Self::Shape { pens, fill, stroke }
            }
        }
    }

    /// Text that starts at `x` with its base line at `y`.
    pub(crate) fn text(x: f64, y: f64, line: Rc<Line>) -> Self {
        Self::Text {
            x,
            y,
            line,
            ink: Ink::Black,
            turned: false,
        }
    }

    /// A straight black line.
    pub(crate) fn line(from: (f64, f64), to: (f64, f64), width: f64) -> Self {
        Self::Shape {
            pens: vec![Pen::Move(from.0, from.1), Pen::Line(to.0, to.1)],
            fill: None,
            stroke: Some(Stroke { width, dash: None }),
        }
    }

    /// A broken black line.
    pub(crate) fn dashed(from: (f64, f64), to: (f64, f64), width: f64, dash: f64) -> Self {
        Self::Shape {
            pens: vec![Pen::Move(from.0, from.1), Pen::Line(to.0, to.1)],
            fill: None,
            stroke: Some(Stroke {
                width,
                dash: Some(dash),
            }),
        }
    }

    /// A rectangle: filled, framed or both; a frame of width 0 is none.
    pub(crate) fn rect(x: f64, y: f64, w: f64, h: f64, fill: Option<Ink>, frame: f64) -> Self {
        Self::Shape {
            pens: vec![
                Pen::Move(x, y),
                Pen::Line(x + w, y),
                Pen::Line(x + w, y + h),
                Pen::Line(x, y + h),
                Pen::Close,
            ],
            fill,
            stroke: (frame > 0.0).then_some(Stroke {
                width: frame,
                dash: None,
            }),
        }
    }

    /// Straight lines through points, back to the first.
    pub(crate) fn polygon(points: &[(f64, f64)], fill: Option<Ink>, frame: f64) -> Self {
        let mut pens: Vec<Pen> = points
            .iter()
            .enumerate()
            .map(|(i, &(x, y))| {
                if i == 0 {
                    Pen::Move(x, y)
                } else {
                    Pen::Line(x, y)
                }
            })
            .collect();
        pens.push(Pen::Close);
        Self::Shape {
            pens,
            fill,
            stroke: (frame > 0.0).then_some(Stroke {
                width: frame,
                dash: None,
            }),
        }
    }

    /// Part of a circle as points, by hours of the clock face (0 at the top, clockwise), stroked.
    pub(crate) fn arc(
        middle: (f64, f64),
        radius: f64,
        from_hour: f64,
        to_hour: f64,
        width: f64,
    ) -> Self {
        // A chord each tenth of an hour strays from the circle by 0.03 % of the radius: not to be seen in print.
        let steps = ((to_hour - from_hour).abs() * 10.0).ceil().max(1.0);
        let pens = (0..=count(steps))
            .map(|i| {
                let hour = from_hour + (to_hour - from_hour) * f64::from(i) / steps;
                let (x, y) = on_clock(middle, radius, hour);
                if i == 0 {
                    Pen::Move(x, y)
                } else {
                    Pen::Line(x, y)
                }
            })
            .collect();
        Self::Shape {
            pens,
            fill: None,
            stroke: Some(Stroke { width, dash: None }),
        }
    }

    /// A circle, filled, framed or both.
    pub(crate) fn circle(middle: (f64, f64), radius: f64, fill: Option<Ink>, frame: f64) -> Self {
        // The handle length at which four curves meet a circle best; error under 0.03 % of the radius.
        const HANDLE: f64 = 0.552_284_75;
        let ((cx, cy), r, k) = (middle, radius, radius * HANDLE);
        Self::Shape {
            pens: vec![
                Pen::Move(cx + r, cy),
                Pen::Curve(cx + r, cy + k, cx + k, cy + r, cx, cy + r),
                Pen::Curve(cx - k, cy + r, cx - r, cy + k, cx - r, cy),
                Pen::Curve(cx - r, cy - k, cx - k, cy - r, cx, cy - r),
                Pen::Curve(cx + k, cy - r, cx + r, cy - k, cx + r, cy),
                Pen::Close,
            ],
            fill,
            stroke: (frame > 0.0).then_some(Stroke {
                width: frame,
                dash: None,
            }),
        }
    }

    /// A star of five points, the sign of service.
    pub(crate) fn star(middle: (f64, f64), radius: f64) -> Self {
        // A five-pointed star drawn through has its inner corners at 0.382 of the radius.
        const INNER: f64 = 0.382;
        let points: Vec<(f64, f64)> = (0..10)
            .map(|i| {
                on_clock(
                    middle,
                    if i % 2 == 0 { radius } else { radius * INNER },
                    f64::from(i) * 1.2,
                )
            })
            .collect();
        Self::polygon(&points, Some(Ink::Black), 0.0)
    }

    /// Slanting lines over a rectangle: an area that survives a copier where grey would not.
    pub(crate) fn hatch(x: f64, y: f64, w: f64, h: f64, step: f64, width: f64) -> Self {
        let mut pens = Vec::new();
        let mut k = step;
        while k < w + h {
            // The line x + y = k, cut to the rectangle.
            let start = if k <= h { (0.0, k) } else { (k - h, h) };
            let end = if k <= w { (k, 0.0) } else { (w, k - w) };
            pens.push(Pen::Move(x + start.0, y + start.1));
            pens.push(Pen::Line(x + end.0, y + end.1));
            k += step;
        }
        Self::Shape {
            pens,
            fill: None,
            stroke: Some(Stroke { width, dash: None }),
        }
    }
}

/// A point on a clock face: hour 0 at the top, clockwise.
pub(crate) fn on_clock(middle: (f64, f64), radius: f64, hour: f64) -> (f64, f64) {
    let angle = hour / 12.0 * std::f64::consts::TAU;
    (
        middle.0 + radius * angle.sin(),
        middle.1 - radius * angle.cos(),
    )
}

/// A small whole number held as a float, as a count.
pub(crate) fn count(whole: f64) -> u32 {
    whole.clamp(0.0, 1.0e6) as u32
}
