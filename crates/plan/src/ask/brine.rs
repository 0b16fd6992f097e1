//! How strong is this brine, and what makes it as strong as it should be?

mod properties;
mod window;

use science::brine::{self, Strength};
use sources::{Citation, list};
use units::{Mass, Temperature};

use super::answer::Answer;
use super::measure::Measure;
use super::refusal::Refusal;
use super::sheet::{Sheet, places_of, weight_places};
use window::window;

/// Usual salt of food and water together, left in until even, percent. Common practice, no source.
const EVEN_PCT: (f64, f64) = (1.2, 1.8);
/// Warmest a brine may be on raw food. Common practice, no source.
const COLDEST_POUR_C: f64 = 4.0;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Brine {
    /// Salt there is, or the strength wanted.
    pub made: Made,
    /// Its water.
    pub water: Measure,
    /// Sugar in it.
    pub sugar: Option<Measure>,
    /// The strength to bring it to.
    pub to: Option<Strength>,
    /// Food that goes in and stays until even.
    pub food: Option<Mass>,
    /// Tap temperature and the temperature wanted, to split the water into water and ice.
    pub chill: Option<(Temperature, Temperature)>,
    /// How warm it is when a salometer goes in.
    pub read_at: Option<Temperature>,
}

/// What is known of the salt.
#[derive(Debug, Clone, PartialEq)]
pub enum Made {
    /// So much salt: how strong is it?
    With(Measure),
    /// So strong: how much salt?
    ToBe(Strength),
}

/// Answers it.
///
/// # Errors
/// Salt or sugar by volume without its kind, with every reading shown; more salt than the water holds.
pub fn brine(ask: &Brine) -> Result<Answer, Refusal> {
    let mut sheet = Sheet::default();
    let water = ask.water.weigh("water", &mut sheet)?;
    let (salt, strength) = match &ask.made {
        Made::With(measure) => {
            if is_unnamed(measure) {
                return Err(measure.which(|salt| Some(reading(salt, water))));
            }
            let salt = measure.weigh("salt", &mut sheet)?;
            let strength = Strength::of(salt, water)?;
            let from = ["salt", "water"];
            sheet.worked(
                "strength",
                strength.pct(),
                "%",
                1,
                "salt ÷ (salt + water)",
                &from,
            );
            (salt, strength)
        }
        Made::ToBe(strength) => {
            let salt = strength.salt_for(water)?;
            let pct = strength.pct();
            sheet.figures.leaf(
                "strength",
                pct,
                "%",
                places_of(pct).clamp(1, 2),
                &Citation::whole(&list::ENTERED),
            );
            let formula = "water × strength ÷ (1 − strength)";
            sheet.worked(
                "salt",
                salt.g(),
                "g",
                weight_places(salt.g()),
                formula,
                &["water", "strength"],
            );
            (salt, *strength)
        }
    };
    sheet.figures.of("strength", "salt and water");
    ways_of_saying(strength, &mut sheet);

    let mut details = vec![
        row("salt", &sheet.show("salt"), ""),
        row("water", &sheet.show("water"), ""),
        row("salt per kg of water", &sheet.show("per_kg"), ""),
    ];
    details.extend(properties::rows(
        strength,
        ask.sugar.is_some(),
        ask.read_at,
        &mut sheet,
    )?);
    if let Some(sugar) = &ask.sugar {
        details.extend(sweetened(sugar, salt, water, &mut sheet)?);
    }
    if let Some(food) = ask.food {
        details.push(evened(food, salt, water, &mut sheet)?);
    }
    let mut next = Vec::new();
    if let Some(to) = ask.to {
        next.push(brought_to(to, strength, salt, water, &mut sheet)?);
    }
    match ask.chill {
        Some((tap, wanted)) => {
            let (part, how) = iced(tap, wanted, salt, water, &mut sheet)?;
            details.push(part);
            next.push(how);
        }
        None if ask.to.is_none() => {
            sheet.known("pour", COLDEST_POUR_C, "°C", &list::PRACTICE, "");
            let cold = sheet.show("pour");
            next.push(format!(
                "dissolve all the salt, chill to {cold} or below, then pour on raw food"
            ));
        }
        None => {}
    }
    let answer = match ask.made {
        Made::With(_) => format!("{} brine  ({})", sheet.show("strength"), sheet.show("sal")),
        Made::ToBe(_) => {
            format!(
                "{} salt for a {} brine  ({})",
                sheet.show("salt"),
                sheet.show("strength"),
                sheet.show("sal")
            )
        }
    };
    Ok(Answer {
        question: "brine",
        answer,
        limit: window(strength, &mut sheet),
        next: next.join("; "),
        details,
        small: small(ask),
        verdict: None,
        main: if matches!(ask.made, Made::With(_)) {
            "strength"
        } else {
            "salt"
        },
        figures: sheet.figures,
    })
}

fn row(what: &str, figure: &str, note: &str) -> String {
    format!("{what:<26}{figure:>12}   {note}")
}

