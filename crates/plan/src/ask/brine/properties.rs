//! What else a brine of this strength is: where it freezes, its water activity, what it weighs, what a
//! salometer shows in it.

use science::ScienceError;
use science::brine::Strength;
use science::brine_properties::{Instrument, density, freezing_point, strength_from_reading};
use science::inverse::Search;
use science::water_activity;
use sources::list;
use units::Temperature;

use super::row;
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// The temperature a brine's weight is told at and most salometers are made for.
const OWN_F: f64 = 60.0;

/// How far a reading is looked for from the true strength, °SAL.
const MOST_OFF_SAL: f64 = 10.0;

/// The rows that can be worked out: salt and water alone, each inside the range of its table. With sugar
/// there are none, since sugar moves all of them.
pub(super) fn rows(
    strength: Strength,
    sweet: bool,
    read_at: Option<Temperature>,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    if sweet {
        return match read_at {
            None => Ok(Vec::new()),
            Some(_) => Err(Refusal::new(
                "--read-at: found one for a brine with sugar",
                "a brine of salt and water: sugar floats a hydrometer as salt does",
                "read it before the sugar goes in, and ask without --sugar",
            )),
        };
    }
    let mut rows = Vec::new();
    let from = ["strength"];
    if let Some(point) = known(freezing_point(strength))? {
        let tables = "highest of three tables of freezing points (CoolProp, PHREEQC twice), read between points";
        sheet.worked("freezes", point.highest.c(), "°C", 1, tables, &from);
        rows.push(row(
            "begins to freeze",
            &sheet.show("freezes"),
            "keep it above; more salt lowers it",
        ));
    }
    if let Some(activity) = known(water_activity::salt(strength))? {
        let pitzer =
            "ln a_w = −2 m φ M_w with Pitzer's φ (Pitzer and Mayorga 1973, from memory), 25 °C";
        sheet.worked("a_w", activity.aw(), "", 3, pitzer, &from);
        rows.push(row(
            "water activity",
            &sheet.show("a_w"),
            "of the brine, not of the food in it",
        ));
    }
    let own = Temperature::from_f(OWN_F)?;
    sheet.known("own", own.c(), "°C", &list::SALOMETER, "60 °F");
    let table =
        "table of brine density, read between points (CoolProp to 23 %, above with PHREEQC)";
    let at = read_at.unwrap_or(own);
    let at_id = if read_at.is_some() {
        sheet.entered("read_at", at.c(), "°C");
        "read_at"
    } else {
        "own"
    };
    if let Some(found) = known(density(strength, at))? {
        sheet.worked(
            "density",
            found.g_per_ml(),
            "g/mL",
            4,
            table,
            &["strength", at_id],
        );
        let warm = sheet.figures.number(at_id).unwrap_or(0.0);
        sheet.worked("density.at", warm, "°C", 1, "its temperature", &[at_id]);
        rows.push(row(
            "weighs",
            &sheet.show("density"),
            &format!("at {}", sheet.show("density.at")),
        ));
    }
    if read_at.is_some() {
        // Between 0 and 30 °C a reading is off by less than ten degrees.
        let (low, high) = (
            strength.salometer() - MOST_OFF_SAL,
            strength.salometer() + MOST_OFF_SAL,
        );
        let search = Search::new("salometer reading", low.max(0.0), high.min(100.0), 0.01)?;
        let found = search.root(|reading| {
            Ok(strength_from_reading(reading, at, Instrument::At60F)?.pct() - strength.pct())
        });
        // Close to either end of the scale the hydrometer stands outside it: no row, no guess.
        if let Ok(root) = found {
            sheet.worked("own.at", own.c(), "°C", 1, "its own temperature", &["own"]);
            let formula =
                "mark whose density at 60 °F is this brine's here, the glass grown (from memory)";
            sheet.worked(
                "reading",
                root.x,
                "°SAL",
                1,
                formula,
                &["strength", "read_at", "own"],
            );
            rows.push(row(
                "a salometer shows",
                &sheet.show("reading"),
                &format!(
                    "at {}; its own strength at {}",
                    sheet.show("density.at"),
                    sheet.show("own.at")
                ),
            ));
        }
    }
    Ok(rows)
}

/// Outside the range of a table there is no row; anything else refused stays refused.
fn known<T>(found: Result<T, ScienceError>) -> Result<Option<T>, Refusal> {
    match found {
        Ok(value) => Ok(Some(value)),
        Err(ScienceError::OutOfRange { .. }) => Ok(None),
        Err(other) => Err(other.into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worked(pct: f64, read_at: Option<f64>) -> Sheet {
        let mut sheet = Sheet::default();
        let strength = Strength::percent(pct).unwrap();
        sheet.entered("strength", pct, "%");
        let at = read_at.map(|c| Temperature::celsius(c).unwrap());
        rows(strength, false, at, &mut sheet).unwrap();
        sheet
    }

    /// A 10 % brine: −6.56 °C and 1.0707 g/mL at 20 °C in handbooks (from memory), a_w 0.935.
    #[test]
    fn ten_percent_is_as_in_handbooks() {
        let sheet = worked(10.0, Some(20.0));
        let n = |id| sheet.figures.number(id).unwrap();
        assert!((n("freezes") + 6.56).abs() < 0.1);
        assert!((n("density") - 1.0707).abs() < 5e-4);
        assert!((n("a_w") - 0.935).abs() < 2e-3);
    }

    /// Warm brine is lighter, so the salometer stands lower; at its own temperature it reads true.
    #[test]
    fn a_warm_brine_reads_low() {
        let warm = worked(15.0, Some(26.7)).figures.number("reading").unwrap();
        let own = worked(15.0, Some(15.555_555_6))
            .figures
            .number("reading")
            .unwrap();
        assert!((own - 15.0 / 0.26395).abs() < 0.02, "{own}");
        assert!(warm < own - 1.0, "{warm} {own}");
    }

    #[test]
    fn past_the_last_ice_there_is_no_freezing_row() {
        assert!(worked(25.0, None).figures.number("freezes").is_none());
        assert!(
            rows(
                Strength::percent(10.0).unwrap(),
                true,
                None,
                &mut Sheet::default()
            )
            .unwrap()
            .is_empty()
        );
        let at = Temperature::celsius(20.0).ok();
        assert!(
            rows(
                Strength::percent(10.0).unwrap(),
                true,
                at,
                &mut Sheet::default()
            )
            .is_err()
        );
    }
}
