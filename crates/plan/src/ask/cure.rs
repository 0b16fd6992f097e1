//! When may it come out of the cure, how sure is that, and what would have to change?

mod chances;
mod drawn;
mod entered;
mod model;
mod rows;
mod traded;
mod wall;

pub use traded::{Find, trade_off};
pub use wall::Wall;

use safety::Verdict;
use science::diffusion::Diffusivity;
use science::transport::{Grid, Pieces, Window, window};
use sources::list;
use units::{Elapsed, Length, Temperature};

use super::answer::Answer;
use super::picture::{Pictured, lasts, said};
use super::refusal::Refusal;
use super::sheet::{Sheet, places_of};
use entered::{base, enter};
use model::{LONGEST_D, Model};

/// Activation energy of the diffusivity, kJ/mol; from memory, as the guess of the model has it.
const ACTIVATION_KJ_PER_MOL: f64 = 25.0;
/// Factor a fitted diffusivity may be off either way; house value until more than one batch was fitted.
const FITTED_SPREAD: f64 = 1.5;
/// How near the mean the thickest place counts as even; house value.
const EVEN_PART: f64 = 0.1;
/// What the equations are, once for all formulas.
const FICK: &str =
    "Fick ∂c/∂t = D ∂²c/∂x² (Crank, from memory), finite volumes over half or all the thickness";

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Cure {
    /// The usual piece.
    pub thickness: Length,
    /// The thinnest, where it differs.
    pub thin: Option<Length>,
    /// The thickest, where it differs.
    pub thick: Option<Length>,
    /// How it is cut.
    pub cut: Cut,
    /// Whether salt enters from both faces across the thickness.
    pub both_faces: bool,
    /// What lies on it or around it.
    pub contact: Contact,
    /// Water of the green flesh, percent.
    pub water_pct: f64,
    /// How warm it is kept.
    pub at: Temperature,
    /// What it is to reach.
    pub wanted: Wanted,
    /// Diffusivity of salt at that temperature, fitted to one's own log.
    pub diffusivity: Option<Diffusivity>,
    /// Whether the juice of a dry cure stays on the piece, as in a bag; otherwise it is forgotten.
    pub juice_stays: bool,
    /// Water that leaves for each weight of salt that enters, least and most; nothing where it stays.
    pub water_out: Option<(f64, f64)>,
    /// A planned time to be judged.
    pub time: Option<Elapsed>,
    /// When it went in, to be answered by the wall's clock.
    pub wall: Option<Wall>,
    /// What is looked for, where it is not when it may come out.
    pub find: Option<Find>,
    /// Seed of the draws.
    pub seed: u64,
}

impl Cure {
    /// The same with another dose.
    fn with_salt(&self, pct: f64) -> Self {
        let mut other = self.clone();
        match &mut other.contact {
            Contact::Dry { salt_pct, .. } => *salt_pct = pct,
            Contact::Brine { strength_pct, .. } => *strength_pct = pct,
        }
        other
    }
}

/// How a piece is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cut {
    /// Much wider than thick.
    Slab,
    /// Long and round; its thickness is its diameter.
    Cylinder,
    /// Long, of rectangular section.
    Finger {
        /// Between the two cut sides.
        width: Length,
    },
}

/// Where the salt is.
#[derive(Debug, Clone, PartialEq)]
pub enum Contact {
    /// Laid on, percent of green weight.
    Dry {
        /// Salt.
        salt_pct: f64,
        /// Sugar.
        sugar_pct: f64,
    },
    /// In a brine.
    Brine {
        /// Its strength, percent.
        strength_pct: f64,
        /// Its water, percent of green weight; nothing when there is so much that it does not weaken.
        water_pct: Option<f64>,
    },
}

/// What a cure is to reach.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// A share of the salt it ends with, percent.
    Uptake {
        /// At least.
        pct: f64,
    },
    /// Salt in the water of the thickest place, percent.
    Core {
        /// At least.
        pct: f64,
    },
    /// Mean salt of the piece as it comes out, percent.
    Mean {
        /// At least.
        least_pct: f64,
        /// At most.
        most_pct: f64,
    },
}

