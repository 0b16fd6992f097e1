//! The allergen matrix of a plan, readable in black and white.

use kitchen::site::RuleSet;
use plan::Plan;
use plan::allergens::{Cell, Matrix, Row, State};

use super::text::{column, paragraph};

/// Columns of a row's name.
const NAME: usize = 38;
/// Columns of a cell.
const CELL: usize = 4;

/// What is in what, as far as the labels in the book say.
pub(crate) fn allergens(plan: &Plan) -> String {
    let m = &plan.allergens;
    if m.columns.is_empty() || m.dishes.is_empty() {
        return String::new();
    }
    let mut out = paragraph(
        "ALLERGENS  ",
        &format!(
            "as far as the labels in the book say; {}",
            list_of(plan.scene.site.rules, m)
        ),
    );
    let heads: String = m
        .columns
        .iter()
        .map(|c| format!("{:<CELL$}", c.short))
        .collect();
    out.push_str(format!("  {}{heads}", column("", NAME)).trim_end());
    out.push('\n');
    for d in &m.dishes {
        let signs: Vec<String> = d.states.iter().map(|s| s.sign().to_owned()).collect();
        out.push_str(&line(0, &format!("PLATE {}", d.name), &signs));
        for r in &d.parts {
            rows(r, 1, &mut out);
        }
    }
    out.push_str(&paragraph("  ", &legend(m)));
    for d in &m.dishes {
        for r in &d.parts {
            out.push_str(&why(m, r));
        }
    }
    if let Some(beside) = beside(m) {
        out.push_str(&paragraph("  ", &beside));
    }
    out
}

/// Whose list it is, and how far it was read.
fn list_of(place: RuleSet, m: &Matrix) -> String {
    let whose = match place {
        RuleSet::Us => "the United States",
        RuleSet::Canada => "Canada",
        RuleSet::England => "England",
        RuleSet::Eu => "the EU",
    };
    let mut sources: Vec<String> = Vec::new();
    for c in &m.columns {
        let text = format!("{} ({})", c.cited(), c.status.words());
        if !sources.contains(&text) {
            sources.push(text);
        }
    }
    let caution = m
        .columns
        .iter()
        .find_map(|c| c.caution())
        .map_or_else(String::new, |w| format!(": {w}"));
    format!("list of {whose}, {}{caution}", sources.join("; "))
}

fn rows(r: &Row, depth: usize, out: &mut String) {
    let signs: Vec<String> = r.cells.iter().map(sign).collect();
    out.push_str(&line(depth, &r.name, &signs));
    for inner in &r.inside {
        rows(inner, depth + 1, out);
    }
}

/// The sign of a cell, with an s where the book names a swap.
fn sign(cell: &Cell) -> String {
    let swap = if cell.swaps.is_empty() { "" } else { "s" };
    format!("{}{swap}", cell.state.sign())
}

fn line(depth: usize, name: &str, signs: &[String]) -> String {
    let indent = "  ".repeat(depth + 1);
    let name = column(name, NAME - 2 * depth - 1);
    let signs: String = signs.iter().map(|s| format!("{s:<CELL$}")).collect();
    format!("{}\n", format!("{indent}{name} {signs}").trim_end())
}

/// Only the signs that stand in the matrix are explained.
fn legend(m: &Matrix) -> String {
    let cells = || {
        m.dishes
            .iter()
            .flat_map(|d| &d.parts)
            .flat_map(|r| &r.cells)
    };
    let mut parts = Vec::new();
    for (state, words) in [
        (State::Contains, "contains"),
        (State::Unknown, "not known: a label is not in the book"),
        (State::May, "may contain: read the label"),
        (State::Under, "in it, below what has to be named"),
        (State::Free, "no label names it"),
    ] {
        if cells().any(|c| c.state == state) {
            parts.push(format!("{} {words}", state.sign()));
        }
    }
    if cells().any(|c| !c.swaps.is_empty()) {
        parts.push("s the book names a swap".to_owned());
    }
    parts.join("   ")
}

/// Which ingredient it is, one paragraph for a component.
fn why(m: &Matrix, r: &Row) -> String {
    let mut told: Vec<String> = Vec::new();
    let mut swaps: Vec<&str> = Vec::new();
    for (c, cell) in m.columns.iter().zip(&r.cells) {
        if cell.state == State::Free {
            continue;
        }
        let mut named: Vec<String> = Vec::new();
        for cause in &cell.causes {
            let lead = if cause.state == cell.state {
                ""
            } else {
                cause.state.sign()
            };
            let said = match cause.state {
                State::Unknown | State::Under => format!(" ({})", cause.said),
                _ if cause.said == c.id => String::new(),
                _ => format!(" ({})", cause.said),
            };
            let text = format!("{lead} {}{said}", cause.name).trim().to_owned();
            if !named.contains(&text) {
                named.push(text);
            }
        }
        let amount = cell.mg_per_kg.map_or_else(String::new, |mg| {
            format!(" {} mg/kg,", plan::figures::number(mg, 1))
        });
        told.push(format!(
            "{} {}:{amount} {}",
            cell.state.sign(),
            c.short,
            named.join("; ")
        ));
        for s in &cell.swaps {
            if !swaps.contains(&s.as_str()) {
                swaps.push(s);
            }
        }
    }
    if told.is_empty() {
        return String::new();
    }
    let swap = if swaps.is_empty() {
        String::new()
    } else {
        format!(" · swap: {}", swaps.join(" or "))
    };
    paragraph("  ", &format!("{}  {}{swap}", r.name, told.join(" · ")))
}

/// Words on the labels that the place's list does not have: a guest may ask for them all the same.
fn beside(m: &Matrix) -> Option<String> {
    if m.beside.is_empty() {
        return None;
    }
    let each: Vec<String> = m
        .beside
        .iter()
        .map(|b| {
            format!(
                "{} {} in {} ({})",
                b.state.sign(),
                b.word.word(),
                b.name,
                b.ingredient
            )
        })
        .collect();
    Some(format!(
        "Not on this list, on a label: {}",
        each.join(" · ")
    ))
}
