//! The `swaps` of a dish and of a recipe: what may stand in the place of a part for one guest.

use kitchen::Id;
use kitchen::swap::{Swap, SwapPart};
use units::Mass;

use crate::diagnostic::Code;
use crate::fields::{Fields, figure};
use crate::known::Known;
use crate::line::line_item;
use crate::page::Span;

/// How far shares may miss 100 %.
const ROUNDING: f64 = 1e-6;

/// The swaps of a recipe: each stands for the whole recipe.
pub(crate) fn of_recipe(fields: &Fields<'_, '_>, label: &str, known: &Known) -> Vec<Swap> {
    fields
        .list("swaps", &format!("a swap of {label}"))
        .iter()
        .filter_map(|f| {
            let swap = swap(f, known);
            f.close();
            swap
        })
        .collect()
}

/// The swaps of a dish: each names the part it stands for.
pub(crate) fn of_dish(
    fields: &Fields<'_, '_>,
    label: &str,
    known: &Known,
) -> Vec<(Id, Span, Swap)> {
    fields
        .list("swaps", &format!("a swap of {label}"))
        .iter()
        .filter_map(|f| {
            let part = f
                .need_text("for", "the recipe of a part of the dish", "name the part")
                .and_then(|(name, span)| Some((known.recipe(f, &name, &span)?, span)));
            let swap = swap(f, known);
            f.close();
            let (id, span) = part?;
            Some((id, span, swap?))
        })
        .collect()
}

fn swap(f: &Fields<'_, '_>, known: &Known) -> Option<Swap> {
    let name = f.need_text("name", "what the ticket calls it", "give it a name");
    let what = f.text("what").map(|(t, _)| t);
    let portion = f.some_mass("portion");
    if portion.is_none() && !f.has("portion") {
        f.missing(
            "portion",
            "grams on one plate, such as \"12 g\"",
            "weigh one and write it",
        );
    }
    let tables = f.list("mix", &format!("the mix of {}", f.what));
    let wanted = tables.len();
    let mix: Vec<SwapPart> = tables.iter().filter_map(|t| part(t, known)).collect();
    if wanted == 0 && f.all_read("mix", 0) {
        f.missing(
            "mix",
            "a list of { recipe = …, share = … } or { item = …, share = … }",
            "say what it is made of",
        );
    }
    let total: f64 = mix.iter().map(|p| p.share).sum();
    if wanted > 0 && mix.len() == wanted && (total - 1.0).abs() > ROUNDING {
        f.page.report(
            Code::Contradiction,
            f.at("mix"),
            format!(
                "the shares of {} add to {} %",
                f.what,
                figure((total * 1e4).round() / 1e2)
            ),
            "shares that add to 100 %, by weight",
            "give each its share of the whole",
        );
        return None;
    }
    if wanted == 0 || mix.len() != wanted {
        return None;
    }
    Some(Swap {
        name: name?.0,
        mix,
        portion: portion.filter(|m| *m > Mass::ZERO)?,
        what,
    })
}

fn part(f: &Fields<'_, '_>, known: &Known) -> Option<SwapPart> {
    let item = line_item(f, known);
    let form = f.text("form").map(|(t, _)| t);
    let share = f.percent(
        "share",
        0.0001,
        100.0,
        "write its part of the swap, by weight",
    );
    if share.is_none() && !f.has("share") {
        f.missing("share", "its part by weight, such as \"75 %\"", "write it");
    }
    f.close();
    Some(SwapPart {
        item: item?,
        form,
        share: share? / 100.0,
    })
}