/// Answers it.
///
/// # Errors
/// A goal the salt never reaches; a window that is shut; pieces out of order; whatever the model refuses.
pub fn cure(ask: &Cure) -> Result<Pictured, Refusal> {
    let thin = ask.thin.unwrap_or(ask.thickness);
    let thick = ask.thick.unwrap_or(ask.thickness);
    if thin > ask.thickness || ask.thickness > thick {
        return Err(Refusal::new(
            format!("found thin {thin}, usual {}, thick {thick}", ask.thickness),
            "thin at most the usual thickness, thick at least",
            "sort the three",
        ));
    }
    if ask.juice_stays {
        juice_is_one(ask)?;
    }
    let found_first = traded::strongest(ask)?;
    let with_dose;
    let ask = match found_first {
        Some(pct) => {
            with_dose = ask.with_salt(pct);
            &with_dose
        }
        None => ask,
    };
    let model = Model::of(ask)?;
    within_reach(&model)?;
    let longest = Elapsed::from_days(LONGEST_D)?;
    let pieces = Pieces {
        thin: model.piece(thin)?,
        nominal: model.piece(ask.thickness)?,
        thick: model.piece(thick)?,
    };
    let found = window(
        &pieces,
        &model.flesh()?,
        &model.params(),
        &model.phase(longest)?,
        &model.goal()?,
        Grid::default(),
    )?;

    let mut sheet = Sheet::default();
    enter(ask, &model, &mut sheet)?;
    times(&found, &model, &mut sheet)?;
    let sizes = [("thin", thin), ("usual", ask.thickness), ("thick", thick)];
    let sizes: &[(&str, Length)] = if thin == thick { &sizes[1..2] } else { &sizes };
    let then = ask.time.unwrap_or(found.best);
    let mut details = rows::pieces(&model, sizes, &found, then, ask.time.is_some(), &mut sheet)?;
    if let Some(time) = ask.time {
        details.push(String::new());
        details.extend(rows::chances(&model, thick, time, ask.seed, &mut sheet)?);
    }
    let mut next = next(&model, thick, then, &mut sheet)?;
    if let Some(early_or_late) = judged(&found, ask.time, &sheet) {
        next = format!("{early_or_late}. Then {next}");
    }
    let picture = drawn::picture(&model, sizes, &found, ask.time)?;
    let core = matches!(ask.wanted, Wanted::Core { .. });
    let mut main = "best";
    let mut answer = format!(
        "{}  {}",
        sheet.show("best"),
        says(ask, thin == thick, &sheet)
    );
    let mut limit = limit(&found, &sheet);
    if let Some(wall) = &ask.wall {
        let told = wall::told(wall, &found, &mut sheet)?;
        answer = format!("{}  {}", told.answer, says(ask, thin == thick, &sheet));
        limit = format!("{}. {limit}", told.limit);
        details.splice(0..0, told.rows);
        if told.late {
            next = format!(
                "it is past its latest: weigh it and have a piece read for salt before it goes on. Then {next}"
            );
        }
        main = "out";
    }
    if let Some(find) = ask.find {
        (answer, main) = traded::told(find, &model, found_first, &mut sheet)?;
    }
    Ok(Pictured {
        answer: Answer {
            question: "cure",
            answer,
            limit,
            next,
            details,
            small: small(ask, &model)?,
            verdict: core.then_some(Verdict::NotShown),
            main,
            figures: sheet.figures,
        },
        picture,
    })
}

/// Juice that stays needs a dry cure, and water that leaves to be juice at all.
fn juice_is_one(ask: &Cure) -> Result<(), Refusal> {
    if matches!(ask.contact, Contact::Brine { .. }) {
        return Err(Refusal::new(
            "--juice: found one that stays, in a brine",
            "a dry cure: in a brine there is no juice apart",
            "leave --juice out; --brine-water says how much brine there is",
        ));
    }
    if ask
        .water_out
        .is_none_or(|(least, most)| least + most <= 0.0)
    {
        return Err(Refusal::new(
            "--juice: found one that stays, and no water leaving the flesh",
            "the water that leaves for each weight of salt that enters, above 0",
            "weigh a piece before and after and give it with --water-out, or leave --juice out",
        ));
    }
    Ok(())
}

