//! A draft page of the book from a recipe somebody sent, with the questions it leaves open.

use kitchen::Id;
use kitchen::verb::Verb;
use units::Customary;

use super::FLOWS_IN;
use super::line::{Line, Worth, read_line};
use super::page;
use super::source::{self, Given, GivenStep};
use crate::import::Target;
use crate::refusal::{Refusal, quoted};

/// A draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The id of the recipe.
    pub id: Id,
    /// The file of the book it would be.
    pub file: String,
    /// Its text.
    pub page: String,
    /// The questions that stand in its `open`: until they are settled the book does not pass `saltern check`.
    pub open: Vec<String>,
    /// Lines read, and lines left open.
    pub read: usize,
    /// Lines left open.
    pub unread: usize,
}

/// A step of the draft.
pub(super) struct Step {
    pub(super) id: Id,
    pub(super) act: Option<Verb>,
    pub(super) text: String,
    pub(super) after: Vec<Id>,
    pub(super) takes: Vec<(String, Line)>,
    pub(super) mix: Vec<(String, Line)>,
    pub(super) tools: Vec<String>,
    pub(super) time: Option<String>,
}

/// Reads a JSON-LD file into a draft. `measures` is whose cups and spoons it means, when the user says so.
///
/// What the format cannot say is asked for and left out of the page, so that the page does not pass `saltern check` by
/// itself either: acts nobody named, waits.
///
/// # Errors
/// What is no recipe, or one the book has already.
pub fn draft(
    bytes: &[u8],
    into: Target<'_>,
    measures: Option<Customary>,
) -> Result<Draft, Vec<Refusal>> {
    draft_of(&source::read(bytes)?, into, measures, "a schema.org Recipe")
}

/// A draft of what was given; `read_from` says in its first line what it was.
pub(super) fn draft_of(
    given: &Given,
    into: Target<'_>,
    measures: Option<Customary>,
    read_from: &str,
) -> Result<Draft, Vec<Refusal>> {
    let id = id_of(given)?;
    let file = format!("recipes/{id}.toml");
    if into.book.recipes.contains_key(&id) || into.files.iter().any(|f| f.name == file) {
        return Err(vec![Refusal::whole(
            format!("the book has a recipe {id}, or a file {file}, already"),
            "a recipe the book does not have",
            "change \"identifier\" in the file, or take the old page out first; nothing is overwritten",
        )]);
    }
    let mut open = Vec::new();
    let mut steps = steps(given, &mut open);
    place(given, into, measures, &mut steps, &mut open);
    for step in &steps {
        ask_of(step, &mut open);
    }
    open.push("how long does it keep, counted from which step, at most how cold (keeps)? what class is it (product)?".to_owned());
    if !given.times.is_empty() {
        open.push(format!(
            "the file says {}: which waits and programmes are these?",
            given.times.join(", ")
        ));
    }
    if let Some(makes) = &given.makes {
        open.push(format!(
            "the file says it makes {}: does what the steps give agree?",
            quoted(makes)
        ));
    }
    open.sort_by_key(|q| !q.starts_with('"'));
    open.dedup();
    let lines = || steps.iter().flat_map(|s| s.takes.iter().chain(&s.mix));
    let unread = lines()
        .filter(|(_, l)| l.worth == Worth::Open || !l.open.is_empty())
        .count();
    let read = lines().count() - unread;
    let page = page::write(&id, &given.name, measures, &steps, &open, read_from);
    Ok(Draft {
        id,
        file,
        page,
        open,
        read,
        unread,
    })
}

/// The identifier where it is one of a book, else the name in the book's letters.
fn id_of(given: &Given) -> Result<Id, Vec<Refusal>> {
    if let Some(id) = given.identifier.as_deref().and_then(Id::new) {
        return Ok(id);
    }
    slug(&given.name).ok_or_else(|| {
        vec![Refusal::whole(
            format!("a name no id can be made of: \"{}\"", quoted(&given.name)),
            "an identifier of lower-case letters, digits and hyphens, a letter first",
            "write \"identifier\": \"its-id\" into the file",
        )]
    })
}

fn slug(name: &str) -> Option<Id> {
    let mut text = String::new();
    for c in name.chars() {
        if c.is_ascii_alphanumeric() {
            text.push(c.to_ascii_lowercase());
        } else if !text.is_empty() && !text.ends_with('-') {
            text.push('-');
        }
    }
    let text = text.trim_start_matches(|c: char| !c.is_ascii_lowercase());
    let short: String = text.chars().take(kitchen::id::LONGEST).collect();
    Id::new(short.trim_end_matches('-'))
}

