//! One line of a recipe as people write it: how much, of what, and what stands in brackets.

use units::{Amount, Customary, Mass, read_amount};

use crate::import::names;
use kitchen::{Book, Id};

/// A line, taken apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The amount as written.
    pub written: String,
    /// What it is worth.
    pub worth: Worth,
    /// The item as written.
    pub named: String,
    /// How it is used: what stands behind the last comma of a name nobody has.
    pub form: Option<String>,
    /// Percent of a base, when the brackets say so.
    pub of_base: Option<(String, String)>,
    /// What is not settled, as questions.
    pub open: Vec<String>,
}

/// What a line comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum Worth {
    /// An ingredient of the book and its weight, of an amount that is a weight already.
    Weighed(Id, Mass),
    /// An ingredient and its weight by density or piece, of a kitchen measure.
    Measured(Id, Mass),
    /// Another recipe of the book.
    Recipe(Id, Mass),
    /// Not settled.
    Open,
}

/// Words an amount has at most: "2 lb 3 oz" has four.
const MOST_WORDS: usize = 8;

/// Reads a line. `measures` is whose cup and spoon a bare one is; `None` when nobody said.
#[must_use]
pub fn read_line(text: &str, book: &Book, measures: Option<Customary>) -> Line {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (body, brackets) = split_brackets(&text);
    let mut line = Line {
        written: String::new(),
        worth: Worth::Open,
        named: body.clone(),
        form: None,
        of_base: None,
        open: Vec::new(),
    };
    let Some((amount, written, rest)) = amount(&body) else {
        line.open
            .push(format!("\"{text}\": how much is that? write a weight"));
        return line;
    };
    line.written = written;
    line.named = rest.strip_prefix("of ").unwrap_or(&rest).trim().to_owned();
    for inside in &brackets {
        match percent_of_base(inside) {
            Some(of_base) if line.of_base.is_none() => line.of_base = Some(of_base),
            _ if says_amount(inside) => line.open.push(format!(
                "\"{text}\": it says {} and {inside}; which one holds?",
                line.written
            )),
            _ => line
                .open
                .push(format!("\"{text}\": what does ({inside}) change?")),
        }
    }
    if line.named.is_empty() {
        match &amount {
            Amount::Count(count) => line.named = count.word().to_owned(),
            _ => {
                line.open.push(format!("\"{text}\": of what?"));
                return line;
            }
        }
    }
    weigh(&text, &mut line, &amount, book, measures);
    line
}

/// The brackets of a line, taken out of it.
fn split_brackets(text: &str) -> (String, Vec<String>) {
    let (mut body, mut inside) = (String::new(), Vec::new());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('(') {
        let Some((within, behind)) = after.split_once(')') else {
            break;
        };
        body.push_str(before.trim_end());
        body.push(' ');
        inside.push(within.trim().to_owned());
        rest = behind.trim_start();
    }
    body.push_str(rest);
    (body.trim().to_owned(), inside)
}

/// The longest beginning of a line that is an amount, and what follows.
fn amount(text: &str) -> Option<(Amount, String, String)> {
    let words: Vec<&str> = text.split(' ').collect();
    (1..=words.len().min(MOST_WORDS)).rev().find_map(|k| {
        let beginning = words[..k].join(" ");
        let amount = read_amount(&beginning, Customary::Us).ok()?;
        Some((amount, beginning, words[k..].join(" ")))
    })
}

fn says_amount(text: &str) -> bool {
    amount(text).is_some()
}

/// `2.5 % of skin-on fillet`.
fn percent_of_base(text: &str) -> Option<(String, String)> {
    let (pct, base) = text.split_once('%')?;
    let base = base.trim_start().strip_prefix("of ")?.trim();
    let pct = pct.trim();
    let is_number = pct.parse::<f64>().is_ok_and(|n| n.is_finite() && n >= 0.0);
    (is_number && !base.is_empty()).then(|| (format!("{pct} %"), base.to_owned()))
}

