//! Every figure explains itself: value, unit, base, how it was reached, and where its leaves come from.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use serde_json::{Map, Value as Json, json};
use sources::Citation;

/// What a figure holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number in the figure's unit.
    Number(f64),
    /// Money, exact.
    Money(Decimal),
    /// A moment, RFC 3339 with its zone, and as the wall shows it.
    Moment {
        /// RFC 3339 with offset and zone.
        instant: String,
        /// "Wed 10-06 08:30".
        wall: String,
    },
    /// A word, such as the name of a pack.
    Word(String),
}

/// One figure of a plan or of a bench answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Its id; dots separate ids of the book.
    pub id: String,
    /// Its value.
    pub value: Value,
    /// Unit, empty for a plain ratio.
    pub unit: String,
    /// What a percentage or share is taken of.
    pub base: Option<String>,
    /// Figures it was computed from.
    pub from: Vec<String>,
    /// How, in words and signs; empty for a leaf.
    pub formula: String,
    /// Where a leaf comes from, with its status; "computed" otherwise.
    pub source: String,
    /// Decimals to show.
    pub places: u32,
}

/// The figures of one plan, by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Figures {
    by_id: BTreeMap<String, Figure>,
}

/// Deepest derivation printed when all of it is asked for. Figures only ever point at figures that
/// were there before them, so this is a bound on patience, not on correctness.
pub const WHOLE: usize = 40;

impl Figures {
    /// A figure that comes from outside the computation.
    pub fn leaf(&mut self, id: &str, value: f64, unit: &str, places: u32, source: &Citation) {
        self.put(Figure {
            id: id.to_owned(),
            value: Value::Number(value),
            unit: unit.to_owned(),
            base: None,
            from: Vec::new(),
            formula: String::new(),
            source: source.to_string(),
            places,
        });
    }

    /// A figure computed from others.
    pub fn derived(
        &mut self,
        id: &str,
        value: f64,
        unit: &str,
        places: u32,
        formula: &str,
        from: &[&str],
    ) {
        self.put(Figure {
            id: id.to_owned(),
            value: Value::Number(value),
            unit: unit.to_owned(),
            base: None,
            from: from.iter().map(|s| (*s).to_owned()).collect(),
            formula: formula.to_owned(),
            source: COMPUTED.to_owned(),
            places,
        });
    }

    /// Names the base of a figure already there.
    pub fn of(&mut self, id: &str, base: &str) {
        if let Some(figure) = self.by_id.get_mut(id) {
            figure.base = Some(base.to_owned());
        }
    }

    /// Puts a whole figure; a later one with the same id replaces it.
    pub fn put(&mut self, figure: Figure) {
        self.by_id.insert(figure.id.clone(), figure);
    }

