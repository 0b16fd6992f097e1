//! A judgement as it is printed: the verdict first, then figure and limit, what to do, and the evidence.

use kitchen::site::RuleSet;
use plan::figures::number;
use safety::judge::{GAP_MIN, HOLD_GAP_MIN, RULES};
use safety::rules::State;
use safety::{Evidence, Judgement, Verdict};

use super::Judged;
use crate::diagnostics::wrapped;

/// Columns of a label.
const LABEL: usize = 11;
/// Remarks of the reader printed; the rest is counted. `--json` has them all.
const MOST_REMARKS: usize = 8;

/// The names of the rules and what each asks.
pub(super) fn rules() -> String {
    let widest = RULES
        .iter()
        .map(|(name, _, _)| name.len())
        .max()
        .unwrap_or(0);
    let mut text = "RULES  saltern judge LOG.csv --against RULE\n".to_owned();
    for (name, asks, _) in RULES {
        text.push_str(&wrapped(&format!("  {name:<widest$}  "), asks));
    }
    text
}

/// Everything that was judged.
pub(super) fn judged(judged: &Judged) -> String {
    let mut text = String::new();
    for j in &judged.answers {
        text.push_str(&one(j, &|at| judged.log.clock(at)));
        text.push('\n');
    }
    text.push_str(&place(judged));
    text.push_str(&file(judged));
    text.push_str(&caution());
    text
}

/// What stands under every verdict.
pub(crate) fn caution() -> String {
    line(
        "caution",
        "a verdict speaks of what was read or entered only: the code your authority adopted, your plan and your own \
         judgement come first",
    )
}

/// One judgement; `clock` says a moment on the wall.
pub(crate) fn one(j: &Judgement, clock: &dyn Fn(i64) -> String) -> String {
    let mut text = format!("{}  {}\n", j.verdict.word().to_uppercase(), j.rule);
    text.push_str(&line("limit", &against(j)));
    text.push_str(&line("next", &j.next));
    text.push('\n');
    text.push_str(&line("asks", &j.asks));
    text.push_str(&line("counted", &j.base));
    text.push_str(&line("measured", &j.place));
    for (i, e) in j.evidence.iter().enumerate() {
        let label = if i == 0 { "readings" } else { "" };
        text.push_str(&line(label, &reading(e, clock)));
    }
    text.push_str(&line(
        "source",
        &format!(
            "{} ({}; {})",
            j.source.title,
            j.status().words(),
            j.holds.words()
        ),
    ));
    text
}

/// A reading the verdict stands on: what it is to it, where, what, when.
fn reading(e: &Evidence, clock: &dyn Fn(i64) -> String) -> String {
    let value = e.value.map_or_else(
        || "no reading".to_owned(),
        |v| format!("{} {}", number(v, places(v)), e.unit),
    );
    let at = e
        .at_s
        .map_or_else(String::new, |at| format!(", {}", clock(at)));
    format!("{}: {value}, {}{at}", e.part.words(), e.channel)
}

/// The value against its limit, and how far inside.
fn against(j: &Judgement) -> String {
    let (Some(value), Some(limit), Some(margin)) = (j.value, j.limit, j.margin) else {
        return j.limit.map_or_else(
            || "no figure".to_owned(),
            |limit| format!("no figure found, limit {}", said(limit, j.unit)),
        );
    };
    let standing = match j.verdict {
        _ if margin < 0.0 => "outside",
        Verdict::NotShown => "inside, as far as it was read",
        Verdict::Shown | Verdict::Broken => "inside",
    };
    let shown = if j.unit == MINUTES {
        cut(value, (value - limit - margin).abs() < 1e-9)
    } else {
        value
    };
    format!(
        "found {}, limit {}: {} {standing}",
        said(shown, j.unit),
        said(limit, j.unit),
        said((shown - limit).abs(), j.unit)
    )
}

