//! A recipe pasted as plain lines, in whatever measures its writer used: every line settled or asked about.

use kitchen::Book;
use kitchen::ingredient::{Ingredient, Role};
use units::Customary;

use super::draft::{Draft, draft_of};
use super::line::{Line, read_line};
use super::source::{Given, GivenStep};
use crate::import::{Target, names};
use crate::refusal::Refusal;

/// Lines taken at most, of ingredients and of steps each.
const MOST_LINES: usize = 200;
/// Characters of a line at most.
const MOST_LETTERS: usize = 500;
/// Words of a line that means a curing salt.
const CURING: [&str; 5] = ["curing", "cure", "nitrite", "nitrate", "pink"];
/// Names offered for a line at most.
const MOST_OFFERED: usize = 24;

/// A pasted line: as it was written, as it was read, and what it may mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Pasted {
    /// The line.
    pub text: String,
    /// What was read of it.
    pub line: Line,
    /// Ingredients it may mean, by name, where it names none.
    pub perhaps: Vec<String>,
}

/// Reads pasted lines. `measures` is whose cups and spoons they are; `None` when nobody said.
///
/// # Errors
/// Too many lines, or one too long.
pub fn lines(
    text: &str,
    book: &Book,
    measures: Option<Customary>,
) -> Result<Vec<Pasted>, Vec<Refusal>> {
    Ok(plain(text, "lines")?
        .into_iter()
        .map(|text| {
            let line = read_line(&text, book, measures);
            let perhaps = perhaps(&line, book);
            Pasted {
                text,
                line,
                perhaps,
            }
        })
        .collect())
}

/// A draft page of pasted lines: `name` is the recipe's, `method` its steps, a line each.
///
/// # Errors
/// No name, no lines, too many of them, or a recipe the book has already.
pub fn pasted(
    name: &str,
    lines: &str,
    method: &str,
    into: Target<'_>,
    measures: Option<Customary>,
) -> Result<Draft, Vec<Refusal>> {
    let name = single_spaced(name);
    if name.is_empty() || name.chars().count() > MOST_LETTERS {
        return Err(vec![Refusal::whole(
            "a recipe without a name, or with one longer than a page",
            "its name in a few words",
            "write its name",
        )]);
    }
    let lines = plain(lines, "lines")?;
    if lines.is_empty() {
        return Err(vec![Refusal::whole(
            "no lines",
            "a line for every ingredient: 2 cups salt, flake",
            "paste the ingredients, one a line",
        )]);
    }
    let steps = plain(method, "steps")?
        .into_iter()
        .map(|text| GivenStep {
            text,
            ..GivenStep::default()
        })
        .collect();
    let given = Given {
        name,
        lines,
        steps,
        ..Given::default()
    };
    draft_of(&given, into, measures, "pasted lines")
}

fn single_spaced(text: &str) -> String {
    let clean: String = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    clean.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The lines of a text: no bullets, no blanks, no control characters.
fn plain(text: &str, what: &str) -> Result<Vec<String>, Vec<Refusal>> {
    let lines: Vec<String> = text
        .lines()
        .map(single_spaced)
        .map(|l| {
            l.trim_start_matches(['•', '*', '·', '–', '—', '▢', '☐'])
                .trim()
                .to_owned()
        })
        .map(|l| l.strip_prefix("- ").map_or(l.clone(), str::to_owned))
        .filter(|l| !l.is_empty())
        .take(MOST_LINES + 1)
        .collect();
    if lines.len() > MOST_LINES {
        return Err(vec![Refusal::whole(
            format!("more than {MOST_LINES} {what}"),
            format!("at most {MOST_LINES}"),
            "split it into recipes",
        )]);
    }
    if let Some(at) = lines.iter().position(|l| l.chars().count() > MOST_LETTERS) {
        return Err(vec![Refusal::at(
            at + 1,
            "",
            format!("a line of more than {MOST_LETTERS} letters"),
            "one ingredient, or one step",
            "break it into lines",
        )]);
    }
    Ok(lines)
}

/// Ingredients a line may mean: the kinds of a family it names, names that hold its words, the nearest name.
fn perhaps(line: &Line, book: &Book) -> Vec<String> {
    if names::item(book, &line.named).is_ok() || line.named.is_empty() {
        return Vec::new();
    }
    let words: Vec<String> = line
        .named
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| w.chars().count() > 2)
        .map(str::to_owned)
        .collect();
    // A curing salt is never offered for a salt: who means one says so.
    let says_curing = words.iter().any(|w| CURING.contains(&w.as_str()));
    let mut found: Vec<(usize, bool, &str)> = book
        .ingredients
        .values()
        .filter(|i| says_curing || !matches!(i.role, Some(Role::CuringSalt { .. })))
        .map(|i| {
            let family = i.family.as_deref();
            let of_family = words.iter().any(|w| family == Some(w.as_str()));
            (shared(&words, i), of_family, i.name.as_str())
        })
        .filter(|(n, of_family, _)| *n > 0 || *of_family)
        .collect();
    // Where the line says no more than a family, only its kinds are meant.
    let most = found.iter().map(|(n, ..)| *n).max().unwrap_or(0);
    if most < 2 && found.iter().any(|(_, of_family, _)| *of_family) {
        found.retain(|(_, of_family, _)| *of_family);
    }
    found.sort_by_key(|(n, of_family, name)| (std::cmp::Reverse(*n), !of_family, *name));
    let mut out: Vec<String> = found
        .into_iter()
        .take(MOST_OFFERED)
        .map(|(.., name)| name.to_owned())
        .collect();
    let all = book.ingredients.values().map(|i| i.name.as_str());
    if let Some(near) = book::did_you_mean(&line.named.to_lowercase(), all)
        && !out.contains(&near.to_string())
    {
        out.insert(0, near.to_string());
    }
    out
}

/// How many words of a line the names of an ingredient share, one letter s at the end aside.
fn shared(words: &[String], i: &Ingredient) -> usize {
    let names = std::iter::once(&i.name).chain(&i.also);
    let own: Vec<String> = names
        .flat_map(|n| {
            n.to_lowercase()
                .split(|c: char| !c.is_alphanumeric())
                .map(str::to_owned)
                .collect::<Vec<_>>()
        })
        .collect();
    let single = |w: &str| w.strip_suffix('s').unwrap_or(w).to_owned();
    words
        .iter()
        .filter(|w| own.iter().any(|o| single(o) == single(w)))
        .count()
}
