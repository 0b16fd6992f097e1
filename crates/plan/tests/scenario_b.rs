//! The duck class of the demo book, worked by hand from the book's own numbers: 24 learners, four Tuesdays,
//! a clock change between the second and the last but one. The demo is invented; the sums are ours.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{
    HALF_CENT, at_work_outside, dollars, hours, near, number, ordered, planned, replanned, said,
    shown, stands,
};

const EVENT: &str = "duck-class";
const DUCK: &str = "dry-cured-duck-breast";

#[test]
fn twenty_six_breasts_are_9620_grams_green_and_the_mix_is_made_once() {
    let plan = planned(EVENT);
    let duck = plan.component(DUCK).unwrap();
    // 24 + 2 spare; 400 g × 0.925 = 370 g each; × 26 = 9,620 g.
    near(duck.pieces, 26.0, 0.0);
    near(
        number(&plan, "dry-cured-duck-breast.cure.base_g"),
        9_620.0,
        1e-6,
    );
    near(
        number(&plan, "dry-cured-duck-breast.cure.in_per_piece_g"),
        370.0,
        1e-9,
    );
    // 2.75 + 0.25 + 1.00 + 0.30 + 0.20 + 0.10 = 4.60 % of 9,620 = 442.52; and 2 % more: 451.37.
    near(
        number(&plan, "dry-cured-duck-breast.cure.mix_g"),
        442.52,
        1e-6,
    );
    near(
        number(&plan, "dry-cured-duck-breast.cure.mix_made_g"),
        451.370_4,
        1e-6,
    );
    assert_eq!(shown(&plan, "dry-cured-duck-breast.cure.mix_g"), "442.5 g");
    assert_eq!(
        shown(&plan, "dry-cured-duck-breast.cure.mix_made_g"),
        "451.4 g"
    );
    // 4.60 % of 370 = 17.02 g to dispense on each.
    near(
        number(&plan, "dry-cured-duck-breast.cure.mix_per_piece_g"),
        17.02,
        1e-9,
    );
    for (item, g, each) in [
        ("salt-table", 264.55, 10.175),
        ("curing-salt-1", 24.05, 0.925),
        ("sugar-white", 96.2, 3.70),
        ("black-pepper", 28.86, 1.11),
        ("juniper", 19.24, 0.74),
        ("thyme-dried", 9.62, 0.37),
    ] {
        near(number(&plan, &format!("{DUCK}.cure.{item}")), g, 1e-6);
        near(
            number(&plan, &format!("{DUCK}.cure.{item}.per_piece_g")),
            each,
            1e-9,
        );
    }
    // 0.925 g, half-up to 0.01 g.
    assert_eq!(
        shown(
            &plan,
            "dry-cured-duck-breast.cure.curing-salt-1.per_piece_g"
        ),
        "0.93 g"
    );
}

#[test]
fn nitrite_is_156_ppm_and_total_salt_counts_its_carrier() {
    let plan = planned(EVENT);
    // 0.25 % × 6.25 % = 156.25 ppm of green weight.
    near(
        number(&plan, "dry-cured-duck-breast.cure.nitrite_ppm"),
        156.25,
        1e-9,
    );
    // 2.75 + 0.25 × 0.9375 = 2.984 %.
    near(
        number(&plan, "dry-cured-duck-breast.cure.salt_total_pct"),
        2.984,
        0.000_5,
    );
    let v = plan
        .verdicts
        .iter()
        .find(|v| v.id == "dry-cured-duck-breast.nitrite")
        .unwrap();
    assert_eq!(
        v.judgement.verdict,
        safety::Verdict::NotShown,
        "a limit not read in its own text carries no claim"
    );
    assert!(!plan.is_broken());
}

#[test]
fn the_same_cure_is_broken_by_the_european_rules() {
    let (_, after) = replanned(EVENT, &["site.rules=eu"]);
    // 156.25 × 46.006 ÷ 68.995 (nitrite ion in sodium nitrite) = 104.2 mg/kg, against 80.
    let v = after
        .verdicts
        .iter()
        .find(|v| v.id == "dry-cured-duck-breast.nitrite")
        .unwrap();
    assert_eq!(v.judgement.verdict, safety::Verdict::Broken);
    near(v.judgement.value.unwrap(), 104.2, 0.05);
    near(v.judgement.limit.unwrap(), 80.0, 0.0);
    assert!(after.is_broken());
}

