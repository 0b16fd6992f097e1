//! A paper as a plain value: blocks in reading order, with the size they are meant for.

/// What a paper is, for file names and for who may have it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Time down, people across.
    DayBoard,
    /// Several days, one bar a lot, waits with whiskers.
    BackPlan,
    /// One lot: lines by weight, running total, initials.
    FormulaCard,
    /// One station: kit, steps by the clock, sign-off.
    StationCard,
    /// Piece by piece: green weight, cure, in and out.
    CureSheet,
    /// Programme and rows to fill in while it smokes.
    SmokerLog,
    /// From hot to cold, by the hour it has to be there.
    CoolingLog,
    /// Liquor, acid and pH.
    PickleLog,
    /// What a delivery is looked at for.
    ReceivingSheet,
    /// What lies where behind a door, and until when.
    DoorMap,
    /// What sticks to the tub.
    TubLabel,
    /// The plate as a clock face.
    PlatingGuide,
    /// Dishes against the allergens of the place.
    AllergenMatrix,
    /// What one supplier is asked for.
    OrderSheet,
    /// A day's work by person.
    PrepList,
    /// What those who carry the plates have to know.
    ServiceBrief,
    /// What is cleaned, how and when.
    CleaningList,
    /// What to do when something stops.
    EmergencyCard,
    /// What a learner is signed off for.
    Rubric,
    /// One lot's evidence, for an inspector.
    Dossier,
}

/// Which stock the kitchen prints on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stock {
    /// ISO 216: A3, A4, A5.
    Iso,
    /// North American: tabloid, letter, half letter.
    Us,
}

/// How much paper one sheet takes; the stock says what that is in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// A3 or tabloid, upright.
    Wall,
    /// A3 or tabloid, lying.
    WallWide,
    /// A4 or letter, upright.
    Page,
    /// A4 or letter, lying.
    PageWide,
    /// A5 or half letter, upright.
    Card,
    /// 50 by 75 mm, one label.
    Label,
}

/// One paper. It may run over several pages; head and foot are on each.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// A name of its own within the plan, fit for a file: `cure-sheet-duck-cure`.
    pub id: String,
    /// What it is.
    pub kind: Kind,
    /// How large.
    pub size: Size,
    /// What it is called, in the language of the sheet.
    pub title: String,
    /// Whom or what it is for, under the title.
    pub under: Vec<String>,
    /// What stands on it, in reading order.
    pub blocks: Vec<Block>,
    /// On every page: lot codes, version of the plan, when it was made. `page x of y` is added by who draws it.
    pub foot: Vec<String>,
}

/// One thing on a paper.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading; it never stays alone at the foot of a page.
    Heading(String),
    /// Running text.
    Text(String),
    /// Allergens: each word inside a stop sign of its own, so that shape and word say it and no colour has to.
    Stops(Vec<String>),
    /// A caution: framed, with its own sign, never left out.
    Caution(String),
    /// What must be read from across the room: a word and a number of 24 points or more.
    Big {
        /// What it is.
        word: String,
        /// The number with its unit.
        number: String,
    },
    /// Words with their values, two columns.
    Facts(Vec<(String, Cell)>),
    /// A table; its head comes again on each page.
    Table(Table),
    /// Steps in order, with a box to tick.
    Steps(Vec<Step>),
    /// Lines to tick.
    Ticks(Vec<String>),
    /// Empty lines to write on, under a word.
    Lines {
        /// What is to be written.
        word: String,
        /// How many lines.
        count: usize,
    },
    /// Bars over time.
    Bars(Bars),
    /// The plate from above.
    Plate(Plate),
    /// A code a camera reads, with the same code in letters.
    Code {
        /// What the camera reads.
        holds: String,
        /// The short code, in letters, check character last.
        letters: String,
    },
    /// One large letter or word, such as the day a tub is from.
    Letter(String),
    /// What follows starts a page.
    NewPage,
}

/// What stands in a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// Text.
    Text(String),
    /// A number, set to the right.
    Number(String),
    /// The one thing to be seen in its row.
    Strong(String),
    /// Empty, to be written in.
    WriteIn,
    /// A box to tick.
    Tick,
    /// Nothing belongs here: a dash.
    Nothing,
}

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// Its share of the width, against the other columns.
    pub share: f64,
}

/// Rows under heads; every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Vec<Cell>>,
}

/// A step of a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// When, on the wall clock.
    pub when: String,
    /// What to do.
    pub what: String,
    /// Weight, temperature or hour to hold to; may be empty.
    pub hold: String,
    /// Why, in one line; may be empty.
    pub why: String,
}

/// Bars over time; minutes count from `from`.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// Time runs down (a day board) or to the right (a strip).
    pub down: bool,
    /// Minutes from the first to the last edge.
    pub minutes: u32,
    /// Marks on the time axis: minute and word.
    pub marks: Vec<(u32, String)>,
    /// Spans in which nobody is there: night.
    pub shaded: Vec<(u32, u32)>,
    /// The lines: a person, a machine or a lot, each with its bars.
    pub lanes: Vec<Lane>,
    /// The hour everything is for: minute and word.
    pub service: Option<(u32, String)>,
}

/// A line of bars.
#[derive(Debug, Clone, PartialEq)]
pub struct Lane {
    /// Its name.
    pub name: String,
    /// Its bars, none over another.
    pub bars: Vec<Bar>,
    /// To be left empty, for real times to be written in.
    pub blank: bool,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// First minute.
    pub from: u32,
    /// Last minute.
    pub to: u32,
    /// What it says.
    pub words: String,
    /// Somebody works (filled) or it waits (outlined).
    pub work: bool,
    /// It cannot move: drawn thick.
    pub fixed: bool,
    /// Earliest and latest it could end, as a whisker.
    pub could: Option<(u32, u32)>,
}

/// A plate from above, read as a clock face.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// What lies on it, in the order it is laid.
    pub parts: Vec<Part>,
}

/// What lies on a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Weight as written on a card.
    pub weight: String,
    /// Where on the clock face it starts, in hours from 0 (noon) to 12.
    pub from_hour: f64,
    /// Where it ends; at `from_hour` when it is a point.
    pub to_hour: f64,
    /// How far from the middle: 0 the middle, 1 the rim.
    pub reach: f64,
}
