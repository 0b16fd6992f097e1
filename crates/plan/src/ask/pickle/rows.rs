//! The rows under a pickle whose pH can be reckoned: pH, chances, what matters, the least that will do.

use science::spread::{Outcome, Probability};
use sources::list;

use super::sour::{
    Buffering, DRAWS, ENTERED_SPREAD, Found, MODEL_SD_PH, PH_SD, PROTONS, SEARCH_DRAWS,
    STRENGTH_SD_OF_IT, SURE_PCT, Sour, TRIAL_SPREAD, Varied, WATER_SD_PCT, WEIGHTS_SD, assumed,
};
use super::{PH_LEGAL, PH_TARGET, Pickle};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// What the answer says of the pH.
pub(super) struct Told {
    pub(super) rows: Vec<String>,
    /// Whether even the sour side of the spread lies above the legal line.
    pub(super) broken: bool,
    /// Whether the draws come to the target often enough.
    pub(super) likely: bool,
    /// The least vinegar that does.
    pub(super) least: Found,
}

const UNIT: &str = "mmol/(kg pH)";

/// Puts pH, spread, chances and searches on the sheet; the rows under the answer.
pub(super) fn told(ask: &Pickle, sour: &Sour, sheet: &mut Sheet) -> Result<Told, Refusal> {
    let from = enter(ask, sour, sheet)?;
    let ids: Vec<&str> = from.iter().map(String::as_str).collect();
    sheet.worked("ph", sour.ph()?, "", 2, PROTONS, &ids);
    let spreads = [
        ("draws.ph", PH_SD, "", "pH of the raw vegetable"),
        (
            "draws.strength",
            STRENGTH_SD_OF_IT * 100.0,
            "% of it",
            "strength",
        ),
        ("draws.weights", WEIGHTS_SD * 100.0, "% of them", "weights"),
        ("draws.water", WATER_SD_PCT, "%", "water of the vegetable"),
    ];
    for (id, sd, unit, of) in spreads {
        let place = format!("standard deviation of the draws: {of}");
        sheet.known(id, sd, unit, &list::HOUSE, &place);
    }
    let place = "taken as one standard deviation of the model itself";
    sheet.known("draws.model", MODEL_SD_PH, "", &list::PRICE_2020, place);
    sheet.known("draws", DRAWS as f64, "", &list::HOUSE, "");
    sheet.known("draws.seed", sour.seed() as f64, "", &list::ENTERED, "");
    let outcome = sour.drawn(DRAWS)?;
    let drawn: Vec<&str> = ids
        .iter()
        .copied()
        .chain(spreads.iter().map(|(id, ..)| *id))
        .chain(["draws.model", "draws", "draws.seed"])
        .collect();
    let marks = outcome.quantiles().ok_or_else(|| {
        Refusal::new(
            "found no draw with a pH",
            "a liquor the formula of ions holds for",
            "less salt, or leave the buffer out and measure",
        )
    })?;
    for (id, value, mark) in [("ph.low", marks.p5, 5), ("ph.high", marks.p95, 95)] {
        let formula = format!("{mark} draws in a hundred lie below; each draw: {PROTONS}");
        sheet.worked(id, value, "", 2, &formula, &drawn);
    }
    let mut rows = vec![row(
        "pH, calculated",
        &sheet.show("ph"),
        &format!(
            "nine draws in ten {} to {}",
            sheet.show("ph.low"),
            sheet.show("ph.high")
        ),
    )];
    let likely = outcome.probability(|ph| ph <= PH_TARGET);
    chance(
        "chance.target",
        likely,
        "at or below the target",
        &drawn,
        sheet,
    );
    rows.push(row(
        &format!("chance of {} or below", sheet.show("ph.target")),
        &sheet.show("chance.target"),
        &format!(
            "{} to {}, {} draws",
            sheet.bare("chance.target.low"),
            sheet.show("chance.target.high"),
            sheet.show("draws")
        ),
    ));
    let over = outcome.probability(|ph| ph > PH_LEGAL);
    chance("chance.legal", over, "above the legal line", &drawn, sheet);
    rows.push(row(
        &format!("chance above {}", sheet.show("ph.legal")),
        &sheet.show("chance.legal"),
        &format!(
            "{} to {}",
            sheet.bare("chance.legal.low"),
            sheet.show("chance.legal.high")
        ),
    ));
    if outcome.unknown() > 0 {
        let formula = "draws the formula of ions refuses";
        sheet.worked(
            "draws.unknown",
            outcome.unknown() as f64,
            "draws",
            0,
            formula,
            &["draws"],
        );
        rows.push(row("without an answer", &sheet.show("draws.unknown"), ""));
    }
    rows.extend(matters(&outcome, sheet));
    let least = searches(sour, &drawn, sheet, &mut rows)?;
    Ok(Told {
        rows,
        broken: marks.p5 > PH_LEGAL,
        likely: likely
            .share_of_known()
            .is_some_and(|p| p * 100.0 >= SURE_PCT),
        least,
    })
}

