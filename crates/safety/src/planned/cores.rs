//! Planned cores: what a programme aims at, which only a probe can show.

use kitchen::recipe::{Product, ProductClass};
use kitchen::site::RuleSet;

use super::{or_refused, row};
use crate::judge::{Refusal, nonintact_holds};
use crate::judgement::Judgement;
use crate::verdict::Verdict;

/// Hot-smoke core and hold of fish: only a probe can show it.
///
/// # Source
/// `smoked_fish.hot.core` (read): 145 °F for 30 continuous minutes in the coldest part of the largest fish, read as whole
/// degrees Celsius here as in the judge: 63 °C.
#[must_use]
pub fn fish_core(
    place: RuleSet,
    product: &Product,
    planned_core_c: f64,
    planned_hold_min: f64,
) -> Option<Judgement> {
    (product.class == ProductClass::SmokedFish)
        .then(|| or_refused("fish-core", smoked(place, planned_core_c, planned_hold_min)))
}

fn smoked(place: RuleSet, core_c: f64, hold_min: f64) -> Result<Judgement, Refusal> {
    let row = row("smoked_fish.hot.core", place)?;
    let (limit_c, least_min) = (row.limit_c()?, row.number("hold_min")?);
    let margin = core_c - limit_c;
    Ok(Judgement {
        rule: "fish-core",
        asks: asks(limit_c, least_min),
        verdict: if margin < 0.0 || hold_min < least_min {
            Verdict::Broken
        } else {
            Verdict::NotShown
        },
        value: Some(core_c),
        limit: Some(limit_c),
        unit: "°C",
        margin: Some(margin),
        base: "core the programme aims at".to_owned(),
        place: format!("programme aims at {core_c} °C held {hold_min} min; no reading yet"),
        evidence: Vec::new(),
        source: row.source,
        holds: row.holds,
        next: row.cautioned(
            "three probes, the coldest decides; a dip starts the 30 min anew".to_owned(),
        ),
    })
}

fn asks(limit_c: f64, least_min: f64) -> String {
    format!(
        "core ≥ {limit_c} °C (145 °F) for {least_min} min without a break, coldest part of the largest fish"
    )
}

/// Fish hot-smoked without a core named.
#[must_use]
pub fn fish_core_missing(place: RuleSet) -> Judgement {
    let judged = row("smoked_fish.hot.core", place).and_then(|row| {
        Ok(Judgement {
            holds: row.holds,
            ..Judgement::not_shown(
                "fish-core",
                asks(row.limit_c()?, row.number("hold_min")?),
                "the recipe names no core and no hold",
                row.source,
                row.cautioned("write until = { core = …, hold = … } and probe it".to_owned()),
            )
        })
    });
    or_refused("fish-core", judged)
}

/// Core of cooked meat: only a probe can show it.
///
/// # Source
/// `cook.comminuted_155` (read): meat that was pumped, brined or needled is not intact. The rows of
/// [`judge::cook_nonintact`](crate::judge::cook_nonintact).
#[must_use]
pub fn meat_core(
    place: RuleSet,
    class: ProductClass,
    planned_core_c: f64,
    planned_hold_min: f64,
) -> Option<Judgement> {
    matches!(
        class,
        ProductClass::ImmersedMeat | ProductClass::PumpedMeat | ProductClass::DryCuredMeat
    )
    .then(|| or_refused("meat-core", cooked(place, planned_core_c, planned_hold_min)))
}

fn cooked(place: RuleSet, core_c: f64, hold_min: f64) -> Result<Judgement, Refusal> {
    let row = row("cook.comminuted_155", place)?;
    let holds = nonintact_holds(&row)?;
    let least_c = holds
        .iter()
        .map(|h| h.at_c)
        .reduce(f64::min)
        .ok_or_else(|| row.missing("equivalents"))?;
    let enough = holds
        .iter()
        .any(|h| core_c >= h.at_c && hold_min * 60.0 >= h.for_s);
    let words: Vec<String> = holds.iter().map(ToString::to_string).collect();
    Ok(Judgement {
        rule: "meat-core",
        asks: format!(
            "meat that was pumped, brined or needled: {}",
            words.join(", or ")
        ),
        verdict: if enough {
            Verdict::NotShown
        } else {
            Verdict::Broken
        },
        value: Some(core_c),
        limit: Some((least_c * 10.0).round() / 10.0),
        unit: "°C",
        margin: Some(core_c - least_c),
        base: "core the programme aims at".to_owned(),
        place: format!("programme aims at {core_c} °C held {hold_min} min; no reading yet"),
        evidence: Vec::new(),
        source: row.source,
        holds: row.holds,
        next: row.cautioned("probe the thickest piece in its middle".to_owned()),
    })
}
