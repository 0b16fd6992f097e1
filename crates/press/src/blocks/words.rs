//! Headings, running text, cautions, large numbers, facts, lines to tick and to write on.

use std::rc::Rc;

use sheets::model::{Block, Cell};

use super::cell::{Align, Set};
use super::{Desk, lay};
use crate::face::{Line, Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark};
use crate::paper::mm;

/// A heading over a hair line; it holds what follows.
pub(super) fn heading(desk: &Desk<'_>, text: &str) -> Vec<Strip> {
    let lines = desk.set(text, Weight::Bold, desk.look.heading, desk.width);
    let mut marks = Vec::new();
    let bottom = lay(&mut marks, &lines, 0.0, 0.0);
    vec![
        Strip::new(marks, bottom)
            .under(desk.look.gap * 1.5)
            .holding(),
    ]
}

/// Running text: lines that may go to the next page, but not one of them alone.
pub(super) fn text(desk: &Desk<'_>, text: &str) -> Vec<Strip> {
    running(&desk.set(text, Weight::Regular, desk.look.body, desk.width))
}

fn running(lines: &[Rc<Line>]) -> Vec<Strip> {
    let last = lines.len().saturating_sub(1);
    lines
        .iter()
        .enumerate()
        .map(|(i, line)| {
            let strip = Strip::new(
                vec![Mark::text(0.0, line.base(), Rc::clone(line))],
                line.height(),
            );
            if last > 0 && (i == 0 || i + 1 == last) {
                strip.holding()
            } else {
                strip
            }
        })
        .collect()
}

/// A caution: framed, with a triangle beside it, in bold.
pub(super) fn caution(desk: &Desk<'_>, text: &str) -> Vec<Strip> {
    let look = &desk.look;
    let (pad, frame) = (look.body * 0.5, 1.6);
    let sign = look.body * 1.9;
    let lines = desk.set(
        text,
        Weight::Bold,
        look.body,
        desk.width - sign - 3.0 * pad - frame,
    );
    let per_line = look.body * crate::face::LEADING;
    let at_most = crate::ink::count(((desk.room - 2.0 * pad) / per_line).floor()).max(1) as usize;
    lines
        .chunks(at_most)
        .map(|chunk| {
            let inner = height(chunk).max(sign);
            let mut marks = vec![Mark::rect(
                frame / 2.0,
                frame / 2.0,
                desk.width - frame,
                inner + 2.0 * pad - frame,
                None,
                frame,
            )];
            let (left, top) = (pad + frame / 2.0, pad + (inner - sign) / 2.0);
            marks.extend(warning(left, top, sign));
            lay(
                &mut marks,
                chunk,
                left + sign + pad,
                pad + (inner - height(chunk)) / 2.0,
            );
            Strip::new(marks, inner + 2.0 * pad)
        })
        .collect()
}

/// The sign of a caution: a triangle with an exclamation mark, drawn and not a letter, so that no face can be without it.
fn warning(x: f64, y: f64, side: f64) -> Vec<Mark> {
    let middle = x + side / 2.0;
    let height = side * 0.9;
    vec![
        Mark::polygon(
            &[(middle, y), (x + side, y + height), (x, y + height)],
            Some(Ink::Black),
            0.0,
        ),
        Mark::rect(
            middle - side * 0.05,
            y + height * 0.34,
            side * 0.1,
            height * 0.34,
            Some(Ink::White),
            0.0,
        ),
        Mark::circle(
            (middle, y + height * 0.82),
            side * 0.06,
            Some(Ink::White),
            0.0,
        ),
    ]
}

/// Text set in lines.
type Lines = Vec<Rc<Line>>;

