//! Pages as PDF, with the text as text so that it can be searched, copied and read aloud.

use krilla::Document;
use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use crate::face::{BOLD, Line, REGULAR, Weight};
use crate::ink::{Ink, Mark, Pen, Stroke};
use crate::page::Leaf;
use crate::{Made, PressError, Tongue};

/// Points as the file keeps them.
#[allow(clippy::cast_possible_truncation)] // a page is a few thousand points; a single keeps a ten-thousandth of one
fn single(points: f64) -> f32 {
    points as f32
}

/// One document of several papers, each with a name in the list of contents.
pub(crate) fn write(
    papers: &[(&str, &[Leaf])],
    title: &str,
    tongue: Tongue,
    made: Made,
) -> Result<Vec<u8>, PressError> {
    let regular = Font::new(REGULAR.into(), 0).ok_or(PressError::Face)?;
    let bold = Font::new(BOLD.into(), 0).ok_or(PressError::Face)?;
    let mut document = Document::new();
    let mut contents = Outline::new();
    let mut number = 0;
    for (name, leaves) in papers {
        contents.push_child(OutlineNode::new(
            (*name).to_owned(),
            XyzDestination::new(number, Point::from_xy(0.0, 0.0)),
        ));
        for leaf in *leaves {
            let settings = PageSettings::from_wh(single(leaf.width), single(leaf.height))
                .ok_or(PressError::Page)?;
            let mut page = document.start_page_with(settings);
            let mut surface = page.surface();
            for mark in &leaf.marks {
                draw(&mut surface, mark, &regular, &bold);
            }
            surface.finish();
            page.finish();
            number += 1;
        }
    }
    document.set_outline(contents);
    let (year, month, day, hour, minute) = made.utc;
    let date = DateTime::new(year)
        .month(month)
        .day(day)
        .hour(hour)
        .minute(minute)
        .second(0)
        .utc_offset_hour(0)
        .utc_offset_minute(0);
    let language = match tongue {
        Tongue::En => "en",
        Tongue::Fr => "fr",
    };
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .language(language.to_owned())
            .creator("Saltern".to_owned())
            .creation_date(date),
    );
    document
        .finish()
        .map_err(|error| PressError::Pdf(format!("{error:?}")))
}

fn colour(ink: Ink) -> luma::Color {
    match ink {
        Ink::Black => luma::Color::black(),
        Ink::White => luma::Color::white(),
    }
}

fn fill(ink: Ink) -> Fill {
    Fill {
        paint: colour(ink).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

fn stroke(stroke: Stroke) -> PdfStroke {
    PdfStroke {
        paint: luma::Color::black().into(),
        width: single(stroke.width),
        line_cap: LineCap::Butt,
        dash: stroke.dash.map(|dash| StrokeDash {
            array: vec![single(dash), single(dash)],
            offset: 0.0,
        }),
        ..PdfStroke::default()
    }
}

fn draw(surface: &mut Surface<'_>, mark: &Mark, regular: &Font, bold: &Font) {
    match mark {
        Mark::Text {
            x,
            y,
            line,
            ink,
            turned,
        } => {
            if line.glyphs.is_empty() {
                return;
            }
            surface.set_fill(Some(fill(*ink)));
            surface.set_stroke(None);
            let font = match line.weight {
                Weight::Regular => regular,
                Weight::Bold => bold,
            };
            if *turned {
                // A quarter turn against the clock around the start of the base line.
                surface.push_transform(&Transform::from_row(
                    0.0,
                    -1.0,
                    1.0,
                    0.0,
                    single(*x),
                    single(*y),
                ));
            } else {
                surface.push_transform(&Transform::from_translate(single(*x), single(*y)));
            }
            surface.draw_glyphs(
                Point::from_xy(0.0, 0.0),
                &glyphs(line),
                font.clone(),
                &line.text,
                single(line.size),
                false,
            );
            surface.pop();
        }
        Mark::Shape {
            pens,
            fill: filled,
            stroke: stroked,
        } => {
            if let Some(path) = path(pens) {
                surface.set_fill(filled.map(fill));
                surface.set_stroke(stroked.map(stroke));
                surface.draw_path(&path);
            }
        }
    }
}

fn glyphs(line: &Line) -> Vec<KrillaGlyph> {
    line.glyphs
        .iter()
        .map(|g| KrillaGlyph {
            glyph_id: GlyphId::new(u32::from(g.id)),
            text_range: g.from..g.to,
            x_advance: single(g.advance),
            x_offset: single(g.right),
            y_offset: single(g.up),
            y_advance: 0.0,
            location: None,
        })
        .collect()
}

fn path(pens: &[Pen]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for pen in pens {
        match *pen {
            Pen::Move(x, y) => builder.move_to(single(x), single(y)),
            Pen::Line(x, y) => builder.line_to(single(x), single(y)),
            Pen::Curve(a, b, c, d, x, y) => builder.cubic_to(
                single(a),
                single(b),
                single(c),
                single(d),
                single(x),
                single(y),
            ),
            Pen::Close => builder.close(),
        }
    }
    builder.finish()
}
