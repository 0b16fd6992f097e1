//! A day board: time runs down in steps of five minutes, people stand beside each other, and a column is left for what really happened.

use std::rc::Rc;

use sheets::model::{Bar, Bars, Lane};

use super::bars::{Notes, check};
use super::{Desk, lay, lay_centred};
use crate::PressError;
use crate::face::{LEADING, Line, Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark, count};
use crate::paper::mm;

/// The hours are read from across the room.
const HOUR: f64 = 24.0;
/// The least height of five minutes: a line of small text has to stand in them.
const LEAST_FIVE: f64 = 7.8;
/// The most: more would only be empty paper.
const MOST_FIVE: f64 = 34.0;
/// The black spine of a bar in which somebody works.
const SPINE: f64 = 5.0;

/// A board as strips, each as high as what is left of a page; several when there are more people or hours than one page takes.
pub(super) fn strips(desk: &Desk<'_>, bars: &Bars, room: f64) -> Result<Vec<Strip>, PressError> {
    check(desk, bars)?;
    let axis = bars
        .marks
        .iter()
        .map(|(_, word)| desk.faces.line(word, Weight::Bold, HOUR).width)
        .fold(HOUR, f64::max)
        .min(desk.width / 4.0)
        + 6.0;
    let lanes = groups(
        bars,
        desk.width - axis,
        if desk.width > mm(250.0) {
            mm(33.0)
        } else {
            mm(26.0)
        },
    );
    let names = |group: &[&Lane]| {
        let width = lane_width(desk, axis, group.len()) - 6.0;
        group
            .iter()
            .map(|l| height(&desk.set(&l.name, Weight::Bold, desk.look.body, width)))
            .fold(0.0, f64::max)
            + 6.0
    };
    let head = lanes.iter().map(|g| names(g)).fold(0.0, f64::max);
    if head > room / 3.0 {
        return Err(desk.refuse(
            "names over the columns that fill a third of the page".to_owned(),
            "names of a few words",
        ));
    }
    // Half a line under the last mark, which names the end of the day.
    let foot = HOUR * 0.4;
    let spans = spans(bars, room - head - foot);
    let mut notes = Notes::default();
    let mut strips = Vec::new();
    for group in &lanes {
        for &(from, to) in &spans {
            let per_minute = ((room - head - foot) / f64::from(to - from)).min(MOST_FIVE / 5.0);
            let board = Board {
                desk,
                bars,
                axis,
                head,
                from,
                to,
                per_minute,
                width: lane_width(desk, axis, group.len()),
            };
            let mut strip = board.draw(group, &mut notes);
            strip.height += foot;
            strips.push(strip.under(desk.look.gap));
        }
    }
    strips.extend(notes.strips(desk));
    Ok(strips)
}

#[allow(clippy::cast_precision_loss)] // people of one kitchen
fn lane_width(desk: &Desk<'_>, axis: f64, lanes: usize) -> f64 {
    (desk.width - axis) / lanes.max(1) as f64
}

/// The lines of each page. One line left empty for real times comes again on every page; each page has about as many as the others.
fn groups(bars: &Bars, width: f64, least: f64) -> Vec<Vec<&Lane>> {
    let most = count((width / least).floor()).max(1) as usize;
    let (blank, used): (Vec<&Lane>, Vec<&Lane>) = bars.lanes.iter().partition(|lane| lane.blank);
    if blank.len() != 1 || most < 2 {
        let all: Vec<&Lane> = bars.lanes.iter().collect();
        let pages = all.len().div_ceil(most);
        return all
            .chunks(all.len().div_ceil(pages))
            .map(<[&Lane]>::to_vec)
            .collect();
    }
    if used.is_empty() {
        return vec![blank];
    }
    let pages = used.len().div_ceil(most - 1);
    used.chunks(used.len().div_ceil(pages))
        .map(|chunk| chunk.iter().chain(&blank).copied().collect())
        .collect()
}

/// The minutes of each page: cut at a mark where there is one.
fn spans(bars: &Bars, high: f64) -> Vec<(u32, u32)> {
    let most = count((high / (LEAST_FIVE / 5.0)).floor()).max(5);
    let pages = bars.minutes.div_ceil(most);
    // As even as the marks allow: a second page with half an hour on it helps nobody.
    let even = bars.minutes.div_ceil(pages.max(1));
    let mut spans = Vec::new();
    let mut from = 0;
    while from < bars.minutes {
        let rest = bars.minutes - from;
        let to = if rest <= most.min(even + 30) {
            bars.minutes
        } else {
            let target = from + even;
            bars.marks
                .iter()
                .map(|m| m.0)
                .filter(|&m| m > from && m <= from + most)
                .min_by_key(|m| m.abs_diff(target))
                .unwrap_or(from + most.min(even))
        };
        spans.push((from, to));
        from = to;
    }
    spans
}

