//! Sheets on paper: values of `sheets` drawn as PDF for the printer and as SVG for the screen.
//!
//! A sheet becomes *strips* (a line, a row, a drawing: what is never torn), strips fill pages, pages are marks of black and white, and the
//! marks are written as PDF or SVG. Whatever a sheet says is set as text and never read as anything else: no name can be a command here.
//! The room opens no file: the faces are compiled in. The same sheets give the same bytes.
//!
//! ```
//! use press::{Labels, Made, Print, Tongue};
//! use sheets::model::{Block, Kind, Sheet, Size, Stock};
//!
//! let sheet = Sheet {
//!     id: "station-card-1".into(),
//!     kind: Kind::StationCard,
//!     size: Size::Card,
//!     title: "Station 1".into(),
//!     under: vec![],
//!     blocks: vec![Block::Text("Weigh the salt.".into())],
//!     foot: vec!["plan 3".into()],
//! };
//! let print = Print { stock: Stock::Iso, tongue: Tongue::En, labels: Labels::Single };
//! let laid = press::lay(&[sheet], &print)?;
//! assert_eq!(laid.pages(), 1);
//! assert!(laid.pdf("Cards", Made { utc: (2027, 2, 1, 12, 0) })?.starts_with(b"%PDF"));
//! # Ok::<(), press::PressError>(())
//! ```

mod blocks;
mod face;
mod flow;
mod ink;
mod label;
mod page;
mod paper;
mod pdf;
mod svg;

use sheets::model::{Kind, Sheet, Size, Stock};

pub use label::grid;
pub use paper::millimetres;

/// The language of what the press itself adds: `page 2 of 3`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tongue {
    /// English.
    En,
    /// French.
    Fr,
}

/// Whether labels come one a page, for a label printer, or side by side on a sheet to be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Labels {
    /// One a page.
    Single,
    /// On A4 or letter, with marks to cut at.
    Cut,
}

/// How sheets are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Print {
    /// The paper.
    pub stock: Stock,
    /// The language.
    pub tongue: Tongue,
    /// What happens to labels.
    pub labels: Labels,
}

/// When the papers were made, in UTC; it goes into the PDF and comes from whoever asks, so that the bytes do not depend on the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Made {
    /// Year, month, day, hour, minute.
    pub utc: (u16, u8, u8, u8, u8),
}

/// Why nothing could be drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PressError {
    /// A sheet says something that cannot be drawn.
    #[error("sheet {sheet}: found {found}; expected {expected}")]
    Sheet {
        /// Which sheet.
        sheet: String,
        /// What was found.
        found: String,
        /// What was expected.
        expected: String,
    },
    /// A face compiled in cannot be read: a fault of the build.
    #[error("a face that is part of the program cannot be read")]
    Face,
    /// A page of no size: a fault of the press.
    #[error("a page of no size")]
    Page,
    /// The PDF could not be written: a fault of the press.
    #[error("the PDF could not be written: {0}")]
    Pdf(String),
}

/// Sheets laid out on pages, to be written as PDF or SVG.
pub struct Laid {
    faces: face::Faces,
    papers: Vec<Paper>,
    tongue: Tongue,
}

struct Paper {
    id: String,
    kind: Kind,
    title: String,
    leaves: Vec<page::Leaf>,
}

/// Lays sheets out on pages, in the order they come. Labels to be cut are put together where the first of them stands.
///
/// # Errors
///
/// [`PressError::Sheet`] for a table with a row too short, bars outside their own time, a part beside its plate, a code no camera would read.
pub fn lay(sheets: &[Sheet], print: &Print) -> Result<Laid, PressError> {
    let faces = face::Faces::new()?;
    let mut papers: Vec<Paper> = Vec::new();
    let mut labels: Vec<page::Leaf> = Vec::new();
    let mut labels_at = None;
    for sheet in sheets {
        let cut = print.labels == Labels::Cut && sheet.size == Size::Label;
        let leaves = if sheet.size == Size::Label {
            label::labels(&faces, sheet, print.stock)?
        } else {
            page::pages(&faces, sheet, print)?
        };
        if cut {
            labels.extend(leaves);
            if labels_at.is_some() {
                continue;
            }
            labels_at = Some(papers.len());
            papers.push(Paper {
                id: "labels".to_owned(),
                kind: sheet.kind,
                title: sheet.title.clone(),
                leaves: Vec::new(),
            });
        } else {
            papers.push(Paper {
                id: sheet.id.clone(),
                kind: sheet.kind,
                title: sheet.title.clone(),
                leaves,
            });
        }
    }
    if let Some(paper) = labels_at.and_then(|at| papers.get_mut(at)) {
        paper.leaves = label::imposed(&labels, print.stock);
    }
    Ok(Laid {
        faces,
        papers,
        tongue: print.tongue,
    })
}

impl Laid {
    /// How many pages there are.
    pub fn pages(&self) -> usize {
        self.papers.iter().map(|p| p.leaves.len()).sum()
    }

    /// Pages of each kind of paper, in the order of the kinds.
    pub fn by_kind(&self) -> Vec<(Kind, usize)> {
        let mut kinds: Vec<(Kind, usize)> = Vec::new();
        for paper in &self.papers {
            match kinds.iter_mut().find(|(kind, _)| *kind == paper.kind) {
                Some((_, pages)) => *pages += paper.leaves.len(),
                None => kinds.push((paper.kind, paper.leaves.len())),
            }
        }
        kinds.sort_by_key(|(kind, _)| *kind);
        kinds
    }

    /// Signs neither face has; they are drawn as empty boxes, and whoever prints has to be told.
    pub fn missing(&self) -> Vec<char> {
        self.faces.missing()
    }

    /// Everything as one PDF.
    ///
    /// # Errors
    ///
    /// [`PressError::Face`] or [`PressError::Pdf`], both faults of the program and not of the sheets.
    pub fn pdf(&self, title: &str, made: Made) -> Result<Vec<u8>, PressError> {
        let papers: Vec<(&str, &[page::Leaf])> = self
            .papers
            .iter()
            .map(|p| (p.title.as_str(), p.leaves.as_slice()))
            .collect();
        pdf::write(&papers, title, self.tongue, made)
    }

    /// The papers of one kind as one PDF; `None` when there are none.
    ///
    /// # Errors
    ///
    /// As [`Laid::pdf`].
    pub fn pdf_of(
        &self,
        kind: Kind,
        title: &str,
        made: Made,
    ) -> Result<Option<Vec<u8>>, PressError> {
        let papers: Vec<(&str, &[page::Leaf])> = self
            .papers
            .iter()
            .filter(|p| p.kind == kind)
            .map(|p| (p.title.as_str(), p.leaves.as_slice()))
            .collect();
        if papers.is_empty() {
            return Ok(None);
        }
        pdf::write(&papers, title, self.tongue, made).map(Some)
    }

    /// Every page as SVG, with the id of its sheet.
    pub fn svg(&self) -> Vec<(String, String)> {
        self.papers
            .iter()
            .flat_map(|paper| {
                let pages = paper.leaves.iter().enumerate();
                pages.map(|(i, leaf)| {
                    (
                        paper.id.clone(),
                        svg::write(
                            &self.faces,
                            leaf,
                            &format!("{}-{i}", paper.id),
                            &paper.title,
                        ),
                    )
                })
            })
            .collect()
    }
}
