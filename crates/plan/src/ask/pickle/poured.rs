//! What is poured on the vegetable, weighed, and what each thing dissolved in it comes to once even.

use science::acid::Acid;
use science::pickle;
use units::Mass;

use super::{Pickle, sour};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::{Sheet, weight_places};

/// What is poured, weighed.
pub(super) struct Poured {
    pub(super) all: sour::Weighed,
    pub(super) acid: Mass,
    pub(super) liquor: Mass,
    pub(super) water: Mass,
    /// Figure, name and weight of everything dissolved.
    pub(super) solutes: Vec<(String, &'static str, Mass)>,
}

/// Weighs everything poured and puts it on the sheet; with it the water of the vegetable.
pub(super) fn poured(ask: &Pickle, sheet: &mut Sheet) -> Result<(Poured, Option<Mass>), Refusal> {
    let vinegar = ask.vinegar.weigh("vinegar", sheet)?;
    sheet.entered("strength", ask.strength.pct(), "%");
    let acid = pickle::acetic(vinegar, &ask.strength)?;
    let from = ["vinegar", "strength"];
    sheet.worked("acid.g", acid.g(), "g", 1, "vinegar × strength", &from);
    let mut liquor = vinegar;
    let mut water = vinegar.checked_sub(acid)?;
    let mut parts = vec!["vinegar".to_owned()];
    let mut solutes = vec![("acid".to_owned(), "acetic acid", acid)];
    let mut all = sour::Weighed {
        vinegar,
        water: Mass::ZERO,
        salt: Mass::ZERO,
    };
    if let Some(measure) = &ask.water {
        let added = measure.weigh("water", sheet)?;
        all.water = added;
        (liquor, water) = (liquor + added, water + added);
        parts.push("water".to_owned());
    }
    for (id, measure) in [("salt", &ask.salt), ("sugar", &ask.sugar)] {
        let Some(measure) = measure else { continue };
        let mass = measure.weigh(id, sheet)?;
        if id == "salt" {
            all.salt = mass;
        }
        liquor = liquor + mass;
        parts.push(id.to_owned());
        solutes.push((id.to_owned(), id, mass));
    }
    for (i, (acid, mass)) in ask.acids.iter().enumerate() {
        let id = format!("acid.other.{}", i + 1);
        sheet.entered(&id, mass.g(), "g");
        liquor = liquor + *mass;
        parts.push(id.clone());
        solutes.push((id, acid_name(*acid), *mass));
    }
    if let Some(other) = ask.other {
        sheet.entered("other", other.g(), "g");
        liquor = liquor + other;
        parts.push("other".to_owned());
    }
    sheet.worked(
        "liquor",
        liquor.g(),
        "g",
        weight_places(liquor.g()),
        "everything poured",
        &parts.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    sheet.entered("edible", ask.edible.g(), "g");
    let ratio = liquor.ratio_to(ask.edible)?;
    sheet.worked(
        "cover",
        ratio,
        "",
        2,
        "liquor ÷ vegetable",
        &["liquor", "edible"],
    );

    let edible_water = match &ask.edible_water {
        Some((pct, citation)) => {
            sheet.cited("edible.water", *pct, "%", citation);
            Some(ask.edible.scaled(pct / 100.0)?)
        }
        None => None,
    };
    let poured = Poured {
        all,
        acid,
        liquor,
        water,
        solutes,
    };
    Ok((poured, edible_water))
}

/// Its name as printed.
fn acid_name(acid: Acid) -> &'static str {
    match acid {
        Acid::Acetic => "acetic acid",
        Acid::Lactic => "lactic acid",
        Acid::Citric => "citric acid",
        Acid::Tartaric => "tartaric acid",
        Acid::Malic => "malic acid",
        Acid::Phosphoric => "phosphoric acid",
    }
}

/// A row of something dissolved: grams, of the liquor, of all once even, of the water phase.
pub(super) fn even_row(
    id: &str,
    name: &str,
    mass: Mass,
    (liquor, edible): (Mass, Mass),
    waters: Option<(Mass, Mass)>,
    sheet: &mut Sheet,
) -> Result<String, Refusal> {
    let grams = if id == "acid" { "acid.g" } else { id };
    let (of_liquor, even, phase) = (
        format!("{id}.liquor"),
        format!("{id}.even"),
        format!("{id}.phase"),
    );
    let pct = pickle::of_all(mass, liquor, Mass::ZERO)?.pct();
    sheet.worked(
        &of_liquor,
        pct,
        "%",
        2,
        "grams ÷ liquor",
        &[grams, "liquor"],
    );
    let pct = pickle::of_all(mass, liquor, edible)?.pct();
    sheet.worked(
        &even,
        pct,
        "%",
        2,
        "grams ÷ (liquor + vegetable)",
        &[grams, "liquor", "edible"],
    );
    sheet.figures.of(&even, "liquor and vegetable");
    let mut row = format!(
        "{name:<14}{:>10}{:>12}{:>14}",
        sheet.show(grams),
        sheet.show(&of_liquor),
        sheet.show(&even)
    );
    if let Some((liquor_water, edible_water)) = waters {
        let pct = pickle::of_water_phase(mass, liquor_water, edible_water)?.pct();
        let formula = "grams ÷ (grams + water of vinegar and liquor + water of the vegetable)";
        sheet.worked(
            &phase,
            pct,
            "%",
            2,
            formula,
            &[grams, "liquor", "edible", "edible.water"],
        );
        sheet.figures.of(&phase, "water phase");
        row.push_str(&format!("{:>21}", sheet.show(&phase)));
    }
    Ok(row)
}
