//! A recipe of the book as JSON-LD.
//!
//! # Method
//! The format has no percentages, so the formula is reckoned for one batch: for 1 kg of the item it starts from, or
//! for the mass its grams were written for. Masses of the steps follow from the mean yields, backward from the last
//! step and then to scale; batches are not rounded. Every line carries its percentage and base in brackets.

use kitchen::recipe::Recipe;
use kitchen::step::{BaseKind, FeedFrom, Line, LineAmount, LineItem, Step, UseAmount};
use kitchen::{Book, Id};
use serde::Serialize;

use super::{ADDED, FLOWS_IN};

/// Grams of the item a recipe starts from, when nothing else says for how much it is written.
const BATCH_G: f64 = 1000.0;

/// A recipe the book does not have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unknown {
    /// As it was asked for.
    pub found: String,
    /// The recipes of the book.
    pub known: Vec<String>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RecipeLd {
    #[serde(rename = "@context")]
    context: &'static str,
    #[serde(rename = "@type")]
    kind: &'static str,
    identifier: String,
    name: String,
    description: String,
    recipe_yield: String,
    recipe_ingredient: Vec<String>,
    recipe_instructions: Vec<StepLd>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct StepLd {
    #[serde(rename = "@type")]
    kind: &'static str,
    #[serde(rename = "@id")]
    id: String,
    position: usize,
    identifier: String,
    /// The act, a word of the book.
    name: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    previous_item: Vec<Reference>,
    item_list_element: Vec<DirectionLd>,
}

#[derive(Serialize)]
struct Reference {
    #[serde(rename = "@id")]
    id: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct DirectionLd {
    #[serde(rename = "@type")]
    kind: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    supply: Vec<ThingLd>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tool: Vec<ThingLd>,
    #[serde(skip_serializing_if = "Option::is_none")]
    perform_time: Option<String>,
}

#[derive(Serialize)]
struct ThingLd {
    #[serde(rename = "@type")]
    kind: &'static str,
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    description: Option<&'static str>,
}

/// A recipe of the book as JSON-LD, with a line end.
///
/// # Errors
/// [`Unknown`] when the book does not have it.
pub fn json_ld(book: &Book, recipe: &str) -> Result<String, Unknown> {
    let Some(recipe) = book.recipes.get(recipe) else {
        return Err(Unknown {
            found: recipe.to_owned(),
            known: book.recipes.keys().map(Id::to_string).collect(),
        });
    };
    let flows = flows(recipe);
    let steps: Vec<StepLd> = recipe
        .steps
        .iter()
        .zip(&flows)
        .enumerate()
        .map(|(i, (step, flow))| self::step(book, i, step, flow))
        .collect();
    let supplies = steps
        .iter()
        .flat_map(|s| &s.item_list_element)
        .flat_map(|d| &d.supply);
    let value = RecipeLd {
        context: "https://schema.org",
        kind: "Recipe",
        identifier: recipe.id.to_string(),
        name: recipe.name.clone(),
        description: describe(book, recipe, &flows),
        recipe_yield: format!("{} g", grams(flows[recipe.last()].out)),
        recipe_ingredient: supplies.map(|s| s.name.clone()).collect(),
        recipe_instructions: steps,
    };
    // Plain structs of texts and numbers: there is nothing in them that could fail to be written.
    let mut text = serde_json::to_string_pretty(&value).unwrap_or_default();
    text.push('\n');
    Ok(text)
}

struct Flow {
    inflow: f64,
    base: f64,
    out: f64,
}

/// Masses of the steps for one batch.
fn flows(recipe: &Recipe) -> Vec<Flow> {
    let mut flows: Vec<Flow> = recipe
        .steps
        .iter()
        .map(|_| Flow {
            inflow: 0.0,
            base: 0.0,
            out: 0.0,
        })
        .collect();
    let last = recipe.last();
    for i in (0..recipe.steps.len()).rev() {
        let step = &recipe.steps[i];
        let mut out: f64 = recipe
            .takers(i)
            .iter()
            .map(|(j, share)| flows[*j].inflow * share)
            .sum();
        if i == last {
            out += 1.0;
        }
        let before = out / step.yields.mean;
        let (inflow, base) = match step.base.kind {
            BaseKind::Made => (0.0, before),
            BaseKind::Inflow => (before, before),
            BaseKind::Cover(ratio) => (before, before * ratio),
        };
        flows[i] = Flow { inflow, base, out };
    }
    let scale = scale(recipe, &flows);
    for flow in &mut flows {
        flow.inflow *= scale;
        flow.base *= scale;
        flow.out *= scale;
    }
    flows
}

/// What brings the masses for one gram at the end to the batch.
fn scale(recipe: &Recipe, flows: &[Flow]) -> f64 {
    let written = recipe.steps.iter().zip(flows).find_map(|(step, flow)| {
        let g = step.base.written_for?.g();
        (flow.base > 0.0).then(|| g / flow.base)
    });
    let starts = recipe.steps.iter().zip(flows).find_map(|(step, flow)| {
        let item = step
            .feeds
            .iter()
            .find(|f| !matches!(f.from, FeedFrom::Step(_)))?;
        (flow.inflow > 0.0).then(|| BATCH_G / (flow.inflow * item.share))
    });
    let made = recipe.steps.iter().zip(flows).find_map(|(step, flow)| {
        (matches!(step.base.kind, BaseKind::Made) && flow.base > 0.0).then(|| BATCH_G / flow.base)
    });
    written.or(starts).or(made).unwrap_or(BATCH_G)
}

fn describe(book: &Book, recipe: &Recipe, flows: &[Flow]) -> String {
    let start = recipe.steps.iter().zip(flows).find_map(|(step, flow)| {
        let feed = step
            .feeds
            .iter()
            .find(|f| !matches!(f.from, FeedFrom::Step(_)))?;
        Some(format!(
            "{} g of {}",
            grams(flow.inflow * feed.share),
            feed_name(book, &feed.from)
        ))
    });
    let start = start.unwrap_or_else(|| format!("{} g made", grams(flows[recipe.last()].out)));
    format!(
        "Weights are for {start}. Percentages in brackets are of the base named there. The process beyond these lines (yields, waits, holding temperatures, programmes, machines) is not part of this format."
    )
}

/// Grams to a milligram, without idle zeros.
pub(super) fn grams(g: f64) -> String {
    units::decimal(g).map_or_else(
        |_| g.to_string(),
        |d| units::half_up(d, 3).normalize().to_string(),
    )
}

fn feed_name(book: &Book, from: &FeedFrom) -> String {
    match from {
        FeedFrom::Item { item, .. } => item_name(book, item),
        FeedFrom::Step(id) => id.to_string(),
        FeedFrom::Recipe(id) => recipe_name(book, id),
    }
}

fn item_name(book: &Book, id: &Id) -> String {
    book.ingredients
        .get(id)
        .map_or_else(|| id.to_string(), |i| i.name.clone())
}

fn recipe_name(book: &Book, id: &Id) -> String {
    book.recipes
        .get(id)
        .map_or_else(|| id.to_string(), |r| r.name.clone())
}

fn step(book: &Book, i: usize, step: &Step, flow: &Flow) -> StepLd {
    let mut supply = Vec::new();
    let mut previous_item = Vec::new();
    for feed in &step.feeds {
        if let FeedFrom::Step(id) = &feed.from {
            previous_item.push(Reference {
                id: format!("#{id}"),
            });
        } else {
            supply.push(ThingLd {
                kind: "HowToSupply",
                name: format!(
                    "{} g {}",
                    grams(flow.inflow * feed.share),
                    feed_name(book, &feed.from)
                ),
                description: Some(FLOWS_IN),
            });
        }
    }
    for line in &step.lines {
        supply.push(ThingLd {
            kind: "HowToSupply",
            name: line_text(book, step, flow, line),
            description: Some(ADDED),
        });
    }
    let mut tools: Vec<String> = step
        .uses
        .iter()
        .filter(|u| !matches!(u.amount, UseAmount::Fixed(n) if n <= 0.0))
        .map(|u| u.machine.to_string())
        .collect();
    tools.dedup();
    let minutes: f64 = step.programme.iter().map(|s| s.time.minutes()).sum();
    StepLd {
        kind: "HowToStep",
        id: format!("#{}", step.id),
        position: i + 1,
        identifier: step.id.to_string(),
        name: step.verb.word(),
        text: step.what.clone(),
        previous_item,
        item_list_element: vec![DirectionLd {
            kind: "HowToDirection",
            text: step.what.clone(),
            supply,
            tool: tools
                .into_iter()
                .map(|name| ThingLd {
                    kind: "HowToTool",
                    name,
                    description: None,
                })
                .collect(),
            perform_time: (minutes > 0.0).then(|| duration(minutes)),
        }],
    }
}

/// `PT3H15M`: ISO 8601 as schema.org asks for it; to the minute.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn duration(minutes: f64) -> String {
    let minutes = minutes.round() as u64;
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("PT{m}M"),
        (h, 0) => format!("PT{h}H"),
        (h, m) => format!("PT{h}H{m}M"),
    }
}

fn line_text(book: &Book, step: &Step, flow: &Flow, line: &Line) -> String {
    let mut name = match &line.item {
        LineItem::Item(id) => item_name(book, id),
        LineItem::Recipe(id) => recipe_name(book, id),
    };
    if let Some(form) = &line.form {
        name = format!("{name}, {form}");
    }
    match line.amount {
        LineAmount::OfBase(pct) => {
            let text =
                units::decimal(pct).map_or_else(|_| pct.to_string(), |d| d.normalize().to_string());
            format!(
                "{} g {name} ({text} % of {})",
                grams(flow.base * pct / 100.0),
                step.base.name.name()
            )
        }
        LineAmount::PerBatch(mass) => {
            let factor = step.base.written_for.map_or(1.0, |w| flow.base / w.g());
            match &line.written {
                // As the cook wrote it, where the batch is the one it was written for.
                Some(written) if (factor - 1.0).abs() < 1e-9 => format!("{written} {name}"),
                _ => format!("{} g {name}", grams(mass.g() * factor)),
            }
        }
        LineAmount::PerLoad(mass) => format!("{} g {name} for every load", grams(mass.g())),
        LineAmount::PerPiece(n) => format!("{n} {name} for every piece"),
    }
}