fn row(what: &str, figure: &str, note: &str) -> String {
    let row = format!("{what:<26}{figure:>12}   {note}");
    row.trim_end().to_owned()
}

/// What the pH hangs on, put on the sheet; the ids.
fn enter(ask: &Pickle, sour: &Sour, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    let water = sour.all_water()?;
    let mut parts = vec!["vinegar", "strength", "edible", "edible.water"];
    if sheet.figures.get("water").is_some() {
        parts.push("water");
    }
    let formula = "water of vinegar, liquor and vegetable, mass balance";
    sheet.worked("water.all", water.g(), "g", 0, formula, &parts);
    let mut from: Vec<String> = vec![
        "acid.g".to_owned(),
        "water.all".to_owned(),
        "edible".to_owned(),
    ];
    if sheet.figures.get("salt").is_some() {
        from.push("salt".to_owned());
    }
    from.extend((1..=ask.acids.len()).map(|i| format!("acid.other.{i}")));
    match &ask.buffering {
        Buffering::Unknown => {}
        Buffering::Between { raw, least, most } => {
            sheet.entered("raw.ph", raw.ph(), "");
            if least < most {
                sheet.entered("buffer.least", *least, UNIT);
                sheet.entered("buffer.most", *most, UNIT);
                middle(sour, sheet);
            } else {
                sheet.entered("buffer", *most, UNIT);
                let place = "a buffer entered as one number, either way";
                sheet.known(
                    "buffer.spread",
                    ENTERED_SPREAD,
                    "times",
                    &list::HOUSE,
                    place,
                );
                from.push("buffer.spread".to_owned());
            }
            from.push("raw.ph".to_owned());
        }
        Buffering::Assumed { raw } => {
            sheet.entered("raw.ph", raw.ph(), "");
            let (least, most) = assumed();
            let place = "assumed of any vegetable, measured of none";
            sheet.known("buffer.least", least, UNIT, &list::HOUSE, place);
            sheet.known("buffer.most", most, UNIT, &list::HOUSE, place);
            middle(sour, sheet);
            from.push("raw.ph".to_owned());
        }
        Buffering::Trial {
            vegetable,
            water,
            vinegar,
            before,
            after,
        } => {
            for (id, value, unit) in [
                ("trial.vegetable", vegetable.g(), "g"),
                ("trial.water", water.g(), "g"),
                ("trial.vinegar", vinegar.g(), "g"),
                ("trial.before", before.ph(), ""),
                ("trial.after", after.ph(), ""),
            ] {
                sheet.entered(id, value, unit);
            }
            let formula = "given off by the acetic acid at the pH after ÷ (vegetable × (pH before − pH after)); \
                 pK and activities as for the pH";
            sheet.worked(
                "buffer",
                sour.buffer_mmol(),
                UNIT,
                1,
                formula,
                &[
                    "trial.vegetable",
                    "trial.water",
                    "trial.vinegar",
                    "trial.before",
                    "trial.after",
                    "strength",
                    "edible.water",
                ],
            );
            let place = "a buffer of one trial, either way";
            sheet.known("buffer.spread", TRIAL_SPREAD, "times", &list::HOUSE, place);
            from.extend(["buffer.spread".to_owned(), "trial.before".to_owned()]);
        }
    }
    from.push("buffer".to_owned());
    Ok(from)
}

fn middle(sour: &Sour, sheet: &mut Sheet) {
    let from = ["buffer.least", "buffer.most"];
    let value = sour.buffer_mmol();
    sheet.worked("buffer", value, UNIT, 1, "middle of the two", &from);
}