/// Large numbers beside each other, as many as the paper takes.
pub(super) fn bigs(desk: &Desk<'_>, blocks: &[Block]) -> Vec<Strip> {
    /// Under this a number cannot be read from across the room.
    const LEAST: f64 = 24.0;
    let look = &desk.look;
    let pairs: Vec<(&str, &str)> = blocks
        .iter()
        .filter_map(|b| {
            if let Block::Big { word, number } = b {
                Some((word.as_str(), number.as_str()))
            } else {
                None
            }
        })
        .collect();
    let across = crate::ink::count((desk.width / (look.big * 4.6)).floor()).clamp(1, 4) as usize;
    let across = across.min(pairs.len()).max(1);
    // A label has no room for a frame, and its edge is one.
    let framed = desk.width > mm(75.0);
    let pad = if framed { look.body * 0.45 } else { 0.0 };
    let number_rise = if framed { pad * 0.2 } else { look.big * 0.16 };
    #[allow(clippy::cast_precision_loss)] // at most four
    let width = (desk.width - look.gap * (across - 1) as f64) / across as f64;
    let inner = width - 2.0 * pad;
    pairs
        .chunks(across)
        .enumerate()
        .flat_map(|(row, chunk)| {
            let set: Vec<(Lines, Lines)> = chunk
                .iter()
                .map(|(word, number)| {
                    let wide = desk.faces.line(number, Weight::Bold, look.big).width;
                    let size = if wide > inner {
                        (look.big * inner / wide).max(LEAST)
                    } else {
                        look.big
                    };
                    (
                        desk.set(word, Weight::Regular, look.body, inner),
                        desk.set(number, Weight::Bold, size, inner),
                    )
                })
                .collect();
            let high = set
                .iter()
                .map(|(w, n)| height(w) + height(n))
                .fold(0.0, f64::max)
                + if framed { pad * 1.2 } else { -number_rise };
            if high > desk.room {
                // Words without end where a number should be: told line by line rather than lost.
                return set
                    .iter()
                    .flat_map(|(word, number)| running(word).into_iter().chain(running(number)))
                    .collect();
            }
            if let (true, [(word, number)]) = (framed, set.as_slice())
                && let ([word], [number]) = (word.as_slice(), number.as_slice())
                && word.width + number.width + 4.0 * pad < width
            {
                // One alone: its word on the line of its number.
                let high = number.height() + pad * 0.6;
                let base = pad * 0.3 + number.base();
                return vec![
                    Strip::new(
                        vec![
                            Mark::rect(0.5, 0.5, width - 1.0, high - 1.0, None, 1.0),
                            Mark::text(pad, base, Rc::clone(word)),
                            Mark::text(width - pad - number.width, base, Rc::clone(number)),
                        ],
                        high,
                    )
                    .under(if row > 0 { look.gap } else { 0.0 }),
                ];
            }
            let mut marks = Vec::new();
            let mut x = 0.0;
            for (word, number) in &set {
                if framed {
                    marks.push(Mark::rect(x + 0.5, 0.5, width - 1.0, high - 1.0, None, 1.0));
                }
                let y = lay(&mut marks, word, x + pad, pad * 0.5);
                lay(&mut marks, number, x + pad, y - number_rise);
                x += width + look.gap;
            }
            vec![Strip::new(marks, high).under(if row > 0 { look.gap } else { 0.0 })]
        })
        .collect()
}

/// Words with their values; on wide paper in two columns, the second going on where the first ends.
pub(super) fn facts(desk: &Desk<'_>, facts: &[(String, Cell)]) -> Vec<Strip> {
    if desk.width < mm(170.0) || facts.len() < 4 {
        return column_of_facts(desk, facts);
    }
    let between = desk.look.gap * 2.0;
    let half = Desk {
        width: (desk.width - between) / 2.0,
        ..*desk
    };
    let (left, right) = facts.split_at(facts.len().div_ceil(2));
    let (left, right) = (column_of_facts(&half, left), column_of_facts(&half, right));
    let rows = left.len().max(right.len());
    let mut rights = right.into_iter();
    let mut rows_of_both: Vec<Strip> = Vec::with_capacity(rows);
    for mut strip in left {
        if let Some(mut other) = rights.next() {
            strip.height = strip.height.max(other.height);
            // The line under each goes down to the higher of both.
            let at = strip.height;
            for marks in [&mut strip.marks, &mut other.marks] {
                marks.pop();
                marks.push(Mark::line((0.0, at), (half.width, at), 0.4));
            }
            strip.marks.extend(
                other
                    .marks
                    .into_iter()
                    .map(|m| m.moved(half.width + between, 0.0)),
            );
        }
        rows_of_both.push(strip);
    }
    for mut other in rights {
        other.marks = other
            .marks
            .into_iter()
            .map(|m| m.moved(half.width + between, 0.0))
            .collect();
        rows_of_both.push(other);
    }
    rows_of_both
}

