//! What is this in grams, in cups, in °C, in °SAL?

use science::brine::{SATURATED_PCT, Strength};
use sources::{Citation, list};
use units::factors as f;
use units::{Amount, Mass, Temperature, Volume};

use super::answer::Answer;
use super::measure::{Kind, Measure};
use super::refusal::Refusal;
use super::sheet::{Sheet, cite, weight_places};

/// What was written, once read.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// An amount.
    Amount(Amount),
    /// The strength of a brine.
    Brine(Strength),
}

/// The unit wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Grams.
    Gram,
    /// Kilograms.
    Kilogram,
    /// Ounces by weight.
    Ounce,
    /// Pounds.
    Pound,
    /// Millilitres.
    Millilitre,
    /// Litres.
    Litre,
    /// US cups.
    Cup,
    /// US fluid ounces.
    FluidOunce,
    /// US tablespoons.
    Tablespoon,
    /// US teaspoons.
    Teaspoon,
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
    /// Salometer degrees.
    Salometer,
    /// Percent.
    Percent,
}

impl Unit {
    /// Every unit with the words it is asked for by; the first is printed.
    pub const WORDS: &'static [(Self, &'static [&'static str])] = &[
        (Self::Gram, &["g", "gram", "grams"]),
        (Self::Kilogram, &["kg", "kilo", "kilos"]),
        (Self::Ounce, &["oz wt", "oz", "ounce", "ounces"]),
        (Self::Pound, &["lb", "lbs", "pound", "pounds"]),
        (Self::Millilitre, &["mL", "ml", "millilitres"]),
        (
            Self::Litre,
            &["L", "l", "litre", "litres", "liter", "liters"],
        ),
        (Self::Cup, &["US cups", "cup", "cups"]),
        (Self::FluidOunce, &["US fl oz", "fl oz", "floz"]),
        (Self::Tablespoon, &["US tbsp", "tbsp", "tablespoons"]),
        (Self::Teaspoon, &["US tsp", "tsp", "teaspoons"]),
        (Self::Celsius, &["°C", "c", "celsius"]),
        (Self::Fahrenheit, &["°F", "f", "fahrenheit"]),
        (Self::Millimetre, &["mm"]),
        (Self::Inch, &["in", "inch", "inches"]),
        (Self::Salometer, &["°SAL", "sal"]),
        (Self::Percent, &["%", "percent"]),
    ];

    /// The unit with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        let plain = |text: &str| text.trim_start_matches('°').to_lowercase();
        let wanted = plain(word.trim());
        Self::WORDS
            .iter()
            .find(|(_, words)| words.iter().any(|w| plain(w) == wanted))
            .map(|(unit, _)| *unit)
    }

    fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(unit, _)| *unit == self)
            .and_then(|(_, w)| w.first())
            .copied()
            .unwrap_or("")
    }
}

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Convert {
    /// The amount.
    pub asked: Asked,
    /// As it was written.
    pub written: String,
    /// What it is of: the name, and the products it might be.
    pub of: Option<(String, Vec<Kind>)>,
    /// The weight of one piece, for counts.
    pub each: Option<(String, Mass, Citation)>,
    /// The unit wanted; the kitchen's other one when not said.
    pub to: Option<Unit>,
}

