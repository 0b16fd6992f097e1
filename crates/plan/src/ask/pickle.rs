//! How sour, salty and sweet is this pickle once it is even?

mod drawn;
mod poured;
mod rows;
mod sour;

pub use sour::Buffering;

use drawing::Chart;
use safety::Verdict;
use science::acid::Acid;
use science::pickle;
use sources::{Citation, list};
use units::{Base, Fraction, Mass};

use super::answer::Answer;
use super::measure::Measure;
use super::refusal::Refusal;
use super::sheet::{Sheet, cite, reading_of, weight_places};
use poured::{Poured, even_row, poured};

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
    /// Other acids of the liquor, weighed, without crystal water.
    pub acids: Vec<(Acid, Mass)>,
    /// What is known of how the vegetable binds acid.
    pub buffering: Buffering,
    /// What is looked for, where it is not the strength it comes to.
    pub find: Option<Find>,
    /// Seed of the draws.
    pub seed: u64,
}

/// What is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Find {
    /// The least of this vinegar that will do.
    LeastVinegar,
    /// The weakest vinegar of which as much will do.
    WeakestVinegar,
}

/// The picture of its pH against the vinegar, or against the strength when that is looked for.
///
/// # Errors
/// A pH that is unknown, with the reason; what [`pickle()`] refuses.
pub fn picture(ask: &Pickle) -> Result<Chart, Refusal> {
    let (weighed, _) = poured(ask, &mut Sheet::default())?;
    let varied = match ask.find {
        Some(Find::WeakestVinegar) => sour::Varied::Strength,
        _ => sour::Varied::Vinegar,
    };
    match sour::Sour::of(ask, &weighed.all)? {
        Ok(sour) => drawn::picture(&sour, varied),
        Err(why) => Err(no_ph("--curve", &why)),
    }
}

fn no_ph(entry: &str, why: &str) -> Refusal {
    Refusal::new(
        format!("{entry}: found a pH that is {why}"),
        "a pickle whose pH can be calculated",
        GIVE_BUFFER,
    )
}

const GIVE_BUFFER: &str = "blend some of the vegetable with water, read its pH, add this vinegar until it reads about \
     4.2, and give that: --trial \"100 g, 100 g water, 8 g vinegar, pH 6.1 to 4.2\"";

