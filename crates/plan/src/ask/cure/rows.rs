//! The rows under an answer: the three sizes, the chances at a planned time, and the searches.

use science::transport::{Grid, Window};
use sources::list;
use units::{Elapsed, Length};

use super::chances::{self, Found};
use super::model::Model;
use super::{Contact, FICK, Wanted, base};
use crate::ask::picture::{entered_time, lasts};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// A row a size: when it is there, and mean, surface and thickest place at `then`.
pub(super) fn pieces(
    model: &Model,
    sizes: &[(&str, Length)],
    found: &Window,
    then: Elapsed,
    planned: bool,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    if planned {
        entered_time(sheet, "then", then);
    } else {
        lasts(sheet, "then", then, "best", &["best"]);
    }
    let mut rows = vec![format!(
        "{:<16}{:>10}{:>16}{:>15}{:>13}{:>17}",
        format!("at {}", sheet.show("then")),
        "goal met",
        "salt of piece",
        "of its water",
        "at surface",
        "thickest place"
    )];
    for (name, size) in sizes {
        let history = model.run(*size, then, Grid::default())?;
        let last = history.last;
        let thick = format!("{name}.thickness");
        sheet.entered(&thick, size.mm(), "mm");
        let from: Vec<&str> = base(model)
            .into_iter()
            .chain(["then", thick.as_str()])
            .collect();
        for (what, value) in [
            ("of_piece", last.salt_pct_of_piece()),
            ("mean", last.mean.water_phase_salt_pct()),
            ("surface", last.surface.water_phase_salt_pct()),
            ("core", last.core.water_phase_salt_pct()),
        ] {
            let formula = match what {
                "of_piece" => format!("salt ÷ weight of the piece; {FICK}"),
                _ => format!("salt ÷ (salt + water); {FICK}"),
            };
            sheet.worked(&format!("{name}.{what}"), value, "%", 2, &formula, &from);
        }
        rows.push(format!(
            "{:<6}{:>10}{:>10}{:>16}{:>15}{:>13}{:>17}",
            name,
            sheet.show(&thick),
            sheet.show(&format!("{name}.there")),
            sheet.show(&format!("{name}.of_piece")),
            sheet.show(&format!("{name}.mean")),
            sheet.show(&format!("{name}.surface")),
            sheet.show(&format!("{name}.core")),
        ));
    }
    // The three times now hang on their sizes as well.
    for (name, _) in sizes {
        hang(
            sheet,
            &format!("{name}.there"),
            &format!("{name}.thickness"),
        );
    }
    let last = sizes.last().map_or("usual", |(name, _)| *name);
    hang(sheet, "earliest", &format!("{last}.thickness"));
    hang(sheet, "best", "usual.thickness");
    let _ = found;
    Ok(rows)
}

fn hang(sheet: &mut Sheet, id: &str, on: &str) {
    if let Some(figure) = sheet.figures.get(id).cloned() {
        let mut figure = figure;
        if !figure.from.iter().any(|f| f == on) {
            figure.from.push(on.to_owned());
        }
        sheet.figures.put(figure);
    }
}

