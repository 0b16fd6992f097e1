//! Whole charts against files that were looked at, and what every chart must hold.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at what it did not expect"
)]

use drawing::{Axis, Band, Chart, Curve, DrawingError, Mark, Measured, Shape, Size, Stroke};
use proptest::prelude::*;

fn curve(name: &str, stroke: Stroke, to: f64, f: impl Fn(f64) -> f64) -> Curve {
    Curve {
        name: name.into(),
        points: (0..=200)
            .map(|i| to * f64::from(i) / 200.0)
            .map(|x| (x, f(x)))
            .collect(),
        stroke,
    }
}

/// Invented figures with the shape of salt going into a piece.
fn brining() -> Chart {
    Chart {
        title: "Salt in the middle of a 40 mm piece, brine of 6 %".into(),
        x: Axis::new("time in the brine", "h", 0.0, 48.0),
        y: Axis::new("salt in the water phase", "%", 0.0, 5.0),
        curves: vec![
            curve("surface", Stroke::Dashed, 48.0, |t| {
                4.6 * (1.0 - (-t / 3.0).exp())
            }),
            curve("middle", Stroke::Solid, 48.0, |t| {
                4.4 * (1.0 - (-(t / 22.0).powi(2)).exp())
            }),
            curve("middle, at 2 °C", Stroke::DashDot, 48.0, |t| {
                4.4 * (1.0 - (-(t / 29.0).powi(2)).exp())
            }),
        ],
        bands: vec![Band {
            name: "goal".into(),
            from_y: 2.0,
            to_y: 2.6,
        }],
        marks: vec![
            Mark {
                x: 21.0,
                label: "latest 21 h".into(),
            },
            Mark {
                x: 17.2,
                label: "earliest 17 h".into(),
            },
            Mark {
                x: 19.0,
                label: "best 19 h".into(),
            },
        ],
        measured: vec![Measured {
            name: "tasted".into(),
            points: vec![(6.0, 0.5), (12.0, 1.0), (24.0, 3.2)],
            shape: Shape::Circle,
        }],
    }
}

fn drying() -> Chart {
    Chart {
        title: "Weight of a hung breast, forecast after three weighings".into(),
        x: Axis::new("days hung", "d", 0.0, 21.0),
        y: Axis::new("weight left", "%", 60.0, 100.0),
        curves: vec![
            curve("slow", Stroke::Dotted, 21.0, |d| 100.0 * (-0.017 * d).exp()),
            curve("forecast", Stroke::Solid, 17.0, |d| {
                100.0 * (-0.0209 * d).exp()
            }),
            curve("fast", Stroke::Dashed, 21.0, |d| {
                100.0 * (-0.0235 * d).exp()
            }),
        ],
        bands: vec![
            Band {
                name: "ready: 30 to 35 % lost".into(),
                from_y: 65.0,
                to_y: 70.0,
            },
            Band {
                name: "not cured through".into(),
                from_y: 95.0,
                to_y: 96.0,
            },
        ],
        marks: vec![
            Mark {
                x: 0.0,
                label: "hung Monday".into(),
            },
            Mark {
                x: 17.0,
                label: "ready".into(),
            },
            Mark {
                x: 20.5,
                label: "the party of twelve on Saturday".into(),
            },
        ],
        measured: vec![
            Measured {
                name: "weighed on the shop scale".into(),
                points: vec![(0.0, 100.0), (3.0, 94.2), (7.0, 86.4)],
                shape: Shape::Dot,
            },
            Measured {
                name: "second piece".into(),
                points: vec![(0.0, 100.0), (7.0, 88.0)],
                shape: Shape::Triangle,
            },
        ],
    }
}

/// Small figures below nothing, one falling curve, a name over two lines, no bands.
fn freezing() -> Chart {
    Chart {
        title: "What is < & > \"thin\"?".into(),
        x: Axis::new("time", "min", -10.0, 10.0),
        y: Axis::new("growth", "per h", -4e-7, 4e-7),
        curves: vec![Curve {
            name: "falls through nothing quite steadily".into(),
            points: vec![(-10.0, 3.2e-7), (10.0, -3.2e-7)],
            stroke: Stroke::Solid,
        }],
        bands: vec![],
        marks: vec![],
        measured: vec![
            Measured {
                name: "squares".into(),
                points: vec![(-5.0, 1e-7), (5.0, 2e-7)],
                shape: Shape::Square,
            },
            Measured {
                name: "diamonds".into(),
                points: vec![(-6.0, 0.5e-7), (6.0, 1e-7)],
                shape: Shape::Diamond,
            },
            Measured {
                name: "crosses".into(),
                points: vec![(-7.0, 0.0), (7.0, 0.0)],
                shape: Shape::Cross,
            },
        ],
    }
}