struct Board<'a> {
    desk: &'a Desk<'a>,
    bars: &'a Bars,
    axis: f64,
    head: f64,
    from: u32,
    to: u32,
    per_minute: f64,
    width: f64,
}

impl Board<'_> {
    fn y(&self, minute: u32) -> f64 {
        self.head + f64::from(minute.clamp(self.from, self.to) - self.from) * self.per_minute
    }

    fn shows(&self, from: u32, to: u32) -> bool {
        from < self.to && to > self.from || (from == to && from >= self.from && from <= self.to)
    }

    fn draw(&self, lanes: &[&Lane], notes: &mut Notes) -> Strip {
        let desk = self.desk;
        let (top, bottom) = (self.head, self.y(self.to));
        #[allow(clippy::cast_precision_loss)] // people of one kitchen
        let right = self.axis + self.width * lanes.len() as f64;
        let mut marks = Vec::new();
        for &(from, to) in self.bars.shaded.iter().filter(|s| self.shows(s.0, s.1)) {
            let (a, b) = (self.y(from), self.y(to));
            marks.push(Mark::hatch(
                self.axis,
                a,
                right - self.axis,
                b - a,
                7.0,
                0.4,
            ));
        }
        self.grid(&mut marks, right);
        let mut x = self.axis;
        for lane in lanes {
            let name = desk.set(&lane.name, Weight::Bold, desk.look.body, self.width - 6.0);
            lay(&mut marks, &name, x + 3.0, self.head - height(&name) - 3.0);
            marks.push(Mark::line((x, top), (x, bottom), 0.8));
            for bar in lane.bars.iter().filter(|b| self.shows(b.from, b.to)) {
                self.bar(&mut marks, lane, bar, x, notes);
            }
            x += self.width;
        }
        marks.push(Mark::line((right, top), (right, bottom), 0.8));
        if let Some((minute, word)) = self.bars.service.as_ref().filter(|s| self.shows(s.0, s.0)) {
            let y = self.y(*minute);
            marks.push(Mark::line((self.axis, y), (right, y), 3.0));
            let line = desk.faces.line(word, Weight::Bold, desk.look.body);
            let (pad, star) = (4.0, desk.look.body * 0.6);
            let wide = (line.width + 2.0 * star + 3.0 * pad).min(right - self.axis);
            let high = line.height() + 2.0;
            let left = self.axis + 6.0;
            let box_top = if y - high - 3.0 > top {
                y - high - 1.5
            } else {
                y + 1.5
            };
            marks.push(Mark::rect(left, box_top, wide, high, Some(Ink::White), 1.0));
            marks.push(Mark::star((left + pad + star, box_top + high / 2.0), star));
            marks.push(Mark::text(
                left + 2.0 * pad + 2.0 * star,
                box_top + 1.0 + line.base(),
                line,
            ));
        }
        Strip::new(marks, bottom)
    }

    fn grid(&self, marks: &mut Vec<Mark>, right: f64) {
        let marked: Vec<u32> = self.bars.marks.iter().map(|m| m.0).collect();
        let phase = marked.first().map_or(0, |m| m % 5);
        let mut minute = phase;
        while minute <= self.bars.minutes {
            if minute >= self.from && minute <= self.to && !marked.contains(&minute) {
                let y = self.y(minute);
                // Quarters of an hour count from a mark: full lines; between them dots.
                let quarter = marked
                    .first()
                    .is_some_and(|m| minute.abs_diff(*m).is_multiple_of(15));
                marks.push(if quarter {
                    Mark::line((self.axis, y), (right, y), 0.35)
                } else {
                    Mark::dashed((self.axis, y), (right, y), 0.35, 1.4)
                });
            }
            minute += 5;
        }
        for (minute, word) in self
            .bars
            .marks
            .iter()
            .filter(|m| m.0 >= self.from && m.0 <= self.to)
        {
            let y = self.y(*minute);
            if word.is_empty() {
                // A line of the grid, and none through the hours beside it.
                marks.push(Mark::line((self.axis, y), (right, y), 0.35));
                continue;
            }
            marks.push(Mark::line((0.0, y), (right, y), 1.1));
            let lines = self.desk.set(word, Weight::Bold, HOUR, self.axis - 4.0);
            // Under its line, but above the last one, where the paper ends.
            let base = if *minute == self.to {
                y - height(&lines)
            } else {
                y + 1.0
            };
            if *minute != self.to || self.to == self.bars.minutes {
                lay(marks, &lines, 0.0, base);
            }
        }
        for end in [self.from, self.to] {
            marks.push(Mark::line(
                (self.axis, self.y(end)),
                (right, self.y(end)),
                1.1,
            ));
        }
    }

    fn bar(&self, marks: &mut Vec<Mark>, lane: &Lane, bar: &Bar, x: f64, notes: &mut Notes) {
        let (top, bottom) = (self.y(bar.from), self.y(bar.to));
        let high = (bottom - top).max(2.0);
        let (left, wide) = (x + 2.5, self.width - 5.0);
        // Thick, but not so that a bar of five minutes is all frame.
        let frame = if bar.fixed {
            (high * 0.16).clamp(1.4, 2.8)
        } else {
            0.9
        };
        let inset = frame / 2.0;
        if bar.work {
            marks.push(Mark::rect(
                left + inset,
                top + inset,
                wide - frame,
                (high - frame).max(0.5),
                Some(Ink::White),
                frame,
            ));
            marks.push(Mark::rect(left, top, SPINE, high, Some(Ink::Black), 0.0));
        } else {
            marks.push(Mark::rect(
                left + inset,
                top + inset,
                wide - frame,
                (high - frame).max(0.5),
                Some(Ink::White),
                0.0,
            ));
            for (a, b) in [
                ((left, top), (left + wide, top)),
                ((left + wide, top), (left + wide, bottom)),
                ((left + wide, bottom), (left, bottom)),
                ((left, bottom), (left, top)),
            ] {
                marks.push(if bar.fixed {
                    Mark::line(a, b, frame)
                } else {
                    Mark::dashed(a, b, frame, 3.0)
                });
            }
        }
        let whisker = if bar.could.is_some() { 7.0 } else { 0.0 };
        if let Some((from, to)) = bar.could.filter(|c| self.shows(c.0, c.1)) {
            let at = left + wide - 5.0;
            let (a, b) = (self.y(from), self.y(to));
            marks.push(Mark::line((at, a), (at, b), 1.2));
            for y in [a, b] {
                marks.push(Mark::line((at - 3.0, y), (at + 3.0, y), 1.2));
            }
        }
        let text_left = left + SPINE + 3.0;
        let inner = wide - SPINE - 5.0 - frame - whisker;
        if let Some(lines) = self.fitting(&bar.words, inner, high - frame) {
            lay(marks, &lines, text_left, top + frame * 0.5 + 0.3);
        } else if bar.from >= self.from {
            let place = format!(
                "{}{}",
                lane.name,
                self.clock(bar.from)
                    .map(|c| format!(", {c}"))
                    .unwrap_or_default()
            );
            let number = notes.add(&place, &bar.words);
            let line = self
                .desk
                .faces
                .line(&number, Weight::Bold, (high * 0.8).clamp(7.0, 11.0));
            let (mid, side) = (top + high / 2.0, line.size * 0.62);
            marks.push(Mark::rect(
                left + wide / 2.0 - side * 1.6,
                mid - side,
                side * 3.2,
                side * 2.0,
                Some(Ink::White),
                0.5,
            ));
            lay_centred(
                marks,
                std::slice::from_ref(&line),
                left + wide / 2.0,
                mid - line.size * 0.62,
            );
        }
    }

    /// Words in the largest letters that stand in the bar.
    fn fitting(&self, words: &str, width: f64, high: f64) -> Option<Vec<Rc<Line>>> {
        if words.is_empty() {
            return Some(Vec::new());
        }
        let body = self.desk.look.body.min(14.0);
        [body, 12.5, 11.0, 10.0, 9.0, 8.0, 7.0]
            .into_iter()
            .filter(|s| *s <= body)
            .find_map(|size| {
                if self.desk.faces.widest_word(words, Weight::Regular, size) > width {
                    return None;
                }
                let lines = self.desk.set(words, Weight::Regular, size, width);
                // The last line needs no leading under it.
                (height(&lines) - size * (LEADING - 1.1) <= high).then_some(lines)
            })
    }

    /// The wall clock at a minute, when the first mark is one.
    fn clock(&self, minute: u32) -> Option<String> {
        let (at, word) = self.bars.marks.first()?;
        let (hour, past) = word.split_once(':')?;
        let start: i64 = hour.trim().parse::<i64>().ok()? * 60 + past.trim().parse::<i64>().ok()?;
        let now = (start + i64::from(minute) - i64::from(*at)).rem_euclid(24 * 60);
        Some(format!("{:02}:{:02}", now / 60, now % 60))
    }
}