/// How likely the goal is met in the thickest piece at `time`, what matters most, and what would do.
pub(super) fn chances(
    model: &Model,
    thick: Length,
    time: Elapsed,
    seed: u64,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    if !model.is_still() {
        let mut rows = vec![
            "chance the thickest piece meets it    not worked out: the draws keep the water in the piece"
                .to_owned(),
        ];
        rows.extend(searches(model, thick, time, sheet)?);
        return Ok(rows);
    }
    let outcome = chances::drawn(model, thick, time, seed)?;
    let most = model.most().unwrap_or(f64::INFINITY);
    let chance = outcome.probability(|pct| pct >= model.least() && pct <= most);
    sheet.known("draws", chances::DRAWS as f64, "", &list::HOUSE, "");
    sheet.known("draws.seed", seed as f64, "", &list::ENTERED, "");
    let spreads = [
        ("draws.thickness", chances::THICKNESS_SD_MM, "mm"),
        ("draws.temperature", chances::AT_SD_C, "°C"),
        ("draws.water", chances::WATER_SD_PCT, "%"),
        (
            "draws.salt",
            chances::SALT_SD_OF_DOSE * 100.0,
            "% of the dose",
        ),
    ];
    for (id, sd, unit) in spreads {
        sheet.known(
            id,
            sd,
            unit,
            &list::HOUSE,
            "standard deviation of the draws",
        );
    }
    let from: Vec<&str> = base(model)
        .into_iter()
        .chain(["goal", "then", "draws", "draws.seed", "diffusivity.spread"])
        .chain(spreads.iter().map(|(id, _, _)| *id))
        .collect();
    let share = chance.share_of_known().unwrap_or(f64::NAN) * 100.0;
    let formula =
        format!("draws that meet the goal ÷ draws that can be answered; each draw: {FICK}");
    // Near certainty the digits after the point are what is left of the doubt.
    let places = if (1.0..=99.0).contains(&share) { 0 } else { 2 };
    sheet.worked("chance", share, "%", places, &formula, &from);
    let wilson = "Wilson's interval of a counted share, 95 % (Wilson 1927, from memory)";
    sheet.worked(
        "chance.low",
        chance.low * 100.0,
        "%",
        places,
        wilson,
        &["chance", "draws"],
    );
    sheet.worked(
        "chance.high",
        chance.high * 100.0,
        "%",
        places,
        wilson,
        &["chance", "draws"],
    );
    let mut rows = vec![format!(
        "chance the thickest piece meets it    {}   ({} to {}, {} draws)",
        sheet.show("chance"),
        sheet.bare("chance.low"),
        sheet.show("chance.high"),
        sheet.show("draws")
    )];
    if chance.unknown > 0 {
        sheet.worked(
            "draws.unknown",
            chance.unknown as f64,
            "draws",
            0,
            "draws the model refuses",
            &["draws"],
        );
        rows.push(format!(
            "of them without an answer              {}",
            sheet.show("draws.unknown")
        ));
    }
    let names: Vec<String> = outcome
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
            sheet.worked(
                &id,
                influence.variance_share * 100.0,
                "%",
                0,
                &formula,
                &["draws", "draws.seed"],
            );
            format!("{} {}", influence.name, sheet.show(&id))
        })
        .collect();
    if names.is_empty() {
        rows.push("what matters most                     nothing alone moves it".to_owned());
    } else {
        rows.push(format!(
            "what matters most                     {} of the spread",
            names.join(", then ")
        ));
    }
    rows.extend(searches(model, thick, time, sheet)?);
    Ok(rows)
}

fn searches(
    model: &Model,
    thick: Length,
    time: Elapsed,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    let mut rows = Vec::new();
    let from: Vec<&str> = base(model)
        .into_iter()
        .filter(|id| *id != "salt")
        .chain(["goal", "then"])
        .collect();
    let (low, high) = chances::doses(model);
    sheet.known(
        "search.least",
        low,
        "%",
        &list::HOUSE,
        "least dose looked at",
    );
    sheet.known(
        "search.most",
        high,
        "%",
        &list::HOUSE,
        "largest dose looked at",
    );
    let range = format!(
        "from {} to {}",
        sheet.bare("search.least"),
        sheet.show("search.most")
    );
    let dose = match (&model.wanted, &model.contact) {
        (Wanted::Uptake { .. }, Contact::Dry { .. }) => Some((
            "most salt that is in to that share     ",
            chances::most_salt(model, thick, time)?,
        )),
        // In a brine the share does not depend on the strength.
        (Wanted::Uptake { .. }, Contact::Brine { .. }) => None,
        _ => Some((
            "least salt that would do              ",
            chances::least_salt(model, thick, time)?,
        )),
    };
    if let Some((label, found)) = dose {
        let label = format!("{:<38}", label.trim_end());
        rows.push(match found {
            Found::At(pct) => {
                let formula =
                    format!("bisection over the dose, thickest piece at the time; {FICK}");
                sheet.worked("salt.would_do", pct, "%", 2, &formula, &from);
                format!("{label}{}", sheet.show("salt.would_do"))
            }
            Found::Everywhere => format!("{label}any {range}"),
            Found::Nowhere => format!("{label}none {range}"),
        });
    }
    let (least, most) = chances::CUT_MM;
    sheet.known(
        "cut.least",
        least,
        "mm",
        &list::HOUSE,
        "thinnest cut looked at",
    );
    sheet.known(
        "cut.most",
        most,
        "mm",
        &list::HOUSE,
        "thickest cut looked at",
    );
    let label = format!("{:<38}", "thickest cut that would do");
    let from: Vec<&str> = base(model).into_iter().chain(["goal", "then"]).collect();
    rows.push(match chances::thickest_cut(model, time)? {
        Found::At(mm) => {
            let formula = format!("bisection over the thickness, at the time; {FICK}");
            sheet.worked("cut.would_do", mm, "mm", 1, &formula, &from);
            format!("{label}{}", sheet.show("cut.would_do"))
        }
        Found::Everywhere => format!("{label}any to {}", sheet.show("cut.most")),
        Found::Nowhere => format!("{label}none from {}", sheet.show("cut.least")),
    });
    Ok(rows)
}
