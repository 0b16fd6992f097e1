//! How sour, salty and sweet is this pickle once it is even?

use safety::Verdict;
use science::pickle;
use sources::{Citation, list};
use units::{Base, Fraction, Mass};

use super::answer::Answer;
use super::measure::Measure;
use super::refusal::Refusal;
use super::sheet::{Sheet, cite, reading_of, weight_places};

/// Usual acid of a quick pickle, percent: of the liquor, and of everything once even.
/// Common practice, no source.
const LIQUOR_PCT: (f64, f64) = (2.0, 3.0);
const EVEN_PCT: (f64, f64) = (1.1, 1.5);
/// pH aimed for, and the legal line of an acidified food.
const PH_TARGET: f64 = 4.2;
const PH_LEGAL: f64 = 4.6;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Pickle {
    /// The vinegar.
    pub vinegar: Measure,
    /// Its acid, percent by weight.
    pub strength: Fraction,
    /// Water in the liquor as poured, what boils away not counted.
    pub water: Option<Measure>,
    /// Salt.
    pub salt: Option<Measure>,
    /// Sugar.
    pub sugar: Option<Measure>,
    /// Spice and whatever else stays in the liquor.
    pub other: Option<Mass>,
    /// The vegetable, trimmed, as it goes in (EP).
    pub edible: Mass,
    /// Its name.
    pub name: String,
    /// Its water, percent, where known.
    pub edible_water: Option<(f64, Citation)>,
}

