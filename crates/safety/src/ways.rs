//! What may be done when something is outside its limit: rows of `data/ways/deviations.toml`.
//!
//! A rule has the ways that are open and no others; none of them is serving it anyway. A way does not undo what was
//! read: it says what the lot waits for before it is no longer held.

use std::sync::LazyLock;

use sources::{Source, Status};
use toml::{Table, Value};

use crate::rules;

/// What a lot waits for once a way is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Then {
    /// Held until readings show the rule met.
    Readings,
    /// Held until another decision is recorded.
    Ask,
    /// Gone.
    Discarded,
    /// Nothing more: the decision settles it.
    GoesOn,
}

impl Then {
    /// The words of the file.
    const ALL: &'static [(&'static str, Self)] = &[
        ("readings", Self::Readings),
        ("ask", Self::Ask),
        ("discarded", Self::Discarded),
        ("goes-on", Self::GoesOn),
    ];

    /// What it means, as a cook reads it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Readings => "held until readings show the rule met",
            Self::Ask => "held until another decision is recorded",
            Self::Discarded => "discarded",
            Self::GoesOn => "goes on",
        }
    }
}

/// One way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// Its word, as it stands in the record: `hold-again`.
    pub id: String,
    /// What is done.
    pub words: String,
    /// What the lot waits for then.
    pub then: Then,
    /// The row of the rules it follows from; `None`: common practice, no source.
    pub row: Option<String>,
}

impl Way {
    /// Where it comes from and how far that was read, as printed.
    #[must_use]
    pub fn from(&self) -> String {
        self.row
            .as_deref()
            .and_then(rules::source)
            .map_or_else(|| "common practice, no source".to_owned(), cited)
    }
}

fn cited(source: &Source) -> String {
    let verify = if source.status.may_show() {
        ""
    } else {
        "; verify with your authority"
    };
    format!(
        "{} ({}{verify})",
        source.title,
        Status::words(source.status)
    )
}

/// What went wrong by one rule, and the ways out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deviation {
    /// Id of the rule that was judged, or of what a cook reports.
    pub rule: String,
    /// What it is, in words.
    pub what: String,
    /// The ways out.
    pub ways: Vec<Way>,
}

/// A file of ways that does not hold together.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("ways out, {at}: found {found}; expected {expected}. Correct that row")]
pub struct WaysError {
    /// Which rule or way.
    pub at: String,
    /// What stands there.
    pub found: String,
    /// What should.
    pub expected: &'static str,
}

/// Reads a file of ways.
///
/// # Errors
/// The first row that is malformed, a rule named twice, or a way whose row of the rules is not there.
pub fn read(text: &str) -> Result<Vec<Deviation>, WaysError> {
    let page: Table = text
        .parse()
        .map_err(|e: toml::de::Error| wrong("the file", e.message(), "TOML"))?;
    let rows = tables(&page, "deviation", "the file")?;
    let mut all: Vec<Deviation> = Vec::new();
    for row in rows {
        known(row, &["rule", "what", "way"], "a deviation")?;
        let rule = text_of(row, "rule", "a deviation")?;
        let mut ways: Vec<Way> = Vec::new();
        for way in tables(row, "way", &rule)? {
            let way = read_way(way, &rule)?;
            if ways.iter().any(|w| w.id == way.id) {
                return Err(wrong(&rule, &way.id, "every way once"));
            }
            ways.push(way);
        }
        if all.iter().any(|d| d.rule == rule) {
            return Err(wrong(&rule, "the rule a second time", "every rule once"));
        }
        let what = text_of(row, "what", &rule)?;
        all.push(Deviation { rule, what, ways });
    }
    Ok(all)
}

fn read_way(way: &Table, rule: &str) -> Result<Way, WaysError> {
    known(way, &["id", "then", "words", "source"], rule)?;
    let id = text_of(way, "id", rule)?;
    let at = format!("{rule}, {id}");
    let then = text_of(way, "then", &at)?;
    let then = Then::ALL
        .iter()
        .find(|(w, _)| *w == then)
        .map(|(_, t)| *t)
        .ok_or_else(|| wrong(&at, &then, "readings, ask, discarded or goes-on"))?;
    let source = text_of(way, "source", &at)?;
    let row = (source != "practice").then_some(source);
    if let Some(row) = row.as_deref().filter(|r| rules::source(r).is_none()) {
        return Err(wrong(&at, row, "a row of data/rules, or practice"));
    }
    Ok(Way {
        words: text_of(way, "words", &at)?,
        id,
        then,
        row,
    })
}

