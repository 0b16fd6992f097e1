//! The `[[ingredient]]` table.

use kitchen::ingredient::{Composition, FormDensity, Ingredient, PieceWeight, Role, TrimYield};
use units::{Density, Mass};

use crate::fields::Fields;
use crate::label;
use crate::page::Span;

/// Reads one ingredient; `None` when it has no usable id or name.
pub(crate) fn read(fields: &Fields<'_, '_>) -> Option<(Ingredient, Span)> {
    let fields = &fields.called_by("id");
    let id = fields.own_id("id");
    let name = fields.need_text(
        "name",
        "a name, head noun first: \"fennel, bulb\"",
        "give it one",
    );
    let also = fields.texts("also").into_iter().map(|(t, _)| t).collect();
    let family = fields.text("family").map(|(t, _)| t);
    let role = role(fields);
    let composition = fields
        .fields("composition", format!("the composition of {}", fields.what))
        .map(|f| composition(&f));
    let density = fields
        .list("density", &format!("the density of {}", fields.what))
        .iter()
        .filter_map(form_density)
        .collect();
    let trim = fields
        .list("trim", &format!("the trim of {}", fields.what))
        .iter()
        .filter_map(trim_yield)
        .collect();
    let each = fields
        .list("each", &format!("the piece weight of {}", fields.what))
        .iter()
        .filter_map(piece_weight)
        .collect();
    let allergens = fields
        .fields("allergens", format!("the allergens of {}", fields.what))
        .map(|f| label::allergens(&f));
    let origin = fields
        .fields("origin", format!("the origin of {}", fields.what))
        .map(|f| label::origins(&f));
    fields.close();
    // What could not be read is reported where it stands; the rest then says nothing of it.
    let whole = allergens.as_ref().filter(|(_, whole)| *whole);
    label::agree(fields, whole.map(|(a, _)| a), origin.as_ref());
    let allergens = allergens.map(|(a, _)| a);
    let (id, span) = id?;
    Some((
        Ingredient {
            id,
            name: name?.0,
            also,
            family,
            role,
            composition,
            density,
            trim,
            each,
            allergens,
            origin,
        },
        span,
    ))
}

fn role(fields: &Fields<'_, '_>) -> Option<Role> {
    let nitrite = fields
        .number_within(
            "nitrite-pct",
            0.0,
            100.0,
            "write the percent printed on the bag",
        )
        .or_else(|| {
            fields.number_within(
                "nitrite_pct",
                0.0,
                100.0,
                "write the percent printed on the bag",
            )
        });
    let nitrate = fields
        .number_within(
            "nitrate-pct",
            0.0,
            100.0,
            "write the percent printed on the bag",
        )
        .or_else(|| {
            fields.number_within(
                "nitrate_pct",
                0.0,
                100.0,
                "write the percent printed on the bag",
            )
        });
    const CURING: Role = Role::CuringSalt {
        nitrite_pct: f64::NAN,
        nitrate_pct: f64::NAN,
    };
    let role = fields.one_of(
        "role",
        &[
            ("salt", Role::Salt),
            ("curing-salt", CURING),
            ("sugar", Role::Sugar),
            ("acid", Role::Acid),
            ("oil", Role::Oil),
            ("water", Role::Water),
            ("wood", Role::Wood),
            ("ware", Role::Ware),
        ],
    )?;
    match (role, nitrite) {
        (Role::CuringSalt { .. }, Some((nitrite_pct, _))) => Some(Role::CuringSalt {
            nitrite_pct,
            nitrate_pct: nitrate.map_or(0.0, |(n, _)| n),
        }),
        (Role::CuringSalt { .. }, None) => {
            fields.missing(
                "nitrite_pct",
                "the percent sodium nitrite of a curing salt",
                "read it off the bag: 6.25 for curing salt No. 1",
            );
            None
        }
        (other, _) => Some(other),
    }
}

fn composition(fields: &Fields<'_, '_>) -> Composition {
    let g = |key| {
        fields
            .number_within(
                key,
                0.0,
                100.0,
                "write grams per 100 g edible, or leave it out",
            )
            .map(|(n, _)| n)
    };
    let composition = Composition {
        water: g("water"),
        protein: g("protein"),
        fat: g("fat"),
        carbohydrate: g("carbohydrate"),
        sugars: g("sugars"),
        salt: g("salt"),
        acetic: g("acetic"),
        source: fields.source("source"),
    };
    // Read and range-checked, not used yet: they are part of the table.
    let _ = (g("fibre"), g("ash"), g("alcohol"));
    let _ = fields.number_within("sodium_mg", 0.0, 40_000.0, "write milligrams per 100 g");
    fields.text("note");
    fields.close();
    composition
}

fn form_density(fields: &Fields<'_, '_>) -> Option<FormDensity> {
    let form = fields.need_text(
        "form",
        "how it lies in the cup: loose, sliced, packed",
        "name the form",
    );
    let value = fields.number_within("g_per_ml", 0.01, 25.0, "write grams per millilitre");
    let source = fields.source("source");
    let note = fields.text("note").map(|(t, _)| t);
    fields.close();
    if value.is_none() && !fields.has("g_per_ml") {
        fields.missing(
            "g_per_ml",
            "grams per millilitre",
            "weigh a cup of it and divide by the cup",
        );
    }
    Some(FormDensity {
        form: form?.0,
        density: Density::g_per_millilitre(value?.0).ok()?,
        source,
        note,
    })
}

fn trim_yield(fields: &Fields<'_, '_>) -> Option<TrimYield> {
    let cut = fields.need_text("cut", "what is cut away", "name the cut");
    let mean = fields.number_within("yield", 0.01, 1.0, "write edible over purchased");
    let _ = (
        fields.number_within("low", 0.01, 1.0, "write edible over purchased"),
        fields.number_within("high", 0.01, 1.0, "write edible over purchased"),
    );
    let source = fields.source("source");
    fields.text("note");
    fields.close();
    if !fields.has("yield") {
        fields.missing(
            "yield",
            "edible over purchased, such as 0.85",
            "weigh it once",
        );
    }
    Some(TrimYield {
        cut: cut?.0,
        mean: mean?.0,
        source,
    })
}

fn piece_weight(fields: &Fields<'_, '_>) -> Option<PieceWeight> {
    let word = fields.need_text("word", "the count word: clove, bulb, egg", "name it");
    let g = fields.number_within("g", 0.001, 1e6, "write the grams of one");
    let source = fields.source("source");
    fields.text("note");
    fields.close();
    if !fields.has("g") {
        fields.missing("g", "the grams of one", "weigh one");
    }
    Some(PieceWeight {
        word: word?.0,
        mass: Mass::grams(g?.0).ok()?,
        source,
    })
}