/// A goal above what the piece ends with is never met, however long: the message says what would do.
fn within_reach(model: &Model) -> Result<(), Refusal> {
    let end = model.ends_with_pct();
    let least = model.least();
    if end > least {
        return Ok(());
    }
    let number = |pct: f64| crate::figures::number(pct, 2);
    let do_now = match model.salt_to_end_at(least) {
        Some(salt) => format!("lay on more than {} %, or ask for less", number(salt)),
        None => "take a stronger brine or more of it, or ask for less".to_owned(),
    };
    Err(Refusal::new(
        format!(
            "found {} % of salt, which once even comes to {} %",
            number(model.salt_pct()),
            number(end)
        ),
        format!("a cure that ends above the {} % asked", number(least)),
        do_now,
    ))
}

fn times(found: &Window, model: &Model, sheet: &mut Sheet) -> Result<(), Refusal> {
    let mut from = base(model);
    from.push("goal");
    let formula = |what: &str| format!("{what}; {FICK}");
    let mut put = |id: &str, time: Elapsed, what: &str, more: &[&str]| {
        let all: Vec<&str> = from.iter().chain(more).copied().collect();
        lasts(sheet, id, time, &formula(what), &all);
    };
    put(
        "earliest",
        found.earliest,
        "when the thickest piece meets the goal",
        &[],
    );
    put(
        "thin.there",
        found.thin_there,
        "when the thinnest piece meets it",
        &[],
    );
    put(
        "usual.there",
        found.nominal_there,
        "when the usual piece meets it",
        &[],
    );
    put(
        "thick.there",
        found.earliest,
        "when the thickest piece meets it",
        &[],
    );
    put(
        "best",
        found.best,
        "the usual piece in the middle of the goal, inside the window; without an upper end the earliest",
        &[],
    );
    if let Some(latest) = found.latest {
        put(
            "latest",
            latest,
            "when the thinnest piece is past the goal",
            &["goal.most"],
        );
        let slack = latest.checked_sub(found.earliest)?;
        put("slack", slack, "latest − earliest", &[]);
    }
    let spread = ["diffusivity.spread"];
    put(
        "if_fast",
        found.thin_if_fast,
        "thinnest, D × spread",
        &spread,
    );
    if let Some(slow) = found.thick_if_slow {
        put("if_slow", slow, "thickest, D ÷ spread", &spread);
    }
    sheet.known(
        "longest",
        LONGEST_D,
        "d",
        &list::HOUSE,
        "longest time considered",
    );
    Ok(())
}

fn says(ask: &Cure, one: bool, sheet: &Sheet) -> String {
    let who = if one { "the piece" } else { "every piece" };
    let goal = sheet.show("goal");
    match ask.wanted {
        Wanted::Uptake { .. } => format!("and {who} has {goal} of the salt it ends with"),
        Wanted::Core { .. } => {
            format!("and the thickest place of {who} has {goal} salt in its water")
        }
        Wanted::Mean { .. } => format!(
            "and the mean salt of {who} is {} to {}",
            sheet.bare("goal"),
            sheet.show("goal.most")
        ),
    }
}

fn limit(found: &Window, sheet: &Sheet) -> String {
    let mut parts = vec![format!("earliest {}", sheet.show("earliest"))];
    parts.push(format!("best {}", sheet.show("best")));
    parts.push(match found.latest {
        Some(_) => format!(
            "latest {}, slack {}",
            sheet.show("latest"),
            sheet.show("slack")
        ),
        None => "no latest: nothing gets past this goal".to_owned(),
    });
    let slow = match found.thick_if_slow {
        Some(_) => format!("the thickest is there only at {}", sheet.show("if_slow")),
        None => format!("the thickest is not there in {}", sheet.show("longest")),
    };
    let spread = sheet.bare("diffusivity.spread");
    format!(
        "{}. Should salt move {spread} times slower, {slow}; {spread} times faster, the thinnest at {}",
        parts.join(", "),
        sheet.show("if_fast")
    )
}

