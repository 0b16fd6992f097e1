//! The order of things: raw food below ready food, and what is free of an allergen before what holds it.

use crate::judge::figure::{Row, row};
use crate::judge::{Refusal, Terms};
use crate::judgement::Judgement;
use crate::verdict::Verdict;

/// Raw or ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Raw food of animals.
    Raw,
    /// Ready to be eaten as it is.
    Ready,
}

/// Something on a shelf of one fridge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shelved {
    /// Its name.
    pub name: String,
    /// Raw or ready; `None` where nobody said.
    pub kind: Option<Kind>,
    /// Shelf, the lowest 0; `None` where nobody said.
    pub shelf: Option<u32>,
}

/// No raw food above ready food in one fridge.
///
/// # Source
/// `store.raw_below_ready` (second-hand: it can break a verdict, never show one).
/// # Errors
/// Rules that do not hold together.
pub fn raw_below_ready(terms: &Terms, shelved: &[Shelved]) -> Result<Judgement, Refusal> {
    let row = row("store.raw_below_ready", terms)?;
    let of = |kind| {
        shelved
            .iter()
            .filter(move |s| s.kind == Some(kind))
            .filter_map(|s| Some((s, s.shelf?)))
    };
    let pair = |bad: fn(u32, u32) -> bool| {
        of(Kind::Raw).find_map(|(raw, at)| {
            let (ready, _) = of(Kind::Ready).find(|(_, under)| bad(at, *under))?;
            Some((raw.name.as_str(), ready.name.as_str()))
        })
    };
    let unknown = shelved
        .iter()
        .find(|s| s.kind.is_none() || s.shelf.is_none());
    let (verdict, place, next) = if let Some((raw, ready)) = pair(|raw, ready| raw > ready) {
        (
            Verdict::Broken,
            format!("{raw} stands above {ready}"),
            format!("move {raw} below {ready}, and look whether it has dripped"),
        )
    } else if let Some((raw, ready)) = pair(|raw, ready| raw == ready) {
        (
            Verdict::NotShown,
            format!("{raw} and {ready} on one shelf"),
            format!("move {raw} to a shelf below, or close both"),
        )
    } else if let Some(one) = unknown {
        (
            Verdict::NotShown,
            format!(
                "{}: raw or ready, and on which shelf, is not known",
                one.name
            ),
            "say what it is and where it stands".to_owned(),
        )
    } else {
        (
            Verdict::NotShown,
            format!("{} things, no raw above ready", shelved.len()),
            "keep it so".to_owned(),
        )
    };
    Ok(ordered("raw-below-ready", &row, verdict, place, next))
}

/// A batch on a bench or a machine, in the order of the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// Its name.
    pub name: String,
    /// Allergens it holds; `None` where the labels were not read.
    pub holds: Option<Vec<String>>,
    /// Whether everything was cleaned down before it.
    pub cleaned_before: bool,
}

/// On one bench: what is free of an allergen first, or a clean-down between.
///
/// # Source
/// `allergen.order` (common practice: it can break a verdict, never show one).
/// # Errors
/// Rules that do not hold together.
pub fn allergens_in_order(terms: &Terms, batches: &[Batch]) -> Result<Judgement, Refusal> {
    let row = row("allergen.order", terms)?;
    let mut on_bench: Vec<(&str, &str)> = Vec::new();
    let mut unread = None;
    for batch in batches {
        if batch.cleaned_before {
            on_bench.clear();
        }
        let Some(holds) = &batch.holds else {
            unread = unread.or(Some(batch.name.as_str()));
            continue;
        };
        if let Some((allergen, from)) = on_bench.iter().find(|(a, _)| !holds.iter().any(|h| h == a))
        {
            return Ok(ordered(
                "allergen-order",
                &row,
                Verdict::Broken,
                format!(
                    "{} is free of {allergen} and comes after {from}",
                    batch.name
                ),
                format!(
                    "make {} first, or clean everything down between",
                    batch.name
                ),
            ));
        }
        on_bench.extend(holds.iter().map(|h| (h.as_str(), batch.name.as_str())));
    }
    let (place, next) = unread.map_or_else(
        || {
            (
                format!("{} batches in order", batches.len()),
                "tag the plates, and keep the order".to_owned(),
            )
        },
        |name| {
            (
                format!("{name}: its labels were not read"),
                format!("read the labels of {name}"),
            )
        },
    );
    Ok(ordered(
        "allergen-order",
        &row,
        Verdict::NotShown,
        place,
        next,
    ))
}

fn ordered(
    rule: &'static str,
    row: &Row,
    verdict: Verdict,
    place: String,
    next: String,
) -> Judgement {
    Judgement {
        verdict,
        holds: row.holds,
        base: "order as it was said".to_owned(),
        ..Judgement::not_shown(
            rule,
            row.rule.list.join("; "),
            place,
            row.source,
            row.cautioned(next),
        )
    }
}
