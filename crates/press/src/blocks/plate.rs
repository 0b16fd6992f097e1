//! The plate from above, read as a clock face, with what lies where in a list beside it.

use sheets::model::{Part, Plate};

use super::{Desk, lay, lay_centred, lay_right};
use crate::PressError;
use crate::face::{Weight, height};
use crate::flow::Strip;
use crate::ink::{Ink, Mark, on_clock};
use crate::paper::mm;

/// The drawing and, beside or under it, the list.
pub(super) fn strips(desk: &Desk<'_>, plate: &Plate) -> Result<Vec<Strip>, PressError> {
    for part in &plate.parts {
        let hours = (0.0..=12.0).contains(&part.from_hour) && (0.0..=12.0).contains(&part.to_hour);
        if !hours || !(0.0..=1.0).contains(&part.reach) {
            return Err(desk.refuse(
                format!(
                    "{} on a plate from hour {} to {}, at {} of the way to the rim",
                    part.name, part.from_hour, part.to_hour, part.reach
                ),
                "hours from 0 to 12, and from 0 (middle) to 1 (rim)",
            ));
        }
    }
    let look = &desk.look;
    let beside = desk.width > mm(110.0);
    let outer = if beside {
        (desk.width * 0.5).min(mm(110.0))
    } else {
        (desk.width * 0.8).min(mm(85.0))
    };
    let face = drawing(desk, plate, outer);
    let (list_at, list_width) = if beside {
        (outer + look.gap, desk.width - outer - look.gap)
    } else {
        (0.0, desk.width)
    };
    let rows = list(desk, plate, list_width);
    if beside && rows.iter().map(|r| r.height).sum::<f64>() <= desk.room {
        let high = rows.iter().map(|r| r.height).sum::<f64>().max(outer);
        let mut marks = face;
        let mut y = 0.0;
        for row in rows {
            marks.extend(row.marks.into_iter().map(|m| m.moved(list_at, y)));
            y += row.height;
        }
        return Ok(vec![Strip::new(marks, high)]);
    }
    let left = (desk.width - outer) / 2.0;
    let face = face.into_iter().map(|m| m.moved(left, 0.0)).collect();
    let mut strips = vec![Strip::new(face, outer + look.gap)];
    strips.extend(if beside {
        list(desk, plate, desk.width)
    } else {
        rows
    });
    Ok(strips)
}

fn drawing(desk: &Desk<'_>, plate: &Plate, outer: f64) -> Vec<Mark> {
    let size = desk.look.body;
    let middle = (outer / 2.0, outer / 2.0);
    let rim = outer / 2.0 - size * 1.5;
    let mut marks = vec![
        Mark::circle(middle, rim, None, 1.6),
        Mark::circle(middle, rim * 0.93, None, 0.4),
    ];
    for hour in 0..12 {
        let hour = f64::from(hour);
        let (a, b) = (
            on_clock(middle, rim, hour),
            on_clock(middle, rim + size * 0.35, hour),
        );
        marks.push(Mark::line(a, b, if hour % 3.0 == 0.0 { 1.6 } else { 0.8 }));
    }
    for (hour, word) in [(0.0, "12"), (3.0, "3"), (6.0, "6"), (9.0, "9")] {
        let (x, y) = on_clock(middle, rim + size * 0.95, hour);
        let line = desk.faces.line(word, Weight::Bold, size);
        lay_centred(&mut marks, std::slice::from_ref(&line), x, y - size * 0.62);
    }
    let dot = size * 0.85;
    let mut taken: Vec<(f64, f64)> = Vec::new();
    let mut dots = Vec::new();
    for (i, part) in plate.parts.iter().enumerate() {
        let reach = part.reach * (rim * 0.93 - dot * 1.1);
        let (from, to) = span(part);
        let at = on_clock(middle, reach, f64::midpoint(from, to));
        // Two that lie on each other are drawn beside each other, or the lower one could not be read.
        let mut here = at;
        let mut step = 0;
        while taken
            .iter()
            .any(|t| (t.0 - here.0).hypot(t.1 - here.1) < 2.2 * dot)
            && step < 48
        {
            step += 1;
            here = on_clock(
                at,
                dot * (1.2 + f64::from(step) * 0.12),
                f64::from(step) * 2.6,
            );
        }
        taken.push(here);
        if to > from && part.reach > 0.0 {
            marks.push(Mark::arc(middle, reach, from, to, 4.0));
            for end in [from, to] {
                let (a, b) = (
                    on_clock(middle, reach - 5.0, end),
                    on_clock(middle, reach + 5.0, end),
                );
                marks.push(Mark::line(a, b, 1.2));
            }
        }
        dots.push(Mark::circle(here, dot, Some(Ink::White), 1.2));
        let line = desk.faces.line(&(i + 1).to_string(), Weight::Bold, size);
        dots.push(Mark::text(
            here.0 - line.width / 2.0,
            here.1 + size * 0.33,
            line,
        ));
    }
    marks.extend(dots);
    marks
}

