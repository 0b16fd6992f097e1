//! The `[[dish]]` table.

use kitchen::Id;
use kitchen::event::{Dish, Part, Per, Plating, Portion};
use kitchen::step::LineItem;
use kitchen::swap::Swap;
use units::Elapsed;

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::known::Known;
use crate::page::Span;

/// A dish with the places the rest of the book needs to point at.
pub(crate) struct ReadDish {
    pub(crate) dish: Dish,
    /// Where its id stands.
    pub(crate) at: Span,
    /// Where each part says its pieces, in the order of the parts.
    pub(crate) pieces: Vec<Span>,
}

/// Reads one dish.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<ReadDish> {
    let id = fields.own_id("id");
    let label = id
        .as_ref()
        .map_or_else(|| "a dish".to_owned(), |(id, _)| format!("dish {id}"));
    let name = fields.need_text("name", "the name on the menu", "give it one");
    let tables = fields.list("parts", &format!("a part of {label}"));
    let wanted = tables.len();
    let parts: Vec<Part> = tables.iter().filter_map(|f| part(f, known)).collect();
    if wanted == 0 && fields.all_read("parts", 0) {
        fields.missing(
            "parts",
            "a list of { recipe = …, portion = … }",
            "say what is on the plate",
        );
    }
    let swaps = crate::swap::of_dish(fields, &label, known);
    let plating = fields
        .fields("plating", format!("the plating of {label}"))
        .and_then(|f| plating(&f));
    fields.close();
    let (id, at) = id?;
    if parts.len() != wanted || wanted == 0 {
        return None;
    }
    for (part, span, swap) in &swaps {
        strays(fields, &label, &parts, part, span, swap);
    }
    Some(ReadDish {
        dish: Dish {
            id,
            name: name?.0,
            parts,
            swaps: swaps.into_iter().map(|(part, _, s)| (part, s)).collect(),
            plating,
        },
        at,
        pieces: tables.iter().map(|f| f.at("pieces")).collect(),
    })
}

/// Reports a swap for what is not on the dish, or of the very part it stands for.
fn strays(
    fields: &Fields<'_, '_>,
    label: &str,
    parts: &[Part],
    part: &Id,
    span: &Span,
    swap: &Swap,
) {
    let known: Vec<&str> = parts.iter().map(|p| p.recipe.as_str()).collect();
    if !known.contains(&part.as_str()) {
        fields.page.suggest(
            Code::UnknownName,
            span.clone(),
            format!("{label} has no part {part}"),
            &format!("one of: {}", known.join(", ")),
            "name the part the swap stands for",
            crate::suggest::did_you_mean(part.as_str(), known.iter().copied()),
        );
    } else if swap
        .mix
        .iter()
        .any(|p| p.item == LineItem::Recipe(part.clone()))
    {
        fields.page.report(
            Code::Contradiction,
            span.clone(),
            format!("a swap for {part} is made of {part}"),
            "a mix without the part it stands for",
            "take it out of the mix",
        );
    }
}

fn part(f: &Fields<'_, '_>, known: &Known) -> Option<Part> {
    let recipe = match f.need_text("recipe", "the id of a recipe", "name it") {
        Some((name, span)) => known.recipe(f, &name, &span),
        None => None,
    };
    let served = f.some_mass("portion").map(Portion::Served);
    let pieces = f
        .number_within("pieces", 0.001, 10_000.0, "write how many bought pieces")
        .map(|(n, _)| Portion::Pieces(n));
    let per = f.one_of("per", Per::ALL).unwrap_or(Per::Plate);
    let spare = f
        .whole("spare", 0, 100_000, "write how many more than the count")
        .unwrap_or(0);
    let can_be_left_out = f.flag("leave-out").unwrap_or(true);
    f.close();
    if f.has("portion") == f.has("pieces") {
        f.page.report(
            Code::Contradiction,
            f.at("pieces"),
            format!(
                "{} says {} how much of it",
                f.what,
                if f.has("portion") { "twice" } else { "nowhere" }
            ),
            "portion = \"60 g\" or pieces = 1",
            "keep one",
        );
        return None;
    }
    Some(Part {
        recipe: recipe?,
        portion: served.or(pieces)?,
        per,
        spare,
        can_be_left_out,
    })
}

fn plating(f: &Fields<'_, '_>) -> Option<Plating> {
    let hands = f
        .fields("hands", format!("the hands of {}", f.what))
        .map_or_else(crate::step::no_hands, |h| crate::step::hands(&h));
    let stands_at_most = f.elapsed("stands-at-most");
    if stands_at_most.is_none() && !f.has("stands-at-most") {
        f.missing(
            "stands-at-most",
            "how long a plate may stand, such as \"40 min\"",
            "write it",
        );
    }
    let ready_before = f.elapsed("ready-before").map_or(Elapsed::ZERO, |(t, _)| t);
    f.close();
    let (stands_at_most, span) = stands_at_most?;
    if ready_before > stands_at_most {
        f.page.report(
            Code::Contradiction,
            span,
            format!(
                "plates are ready {ready_before} before service but stand at most {stands_at_most}"
            ),
            "ready-before ≤ stands-at-most",
            "correct one of the two",
        );
        return None;
    }
    Some(Plating {
        hands,
        stands_at_most,
        ready_before,
    })
}