/// A result in every unit that fits, the wanted one first.
struct Results {
    sheet: Sheet,
    units: Vec<Unit>,
    small: Vec<(&'static str, String)>,
    limit: String,
    next: &'static str,
}

/// Answers it.
///
/// # Errors
/// A volume of something with several densities, none, or no name, where a weight is wanted; a pinch.
pub fn convert(ask: &Convert) -> Result<Answer, Refusal> {
    let results = match &ask.asked {
        Asked::Brine(strength) => of_brine(*strength),
        Asked::Amount(Amount::Temperature(t)) => of_temperature(*t),
        Asked::Amount(Amount::Length(l)) => of_length(l.mm()),
        Asked::Amount(Amount::Mass(mass)) => of_mass(ask, *mass)?,
        Asked::Amount(Amount::Volume(volume)) => of_volume(ask, *volume)?,
        Asked::Amount(Amount::Count(count)) => of_count(ask, count.n())?,
        Asked::Amount(other) => {
            return Err(Refusal::new(
                format!("found {}, \"{}\"", other.kind(), ask.written),
                "a weight, a volume, a count, a length, a temperature or °SAL",
                "write one amount; a pinch or a range has no one weight: weigh it",
            ));
        }
    };
    let first = match ask.to {
        Some(to) if results.units.contains(&to) => to,
        Some(to) => {
            return Err(Refusal::new(
                format!("found {} wanted of \"{}\"", to.word(), ask.written),
                format!(
                    "one of {}",
                    results
                        .units
                        .iter()
                        .map(|u| u.word())
                        .collect::<Vec<_>>()
                        .join(", ")
                ),
                if ask.of.is_none() {
                    "for weight against volume say what it is, with --of"
                } else {
                    "ask for one of those"
                },
            ));
        }
        None => other_habit(&results.units, &ask.written, ask.of.is_some()),
    };
    let sheet = results.sheet;
    let named = ask.of.as_ref().map_or_else(String::new, |(name, kinds)| {
        format!(
            " {}",
            kinds
                .first()
                .filter(|_| kinds.len() == 1)
                .map_or(name, |k| &k.name)
        )
    });
    let rest = |fits: fn(Unit) -> bool| {
        let units = results.units.iter().filter(|u| **u != first && fits(**u));
        let shown: Vec<String> = units
            .filter(|u| handy(**u, &sheet))
            .map(|u| sheet.show(u.word()))
            .collect();
        shown.join("   ")
    };
    let mut details: Vec<String> = [rest(is_weight), rest(|u| !is_weight(u))].into();
    details.extend(
        sheet
            .figures
            .get("per_kg")
            .map(|f| format!("{} of water", f.show())),
    );
    details.retain(|row| !row.is_empty());
    // Two units only, one typed and one answered: nothing is left to say.
    if results.units.len() == 2 && !matches!(ask.asked, Asked::Brine(_)) {
        details.clear();
    }
    Ok(Answer {
        question: "convert",
        answer: format!("{}{named}", sheet.show(first.word())),
        limit: results.limit.clone(),
        next: results.next.to_owned(),
        details,
        small: results.small,
        verdict: None,
        main: first.word(),
        figures: sheet.figures,
    })
}

fn is_weight(unit: Unit) -> bool {
    matches!(
        unit,
        Unit::Gram | Unit::Kilogram | Unit::Ounce | Unit::Pound
    )
}

/// Whether a cook would say it in this unit: no hundredths of a kilogram, no hundred teaspoons.
fn handy(unit: Unit, sheet: &Sheet) -> bool {
    let value = sheet.figures.number(unit.word()).unwrap_or(0.0);
    let most = match unit {
        Unit::Teaspoon => 12.0,
        Unit::Tablespoon => 16.0,
        Unit::FluidOunce | Unit::Ounce => 64.0,
        _ => f64::INFINITY,
    };
    value >= 0.1 && value <= most
}

/// Words that end an amount written in metric units.
const METRIC_WORDS: &[&str] = &[
    "g", "kg", "gram", "grams", "kilo", "kilos", "ml", "l", "litre", "litres", "liter", "liters",
    "c", "mm", "cm",
];

/// The unit a cook asks for who wrote this: grams for cups, ounces for grams, °C for °F.
fn other_habit(units: &[Unit], written: &str, named: bool) -> Unit {
    // A volume of a named thing is asked for its weight, whatever it was measured in.
    let weighed =
        written.contains(|c: char| c.is_alphabetic()) && units.contains(&Unit::Cup) && named;
    let last = written.to_lowercase();
    let last = last
        .rsplit(|c: char| !c.is_alphabetic())
        .next()
        .unwrap_or("");
    let wrote_metric = METRIC_WORDS.contains(&last);
    if weighed && !["g", "kg", "gram", "grams", "kilo", "kilos", "oz", "lb"].contains(&last) {
        return Unit::Gram;
    }
    let metric = |unit: &Unit| {
        use Unit::{Celsius, Gram, Kilogram, Litre, Millilitre, Millimetre, Percent};
        matches!(
            unit,
            Gram | Kilogram | Millilitre | Litre | Celsius | Millimetre | Percent
        )
    };
    units
        .iter()
        .find(|unit| metric(unit) != wrote_metric)
        .or(units.first())
        .copied()
        .unwrap_or(Unit::Gram)
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

fn of_brine(strength: Strength) -> Results {
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

fn of_temperature(t: Temperature) -> Results {
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

fn of_length(mm: f64) -> Results {
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

fn of_mass(ask: &Convert, mass: Mass) -> Result<Results, Refusal> {
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

fn of_volume(ask: &Convert, volume: Volume) -> Result<Results, Refusal> {
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

fn of_count(ask: &Convert, n: f64) -> Result<Results, Refusal> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use units::{Customary, Density, read_amount};

    fn ask(text: &str, to: Option<Unit>) -> Convert {
        Convert {
            asked: Asked::Amount(read_amount(text, Customary::Us).unwrap()),
            written: text.to_owned(),
            of: None,
            each: None,
            to,
        }
    }

    fn honey() -> Kind {
        Kind {
            name: "honey".to_owned(),
            word: "honey".to_owned(),
            density: Density::g_per_millilitre(1.4329).ok(),
            source: Citation::whole(&list::SR28),
            note: String::new(),
        }
    }

    #[test]
    fn each_habit_is_answered_in_the_other() {
        for (text, answer) in [
            ("145 °F", "62.8 °C"),
            ("63 °C", "145.4 °F"),
            ("2 lb 3 oz", "992.2 g"),
            ("500 g", "17.64 oz wt"),
            ("1 1/2 cups", "354.9 mL"),
            ("25 mm", "0.98 in"),
        ] {
            assert_eq!(convert(&ask(text, None)).unwrap().answer, answer, "{text}");
        }
    }

    #[test]
    fn a_cup_of_honey_weighs_339() {
        // USDA SR28 19296: 1 cup is 339 g.
        let of = Some(("honey".to_owned(), vec![honey()]));
        let answer = convert(&Convert {
            of,
            ..ask("1 cup", None)
        })
        .unwrap();
        assert_eq!(answer.answer, "339.0 g honey");
    }

    #[test]
    fn a_pinch_has_no_weight() {
        assert!(convert(&ask("a pinch", None)).is_err());
        assert!(convert(&ask("1 cup", Some(Unit::Gram))).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same_weight(g in 1.0..1e5_f64) {
            let of = Some(("honey".to_owned(), vec![honey()]));
            let grams = Asked::Amount(Amount::Mass(Mass::grams(g).unwrap()));
            let there = Convert { asked: grams, written: String::new(), of: of.clone(), each: None, to: Some(Unit::Millilitre) };
            let ml = convert(&there).unwrap().figures.number("mL").unwrap();
            let volume = Asked::Amount(Amount::Volume(Volume::millilitres(ml).unwrap()));
            let back = Convert { asked: volume, written: String::new(), of, each: None, to: Some(Unit::Gram) };
            let again = convert(&back).unwrap().figures.number("g").unwrap();
            prop_assert!((again - g).abs() <= 1e-9 * g);
        }
    }
}
