//! An amount in every unit that fits it.

use science::brine::{SATURATED_PCT, Strength};
use sources::{Citation, list};
use units::factors as f;
use units::{Mass, Temperature, Volume};

use super::super::measure::{Kind, Measure};
use super::super::refusal::Refusal;
use super::super::sheet::{Sheet, cite, weight_places};
use super::{Convert, Unit};

/// A result in every unit that fits, the wanted one first.
pub(super) struct Results {
    pub(super) sheet: Sheet,
    pub(super) units: Vec<Unit>,
    pub(super) small: Vec<(&'static str, String)>,
    pub(super) limit: String,
    pub(super) next: &'static str,
}

fn put(sheet: &mut Sheet, unit: Unit, value: f64, places: u32, from: &str, factor: &str) {
    sheet.worked(unit.word(), value, unit.word(), places, factor, &[from]);
}

fn places(value: f64) -> u32 {
    if value < 10.0 {
        2
    } else {
        u32::from(value < 1000.0)
    }
}

const ON_SHEET_G: &str = "write the grams on the sheet: that is what the scale shows";
const ON_SHEET_C: &str = "write °C on the sheet, and read the probe in one scale only";
const EXACT: &str = "exact; shown rounded half-up";

pub(super) fn of_brine(strength: Strength) -> Results {
    let mut sheet = Sheet::default();
    sheet.entered("strength", strength.pct(), "%");
    sheet.known("saturated", SATURATED_PCT, "%", &list::SALOMETER, "");
    sheet.worked(
        "°SAL",
        strength.salometer(),
        "°SAL",
        1,
        "strength ÷ saturated × 100",
        &["strength", "saturated"],
    );
    sheet.worked(
        "%",
        strength.pct(),
        "% salt",
        2,
        "salt ÷ (salt + water)",
        &["strength"],
    );
    let formula = "strength ÷ (1 − strength) × 1000";
    sheet.worked(
        "per_kg",
        strength.g_per_kg_water(),
        "g salt per kg",
        1,
        formula,
        &["strength"],
    );
    sheet.known("sal.at", 60.0, "°F", &list::SALOMETER, "");
    let limit = format!(
        "percent is salt ÷ (salt + water); a salometer is marked for {}, saturated at {}",
        sheet.show("sal.at"),
        sheet.show("saturated")
    );
    Results {
        sheet,
        units: vec![Unit::Percent, Unit::Salometer],
        small: vec![(
            "source",
            format!(
                "{} ({})",
                list::SALOMETER.title,
                list::SALOMETER.status.words()
            ),
        )],
        limit,
        next: "read the hydrometer before the sugar goes in, which floats it too",
    }
}

pub(super) fn of_temperature(t: Temperature) -> Results {
    let mut sheet = Sheet::default();
    sheet.entered("read", t.c(), "°C");
    put(
        &mut sheet,
        Unit::Celsius,
        t.c(),
        1,
        "read",
        "(°F − 32) × 5 ÷ 9",
    );
    put(
        &mut sheet,
        Unit::Fahrenheit,
        t.f(),
        1,
        "read",
        "°C × 9 ÷ 5 + 32",
    );
    Results {
        sheet,
        units: vec![Unit::Celsius, Unit::Fahrenheit],
        small: vec![],
        limit: EXACT.to_owned(),
        next: ON_SHEET_C,
    }
}

pub(super) fn of_length(mm: f64) -> Results {
    let mut sheet = Sheet::default();
    sheet.entered("read", mm, "mm");
    put(&mut sheet, Unit::Millimetre, mm, 1, "read", "inches × 25.4");
    put(
        &mut sheet,
        Unit::Inch,
        mm / f::MM_PER_INCH,
        2,
        "read",
        "mm ÷ 25.4",
    );
    Results {
        sheet,
        units: vec![Unit::Millimetre, Unit::Inch],
        small: vec![source()],
        limit: EXACT.to_owned(),
        next: "write millimetres on the sheet",
    }
}

fn source() -> (&'static str, String) {
    (
        "source",
        format!("{} ({})", list::UCUM.title, list::UCUM.status.words()),
    )
}

fn put_mass(sheet: &mut Sheet, mass: Mass, from: &str, formula: &str) -> Vec<Unit> {
    put(
        sheet,
        Unit::Gram,
        mass.g(),
        weight_places(mass.g()),
        from,
        formula,
    );
    put(sheet, Unit::Kilogram, mass.kg(), 3, "g", "g ÷ 1000");
    put(sheet, Unit::Ounce, mass.oz(), 2, "g", "g ÷ 28.349523125");
    put(sheet, Unit::Pound, mass.lb(), 3, "g", "g ÷ 453.59237");
    vec![Unit::Gram, Unit::Ounce, Unit::Pound, Unit::Kilogram]
}

fn put_volume(sheet: &mut Sheet, volume: Volume, from: &str, formula: &str) -> Vec<Unit> {
    let ml = volume.ml();
    put(sheet, Unit::Millilitre, ml, places(ml), from, formula);
    for (unit, one, formula) in [
        (Unit::Litre, f::ML_PER_L, "mL ÷ 1000"),
        (Unit::Cup, f::ML_PER_US_CUP, "mL ÷ 236.5882365"),
        (
            Unit::FluidOunce,
            f::ML_PER_US_FLUID_OUNCE,
            "mL ÷ 29.5735295625",
        ),
        (
            Unit::Tablespoon,
            f::ML_PER_US_TABLESPOON,
            "mL ÷ 14.78676478125",
        ),
        (Unit::Teaspoon, f::ML_PER_US_TEASPOON, "mL ÷ 4.92892159375"),
    ] {
        put(
            sheet,
            unit,
            ml / one,
            if unit == Unit::Litre { 3 } else { 2 },
            "mL",
            formula,
        );
    }
    vec![
        Unit::Millilitre,
        Unit::Cup,
        Unit::FluidOunce,
        Unit::Tablespoon,
        Unit::Teaspoon,
        Unit::Litre,
    ]
}

/// The one product a conversion between weight and volume needs; a refusal when there are several.
fn one_kind<'a>(
    name: &str,
    kinds: &'a [Kind],
    written: &str,
    mass: Option<Mass>,
) -> Result<&'a Kind, Refusal> {
    match (kinds, mass) {
        ([kind], _) => Ok(kind),
        (_, Some(mass)) => {
            let readings = kinds
                .iter()
                .filter_map(|k| {
                    Some(format!(
                        "{:<26} {:>8.1} mL",
                        k.name,
                        k.density?.volume_of(mass).ml()
                    ))
                })
                .collect();
            let mut refusal = Refusal::new(
                format!("found {written} of {name}, but not which {name}"),
                format!("the kind of {name}: by volume they differ"),
                "say which, with --of and its full name",
            );
            refusal.readings = readings;
            Err(refusal)
        }
        (_, None) => Err(Refusal::new(
            "found nothing to weigh",
            "an amount",
            "write one",
        )),
    }
}