fn column_of_facts(desk: &Desk<'_>, facts: &[(String, Cell)]) -> Vec<Strip> {
    let look = &desk.look;
    let label = desk.width < mm(75.0);
    let pad = look.body * if label { 0.12 } else { 0.22 };
    let between = look.body * 0.8;
    let words = facts
        .iter()
        .map(|(word, _)| desk.faces.line(word, Weight::Regular, look.body).width)
        .fold(0.0, f64::max);
    // A little over, so that rounding breaks no word.
    let left = (words + 0.5).min(desk.width * if label { 0.58 } else { 0.45 });
    let right = desk.width - left - between;
    facts
        .iter()
        .flat_map(|(word, cell)| {
            let word = desk.set(word, Weight::Regular, look.body, left);
            // What is stated stands out against what it is called; a number beside its word is read from the left.
            let cell = match cell {
                Cell::Text(t) | Cell::Number(t) | Cell::Strong(t) => Cell::Strong(t.clone()),
                other => other.clone(),
            };
            let value = Set::new(desk, &cell, look.body, right, Align::Left);
            let per_page =
                crate::ink::count((desk.room / (look.body * crate::face::LEADING) - 1.0).floor())
                    .max(1) as usize;
            let pieces = word.len().max(value.lines.len()).div_ceil(per_page).max(1);
            (0..pieces)
                .map(|piece| {
                    let range = piece * per_page..(piece + 1) * per_page;
                    let words = word
                        .get(range.start.min(word.len())..range.end.min(word.len()))
                        .unwrap_or_default();
                    let values = value
                        .lines
                        .get(range.start.min(value.lines.len())..range.end.min(value.lines.len()))
                        .unwrap_or_default();
                    let least = if value.lines.is_empty() {
                        value.least
                    } else {
                        0.0
                    };
                    let high = height(words).max(height(values)).max(least) + 2.0 * pad;
                    let mut marks = Vec::new();
                    lay(&mut marks, words, 0.0, pad);
                    match cell {
                        Cell::Tick => marks.push(Mark::rect(
                            left + between,
                            (high - look.tick) / 2.0,
                            look.tick,
                            look.tick,
                            None,
                            1.0,
                        )),
                        _ => value.draw(desk, &mut marks, left + between, pad, right, range),
                    }
                    marks.push(Mark::line((0.0, high), (desk.width, high), 0.4));
                    Strip::new(marks, high)
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Lines to tick.
pub(super) fn ticks(desk: &Desk<'_>, lines: &[String]) -> Vec<Strip> {
    let look = &desk.look;
    let pad = look.body * 0.25;
    let indent = look.tick + look.body * 0.7;
    lines
        .iter()
        .flat_map(|text| {
            let set = desk.set(text, Weight::Regular, look.body, desk.width - indent);
            let per_page =
                crate::ink::count((desk.room / (look.body * crate::face::LEADING) - 1.0).floor())
                    .max(1) as usize;
            set.chunks(per_page)
                .enumerate()
                .map(|(i, chunk)| {
                    let high = height(chunk).max(look.tick);
                    let mut marks = Vec::new();
                    if i == 0 {
                        let first = chunk.first().map_or(0.0, |l| l.height());
                        marks.push(Mark::rect(
                            0.5,
                            pad + (first - look.tick) / 2.0,
                            look.tick,
                            look.tick,
                            None,
                            1.0,
                        ));
                    }
                    lay(&mut marks, chunk, indent, pad);
                    Strip::new(marks, high + 2.0 * pad)
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Empty lines to write on, under a word.
pub(super) fn lines(desk: &Desk<'_>, word: &str, count: usize) -> Vec<Strip> {
    let look = &desk.look;
    let set = desk.set(word, Weight::Bold, look.body, desk.width);
    let mut marks = Vec::new();
    let bottom = lay(&mut marks, &set, 0.0, 0.0);
    let empty = |i: usize| {
        let strip = Strip::new(
            vec![Mark::line(
                (0.0, look.write - mm(0.5)),
                (desk.width, look.write - mm(0.5)),
                0.6,
            )],
            look.write,
        );
        // Neither the first nor the last line stands alone on a page.
        if i == 0 && count > 1 || i + 2 == count {
            strip.holding()
        } else {
            strip
        }
    };
    std::iter::once(Strip::new(marks, bottom).holding())
        .chain((0..count).map(empty))
        .collect()
}

/// One letter or word, as large as the paper takes it.
pub(super) fn letter(desk: &Desk<'_>, text: &str) -> Vec<Strip> {
    let natural = desk.faces.line(text, Weight::Bold, desk.look.letter);
    let size = if natural.width > desk.width {
        desk.look.letter * desk.width / natural.width
    } else {
        desk.look.letter
    };
    let line = desk.faces.line(text, Weight::Bold, size);
    // Capitals have no descenders: the line is set as high as its letters.
    let (top, high) = (size * 0.78, size * 0.88);
    vec![Strip::new(vec![Mark::text(0.0, top, line)], high)]
}
