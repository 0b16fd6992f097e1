//! A table: its head comes again on every page, its rows are not torn, numbers stand to the right.

use std::rc::Rc;

use sheets::model::{Cell, Table};

use super::cell::{Align, Set, text, weight};
use super::{Desk, lay, lay_centred, lay_right};
use crate::PressError;
use crate::face::{LEADING, Line, Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark, count};
use crate::paper::mm;

/// Beside what stands in a field.
const SIDE: f64 = 3.0;
/// Above and below it.
const OVER: f64 = 2.5;

/// A table as strips: the head, then a row each.
pub(super) fn strips(desk: &Desk<'_>, table: &Table) -> Result<Vec<Strip>, PressError> {
    if table.columns.is_empty() {
        return Err(desk.refuse("a table without columns".to_owned(), "at least one column"));
    }
    if let Some((i, row)) = table
        .rows
        .iter()
        .enumerate()
        .find(|(_, row)| row.len() != table.columns.len())
    {
        return Err(desk.refuse(
            format!(
                "row {} of a table has {} fields under {} heads",
                i + 1,
                row.len(),
                table.columns.len()
            ),
            "as many fields as heads in every row",
        ));
    }
    if let Some(column) = table
        .columns
        .iter()
        .find(|c| !(c.share.is_finite() && c.share > 0.0))
    {
        return Err(desk.refuse(
            format!(
                "the column \u{201c}{}\u{201d} has a share of {}",
                column.head, column.share
            ),
            "a share above 0",
        ));
    }
    let size = if fits(desk, table, desk.look.body) {
        desk.look.body
    } else {
        desk.look.small
    };
    let widths = widths(desk, table, size);
    let aligns: Vec<Align> = (0..table.columns.len())
        .map(|i| Align::of(table.rows.iter().filter_map(|row| row.get(i))))
        .collect();
    let head = Rc::new(head(desk, table, &widths, &aligns));
    if head.height > desk.room / 2.0 {
        return Err(desk.refuse(
            "heads of columns that fill half the page".to_owned(),
            "heads of a few words",
        ));
    }
    let mut strips = vec![(*head).clone().holding()];
    for row in &table.rows {
        let set: Vec<Set> = row
            .iter()
            .zip(&widths)
            .zip(&aligns)
            .map(|((cell, width), align)| Set::new(desk, cell, size, width - 2.0 * SIDE, *align))
            .collect();
        let lines_at_most =
            count(((desk.room - head.height - 2.0 * OVER) / (size * LEADING)).floor()).max(1)
                as usize;
        let most = set.iter().map(|s| s.lines.len()).max().unwrap_or(0);
        for piece in 0..most.div_ceil(lines_at_most).max(1) {
            let range = piece * lines_at_most..(piece + 1) * lines_at_most;
            strips.push(row_strip(desk, &set, &widths, range, size).again(&head));
        }
    }
    Ok(strips)
}

fn row_strip(
    desk: &Desk<'_>,
    set: &[Set],
    widths: &[f64],
    range: std::ops::Range<usize>,
    size: f64,
) -> Strip {
    let part = |s: &Set| {
        let lines = s
            .lines
            .get(range.start.min(s.lines.len())..range.end.min(s.lines.len()))
            .unwrap_or_default();
        if s.lines.is_empty() {
            s.least
        } else {
            height(lines)
        }
    };
    let inner = set.iter().map(part).fold(size * LEADING, f64::max);
    let high = inner + 2.0 * OVER;
    let mut marks = Vec::new();
    let mut x = 0.0;
    for (s, width) in set.iter().zip(widths) {
        // One line in a row that is high for writing stands in the middle of it.
        let top = if s.lines.len() <= 1 {
            OVER + (inner - part(s)) / 2.0
        } else {
            OVER
        };
        s.draw(
            desk,
            &mut marks,
            x + SIDE,
            top,
            width - 2.0 * SIDE,
            range.clone(),
        );
        x += width;
    }
    rules(&mut marks, widths, high);
    marks.push(Mark::line((0.0, high), (desk.width, high), 0.5));
    Strip::new(marks, high)
}

fn rules(marks: &mut Vec<Mark>, widths: &[f64], high: f64) {
    let mut x = 0.0;
    marks.push(Mark::line((0.0, 0.0), (0.0, high), 0.5));
    for width in widths {
        x += width;
        marks.push(Mark::line((x, 0.0), (x, high), 0.5));
    }
}