/// What the name means, and what the amount of it weighs.
fn weigh(text: &str, line: &mut Line, amount: &Amount, book: &Book, measures: Option<Customary>) {
    if let (Some(id), Amount::Mass(mass)) = (recipe(book, &line.named), amount) {
        line.worth = Worth::Recipe(id, *mass);
        return;
    }
    let found: Result<Id, names::Unclear> = names::item(book, &line.named).or_else(|whole| {
        // "onion, red, sliced" is an onion in a form, where no ingredient has the whole name.
        let (head, form) = line.named.rsplit_once(',').ok_or_else(|| whole.clone())?;
        let id = names::item(book, head).map_err(|_| whole)?;
        let form = form.trim().to_owned();
        line.form = Some(form).filter(|f| !f.is_empty());
        Ok(id)
    });
    let id = match found {
        Ok(id) => id,
        Err(unclear) => {
            line.open
                .push(format!("\"{text}\": {}; {}", unclear.found, unclear.do_now));
            return;
        }
    };
    let Some(item) = book.ingredients.get(&id) else {
        return;
    };
    let worth = match amount {
        Amount::Mass(mass) => Ok(Worth::Weighed(id.clone(), *mass)),
        Amount::Volume(_) => {
            if measures.is_none() && is_bare(&line.written) {
                line.open.push(format!(
                    "\"{text}\": whose {}? set measures = \"us\", \"metric\" or \"imperial\", or import it anew with --measures",
                    measure_word(&line.written)
                ));
            }
            let volume = match read_amount(&line.written, measures.unwrap_or(Customary::Us)) {
                Ok(Amount::Volume(volume)) => Some(volume),
                _ => None,
            };
            let forms: Vec<&str> = item.density.iter().map(|d| d.form.as_str()).collect();
            match (volume, item.density_of(line.form.as_deref()), forms.len()) {
                (None, ..) => Err(format!("\"{text}\": there is no such measure there")),
                (Some(_), None, 0) => Err(format!(
                    "\"{text}\": nobody has weighed a cup of {}; write grams",
                    item.name
                )),
                (Some(_), None, _) => Err(format!(
                    "\"{text}\": nobody has weighed that form of {}; known: {}",
                    item.name,
                    forms.join(", ")
                )),
                (Some(volume), Some(d), n) => {
                    if n > 1 && line.form.is_none() {
                        // As a page of the book reads it, and said aloud: the forms weigh differently.
                        line.open.push(format!(
                            "\"{text}\": taken as {}; or is it another form: {}?",
                            d.form,
                            forms.join(", ")
                        ));
                    }
                    Ok(Worth::Measured(id.clone(), d.density.mass_of(volume)))
                }
            }
        }
        Amount::Count(count) => {
            let one = item.each.iter().find(|e| same_word(&e.word, count.word()));
            match one.map(|e| e.mass.scaled(count.n())) {
                Some(Ok(mass)) => Ok(Worth::Measured(id.clone(), mass)),
                _ => Err(format!(
                    "\"{text}\": nobody has weighed one {} of {}; weigh it and write grams",
                    count.word(),
                    item.name
                )),
            }
        }
        Amount::Range { low, high } => {
            Err(format!("\"{text}\": {low} or {high}? choose one weight"))
        }
        Amount::Vague { word } => Err(format!(
            "\"{text}\": {word} has no weight; weigh yours and write grams"
        )),
        other => Err(format!(
            "\"{text}\": {} is no amount of an ingredient; write grams",
            other.kind()
        )),
    };
    match worth {
        Ok(worth) => line.worth = worth,
        Err(question) => line.open.push(question),
    }
}

fn recipe(book: &Book, name: &str) -> Option<Id> {
    let word = name.to_lowercase();
    let called =
        |r: &&kitchen::recipe::Recipe| r.name.to_lowercase() == word || r.id == word.as_str();
    book.recipes.values().find(called).map(|r| r.id.clone())
}

fn same_word(a: &str, b: &str) -> bool {
    let single = |w: &str| w.trim_end_matches('s').to_lowercase();
    single(a) == single(b)
}

/// Whether the measure is another one in another kitchen.
fn is_bare(written: &str) -> bool {
    let at = |c| match read_amount(written, c) {
        Ok(Amount::Volume(v)) => Some(v.ml()),
        _ => None,
    };
    let us = at(Customary::Us);
    [Customary::Metric, Customary::Imperial]
        .into_iter()
        .any(|c| match (us, at(c)) {
            (Some(a), Some(b)) => (a - b).abs() > 1e-9,
            _ => true,
        })
}

fn measure_word(written: &str) -> &str {
    written.rsplit(' ').next().unwrap_or("measure")
}
