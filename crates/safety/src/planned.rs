//! Judging a plan: what the plan itself can break, and what only readings can show.

use kitchen::recipe::{Product, ProductClass};
use kitchen::site::RuleSet;
use sources::{Source, list};
use units::Elapsed;

use crate::judgement::{Holds, Judgement, Side, by_plan};
use crate::verdict::Verdict;

/// What a planned value is counted on.
const BASE: &str = "as planned";

/// A two-stage cooling rule.
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
}

/// The cooling rule of a place.
///
/// # Source
/// US: [`list::FOOD_CODE_COOLING`] (read). Canada: [`list::CA_TEMPERATURE`], England:
/// [`list::UK_TEMPERATURE`] (both from memory); the EU sets no figure, so the strictest of the three is used and
/// marked from memory.
#[must_use]
pub const fn cooling_rule(place: RuleSet) -> CoolingRule {
    match place {
        RuleSet::Us => CoolingRule {
            from_c: 57.0,
            first_c: 21.0,
            first_min: 120.0,
            last_c: 5.0,
            total_min: 360.0,
            source: &list::FOOD_CODE_COOLING,
        },
        RuleSet::Canada => CoolingRule {
            from_c: 60.0,
            first_c: 20.0,
            first_min: 120.0,
            last_c: 4.0,
            total_min: 360.0,
            source: &list::CA_TEMPERATURE,
        },
        RuleSet::England | RuleSet::Eu => CoolingRule {
            from_c: 63.0,
            first_c: 8.0,
            first_min: 90.0,
            last_c: 8.0,
            total_min: 90.0,
            source: &list::UK_TEMPERATURE,
        },
    }
}

/// Cold holding ceiling of a place, °C.
#[must_use]
pub const fn cold_hold(place: RuleSet) -> (f64, &'static Source) {
    match place {
        RuleSet::Us => (5.0, &list::FOOD_CODE_HOLDING),
        RuleSet::Canada => (4.0, &list::CA_TEMPERATURE),
        RuleSet::England | RuleSet::Eu => (8.0, &list::UK_TEMPERATURE),
    }
}

/// Cooling as planned: the time the plan leaves between the heat and the end of the chill.
#[must_use]
pub fn cooling(place: RuleSet, planned: Elapsed) -> Judgement {
    let rule = cooling_rule(place);
    let margin = rule.total_min - planned.minutes();
    Judgement {
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
        place: "planned time from heat off to the end of the chill; no reading yet".to_owned(),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source: rule.source,
        next: "log the thickest piece until it is cold".to_owned(),
    }
}

fn plain(minutes: f64) -> String {
    Elapsed::from_minutes(minutes).map_or_else(|_| format!("{minutes} min"), |e| e.to_string())
}

