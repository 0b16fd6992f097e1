//! Labels: 75 by 50 mm, singly or side by side on a sheet with marks to cut at.

use std::rc::Rc;

use sheets::model::{Block, Sheet, Size, Stock};

use crate::PressError;
use crate::blocks::{Desk, code_marks, lay, lay_centred, strips};
use crate::face::{Faces, Line, Weight, height};
use crate::flow::fill;
use crate::ink::{Mark, count};
use crate::page::{Leaf, refuse_what_no_page_holds};
use crate::paper::{Look, millimetres, mm};

/// The widest the column of letter and code may be.
const SIDE_MM: f64 = 20.0;
/// Letters are made smaller by these steps before a second label is begun.
const STEPS: [f64; 5] = [1.0, 0.92, 0.85, 0.78, 0.73];
/// Nothing of a sheet of labels comes nearer to its edge: printers cannot reach it.
const SHEET_EDGE_MM: f64 = 10.0;

/// A label; a second one only when what it says does not go on the first in letters of 6½ points.
pub(crate) fn labels(faces: &Faces, sheet: &Sheet, stock: Stock) -> Result<Vec<Leaf>, PressError> {
    let mut last = Vec::new();
    for by in STEPS {
        last = attempt(faces, sheet, &Look::of(stock, Size::Label).tighter(by))?;
        if last.len() == 1 {
            break;
        }
    }
    Ok(last)
}

fn attempt(faces: &Faces, sheet: &Sheet, look: &Look) -> Result<Vec<Leaf>, PressError> {
    // The foot runs under everything, as wide as the label. Two labels for one tub each say there that there is another.
    let said = sheet.foot.join(" · ");
    let foot_of = |count: &str| {
        faces.set(
            &format!("{count}{said}"),
            Weight::Regular,
            look.small,
            look.inner(),
        )
    };
    let foot = foot_of("8/8 · ");
    let bottom = look.height - 2.0 * look.edge;
    let above_foot = bottom - height(&foot) - mm(0.4);
    let side = side_column(faces, sheet, look, above_foot)?;
    let gap = mm(1.5);
    let width = look.inner() - if side.1 > 0.0 { side.1 + gap } else { 0.0 };
    let title = faces.set(&sheet.title, Weight::Bold, look.title, width);
    let mut under: Vec<Rc<Line>> = sheet
        .under
        .iter()
        .flat_map(|u| faces.set(u, Weight::Regular, look.body, width))
        .collect();
    // One short line goes beside a short name.
    let beside = match (title.as_slice(), under.as_slice()) {
        ([name], [line]) if name.width + line.width + 2.0 * gap <= width => under.pop(),
        _ => None,
    };
    let head = height(&title) - look.title * 0.15 + height(&under) + mm(0.3);
    let room = above_foot - head;
    let desk = Desk {
        faces,
        look: *look,
        width,
        room,
        sheet: &sheet.id,
    };
    if room < look.body * 1.5 {
        return Err(desk.refuse(
            "a name and a foot that fill the label".to_owned(),
            "room for at least one line between them",
        ));
    }
    let blocks: Vec<Block> = sheet
        .blocks
        .iter()
        .filter(|b| !matches!(b, Block::Letter(_) | Block::Code { .. }))
        .cloned()
        .collect();
    let strips = strips(&desk, &blocks)?;
    refuse_what_no_page_holds(&desk, &strips)?;
    let filled = fill(strips, room, room);
    let (edge, labels) = (look.edge, filled.len());
    Ok(filled
        .into_iter()
        .enumerate()
        .map(|(i, body)| {
            let mut marks = Vec::new();
            let y = lay(&mut marks, &title, 0.0, -look.title * 0.15);
            lay(&mut marks, &under, 0.0, y);
            if let (Some(line), Some(name)) = (&beside, title.first()) {
                marks.push(Mark::text(
                    width - line.width,
                    name.base() - look.title * 0.15,
                    Rc::clone(line),
                ));
            }
            marks.extend(body.into_iter().map(|m| m.moved(0.0, head)));
            let count = if labels > 1 {
                format!("{}/{labels} · ", i + 1)
            } else {
                String::new()
            };
            let foot = foot_of(&count);
            lay(&mut marks, &foot, 0.0, bottom - height(&foot));
            marks.extend(
                side.0
                    .iter()
                    .cloned()
                    .map(|m| m.moved(look.inner() - side.1, 0.0)),
            );
            let marks = marks.into_iter().map(|m| m.moved(edge, edge)).collect();
            Leaf {
                width: look.width,
                height: look.height,
                marks,
            }
        })
        .collect())
}