/// Compares with a file that was looked at; a chart that differs is left in the build's scratch
/// directory to be looked at and, when right, copied over the file.
fn same_as(file: &str, golden: &str, chart: &Chart, size: Size) {
    let drawn = chart.svg(size).unwrap();
    if drawn != golden {
        let at = format!("{}/{file}", env!("CARGO_TARGET_TMPDIR"));
        #[expect(
            clippy::disallowed_methods,
            reason = "a test leaves its finding for a person to look at"
        )]
        std::fs::write(&at, &drawn).unwrap();
        panic!(
            "{file} differs from tests/golden/{file}; the new drawing is in {at}: look at it, then copy it over"
        );
    }
}

#[test]
fn a_brining_on_a5_is_as_it_was_looked_at() {
    same_as(
        "brining-a5.svg",
        include_str!("golden/brining-a5.svg"),
        &brining(),
        Size::A5,
    );
}

#[test]
fn a_brining_on_screen_is_as_it_was_looked_at() {
    same_as(
        "brining-screen.svg",
        include_str!("golden/brining-screen.svg"),
        &brining(),
        Size::Screen,
    );
}

#[test]
fn a_drying_on_a5_is_as_it_was_looked_at() {
    same_as(
        "drying-a5.svg",
        include_str!("golden/drying-a5.svg"),
        &drying(),
        Size::A5,
    );
}

#[test]
fn small_figures_on_a5_are_as_they_were_looked_at() {
    same_as(
        "freezing-a5.svg",
        include_str!("golden/freezing-a5.svg"),
        &freezing(),
        Size::A5,
    );
}

#[test]
fn the_description_tells_curves_marks_bands_and_points() {
    let svg = brining().svg(Size::A5).unwrap();
    let desc = svg
        .split("<desc>")
        .nth(1)
        .unwrap()
        .split("</desc>")
        .next()
        .unwrap();
    for part in [
        "Upwards salt in the water phase, 0 to 5 %; to the right time in the brine, 0 to 48 h.",
        "Curve surface (dashed line): from 0 % at 0 h, to 4.6 % at 48 h.",
        "Band goal: 2 to 2.6 %.",
        "Mark earliest 17 h: 17.2 h. Mark best 19 h: 19 h.",
        "Measured tasted (circles): 0.5 % at 6 h, 1 % at 12 h, 3.2 % at 24 h.",
    ] {
        assert!(desc.contains(part), "{part}\nin\n{desc}");
    }
}

