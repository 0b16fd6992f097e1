//! Suppliers of a site and what they sell.

use kitchen::site::{CutOff, Offer, Pack, Supplier};

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::hours::weekday;
use crate::known::Known;
use crate::suggest::did_you_mean;
use crate::values::short;

/// Reads a supplier.
pub(crate) fn supplier(f: &Fields<'_, '_>) -> Option<Supplier> {
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let name = f.need_text("name", "the supplier's name", "give it one");
    let cut = f.fields("cut-off", format!("the cut-off of {}", f.what));
    if cut.is_none() && !f.has("cut-off") {
        f.missing(
            "cut-off",
            "the last moment to order",
            "write working-days-before, ahead or weekly",
        );
    }
    let cut_off = cut.and_then(|c| cut_off(&c));
    let delivers = f.weekdays("delivers").unwrap_or_default();
    let at = f.hour("at");
    if at.is_none() && !f.has("at") {
        f.missing("at", "the delivery hour, such as \"08:30\"", "write it");
    }
    f.close();
    Some(Supplier {
        id: id?.0,
        name: name?.0,
        cut_off: cut_off?,
        delivers,
        at: at?,
    })
}

fn cut_off(c: &Fields<'_, '_>) -> Option<CutOff> {
    let days = c.whole("working-days-before", 0, 60, "write how many working days");
    let ahead = c.elapsed("ahead").map(|(t, _)| t);
    let weekly = c.text("weekly");
    let at = c.hour("at");
    c.close();
    let given: Vec<&str> = ["working-days-before", "ahead", "weekly"]
        .into_iter()
        .filter(|k| c.has(k))
        .collect();
    if given.len() == 1 && given[0] != "ahead" && !c.has("at") {
        c.missing(
            "at",
            "the hour of the cut-off, such as \"11:00\"",
            "write it",
        );
    }
    match (days, ahead, weekly) {
        (Some(days), None, None) => Some(CutOff::WorkingDays(days, at?)),
        (None, Some(ahead), None) => Some(CutOff::Ahead(ahead)),
        (None, None, Some((word, span))) => match weekday(&word) {
            Some(day) => Some(CutOff::Weekly(day, at?)),
            None => {
                c.page.report(
                    Code::Unreadable,
                    span,
                    format!("`weekly` of {} is \"{}\"", c.what, short(&word)),
                    "a day among Mon Tue Wed Thu Fri Sat Sun",
                    "write the day",
                );
                None
            }
        },
        // What was given and could not be read is reported already.
        _ if given.len() == 1 => None,
        _ => {
            let says = if given.is_empty() {
                "says nothing of when".to_owned()
            } else {
                format!("says it {} times: {}", given.len(), given.join(" and "))
            };
            c.page.report(
                Code::Contradiction,
                c.head(),
                format!("{} {says}", c.what),
                "working-days-before with at, or ahead, or weekly with at",
                "keep one of them",
            );
            None
        }
    }
}

/// Reads an offer; `suppliers` are the ids that stand in the file.
pub(crate) fn offer(f: &Fields<'_, '_>, known: &Known, suppliers: &[&str]) -> Option<Offer> {
    let f = &match f.table_value("item").and_then(|v| v.get_ref().as_str()) {
        Some(item) => f.renamed(format!("the offer of {}", short(item))),
        None => f.renamed(f.what.clone()),
    };
    let supplier = f.other_id("supplier");
    if supplier.is_none() && !f.has("supplier") {
        f.missing("supplier", "the id of a supplier", "name it");
    }
    let item = match f.need_text("item", "an ingredient", "name it") {
        Some((name, span)) => known.item(f, &name, &span),
        None => None,
    };
    let spec = f.text("spec").map_or_else(String::new, |(t, _)| t);
    let per_kg = f.money("per-kg");
    let price = f.money("price");
    let each = f.money("each");
    let step = f.some_mass("step");
    let net = f.some_mass("pack");
    let piece = f.some_mass("piece");
    let word = f.text("word").map_or_else(|| "pack".to_owned(), |(t, _)| t);
    let substitutes = f.texts("instead").into_iter().map(|(t, _)| t).collect();
    f.close();
    let keys = ["per-kg", "price", "each", "pack", "piece"];
    let given = f.given(&keys);
    let read = [
        per_kg.is_some(),
        price.is_some(),
        each.is_some(),
        net.is_some(),
        piece.is_some(),
    ];
    let all_read = read.into_iter().filter(|r| *r).count() == given.len();
    let pack = match (per_kg, price, each, net, piece) {
        (Some(per_kg), None, None, None, None) => Pack::Loose { per_kg, step },
        (None, Some(price), None, Some(net), None) => Pack::Packs { net, price, word },
        (Some(per_kg), None, None, None, Some(piece)) => Pack::Pieces {
            piece,
            per_kg,
            word,
        },
        (None, None, Some(price), None, None) => Pack::Each { price, word },
        // A price that could not be read is reported already.
        _ if !all_read => return None,
        _ => {
            let expected = "per-kg; or pack with price; or piece with per-kg; or each";
            match given.last() {
                None => f.page.marked(
                    Code::MissingKey,
                    f.head(),
                    "for how much?".to_owned(),
                    (
                        format!("{} does not say how it is sold", f.what),
                        expected,
                        "write one of these four",
                    ),
                ),
                Some(last) => f.page.report(
                    Code::Contradiction,
                    f.at(last),
                    format!("{} is sold by {}", f.what, given.join(" and ")),
                    expected,
                    "write one of these four",
                ),
            }
            return None;
        }
    };
    if step.is_some() && !matches!(pack, Pack::Loose { .. }) {
        f.page.report(
            Code::Contradiction,
            f.at("step"),
            format!("{} is not sold loose but has a `step`", f.what),
            "step beside per-kg alone",
            "take the step out",
        );
        return None;
    }
    let (supplier, span) = supplier?;
    if !suppliers.contains(&supplier.as_str()) {
        f.page.suggest(
            Code::UnknownName,
            span,
            format!("no supplier has the id \"{supplier}\""),
            &format!("one of: {}", suppliers.join(", ")),
            "correct the spelling, or add the supplier",
            did_you_mean(supplier.as_str(), suppliers.iter().copied()),
        );
        return None;
    }
    Some(Offer {
        supplier,
        item: item?,
        spec,
        pack,
        substitutes,
    })
}