    /// The figure with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.by_id.get(id)
    }

    /// The number of a figure, when it is one.
    #[must_use]
    pub fn number(&self, id: &str) -> Option<f64> {
        match self.by_id.get(id)?.value {
            Value::Number(n) => Some(n),
            _ => None,
        }
    }

    /// All figures in the order of their ids.
    pub fn iter(&self) -> impl Iterator<Item = &Figure> {
        self.by_id.values()
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.by_id.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.by_id.is_empty()
    }

    /// Takes over all figures of another set.
    pub fn extend(&mut self, other: Self) {
        self.by_id.extend(other.by_id);
    }

    /// Ids that a figure names in `from` and that are not there: always empty in a sound plan.
    #[must_use]
    pub fn dangling(&self) -> Vec<(String, String)> {
        let mut lost = Vec::new();
        for figure in self.by_id.values() {
            for from in &figure.from {
                if !self.by_id.contains_key(from) {
                    lost.push((figure.id.clone(), from.clone()));
                }
            }
        }
        lost
    }

    /// The derivation of a figure, as lines of text: the figure, its formula, then what it came from,
    /// `deep` levels down ([`WHOLE`] for all of it).
    #[must_use]
    pub fn why(&self, id: &str, deep: usize) -> Option<String> {
        let mut text = String::new();
        self.get(id)?;
        let mut told = Vec::new();
        self.tell(id, "", "", &mut told, &mut text, deep.min(WHOLE));
        Some(text)
    }

    /// The derivation of every figure, all the way down: `first` and what it rests on, then each figure
    /// that none told before rests on.
    #[must_use]
    pub fn why_all(&self, first: &str) -> String {
        let mut text = String::new();
        let mut told = Vec::new();
        let used: BTreeSet<&str> = self
            .by_id
            .values()
            .flat_map(|f| f.from.iter().map(String::as_str))
            .collect();
        let ids = || self.by_id.keys().map(String::as_str);
        let ends = ids().filter(|id| !used.contains(id));
        for id in core::iter::once(first).chain(ends).chain(ids()) {
            if !told.iter().any(|t| t == id) && self.get(id).is_some() {
                if !text.is_empty() {
                    text.push('\n');
                }
                self.tell(id, "", "", &mut told, &mut text, WHOLE);
            }
        }
        text
    }

    /// For programs: a figure and all it rests on, as in [`Figures::to_json`]; `None` when there is none.
    #[must_use]
    pub fn resting_json(&self, id: &str) -> Option<Json> {
        self.get(id)?;
        let mut resting = Self::default();
        let mut todo = vec![id];
        while let Some(next) = todo.pop() {
            if resting.get(next).is_some() {
                continue;
            }
            if let Some(figure) = self.get(next) {
                todo.extend(figure.from.iter().map(String::as_str));
                resting.put(figure.clone());
            }
        }
        Some(resting.to_json())
    }

    fn tell(
        &self,
        id: &str,
        first: &str,
        rest: &str,
        told: &mut Vec<String>,
        text: &mut String,
        deep: usize,
    ) {
        let Some(figure) = self.get(id) else { return };
        let base = figure
            .base
            .as_ref()
            .map_or_else(String::new, |b| format!("  of {b}"));
        let again = told.contains(&figure.id) && !figure.from.is_empty();
        text.push_str(&format!("{first}{id} = {}{base}", figure.show()));
        if again {
            text.push_str("  (see above)\n");
            return;
        }
        text.push('\n');
        told.push(figure.id.clone());
        let below = if figure.from.is_empty() || deep == 0 {
            "   "
        } else {
            "│  "
        };
        let line = if figure.formula.is_empty() {
            format!("from {}", figure.source)
        } else {
            format!("= {}", figure.formula)
        };
        for part in wrap(
            &line,
            96_usize.saturating_sub(rest.chars().count() + 3).max(30),
        ) {
            text.push_str(&format!("{rest}{below}{part}\n"));
        }
        if deep == 0 {
            if !figure.from.is_empty() {
                let n = figure.from.len();
                let plural = if n == 1 { "" } else { "s" };
                text.push_str(&format!("{rest}   … from {n} more figure{plural}\n"));
            }
            return;
        }
        for (i, from) in figure.from.iter().enumerate() {
            let last = i + 1 == figure.from.len();
            let (branch, under) = if last {
                ("└─ ", "   ")
            } else {
                ("├─ ", "│  ")
            };
            self.tell(
                from,
                &format!("{rest}{branch}"),
                &format!("{rest}{under}"),
                told,
                text,
                deep - 1,
            );
        }
    }

    /// The map of contract 1.
    #[must_use]
    pub fn to_json(&self) -> Json {
        let mut map = Map::new();
        for figure in self.by_id.values() {
            let value = match &figure.value {
                Value::Number(n) => json!(n),
                Value::Money(d) => json!(decimal_to_f64(*d)),
                Value::Moment { instant, .. } => json!(instant),
                Value::Word(w) => json!(w),
            };
            map.insert(
                figure.id.clone(),
                json!({
                    "value": value, "unit": figure.unit, "base": figure.base,
                    "from": figure.from, "formula": figure.formula, "source": figure.source,
                }),
            );
        }
        Json::Object(map)
    }
}

/// What the source of a derived figure says.
const COMPUTED: &str = "computed";

