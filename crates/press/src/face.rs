//! The two faces everything is set in, and text set into lines of a width.
//!
//! The face is Source Sans 3, regular and bold, under the SIL Open Font License (`fonts/OFL.txt`): its figures are all of one width, so columns
//! of numbers stand under each other. A sign it has not is drawn as an empty box and remembered, so that whoever prints is told.

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

use rustybuzz::{Direction, Face, ShapePlan, UnicodeBuffer, script, shape_with_plan};
use unicode_linebreak::{BreakOpportunity, linebreaks};

use crate::PressError;

/// The bytes of the regular face.
pub(crate) const REGULAR: &[u8] = include_bytes!("../fonts/SourceSans3-Regular.ttf");
/// The bytes of the bold face.
pub(crate) const BOLD: &[u8] = include_bytes!("../fonts/SourceSans3-Bold.ttf");

/// How heavy text is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Weight {
    /// Running text.
    Regular,
    /// What is looked for first.
    Bold,
}

/// A glyph of a line, in parts of the letter size.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Glyph {
    /// Its number in the face.
    pub(crate) id: u16,
    /// The bytes of the text it stands for.
    pub(crate) from: usize,
    /// The bytes of the text it stands for.
    pub(crate) to: usize,
    /// How far the next glyph stands.
    pub(crate) advance: f64,
    /// Moved to the right.
    pub(crate) right: f64,
    /// Moved upward.
    pub(crate) up: f64,
}

/// One line of text, set.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    /// The face.
    pub(crate) weight: Weight,
    /// Size of the letters in points.
    pub(crate) size: f64,
    /// What it says.
    pub(crate) text: String,
    /// How it looks.
    pub(crate) glyphs: Vec<Glyph>,
    /// How wide it is in points.
    pub(crate) width: f64,
}

/// A piece of text between two places where a line may end.
struct Piece {
    text: String,
    glyphs: Vec<Glyph>,
    /// With the spaces at its end.
    advance: f64,
    /// Without them.
    visible: f64,
}

struct One {
    face: Face<'static>,
    plan: ShapePlan,
    per_em: f64,
}

/// Both faces, what was set with them so far, and which signs they had not.
pub(crate) struct Faces {
    regular: One,
    bold: One,
    pieces: RefCell<HashMap<(Weight, String), Rc<Piece>>>,
    missing: RefCell<BTreeSet<char>>,
}

/// From the base line up to the top of a line, as a part of the letter size. Source: the face's own `hhea` table, rounded down to set closer.
const ASCENT: f64 = 0.95;
/// From one base line to the next, as a part of the letter size.
pub(crate) const LEADING: f64 = 1.22;

impl Faces {
    /// The faces, ready.
    pub(crate) fn new() -> Result<Self, PressError> {
        Ok(Self {
            regular: One::new(REGULAR)?,
            bold: One::new(BOLD)?,
            pieces: RefCell::default(),
            missing: RefCell::default(),
        })
    }

    /// The signs that were asked for and are in neither face.
    pub(crate) fn missing(&self) -> Vec<char> {
        self.missing.borrow().iter().copied().collect()
    }

