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
    Left,
    Right,
    Middle,
    Box,
    Empty,
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
    pub(super) fn new(desk: &Desk<'_>, cell: &Cell, size: f64, width: f64) -> Self {
        let look = &desk.look;
        let (kind, lines, least) = match cell {
            Cell::Text(text) | Cell::Strong(text) => {
                (Kind::Left, desk.set(text, weight(cell), size, width), 0.0)
            }
            Cell::Number(text) => (
                Kind::Right,
                desk.set(text, Weight::Regular, size, width),
                0.0,
            ),
            Cell::Nothing => (
                Kind::Middle,
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
            Kind::Left => drop(lay(marks, part, x, y)),
            Kind::Right => drop(lay_right(marks, part, x + width, y)),
            Kind::Middle => drop(lay_centred(marks, part, x + width / 2.0, y)),
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