/// Answers it.
///
/// # Errors
/// Salt or sugar by volume without its kind; no liquor.
pub fn pickle(ask: &Pickle) -> Result<Answer, Refusal> {
    let mut sheet = Sheet::default();
    let vinegar = ask.vinegar.weigh("vinegar", &mut sheet)?;
    sheet.entered("strength", ask.strength.pct(), "%");
    let acid = pickle::acetic(vinegar, &ask.strength)?;
    let from = ["vinegar", "strength"];
    sheet.worked("acid.g", acid.g(), "g", 1, "vinegar × strength", &from);
    let mut liquor = vinegar;
    let mut water = vinegar.checked_sub(acid)?;
    let mut parts = vec!["vinegar"];
    let mut solutes = vec![("acid", "acetic acid", acid)];
    if let Some(measure) = &ask.water {
        let added = measure.weigh("water", &mut sheet)?;
        (liquor, water) = (liquor + added, water + added);
        parts.push("water");
    }
    for (id, name, measure) in [("salt", "salt", &ask.salt), ("sugar", "sugar", &ask.sugar)] {
        let Some(measure) = measure else { continue };
        let mass = measure.weigh(id, &mut sheet)?;
        liquor = liquor + mass;
        parts.push(id);
        solutes.push((id, name, mass));
    }
    if let Some(other) = ask.other {
        sheet.entered("other", other.g(), "g");
        liquor = liquor + other;
        parts.push("other");
    }
    sheet.worked(
        "liquor",
        liquor.g(),
        "g",
        weight_places(liquor.g()),
        "everything poured",
        &parts,
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
    let mut details = vec![format!(
        "{:<14}{:>10}{:>12}{:>14}{}",
        "",
        "grams",
        "of liquor",
        "of all, even",
        if edible_water.is_some() {
            "   of the water phase"
        } else {
            ""
        }
    )];
    for (id, name, mass) in &solutes {
        details.push(even_row(
            id,
            name,
            *mass,
            (liquor, ask.edible),
            edible_water.map(|e| (water, e)),
            &mut sheet,
        )?);
    }
    details.push(format!(
        "liquor {} on {} of {}, {} to 1 by weight",
        sheet.show("liquor"),
        sheet.show("edible"),
        ask.name,
        sheet.bare("cover")
    ));

    let acid_pct = pickle::of_all(acid, liquor, ask.edible)?.pct();
    let limit = window(acid_pct, &mut sheet);
    let next = next(ask, acid, liquor + ask.edible, acid_pct, &mut sheet)?;
    Ok(Answer {
        question: "pickle",
        answer: format!("{} acetic acid at equilibrium", sheet.show("acid.even")),
        limit,
        next,
        details,
        small: small(ask),
        // No figure here is a pH, so nothing is shown about one.
        verdict: Some(Verdict::NotShown),
        main: "acid.even",
        figures: sheet.figures,
    })
}

fn even_row(
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

fn window(acid_pct: f64, sheet: &mut Sheet) -> String {
    let (low, high) = EVEN_PCT;
    sheet.known("usual.low", low, "%", &list::PRACTICE, "");
    sheet.known("usual.high", high, "%", &list::PRACTICE, "");
    sheet.known("usual.liquor.low", LIQUOR_PCT.0, "%", &list::PRACTICE, "");
    sheet.known("usual.liquor.high", LIQUOR_PCT.1, "%", &list::PRACTICE, "");
    sheet.known("ph.target", PH_TARGET, "", &list::PA_PH, "");
    sheet.known("ph.legal", PH_LEGAL, "", &list::CFR_114, "");
    let where_it_lies = if acid_pct < low {
        "below"
    } else if acid_pct <= high {
        "within"
    } else {
        "above"
    };
    format!(
        "{where_it_lies} the usual {} to {} (liquor {} to {}); the limit itself is a pH, {} at most, legal line {}: not shown",
        sheet.bare("usual.low"),
        sheet.show("usual.high"),
        sheet.bare("usual.liquor.low"),
        sheet.show("usual.liquor.high"),
        sheet.show("ph.target"),
        sheet.show("ph.legal"),
    )
}

fn next(
    ask: &Pickle,
    acid: Mass,
    all: Mass,
    acid_pct: f64,
    sheet: &mut Sheet,
) -> Result<String, Refusal> {
    sheet.known("ph.after", 24.0, "h", &list::PRACTICE, "");
    let read = format!(
        "at {} read the pH with a calibrated meter: {} or below releases it, above it add vinegar and read again",
        sheet.show("ph.after"),
        sheet.show("ph.target"),
    );
    if acid_pct >= EVEN_PCT.0 {
        return Ok(read);
    }
    let wanted = Fraction::percent(EVEN_PCT.0, Base::new("liquor and vegetable")?)?;
    let Ok(more) = pickle::vinegar_to_add(acid, all, &ask.strength, &wanted) else {
        return Ok(format!(
            "this vinegar is too weak to reach {}: use a stronger one; then {read}",
            sheet.show("usual.low")
        ));
    };
    let formula = "(usual × all − acid) ÷ (strength − usual)";
    let from = ["acid.g", "liquor", "edible", "strength", "usual.low"];
    sheet.worked(
        "more",
        more.g(),
        "g",
        weight_places(more.g()),
        formula,
        &from,
    );
    Ok(format!(
        "add {} more of this vinegar to reach {}; {read}",
        sheet.show("more"),
        sheet.show("usual.low")
    ))
}

fn small(ask: &Pickle) -> Vec<(&'static str, String)> {
    let mut small = vec![
        ("pH", "is not computed: a vegetable buffers by an amount nobody has published; only the reading \
                releases a pickle, and it stays refrigerated either way".to_owned()),
        ("base", "mass balance: all the liquor with all the vegetable, nothing poured off".to_owned()),
    ];
    match &ask.edible_water {
        Some((_, citation)) => small.push(("water", format!("{}: {}", ask.name, cite(citation)))),
        None => small.push((
            "water",
            "of the vegetable not known, so no water phase: name it with --item, or --ep-water"
                .to_owned(),
        )),
    }
    let poured = [
        Some(&ask.vinegar),
        ask.water.as_ref(),
        ask.salt.as_ref(),
        ask.sugar.as_ref(),
    ];
    small.extend(
        poured
            .into_iter()
            .flatten()
            .filter_map(Measure::small)
            .map(|text| ("volume", text)),
    );
    small.push(("source", reading_of(&list::PA_PH)));
    small.push(("", reading_of(&list::CFR_114)));
    small.push((
        "",
        "usual percents and 24 h are common practice, no source".to_owned(),
    ));
    small
}

#[cfg(test)]
mod tests {
    use super::*;

    fn g(grams: f64) -> Measure {
        Measure::Weighed(Mass::grams(grams).unwrap())
    }

    fn fennel(vinegar_g: f64) -> Pickle {
        Pickle {
            vinegar: g(vinegar_g),
            strength: Fraction::percent(5.0, Base::new("vinegar").unwrap()).unwrap(),
            water: Some(g(390.0)),
            salt: Some(g(39.0)),
            sugar: Some(g(195.0)),
            other: None,
            edible: Mass::grams(1299.0).unwrap(),
            name: "fennel".to_owned(),
            edible_water: None,
        }
    }

    /// Worked by hand: acid 1.30, salt 1.50, sugar 7.50 % of all; liquor 2.60 % acid.
    #[test]
    fn the_fennel_comes_even_at_its_hand_figures() {
        let answer = pickle(&fennel(676.0)).unwrap();
        assert_eq!(answer.answer, "1.30 % acetic acid at equilibrium");
        assert_eq!(answer.figures.get("salt.even").unwrap().show(), "1.50 %");
        assert_eq!(answer.figures.get("sugar.even").unwrap().show(), "7.50 %");
        assert_eq!(answer.figures.get("acid.liquor").unwrap().show(), "2.60 %");
        assert_eq!(answer.verdict, Some(Verdict::NotShown));
    }

    #[test]
    fn a_flat_pickle_is_told_how_much_vinegar() {
        let answer = pickle(&fennel(500.0)).unwrap();
        let more = answer.figures.number("more").unwrap();
        let again = pickle(&fennel(500.0 + more)).unwrap();
        assert!((again.figures.number("acid.even").unwrap() - 1.1).abs() < 1e-9);
    }
}