impl Figure {
    /// Value and unit as printed.
    #[must_use]
    pub fn show(&self) -> String {
        let value = match &self.value {
            Value::Number(n) => number(*n, self.places),
            Value::Money(d) => money(*d, self.places),
            Value::Moment { wall, .. } => wall.clone(),
            Value::Word(w) => w.clone(),
        };
        if self.unit.is_empty() {
            value
        } else if matches!(self.value, Value::Money(_)) {
            format!("{}{value}", self.unit)
        } else {
            format!("{value} {}", self.unit)
        }
    }
}

/// A number with so many decimals, rounded half-up on decimals, thousands set apart by commas.
#[must_use]
pub fn number(n: f64, places: u32) -> String {
    match units::decimal(n) {
        Ok(d) => money(d, places),
        Err(_) => format!("{n:.*e}", places as usize),
    }
}

/// A decimal with so many decimals, rounded half-up, thousands set apart by commas.
#[must_use]
pub fn money(d: Decimal, places: u32) -> String {
    let rounded = units::half_up(d, places);
    let text = format!("{:.*}", places as usize, rounded.abs());
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let mut grouped = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let sign = if rounded.is_sign_negative() && !rounded.is_zero() {
        "−"
    } else {
        ""
    };
    if part.is_empty() {
        format!("{sign}{grouped}")
    } else {
        format!("{sign}{grouped}.{part}")
    }
}

/// A decimal as the nearest float, for contracts that want numbers.
#[must_use]
pub fn decimal_to_f64(d: Decimal) -> f64 {
    d.to_string().parse().unwrap_or(f64::NAN)
}

/// Breaks a line at spaces so that no part is wider than `width` characters (unless one word is).
#[must_use]
pub fn wrap(line: &str, width: usize) -> Vec<String> {
    let mut parts = Vec::new();
    let mut part = String::new();
    for word in line.split(' ') {
        if !part.is_empty() && part.chars().count() + 1 + word.chars().count() > width {
            parts.push(std::mem::take(&mut part));
        }
        if !part.is_empty() {
            part.push(' ');
        }
        part.push_str(word);
    }
    parts.push(part);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_round_half_up_and_group() {
        assert_eq!(number(370.0 * 0.0025, 2), "0.93");
        assert_eq!(number(5307.386, 1), "5,307.4");
        assert_eq!(number(-0.0001, 1), "0.0");
        assert_eq!(number(1234567.0, 0), "1,234,567");
    }

    #[test]
    fn a_derivation_reaches_its_leaves() {
        let mut f = Figures::default();
        f.leaf("a", 2.0, "g", 0, &Citation::whole(&sources::list::HOUSE));
        f.derived("b", 4.0, "g", 0, "2 × a", &["a"]);
        let text = f.why("b", WHOLE).unwrap();
        assert!(text.contains("b = 4 g"), "{text}");
        assert!(text.contains("from The book (house value)"), "{text}");
        assert!(f.why("c", 1).is_none());
        assert!(f.resting_json("c").is_none());
        assert!(f.dangling().is_empty());
    }

    #[test]
    fn all_derivations_together_leave_no_figure_out_and_tell_none_twice() {
        let mut f = Figures::default();
        f.leaf("a", 2.0, "g", 0, &Citation::whole(&sources::list::HOUSE));
        f.derived("b", 4.0, "g", 0, "2 × a", &["a"]);
        f.derived("c", 8.0, "g", 0, "2 × b", &["b"]);
        f.derived("d", 12.0, "g", 0, "b + c", &["b", "c"]);
        f.leaf("e", 1.0, "g", 0, &Citation::whole(&sources::list::HOUSE));
        let text = f.why_all("c");
        assert!(text.starts_with("c = 8 g"), "{text}");
        for id in ["a", "b", "c", "d", "e"] {
            assert!(text.contains(&format!("{id} = ")), "{id}: {text}");
        }
        assert_eq!(text.matches("= 2 × b").count(), 1, "{text}");
        let resting = f.resting_json("c").unwrap();
        let ids: Vec<&String> = resting.as_object().unwrap().keys().collect();
        assert_eq!(ids, ["a", "b", "c"]);
    }
}