fn steps(given: &Given, open: &mut Vec<String>) -> Vec<Step> {
    let one = [GivenStep {
        text: "Make it".to_owned(),
        ..GivenStep::default()
    }];
    let said: &[GivenStep] = if given.steps.is_empty() {
        open.push("the file has no instructions: what is done?".to_owned());
        &one
    } else {
        &given.steps
    };
    let ordered = said.iter().any(|s| s.after.is_some());
    let mut steps: Vec<Step> = Vec::new();
    for (i, s) in said.iter().enumerate() {
        let own = s.identifier.as_deref().and_then(Id::new);
        let id = own
            .filter(|id| steps.iter().all(|t| t.id != *id))
            .or_else(|| Id::new(&format!("step-{}", i + 1)));
        let Some(id) = id else { continue };
        let after = match &s.after {
            Some(ids) => ids.iter().filter_map(|id| Id::new(id)).collect(),
            // Steps in a list come one after the other.
            None if !ordered => steps.last().map(|t| t.id.clone()).into_iter().collect(),
            None => Vec::new(),
        };
        steps.push(Step {
            id,
            act: s.act.as_deref().and_then(Verb::find),
            text: s.text.clone(),
            after,
            takes: Vec::new(),
            mix: Vec::new(),
            tools: s.tools.clone(),
            time: s.time.clone(),
        });
    }
    steps
}

/// Puts every line where the file says, or at the first step where it does not say.
fn place(
    given: &Given,
    into: Target<'_>,
    measures: Option<Customary>,
    steps: &mut [Step],
    open: &mut Vec<String>,
) {
    let mut left = given.lines.clone();
    for (step, said) in steps.iter_mut().zip(&given.steps) {
        for (text, role) in &said.supplies {
            if let Some(at) = left.iter().position(|l| l == text) {
                left.remove(at);
            }
            let line = read_line(text, into.book, measures);
            open.extend(line.open.iter().cloned());
            if role.as_deref() == Some(FLOWS_IN) {
                step.takes.push((text.clone(), line));
            } else {
                step.mix.push((text.clone(), line));
            }
        }
    }
    let Some(first) = steps.first_mut() else {
        return;
    };
    if !left.is_empty() {
        for text in &left {
            let line = read_line(text, into.book, measures);
            open.extend(line.open.iter().cloned());
            first.mix.push((text.clone(), line));
        }
        open.push(format!(
            "which step does each line belong to? the file does not say; {} stand at step {}",
            left.len(),
            first.id
        ));
    }
}

/// Weight and percentage of the lines that say both.
fn percents(step: &Step) -> Vec<(f64, f64)> {
    let both = step.mix.iter().filter_map(|(_, line)| {
        let pct: f64 = line
            .of_base
            .as_ref()?
            .0
            .trim_end_matches('%')
            .trim()
            .parse()
            .ok()?;
        Some((page::weight(line)?, pct))
    });
    both.collect()
}

/// Whether the heaviest line's base gives the weight of every other, to a hundredth of it and a milligram.
fn agree(lines: &[(f64, f64)]) -> bool {
    let heaviest = lines
        .iter()
        .filter(|(_, pct)| *pct > 0.0)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let Some((g, pct)) = heaviest else {
        return true;
    };
    let base = g / pct * 100.0;
    lines
        .iter()
        .all(|(g, pct)| (g - base * pct / 100.0).abs() <= 0.001 + 0.01 * g)
}

/// What the format leaves out of a step.
fn ask_of(step: &Step, open: &mut Vec<String>) {
    let mut asked = Vec::new();
    if step.act.is_none() {
        asked.push("which act is it (do)?");
    }
    asked.push("how long must and may the lot stand after it (wait)?");
    asked.push("what does it weigh after, of what went in (yield)?");
    open.push(format!("step {}: {}", step.id, asked.join(" ")));
    let flows = !step.after.is_empty() || !step.takes.is_empty();
    let bases: Vec<&str> = step
        .mix
        .iter()
        .filter_map(|(_, l)| l.of_base.as_ref().map(|(_, b)| b.as_str()))
        .collect();
    match bases.first() {
        Some(base) if bases.iter().any(|b| b != base) => {
            open.push(format!(
                "step {}: its percentages are of several bases; of which one?",
                step.id
            ));
        }
        Some(base) if flows => {
            open.push(format!("step {}: is {base} the weight that flows in, or a liquor poured over it (base-is, ratio)?", step.id));
        }
        Some(base)
            if (percents(step).iter().map(|(_, pct)| pct).sum::<f64>() - 100.0).abs() > 0.05 =>
        {
            open.push(format!(
                "step {}: its percentages do not add to 100; is {base} all that is made there, or one part of it?",
                step.id
            ));
        }
        _ => {}
    }
    if !agree(&percents(step)) {
        open.push(format!(
            "step {}: its weights and its percentages do not agree; which hold?",
            step.id
        ));
    }
    if step.takes.len() + step.after.len() > 1 {
        open.push(format!(
            "step {}: in which shares do its parts flow in (share)?",
            step.id
        ));
    }
    if let Some(time) = &step.time {
        open.push(format!(
            "step {}: {time}: a machine's programme, or a wait?",
            step.id
        ));
    }
    if !step.tools.is_empty() {
        open.push(format!(
            "step {}: how much of {} does it hold, and when (uses)?",
            step.id,
            step.tools.join(", ")
        ));
    }
}