fn is_unnamed(measure: &Measure) -> bool {
    matches!(measure, Measure::Poured { kinds, .. } if kinds.len() != 1)
}

/// What one kind of salt would make of the water.
fn reading(salt: Mass, water: Mass) -> String {
    use crate::figures::number;
    match Strength::of(salt, water) {
        Ok(s) => format!(
            "{:>5} %   {:>5} °SAL",
            number(s.pct(), 1),
            number(s.salometer(), 1)
        ),
        Err(_) => "more than the water holds".to_owned(),
    }
}

fn ways_of_saying(strength: Strength, sheet: &mut Sheet) {
    sheet.known("saturated", brine::SATURATED_PCT, "%", &list::SALOMETER, "");
    sheet.worked(
        "sal",
        strength.salometer(),
        "°SAL",
        1,
        "strength ÷ saturated × 100",
        &["strength", "saturated"],
    );
    let per_kg = strength.g_per_kg_water();
    sheet.worked(
        "per_kg",
        per_kg,
        "g/kg",
        1,
        "strength ÷ (1 − strength) × 1000",
        &["strength"],
    );
}

fn sweetened(
    sugar: &Measure,
    salt: Mass,
    water: Mass,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    if is_unnamed(sugar) {
        return Err(sugar.which(|_| None));
    }
    let sugar = sugar.weigh("sugar", sheet)?;
    let of_all = sugar.ratio_to(salt + sugar + water)? * 100.0;
    sheet.worked(
        "sugar.pct",
        of_all,
        "%",
        1,
        "sugar ÷ (salt + sugar + water)",
        &["sugar", "salt", "water"],
    );
    let salt_of_all = salt.ratio_to(salt + sugar + water)? * 100.0;
    let from = ["sugar", "salt", "water"];
    sheet.worked(
        "salt.of_all.pct",
        salt_of_all,
        "%",
        1,
        "salt ÷ (salt + sugar + water)",
        &from,
    );
    Ok(vec![
        row(
            "sugar",
            &sheet.show("sugar"),
            &format!("{} of all", sheet.show("sugar.pct")),
        ),
        row(
            "salt of all, sugar counted",
            &sheet.show("salt.of_all.pct"),
            "read the hydrometer before the sugar goes in",
        ),
    ])
}

fn evened(food: Mass, salt: Mass, water: Mass, sheet: &mut Sheet) -> Result<String, Refusal> {
    sheet.entered("food", food.g(), "g");
    let share = salt.ratio_to(food + water)? * 100.0;
    sheet.worked(
        "even",
        share,
        "%",
        2,
        "salt ÷ (food + water)",
        &["salt", "food", "water"],
    );
    sheet.figures.of("even", "food and water together");
    sheet.known("even.low", EVEN_PCT.0, "%", &list::PRACTICE, "");
    sheet.known("even.high", EVEN_PCT.1, "%", &list::PRACTICE, "");
    let lies = if share < EVEN_PCT.0 {
        "below"
    } else if share <= EVEN_PCT.1 {
        "within"
    } else {
        "above"
    };
    let usual = format!(
        "of {} food and water; {lies} the usual {} to {}",
        sheet.show("food"),
        sheet.bare("even.low"),
        sheet.show("even.high")
    );
    Ok(row("left in until even", &sheet.show("even"), &usual))
}

fn brought_to(
    to: Strength,
    is: Strength,
    salt: Mass,
    water: Mass,
    sheet: &mut Sheet,
) -> Result<String, Refusal> {
    let pct = to.pct();
    sheet.figures.leaf(
        "to",
        pct,
        "%",
        places_of(pct).clamp(1, 2),
        &Citation::whole(&list::ENTERED),
    );
    let from = ["salt", "water", "to"];
    if to < is {
        let add = brine::water_to_add(salt, water, to)?;
        sheet.worked(
            "add",
            add.g(),
            "g",
            weight_places(add.g()),
            "salt ÷ to − (salt + water)",
            &from,
        );
        let all = (salt + water + add).g();
        sheet.worked(
            "then",
            all,
            "g",
            weight_places(all),
            "salt + water + added",
            &["salt", "water", "add"],
        );
        Ok(format!(
            "add {} water to come to {}; that makes {} of salt and water",
            sheet.show("add"),
            sheet.show("to"),
            sheet.show("then")
        ))
    } else {
        let add = brine::salt_to_add(salt, water, to)?;
        sheet.worked(
            "add",
            add.g(),
            "g",
            weight_places(add.g()),
            "water × to ÷ (1 − to) − salt",
            &from,
        );
        Ok(format!(
            "add {} salt to come to {}",
            sheet.show("add"),
            sheet.show("to")
        ))
    }
}

