//! The limits themselves: rows of `data/rules/*.toml`, one a rule, each with its source and how far it was read.
//!
//! A row is data; what it means for a history is in [`judge`](crate::judge). Every row carries its
//! own status, because one code is read in part and remembered in part.

mod read;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use kitchen::site::RuleSet;
use sources::{Source, Status};
use units::Temperature;

pub use read::{RuleError, read};

/// Which values a row accepts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowSide {
    /// The value or more.
    AtLeast,
    /// The value or less.
    AtMost,
    /// More than the value.
    Above,
    /// Less than the value.
    Below,
    /// The value itself; a tolerance, when there is one, stands in `also`.
    Exactly,
    /// A list of words, not a number to be met.
    List,
}

/// What stands behind a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Force {
    /// National or model law.
    Law,
    /// Law of one state.
    StateLaw,
    /// Law of one state, and guidance elsewhere.
    StateLawAndGuidance,
    /// Guidance of an authority.
    Guidance,
    /// A habit of those who do it.
    Practice,
}

/// A state whose own rules are among the rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum State {
    /// Maine.
    Maine,
    /// Michigan.
    Michigan,
    /// New York.
    NewYork,
    /// Pennsylvania.
    Pennsylvania,
}

impl State {
    /// Every state, by the word of the rows.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("Maine", Self::Maine),
        ("Michigan", Self::Michigan),
        ("New York", Self::NewYork),
        ("Pennsylvania", Self::Pennsylvania),
    ];

    /// The state with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, s)| *s)
    }

    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Maine => "Maine",
            Self::Michigan => "Michigan",
            Self::NewYork => "New York",
            Self::Pennsylvania => "Pennsylvania",
        }
    }
}

/// A further fact of a row: a number, a word, or several.
#[derive(Debug, Clone, PartialEq)]
pub enum Detail {
    /// A number; its unit is the end of its key (`hold_min`, `value_c`).
    Number(f64),
    /// Words or a date.
    Words(String),
    /// Yes or no.
    Flag(bool),
    /// Several.
    List(Vec<Detail>),
    /// Named ones.
    Table(BTreeMap<String, Detail>),
}

/// One step of a cooling option.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// Starts at, °F.
    pub from_f: f64,
    /// Reaches, °F.
    pub to_f: f64,
    /// Within hours.
    pub within_h: f64,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Id, unique over all files: `cool.fc.stage1`.
    pub id: String,
    /// Whose rule it is.
    pub place: RuleSet,
    /// Where the same text also holds.
    pub also_in: Vec<RuleSet>,
    /// A part of the place, when it holds only there: a state.
    pub region: Option<String>,
    /// What it is about: `cooling`, `nitrite`.
    pub topic: String,
    /// What is held against it: `core-temp`, `water-phase-salt-pct`.
    pub quantity: String,
    /// Which side is good.
    pub side: RowSide,
    /// The limit, in `unit`.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: Option<&'static str>,
    /// Steps, where the row has several.
    pub stages: Vec<Stage>,
    /// The words of a list.
    pub list: Vec<String>,
    /// Further figures.
    pub also: BTreeMap<String, Detail>,
    /// What else must hold for the row to apply.
    pub requires: BTreeMap<String, Detail>,
    /// What it is for, in words.
    pub scope: String,
    /// Section of the source.
    pub section: String,
    /// Key of the source in its file.
    pub source_key: String,
    /// Title of the source.
    pub title: String,
    /// How far the text was read.
    pub status: Status,
    /// What of it was read, when only a part was.
    pub note: Option<String>,
    /// What stands behind it.
    pub force: Force,
}

impl Rule {
    /// Whether it holds in a place.
    #[must_use]
    pub fn holds_in(&self, place: RuleSet) -> bool {
        self.place == place || self.also_in.contains(&place)
    }

    /// A further number of the row.
    #[must_use]
    pub fn number(&self, key: &str) -> Option<f64> {
        match self.also.get(key)? {
            Detail::Number(number) => Some(*number),
            _ => None,
        }
    }

