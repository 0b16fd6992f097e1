//! A strip of several days: time runs to the right, one line a lot, night hatched, waits with whiskers, a star at service.

use std::rc::Rc;

use sheets::model::{Bar, Bars, Lane};

use super::bars::{Notes, check};
use super::{Desk, lay};
use crate::PressError;
use crate::face::{Line, Weight, height};
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
    for lane in &bars.lanes {
        strips.push(scale.lane(lane, &mut notes).again(&head));
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

    fn lane(&self, lane: &Lane, notes: &mut Notes) -> Strip {
        let desk = self.desk;
        let name = desk.set(&lane.name, Weight::Bold, desk.look.body, self.left - 6.0);
        let text = desk.look.small.min(12.0);
        let bar_high = text * 1.45;
        let high = (height(&name) + 6.0)
            .max(bar_high * 2.0)
            .max(if lane.blank { desk.look.write } else { 0.0 });
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
        lay(&mut marks, &name, 0.0, (high - height(&name)) / 2.0);
        let mut order: Vec<&Bar> = lane.bars.iter().collect();
        order.sort_by_key(|b| b.from);
        let top = (high - bar_high) / 2.0;
        let mut free = self.left;
        for (i, bar) in order.iter().enumerate() {
            let next = order.get(i + 1).map_or(desk.width, |b| self.x(b.from));
            free = self.bar(
                &mut marks,
                lane,
                bar,
                (top, bar_high, text),
                (free, next),
                notes,
            );
        }
        if let Some((minute, _)) = &self.bars.service {
            marks.push(Mark::line(
                (self.x(*minute), 0.0),
                (self.x(*minute), high),
                2.4,
            ));
        }
        marks.push(Mark::line((0.0, high), (desk.width, high), 0.5));
        Strip::new(marks, high)
    }

    /// Draws a bar; gives back where its drawing ends.
    fn bar(
        &self,
        marks: &mut Vec<Mark>,
        lane: &Lane,
        bar: &Bar,
        row: (f64, f64, f64),
        free: (f64, f64),
        notes: &mut Notes,
    ) -> f64 {
        let (top, high, size) = row;
        let (left, right) = (self.x(bar.from), self.x(bar.to));
        let wide = (right - left).max(1.6);
        let frame = if bar.fixed { 2.6 } else { 0.9 };
        let fill = if bar.work { Ink::Black } else { Ink::White };
        marks.push(Mark::rect(left, top, wide, high, Some(fill), frame));
        let mut end = right;
        if let Some((from, to)) = bar.could {
            let middle = top + high + 3.5;
            marks.push(Mark::line(
                (self.x(from), middle),
                (self.x(to), middle),
                1.2,
            ));
            for minute in [from, to] {
                marks.push(Mark::line(
                    (self.x(minute), middle - 3.0),
                    (self.x(minute), middle + 3.0),
                    1.2,
                ));
            }
            end = end.max(self.x(to)).max(right);
        }
        if bar.words.is_empty() {
            return end;
        }
        let line = self.desk.faces.line(&bar.words, Weight::Bold, size);
        let base = top + (high - line.height()) / 2.0 + line.base();
        let pad = 3.0;
        if line.width + 2.0 * pad <= wide {
            let ink = if bar.work { Ink::White } else { Ink::Black };
            marks.push(Mark::Text {
                x: left + pad,
                y: base,
                line,
                ink,
                turned: false,
            });
        } else if right + 2.0 * pad + line.width <= free.1 {
            let wide = line.width;
            marks.push(Mark::rect(
                right + pad - 1.0,
                top + 1.0,
                wide + 2.0,
                high - 2.0,
                Some(Ink::White),
                0.0,
            ));
            marks.push(Mark::text(right + pad, base, line));
            return end.max(right + pad + wide);
        } else {
            let number = notes.add(&lane.name, &bar.words);
            let line = self.desk.faces.line(&number, Weight::Bold, size * 0.85);
            let half = line.width / 2.0 + 1.5;
            let middle =
                f64::midpoint(left, left + wide).clamp(self.left + half, self.desk.width - half);
            // Above its bar: in a bar of minutes there is no room for a number either.
            let y = top - line.height() + 2.0;
            marks.push(Mark::rect(
                middle - half,
                y,
                2.0 * half,
                line.height() - 2.0,
                Some(Ink::White),
                0.0,
            ));
            marks.push(Mark::text(
                middle - line.width / 2.0,
                y + line.base() - 1.0,
                line,
            ));
        }
        end
    }
}