/// The unit that is said in hours, minutes and seconds.
const MINUTES: &str = "min";

/// Minutes cut to whole seconds on the worse side: a hold is never told longer, a delay never shorter.
fn cut(min: f64, at_least: bool) -> f64 {
    // Arithmetic on minutes leaves dust far below a second.
    let seconds = (min * 60.0 * 1e6).round() / 1e6;
    let whole = if at_least {
        seconds.floor()
    } else {
        seconds.ceil()
    };
    whole / 60.0
}

fn said(x: f64, unit: &str) -> String {
    if unit == MINUTES {
        hours((x * 60.0).round())
    } else {
        format!("{} {unit}", number(x, places(x)))
    }
}

/// Whole seconds as hours, minutes and seconds.
fn hours(seconds: f64) -> String {
    let (whole, rest) = ((seconds / 60.0).floor(), seconds % 60.0);
    let (h, m) = ((whole / 60.0).floor(), whole % 60.0);
    let parts: Vec<String> = [(h, "h"), (m, "min"), (rest, "s")]
        .iter()
        .filter(|(n, _)| *n > 0.0)
        .map(|(n, unit)| format!("{} {unit}", number(*n, 0)))
        .collect();
    if parts.is_empty() {
        "0 min".to_owned()
    } else {
        parts.join(" ")
    }
}

fn places(x: f64) -> u32 {
    let whole = |y: f64| (y - y.round()).abs() < 1e-9;
    match (whole(x), whole(x * 10.0)) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    }
}

fn place(judged: &Judged) -> String {
    rules_of(judged.place, judged.state, judged.place_named)
}

/// Whose rules were asked, and whether anybody said so.
pub(crate) fn rules_of(place: RuleSet, state: Option<State>, place_named: bool) -> String {
    let named = if place_named {
        ""
    } else {
        "; none was named: --place canada, england or eu for another"
    };
    let place = match place {
        RuleSet::Us => "the United States",
        RuleSet::Canada => "Canada",
        RuleSet::England => "England",
        RuleSet::Eu => "the European Union",
    };
    let state = state.map_or_else(String::new, |s| format!(", {}", s.word()));
    line("rules of", &format!("{place}{state}{named}"))
}

/// What was read, and what was noticed while reading.
fn file(judged: &Judged) -> String {
    let log = &judged.log;
    let channels: Vec<String> = log
        .history
        .channels
        .iter()
        .map(|c| {
            let read = c.readings.iter().filter(|r| r.value.is_some()).count();
            format!("{} ({read} readings)", c.name)
        })
        .collect();
    let span = log.span().map_or_else(String::new, |(from, to)| {
        format!("; {} to {}", log.clock(from), log.clock(to))
    });
    let mut text = String::new();
    if let Some(gap) = judged.gap {
        text.push_str(&line(
            "gap",
            &format!(
                "up to {gap} between two readings counts as watched, because --gap says so; the house allows {} min, \
                 and {} min where a hold is counted",
                number(GAP_MIN, 0),
                number(HOLD_GAP_MIN, 0)
            ),
        ));
    }
    text.push_str(&line(
        "file",
        &format!("{}: {}{span}", log.name, channels.join(", ")),
    ));
    if log.one_clock {
        text.push_str(&line(
            "clock",
            "no zone was named: stamps without an offset of their own are taken as one clock that nobody changed; name \
             --zone if summer time began or ended in between",
        ));
    }
    for remark in log.remarks.iter().take(MOST_REMARKS) {
        text.push_str(&line("noticed", &remark.to_string()));
    }
    if log.remarks.len() > MOST_REMARKS {
        let more = log.remarks.len() - MOST_REMARKS;
        text.push_str(&line(
            "noticed",
            &format!("{more} more; --json has them all"),
        ));
    }
    text
}

fn line(label: &str, body: &str) -> String {
    wrapped(&format!("{label:<LABEL$}"), body)
}