#[test]
fn what_cannot_be_drawn_says_why() {
    let refused = |change: fn(&mut Chart)| {
        let mut chart = brining();
        change(&mut chart);
        chart.svg(Size::A5).unwrap_err()
    };
    assert!(matches!(
        refused(|c| {
            c.curves.clear();
            c.measured.clear();
        }),
        DrawingError::Empty { .. }
    ));
    assert!(matches!(
        refused(|c| c.curves[0].points.clear()),
        DrawingError::TooFewPoints { .. }
    ));
    assert!(matches!(
        refused(|c| c.measured[0].points.clear()),
        DrawingError::TooFewPoints { .. }
    ));
    for bad in [f64::NAN, f64::INFINITY] {
        let mut chart = brining();
        chart.curves[1].points[3].1 = bad;
        let error = chart.svg(Size::A5).unwrap_err();
        assert!(
            matches!(&error, DrawingError::NotFinite { what, index: 4, .. } if what == "middle"),
            "{error}"
        );
    }
    let outside = refused(|c| c.curves[0].points[7].1 = 5.2);
    assert_eq!(
        outside.to_string(),
        "surface: found 5.2 on the axis \"salt in the water phase\"; expected 0 to 5; widen the axis, or leave the \
         point out"
    );
    assert!(matches!(
        refused(|c| c.marks[0].x = 50.0),
        DrawingError::OutsideAxis { .. }
    ));
    assert!(matches!(
        refused(|c| c.bands[0].to_y = 1.0),
        DrawingError::NoBand { .. }
    ));
    assert!(matches!(
        refused(|c| c.x.to = 0.0),
        DrawingError::NoStretch { .. }
    ));
    assert!(matches!(
        refused(|c| c.y.from = f64::NAN),
        DrawingError::NoStretch { .. }
    ));
    assert!(matches!(
        refused(|c| c.title = "  ".into()),
        DrawingError::NoWords { .. }
    ));
    assert!(matches!(
        refused(|c| c.title = "a\u{202E}b".into()),
        DrawingError::Unprintable { .. }
    ));
    assert!(matches!(
        refused(|c| c.curves[0].name = "m".repeat(60)),
        DrawingError::TooLong { .. }
    ));
    assert!(matches!(
        refused(|c| c.marks = (0..14)
            .map(|i| Mark {
                x: f64::from(i) / 10.0,
                label: "one after another".into()
            })
            .collect()),
        DrawingError::Crowded { .. }
    ));
    assert!(matches!(
        refused(|c| c.curves = vec![c.curves[0].clone(); 30]),
        DrawingError::Crowded { .. }
    ));
    assert!(matches!(
        refused(|c| c.bands[0].name = "goal ".repeat(30)),
        DrawingError::TooLong { .. }
    ));
}

#[test]
fn hostile_words_stay_words() {
    let mut chart = brining();
    let hostile = "</text><script>alert(1)</script>&lt;";
    chart.title = hostile.into();
    chart.x.unit = "\"><b>".into();
    chart.curves[0].name = "]]> <!-- ".into();
    chart.marks[0].label = "' onload='x".into();
    chart.bands[0].name = "&#x3c;".into();
    let svg = chart.svg(Size::Screen).unwrap();
    assert!(
        !svg.contains("<script")
            && !svg.contains("<!--")
            && !svg.contains("<b>")
            && !svg.contains("]]>")
    );
    assert!(svg.contains("&lt;/text&gt;&lt;script&gt;alert(1)&lt;/script&gt;&amp;lt;"));
    assert!(svg.contains("&amp;#x3c;"));
    tags_close(&svg);
}

/// Every tag opened is closed in order and every attribute is quoted: a small check of form.
fn tags_close(svg: &str) {
    let mut open = Vec::new();
    for piece in svg.split('<').skip(1) {
        let (tag, _) = piece.split_once('>').unwrap();
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(tag.split(' ').next().unwrap());
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

proptest! {
    #[test]
    fn any_curve_with_an_axis_around_it_is_drawn_inside_the_paper(
        points in prop::collection::vec((-1e6..1e6_f64, -1e-3..1e3_f64), 2..40),
        name in "[ -~]{1,30}",
        size in prop::sample::select(vec![Size::A5, Size::Screen]),
    ) {
        prop_assume!(!name.trim().is_empty() && name.split(' ').all(|w| w.len() < 12));
        let chart = Chart {
            title: name.clone(),
            x: Axis::around("x", "", points.iter().map(|p| p.0)).unwrap(),
            y: Axis::around("y", "g", points.iter().map(|p| p.1)).unwrap(),
            curves: vec![Curve { name, points, stroke: Stroke::Dotted }],
            bands: vec![],
            marks: vec![],
            measured: vec![],
        };
        let svg = chart.svg(size).unwrap();
        prop_assert_eq!(&svg, &chart.svg(size).unwrap());
        tags_close(&svg);
        prop_assert!(!svg.contains("NaN") && !svg.contains("inf\""));
        let (width, height) = if size == Size::A5 { (480.0, 330.0) } else { (720.0, 450.0) };
        for text in svg.split("<text ").skip(1) {
            let number = |key: &str| -> f64 {
                text.split(key).nth(1).unwrap().split('"').next().unwrap().parse().unwrap()
            };
            prop_assert!((0.0..=width).contains(&number("x=\"")) && (0.0..=height).contains(&number("y=\"")));
        }
    }
}