#[test]
fn a_breast_hangs_from_358_9_to_251_2_grams() {
    let plan = planned(EVENT);
    // 370 × 0.97 = 358.9; × 0.70 = 251.23.
    near(
        number(&plan, "dry-cured-duck-breast.hang.in_per_piece_g"),
        358.9,
        1e-6,
    );
    near(
        number(&plan, "dry-cured-duck-breast.hang.out_per_piece_g"),
        251.23,
        1e-6,
    );
    assert_eq!(
        shown(&plan, "dry-cured-duck-breast.hang.out_per_piece_g"),
        "251.2 g"
    );
    // Of 370 g: salt 2.984375 % = 11.042 g ÷ 251.23 = 4.395 %; water 56 % = 207.2 g less the 118.77 g lost
    // in bag and cabinet, plus nothing: the cure's 17.02 g are not in the 358.9; 207.2 − (370 − 358.9) −
    // (358.9 − 251.23) − 17.02 of cure taken up = 71.41 g = 28.42 %. 11.042 ÷ (11.042 + 71.41) = 13.39 %.
    near(
        number(&plan, "dry-cured-duck-breast.lot.salt_pct"),
        4.40,
        0.005,
    );
    near(
        number(&plan, "dry-cured-duck-breast.lot.water_pct"),
        28.4,
        0.05,
    );
    near(
        number(&plan, "dry-cured-duck-breast.lot.water_phase_salt_pct"),
        13.4,
        0.05,
    );
}

#[test]
fn the_pickles_come_to_the_acid_salt_and_sugar_worked_out() {
    let json = plan::json::plan(&planned(EVENT));
    // Half raw, half liquor: acid 42 × 6 % ÷ 2 = 1.26; 60 × 4.3 % ÷ 2 = 1.29; 55 × 5 % ÷ 2 = 1.375.
    for (id, raw, acid, salt, sugar) in [
        ("cucumber-pickle", 4_239.1, 1.26, 1.50, 11.0),
        ("daikon-pickle", 4_756.1, 1.29, 1.50, 7.5),
        ("cauliflower-pickle", 6_500.0, 1.375, 2.50, 2.5),
    ] {
        let c = json["components"]
            .as_array()
            .unwrap()
            .iter()
            .find(|c| c["id"] == id)
            .unwrap();
        // 13 sets × 300 g = 3,900 g; ÷ 0.92, 0.82, 0.60.
        near(c["made_g"].as_f64().unwrap(), 3_900.0, 1e-6);
        near(c["raw_need_g"].as_f64().unwrap(), raw, 0.05);
        near(c["lot"]["acetic_pct"].as_f64().unwrap(), acid, 0.000_5);
        near(c["lot"]["salt_pct"].as_f64().unwrap(), salt, 0.000_5);
        near(c["lot"]["sugar_pct"].as_f64().unwrap(), sugar, 0.000_5);
    }
}

#[test]
fn every_order_line_is_needed_and_bought_as_worked_out() {
    let plan = planned(EVENT);
    ordered(&plan, "duck-breast-raw", 13.0, 13.0, 249.60, 249.60); // 26 × 400 g ÷ 800; × 19.20
    ordered(&plan, "cucumber", 4_239.1, 4_300.0, 16.53, 16.77); // by 100 g; × 3.90
    ordered(&plan, "daikon", 4_756.1, 4_800.0, 15.22, 15.36); // × 3.20
    ordered(&plan, "cauliflower", 6_500.0, 6_500.0, 23.40, 23.40); // × 3.60, no gram more than needed
    ordered(&plan, "vinegar-wine-white", 1_638.0, 1_638.0, 6.72, 6.72);
    ordered(&plan, "vinegar-rice", 2_340.0, 2_340.0, 12.17, 12.17);
    ordered(&plan, "vinegar-white", 2_145.0, 2_145.0, 3.00, 3.00);
    ordered(&plan, "pickle-jar", 39.0, 39.0, 44.85, 44.85);
    ordered(&plan, "cure-bag-and-net", 26.0, 26.0, 11.70, 11.70);
    ordered(&plan, "salt-table", 698.8, 698.8, 0.77, 0.77); // 264.55 × 1.02 + 117 + 117 + 195
    ordered(&plan, "sugar-white", 1_736.1, 1_736.1, 2.78, 2.78); // 96.2 × 1.02 + 858 + 585 + 195
    ordered(&plan, "curing-salt-1", 24.5, 24.5, 0.22, 0.22); // 24.05 × 1.02
    ordered(&plan, "black-pepper", 29.4, 29.4, 0.71, 0.71);
    ordered(&plan, "juniper", 19.6, 19.6, 0.90, 0.90);
    ordered(&plan, "thyme-dried", 9.8, 9.8, 0.37, 0.37);
    assert_eq!(plan.order.len(), 15);
    // 249.60 + 55.53 + 21.89 + 2.20 + 0.77 + 2.78 + 44.85 + 11.70 = 389.32; ÷ 24 = 16.22.
    near(dollars(plan.cost.food_bought), 389.32, HALF_CENT);
    near(dollars(plan.cost.per_cover_bought()), 16.22, HALF_CENT);
}

