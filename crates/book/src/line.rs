//! One line of a `mix`: what, and how much of it.

use kitchen::ingredient::Ingredient;
use kitchen::step::{BoilOff, Line, LineAmount, LineItem};
use units::{Amount, Mass};

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::known::Known;
use crate::page::Span;
use crate::values::short;

/// The ways a line may say how much.
const AMOUNTS: [&str; 5] = ["of-base", "per-batch", "per-load", "per-piece", "amount"];

/// Reads one line.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<Line> {
    let item = line_item(fields, known);
    let form = fields.text("form").map(|(t, _)| t);
    let (amount, written) = match amount(fields, known, item.as_ref(), form.as_deref()) {
        Some((amount, written)) => (Some(amount), written),
        None => (None, None),
    };
    let trim = fields
        .number_within(
            "trim",
            0.01,
            1.0,
            "write usable over purchased, such as 0.50",
        )
        .map_or(1.0, |(n, _)| n);
    let gives = fields.some_mass("gives");
    let start_with = fields
        .percent(
            "start-with",
            1.0,
            100.0,
            "write the part to start with, such as \"70 %\"",
        )
        .map(|p| p / 100.0);
    let boils_off = boils_off(fields);
    fields.close();
    Some(Line {
        item: item?,
        form,
        amount: amount?,
        trim,
        gives,
        start_with,
        boils_off,
        written,
    })
}

pub(crate) fn line_item(fields: &Fields<'_, '_>, known: &Known) -> Option<LineItem> {
    match (fields.has("item"), fields.has("recipe")) {
        (true, false) => {
            let (name, span) = fields.text("item")?;
            known.item(fields, &name, &span).map(LineItem::Item)
        }
        (false, true) => {
            let (name, span) = fields.text("recipe")?;
            known.recipe(fields, &name, &span).map(LineItem::Recipe)
        }
        (true, true) => {
            let (_, _) = (fields.text("item"), fields.text("recipe"));
            fields.page.report(
                Code::Contradiction,
                fields.head(),
                format!("{} names an item and a recipe", fields.what),
                "one of the two",
                "take one out, or make two lines",
            );
            None
        }
        (false, false) => {
            fields.missing("item", "`item` or `recipe`", "say what is added");
            None
        }
    }
}

fn amount(
    fields: &Fields<'_, '_>,
    known: &Known,
    item: Option<&LineItem>,
    form: Option<&str>,
) -> Option<(LineAmount, Option<String>)> {
    let given = fields.given(&AMOUNTS);
    if given.len() != 1 {
        for key in AMOUNTS {
            fields.raw(key);
        }
        if given.is_empty() {
            fields.page.marked(
                Code::MissingKey,
                fields.head(),
                "how much?".to_owned(),
                (
                    format!("{} does not say how much", fields.what),
                    "one of: of-base, per-batch, per-load, per-piece, amount",
                    "say how much: of-base = \"2.5 %\" is percent of the named base",
                ),
            );
        } else {
            fields.page.report(
                Code::Contradiction,
                fields.at(given[1]),
                format!(
                    "{} says how much twice: {}",
                    fields.what,
                    given.join(" and ")
                ),
                "one of them",
                "keep the one the kitchen weighs by",
            );
        }
        return None;
    }
    // One of each is asked, so that each key counts as read.
    if let Some(pct) = fields.percent(
        "of-base",
        0.0,
        1000.0,
        "write percent of the base, such as \"2.5 %\"",
    ) {
        return Some((LineAmount::OfBase(pct), None));
    }
    if let Some((mass, _)) = fields.mass("per-batch") {
        return Some((LineAmount::PerBatch(mass), None));
    }
    if let Some((mass, _)) = fields.mass("per-load") {
        return Some((LineAmount::PerLoad(mass), None));
    }
    if let Some((n, _)) =
        fields.number_within("per-piece", 0.0, 10_000.0, "write how many for each piece")
    {
        return Some((LineAmount::PerPiece(n), None));
    }
    let (text, span) = fields.text("amount")?;
    let LineItem::Item(id) = item? else {
        fields.page.report(
            Code::Contradiction,
            span,
            "a kitchen measure of another recipe".to_owned(),
            "a percentage of the base",
            "use of-base for a recipe in a recipe",
        );
        return None;
    };
    let mass = weigh(fields, known.ingredient(id)?, form, &text, &span)?;
    Some((LineAmount::PerBatch(mass), Some(text)))
}

