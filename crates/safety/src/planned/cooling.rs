//! Planned chills and planned holds in the cold.

use kitchen::site::RuleSet;
use sources::Source;
use units::Elapsed;

use super::{BASE, or_refused, row};
use crate::judge::{Refusal, Terms, cold_rows, cooling_rows};
use crate::judgement::{Holds, Judgement, by_plan};
use crate::verdict::Verdict;

/// Longest that food stands under time control and not under the cold hold, hours; the row is `hold.tphc.4h`.
const TIME_CONTROL: &str = "hold.tphc.4h";

/// A cooling rule of one or two stages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolingRule {
    /// °C at which the clock starts.
    pub from_c: f64,
    /// °C to be reached first.
    pub first_c: f64,
    /// Minutes allowed for that.
    pub first_min: f64,
    /// °C to be reached in the end.
    pub last_c: f64,
    /// Minutes allowed in total.
    pub total_min: f64,
    /// Source.
    pub source: &'static Source,
    /// Whether it is a rule of the place.
    pub holds: Holds,
}

/// The cooling rule of a place: the rows that [`judge::cooling`](crate::judge::cooling) judges by.
///
/// # Errors
/// Rules that do not hold together.
pub fn cooling_rule(place: RuleSet) -> Result<CoolingRule, Refusal> {
    let rows = cooling_rows(&Terms::of(place))?;
    let (first, last) = match rows.as_slice() {
        [first, .., last] => (first, last),
        [only] => (only, only),
        [] => {
            return Err(Refusal::Row {
                id: "cooling".to_owned(),
                what: "row",
            });
        }
    };
    Ok(CoolingRule {
        from_c: last.number("from_c")?,
        first_c: first.limit_c()?,
        first_min: first.number("within_h")? * 60.0,
        last_c: last.limit_c()?,
        total_min: last.number("within_h")? * 60.0,
        source: last.source,
        holds: last.holds,
    })
}

/// Cold holding ceiling of a place, °C, with its source.
///
/// # Errors
/// As [`cooling_rule`].
pub fn cold_hold(place: RuleSet) -> Result<(f64, &'static Source), Refusal> {
    let row = cold_rows(&Terms::of(place))?;
    Ok((row.limit_c()?, row.source))
}

/// Cooling as planned: the time the plan leaves between the heat and the end of the chill.
#[must_use]
pub fn cooling(place: RuleSet, planned: Elapsed) -> Judgement {
    or_refused("cooling", cooled(place, planned))
}

fn cooled(place: RuleSet, planned: Elapsed) -> Result<Judgement, Refusal> {
    let rule = cooling_rule(place)?;
    let margin = rule.total_min - planned.minutes();
    Ok(Judgement {
        rule: "cooling",
        asks: if rule.first_c > rule.last_c {
            format!(
                "{} → {} °C in {}, → {} °C in {} in all",
                rule.from_c,
                rule.first_c,
                plain(rule.first_min),
                rule.last_c,
                plain(rule.total_min)
            )
        } else {
            format!(
                "{} → {} °C in {}",
                rule.from_c,
                rule.last_c,
                plain(rule.total_min)
            )
        },
        verdict: by_plan(margin),
        value: Some(planned.minutes()),
        limit: Some(rule.total_min),
        unit: "min",
        margin: Some(margin),
        base: "from heat off to the end of the chill".to_owned(),
        place: "planned time from heat off to the end of the chill; no reading yet".to_owned(),
        evidence: Vec::new(),
        source: rule.source,
        holds: rule.holds,
        next: last_row(place)?.cautioned("log the thickest piece until it is cold".to_owned()),
    })
}

fn last_row(place: RuleSet) -> Result<crate::judge::figure::Row, Refusal> {
    cooling_rows(&Terms::of(place))?
        .pop()
        .ok_or_else(|| Refusal::Row {
            id: "cooling".to_owned(),
            what: "row",
        })
}

/// Something hot that is to be held cold, with no chill planned after it.
#[must_use]
pub fn uncooled(place: RuleSet, step: &str) -> Judgement {
    let judged = cooling_rule(place).map(|rule| Judgement {
        limit: Some(rule.total_min),
        unit: "min",
        base: BASE.to_owned(),
        holds: rule.holds,
        ..Judgement::not_shown(
            "cooling",
            format!("from {} °C to {} °C in time", rule.from_c, rule.last_c),
            format!("{step} heats it, and no chill is planned after it"),
            rule.source,
            "add the chill as a step: do = \"chill\"",
        )
    });
    or_refused("cooling", judged)
}

fn plain(minutes: f64) -> String {
    Elapsed::from_minutes(minutes).map_or_else(|_| format!("{minutes} min"), |e| e.to_string())
}

/// A planned hold warmer than the place's cold hold, for longer than time alone allows.
#[must_use]
pub fn held_cold(place: RuleSet, ceiling_c: f64, longest: Elapsed) -> Option<Judgement> {
    match held(place, ceiling_c, longest) {
        Ok(judged) => judged,
        Err(refusal) => Some(or_refused("cold-hold", Err(refusal))),
    }
}

fn held(place: RuleSet, ceiling_c: f64, longest: Elapsed) -> Result<Option<Judgement>, Refusal> {
    let row_here = cold_rows(&Terms::of(place))?;
    let limit = row_here.limit_c()?;
    // What stands no longer than four hours is under time control, another rule.
    let by_time_h = row(TIME_CONTROL, place)?.value()?;
    if ceiling_c <= limit || longest.hours() <= by_time_h {
        return Ok(None);
    }
    Ok(Some(Judgement {
        rule: "cold-hold",
        asks: format!("held at {limit} °C or below"),
        verdict: Verdict::Broken,
        value: Some(ceiling_c),
        limit: Some(limit),
        unit: "°C",
        margin: Some(limit - ceiling_c),
        base: BASE.to_owned(),
        place: format!("the recipe holds it at up to {ceiling_c} °C for up to {longest}"),
        evidence: Vec::new(),
        source: row_here.source,
        holds: row_here.holds,
        next: row_here.cautioned("hold it colder, or for a shorter time".to_owned()),
    }))
}