#[test]
fn it_is_over_the_budget_and_one_breast_for_a_pair_is_not() {
    let (before, after) = replanned(EVENT, &["dry-cured-duck-breast.per=pair"]);
    // 24 × $14 = 336.00; 389.32 − 336.00 = 53.32.
    assert!(
        said(&before).contains("over budget by $53.32"),
        "{}",
        said(&before)
    );
    assert!(
        said(&before).contains("dry-cured-duck-breast.per=pair"),
        "{}",
        said(&before)
    );
    let cost = |p: &plan::Plan, item: &str| {
        dollars(p.order.iter().find(|l| l.item == item).unwrap().cost_bought)
    };
    // 12 + 2 = 14 breasts, 7 packs: −6 × 19.20 = −115.20; 12 bags fewer: −5.40.
    let duck = cost(&after, "duck-breast-raw") - cost(&before, "duck-breast-raw");
    let bags = cost(&after, "cure-bag-and-net") - cost(&before, "cure-bag-and-net");
    near(duck, -115.20, 1e-9);
    near(bags, -5.40, 1e-9);
    // 389.32 − 115.20 = 274.12 ÷ 24 = 11.42; − 5.40 = 268.72 ÷ 24 = 11.20.
    let total = dollars(before.cost.food_bought);
    near((total + duck) / 24.0, 11.42, HALF_CENT);
    near((total + duck + bags) / 24.0, 11.20, HALF_CENT);
    // The plan also buys the cure of 12 breasts less: 4,440 g × 1.02 × (2.75 % × 1.10 + 0.25 % × 9 + 1 % × 1.60 +
    // 0.3 % × 24 + 0.2 % × 46 + 0.1 % × 38) a kg = $1.23; 267.49 ÷ 24 = 11.145.
    let cure = 4.440
        * 1.02
        * (0.0275 * 1.10 + 0.0025 * 9.0 + 0.01 * 1.60 + 0.003 * 24.0 + 0.002 * 46.0 + 0.001 * 38.0);
    near(
        dollars(after.cost.food_bought),
        total + duck + bags - cure,
        1e-6,
    );
    assert!(!said(&after).contains("over budget"), "{}", said(&after));
}

#[test]
fn fourteen_days_over_the_clock_change_are_335_hours_and_the_plan_says_so() {
    let plan = planned(EVENT);
    let hang = plan
        .timeline
        .waits
        .iter()
        .find(|w| w.from == format!("{DUCK}.hang") && w.to == format!("{DUCK}.taste"))
        .unwrap();
    // 03-09 11:00 EST to 03-23 11:00 EDT: 14 × 24 − 1.
    assert_eq!(hang.minutes, 335 * 60);
    assert_eq!(hang.clock_change, 60);
    assert!(hang.min <= hang.minutes && hang.minutes <= hang.max);
    // No wait is given a clock change that was none: the cure is out before it.
    let cure = plan
        .timeline
        .waits
        .iter()
        .find(|w| w.from == format!("{DUCK}.cure"))
        .unwrap();
    assert_eq!(
        (cure.minutes, cure.clock_change),
        (6 * 24 * 60 + 22 * 60 + 30, 0)
    );
}

#[test]
fn the_sessions_are_tuesdays_eight_to_twelve() {
    let plan = planned(EVENT);
    assert_eq!(plan.timeline.status, plan::timeline::Status::Proved);
    stands(
        &plan,
        "dry-cured-duck-breast.cure",
        "2027-03-02T09:30",
        "2027-03-02T10:00",
    );
    stands(
        &plan,
        "dry-cured-duck-breast.rinse",
        "2027-03-09T08:30",
        "2027-03-09T09:30",
    );
    stands(
        &plan,
        "dry-cured-duck-breast.hang",
        "2027-03-09T10:30",
        "2027-03-09T11:00",
    );
    stands(
        &plan,
        "dry-cured-duck-breast.slice",
        "2027-03-23T09:00",
        "2027-03-23T11:00",
    );
    // Cure in ends 03-02 10:00; 5 d later.
    assert_eq!(
        hours(&plan, "dry-cured-duck-breast.rinse").earliest,
        "2027-03-07T10:00"
    );
    assert_eq!(
        at_work_outside(&plan, "08:00", "12:00"),
        Vec::<String>::new()
    );
    let days: std::collections::BTreeSet<String> = plan::json::plan(&plan)["schedule"]["tasks"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|t| !t["people"].as_array().unwrap().is_empty())
        .map(|t| t["start"].as_str().unwrap()[..10].to_owned())
        .collect();
    // Cure, hang, weigh, taste.
    assert_eq!(
        days.into_iter().collect::<Vec<_>>(),
        ["2027-03-02", "2027-03-09", "2027-03-16", "2027-03-23"]
    );
}