fn next(model: &Model, thick: Length, then: Elapsed, sheet: &mut Sheet) -> Result<String, Refusal> {
    sheet.known(
        "even.part",
        EVEN_PART * 100.0,
        "%",
        &list::HOUSE,
        "near enough to the mean",
    );
    let from: Vec<&str> = base(model).into_iter().chain(["even.part"]).collect();
    let rest = match model.rest_until_even(thick, then, EVEN_PART)? {
        Some(hours) if hours > 0.0 => {
            let (value, unit, places) = said(hours);
            let formula =
                format!("first time in a closed rest with core ≥ (1 − part) × mean; {FICK}");
            sheet.worked("rest", value, unit, places, &formula, &from);
            format!(
                "then rest it cold: by this diffusivity {} more until its thickest place is within {} of \
                 the mean",
                sheet.show("rest"),
                sheet.show("even.part")
            )
        }
        Some(_) => format!(
            "its thickest place is within {} of the mean",
            sheet.show("even.part")
        ),
        None => format!(
            "then rest it cold: by this diffusivity its thickest place is not within {} of the mean in {}",
            sheet.show("even.part"),
            sheet.show("longest")
        ),
    };
    Ok(format!(
        "take it out, rinse, pat dry, weigh; {rest}. Have one core read for salt and fit your own \
         diffusivity to it"
    ))
}

/// A planned time outside the window, in words.
fn judged(found: &Window, planned: Option<Elapsed>, sheet: &Sheet) -> Option<String> {
    let time = planned?;
    if time < found.earliest {
        return Some(format!(
            "{} is too early: leave it in until {}",
            sheet.show("time"),
            sheet.show("earliest")
        ));
    }
    let late = found.latest.is_some_and(|latest| time > latest);
    late.then(|| {
        format!(
            "{} is too late: it has to be out by {}",
            sheet.show("time"),
            sheet.show("latest")
        )
    })
}

fn small(ask: &Cure, model: &Model) -> Result<Vec<(&'static str, String)>, Refusal> {
    let speed = model.law.at(ask.at)?.value_m2_s();
    let power = speed.log10().floor();
    let whose = if ask.diffusivity.is_some() {
        "an entered"
    } else {
        "a guessed"
    };
    let where_from = if ask.diffusivity.is_some() {
        "entered".to_owned()
    } else {
        "from memory, 25 kJ/mol".to_owned()
    };
    let contact = match &ask.contact {
        Contact::Dry { .. } if ask.juice_stays => {
            "dry, its juice kept on it: salt and sugar in percent of green weight, the juice goes on exchanging"
        }
        Contact::Dry { .. } => {
            "dry: salt and sugar in percent of green weight, all of it enters, the juice is forgotten, \
             which is quicker than it will be"
        }
        Contact::Brine {
            water_pct: Some(_), ..
        } => {
            "cover brine, stirred, weakening as the piece takes salt; its water in percent of green weight"
        }
        Contact::Brine { .. } => "brine so wide that it does not weaken",
    };
    Ok(vec![
        (
            "status",
            format!(
                "not validated on product data: {whose} diffusivity; a calculated core shows nothing"
            ),
        ),
        (
            "base",
            format!(
                "{contact}. Salt of piece: percent of its weight; the other three: of salt and water there. {}; no bone, no shrinking; skin lets nothing through",
                if model.is_still() {
                    "Water stays in the piece"
                } else {
                    "Water leaves as entered, fitted to your weighings or it is a guess"
                }
            ),
        ),
        (
            "source",
            format!(
                "diffusivity {}e{power:.0} m²/s ({where_from}). Fick's law: {} ({})",
                crate::figures::number(speed / 10_f64.powf(power), places_of_speed(speed, power)),
                list::CRANK.title,
                list::CRANK.status.words()
            ),
        ),
    ])
}

/// Two decimals at most: nobody knows a diffusivity better.
fn places_of_speed(speed: f64, power: f64) -> u32 {
    places_of(speed / 10_f64.powf(power)).min(2)
}

#[cfg(test)]
mod tests;