/// Heads; one whose longest word is wider than its column stands upright, if its column is wide enough for that.
fn head(desk: &Desk<'_>, table: &Table, widths: &[f64], aligns: &[Align]) -> Strip {
    let size = desk.look.small;
    let set: Vec<(bool, Vec<Rc<Line>>)> = table
        .columns
        .iter()
        .zip(widths)
        .map(|(column, width)| {
            let inner = width - 2.0 * SIDE + 0.01;
            let word = desk.faces.widest_word(&column.head, Weight::Bold, size);
            // So many upright lines go beside each other; each is as long as that asks for.
            let beside = (inner / (size * LEADING)).floor().max(1.0);
            let all = desk.faces.line(&column.head, Weight::Bold, size).width;
            let long = (all / beside * 1.25)
                .max(mm(18.0))
                .max(word)
                .min(desk.room / 3.0);
            let upright = desk.set(&column.head, Weight::Bold, size, long);
            if word > inner && height(&upright) <= width + 0.01 {
                (true, upright)
            } else {
                (false, desk.set(&column.head, Weight::Bold, size, inner))
            }
        })
        .collect();
    let high = set
        .iter()
        .map(|(upright, lines)| {
            if *upright {
                lines.iter().map(|l| l.width).fold(0.0, f64::max)
            } else {
                height(lines)
            }
        })
        .fold(0.0, f64::max)
        + 2.0 * OVER;
    let mut marks = Vec::new();
    let mut x = 0.0;
    for (((upright, lines), width), align) in set.iter().zip(widths).zip(aligns) {
        let top = high - OVER - height(lines);
        if *upright {
            let mut at = x + (width - height(lines)) / 2.0;
            for line in lines {
                marks.push(Mark::Text {
                    x: at + line.base(),
                    y: high - OVER,
                    line: Rc::clone(line),
                    ink: Ink::Black,
                    turned: true,
                });
                at += line.height();
            }
        } else {
            match align {
                Align::Left => lay(&mut marks, lines, x + SIDE, top),
                Align::Right => lay_right(&mut marks, lines, x + width - SIDE, top),
                Align::Middle => lay_centred(&mut marks, lines, x + width / 2.0, top),
            };
        }
        x += width;
    }
    rules(&mut marks, widths, high);
    marks.push(Mark::line((0.0, 0.0), (desk.width, 0.0), 1.2));
    marks.push(Mark::line((0.0, high), (desk.width, high), 1.2));
    Strip::new(marks, high)
}

/// The least width of each column: its widest word, with the heads lying or without them.
fn least(desk: &Desk<'_>, table: &Table, size: f64, heads: bool) -> Vec<f64> {
    table
        .columns
        .iter()
        .enumerate()
        .map(|(i, column)| {
            let fields = table.rows.iter().filter_map(|row| row.get(i));
            let words = fields
                .map(|cell| whole_word(desk, cell, size))
                .fold(0.0, f64::max);
            let head = if heads {
                desk.faces
                    .widest_word(&column.head, Weight::Bold, desk.look.small)
            } else {
                desk.look.small
            };
            // Half a point against rounding, so that the widest word is not broken by it.
            words.max(head).max(desk.look.tick) + 2.0 * SIDE + 0.5
        })
        .collect()
}

/// The widest part of a field that shall not be broken: a short number stays with its unit.
fn whole_word(desk: &Desk<'_>, cell: &Cell, size: f64) -> f64 {
    const SHORT: usize = 16;
    let number =
        matches!(cell, Cell::Number(_)) || text(cell).starts_with(|c: char| c.is_ascii_digit());
    if number && text(cell).chars().count() <= SHORT {
        desk.faces.line(text(cell), weight(cell), size).width
    } else {
        desk.faces.widest_word(text(cell), weight(cell), size)
    }
}

fn fits(desk: &Desk<'_>, table: &Table, size: f64) -> bool {
    least(desk, table, size, false).iter().sum::<f64>() <= desk.width
}

/// Widths after the shares asked for, but never under the widest word as long as the paper has room for all of them.
fn widths(desk: &Desk<'_>, table: &Table, size: f64) -> Vec<f64> {
    let lying = least(desk, table, size, true);
    let least = if lying.iter().sum::<f64>() <= desk.width {
        lying
    } else {
        least(desk, table, size, false)
    };
    let asked: f64 = least.iter().sum();
    if asked > desk.width {
        // Words will be broken. One long word shall not take the room of all others: no column asks for more than its even part twice over.
        #[allow(clippy::cast_precision_loss)] // columns of one paper
        let cap = 2.0 * desk.width / table.columns.len() as f64;
        let capped: Vec<f64> = least.iter().map(|l| l.min(cap)).collect();
        let sum: f64 = capped.iter().sum();
        return capped.iter().map(|l| l * desk.width / sum).collect();
    }
    let mut fixed = vec![false; least.len()];
    loop {
        let taken: f64 = least
            .iter()
            .zip(&fixed)
            .filter(|(_, f)| **f)
            .map(|(l, _)| l)
            .sum();
        let shares: f64 = table
            .columns
            .iter()
            .zip(&fixed)
            .filter(|(_, f)| !**f)
            .map(|(c, _)| c.share)
            .sum();
        let width = |i: usize| {
            table
                .columns
                .get(i)
                .map_or(0.0, |c| (desk.width - taken) * c.share / shares)
        };
        let short = (0..least.len()).find(|&i| !fixed[i] && width(i) < least[i]);
        match short {
            Some(i) => fixed[i] = true,
            None => {
                return (0..least.len())
                    .map(|i| if fixed[i] { least[i] } else { width(i) })
                    .collect();
            }
        }
    }
}
