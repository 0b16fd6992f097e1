//! Steps in order: a box to tick, the hour, what to do, what to hold to, and why.

use sheets::model::Step;

use super::{Desk, lay};
use crate::face::{LEADING, Weight, height};
use crate::flow::Strip;
use crate::ink::{Mark, count};

/// Steps as strips; one step is not torn unless it is higher than a page.
pub(super) fn strips(desk: &Desk<'_>, steps: &[Step]) -> Vec<Strip> {
    let look = &desk.look;
    let (pad, between) = (look.body * 0.35, look.body * 0.7);
    let widest = |pick: fn(&Step) -> &str, weight| {
        steps
            .iter()
            .map(|s| desk.faces.line(pick(s), weight, look.body).width)
            .fold(0.0, f64::max)
    };
    let when = widest(|s| &s.when, Weight::Bold).min(desk.width * 0.2);
    // A condition in a few words stands to the right; a long one under its step, over the whole width.
    let beside = |step: &Step| {
        desk.faces.line(&step.hold, Weight::Bold, look.body).width <= desk.width * 0.3
    };
    let hold = steps
        .iter()
        .filter(|s| beside(s))
        .map(|s| desk.faces.line(&s.hold, Weight::Bold, look.body).width)
        .fold(0.0, f64::max);
    let at = look.tick + between;
    let what_at = at + when + between;
    let whole = desk.width - what_at;
    let mut strips = Vec::new();
    for step in steps {
        let beside = beside(step);
        let what = if beside && hold > 0.0 {
            whole - hold - between
        } else {
            whole
        };
        let left = desk.set(&step.when, Weight::Bold, look.body, when.max(1.0));
        let mut middle = desk.set(&step.what, Weight::Regular, look.body, what);
        let mut right = Vec::new();
        if beside && !step.hold.is_empty() {
            right = desk.set(&step.hold, Weight::Bold, look.body, hold + 0.5);
        } else if !beside {
            middle.extend(desk.set(&step.hold, Weight::Bold, look.body, whole));
        }
        let first_why = middle.len();
        if !step.why.is_empty() {
            middle.extend(desk.set(&step.why, Weight::Regular, look.small, what - between));
        }
        let lines_at_most =
            count(((desk.room - 2.0 * pad) / (look.body * LEADING)).floor()).max(1) as usize;
        let pieces = middle
            .len()
            .max(left.len())
            .max(right.len())
            .div_ceil(lines_at_most);
        for piece in 0..pieces {
            let range = piece * lines_at_most..(piece + 1) * lines_at_most;
            let part = |lines: &[std::rc::Rc<crate::face::Line>]| {
                lines
                    .get(range.start.min(lines.len())..range.end.min(lines.len()))
                    .unwrap_or_default()
                    .to_vec()
            };
            let (l, r) = (part(&left), part(&right));
            let high = height(&l)
                .max(height(&part(&middle)))
                .max(height(&r))
                .max(look.tick)
                + 2.0 * pad;
            let mut marks = Vec::new();
            if piece == 0 {
                let line = look.body * LEADING;
                marks.push(Mark::rect(
                    0.5,
                    pad + (line - look.tick) / 2.0,
                    look.tick,
                    look.tick,
                    None,
                    1.0,
                ));
            }
            lay(&mut marks, &l, at, pad);
            let mut y = pad;
            for (i, line) in part(&middle).into_iter().enumerate() {
                let why = range.start + i >= first_why;
                let x = what_at + if why { between } else { 0.0 };
                let next = lay(&mut marks, std::slice::from_ref(&line), x, y);
                if why {
                    // A bar beside the reason: it is not another thing to do.
                    marks.push(Mark::line(
                        (what_at + between * 0.3, y + 1.0),
                        (what_at + between * 0.3, next - 1.0),
                        1.2,
                    ));
                }
                y = next;
            }
            lay(&mut marks, &r, desk.width - hold, pad);
            marks.push(Mark::line((0.0, high), (desk.width, high), 0.4));
            strips.push(Strip::new(marks, high));
        }
    }
    strips
}
