//! Lines, hatches and point shapes as SVG path data.

use std::fmt::Write as _;

use crate::chart::Shape;
use crate::labels::Area;
use crate::text::place;

/// How far a line may move when points are dropped from it, CSS pixels: a tenth of a hairline.
const UNSEEN: f64 = 0.03;

/// Path data of a line through the points, without those nobody would miss.
pub(crate) fn line(points: &[(f64, f64)]) -> String {
    let mut data = String::new();
    let mut last = None;
    for (x, y) in simplified(points) {
        let at = format!("{} {}", place(x), place(y));
        if last.as_ref() == Some(&at) {
            continue;
        }
        data.push_str(if last.is_none() { "M" } else { "L" });
        data.push_str(&at);
        last = Some(at);
    }
    data
}

/// # Method
/// Keep both ends; keep the point farthest from the straight line between them when it is farther
/// than [`UNSEEN`], and do the same on either side of it.
fn simplified(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    if points.len() < 3 {
        return points.to_vec();
    }
    let mut keep = vec![false; points.len()];
    keep[0] = true;
    keep[points.len() - 1] = true;
    let mut open = vec![(0, points.len() - 1)];
    while let Some((first, last)) = open.pop() {
        let mut farthest = (UNSEEN, None);
        for i in first + 1..last {
            let distance = distance(points[i], points[first], points[last]);
            if distance > farthest.0 {
                farthest = (distance, Some(i));
            }
        }
        if let Some(i) = farthest.1 {
            keep[i] = true;
            open.push((first, i));
            open.push((i, last));
        }
    }
    points
        .iter()
        .zip(keep)
        .filter_map(|(&p, kept)| kept.then_some(p))
        .collect()
}

/// From a point to the straight stretch between two others.
fn distance(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length2 = dx * dx + dy * dy;
    let along = if length2 > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.0 - a.0 - along * dx).hypot(p.1 - a.1 - along * dy)
}

/// Path data of slanting hairlines filling an area, `apart` from one to the next along its edge.
pub(crate) fn hatch(area: &Area, apart: f64, rising: bool) -> String {
    let mut data = String::new();
    let (from, to) = if rising {
        (area.left + area.top, area.right + area.bottom)
    } else {
        (area.top - area.right, area.bottom - area.left)
    };
    let mut at = (from / apart).floor() * apart + apart;
    while at < to {
        let (x1, x2) = if rising {
            (
                area.left.max(at - area.bottom),
                area.right.min(at - area.top),
            )
        } else {
            (
                area.left.max(area.top - at),
                area.right.min(area.bottom - at),
            )
        };
        let y = |x: f64| if rising { at - x } else { at + x };
        if x2 - x1 > 0.01 {
            let _ = write!(
                data,
                "M{} {}L{} {}",
                place(x1),
                place(y(x1)),
                place(x2),
                place(y(x2))
            );
        }
        at += apart;
    }
    data
}

/// The element of a point shape of half width `r` at a place.
pub(crate) fn point(shape: Shape, (x, y): (f64, f64), r: f64) -> String {
    let path = |steps: &[(f64, f64)]| {
        let mut data = String::new();
        for (i, (dx, dy)) in steps.iter().enumerate() {
            data.push_str(if i == 0 { "M" } else { "L" });
            let _ = write!(data, "{} {}", place(x + dx * r), place(y + dy * r));
        }
        data
    };
    let open = |steps: &[(f64, f64)]| {
        format!(
            r##"<path d="{}Z" fill="#fff" stroke="#000" stroke-width="1.2"/>"##,
            path(steps)
        )
    };
    match shape {
        Shape::Circle => format!(
            r##"<circle cx="{}" cy="{}" r="{}" fill="#fff" stroke="#000" stroke-width="1.2"/>"##,
            place(x),
            place(y),
            place(r)
        ),
        Shape::Dot => format!(
            r#"<circle cx="{}" cy="{}" r="{}"/>"#,
            place(x),
            place(y),
            place(r)
        ),
        Shape::Square => open(&[(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)]),
        Shape::Triangle => open(&[(0.0, -1.2), (1.1, 0.8), (-1.1, 0.8)]),
        Shape::Diamond => open(&[(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)]),
        Shape::Cross => format!(
            r##"<path d="{}{}" fill="none" stroke="#000" stroke-width="1.4"/>"##,
            path(&[(-1.0, -1.0), (1.0, 1.0)]),
            path(&[(-1.0, 1.0), (1.0, -1.0)])
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_straight_line_keeps_its_ends() {
        let points: Vec<(f64, f64)> = (0..=1000)
            .map(|i| (f64::from(i), f64::from(i) / 2.0))
            .collect();
        assert_eq!(line(&points), "M0 0L1000 500");
    }

    #[test]
    fn a_hatch_stays_inside_its_area() {
        let area = Area {
            left: 10.0,
            top: 5.0,
            right: 60.0,
            bottom: 17.0,
        };
        for rising in [true, false] {
            let data = hatch(&area, 6.0, rising);
            let numbers: Vec<f64> = data
                .split(['M', 'L', ' '])
                .filter(|t| !t.is_empty())
                .map(|t| t.parse().unwrap())
                .collect();
            assert!(numbers.len() >= 20, "{data}");
            for pair in numbers.chunks(2) {
                assert!(
                    (10.0..=60.0).contains(&pair[0]) && (5.0..=17.0).contains(&pair[1]),
                    "{data}"
                );
            }
        }
    }

    proptest! {
        #[test]
        fn no_dropped_point_is_missed(ys in prop::collection::vec(0.0..200.0_f64, 3..80)) {
            let points: Vec<(f64, f64)> = ys.iter().enumerate().map(|(i, &y)| (i as f64 * 3.0, y / 10.0)).collect();
            let kept = simplified(&points);
            for &p in &points {
                let nearest = kept.windows(2).map(|w| distance(p, w[0], w[1])).fold(f64::INFINITY, f64::min);
                prop_assert!(nearest <= UNSEEN + 1e-9);
            }
        }
    }
}
