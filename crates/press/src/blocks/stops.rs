//! Allergens: each word in a stop sign of its own, so that shape and word say it and no colour has to.

use super::{Desk, lay_centred};
use crate::face::{Weight, height};
use crate::flow::Strip;
use crate::ink::Mark;

/// Signs beside each other, in as many rows as they need.
pub(super) fn strips(desk: &Desk<'_>, words: &[String]) -> Vec<Strip> {
    let look = &desk.look;
    let (frame, gap) = (if desk.width > 200.0 { 2.2 } else { 1.4 }, look.body * 0.5);
    let corner = look.body * 0.5;
    let side = corner + look.body * 0.3;
    let over = look.body * 0.35;
    let mut rows: Vec<(Vec<Mark>, f64)> = Vec::new();
    let mut x = 0.0;
    for word in words {
        let lines = desk.set(
            word,
            Weight::Bold,
            look.body,
            desk.width - 2.0 * side - frame,
        );
        let wide = lines.iter().map(|l| l.width).fold(0.0, f64::max) + 2.0 * side;
        let high = height(&lines) + 2.0 * over;
        if rows.is_empty() || x + wide + frame > desk.width {
            rows.push((Vec::new(), 0.0));
            x = 0.0;
        }
        let Some((marks, row_high)) = rows.last_mut() else {
            continue;
        };
        let (l, t) = (x + frame / 2.0, frame / 2.0);
        let (r, b) = (l + wide, t + high);
        marks.push(Mark::polygon(
            &[
                (l + corner, t),
                (r - corner, t),
                (r, t + corner),
                (r, b - corner),
                (r - corner, b),
                (l + corner, b),
                (l, b - corner),
                (l, t + corner),
            ],
            None,
            frame,
        ));
        lay_centred(marks, &lines, l + wide / 2.0, t + over);
        *row_high = row_high.max(high + frame);
        x += wide + frame + gap;
    }
    rows.into_iter()
        .enumerate()
        .map(|(i, (marks, high))| Strip::new(marks, high).under(if i > 0 { gap } else { 0.0 }))
        .collect()
}
