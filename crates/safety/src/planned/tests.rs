//! A plan can break and never show; it asks by the rows a history is judged by.

use kitchen::recipe::{Product, ProductClass};
use kitchen::site::RuleSet;
use units::Elapsed;

use super::*;
use crate::judgement::Holds;
use crate::verdict::Verdict;

fn char_fish(reduced_oxygen: bool) -> Product {
    Product {
        class: ProductClass::SmokedFish,
        species: None,
        reduced_oxygen,
    }
}

#[test]
fn a_mean_above_the_limit_is_not_shown() {
    let of = |mean| water_phase_salt(RuleSet::Us, &char_fish(true), mean).unwrap();
    assert_eq!(of(Some(3.91)).verdict, Verdict::NotShown);
    assert_eq!(of(Some(3.5)).verdict, Verdict::NotShown);
    assert_eq!(of(Some(3.49)).verdict, Verdict::Broken);
    assert_eq!(of(None).verdict, Verdict::NotShown);
}

#[test]
fn a_states_rule_says_so() {
    let j = water_phase_salt(RuleSet::Us, &char_fish(false), Some(3.0)).unwrap();
    assert_eq!(j.holds, Holds::AsGuidance);
    assert!(
        j.next.contains("a rule of Maine, guidance elsewhere"),
        "{}",
        j.next
    );
    let j = fish_core(RuleSet::England, &char_fish(false), 63.0, 30.0).unwrap();
    assert_eq!(j.holds, Holds::StandIn);
    assert!(
        j.next
            .contains("no rule of england is known here; stand-in: that of Michigan"),
        "{}",
        j.next
    );
}

#[test]
fn a_planned_chill_can_break_but_never_show() {
    let of = |min| cooling(RuleSet::Us, Elapsed::from_minutes(min).unwrap()).verdict;
    assert_eq!(of(90.0), Verdict::NotShown);
    assert_eq!(of(360.0), Verdict::NotShown);
    assert_eq!(of(361.0), Verdict::Broken);
}

/// The figures a plan was judged by before the rows carried them: none has moved but the core of smoked fish
/// (62.8 → 63 °C, as the judge has it) and the core of meat (68 °C 15 s → 68.3 °C 17 s).
#[test]
fn the_figures_of_the_plan_are_those_of_the_rows() {
    for (place, figures) in [
        (RuleSet::Us, [57.0, 21.0, 120.0, 5.0, 360.0, 5.0]),
        (RuleSet::Canada, [60.0, 20.0, 120.0, 4.0, 360.0, 4.0]),
        (RuleSet::England, [63.0, 8.0, 90.0, 8.0, 90.0, 8.0]),
        (RuleSet::Eu, [63.0, 8.0, 90.0, 8.0, 90.0, 8.0]),
    ] {
        let r = cooling_rule(place).unwrap();
        let (cold, _) = cold_hold(place).unwrap();
        assert_eq!(
            [
                r.from_c,
                r.first_c,
                r.first_min,
                r.last_c,
                r.total_min,
                cold
            ],
            figures,
            "{place:?}"
        );
    }
}

#[test]
fn cores_by_the_rows_of_the_judge() {
    let fish = |c, min| {
        fish_core(RuleSet::Us, &char_fish(false), c, min)
            .unwrap()
            .verdict
    };
    assert_eq!(fish(63.0, 30.0), Verdict::NotShown);
    assert_eq!(fish(62.9, 30.0), Verdict::Broken);
    assert_eq!(fish(63.0, 29.0), Verdict::Broken);
    let meat = |c, min| {
        meat_core(RuleSet::Us, ProductClass::PumpedMeat, c, min)
            .unwrap()
            .verdict
    };
    for (c, min, verdict) in [
        (62.8, 3.0, Verdict::NotShown),
        (62.7, 10.0, Verdict::Broken),
        (62.8, 2.9, Verdict::Broken),
        (65.6, 1.0, Verdict::NotShown),
        (68.4, 17.0 / 60.0, Verdict::NotShown),
        (68.4, 16.0 / 60.0, Verdict::Broken),
        (70.0, 0.0, Verdict::NotShown),
    ] {
        assert_eq!(meat(c, min), verdict, "{c} {min}");
    }
    assert!(meat_core(RuleSet::Us, ProductClass::ColdPickle, 70.0, 1.0).is_none());
}

#[test]
fn day_seven_is_the_last() {
    let us = |days, planned| date_mark(RuleSet::Us, ProductClass::ReadyCold, days, planned);
    assert_eq!(us(7, 7).verdict, Verdict::NotShown);
    assert_eq!(us(9, 8).verdict, Verdict::Broken);
    assert_eq!(us(3, 4).verdict, Verdict::Broken);
    // A house value alone shows nothing.
    let eu = date_mark(RuleSet::Eu, ProductClass::ReadyCold, 3, 2);
    assert_eq!(eu.verdict, Verdict::NotShown);
}

#[test]
fn curing_without_a_plan_is_broken() {
    let of = |class, number| variance(RuleSet::Us, class, false, number);
    let dry = ProductClass::DryCuredMeat;
    assert_eq!(of(dry, None).unwrap().verdict, Verdict::Broken);
    assert_eq!(of(dry, Some("7")).unwrap().verdict, Verdict::NotShown);
    assert!(of(ProductClass::ColdPickle, None).is_none());
}

#[test]
fn what_only_paper_can_show_is_never_shown() {
    for (_, place) in RuleSet::ALL {
        for j in [
            parasites(*place),
            kill_step(*place, None),
            pickle_ph(*place, Some(1.3)),
            fish_core_missing(*place),
            uncooled(*place, "smoke"),
        ] {
            assert_eq!(j.verdict, Verdict::NotShown, "{}", j.rule);
            assert!(!j.next.is_empty() && !j.place.contains("rule "), "{j:?}");
        }
    }
    let eu = parasites(RuleSet::Eu);
    assert!(eu.asks.contains("24 h"), "{}", eu.asks);
}