/// A counted chance with its interval, on the sheet.
fn chance(id: &str, chance: Probability, what: &str, from: &[&str], sheet: &mut Sheet) {
    let share = chance.share_of_known().unwrap_or(f64::NAN) * 100.0;
    // Near certainty the digits after the point are what is left of the doubt.
    let places = if (1.0..=99.0).contains(&share) { 0 } else { 2 };
    let formula = format!("draws {what} ÷ draws that can be answered; each draw: {PROTONS}");
    sheet.worked(id, share, "%", places, &formula, from);
    let wilson = "Wilson's interval of a counted share, 95 % (Wilson 1927, from memory)";
    for (end, value) in [("low", chance.low), ("high", chance.high)] {
        let end = format!("{id}.{end}");
        sheet.worked(&end, value * 100.0, "%", places, wilson, &[id, "draws"]);
    }
}

/// The two inputs that matter most, a row each.
fn matters(outcome: &Outcome, sheet: &mut Sheet) -> Vec<String> {
    let told: Vec<String> = outcome
        .influences()
        .iter()
        .filter(|influence| influence.variance_share >= 0.01)
        .take(2)
        .enumerate()
        .map(|(i, influence)| {
            let id = format!("matters.{}", i + 1);
            let formula = format!(
                "{}: variance between 50 groups of it ÷ variance of all (first-order share)",
                influence.name
            );
            let value = influence.variance_share * 100.0;
            sheet.worked(&id, value, "%", 0, &formula, &["draws", "draws.seed"]);
            let what = if i == 0 { "what matters most" } else { "then" };
            row(
                what,
                &sheet.show(&id),
                &format!("of the spread: {}", influence.name),
            )
        })
        .collect();
    if told.is_empty() {
        return vec![row("what matters most", "", "nothing alone moves it")];
    }
    told
}

fn searches(
    sour: &Sour,
    drawn: &[&str],
    sheet: &mut Sheet,
    rows: &mut Vec<String>,
) -> Result<Found, Refusal> {
    sheet.known(
        "sure",
        SURE_PCT,
        "draws",
        &list::HOUSE,
        "of a hundred that are to come to the target",
    );
    let place = "for each step of a search";
    sheet.known("search.draws", SEARCH_DRAWS as f64, "", &list::HOUSE, place);
    let from: Vec<&str> = drawn
        .iter()
        .copied()
        .filter(|id| !matches!(*id, "acid.g" | "draws"))
        .chain(["ph.target", "sure", "search.draws"])
        .collect();
    let mut of_vinegar = Found::Nowhere;
    for (varied, id, what) in [
        (Varied::Vinegar, "least.vinegar", "least vinegar"),
        (Varied::Strength, "weakest", "weakest vinegar"),
    ] {
        let found = sour.least(varied)?;
        let what = format!("{what} for {}", sheet.show("ph.target"));
        let held = match varied {
            Varied::Vinegar => "the rest as it is",
            Varied::Strength => "as much of it",
        };
        let (_, most) = sour.range(varied);
        let unit = if varied == Varied::Vinegar { "g" } else { "%" };
        let limit = format!("{id}.looked");
        sheet.known(&limit, most, unit, &list::HOUSE, "most looked at");
        let figure = match found {
            Found::At(x) => {
                // Rounded up: the figure printed is one that does.
                let (value, places) = match varied {
                    Varied::Vinegar => (x.ceil(), 0),
                    Varied::Strength => ((x * 10.0).ceil() / 10.0, 1),
                };
                let formula = format!(
                    "halving over it until {SURE_PCT:.0} draws in a hundred are at the target or below, rounded up; {PROTONS}"
                );
                sheet.worked(id, value, unit, places, &formula, &from);
                sheet.show(id)
            }
            Found::Everywhere => "any".to_owned(),
            Found::Nowhere => "none".to_owned(),
        };
        let note = match found {
            Found::At(_) => format!("{} in a hundred come to it, {held}", sheet.show("sure")),
            Found::Everywhere => format!(
                "{} in a hundred come to it at the least looked at",
                sheet.show("sure")
            ),
            Found::Nowhere => format!("up to {}, {held}", sheet.show(&limit)),
        };
        rows.push(row(&what, &figure, &note));
        if varied == Varied::Vinegar {
            of_vinegar = found;
        }
    }
    Ok(of_vinegar)
}