pub(super) fn of_mass(ask: &Convert, mass: Mass) -> Result<Results, Refusal> {
    let mut sheet = Sheet::default();
    sheet.entered("read", mass.g(), "g");
    let mut units = put_mass(&mut sheet, mass, "read", "as written, in grams");
    let mut small = vec![source()];
    let mut limit = EXACT;
    let wants_volume = ask.to.is_some_and(|to| !units.contains(&to));
    if let Some((name, kinds)) = ask
        .of
        .as_ref()
        .filter(|(_, kinds)| wants_volume || kinds.len() == 1)
    {
        let kind = one_kind(name, kinds, &ask.written, Some(mass))?;
        if let Some(density) = kind.density {
            sheet.cited("density", density.g_per_ml(), "g/mL", &kind.source);
            units.extend(put_volume(
                &mut sheet,
                density.volume_of(mass),
                "g",
                "g ÷ density",
            ));
            small.push(("density", said(kind)));
            limit = BY_DENSITY;
        } else if wants_volume {
            return Err(Refusal::new(
                format!("found no weight per volume for {}", kind.name),
                "an ingredient with one",
                "weigh it",
            ));
        }
    }
    Ok(Results {
        sheet,
        units,
        small,
        limit: limit.to_owned(),
        next: ON_SHEET_G,
    })
}

const BY_DENSITY: &str =
    "by a tabled density: kinds, cuts and packing differ, so weigh a cup of your own once";

fn said(kind: &Kind) -> String {
    let density = kind.density.map_or_else(String::new, |d| d.to_string());
    let note = if kind.note.is_empty() {
        String::new()
    } else {
        format!(", {}", kind.note)
    };
    format!("{} {density}{note}. {}", kind.name, cite(&kind.source))
}

pub(super) fn of_volume(ask: &Convert, volume: Volume) -> Result<Results, Refusal> {
    let mut sheet = Sheet::default();
    let Some((name, kinds)) = &ask.of else {
        sheet.figures.leaf(
            "read",
            volume.ml(),
            "mL",
            1,
            &Citation::whole(&list::ENTERED),
        );
        let units = put_volume(&mut sheet, volume, "read", "as written, in millilitres");
        let limit = "exact; a volume has no weight until you say of what".to_owned();
        return Ok(Results {
            sheet,
            units,
            small: vec![source()],
            limit,
            next: "say of what with --of, to have grams",
        });
    };
    let measure = Measure::Poured {
        volume,
        written: ask.written.clone(),
        what: name.clone(),
        kinds: kinds.clone(),
    };
    let [kind] = kinds.as_slice() else {
        return Err(measure.which(|_| None));
    };
    let mass = measure.weigh("weight", &mut sheet)?;
    let mut units = put_mass(&mut sheet, mass, "weight", "volume × density");
    units.extend(put_volume(
        &mut sheet,
        volume,
        "weight.volume",
        "as written, in millilitres",
    ));
    let small = vec![("density", said(kind)), source()];
    Ok(Results {
        sheet,
        units,
        small,
        limit: BY_DENSITY.to_owned(),
        next: ON_SHEET_G,
    })
}

pub(super) fn of_count(ask: &Convert, n: f64) -> Result<Results, Refusal> {
    let Some((word, each, citation)) = &ask.each else {
        return Err(Refusal::new(
            format!(
                "found a count, \"{}\", of something without a known weight for one",
                ask.written
            ),
            "a count of an ingredient that has one, such as --of garlic",
            "weigh ten of them and divide",
        ));
    };
    let mut sheet = Sheet::default();
    sheet.entered("count", n, "");
    sheet.cited("each", each.g(), "g", citation);
    sheet.worked(
        "read",
        each.g() * n,
        "g",
        1,
        "count × weight of one",
        &["count", "each"],
    );
    let units = put_mass(&mut sheet, each.scaled(n)?, "read", "count × weight of one");
    let small = vec![(
        "each",
        format!("one {word} {}. {}", sheet.show("each"), cite(citation)),
    )];
    let limit = "a tabled mean: pieces differ, so weigh yours".to_owned();
    Ok(Results {
        sheet,
        units,
        small,
        limit,
        next: ON_SHEET_G,
    })
}
