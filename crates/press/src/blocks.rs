//! Every block of a sheet as strips of paper.

mod across;
mod bars;
mod cell;
mod code;
mod down;
mod plate;
mod steps;
mod stops;
mod table;
mod words;

use std::rc::Rc;

use sheets::model::{Bars, Block};

use crate::PressError;
use crate::face::{Faces, Line, Weight};
use crate::flow::Strip;
use crate::ink::Mark;
use crate::paper::Look;

pub(crate) use code::code_marks;

/// What a block is drawn with: the faces, the look of the paper, the width it has and the height of a whole page.
#[derive(Clone, Copy)]
pub(crate) struct Desk<'a> {
    /// The faces.
    pub(crate) faces: &'a Faces,
    /// The look of the paper.
    pub(crate) look: Look,
    /// The width of the column.
    pub(crate) width: f64,
    /// The height there is on a page that holds nothing else.
    pub(crate) room: f64,
    /// Name of the sheet, for what has to be refused.
    pub(crate) sheet: &'a str,
}

impl Desk<'_> {
    /// Text in lines of a width.
    pub(crate) fn set(&self, text: &str, weight: Weight, size: f64, width: f64) -> Vec<Rc<Line>> {
        self.faces.set(text, weight, size, width)
    }

    /// An error about this sheet.
    pub(crate) fn refuse(&self, found: String, expected: &str) -> PressError {
        PressError::Sheet {
            sheet: self.sheet.to_owned(),
            found,
            expected: expected.to_owned(),
        }
    }
}

/// Puts lines under each other; gives back where the next would start.
pub(crate) fn lay(marks: &mut Vec<Mark>, lines: &[Rc<Line>], x: f64, mut y: f64) -> f64 {
    for line in lines {
        marks.push(Mark::text(x, y + line.base(), Rc::clone(line)));
        y += line.height();
    }
    y
}

/// Puts lines under each other, ending at `right`.
pub(crate) fn lay_right(marks: &mut Vec<Mark>, lines: &[Rc<Line>], right: f64, mut y: f64) -> f64 {
    for line in lines {
        marks.push(Mark::text(
            right - line.width,
            y + line.base(),
            Rc::clone(line),
        ));
        y += line.height();
    }
    y
}

/// Puts lines under each other around `middle`.
pub(crate) fn lay_centred(
    marks: &mut Vec<Mark>,
    lines: &[Rc<Line>],
    middle: f64,
    mut y: f64,
) -> f64 {
    for line in lines {
        marks.push(Mark::text(
            middle - line.width / 2.0,
            y + line.base(),
            Rc::clone(line),
        ));
        y += line.height();
    }
    y
}

/// The blocks of a sheet as strips, in reading order. A day board takes what height the other blocks leave it on its page.
pub(crate) fn strips(desk: &Desk<'_>, blocks: &[Block]) -> Result<Vec<Strip>, PressError> {
    let mut parts: Vec<Part<'_>> = Vec::new();
    let mut rest = blocks;
    let mut new_page = false;
    let mut headed = false;
    while let Some(block) = rest.first() {
        let bigs = rest
            .iter()
            .take_while(|b| matches!(b, Block::Big { .. }))
            .count();
        let mut made = match block {
            Block::Big { .. } => words::bigs(desk, rest.get(..bigs).unwrap_or_default()),
            Block::Bars(bars) if bars.down => {
                parts.push(Part::Board(bars, new_page));
                new_page = false;
                rest = rest.get(1..).unwrap_or_default();
                continue;
            }
            other => one(desk, other)?,
        };
        rest = rest.get(bigs.max(1)..).unwrap_or_default();
        let was_headed = std::mem::replace(&mut headed, matches!(block, Block::Heading(_)));
        if matches!(block, Block::NewPage) {
            new_page = true;
        } else if let Some(first) = made.first_mut() {
            // What stands under its heading stands near it.
            first.above = if was_headed {
                desk.look.gap * 0.4
            } else {
                first.above.max(desk.look.gap)
            };
            first.new_page |= std::mem::take(&mut new_page);
        }
        parts.push(Part::Strips(made));
    }
    let others: f64 = parts
        .iter()
        .map(|p| {
            if let Part::Strips(s) = p {
                s.iter().map(|s| s.height + s.above).sum()
            } else {
                0.0
            }
        })
        .sum();
    let mut all = Vec::new();
    for part in parts {
        match part {
            Part::Strips(strips) => all.extend(strips),
            Part::Board(bars, new_page) => {
                // A board stands under what comes before it, and leaves room on its page for the little that comes after, if one page is enough.
                let before: f64 = all.iter().map(|s: &Strip| s.height + s.above).sum();
                let beside = |height: f64| {
                    (height <= desk.room / 3.0).then_some(desk.room - height - 2.0 * desk.look.gap)
                };
                let shared = match beside(others) {
                    Some(left) => down::strips(desk, bars, left)?,
                    None => Vec::new(),
                };
                let mut strips = if shared.len() == 1 {
                    shared
                } else {
                    down::strips(desk, bars, beside(before).unwrap_or(desk.room))?
                };
                if let Some(first) = strips.first_mut() {
                    first.new_page |= new_page;
                    first.above = desk.look.gap;
                }
                all.extend(strips);
            }
        }
    }
    Ok(all)
}

enum Part<'a> {
    Strips(Vec<Strip>),
    Board(&'a Bars, bool),
}

fn one(desk: &Desk<'_>, block: &Block) -> Result<Vec<Strip>, PressError> {
    Ok(match block {
        Block::Heading(text) => words::heading(desk, text),
        Block::Text(text) => words::text(desk, text),
        Block::Stops(words) => stops::strips(desk, words),
        Block::Caution(text) => words::caution(desk, text),
        Block::Facts(facts) => words::facts(desk, facts),
        Block::Table(table) => table::strips(desk, table)?,
        Block::Steps(steps) => steps::strips(desk, steps),
        Block::Ticks(lines) => words::ticks(desk, lines),
        Block::Lines { word, count } => words::lines(desk, word, *count),
        Block::Bars(bars) => across::strips(desk, bars)?,
        Block::Plate(plate) => plate::strips(desk, plate)?,
        Block::Code { holds, letters } => code::strips(desk, holds, letters)?,
        Block::Letter(letter) => words::letter(desk, letter),
        Block::Big { .. } | Block::NewPage => Vec::new(),
    })
}
