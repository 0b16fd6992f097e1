//! How large a paper is, how wide its edge, how large its letters.
//!
//! Everything inside this room is in points (1/72 inch); millimetres stop here.

use sheets::model::{Size, Stock};

/// Points in a millimetre: an inch is 25.4 mm and 72 points.
pub(crate) const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Millimetres as points.
pub(crate) fn mm(millimetres: f64) -> f64 {
    millimetres * POINTS_PER_MM
}

/// Width and height of a paper in millimetres.
///
/// # Source
///
/// ISO 216 for A3, A4, A5 (from memory); ANSI/ASME Y14.1 for letter and tabloid, half letter as half of a letter (from memory).
/// The label lies: 75 mm wide, 50 mm high.
pub fn millimetres(stock: Stock, size: Size) -> (f64, f64) {
    let (wall, page, card) = match stock {
        Stock::Iso => ((297.0, 420.0), (210.0, 297.0), (148.0, 210.0)),
        Stock::Us => ((279.4, 431.8), (215.9, 279.4), (139.7, 215.9)),
    };
    let lying = |(width, height): (f64, f64)| (height, width);
    match size {
        Size::Wall => wall,
        Size::WallWide => lying(wall),
        Size::Page => page,
        Size::PageWide => lying(page),
        Size::Card => card,
        Size::Label => (75.0, 50.0),
    }
}

/// How a paper of one size looks; everything in points.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    /// The whole paper.
    pub(crate) width: f64,
    /// The whole paper.
    pub(crate) height: f64,
    /// Nothing is printed nearer to the edge than this.
    pub(crate) edge: f64,
    /// Running text.
    pub(crate) body: f64,
    /// What may be smaller than running text: heads of columns, the foot.
    pub(crate) small: f64,
    /// A heading.
    pub(crate) heading: f64,
    /// The title on the first page.
    pub(crate) title: f64,
    /// The number of a `Big`.
    pub(crate) big: f64,
    /// A `Letter`.
    pub(crate) letter: f64,
    /// Height of a line somebody writes on.
    pub(crate) write: f64,
    /// Space between two blocks.
    pub(crate) gap: f64,
    /// Side of a box to tick.
    pub(crate) tick: f64,
}

impl Look {
    /// How papers of this size look.
    pub(crate) fn of(stock: Stock, size: Size) -> Self {
        let (width, height) = millimetres(stock, size);
        let paper = Self {
            width: mm(width),
            height: mm(height),
            edge: mm(12.0),
            body: 11.0,
            small: 10.0,
            heading: 14.0,
            title: 24.0,
            big: 32.0,
            letter: 96.0,
            write: mm(7.0),
            gap: mm(3.5),
            tick: mm(4.2),
        };
        match size {
            Size::Wall | Size::WallWide => Self {
                body: 14.0,
                small: 12.0,
                heading: 22.0,
                title: 40.0,
                big: 56.0,
                letter: 160.0,
                write: mm(11.0),
                gap: mm(5.0),
                tick: mm(5.5),
                ..paper
            },
            Size::Page | Size::PageWide => paper,
            // A card is read standing, at arm's length: nothing on it is under 11 points, the foot neither.
            Size::Card => Self {
                edge: mm(10.0),
                body: 11.5,
                small: 11.0,
                heading: 13.0,
                title: 18.0,
                big: 30.0,
                letter: 84.0,
                write: mm(6.5),
                gap: mm(2.2),
                ..paper
            },
            Size::Label => Self {
                edge: mm(3.0),
                body: 9.0,
                small: 6.5,
                heading: 9.0,
                title: 13.0,
                big: 24.0,
                letter: 46.0,
                write: mm(3.8),
                gap: mm(0.6),
                tick: mm(3.0),
                ..paper
            },
        }
    }

    /// The width there is to print on.
    pub(crate) fn inner(&self) -> f64 {
        self.width - 2.0 * self.edge
    }

    /// The same set closer, for a paper that would run over by a few lines; nothing goes under the least sizes.
    pub(crate) fn closer(&self) -> Self {
        Self {
            body: if self.body < 12.0 {
                11.0
            } else {
                self.body * 0.93
            },
            heading: self.heading * 0.92,
            title: self.title * 0.88,
            big: (self.big * 0.86).max(24.0),
            gap: self.gap * 0.6,
            write: self.write * 0.86,
            tick: self.tick * 0.9,
            ..*self
        }
    }

    /// The same with smaller letters, for a label that says much; numbers and letters keep their size.
    pub(crate) fn tighter(&self, by: f64) -> Self {
        Self {
            body: self.body * by,
            heading: self.heading * by,
            title: self.title * by,
            ..*self
        }
    }
}