fn wrong(at: &str, found: &str, expected: &'static str) -> WaysError {
    WaysError {
        at: at.to_owned(),
        found: found.to_owned(),
        expected,
    }
}

fn known(row: &Table, keys: &[&str], at: &str) -> Result<(), WaysError> {
    row.keys()
        .find(|k| !keys.contains(&k.as_str()))
        .map_or(Ok(()), |k| {
            Err(wrong(at, k, "only the keys of the file's head"))
        })
}

fn text_of(row: &Table, key: &'static str, at: &str) -> Result<String, WaysError> {
    match row.get(key) {
        Some(Value::String(s)) if !s.trim().is_empty() => Ok(s.clone()),
        Some(other) => Err(wrong(at, &other.to_string(), "text")),
        None => Err(wrong(at, &format!("no {key}"), "the key, with text")),
    }
}

fn tables<'a>(row: &'a Table, key: &str, at: &str) -> Result<Vec<&'a Table>, WaysError> {
    let list = match row.get(key) {
        Some(Value::Array(list)) if !list.is_empty() => list,
        _ => return Err(wrong(at, &format!("no [[{key}]]"), "at least one")),
    };
    list.iter()
        .map(|v| v.as_table().ok_or_else(|| wrong(at, key, "a table")))
        .collect()
}

static SHIPPED: LazyLock<Result<Vec<Deviation>, WaysError>> =
    LazyLock::new(|| read(include_str!("../../../data/ways/deviations.toml")));

/// Every rule that has ways of its own, in the order of the file.
///
/// # Errors
/// As [`of`].
pub fn all() -> Result<&'static [Deviation], &'static WaysError> {
    SHIPPED.as_deref()
}

/// The rule of what somebody reports in words of their own.
pub const OTHER: &str = "other";

/// The ways out of a rule; those of [`OTHER`] where it has none of its own.
///
/// # Errors
/// A file that does not hold together; a test keeps that from being shipped.
pub fn of(rule: &str) -> Result<&'static Deviation, &'static WaysError> {
    static NONE: LazyLock<WaysError> =
        LazyLock::new(|| wrong("the file", "no rule called other", "one"));
    let all = SHIPPED.as_ref()?;
    let named = |rule: &str| all.iter().find(|d| d.rule == rule);
    named(rule).or_else(|| named(OTHER)).ok_or(&NONE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_ways_hold_together() {
        let all = SHIPPED.as_ref().unwrap();
        assert!(all.len() >= 10);
        for d in all {
            assert!(d.ways.len() <= 4, "{}: two to four choices", d.rule);
            assert!(
                d.ways.iter().any(|w| w.then == Then::Discarded),
                "{}: discarding is always open",
                d.rule
            );
        }
    }

    #[test]
    fn no_way_is_serving_it_anyway() {
        for way in SHIPPED.as_ref().unwrap().iter().flat_map(|d| &d.ways) {
            let words = way.words.to_lowercase();
            for never in ["serve", "anyway", "safe", "ignore"] {
                assert!(!words.contains(never), "{}: {}", way.id, way.words);
            }
        }
    }

    #[test]
    fn a_rule_of_its_own_has_its_own_ways_and_any_other_those_of_other() {
        assert_eq!(of("fish-core").unwrap().ways[0].id, "hold-again");
        assert_eq!(of("no-such-rule").unwrap().rule, OTHER);
        let cited = of("fish-core").unwrap().ways[0].from();
        assert!(cited.contains("(read)"), "{cited}");
        assert_eq!(
            of("fish-core").unwrap().ways[2].from(),
            "common practice, no source"
        );
    }

    #[test]
    fn a_row_that_is_wrong_is_told() {
        let way = |then: &str, source: &str| {
            format!(
                "[[deviation]]\nrule = \"x\"\nwhat = \"y\"\n[[deviation.way]]\nid = \"z\"\nthen = \"{then}\"\nwords = \"w\"\nsource = \"{source}\"\n"
            )
        };
        assert!(read(&way("ask", "practice")).is_ok());
        for text in [
            way("serve", "practice"),
            way("ask", "no.such.row"),
            "[[deviation]]\nrule = \"x\"\nwhat = \"y\"\n".to_owned(),
            way("ask", "practice") + &way("ask", "practice"),
        ] {
            let told = read(&text).unwrap_err().to_string();
            assert!(told.contains("expected"), "{told}");
        }
    }
}