/// The letter above the code, at the right; and how wide they are.
fn side_column(
    faces: &Faces,
    sheet: &Sheet,
    look: &Look,
    bottom: f64,
) -> Result<(Vec<Mark>, f64), PressError> {
    let letter = sheet.blocks.iter().find_map(|b| {
        if let Block::Letter(l) = b {
            Some(l)
        } else {
            None
        }
    });
    let code = sheet.blocks.iter().find_map(|b| {
        if let Block::Code { holds, letters } = b {
            Some((holds, letters))
        } else {
            None
        }
    });
    if letter.is_none() && code.is_none() {
        return Ok((Vec::new(), 0.0));
    }
    let mut width = mm(SIDE_MM).min(bottom - look.letter);
    let mut marks = Vec::new();
    if let Some((holds, letters)) = code {
        let desk = Desk {
            faces,
            look: *look,
            width: look.inner() / 2.0,
            room: look.height,
            sheet: &sheet.id,
        };
        let (_, whole) = code_marks(&desk, holds, 0.0, 0.0, width)?;
        width = width.max(whole);
        let set = faces.set(letters, Weight::Bold, look.body, width);
        let top = bottom - height(&set) - whole;
        let (drawn, _) = code_marks(&desk, holds, width - whole, top, width)?;
        marks.extend(drawn);
        // The quiet zone ends where the letters begin.
        lay_centred(&mut marks, &set, width / 2.0, top + whole);
    }
    if let Some(letter) = letter {
        let natural = faces.line(letter, Weight::Bold, look.letter);
        let size = look.letter * (width / natural.width).min(1.0);
        let line = faces.line(letter, Weight::Bold, size);
        marks.push(Mark::text((width - line.width) / 2.0, size * 0.7, line));
    }
    Ok((marks, width))
}

/// How many labels go beside and under each other on a sheet of the stock.
pub fn grid(stock: Stock) -> (u32, u32) {
    let (label, page) = (
        millimetres(stock, Size::Label),
        millimetres(stock, Size::Page),
    );
    let fit = |page: f64, label: f64| count(((page - 2.0 * SHEET_EDGE_MM) / label).floor());
    (fit(page.0, label.0), fit(page.1, label.1))
}

/// Labels side by side on sheets, in reading order, with marks to cut at outside them.
pub(crate) fn imposed(labels: &[Leaf], stock: Stock) -> Vec<Leaf> {
    let (page_w, page_h) = millimetres(stock, Size::Page);
    let (label_w, label_h) = millimetres(stock, Size::Label);
    let (page_w, page_h, label_w, label_h) = (mm(page_w), mm(page_h), mm(label_w), mm(label_h));
    let (across, down) = grid(stock);
    let left = (page_w - f64::from(across) * label_w) / 2.0;
    let top = (page_h - f64::from(down) * label_h) / 2.0;
    labels
        .chunks((across * down).max(1) as usize)
        .map(|chunk| {
            let mut marks = Vec::new();
            for (label, place) in chunk.iter().zip(0u32..) {
                let (x, y) = (
                    left + f64::from(place % across) * label_w,
                    top + f64::from(place / across) * label_h,
                );
                marks.extend(label.marks.iter().cloned().map(|m| m.moved(x, y)));
            }
            marks.extend(cuts(left, top, (across, down), (label_w, label_h)));
            Leaf {
                width: page_w,
                height: page_h,
                marks,
            }
        })
        .collect()
}

/// Short lines outside the labels where a blade goes.
fn cuts(
    left: f64,
    top: f64,
    (across, down): (u32, u32),
    (label_w, label_h): (f64, f64),
) -> Vec<Mark> {
    let (long, away) = (mm(4.0), mm(1.0));
    let (right, bottom) = (
        left + f64::from(across) * label_w,
        top + f64::from(down) * label_h,
    );
    let mut marks = Vec::new();
    for i in 0..=across {
        let x = left + f64::from(i) * label_w;
        marks.push(Mark::line((x, top - away - long), (x, top - away), 0.4));
        marks.push(Mark::line(
            (x, bottom + away),
            (x, bottom + away + long),
            0.4,
        ));
    }
    for i in 0..=down {
        let y = top + f64::from(i) * label_h;
        marks.push(Mark::line((left - away - long, y), (left - away, y), 0.4));
        marks.push(Mark::line((right + away, y), (right + away + long, y), 0.4));
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_labels_go_on_a4_and_on_letter() {
        assert_eq!(grid(Stock::Iso), (2, 5));
        assert_eq!(grid(Stock::Us), (2, 5));
    }
}