/// Answers it.
///
/// # Errors
/// Salt or sugar by volume without its kind; no liquor; a trial that cannot have been; something looked
/// for while the pH is unknown.
pub fn pickle(ask: &Pickle) -> Result<Answer, Refusal> {
    let mut sheet = Sheet::default();
    let (poured, edible_water) = poured(ask, &mut sheet)?;
    let Poured {
        acid,
        liquor,
        water,
        ..
    } = poured;
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
    for (id, name, mass) in &poured.solutes {
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
    let usual = window(acid_pct, &mut sheet);
    let told = match sour::Sour::of(ask, &poured.all)? {
        Ok(sour) => Ok(rows::told(ask, &sour, &mut sheet)?),
        Err(why) => Err(why),
    };
    let mut next = next(ask, acid, liquor + ask.edible, acid_pct, &mut sheet)?;
    let mut answer = format!("{} acetic acid at equilibrium", sheet.show("acid.even"));
    let mut main = "acid.even";
    let not_shown = format!(
        "pH {} at most, legal line {}",
        sheet.show("ph.target"),
        sheet.show("ph.legal")
    );
    let limit = match &told {
        Err(_) => format!(
            "{usual}; the limit itself is a pH, {} at most, legal line {}: not shown",
            sheet.show("ph.target"),
            sheet.show("ph.legal")
        ),
        Ok(told) if told.broken => format!(
            "BROKEN as planned: {} to {} by calculation, even its sour side above the legal line {}. Acid {usual}",
            sheet.show("ph.low"),
            sheet.show("ph.high"),
            sheet.show("ph.legal")
        ),
        Ok(_) => format!(
            "{not_shown}; by calculation {} to {}, which releases nothing: not shown. Acid {usual}",
            sheet.bare("ph.low"),
            sheet.bare("ph.high"),
        ),
    };
    if let Ok(told) = &told {
        details.push(String::new());
        details.extend(told.rows.iter().cloned());
        answer = format!("{answer}   pH {} calculated, not read", sheet.show("ph"));
        if !told.likely {
            next = not_likely(told.least, &sheet);
        }
    }
    if let Some(find) = ask.find {
        match &told {
            Ok(_) => {
                (answer, main) = looked_for(find, &sheet)?;
                next = format!(
                    "a trial batch with it, its pH read at {} by a checked meter, before it goes on a sheet: only {} \
                     or below, read, releases it; the usual acid is {} to {}",
                    sheet.show("ph.after"),
                    sheet.show("ph.target"),
                    sheet.bare("usual.low"),
                    sheet.show("usual.high")
                );
            }
            Err(why) => return Err(no_ph("--find", why)),
        }
    }
    let broken = told.as_ref().is_ok_and(|t| t.broken);
    Ok(Answer {
        question: "pickle",
        answer,
        limit,
        next,
        details,
        small: small(ask, told.err().as_deref()),
        // A calculated pH shows nothing. That it breaks a plan it may: nobody need make it to know.
        verdict: Some(if broken {
            Verdict::Broken
        } else {
            Verdict::NotShown
        }),
        main,
        figures: sheet.figures,
    })
}

/// Line 1 and its figure when something is looked for.
fn looked_for(find: Find, sheet: &Sheet) -> Result<(String, &'static str), Refusal> {
    let (id, what) = match find {
        Find::LeastVinegar => ("least.vinegar", "of this vinegar is the least"),
        Find::WeakestVinegar => ("weakest", "acid is the weakest vinegar"),
    };
    if sheet.figures.get(id).is_none() {
        return Err(Refusal::new(
            "--find: found nothing that is the least: all of what was looked at does, or none does",
            "a pickle that the vinegar decides",
            "ask without --find to see which, then change the liquor",
        ));
    }
    let target = sheet.show("ph.target");
    let line = format!("{} {what} for pH {target}, by calculation", sheet.show(id));
    Ok((line, id))
}

/// What to do when too few of the draws come to the target.
fn not_likely(least: sour::Found, sheet: &Sheet) -> String {
    let read = format!(
        "then read the pH at {} with a checked meter: only {} or below, read, releases it",
        sheet.show("ph.after"),
        sheet.show("ph.target")
    );
    match least {
        sour::Found::At(_) => format!(
            "take at least {} of this vinegar, or less of the vegetable; {read}",
            sheet.show("least.vinegar")
        ),
        _ => format!(
            "no amount of this vinegar up to {} does: take a stronger one, or less of the vegetable; {read}",
            sheet.show("least.vinegar.looked")
        ),
    }
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
        "{where_it_lies} the usual {} to {} (liquor {} to {})",
        sheet.bare("usual.low"),
        sheet.show("usual.high"),
        sheet.bare("usual.liquor.low"),
        sheet.show("usual.liquor.high"),
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

/// Small print; `unknown` says why there is no pH.
fn small(ask: &Pickle, unknown: Option<&str>) -> Vec<(&'static str, String)> {
    let releases = "a computation never releases a pickle: only a reading by a checked meter does, and it stays \
                    refrigerated either way";
    let ph = match unknown {
        Some(why) if matches!(ask.buffering, Buffering::Unknown) => {
            format!("{why}. To have it calculated, {GIVE_BUFFER}; {releases}")
        }
        Some(why) => format!("{why}; {releases}"),
        None => releases.to_owned(),
    };
    let mut small = vec![
        ("pH", ph),
        (
            "base",
            "mass balance: all the liquor with all the vegetable, nothing poured off".to_owned(),
        ),
    ];
    if unknown.is_none() {
        let buffer = match &ask.buffering {
            Buffering::Assumed { .. } => {
                "ASSUMED, measured on no vegetable: run a trial before you lean on it"
            }
            Buffering::Trial { .. } => "of your trial",
            Buffering::Between { .. } | Buffering::Unknown => "entered",
        };
        small.push((
            "buffer",
            format!(
                "{buffer}; taken as even over the way of pH. Beside PHREEQC with three invented vegetables: \
                 0.02 too low to 0.11 too high. Only salt and acids count as ions; 25 °C"
            ),
        ));
    }
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
    if unknown.is_none() {
        let told = [list::PKA_OF_T, list::DAVIES, list::PRICE_2020]
            .map(|s| format!("{} ({})", s.title, s.status.words()));
        small.push(("model", told.join("; ")));
    }
    small.push(("source", reading_of(&list::PA_PH)));
    small.push(("", reading_of(&list::CFR_114)));
    small.push((
        "",
        "usual percents and 24 h are common practice, no source".to_owned(),
    ));
    small
}

#[cfg(test)]
mod tests;