    /// The outline face, for drawing without the font.
    pub(crate) fn outlines(&self, weight: Weight) -> &Face<'static> {
        &self.one(weight).face
    }

    fn one(&self, weight: Weight) -> &One {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// Text in lines no wider than `width`. A word that is wider is broken where it has to be; nothing is left out and no hyphen is added,
    /// because a code with a hyphen in it is another code.
    pub(crate) fn set(&self, text: &str, weight: Weight, size: f64, width: f64) -> Vec<Rc<Line>> {
        let clean: String = text
            .chars()
            .map(|c| if c.is_control() && c != '\n' { ' ' } else { c })
            .collect();
        let mut lines = Vec::new();
        let mut now = Open::new(weight, size);
        let mut start = 0;
        for (end, chance) in linebreaks(&clean) {
            let raw = clean.get(start..end).unwrap_or_default();
            start = end;
            let piece = self.piece(raw.trim_end_matches(['\n', '\u{2028}', '\u{2029}']), weight);
            if now.used + piece.visible * size > width && !now.text.is_empty() {
                lines.push(now.close());
                now = Open::new(weight, size);
            }
            if piece.visible * size > width {
                now = self.broken(&piece, width, now, &mut lines);
            } else {
                now.add(&piece.text, &piece.glyphs, piece.advance);
            }
            if chance == BreakOpportunity::Mandatory && end < clean.len() {
                lines.push(now.close());
                now = Open::new(weight, size);
            }
        }
        lines.push(now.close());
        lines
    }

    /// Text in one line, however wide.
    pub(crate) fn line(&self, text: &str, weight: Weight, size: f64) -> Rc<Line> {
        let flat = text.replace('\n', " ");
        self.set(&flat, weight, size, f64::INFINITY).swap_remove(0)
    }

    /// The width of the widest word.
    pub(crate) fn widest_word(&self, text: &str, weight: Weight, size: f64) -> f64 {
        text.split_whitespace()
            .map(|word| self.line(word, weight, size).width)
            .fold(0.0, f64::max)
    }

    /// Adds a piece that is wider than a line, glyph by glyph.
    fn broken(&self, piece: &Piece, width: f64, mut now: Open, lines: &mut Vec<Rc<Line>>) -> Open {
        let mut at = 0;
        while let Some(first) = piece.glyphs.get(at) {
            let together = piece.glyphs[at..]
                .iter()
                .take_while(|g| g.from == first.from)
                .count();
            let cluster = &piece.glyphs[at..at + together];
            let advance: f64 = cluster.iter().map(|g| g.advance).sum();
            if now.used + advance * now.size > width && !now.text.is_empty() {
                let size = now.size;
                let weight = now.weight;
                lines.push(std::mem::replace(&mut now, Open::new(weight, size)).close());
            }
            let text = piece.text.get(first.from..first.to).unwrap_or_default();
            let local: Vec<Glyph> = cluster
                .iter()
                .map(|g| Glyph {
                    from: g.from - first.from,
                    to: g.to - first.from,
                    ..g.clone()
                })
                .collect();
            now.add(text, &local, advance);
            at += together;
        }
        now
    }

    fn piece(&self, text: &str, weight: Weight) -> Rc<Piece> {
        let key = (weight, text.to_owned());
        if let Some(known) = self.pieces.borrow().get(&key) {
            return Rc::clone(known);
        }
        let piece = Rc::new(self.shape(text, weight));
        self.pieces.borrow_mut().insert(key, Rc::clone(&piece));
        piece
    }

    fn shape(&self, text: &str, weight: Weight) -> Piece {
        let one = self.one(weight);
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        // Always from left to right: a mark that turns direction inside a name turns nothing here.
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(script::LATIN);
        let shaped = shape_with_plan(&one.face, &one.plan, buffer);
        let infos = shaped.glyph_infos();
        let mut starts: Vec<usize> = infos.iter().map(|i| i.cluster as usize).collect();
        starts.push(text.len());
        starts.sort_unstable();
        starts.dedup();
        let glyphs: Vec<Glyph> = infos
            .iter()
            .zip(shaped.glyph_positions())
            .map(|(info, position)| {
                let from = info.cluster as usize;
                let to = starts
                    .get(starts.partition_point(|&s| s <= from))
                    .copied()
                    .unwrap_or(text.len());
                Glyph {
                    id: u16::try_from(info.glyph_id).unwrap_or(0),
                    from,
                    to,
                    advance: f64::from(position.x_advance) / one.per_em,
                    right: f64::from(position.x_offset) / one.per_em,
                    up: f64::from(position.y_offset) / one.per_em,
                }
            })
            .collect();
        for glyph in glyphs.iter().filter(|g| g.id == 0) {
            self.missing
                .borrow_mut()
                .extend(text.get(glyph.from..glyph.to).unwrap_or_default().chars());
        }
        let seen = text.trim_end().len();
        let advance = glyphs.iter().map(|g| g.advance).sum();
        let visible = glyphs
            .iter()
            .filter(|g| g.from < seen)
            .map(|g| g.advance)
            .sum();
        Piece {
            text: text.to_owned(),
            glyphs,
            advance,
            visible,
        }
    }
}

impl One {
    fn new(bytes: &'static [u8]) -> Result<Self, PressError> {
        let face = Face::from_slice(bytes, 0).ok_or(PressError::Face)?;
        let plan = ShapePlan::new(
            &face,
            Direction::LeftToRight,
            Some(script::LATIN),
            None,
            &[],
        );
        let per_em = f64::from(face.units_per_em());
        Ok(Self { face, plan, per_em })
    }
}

/// A line that is being filled.
struct Open {
    weight: Weight,
    size: f64,
    text: String,
    glyphs: Vec<Glyph>,
    used: f64,
}

impl Open {
    fn new(weight: Weight, size: f64) -> Self {
        Self {
            weight,
            size,
            text: String::new(),
            glyphs: Vec::new(),
            used: 0.0,
        }
    }

    fn add(&mut self, text: &str, glyphs: &[Glyph], advance: f64) {
        let base = self.text.len();
        self.text.push_str(text);
        self.glyphs.extend(glyphs.iter().map(|g| Glyph {
            from: g.from + base,
            to: g.to + base,
            ..g.clone()
        }));
        self.used += advance * self.size;
    }

    /// The line without the spaces at its end.
    fn close(mut self) -> Rc<Line> {
        let seen = self.text.trim_end().len();
        self.text.truncate(seen);
        self.glyphs.retain(|g| g.from < seen);
        for glyph in &mut self.glyphs {
            glyph.to = glyph.to.min(seen);
        }
        let width = self.glyphs.iter().map(|g| g.advance).sum::<f64>() * self.size;
        Rc::new(Line {
            weight: self.weight,
            size: self.size,
            text: self.text,
            glyphs: self.glyphs,
            width,
        })
    }
}

impl Line {
    /// Height from the top of this line to the top of the next.
    pub(crate) fn height(&self) -> f64 {
        self.size * LEADING
    }

    /// From the top of the line to its base line.
    pub(crate) fn base(&self) -> f64 {
        self.size * ASCENT
    }
}

/// The height of lines under each other.
pub(crate) fn height(lines: &[Rc<Line>]) -> f64 {
    lines.iter().map(|line| line.height()).sum()
}
