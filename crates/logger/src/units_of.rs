//! From the unit of the file to the unit of the history, and what no probe can have read.

use safety::history::Quantity;
use units::factors::{
    ABSOLUTE_ZERO_C, ABSOLUTE_ZERO_F, C_DEGREES_IN_SPAN, F_AT_ZERO_C, F_DEGREES_IN_SPAN, G_PER_KG,
};

use crate::Options;
use crate::columns::Taken;
use crate::table::{Table, problem};
use crate::told::{Ask, Kind, Problem, Problems, Remark};
use crate::words::{self, Unit};

/// Above this no reading is taken, °C: hotter than any kitchen fire a probe survives.
pub const MOST_C: f64 = 1000.0;
/// Above this no relative humidity is taken, percent: sensors overshoot when wet (common practice, no source).
pub const MOST_HUMIDITY_PCT: f64 = 105.0;

fn to_c(value_f: f64) -> f64 {
    (value_f - F_AT_ZERO_C) * C_DEGREES_IN_SPAN / F_DEGREES_IN_SPAN
}

/// The unit of temperature a preamble names, where it names one.
fn preamble_unit(preamble: &[String]) -> Option<Unit> {
    let mut found = None;
    for line in preamble {
        let Some((key, value)) = line.split_once([':', '=', ';', ',', '\t']) else {
            continue;
        };
        let about = words::words(key);
        if !about
            .iter()
            .any(|w| matches!(w.as_str(), "unit" | "units" | "scale" | "einheit"))
        {
            continue;
        }
        let value = value.trim_matches([' ', ';', ',', '\t', '"']);
        match (words::unit(value), found) {
            (Some(unit), None) if unit.quantity() == Some(Quantity::TemperatureC) => {
                found = Some(unit);
            }
            (Some(unit), Some(before)) if unit != before => return None,
            _ => {}
        }
    }
    found
}

/// The unit of each column, or the question.
pub(crate) fn settle(
    taken: &[Taken],
    table: &Table,
    preamble: &[String],
    options: &Options,
    problems: &mut Problems,
) -> Vec<Option<Unit>> {
    let above = preamble_unit(preamble);
    let mut unmarked = false;
    let mut marked_otherwise = None;
    let units = taken
        .iter()
        .enumerate()
        .map(|(at, column)| {
            let told = column.unit.or(table.cell_units[at]);
            match column.quantity {
                Quantity::TemperatureC => {
                    let told = told.or(above);
                    if told == Some(Unit::Kelvin) {
                        problems.push(about(
                            column,
                            "a column in kelvin",
                            "°C or °F",
                            "export in °C",
                            None,
                        ));
                    }
                    if told.is_none() {
                        unmarked = true;
                    }
                    let given = options.fahrenheit.map(|f| match f {
                        true => Unit::Fahrenheit,
                        false => Unit::Celsius,
                    });
                    if told.is_some() && given.is_some() && told != given {
                        marked_otherwise = Some(column);
                    }
                    let unit = told.or(given);
                    if unit.is_none() {
                        problems.push(ask_fahrenheit(column, at, taken.len(), table));
                    }
                    unit
                }
                Quantity::WeightG => {
                    if told.is_none() {
                        problems.push(about(
                            column,
                            "a weight without its unit",
                            "g or kg in the heading or a units row",
                            "write the unit into the heading",
                            None,
                        ));
                    }
                    told
                }
                Quantity::Ph | Quantity::HumidityPct => told,
            }
        })
        .collect();
    if let (Some(column), false) = (marked_otherwise, unmarked) {
        problems.push(about(
            column,
            "a unit that contradicts the option given",
            "the unit of the file and the option to agree",
            "leave the option out, or mend the heading",
            Some(Ask::Fahrenheit),
        ));
    }
    units
}

fn about(column: &Taken, found: &str, expected: &str, do_now: &str, asks: Option<Ask>) -> Problem {
    Problem {
        line: None,
        column: Some(crate::told::shown(&column.name)),
        found: found.to_owned(),
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        asks,
    }
}

fn ask_fahrenheit(column: &Taken, at: usize, width: usize, table: &Table) -> Problem {
    let mut values: Vec<f64> = table
        .values
        .iter()
        .skip(at)
        .step_by(width)
        .copied()
        .filter(|v| !v.is_nan())
        .collect();
    values.sort_by(f64::total_cmp);
    let found = match values.get(values.len() / 2) {
        Some(median) => format!(
            "temperatures without a unit, half of them below {median:.1}: {median:.1} °C, or {:.1} °C if they are °F",
            to_c(*median)
        ),
        None => "temperatures without a unit, and no reading among them".to_owned(),
    };
    about(
        column,
        &found,
        "°C or °F in the heading, a units row, or behind the values",
        "say whether the file is in °F",
        Some(Ask::Fahrenheit),
    )
}

/// Turns every value into the unit of the history; what cannot be is a problem naming line and column.
pub(crate) fn convert(
    taken: &[Taken],
    units: &[Option<Unit>],
    table: &mut Table,
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) {
    let width = taken.len();
    for (at, value) in table.values.iter_mut().enumerate() {
        let (row, column) = (at / width, at % width);
        let (quantity, unit) = (taken[column].quantity, units[column]);
        let (low, high, name) = match (quantity, unit) {
            (Quantity::TemperatureC, Some(Unit::Fahrenheit)) => {
                let most_f = MOST_C * F_DEGREES_IN_SPAN / C_DEGREES_IN_SPAN + F_AT_ZERO_C;
                (ABSOLUTE_ZERO_F, most_f, "°F")
            }
            (Quantity::TemperatureC, _) => (ABSOLUTE_ZERO_C, MOST_C, "°C"),
            (Quantity::Ph, _) => (0.0, 14.0, "pH"),
            (Quantity::HumidityPct, _) => (0.0, MOST_HUMIDITY_PCT, "%"),
            (Quantity::WeightG, Some(Unit::Kilogram)) => (0.0, 1e6, "kg"),
            (Quantity::WeightG, _) => (0.0, 1e9, "g"),
        };
        if *value < low || *value > high {
            problems.push(problem(
                table.rows[row].0,
                Some(&taken[column].name),
                format!("{value} {name}"),
                &format!("{low} to {high} {name}"),
                "check the probe and the unit; empty the cell if nothing was read",
            ));
        }
        match unit {
            Some(Unit::Fahrenheit) => *value = to_c(*value),
            Some(Unit::Kilogram) => *value *= G_PER_KG,
            _ => {}
        }
    }
    for (column, unit) in taken.iter().zip(units) {
        let found = match unit {
            Some(Unit::Fahrenheit) => "values in °F",
            Some(Unit::Kilogram) => "values in kg",
            _ => continue,
        };
        let done = match unit {
            Some(Unit::Fahrenheit) => "kept in °C",
            _ => "kept in g",
        };
        remarks.push(Remark::new(
            Kind::Converted,
            None,
            Some(&column.name),
            found.to_owned(),
            done,
        ));
    }
}