/// Where a part starts and ends, the end never before the start: past noon it runs on.
fn span(part: &Part) -> (f64, f64) {
    if part.to_hour < part.from_hour {
        (part.from_hour, part.to_hour + 12.0)
    } else {
        (part.from_hour, part.to_hour)
    }
}

/// An hour of the clock face as it is said: 12 and not 0.
fn said(hour: f64) -> String {
    let hour = if hour < 0.5 { hour + 12.0 } else { hour };
    let half = ((hour * 2.0).round() / 2.0).fract() > 0.25;
    let whole = (hour * 2.0).round() / 2.0;
    if half {
        format!("{}½", whole.floor())
    } else {
        format!("{whole:.0}")
    }
}

fn list(desk: &Desk<'_>, plate: &Plate, width: f64) -> Vec<Strip> {
    let look = &desk.look;
    let pad = look.body * 0.35;
    let at = look.body * 2.4;
    let clock_of = |part: &Part| {
        if part.reach == 0.0 {
            "•".to_owned()
        } else if (part.to_hour - part.from_hour).abs() < 0.25 {
            said(part.from_hour)
        } else {
            format!("{}–{}", said(part.from_hour), said(part.to_hour))
        }
    };
    let clocks = plate
        .parts
        .iter()
        .map(|p| {
            desk.faces
                .line(&clock_of(p), Weight::Regular, look.body)
                .width
        })
        .fold(0.0, f64::max);
    let weights = plate
        .parts
        .iter()
        .map(|p| desk.faces.line(&p.weight, Weight::Bold, look.body).width)
        .fold(0.0, f64::max)
        .min(width * 0.35);
    let names = width - at - clocks - weights - 2.0 * look.body;
    plate
        .parts
        .iter()
        .enumerate()
        .map(|(i, part)| {
            let name = desk.set(&part.name, Weight::Regular, look.body, names);
            let weight = desk.set(&part.weight, Weight::Bold, look.body, weights.max(1.0));
            let clock = desk.faces.line(&clock_of(part), Weight::Regular, look.body);
            let number = desk
                .faces
                .line(&(i + 1).to_string(), Weight::Bold, look.body);
            let high = height(&name).max(height(&weight)).max(look.body * 1.7) + 2.0 * pad;
            let dot = look.body * 0.85;
            let line = pad + dot;
            let mut marks = vec![Mark::circle((dot + 0.6, line), dot, None, 1.2)];
            marks.push(Mark::text(
                dot + 0.6 - number.width / 2.0,
                line + look.body * 0.33,
                number,
            ));
            let top = line + look.body * 0.33 - look.body * 0.95;
            lay(&mut marks, &name, at, top);
            lay_right(&mut marks, &weight, width - clocks - look.body, top);
            lay_right(&mut marks, std::slice::from_ref(&clock), width, top);
            marks.push(Mark::line((0.0, high), (width, high), 0.4));
            Strip::new(marks, high)
        })
        .collect()
}