    /// The limit in °C, for a row in degrees: as the text prints it where it does, else converted.
    #[must_use]
    pub fn limit_c(&self) -> Option<f64> {
        let own = || match (self.unit?, self.value?) {
            ("°C", c) => Some(c),
            ("°F", f) => Some(celsius(f)?),
            _ => None,
        };
        self.number("judged_c")
            .or_else(|| self.number("value_c"))
            .or_else(own)
    }

    /// What is printed beside a limit that was not read itself.
    #[must_use]
    pub fn caution(&self) -> Option<&'static str> {
        (!self.status.may_show()).then_some("verify with your authority")
    }
}

/// °F to °C, unrounded.
pub(crate) fn celsius(f: f64) -> Option<f64> {
    Temperature::from_f(f).ok().map(Temperature::c)
}

/// A table of a rule: rows of cells under named columns.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleTable {
    /// Id.
    pub id: String,
    /// Whose it is.
    pub place: RuleSet,
    /// Source, with its place.
    pub title: String,
    /// How far it was read.
    pub status: Status,
    /// What to know of it.
    pub note: Option<String>,
    /// Names of the columns, unit last: `degF`, `s`.
    pub columns: Vec<String>,
    /// Cells, as many a row as there are columns.
    pub rows: Vec<Vec<Detail>>,
}

impl RuleTable {
    /// Two columns of numbers; `None` when a name is unknown or a cell is no number.
    #[must_use]
    pub fn pairs(&self, first: &str, second: &str) -> Option<Vec<(f64, f64)>> {
        let column = |name: &str| self.columns.iter().position(|c| c == name);
        let (a, b) = (column(first)?, column(second)?);
        let number = |cell: Option<&Detail>| match cell {
            Some(Detail::Number(n)) => Some(*n),
            _ => None,
        };
        self.rows
            .iter()
            .map(|row| Some((number(row.get(a))?, number(row.get(b))?)))
            .collect()
    }
}

/// Every row of every file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rules {
    /// Rows, in the order of the files.
    pub rules: Vec<Rule>,
    /// Tables.
    pub tables: Vec<RuleTable>,
}

impl Rules {
    /// The row with this id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|r| r.id == id)
    }

    /// The table with this id.
    #[must_use]
    pub fn table(&self, id: &str) -> Option<&RuleTable> {
        self.tables.iter().find(|t| t.id == id)
    }

    /// Rows that hold in a place.
    pub fn of(&self, place: RuleSet) -> impl Iterator<Item = &Rule> {
        self.rules.iter().filter(move |r| r.holds_in(place))
    }
}

/// The files that come with the program.
pub const FILES: &[(&str, &str)] = &[
    (
        "us-food-code.toml",
        include_str!("../../../data/rules/us-food-code.toml"),
    ),
    (
        "us-meat-fish.toml",
        include_str!("../../../data/rules/us-meat-fish.toml"),
    ),
    (
        "canada.toml",
        include_str!("../../../data/rules/canada.toml"),
    ),
    (
        "england.toml",
        include_str!("../../../data/rules/england.toml"),
    ),
    ("eu.toml", include_str!("../../../data/rules/eu.toml")),
];

static SHIPPED: LazyLock<Result<Rules, RuleError>> = LazyLock::new(|| read(FILES));

/// One source a row, title and section together. They live as long as the program, as [`SHIPPED`] does.
static CITED: LazyLock<BTreeMap<&'static str, &'static Source>> = LazyLock::new(|| {
    let rows = SHIPPED.as_ref().map_or(&[][..], |r| r.rules.as_slice());
    rows.iter()
        .map(|rule| {
            let title: &'static str = format!("{}, {}", rule.title, rule.section).leak();
            let source: &'static Source = Box::leak(Box::new(Source {
                key: rule.source_key.as_str(),
                title,
                status: rule.status,
            }));
            (rule.id.as_str(), source)
        })
        .collect()
});

/// The rows that come with the program.
///
/// # Errors
/// A file that does not hold together; a test keeps that from being shipped.
pub fn shipped() -> Result<&'static Rules, &'static RuleError> {
    SHIPPED.as_ref()
}

/// The source of a shipped row, with its section and its own status.
#[must_use]
pub fn source(id: &str) -> Option<&'static Source> {
    CITED.get(id).copied()
}

#[cfg(test)]
mod tests;
