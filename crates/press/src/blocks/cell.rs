//! A field of a table or beside a word.

use std::rc::Rc;

use sheets::model::Cell;

use super::{Desk, lay, lay_centred, lay_right};
use crate::face::{Line, Weight, height};
use crate::ink::Mark;

/// What stands in a field, set to its width.
pub(super) struct Set {
    kind: Kind,
    /// Its lines; empty when nothing is written.
    pub(super) lines: Vec<Rc<Line>>,
    /// How high it is at least.
    pub(super) least: f64,
}

#[derive(Clone, Copy)]
enum Kind {
    Written(Align),
    Box,
    Empty,
}

/// How what is written stands in its field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
    /// Signs.
    Middle,
}

impl Align {
    /// How a column stands: numbers to the right, single signs in the middle, words to the left.
    pub(super) fn of<'a>(cells: impl Iterator<Item = &'a Cell> + Clone) -> Self {
        let written = || cells.clone().filter(|c| !text(c).is_empty());
        if written().next().is_none() {
            return if cells.clone().any(|c| *c == Cell::Tick) {
                Self::Middle
            } else {
                Self::Left
            };
        }
        let number = |c: &Cell| {
            matches!(c, Cell::Number(_))
                || matches!(c, Cell::Strong(t) if t.starts_with(|f: char| f.is_ascii_digit()))
        };
        if written().all(number) {
            Self::Right
        } else if written().all(|c| text(c).chars().count() <= 4) {
            Self::Middle
        } else {
            Self::Left
        }
    }
}

/// The weight a field is set in.
pub(super) fn weight(cell: &Cell) -> Weight {
    if matches!(cell, Cell::Strong(_)) {
        Weight::Bold
    } else {
        Weight::Regular
    }
}

/// The text of a field, when it has one.
pub(super) fn text(cell: &Cell) -> &str {
    match cell {
        Cell::Text(text) | Cell::Number(text) | Cell::Strong(text) => text,
        Cell::WriteIn | Cell::Tick | Cell::Nothing => "",
    }
}

impl Set {
    /// Sets a field.
    pub(super) fn new(desk: &Desk<'_>, cell: &Cell, size: f64, width: f64, align: Align) -> Self {
        let look = &desk.look;
        let (kind, lines, least) = match cell {
            Cell::Text(text) | Cell::Strong(text) => (
                Kind::Written(align),
                desk.set(text, weight(cell), size, width),
                0.0,
            ),
            Cell::Number(text) => (
                Kind::Written(Align::Right),
                desk.set(text, Weight::Regular, size, width),
                0.0,
            ),
            Cell::Nothing => (
                Kind::Written(Align::Middle),
                desk.set("–", Weight::Regular, size, width),
                0.0,
            ),
            Cell::WriteIn => (Kind::Empty, Vec::new(), look.write),
            Cell::Tick => (Kind::Box, Vec::new(), look.tick),
        };
        let least = least.max(height(&lines));
        Self { kind, lines, least }
    }

    /// Draws the lines `from..to` of the field into a width, from `y` down.
    pub(super) fn draw(
        &self,
        desk: &Desk<'_>,
        marks: &mut Vec<Mark>,
        x: f64,
        y: f64,
        width: f64,
        lines: std::ops::Range<usize>,
    ) {
        let part = self
            .lines
            .get(lines.start.min(self.lines.len())..lines.end.min(self.lines.len()))
            .unwrap_or_default();
        match self.kind {
            Kind::Written(Align::Left) => drop(lay(marks, part, x, y)),
            Kind::Written(Align::Right) => drop(lay_right(marks, part, x + width, y)),
            Kind::Written(Align::Middle) => drop(lay_centred(marks, part, x + width / 2.0, y)),
            Kind::Box if lines.start == 0 => {
                let side = desk.look.tick;
                marks.push(Mark::rect(
                    x + (width - side) / 2.0,
                    y,
                    side,
                    side,
                    None,
                    1.0,
                ));
            }
            Kind::Box | Kind::Empty => {}
        }
    }
}
