//! A strip of several days: time runs to the right, one line a lot, night hatched, waits with whiskers, a star at service.

use std::rc::Rc;

use sheets::model::{Bar, Bars, Lane};

use super::bars::{Notes, check};
use super::{Desk, lay};
use crate::PressError;
use crate::face::{LEADING, Line, Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark};

/// A strip for the axis, which comes again on each page, and one for each line.
pub(super) fn strips(desk: &Desk<'_>, bars: &Bars) -> Result<Vec<Strip>, PressError> {
    check(desk, bars)?;
    let size = desk.look.body;
    let name = bars
        .lanes
        .iter()
        .map(|l| desk.faces.line(&l.name, Weight::Bold, size).width)
        .fold(0.0, f64::max)
        .min(desk.width * 0.24)
        + 6.0;
    let scale = Scale {
        desk,
        bars,
        left: name,
        per_minute: (desk.width - name - 1.0) / f64::from(bars.minutes),
    };
    let head = Rc::new(scale.axis());
    let mut strips = vec![(*head).clone().holding()];
    let mut notes = Notes::default();
    let high = scale.lane_high();
    for lane in &bars.lanes {
        strips.push(scale.lane(lane, high, &mut notes).again(&head));
    }
    strips.extend(notes.strips(desk));
    Ok(strips)
}

struct Scale<'a> {
    desk: &'a Desk<'a>,
    bars: &'a Bars,
    left: f64,
    per_minute: f64,
}

