//! A sheet as pages: title and foot on each, blocks between them.

use std::rc::Rc;

use sheets::model::{Sheet, Size};

use crate::PressError;
use crate::blocks::{Desk, lay, strips};
use crate::face::{Faces, Weight, height};
use crate::flow::{Strip, fill};
use crate::ink::Mark;
use crate::paper::{Look, mm};
use crate::{Print, Tongue};

/// One side of one sheet of paper.
#[derive(Debug, Clone)]
pub(crate) struct Leaf {
    /// Its width in points.
    pub(crate) width: f64,
    /// Its height in points.
    pub(crate) height: f64,
    /// What is on it.
    pub(crate) marks: Vec<Mark>,
}

/// `page 2 of 3`, in the language of the sheet.
fn page_of(tongue: Tongue, page: usize, pages: usize) -> String {
    match tongue {
        Tongue::En => format!("page {page} of {pages}"),
        Tongue::Fr => format!("page {page} sur {pages}"),
    }
}

/// A sheet as pages, set closer when that saves one. Labels are drawn by [`crate::label`].
pub(crate) fn pages(faces: &Faces, sheet: &Sheet, print: &Print) -> Result<Vec<Leaf>, PressError> {
    let look = Look::of(print.stock, sheet.size);
    let roomy = set_in(faces, sheet, print, look)?;
    if roomy.len() < 2 {
        return Ok(roomy);
    }
    let close = set_in(faces, sheet, print, look.closer())?;
    Ok(if close.len() < roomy.len() {
        close
    } else {
        roomy
    })
}

fn set_in(
    faces: &Faces,
    sheet: &Sheet,
    print: &Print,
    look: Look,
) -> Result<Vec<Leaf>, PressError> {
    let inner = look.inner();
    let title = title(faces, sheet, &look, inner);
    let again = short_title(faces, sheet, &look, inner);
    let foot = Foot::new(faces, sheet, &look, inner, print.tongue);
    let body = look.height - 2.0 * look.edge - foot.height - look.gap;
    let (first, rest) = (body - title.1, body - again.1);
    let desk = Desk {
        faces,
        look,
        width: inner,
        room: first.min(rest),
        sheet: &sheet.id,
    };
    if desk.room < look.body * 8.0 {
        return Err(desk.refuse(
            "a title and a foot that fill the paper".to_owned(),
            "room for at least eight lines between them",
        ));
    }
    let strips = strips(&desk, &sheet.blocks)?;
    refuse_what_no_page_holds(&desk, &strips)?;
    let filled = fill(strips, first, rest);
    let count = filled.len();
    Ok(filled
        .into_iter()
        .enumerate()
        .map(|(i, marks)| {
            let (head, high) = if i == 0 { &title } else { &again };
            let mut all: Vec<Mark> = head
                .iter()
                .cloned()
                .map(|m| m.moved(look.edge, look.edge))
                .collect();
            all.extend(
                marks
                    .into_iter()
                    .map(|m| m.moved(look.edge, look.edge + high)),
            );
            let at = look.height - look.edge - foot.height;
            all.extend(
                foot.marks(faces, i + 1, count)
                    .into_iter()
                    .map(|m| m.moved(look.edge, at)),
            );
            Leaf {
                width: look.width,
                height: look.height,
                marks: all,
            }
        })
        .collect())
}

/// Text is broken over pages; a drawing higher than a page cannot be.
pub(crate) fn refuse_what_no_page_holds(
    desk: &Desk<'_>,
    strips: &[Strip],
) -> Result<(), PressError> {
    let again = |s: &Strip| s.again.as_ref().map_or(0.0, |h| h.height);
    match strips
        .iter()
        .map(|s| s.height + again(s))
        .find(|h| *h > desk.room + 0.01)
    {
        Some(high) => Err(desk.refuse(
            format!(
                "something {:.0} mm high that cannot be split",
                high / mm(1.0)
            ),
            &format!(
                "nothing higher than the {:.0} mm there are on a page",
                desk.room / mm(1.0)
            ),
        )),
        None => Ok(()),
    }
}

/// The title over a thick line, with what it is for; and its height.
fn title(faces: &Faces, sheet: &Sheet, look: &Look, width: f64) -> (Vec<Mark>, f64) {
    let mut marks = Vec::new();
    let lines = faces.set(&sheet.title, Weight::Bold, look.title, width);
    let mut y = lay(&mut marks, &lines, 0.0, -look.title * 0.2);
    for under in &sheet.under {
        y = lay(
            &mut marks,
            &faces.set(under, Weight::Regular, look.body, width),
            0.0,
            y,
        );
    }
    y += look.gap * 0.4;
    marks.push(Mark::line((0.0, y), (width, y), 1.6));
    (marks, y + look.gap)
}

/// The title of every further page, in one line when it is short.
fn short_title(faces: &Faces, sheet: &Sheet, look: &Look, width: f64) -> (Vec<Mark>, f64) {
    let with = |under: &String| format!("{} · {under}", sheet.title);
    let text = sheet
        .under
        .first()
        .map(with)
        .filter(|text| faces.line(text, Weight::Bold, look.body).width <= width)
        .unwrap_or_else(|| sheet.title.clone());
    let mut marks = Vec::new();
    let lines = faces.set(&text, Weight::Bold, look.body, width);
    let y = lay(&mut marks, &lines, 0.0, -look.body * 0.2) + look.gap * 0.3;
    marks.push(Mark::line((0.0, y), (width, y), 0.8));
    (marks, y + look.gap * 0.8)
}

struct Foot {
    lines: Vec<Rc<crate::face::Line>>,
    size: f64,
    width: f64,
    height: f64,
    tongue: Tongue,
}

impl Foot {
    fn new(faces: &Faces, sheet: &Sheet, look: &Look, width: f64, tongue: Tongue) -> Self {
        let size = if sheet.size == Size::Page || sheet.size == Size::PageWide {
            9.0
        } else {
            look.small
        };
        let pages = faces
            .line(&page_of(tongue, 888, 888), Weight::Bold, size)
            .width;
        let lines = faces.set(
            &sheet.foot.join("  ·  "),
            Weight::Regular,
            size,
            width - pages - size,
        );
        let height = height(&lines) + 4.0;
        Self {
            lines,
            size,
            width,
            height,
            tongue,
        }
    }

    fn marks(&self, faces: &Faces, page: usize, pages: usize) -> Vec<Mark> {
        let mut marks = vec![Mark::line((0.0, 0.0), (self.width, 0.0), 0.6)];
        lay(&mut marks, &self.lines, 0.0, 3.0);
        let line = faces.line(&page_of(self.tongue, page, pages), Weight::Bold, self.size);
        marks.push(Mark::text(self.width - line.width, 3.0 + line.base(), line));
        marks
    }
}
