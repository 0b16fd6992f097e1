//! What only paper, a letter or a meter can show: nothing is computed, and nothing is shown.

use kitchen::recipe::ProductClass;
use kitchen::site::RuleSet;

use super::{or_refused, row};
use crate::judge::figure::Row;
use crate::judge::{Refusal, Terms, freezing_asks, freezing_rows};
use crate::judgement::Judgement;
use crate::verdict::Verdict;

/// A rule that only evidence outside the plan can show.
fn needs_evidence(
    rule: &'static str,
    row: &Row,
    asks: &str,
    place: &str,
    next: String,
) -> Judgement {
    Judgement {
        holds: row.holds,
        ..Judgement::not_shown(rule, asks, place, row.source, row.cautioned(next))
    }
}

/// Fish that is eaten without having been heated: the ways of freezing of the place, or a letter.
///
/// # Source
/// The rows of [`judge::freeze_parasites`](crate::judge::freeze_parasites).
#[must_use]
pub fn parasites(place: RuleSet) -> Judgement {
    let judged = freezing_rows(&Terms::of(place)).and_then(|rows| {
        let first = rows.first().ok_or_else(|| Refusal::Row {
            id: "parasite".to_owned(),
            what: "row",
        })?;
        Ok(needs_evidence(
            "parasites",
            first,
            &format!(
                "freezing at {}, unless the species and its feed are exempt",
                freezing_asks(&rows)?
            ),
            "cured or cold-smoked only; salt and cold smoke kill none",
            "the supplier's letter on freezing or on pellet feed, with the lot".to_owned(),
        ))
    });
    or_refused("parasites", judged)
}

/// Cured meat that is eaten without having been heated.
///
/// # Source
/// `kill_step.raw_cured` (common practice, a rule of this house).
#[must_use]
pub fn kill_step(place: RuleSet, plan_number: Option<&str>) -> Judgement {
    let next = plan_number.map_or_else(
        || "no service, no sale, no tasting: there is no plan".to_owned(),
        |n| format!("no service and no sale; demonstration tasting only as plan {n} allows it; not for pregnant, old, young or ill guests"),
    );
    let judged = row("kill_step.raw_cured", place).map(|row| {
        needs_evidence(
            "kill-step",
            &row,
            "a proved kill step before service or sale",
            "cured and dried only: nothing in this recipe kills what is on raw meat",
            next,
        )
    });
    or_refused("kill-step", judged)
}

/// A pickle kept cold: a meter releases it, never a computation.
///
/// # Source
/// `acid.ph` (read) and `acid.margin` (second-hand).
#[must_use]
pub fn pickle_ph(place: RuleSet, acid_pct: Option<f64>) -> Judgement {
    or_refused("pickle-ph", pickled(place, acid_pct))
}

fn pickled(place: RuleSet, acid_pct: Option<f64>) -> Result<Judgement, Refusal> {
    let acid = acid_pct.map_or_else(
        || "acid not known".to_owned(),
        |a| format!("acid {a:.2} % of all once even, by mass balance"),
    );
    let legal = row("acid.ph", place)?;
    let target = row("acid.margin", place)?.value()?;
    Ok(Judgement {
        limit: Some(target),
        unit: "pH",
        base: "solids and liquid blended, once even".to_owned(),
        ..needs_evidence(
            "pickle-ph",
            &legal,
            &format!(
                "pH at most {target} (house target), never above {}, by a checked meter",
                legal.value()?
            ),
            &format!("no reading; {acid}"),
            format!(
                "read at 24 h with a meter checked in buffers; above {target} add vinegar and read again; a fridge pickle, not shelf-stable"
            ),
        )
    })
}

/// Whether the site's variance and plan are named for curing, smoking to preserve, or packing without oxygen.
///
/// # Source
/// `variance.triggers` (read).
#[must_use]
pub fn variance(
    place: RuleSet,
    class: ProductClass,
    reduced_oxygen: bool,
    number: Option<&str>,
) -> Option<Judgement> {
    let asked = reduced_oxygen
        || matches!(
            class,
            ProductClass::SmokedFish
                | ProductClass::DryCuredMeat
                | ProductClass::ImmersedMeat
                | ProductClass::PumpedMeat
        );
    if place != RuleSet::Us || !asked {
        return None;
    }
    let judged = row("variance.triggers", place).map(|row| Judgement {
        // A number on file is a claim on paper; the authority's letter is the evidence.
        verdict: if number.is_some() {
            Verdict::NotShown
        } else {
            Verdict::Broken
        },
        ..needs_evidence(
            "variance",
            &row,
            "an approved variance and plan for curing and smoking",
            &number.map_or_else(
                || "the site names no plan number".to_owned(),
                |n| format!("the site names plan {n}; the letter itself was not seen"),
            ),
            number.map_or_else(
                || "ask the authority for a variance before curing".to_owned(),
                |_| "keep the letter with the batch papers".to_owned(),
            ),
        )
    });
    Some(or_refused("variance", judged))
}
