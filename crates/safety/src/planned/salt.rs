//! Planned water-phase salt of smoked fish: a mean by arithmetic, which can break a limit and never show it.

use kitchen::recipe::{Product, ProductClass};
use kitchen::site::RuleSet;

use super::{or_refused, row};
use crate::judge::Refusal;
use crate::judgement::{Judgement, Side};
use crate::verdict::Verdict;

/// Mean water-phase salt of smoked fish against the limit for its pack. A mean is never a core, so
/// a mean above the limit is *not shown*; a mean below it is *broken*.
///
/// # Source
/// `smoked_fish.wps.rop` and `.air` (a state's law, read; guidance elsewhere in the US): 3.5 % without oxygen, 2.5 %
/// packed in air, loin muscle.
#[must_use]
pub fn water_phase_salt(
    place: RuleSet,
    product: &Product,
    mean_pct: Option<f64>,
) -> Option<Judgement> {
    (product.class == ProductClass::SmokedFish).then(|| {
        or_refused(
            "water-phase-salt",
            salted(place, product.reduced_oxygen, mean_pct),
        )
    })
}

fn salted(
    place: RuleSet,
    reduced_oxygen: bool,
    mean_pct: Option<f64>,
) -> Result<Judgement, Refusal> {
    let air = row("smoked_fish.wps.air", place)?;
    let rop = row("smoked_fish.wps.rop", place)?;
    let without = rop.value()?;
    let row = if reduced_oxygen { rop } else { air };
    let limit = row.value()?;
    let margin = mean_pct.map(|m| Side::AtLeast.margin(m, limit));
    let (verdict, next) = match margin {
        None => (
            Verdict::NotShown,
            "the salt kept is not stated: have a finished piece analysed".to_owned(),
        ),
        Some(m) if m < 0.0 => (
            Verdict::Broken,
            "more salt, a longer cure, or a drier finish; then compute again".to_owned(),
        ),
        Some(_) if reduced_oxygen => (
            Verdict::NotShown,
            "a mean is not the thickest place: analyse the loin before anything is packed without oxygen".to_owned(),
        ),
        Some(_) => (
            Verdict::NotShown,
            format!("a mean is not the thickest place; keep it air-exposed and ≤ 5 °C; no vacuum claim (that asks {without} % at the loin)"),
        ),
    };
    Ok(Judgement {
        rule: "water-phase-salt",
        asks: format!(
            "water-phase salt ≥ {limit} % in the loin, {}",
            if reduced_oxygen {
                "packed without oxygen"
            } else {
                "packed in air"
            }
        ),
        verdict,
        value: mean_pct,
        limit: Some(limit),
        unit: "%",
        margin,
        base: "of salt and water together, mean of the lot".to_owned(),
        place: "mean of the whole lot, added salt only; not the core".to_owned(),
        evidence: Vec::new(),
        source: row.source,
        holds: row.holds,
        next: row.cautioned(next),
    })
}