impl Scale<'_> {
    fn x(&self, minute: u32) -> f64 {
        self.left + f64::from(minute) * self.per_minute
    }

    fn axis(&self) -> Strip {
        let size = self.desk.look.body;
        let words: Vec<(u32, Rc<Line>)> = self
            .bars
            .marks
            .iter()
            .map(|(m, w)| (*m, self.desk.faces.line(w, Weight::Bold, size)))
            .collect();
        let mut order: Vec<&(u32, Rc<Line>)> = words.iter().collect();
        order.sort_by_key(|w| w.0);
        let crowded = order
            .windows(2)
            .any(|pair| self.x(pair[0].0) + pair[0].1.width + 4.0 > self.x(pair[1].0));
        let service = self
            .bars
            .service
            .as_ref()
            .map(|(m, w)| (*m, self.desk.faces.line(w, Weight::Bold, size)));
        let over = if service.is_some() { size * 1.5 } else { 0.0 };
        let long = words.iter().map(|(_, l)| l.width).fold(0.0, f64::max);
        let high = over + if crowded { long + 6.0 } else { size * 1.4 };
        let mut marks = Vec::new();
        for (minute, line) in &words {
            let x = self.x(*minute);
            if crowded {
                // The last one stands before its line, or it would leave the paper.
                let at = (x + size * 0.9).min(self.desk.width);
                marks.push(Mark::Text {
                    x: at,
                    y: high - 3.0,
                    line: Rc::clone(line),
                    ink: Ink::Black,
                    turned: true,
                });
            } else {
                let at = (x + 2.0).min(self.desk.width - line.width);
                marks.push(Mark::text(at, over + line.base(), Rc::clone(line)));
            }
            marks.push(Mark::line((x, over), (x, high), 0.8));
        }
        if let Some((minute, line)) = service {
            let (x, star) = (self.x(minute), size * 0.62);
            // Kept on the paper: the word goes to the left of the star when there is no room to the right.
            let star_x = x.clamp(self.left, self.desk.width - star);
            marks.push(Mark::star((star_x, star + 1.0), star));
            let right = star_x + star + 4.0;
            let at = if right + line.width <= self.desk.width {
                right
            } else {
                star_x - star - 4.0 - line.width
            };
            marks.push(Mark::text(at.max(0.0), line.base() - 1.0, line));
        }
        marks.push(Mark::line((0.0, high), (self.desk.width, high), 1.2));
        Strip::new(marks, high)
    }

    /// How high a line is: words above, the bar, whiskers below; higher where the page has room for it.
    fn lane_high(&self) -> f64 {
        let desk = self.desk;
        let names = self
            .bars
            .lanes
            .iter()
            .map(|l| height(&desk.set(&l.name, Weight::Bold, desk.look.body, self.left - 6.0)));
        let natural = names
            .fold(0.0, f64::max)
            .max(desk.look.body * 3.6)
            .max(desk.look.write)
            + 4.0;
        #[allow(clippy::cast_precision_loss)] // lots of one event
        let even = desk.room * 0.65 / self.bars.lanes.len().max(1) as f64;
        even.clamp(natural, natural * 1.4)
    }

    fn lane(&self, lane: &Lane, high: f64, notes: &mut Notes) -> Strip {
        let desk = self.desk;
        let name = desk.set(&lane.name, Weight::Bold, desk.look.body, self.left - 6.0);
        let text = desk.look.small;
        let mut marks = Vec::new();
        for &(from, to) in &self.bars.shaded {
            marks.push(Mark::hatch(
                self.x(from),
                0.0,
                self.x(to) - self.x(from),
                high,
                4.5,
                0.4,
            ));
        }
        for (minute, _) in &self.bars.marks {
            marks.push(Mark::line(
                (self.x(*minute), 0.0),
                (self.x(*minute), high),
                0.35,
            ));
        }
        if let Some((minute, _)) = &self.bars.service {
            marks.push(Mark::line(
                (self.x(*minute), 0.0),
                (self.x(*minute), high),
                2.4,
            ));
        }
        lay(&mut marks, &name, 0.0, (high - height(&name)) / 2.0);
        let mut order: Vec<&Bar> = lane.bars.iter().collect();
        order.sort_by_key(|b| b.from);
        let over = text * LEADING;
        let whisker = 9.0;
        let row = Row {
            top: over + 1.0,
            high: high - over - whisker - 3.0,
            size: text,
        };
        // Where words above the bars end so far.
        let mut above = self.left;
        for bar in order {
            self.bar(&mut marks, bar, &row);
            self.words(&mut marks, lane, bar, &row, &mut above, notes);
        }
        marks.push(Mark::line((0.0, high), (desk.width, high), 0.5));
        Strip::new(marks, high)
    }

    fn bar(&self, marks: &mut Vec<Mark>, bar: &Bar, row: &Row) {
        let (left, right) = (self.x(bar.from), self.x(bar.to));
        let frame = if bar.fixed { 2.6 } else { 0.9 };
        let fill = if bar.work { Ink::Black } else { Ink::White };
        marks.push(Mark::rect(
            left,
            row.top,
            (right - left).max(1.6),
            row.high,
            Some(fill),
            frame,
        ));
        if let Some((from, to)) = bar.could {
            let y = row.top + row.high + 5.5;
            marks.push(Mark::line((self.x(from), y), (self.x(to), y), 1.2));
            for minute in [from, to] {
                marks.push(Mark::line(
                    (self.x(minute), y - 3.0),
                    (self.x(minute), y + 3.0),
                    1.2,
                ));
            }
        }
    }

    /// What a bar says: in it, else above it, else under a number below the drawing.
    fn words(
        &self,
        marks: &mut Vec<Mark>,
        lane: &Lane,
        bar: &Bar,
        row: &Row,
        above: &mut f64,
        notes: &mut Notes,
    ) {
        const PAD: f64 = 3.0;
        if bar.words.is_empty() {
            return;
        }
        let (left, wide) = (
            self.x(bar.from),
            (self.x(bar.to) - self.x(bar.from)).max(1.6),
        );
        let line = self.desk.faces.line(&bar.words, Weight::Bold, row.size);
        if line.width + 2.0 * PAD <= wide {
            let ink = if bar.work { Ink::White } else { Ink::Black };
            let y = row.top + (row.high - line.height()) / 2.0 + line.base();
            marks.push(Mark::Text {
                x: left + PAD,
                y,
                line,
                ink,
                turned: false,
            });
            return;
        }
        // Over its own bar, be it not from its first minute.
        let fits = |line: &Line| {
            let at = left.max(*above);
            (at <= left + wide && at + line.width <= self.desk.width).then_some(at)
        };
        let (at, line) = match fits(&line) {
            Some(at) => (at, line),
            None => {
                let number = self.desk.faces.line(
                    &notes.add(&lane.name, &bar.words),
                    Weight::Bold,
                    row.size,
                );
                // Numbers are never left out: where they crowd they touch.
                (left.max(*above).min(self.desk.width - number.width), number)
            }
        };
        marks.push(Mark::rect(
            at - 1.0,
            0.6,
            line.width + 2.0,
            row.top - 1.2,
            Some(Ink::White),
            0.0,
        ));
        *above = at + line.width + PAD;
        marks.push(Mark::text(at, line.base(), line));
    }
}

/// Where the bars of a line stand in it, and how large what they say is.
struct Row {
    top: f64,
    high: f64,
    size: f64,
}
