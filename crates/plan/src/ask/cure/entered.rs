//! What was typed, and what the model starts from, on the sheet.

use sources::list;
use units::Temperature;

use super::model::Model;
use super::{ACTIVATION_KJ_PER_MOL, Contact, Cure, FITTED_SPREAD, Wanted};
use crate::ask::picture::entered_time;
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// Everything typed, and what the model starts from.
pub(super) fn enter(ask: &Cure, model: &Model, sheet: &mut Sheet) -> Result<(), Refusal> {
    sheet.entered("at", ask.at.c(), "°C");
    sheet.entered("water", ask.water_pct, "%");
    sheet.figures.of("water", "green weight");
    match &ask.contact {
        Contact::Dry {
            salt_pct,
            sugar_pct,
        } => {
            sheet.entered("salt", *salt_pct, "%");
            sheet.entered("sugar", *sugar_pct, "%");
            for id in ["salt", "sugar"] {
                sheet.figures.of(id, "green weight");
            }
        }
        Contact::Brine {
            strength_pct,
            water_pct,
        } => {
            sheet.entered("salt", *strength_pct, "%");
            sheet.figures.of("salt", "salt and water of the brine");
            if let Some(water) = water_pct {
                sheet.entered("brine.water", *water, "%");
                sheet.figures.of("brine.water", "green weight");
            }
        }
    }
    match ask.wanted {
        Wanted::Uptake { pct } => {
            sheet.entered("goal", pct, "%");
            sheet.figures.of("goal", "the salt it ends with");
        }
        Wanted::Core { pct } => {
            sheet.entered("goal", pct, "%");
            sheet
                .figures
                .of("goal", "salt and water of the thickest place");
        }
        Wanted::Mean {
            least_pct,
            most_pct,
        } => {
            sheet.entered("goal", least_pct, "%");
            sheet.entered("goal.most", most_pct, "%");
            for id in ["goal", "goal.most"] {
                sheet.figures.of(id, "the piece as it comes out");
            }
        }
    }
    // Diffusivities are told in 10⁻¹⁰ m²/s: as plain numbers they would round away.
    let unit = "×10⁻¹⁰ m²/s";
    let speed = model.law.at(ask.at)?.value_m2_s() * 1e10;
    match ask.diffusivity {
        Some(_) => {
            sheet.entered("diffusivity", speed, unit);
            sheet.known(
                "diffusivity.spread",
                FITTED_SPREAD,
                "times",
                &list::HOUSE,
                "of a fitted diffusivity",
            );
        }
        None => {
            let reference = Temperature::celsius(4.0)?;
            let guess = model.law.at(reference)?.value_m2_s() * 1e10;
            sheet.known(
                "diffusivity.guess",
                guess,
                unit,
                &list::MEMORY,
                "salt in flesh: a round guess",
            );
            sheet.known(
                "diffusivity.guess.at",
                reference.c(),
                "°C",
                &list::MEMORY,
                "",
            );
            sheet.known(
                "diffusivity.activation",
                ACTIVATION_KJ_PER_MOL,
                "kJ/mol",
                &list::MEMORY,
                "",
            );
            sheet.known(
                "diffusivity.spread",
                model.law.spread(),
                "times",
                &list::MEMORY,
                "half a decade either way",
            );
            sheet.worked(
                "diffusivity",
                speed,
                unit,
                2,
                "Arrhenius: D × exp(−Ea ÷ R × (1 ÷ T − 1 ÷ T_ref)), kelvins",
                &[
                    "diffusivity.guess",
                    "diffusivity.guess.at",
                    "diffusivity.activation",
                    "at",
                ],
            );
        }
    }
    if let Some((least, most)) = ask.water_out {
        for (id, value) in [("water_out.least", least), ("water_out.most", most)] {
            sheet.entered(id, value, "kg/kg");
            sheet.figures.of(id, "salt that enters");
        }
        let from = ["water_out.least", "water_out.most"];
        let value = f64::midpoint(least, most);
        sheet.worked("water_out", value, "kg/kg", 2, "middle of the two", &from);
    }
    if let Some(time) = ask.time {
        entered_time(sheet, "time", time);
    }
    Ok(())
}

/// What every figure of the model hangs on.
pub(super) fn base(model: &Model) -> Vec<&'static str> {
    let mut from = vec!["salt", "water", "diffusivity"];
    match &model.contact {
        Contact::Dry { .. } => from.push("sugar"),
        Contact::Brine {
            water_pct: Some(_), ..
        } => from.push("brine.water"),
        Contact::Brine { .. } => {}
    }
    if !model.is_still() {
        from.push("water_out");
    }
    from
}
