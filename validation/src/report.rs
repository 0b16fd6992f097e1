//! The report: `REPORT.md`, the same text for the same checks.

use std::fmt::Write as _;

use crate::acknowledged::Miss;
use crate::bands;
use crate::check::{Check, Measure, Verdict};
use crate::phenomena::{self, Phenomenon};
use crate::remarks::{NOT_COVERED, NOT_READABLE, READ_NOT_USED};
use crate::spread::Spread;

/// An error below this part of the value is the last binary digits and printed as none.
const LAST_DIGITS: f64 = 1e-12;

/// The whole report as Markdown.
#[must_use]
pub fn render(checks: &[Check]) -> String {
    let mut out = String::new();
    head(&mut out, checks);
    outside(&mut out, checks);
    spreads(&mut out, checks);
    bands(&mut out);
    words(&mut out, "Not covered by any outside check", NOT_COVERED);
    words(&mut out, "Looked for and not readable", NOT_READABLE);
    words(&mut out, "Read and not used", READ_NOT_USED);
    for phenomenon in phenomena::all() {
        cases(&mut out, &phenomenon, checks);
    }
    out
}

/// Writing to a string cannot fail.
macro_rules! line {
    ($out:expr) => { $out.push('\n') };
    ($out:expr, $($arg:tt)*) => {{ let _ = writeln!($out, $($arg)*); }};
}

fn count(checks: &[Check], verdict: Verdict) -> usize {
    checks
        .iter()
        .filter(|check| check.verdict() == verdict)
        .count()
}

fn head(out: &mut String, checks: &[Check]) {
    line!(out, "# Validation report\n");
    line!(
        out,
        "Written by `cargo run -p saltern-validation`; do not edit. A test fails when this file differs from what would be written,"
    );
    line!(
        out,
        "and when a check lies outside its tolerance. Each value from outside is in a table beside `src/`, with its source.\n"
    );
    line!(
        out,
        "**{} checks: {} within tolerance, {} outside, {} where the science refuses to answer.**\n",
        checks.len(),
        count(checks, Verdict::Within),
        count(checks, Verdict::Outside),
        count(checks, Verdict::Refused),
    );
    line!(out, "How far the other side was read:\n");
    line!(
        out,
        "| status | checks | what agreement shows |\n|---|---:|---|"
    );
    for (status, shows) in [
        ("read", "a published figure, read where it stands"),
        (
            "second-hand",
            "a published figure as somebody else copied it",
        ),
        (
            "computed",
            "a general-purpose library; where it works our own formula, only the arithmetic",
        ),
        (
            "from memory",
            "figures or constants remembered, not looked up: arithmetic, and no claim may rest on it",
        ),
    ] {
        let n = checks
            .iter()
            .filter(|check| check.case.status == status)
            .count();
        line!(out, "| {status} | {n} | {shows} |");
    }
    line!(out);
    line!(
        out,
        "The transport model is **not validated on product data**: no published time series of salting with readable numbers was found."
    );
    line!(
        out,
        "What is checked is that it solves its own equations. Cooling is checked on six measured totals whose heat transfer was not published."
    );
    line!(
        out,
        "Nothing here makes a statement about whether a food is fit to eat.\n"
    );
}

fn outside(out: &mut String, checks: &[Check]) {
    line!(out, "## Outside tolerance, or not answered\n");
    if count(checks, Verdict::Within) == checks.len() {
        line!(out, "None.\n");
        return;
    }
    line!(
        out,
        "A miss that was looked at says what was found; the tolerance stays. Any other makes the test fail.\n"
    );
    line!(
        out,
        "| phenomenon | case | ours | theirs | error | tolerance | what was found |\n|---|---|---:|---:|---:|---:|---|"
    );
    for check in checks
        .iter()
        .filter(|check| check.verdict() != Verdict::Within)
    {
        let ours = match &check.ours {
            Ok(value) => digits(*value),
            Err(why) => why.to_string(),
        };
        line!(
            out,
            "| {} | {} {} | {} | {} {} | {} | {} | {} |",
            check.phenomenon,
            check.case.quantity,
            cell(&check.case.inputs_text()),
            cell(&ours),
            digits(check.case.value),
            check.case.unit,
            error(check),
            most(check),
            Miss::of(check).map_or("**not looked at yet**", |miss| miss.why),
        );
    }
    line!(out);
}

