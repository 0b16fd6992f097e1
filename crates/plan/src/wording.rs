//! Figures and names as every page and paper words them.

use units::{BenchKind, Elapsed, Mass, Money};

use crate::figures::number;
use crate::scene::Scene;
use kitchen::step::LineItem;

/// Grams as computed: to 0.1 g, and to 0.01 g below ten grams.
#[must_use]
pub fn grams(g: f64, curing: bool) -> String {
    let places = if curing || g < 9.995 { 2 } else { 1 };
    format!("{} g", number(g, places))
}

/// What the bench weighs out.
#[must_use]
pub fn bench(g: f64, curing: bool) -> String {
    let kind = if curing {
        BenchKind::CuringSalt
    } else {
        BenchKind::Ordinary
    };
    Mass::grams(g).map_or_else(|_| String::new(), |m| units::bench(m, kind).to_string())
}

/// Money with its sign.
#[must_use]
pub fn money(sign: &str, amount: Money, places: u32) -> String {
    let text = crate::figures::money(amount.amount(), places);
    match text.strip_prefix('−') {
        Some(rest) => format!("−{sign}{rest}"),
        None => format!("{sign}{text}"),
    }
}

/// Money that is a difference: the sign always shown.
#[must_use]
pub fn difference(sign: &str, amount: Money) -> String {
    let text = money(sign, amount, 2);
    if text.starts_with('−') {
        text
    } else {
        format!("+{text}")
    }
}

/// A count word for more than one.
#[must_use]
pub fn plural(word: &str, n: f64) -> String {
    if (n - 1.0).abs() < 1e-9 || matches!(word, "fish" | "kg" | "g") {
        return word.to_owned();
    }
    match word {
        "loaf" => "loaves".to_owned(),
        w if w.ends_with("ch") || w.ends_with("sh") || w.ends_with('x') || w.ends_with('s') => {
            format!("{w}es")
        }
        w => format!("{w}s"),
    }
}

/// Minutes as hours and minutes, however many hours.
#[must_use]
pub fn minutes(min: f64) -> String {
    let whole = (min + 0.5).floor().max(0.0);
    format!(
        "{} h {} min",
        number((whole / 60.0).floor(), 0),
        number(whole % 60.0, 0)
    )
}

/// Names, with numbered members of a group told once.
#[must_use]
pub fn people(names: &[String]) -> String {
    let mut groups: Vec<(String, Vec<u32>)> = Vec::new();
    for name in names {
        let (group, n) = match name
            .rsplit_once(' ')
            .and_then(|(g, n)| n.parse().ok().map(|n| (g, n)))
        {
            Some((g, n)) => (g.to_owned(), Some(n)),
            None => (name.clone(), None),
        };
        match groups.iter_mut().find(|(g, _)| *g == group) {
            Some((_, ns)) => ns.extend(n),
            None => groups.push((group, n.into_iter().collect())),
        }
    }
    let parts: Vec<String> = groups
        .into_iter()
        .map(|(g, ns)| format!("{g} {}", runs(&ns)).trim_end().to_owned())
        .collect();
    parts.join(", ")
}

fn runs(ns: &[u32]) -> String {
    let mut ns = ns.to_vec();
    ns.sort_unstable();
    let mut parts: Vec<(u32, u32)> = Vec::new();
    for n in ns {
        match parts.last_mut() {
            Some((_, to)) if *to + 1 == n => *to = n,
            _ => parts.push((n, n)),
        }
    }
    let words: Vec<String> = parts
        .iter()
        .map(|(a, b)| {
            if a == b {
                a.to_string()
            } else {
                format!("{a}–{b}")
            }
        })
        .collect();
    words.join(", ")
}

/// A computed time to the minute, and to the hour from two days on: more would claim what no model knows.
#[must_use]
pub fn whole(t: Elapsed) -> String {
    let minutes = if t.hours() >= 48.0 {
        (t.hours() + 0.5).floor() * 60.0
    } else {
        (t.minutes() + 0.5).floor()
    };
    Elapsed::from_minutes(minutes).map_or_else(|_| t.to_string(), |t| t.to_string())
}

/// The name of what a line takes, and whether it is a curing salt, which is weighed finer.
#[must_use]
pub fn item_name<'a>(scene: &'a Scene, item: &'a LineItem) -> (&'a str, bool) {
    match item {
        LineItem::Item(id) => scene
            .book
            .ingredients
            .get(id)
            .map_or((id.as_str(), false), |i| {
                (i.name.as_str(), i.nitrite_pct() > 0.0)
            }),
        LineItem::Recipe(id) => (
            scene
                .book
                .recipes
                .get(id)
                .map_or(id.as_str(), |r| r.name.as_str()),
            false,
        ),
    }
}