/// The ice row, and how to go about it.
fn iced(
    tap: Temperature,
    wanted: Temperature,
    salt: Mass,
    water: Mass,
    sheet: &mut Sheet,
) -> Result<(String, String), Refusal> {
    let split = brine::ice_split(water, tap, wanted)?;
    sheet.entered("tap", tap.c(), "°C");
    sheet.entered("wanted", wanted.c(), "°C");
    sheet.known(
        "latent",
        brine::ICE_CAL_PER_G,
        "cal/g",
        &list::MEMORY,
        "heat that melts ice",
    );
    let formula = "water × (tap − wanted) ÷ (tap + 80)";
    let from = ["water", "tap", "wanted", "latent"];
    sheet.worked(
        "ice",
        split.ice.g(),
        "g",
        weight_places(split.ice.g()),
        formula,
        &from,
    );
    sheet.worked(
        "tap_water",
        split.water.g(),
        "g",
        weight_places(split.water.g()),
        "water − ice",
        &["water", "ice"],
    );
    let note = format!(
        "rest {} at {}, for {}",
        sheet.show("tap_water"),
        sheet.show("tap"),
        sheet.show("wanted")
    );
    // The salt goes into the tap water first; it must fit.
    let first = if Strength::of(salt, split.water).is_ok() {
        format!(
            "dissolve the salt in the {} of tap water, then stir in the ice",
            sheet.show("tap_water")
        )
    } else {
        "the tap water alone does not hold all the salt: stir until the ice is gone".to_owned()
    };
    Ok((
        row("of the water, as ice", &sheet.show("ice"), &note),
        format!("{first}; measure, then pour on raw food"),
    ))
}

fn small(ask: &Brine) -> Vec<(&'static str, String)> {
    let mut small = vec![(
        "base",
        "salt ÷ (salt + water); sugar is not counted; all of the salt taken as sodium chloride"
            .to_owned(),
    )];
    if let Made::With(salt) = &ask.made {
        small.extend(salt.small().map(|text| ("salt", text)));
    }
    small.extend(ask.water.small().map(|text| ("water", text)));
    small.extend(
        ask.sugar
            .iter()
            .filter_map(Measure::small)
            .map(|text| ("sugar", text)),
    );
    if ask.chill.is_some() {
        small.push(("ice", "heat balance with 80 cal/g (from memory); tub, room and heat of solution are left out: measure the mix".to_owned()));
    }
    small.push((
        "source",
        format!(
            "°SAL: {} ({})",
            list::SALOMETER.title,
            list::SALOMETER.status.words()
        ),
    ));
    if ask.sugar.is_none() {
        small.push((
            "",
            format!(
                "freezing and density: tables computed with CoolProp 8.0.0 and PHREEQC 3.8.6; water activity: {} ({})",
                list::PITZER_NACL.title,
                list::PITZER_NACL.status.words()
            ),
        ));
    }
    small.push((
        "",
        "usual strengths are common practice, no source".to_owned(),
    ));
    small
}

#[cfg(test)]
mod tests {
    use super::*;

    fn g(grams: f64) -> Measure {
        Measure::Weighed(Mass::grams(grams).unwrap())
    }

    fn asked(made: Made) -> Brine {
        Brine {
            made,
            water: g(2000.0),
            sugar: None,
            to: None,
            food: None,
            chill: None,
            read_at: None,
        }
    }

    /// By hand: 280 ÷ 2280 = 12.28 %, ÷ 26.395 = 46.5 °SAL; 576 g is thinned with 2,114 g.
    #[test]
    fn two_cups_of_flake_by_weight_are_twelve_percent() {
        let answer = brine(&asked(Made::With(g(280.0)))).unwrap();
        assert_eq!(answer.answer, "12.3 % brine  (46.5 °SAL)");
        assert!(
            answer.limit.starts_with("between cooking brine"),
            "{}",
            answer.limit
        );
        let to = Strength::percent(280.0 / 22.8).ok();
        let thinned = brine(&Brine {
            to,
            ..asked(Made::With(g(576.0)))
        })
        .unwrap();
        assert!((thinned.figures.number("add").unwrap() - 2114.3).abs() < 0.05);
    }

    #[test]
    fn the_salt_for_a_strength_makes_it() {
        let wanted = Strength::from_salometer(60.0).unwrap();
        let salt = brine(&asked(Made::ToBe(wanted)))
            .unwrap()
            .figures
            .number("salt")
            .unwrap();
        let again = brine(&asked(Made::With(g(salt)))).unwrap();
        assert!((again.figures.number("sal").unwrap() - 60.0).abs() < 1e-9);
    }

    #[test]
    fn salt_that_the_tap_water_does_not_hold_waits_for_the_ice() {
        let c = |c| Temperature::celsius(c).unwrap();
        let cold = |salt| Brine {
            chill: Some((c(18.0), c(4.0))),
            ..asked(Made::With(g(salt)))
        };
        assert!(
            brine(&cold(288.0))
                .unwrap()
                .next
                .starts_with("dissolve the salt in the")
        );
        assert!(
            brine(&cold(680.0))
                .unwrap()
                .next
                .starts_with("the tap water alone does not hold")
        );
    }
}