/// Quantities of a phenomenon with their measure, in the order they come.
fn kinds<'a>(checks: &[&'a Check]) -> Vec<(&'a str, Measure, f64, &'static str)> {
    let mut kinds: Vec<(&str, Measure, f64, &'static str)> = Vec::new();
    for check in checks {
        let tolerance = check.tolerance;
        let kind = (
            check.case.quantity.as_str(),
            tolerance.measure,
            tolerance.most,
            tolerance.reason,
        );
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    kinds
}

fn spreads(out: &mut String, checks: &[Check]) {
    line!(out, "## Spread of the errors\n");
    line!(
        out,
        "Errors without sign; nearest rank. A part of a tolerance is the error over what is allowed: 1 would be the limit.\n"
    );
    line!(
        out,
        "| phenomenon | checks | median | q99 | max (parts of tolerance) |\n|---|---:|---:|---:|---:|"
    );
    for phenomenon in phenomena::all() {
        let parts = checks
            .iter()
            .filter(|check| check.phenomenon == phenomenon.key)
            .filter_map(|check| Some(check.error()? / check.tolerance.most))
            .collect();
        if let Some(spread) = Spread::of(parts) {
            line!(
                out,
                "| {} | {} | {} | {} | {} |",
                phenomenon.title,
                spread.count,
                small(spread.median),
                small(spread.q99),
                small(spread.most)
            );
        }
    }
    line!(out);
    line!(
        out,
        "| phenomenon | quantity | checks | median | q99 | max | tolerance | why |\n|---|---|---:|---:|---:|---:|---:|---|"
    );
    for phenomenon in phenomena::all() {
        let own: Vec<&Check> = checks
            .iter()
            .filter(|c| c.phenomenon == phenomenon.key)
            .collect();
        for (quantity, measure, most, reason) in kinds(&own) {
            let of_kind: Vec<&&Check> = own
                .iter()
                .filter(|check| {
                    let tolerance = check.tolerance;
                    check.case.quantity == quantity
                        && (tolerance.measure, tolerance.most, tolerance.reason)
                            == (measure, most, reason)
                })
                .collect();
            let errors = of_kind
                .iter()
                .filter_map(|check| shown_error(check))
                .collect();
            let (Some(spread), Some(first)) = (Spread::of(errors), of_kind.first()) else {
                continue;
            };
            let show = |error| measured(error, measure, &first.case.unit);
            line!(
                out,
                "| {} | {quantity} | {} | {} | {} | {} | {} | {reason} |",
                phenomenon.key,
                spread.count,
                show(spread.median),
                show(spread.q99),
                show(spread.most),
                show(most),
            );
        }
    }
    line!(out);
}

fn bands(out: &mut String) {
    line!(out, "## Bands of the trade (common practice, no source)\n");
    line!(
        out,
        "What cooks say, beside what the science says. Nothing is tuned to these; where the two differ the reason is given. They are not counted as checks.\n"
    );
    line!(
        out,
        "| the trade says | the science says | | remark |\n|---|---|---|---|"
    );
    for band in bands::all() {
        line!(
            out,
            "| {} | {} | {} | {} |",
            band.trade,
            band.science,
            band.verdict.word(),
            band.remark
        );
    }
    line!(out);
}

fn words(out: &mut String, title: &str, remarks: &[&str]) {
    line!(out, "## {title}\n");
    for remark in remarks {
        line!(out, "- {remark}");
    }
    line!(out);
}

fn cases(out: &mut String, phenomenon: &Phenomenon, checks: &[Check]) {
    line!(out, "## {}\n", phenomenon.title);
    line!(
        out,
        "{} Sources: [{key}/SOURCE.md]({key}/SOURCE.md).\n",
        phenomenon.shows,
        key = phenomenon.key
    );
    line!(
        out,
        "| case | source | status | ours | theirs | unit | error |\n|---|---|---|---:|---:|---|---:|"
    );
    for check in checks
        .iter()
        .filter(|check| check.phenomenon == phenomenon.key)
    {
        let case = &check.case;
        let ours = match &check.ours {
            Ok(value) => digits(*value),
            Err(_) => "refused".to_owned(),
        };
        let mark = if check.verdict() == Verdict::Outside {
            " **outside**"
        } else {
            ""
        };
        line!(
            out,
            "| {}: {} | {} | {} | {ours} | {} | {} | {}{mark} |",
            case.quantity,
            cell(&case.inputs_text()),
            cell(&case.source),
            case.status,
            digits(case.value),
            case.unit,
            error(check),
        );
    }
    line!(out);
}

/// The error as printed: the last binary digits are none, so that every machine prints the same.
fn shown_error(check: &Check) -> Option<f64> {
    let error = check.error()?;
    let difference = (check.ours.as_ref().ok()? - check.case.value).abs();
    Some(
        if difference <= LAST_DIGITS * check.case.value.abs().max(1.0) {
            0.0
        } else {
            error
        },
    )
}

fn error(check: &Check) -> String {
    match (shown_error(check), check.signed_error()) {
        (Some(shown), Some(signed)) => {
            let sign = if shown == 0.0 {
                ""
            } else if signed < 0.0 {
                "−"
            } else {
                "+"
            };
            format!(
                "{sign}{}",
                measured(shown, check.tolerance.measure, &check.case.unit)
            )
        }
        _ => "—".to_owned(),
    }
}

fn most(check: &Check) -> String {
    measured(
        check.tolerance.most,
        check.tolerance.measure,
        &check.case.unit,
    )
}

fn measured(error: f64, measure: Measure, unit: &str) -> String {
    match measure {
        Measure::Part => format!("{} %", small(error * 100.0)),
        Measure::Difference if unit == "1" => small(error),
        Measure::Difference => format!("{} {unit}", small(error)),
    }
}

/// Two significant digits.
fn small(value: f64) -> String {
    significant(value, 2)
}

/// Six significant digits.
fn digits(value: f64) -> String {
    significant(value, 6)
}

fn significant(value: f64, figures: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let size = value.abs().log10().floor() as i32;
    if (-4..7).contains(&size) {
        let decimals = usize::try_from(figures - 1 - size).unwrap_or(0);
        let text = format!("{value:.decimals$}");
        if text.contains('.') {
            return text.trim_end_matches('0').trim_end_matches('.').to_owned();
        }
        return text;
    }
    let decimals = usize::try_from(figures - 1).unwrap_or(0);
    format!("{value:.decimals$e}")
}

/// Text that may stand in a cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_print_to_their_digits() {
        assert_eq!(digits(0.785_000_1), "0.785");
        assert_eq!(digits(1_045.634_9), "1045.63");
        assert_eq!(digits(1.282e-7), "1.28200e-7");
        assert_eq!(small(0.001_26), "0.0013");
        assert_eq!(small(123.0), "123");
        assert_eq!(small(0.0), "0");
        assert_eq!(digits(-4.377_532), "-4.37753");
    }

    #[test]
    fn a_bar_in_a_name_does_not_end_its_cell() {
        assert_eq!(cell("a|b"), "a\\|b");
    }
}
