//! Pages as SVG for the screen: the same marks, letters as outlines, so that no font has to be there.

use std::collections::BTreeSet;
use std::fmt::Write;

use rustybuzz::ttf_parser::{GlyphId, OutlineBuilder};

use crate::face::{Faces, Weight};
use crate::ink::{Ink, Mark, Pen};
use crate::page::Leaf;

/// A page as SVG; `name` keeps the ids of several pages on one screen apart.
pub(crate) fn write(faces: &Faces, leaf: &Leaf, name: &str, title: &str) -> String {
    let name: String = name
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '-' {
                c
            } else {
                '-'
            }
        })
        .collect();
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}pt\" height=\"{h}pt\" role=\"img\" aria-label=\"{}\">",
        escaped(title),
        w = short(leaf.width),
        h = short(leaf.height),
    );
    out.push_str("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/><defs>");
    for (bold, id) in used(leaf) {
        let weight = if bold { Weight::Bold } else { Weight::Regular };
        let mut outline = Outline(String::new());
        if faces
            .outlines(weight)
            .outline_glyph(GlyphId(id), &mut outline)
            .is_some()
        {
            let _ = write!(
                out,
                "<path id=\"{name}-{}{id}\" d=\"{}\"/>",
                letter(bold),
                outline.0
            );
        }
    }
    out.push_str("</defs>");
    for mark in &leaf.marks {
        draw(&mut out, mark, &name, faces);
    }
    out.push_str("</svg>\n");
    out
}

fn letter(bold: bool) -> char {
    if bold { 'b' } else { 'r' }
}

fn used(leaf: &Leaf) -> BTreeSet<(bool, u16)> {
    leaf.marks
        .iter()
        .filter_map(|m| {
            if let Mark::Text { line, .. } = m {
                Some(line)
            } else {
                None
            }
        })
        .flat_map(|line| {
            line.glyphs
                .iter()
                .map(|g| (line.weight == Weight::Bold, g.id))
        })
        .collect()
}

fn draw(out: &mut String, mark: &Mark, name: &str, faces: &Faces) {
    match mark {
        Mark::Text {
            x,
            y,
            line,
            ink,
            turned,
        } => {
            let scale = line.size / f64::from(faces.outlines(line.weight).units_per_em());
            let turn = if *turned { " rotate(-90)" } else { "" };
            let _ = write!(
                out,
                "<g fill=\"{}\" transform=\"translate({} {}){turn} scale({scale:.5} -{scale:.5})\"><title>{}</title>",
                colour(*ink),
                short(*x),
                short(*y),
                escaped(&line.text),
            );
            let per_em = f64::from(faces.outlines(line.weight).units_per_em());
            let mut at = 0.0;
            for glyph in &line.glyphs {
                let visible = faces
                    .outlines(line.weight)
                    .glyph_bounding_box(GlyphId(glyph.id))
                    .is_some();
                if visible {
                    let _ = write!(
                        out,
                        "<use href=\"#{name}-{}{}\" x=\"{}\" y=\"{}\"/>",
                        letter(line.weight == Weight::Bold),
                        glyph.id,
                        short((at + glyph.right) * per_em),
                        short(glyph.up * per_em),
                    );
                }
                at += glyph.advance;
            }
            out.push_str("</g>");
        }
        Mark::Shape { pens, fill, stroke } => {
            out.push_str("<path d=\"");
            for pen in pens {
                let _ = match *pen {
                    Pen::Move(x, y) => write!(out, "M{} {}", short(x), short(y)),
                    Pen::Line(x, y) => write!(out, "L{} {}", short(x), short(y)),
                    Pen::Curve(a, b, c, d, x, y) => {
                        write!(
                            out,
                            "C{} {} {} {} {} {}",
                            short(a),
                            short(b),
                            short(c),
                            short(d),
                            short(x),
                            short(y)
                        )
                    }
                    Pen::Close => write!(out, "Z"),
                };
            }
            let _ = write!(out, "\" fill=\"{}\"", fill.map_or("none", colour));
            if let Some(stroke) = stroke {
                let _ = write!(
                    out,
                    " stroke=\"#000\" stroke-width=\"{}\"",
                    short(stroke.width)
                );
                if let Some(dash) = stroke.dash {
                    let _ = write!(out, " stroke-dasharray=\"{}\"", short(dash));
                }
            }
            out.push_str("/>");
        }
    }
}

fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#000",
        Ink::White => "#fff",
    }
}

/// Two decimals: a hundredth of a point is not to be seen.
fn short(points: f64) -> String {
    let text = format!("{points:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

fn escaped(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_control())
        .map(|c| match c {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            '>' => "&gt;".to_owned(),
            '"' => "&quot;".to_owned(),
            other => other.to_string(),
        })
        .collect()
}

struct Outline(String);

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.0, "M{x} {y}");
    }
    fn line_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.0, "L{x} {y}");
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let _ = write!(self.0, "Q{x1} {y1} {x} {y}");
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let _ = write!(self.0, "C{x1} {y1} {x2} {y2} {x} {y}");
    }
    fn close(&mut self) {
        self.0.push('Z');
    }
}
