//! What is this in grams, in cups, in °C, in °SAL?

mod results;
mod unit;

use science::brine::Strength;
use sources::Citation;
use units::{Amount, Mass};

use super::answer::Answer;
use super::measure::Kind;
use super::refusal::Refusal;
use super::sheet::Sheet;
use results::{of_brine, of_count, of_length, of_mass, of_temperature, of_volume};
pub use unit::Unit;

/// What was written, once read.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// An amount.
    Amount(Amount),
    /// The strength of a brine.
    Brine(Strength),
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use sources::list;
    use units::{Customary, Density, Volume, read_amount};

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