/// Mean water-phase salt of smoked fish against the limit for its pack. A mean is never a core, so
/// a mean above the limit is *not shown*; a mean below it is *broken* for a pack without oxygen.
///
/// # Source
/// [`list::MAINE_359`] (read): 3.5 % without oxygen, 2.5 % packed in air, loin muscle.
#[must_use]
pub fn water_phase_salt(product: &Product, mean_pct: Option<f64>) -> Option<Judgement> {
    if product.class != ProductClass::SmokedFish {
        return None;
    }
    let limit = if product.reduced_oxygen { 3.5 } else { 2.5 };
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
        Some(_) => (
            Verdict::NotShown,
            if product.reduced_oxygen {
                "a mean is not the thickest place: analyse the loin before anything is packed without oxygen".to_owned()
            } else {
                "a mean is not the thickest place; keep it air-exposed and ≤ 5 °C; no vacuum claim (that asks 3.5 % at the loin)".to_owned()
            },
        ),
    };
    Some(Judgement {
        rule: "water-phase-salt",
        asks: format!(
            "water-phase salt ≥ {limit} % in the loin, {}",
            if product.reduced_oxygen {
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
        place: "mean of the whole lot, added salt only; not the core".to_owned(),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source: &list::MAINE_359,
        next,
    })
}

/// Hot-smoke core and hold of fish: only a probe can show it.
///
/// # Source
/// [`list::MICH_569`] (read): 145 °F (62.8 °C) for 30 continuous minutes in the coldest part of the largest fish.
#[must_use]
pub fn fish_core(
    product: &Product,
    planned_core_c: f64,
    planned_hold_min: f64,
) -> Option<Judgement> {
    if product.class != ProductClass::SmokedFish {
        return None;
    }
    // The rule is written in °F; 145 °F is 62.78 °C and 63 °C meets it.
    let limit_c = (145.0 - 32.0) / 1.8;
    let margin = planned_core_c - limit_c;
    let long_enough = planned_hold_min >= 30.0;
    Some(Judgement {
        rule: "fish-core",
        asks:
            "core ≥ 62.8 °C (145 °F) for 30 min without a break, coldest part of the largest fish"
                .to_owned(),
        verdict: if margin < 0.0 || !long_enough {
            Verdict::Broken
        } else {
            Verdict::NotShown
        },
        value: Some(planned_core_c),
        limit: Some((limit_c * 10.0).round() / 10.0),
        unit: "°C",
        margin: Some(margin),
        place: format!(
            "programme aims at {planned_core_c} °C held {planned_hold_min} min; no reading yet"
        ),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source: &list::MICH_569,
        next: "three probes, the coldest decides; a dip starts the 30 min anew".to_owned(),
    })
}

/// Core of cooked meat: only a probe can show it.
///
/// # Source
/// [`list::FOOD_CODE_COOK`] (read): meat that was pumped, brined or needled is not intact.
#[must_use]
pub fn meat_core(
    class: ProductClass,
    planned_core_c: f64,
    planned_hold_min: f64,
) -> Option<Judgement> {
    if !matches!(
        class,
        ProductClass::ImmersedMeat | ProductClass::PumpedMeat | ProductClass::DryCuredMeat
    ) {
        return None;
    }
    // 63 °C 3 min, 66 °C 1 min, 68 °C 15 s, 70 °C at once.
    let enough = [(63.0, 3.0), (66.0, 1.0), (68.0, 0.25), (70.0, 0.0)]
        .iter()
        .any(|(c, min)| planned_core_c >= *c && planned_hold_min >= *min);
    Some(Judgement {
        rule: "meat-core",
        asks:
            "meat that was pumped, brined or needled: 63 °C 3 min, 66 °C 1 min, 68 °C 15 s or 70 °C"
                .to_owned(),
        verdict: if enough {
            Verdict::NotShown
        } else {
            Verdict::Broken
        },
        value: Some(planned_core_c),
        limit: Some(63.0),
        unit: "°C",
        margin: Some(planned_core_c - 63.0),
        place: format!(
            "programme aims at {planned_core_c} °C held {planned_hold_min} min; no reading yet"
        ),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source: &list::FOOD_CODE_COOK,
        next: "probe the thickest piece in its middle".to_owned(),
    })
}

/// A rule that only evidence outside the plan can show: nothing is computed, and nothing is shown.
fn needs_evidence(
    rule: &'static str,
    asks: &str,
    place: &str,
    source: &'static Source,
    next: &str,
) -> Judgement {
    Judgement {
        rule,
        asks: asks.to_owned(),
        verdict: Verdict::NotShown,
        value: None,
        limit: None,
        unit: "",
        margin: None,
        place: place.to_owned(),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source,
        next: next.to_owned(),
    }
}

/// Fish hot-smoked without a core named.
#[must_use]
pub fn fish_core_missing() -> Judgement {
    needs_evidence(
        "fish-core",
        "core ≥ 62.8 °C (145 °F) for 30 min without a break, coldest part of the largest fish",
        "the recipe names no core and no hold",
        &list::MICH_569,
        "write until = { core = …, hold = … } and probe it",
    )
}

/// Fish that is eaten without having been heated.
#[must_use]
pub fn parasites() -> Judgement {
    needs_evidence(
        "parasites",
        "freezing at −20 °C for 168 h or −35 °C for 15 h, unless the species and its feed are exempt",
        "cured or cold-smoked only; salt and cold smoke kill none",
        &list::FOOD_CODE_PARASITES,
        "the supplier's letter on freezing or on pellet feed, with the lot",
    )
}

/// Cured meat that is eaten without having been heated.
#[must_use]
pub fn kill_step(plan_number: Option<&str>) -> Judgement {
    needs_evidence(
        "kill-step",
        "a proved kill step before service or sale",
        "cured and dried only: nothing in this recipe kills what is on raw meat",
        &list::FOOD_CODE_COOK,
        &plan_number.map_or_else(
            || "no service, no sale, no tasting: there is no plan".to_owned(),
            |n| format!("no service and no sale; demonstration tasting only as plan {n} allows it; not for pregnant, old, young or ill guests"),
        ),
    )
}

/// A pickle kept cold: a meter releases it, never a computation.
#[must_use]
pub fn pickle_ph(acid_pct: Option<f64>) -> Judgement {
    let acid = acid_pct.map_or_else(
        || "acid not known".to_owned(),
        |a| format!("acid {a:.2} % of all once even, by mass balance"),
    );
    let mut j = needs_evidence(
        "pickle-ph",
        "pH at most 4.2 (house target), never above 4.6, by a checked meter",
        &format!("no reading; {acid}"),
        &list::CFR_114,
        "read at 24 h with a meter checked in buffers; above 4.2 add vinegar and read again; a fridge pickle, not shelf-stable",
    );
    j.limit = Some(4.2);
    j.unit = "pH";
    j
}

/// A planned hold warmer than the place's cold hold, for longer than time alone allows.
#[must_use]
pub fn held_cold(place: RuleSet, ceiling_c: f64, longest: Elapsed) -> Option<Judgement> {
    let (limit, source) = cold_hold(place);
    // What stands no longer than four hours is under time control, another rule.
    if ceiling_c <= limit || longest.hours() <= 4.0 {
        return None;
    }
    Some(Judgement {
        rule: "cold-hold",
        asks: format!("held at {limit} °C or below"),
        verdict: Verdict::Broken,
        value: Some(ceiling_c),
        limit: Some(limit),
        unit: "°C",
        margin: Some(limit - ceiling_c),
        place: format!("the recipe holds it at up to {ceiling_c} °C for up to {longest}"),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source,
        next: "hold it colder, or for a shorter time".to_owned(),
    })
}

/// Days a product is to be kept against the date-mark rule.
///
/// # Source
/// US: [`list::FOOD_CODE_DATES`] (read): day 1 is the day made, discard at the end of day 7 at ≤ 5 °C.
#[must_use]
pub fn date_mark(place: RuleSet, class: ProductClass, days: u32, planned_days: u32) -> Judgement {
    // Factory dates and acid pickles have their own rules; 7 days is the rule for what is made and held here.
    let acid = class == ProductClass::ColdPickle;
    let limit: Option<(f64, &Source)> = match place {
        RuleSet::Us if !acid => Some((7.0, &list::FOOD_CODE_DATES)),
        _ => None,
    };
    let house = f64::from(days);
    let planned = f64::from(planned_days);
    // Whose limit decides is whose source is named.
    let (limit, source) = match limit {
        Some((l, s)) if l <= house => (l, s),
        _ => (house, &list::HOUSE),
    };
    let margin = limit - planned;
    Judgement {
        rule: "date-mark",
        asks: format!("eaten by the end of day {limit:.0}, day 1 the day made"),
        verdict: by_plan(margin),
        value: Some(planned),
        limit: Some(limit),
        unit: "d",
        margin: Some(margin),
        place: "day of service counted from the planned day made; holding cold is not yet shown"
            .to_owned(),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source,
        next: "write the date on the tub; freezing stops the count, thawing starts it again"
            .to_owned(),
    }
}

/// Whether the site's variance and plan are named for curing, smoking to preserve, or packing without oxygen.
///
/// # Source
/// [`list::FOOD_CODE_VARIANCE`] (read).
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
    Some(Judgement {
        rule: "variance",
        asks: "an approved variance and plan for curing and smoking".to_owned(),
        // A number on file is a claim on paper; the authority's letter is the evidence.
        verdict: if number.is_some() {
            Verdict::NotShown
        } else {
            Verdict::Broken
        },
        value: None,
        limit: None,
        unit: "",
        margin: None,
        place: number.map_or_else(
            || "the site names no plan number".to_owned(),
            |n| format!("the site names plan {n}; the letter itself was not seen"),
        ),
        base: BASE.to_owned(),
        evidence: Vec::new(),
        holds: Holds::Here,
        source: &list::FOOD_CODE_VARIANCE,
        next: number.map_or_else(
            || "ask the authority for a variance before curing".to_owned(),
            |_| "keep the letter with the batch papers".to_owned(),
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn char_fish(reduced_oxygen: bool) -> Product {
        Product {
            class: ProductClass::SmokedFish,
            species: None,
            reduced_oxygen,
        }
    }

    #[test]
    fn a_mean_above_the_limit_is_not_shown() {
        let j = water_phase_salt(&char_fish(true), Some(3.91)).unwrap();
        assert_eq!(j.verdict, Verdict::NotShown);
        let j = water_phase_salt(&char_fish(true), Some(3.49)).unwrap();
        assert_eq!(j.verdict, Verdict::Broken);
        let j = water_phase_salt(&char_fish(true), None).unwrap();
        assert_eq!(j.verdict, Verdict::NotShown);
    }

    #[test]
    fn a_planned_chill_can_break_but_never_show() {
        let short = cooling(RuleSet::Us, Elapsed::from_minutes(90.0).unwrap());
        assert_eq!(short.verdict, Verdict::NotShown);
        let on = cooling(RuleSet::Us, Elapsed::from_minutes(360.0).unwrap());
        assert_eq!(on.verdict, Verdict::NotShown);
        let long = cooling(RuleSet::Us, Elapsed::from_minutes(361.0).unwrap());
        assert_eq!(long.verdict, Verdict::Broken);
    }

    #[test]
    fn day_seven_is_the_last() {
        assert_eq!(
            date_mark(RuleSet::Us, ProductClass::ReadyCold, 7, 7).verdict,
            Verdict::NotShown
        );
        assert_eq!(
            date_mark(RuleSet::Us, ProductClass::ReadyCold, 9, 8).verdict,
            Verdict::Broken
        );
        assert_eq!(
            date_mark(RuleSet::Us, ProductClass::ReadyCold, 3, 4).verdict,
            Verdict::Broken
        );
        // A house value alone shows nothing.
        assert_eq!(
            date_mark(RuleSet::Eu, ProductClass::ReadyCold, 3, 2).verdict,
            Verdict::NotShown
        );
    }

    #[test]
    fn curing_without_a_plan_is_broken() {
        assert_eq!(
            variance(RuleSet::Us, ProductClass::DryCuredMeat, false, None)
                .unwrap()
                .verdict,
            Verdict::Broken
        );
        assert_eq!(
            variance(RuleSet::Us, ProductClass::DryCuredMeat, false, Some("7"))
                .unwrap()
                .verdict,
            Verdict::NotShown
        );
        assert!(variance(RuleSet::Us, ProductClass::ColdPickle, false, None).is_none());
    }
}
