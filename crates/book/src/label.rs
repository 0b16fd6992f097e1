//! What a label says: the `allergens` and the `origin` of an ingredient.

use kitchen::label::{Allergen, Allergens, Origin, Origins};

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::suggest::did_you_mean;
use crate::values::short;

/// Most sulphite a food is read with, mg/kg: beyond it the unit is wrong (house value).
const MOST_SO2_MG_PER_KG: f64 = 10_000.0;

/// The words of a list under `key`; a word nobody knows is a mistake.
pub(crate) fn words<T: Copy>(
    fields: &Fields<'_, '_>,
    key: &'static str,
    known: &[(&'static str, T)],
    kind: &str,
) -> Vec<T> {
    let mut found = Vec::new();
    for (word, span) in fields.texts(key) {
        if let Some((_, value)) = known.iter().find(|(w, _)| *w == word) {
            found.push(*value);
            continue;
        }
        let list: Vec<&str> = known.iter().map(|(w, _)| *w).collect();
        fields.page.suggest(
            Code::UnknownName,
            span,
            format!("`{key}` of {} has \"{}\"", fields.what, short(&word)),
            &format!("{kind} among: {}", list.join(", ")),
            "use one of these words",
            did_you_mean(&word, list.iter().copied()),
        );
    }
    found
}

/// The allergens, and whether all of `contains` could be read.
pub(crate) fn allergens(fields: &Fields<'_, '_>) -> (Allergens, bool) {
    let allergens = Allergens {
        contains: words(fields, "contains", Allergen::ALL, "allergens"),
        may: words(fields, "may", Allergen::ALL, "allergens"),
        so2_mg_per_kg: fields
            .number_within(
                "so2_mg_per_kg",
                0.0,
                MOST_SO2_MG_PER_KG,
                "write milligrams of SO2 in a kilogram, off the label or the supplier's sheet",
            )
            .map(|(mg, _)| mg),
        source: fields.source("source"),
    };
    if !fields.has("contains") {
        fields.missing(
            "contains",
            "the allergens it contains; contains = [] says that somebody looked and found none",
            "write it, or take the table out: then it is unknown",
        );
    }
    fields.text("note");
    fields.close();
    let whole = fields.has("contains") && fields.all_read("contains", allergens.contains.len());
    (allergens, whole)
}

pub(crate) fn origins(fields: &Fields<'_, '_>) -> Origins {
    let origins = Origins {
        from: words(fields, "from", Origin::ALL, "origins"),
        may: words(fields, "may", Origin::ALL, "origins"),
        source: fields.source("source"),
    };
    if origins.from.is_empty() && fields.all_read("from", 0) {
        fields.missing(
            "from",
            "what it is made from, such as [\"plant\"]",
            "write it, or take the table out: then it is unknown",
        );
    }
    fields.text("note");
    fields.close();
    origins
}

/// Reports a label, read whole, that says one thing of its allergens and another of what it is made from.
pub(crate) fn agree(
    fields: &Fields<'_, '_>,
    allergens: Option<&Allergens>,
    origin: Option<&Origins>,
) {
    let (Some(allergens), Some(origin)) = (allergens, origin) else {
        return;
    };
    let shellfish: &[Allergen] = &[Allergen::Crustacean, Allergen::Mollusc];
    for (from, words) in [
        (Origin::Milk, &[Allergen::Milk][..]),
        (Origin::Egg, &[Allergen::Egg][..]),
        (Origin::Fish, &[Allergen::Fish][..]),
        (Origin::Shellfish, shellfish),
    ] {
        let contains = words.iter().any(|w| allergens.contains.contains(w));
        let may = words.iter().any(|w| allergens.may.contains(w));
        let (is, list) = match (origin.from.contains(&from), origin.may.contains(&from)) {
            (true, _) if !contains => ("is", "contains"),
            (false, true) if !contains && !may => ("may be", "may"),
            _ => continue,
        };
        let named: Vec<&str> = words.iter().map(|w| w.word()).collect();
        fields.page.report(
            Code::Contradiction,
            fields.at("allergens"),
            format!(
                "{} {is} made from {} and its allergens do not say `{list}` {}",
                fields.what,
                from.word(),
                named.join(" or ")
            ),
            &format!("{list} = [\"{}\", …]", named[0]),
            "correct the allergens, or the origin",
        );
    }
}