/// The weight of an amount in kitchen measures, by the ingredient's own density or piece weight.
fn weigh(
    fields: &Fields<'_, '_>,
    item: &Ingredient,
    form: Option<&str>,
    text: &str,
    span: &Span,
) -> Option<Mass> {
    let amount = match units::read_amount(text, fields.page.measures.get()) {
        Ok(amount) => amount,
        Err(error) => {
            fields.unreadable("amount", text, span, &error, "not an amount");
            return None;
        }
    };
    let refuse = |code, found: String, expected: &str, do_now: &str| {
        fields
            .page
            .report(code, span.clone(), found, expected, do_now);
        None
    };
    match amount {
        Amount::Mass(mass) => Some(mass),
        Amount::Volume(volume) => match item.density_of(form) {
            Some(density) => Some(density.density.mass_of(volume)),
            None => {
                let forms: Vec<&str> = item.density.iter().map(|d| d.form.as_str()).collect();
                let expected = if forms.is_empty() {
                    "a weight: the table has no density for it".to_owned()
                } else {
                    format!("form = one of: {}", forms.join(", "))
                };
                let do_now = if forms.is_empty() {
                    "weigh it once and write grams"
                } else {
                    "name the form, or weigh it once and write grams"
                };
                let said = form.map_or_else(String::new, |form| format!(", {}", short(form)));
                refuse(
                    Code::NeedsKind,
                    format!(
                        "\"{}\" of {}{said}: nobody has weighed that",
                        short(text),
                        item.name
                    ),
                    &expected,
                    do_now,
                )
            }
        },
        Amount::Count(count) => match item.each.iter().find(|e| same_word(&e.word, count.word())) {
            Some(each) => each.mass.scaled(count.n()).ok(),
            None => refuse(
                Code::NeedsKind,
                format!(
                    "\"{}\" of {}: nobody has weighed one {}",
                    short(text),
                    item.name,
                    count.word()
                ),
                &if item.each.is_empty() {
                    "a weight: the table has no weight of one piece of it".to_owned()
                } else {
                    let words: Vec<&str> = item.each.iter().map(|e| e.word.as_str()).collect();
                    format!("a weight, or a count of: {}", words.join(", "))
                },
                "weigh one and write grams",
            ),
        },
        _ => refuse(
            Code::Unreadable,
            format!("\"{}\" is not an amount of {}", short(text), item.name),
            "a weight, a volume or a count",
            "write grams",
        ),
    }
}

fn same_word(a: &str, b: &str) -> bool {
    let single = |w: &str| w.trim_end_matches('s').to_lowercase();
    single(a) == single(b)
}

fn boils_off(fields: &Fields<'_, '_>) -> Option<BoilOff> {
    let value = fields.raw("boils-off")?;
    if value.get_ref().as_str().is_some() {
        return fields
            .percent(
                "boils-off",
                0.0,
                95.0,
                "write the part of the brew that boils off",
            )
            .map(|p| BoilOff::Part(p / 100.0));
    }
    let pan = fields.fields("boils-off", format!("the boil-off of {}", fields.what))?;
    let diameter = pan.length("pan");
    let time = pan.elapsed("for");
    let rate = pan.number_within(
        "rate",
        0.001,
        10.0,
        "write g per cm² and hour, measured on your fire",
    );
    pan.close();
    if diameter.is_none() && !pan.has("pan") {
        pan.missing(
            "pan",
            "the inside diameter, such as \"240 mm\"",
            "measure the pan",
        );
    }
    if time.is_none() && !pan.has("for") {
        pan.missing(
            "for",
            "the time on the boil, such as \"25 min\"",
            "write it",
        );
    }
    if rate.is_none() && !pan.has("rate") {
        pan.missing(
            "rate",
            "g per cm² and hour",
            "weigh a pan before and after ten minutes",
        );
    }
    Some(BoilOff::Pan {
        diameter: diameter?.0,
        time: time?.0,
        rate_g_cm2_h: rate?.0,
    })
}
