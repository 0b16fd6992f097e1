//! The harvest supper of the demo book, worked by hand from the book's own numbers: sixty paid covers of
//! a char starter, Thu 2027-10-07 18:30. The demo is invented; the sums beside each value are ours.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{
    HALF_CENT, at_work_outside, dollars, hours, make, near, number, ordered, planned, replanned,
    said, shown, stands, work,
};

const EVENT: &str = "harvest-supper";

#[test]
fn sixty_covers_are_63_plates_and_the_chain_leads_back_to_five_fish() {
    let plan = planned(EVENT);
    // 60 × 1.05 = 63.
    near(plan.plates, 63.0, 0.0);
    let char = plan.component("hot-smoked-char").unwrap();
    // 63 × 60 g.
    near(char.served_need_g, 3_780.0, 1e-9);
    // 0.95 × 0.98 × 0.85 × 0.90 = 0.712215.
    near(char.chain, 0.712_215, 1e-9);
    near(
        number(&plan, "hot-smoked-char.chain"),
        0.712_22,
        0.000_005_1,
    );
    // 3,780 ÷ 0.712215 = 5,307.386; ÷ 0.62 = 8,560.300; ÷ 1,800 = 4.756 → 5.
    near(number(&plan, "hot-smoked-char.base_need_g"), 5_307.4, 0.05);
    near(number(&plan, "hot-smoked-char.raw_need_g"), 8_560.3, 0.05);
    near(char.pieces, 5.0, 0.0);
    // 9,000 × 0.62 = 5,580 → 5,301.0 → 5,195.0 → 4,415.7 → 3,974.2; ÷ 60 = 66.2.
    for (step, out) in [
        ("fillet", 5_580.0),
        ("cure", 5_301.0),
        ("pellicle", 5_194.98),
        ("smoke", 4_415.733),
        ("flake", 3_974.159_7),
    ] {
        near(
            number(&plan, &format!("hot-smoked-char.{step}.out_g")),
            out,
            1e-6,
        );
    }
    near(number(&plan, "hot-smoked-char.portions_made"), 66.2, 0.05);
}

#[test]
fn the_cure_is_weighed_on_what_the_five_fish_give() {
    let plan = planned(EVENT);
    // Percent of 5,580 g.
    for (item, g) in [
        ("salt-table", 139.5),
        ("sugar-white", 83.7),
        ("coriander-seed", 11.16),
        ("white-pepper", 5.58),
        ("lemon", 16.74),
    ] {
        near(
            number(&plan, &format!("hot-smoked-char.cure.{item}")),
            g,
            1e-9,
        );
    }
    // 4.60 % of 5,580 = 256.68.
    near(number(&plan, "hot-smoked-char.cure.mix_g"), 256.68, 1e-9);
    assert_eq!(shown(&plan, "hot-smoked-char.cure.mix_g"), "256.7 g");
}

#[test]
fn the_mean_water_phase_salt_is_a_mean_and_not_shown() {
    let plan = planned(EVENT);
    // Per kg fillet: 720 g water less the 70 g lost in the cure and what drying and smoke take;
    // 25 g salt, 80 % kept: 20 g. Smoked 1000 × 0.95 × 0.98 × 0.85 = 791.35 g; water
    // 720 − 70 − 19 − 139.65 = 491.35 g. 20 ÷ 511.35 = 3.911 %; salt 20 ÷ 791.35 = 2.527 %; water 62.09 %.
    near(
        number(&plan, "hot-smoked-char.lot.water_phase_salt_pct"),
        3.91,
        0.005,
    );
    near(number(&plan, "hot-smoked-char.lot.salt_pct"), 2.53, 0.005);
    near(number(&plan, "hot-smoked-char.lot.water_pct"), 62.1, 0.05);
    let v = plan
        .verdicts
        .iter()
        .find(|v| v.id == "hot-smoked-char.water-phase-salt")
        .unwrap();
    assert_eq!(v.judgement.verdict, safety::Verdict::NotShown);
    near(v.judgement.value.unwrap(), 3.91, 0.005);
    assert!(
        v.judgement.place.contains("not the core"),
        "{}",
        v.judgement.place
    );
    assert!(
        v.judgement.next.contains("no vacuum claim"),
        "{}",
        v.judgement.next
    );
    assert!(
        plan.verdicts
            .iter()
            .all(|v| v.judgement.verdict == safety::Verdict::NotShown),
        "a plan shows nothing and breaks nothing here"
    );
}

#[test]
fn the_water_phase_salt_follows_the_smoke_yield() {
    // Water left at 0.90: 491.35 + 931 × 0.05 = 537.9 → 20 ÷ 557.9 = 3.58; at 0.88 3.71; at 0.82 4.14.
    for (smoke, wps) in [("0.90", 3.58), ("0.88", 3.71), ("0.82", 4.14)] {
        let (_, after) = replanned(EVENT, &[&format!("hot-smoked-char.smoke.yield={smoke}")]);
        near(
            number(&after, "hot-smoked-char.lot.water_phase_salt_pct"),
            wps,
            0.005,
        );
    }
}

#[test]
fn the_fennel_liquor_comes_to_one_point_three_percent_acid() {
    let plan = planned(EVENT);
    // 1,260 ÷ 0.97 = 1,299.0 g raw; ÷ 0.75 = 1,732.0 g bulbs; liquor 1:1, up to 50 g: 1,300 g.
    near(number(&plan, "fennel-pickle.raw_need_g"), 1_732.0, 0.05);
    near(number(&plan, "fennel-pickle.pickle.base_g"), 1_300.0, 1e-9);
    for (item, g) in [
        ("vinegar-cider", 676.0),
        ("water", 390.0),
        ("sugar-white", 195.0),
        ("salt-table", 39.0),
        ("coriander-seed", 5.2),
    ] {
        near(
            number(&plan, &format!("fennel-pickle.pickle.{item}")),
            g,
            1e-9,
        );
    }
    let json = plan::json::plan(&plan);
    let fennel = &json["components"].as_array().unwrap()[1];
    let water = fennel["lines"]
        .as_array()
        .unwrap()
        .iter()
        .find(|l| l["item"] == "water")
        .unwrap();
    // 390 + 40.2 that boils off.
    near(water["put_in_g"].as_f64().unwrap(), 430.2, 0.05);
    // Acid 676 × 5 % = 33.8 g in 1,299.0 + 1,300 = 2,599 g: 1.30 %; salt 39.0: 1.50 %; sugar 195.0: 7.50 %.
    near(fennel["lot"]["acetic_pct"].as_f64().unwrap(), 1.30, 0.005);
    near(fennel["lot"]["salt_pct"].as_f64().unwrap(), 1.50, 0.005);
    near(fennel["lot"]["sugar_pct"].as_f64().unwrap(), 7.50, 0.005);
}

#[test]
fn every_order_line_is_needed_and_bought_as_worked_out() {
    let plan = planned(EVENT);
    // By the pack: packs; by weight: grams. What follows the five fish is bought for five fish.
    ordered(&plan, "arctic-char-whole", 4.756, 5.0, 201.17, 211.50); // 8.5603 and 9.0 kg × 23.50
    ordered(&plan, "fennel-bulb", 7.530, 8.0, 10.74, 11.41); // 1.732 and 1.840 kg × 6.20
    ordered(&plan, "kohlrabi", 5.625, 6.0, 7.38, 7.87); // 1.800 and 1.920 kg × 4.10
    ordered(&plan, "lambs-lettuce", 7.958, 8.0, 27.06, 27.20); // 945 ÷ 0.95 = 994.7 g ÷ 125; × 3.40
    ordered(&plan, "sour-cream", 0.760, 1.0, 2.20, 2.90);
    ordered(&plan, "buttermilk", 0.800, 1.0, 0.96, 1.20);
    ordered(&plan, "horseradish-prepared", 1.000, 1.0, 1.15, 1.15);
    ordered(&plan, "rapeseed-oil", 282.4, 282.4, 1.19, 1.19); // 60 + 189 ÷ 0.85
    ordered(&plan, "chives", 0.200, 1.0, 0.40, 2.00);
    ordered(&plan, "dill", 4.002, 5.0, 7.20, 9.00); // 222.35 × 45 % ÷ 0.50 = 200.1 g ÷ 50
    ordered(&plan, "rye-bread", 1.734, 2.0, 7.80, 9.00); // 504 ÷ (0.90 × 0.68 × 0.95) = 866.9 g
    ordered(&plan, "lemon", 3.184, 4.0, 1.91, 2.40); // 0.30 % of 5,307.4 = 15.92 g ÷ 5 g a lemon
    ordered(&plan, "wood-chips-alder", 600.0, 600.0, 1.80, 1.80);
    ordered(&plan, "vinegar-cider", 716.0, 716.0, 2.29, 2.29); // 676 + 40
    ordered(&plan, "sugar-white", 281.6, 285.7, 0.45, 0.46); // 1.5 % of 5,307.4 or 5,580, + 195 + 7
    ordered(&plan, "salt-table", 179.7, 186.5, 0.20, 0.21); // 2.5 % likewise, + 39 + 8
    ordered(&plan, "coriander-seed", 15.8, 16.4, 0.28, 0.29); // 0.2 % likewise, + 5.2
    ordered(&plan, "white-pepper", 5.3, 5.6, 0.17, 0.18);
    assert_eq!(
        plan.order.len(),
        18,
        "nothing else is bought, water least of all"
    );
}

#[test]
fn food_labour_and_price_add_up() {
    let plan = planned(EVENT);
    let cost = &plan.cost;
    near(dollars(cost.food_needed), 274.35, HALF_CENT);
    near(dollars(cost.food_bought), 292.04, HALF_CENT);
    // ÷ 60 paid covers.
    near(dollars(cost.per_cover_needed()), 4.573, 0.000_5);
    near(dollars(cost.per_cover_bought()), 4.867, 0.000_5);
    // 715.0 min at $18 an hour = $214.50; technician 15:00–19:00, 4 h at $26 = $104.
    near(cost.labour_min, 715.0, 0.05);
    near(dollars(cost.labour_cost), 318.50, HALF_CENT);
    near(dollars(cost.labour_per_cover()), 5.31, HALF_CENT);
    near(dollars(cost.prime()), 610.54, HALF_CENT);
    near(dollars(cost.prime_per_cover()), 10.18, HALF_CENT);
    // 4.8673 ÷ 0.33.
    near(dollars(cost.target_price.unwrap()), 14.75, HALF_CENT);
    // 211.50 ÷ 3.97416 kg flaked; × 60 g.
    assert_eq!(
        shown(&plan, "hot-smoked-char.item_cost_per_kg_made"),
        "$53.22"
    );
    assert_eq!(
        shown(&plan, "hot-smoked-char.item_cost_per_portion"),
        "$3.19"
    );
}

#[test]
fn a_fifth_bunch_of_dill_is_on_the_edge() {
    let plan = planned(EVENT);
    let dill = plan.order.iter().find(|l| l.item == "dill").unwrap();
    let edge = dill.edge.as_ref().unwrap();
    // 222.353 × 0.45 ÷ 0.50 = 200.118 g = 4.00235 bunches; four are 0.118 g short: 0.0588 %.
    near(dill.need_packs, 4.002_35, 0.000_005);
    near(edge.packs, 4.0, 0.0);
    near(edge.short_pct, 0.058_8, 0.000_1);
    near(dollars(edge.saves), 1.80, 1e-9);
    // 292.04 − 1.80 = 290.24; ÷ 60 = 4.837.
    near(
        dollars(plan.cost.food_bought) - dollars(edge.saves),
        290.24,
        HALF_CENT,
    );
    near(
        (dollars(plan.cost.food_bought) - dollars(edge.saves)) / 60.0,
        4.837,
        0.000_5,
    );
    assert_eq!(
        plan.order.iter().filter(|l| l.edge.is_some()).count(),
        1,
        "no other line is on the edge"
    );
}

#[test]
fn every_step_takes_the_minutes_worked_out() {
    let plan = planned(EVENT);
    // (set-up + each × pieces + per kg × kg in) × learner factor.
    for (id, minutes) in [
        ("hot-smoked-char.receive", 25.0),       // 12.5 × 2
        ("hot-smoked-char.fillet", 65.0),        // (2.5 + 6 × 5) × 2
        ("hot-smoked-char.cure", 26.7),          // (5 + 1.5 × 5.58) × 2
        ("hot-smoked-char.rinse", 25.9),         // (5 + 1.5 × 5.301) × 2
        ("hot-smoked-char.smoke", 25.39 + 24.0), // (7.5 + 5.195) × 2, and 8 looks of 1.5 × 2
        ("hot-smoked-char.chill", 15.0),         // 7.5 × 2
        ("hot-smoked-char.flake", 45.3),         // (5 + 4 × 4.4157) × 2
        ("fennel-pickle.shave", 20.6),
        ("fennel-pickle.pickle", 20.0),
        ("kohlrabi-ribbons.ribbons", 26.6),
        ("lambs-lettuce-leaves.wash", 14.9),
        ("buttermilk-dressing.mix", 20.0),
        ("dill-oil.strain", 35.0), // 17.5 × 2
        ("labels", 20.0),
        ("harvest-plate.plate", 220.5), // 63 × 3.5
        ("clean", 60.0),
    ] {
        near(work(&plan, id), minutes, 0.05);
    }
    near(
        work(&plan, "rye-crisp.slice") + work(&plan, "rye-crisp.bake"),
        25.0,
        0.05,
    );
}

#[test]
fn the_clock_stands_where_the_chef_wants_it_and_inside_the_windows() {
    let plan = planned(EVENT);
    assert_eq!(plan.timeline.status, plan::timeline::Status::Proved);
    stands(
        &plan,
        "hot-smoked-char.receive",
        "2027-10-05T08:30",
        "2027-10-05T08:55",
    );
    stands(
        &plan,
        "hot-smoked-char.fillet",
        "2027-10-05T09:00",
        "2027-10-05T09:33",
    );
    // 26.7 min, on the clock 27.
    stands(
        &plan,
        "hot-smoked-char.cure",
        "2027-10-05T09:43",
        "2027-10-05T10:10",
    );
    stands(
        &plan,
        "hot-smoked-char.rinse",
        "2027-10-06T08:30",
        "2027-10-06T08:56",
    );
    stands(
        &plan,
        "hot-smoked-char.smoke",
        "2027-10-06T12:00",
        "2027-10-06T12:25",
    );
    // 30 + 60 + 75 + 30 = 195 min.
    stands(
        &plan,
        "hot-smoked-char.smoke.run",
        "2027-10-06T12:25",
        "2027-10-06T15:40",
    );
    stands(
        &plan,
        "hot-smoked-char.chill",
        "2027-10-06T15:40",
        "2027-10-06T15:55",
    );
    stands(
        &plan,
        "hot-smoked-char.chill.run",
        "2027-10-06T15:55",
        "2027-10-06T17:10",
    );
    stands(
        &plan,
        "hot-smoked-char.flake",
        "2027-10-07T13:00",
        "2027-10-07T13:23",
    );
    // 63 × 20 s = 21 min.
    stands(
        &plan,
        "harvest-plate.plate",
        "2027-10-07T17:50",
        "2027-10-07T18:11",
    );
    assert_eq!(hours(&plan, "harvest-plate.plate").people, 6);
    assert_eq!(hours(&plan, "hot-smoked-char.flake").people, 2);
    // Cure in ends Tue 10:10; 18 h and 24 h later.
    let rinse = hours(&plan, "hot-smoked-char.rinse");
    assert_eq!(
        (rinse.earliest.as_str(), rinse.latest.as_str()),
        ("2027-10-06T04:10", "2027-10-06T10:10")
    );
    // Racked 08:56; at least 3 h on the fan.
    assert_eq!(
        hours(&plan, "hot-smoked-char.smoke").earliest,
        "2027-10-06T11:56"
    );
    assert_eq!(
        at_work_outside(&plan, "07:00", "21:00"),
        Vec::<String>::new()
    );
}

#[test]
fn the_fish_is_ordered_by_monday_eleven() {
    let json = plan::json::plan(&planned(EVENT));
    let fish = json["order"]
        .as_array()
        .unwrap()
        .iter()
        .find(|l| l["item"] == "arctic-char-whole")
        .unwrap();
    // Comes Tue 08:30; cut-off 11:00 of the working day before.
    assert!(
        fish["order_by"]
            .as_str()
            .unwrap()
            .starts_with("2027-10-04T11:00"),
        "{fish}"
    );
    assert!(
        fish["delivery"]
            .as_str()
            .unwrap()
            .starts_with("2027-10-05T08:30"),
        "{fish}"
    );
}

#[test]
fn a_poorer_fillet_rescales_the_cure_and_buys_nothing_new() {
    let (before, after) = replanned(EVENT, &["hot-smoked-char.fillet.yield=0.58"]);
    // 9,000 × 0.58 = 5,220 × 2.5 % = 130.5; × 0.712215 = 3,717.8 g ÷ 60 = 61.96; ÷ 63 = 59.01 g.
    near(
        number(&after, "hot-smoked-char.cure.salt-table"),
        130.5,
        1e-9,
    );
    near(number(&after, "hot-smoked-char.portions_made"), 62.0, 0.05);
    near(
        dollars(after.cost.food_bought),
        dollars(before.cost.food_bought),
        1e-9,
    );
    assert!(
        after
            .order
            .iter()
            .zip(&before.order)
            .all(|(a, b)| a.packs == b.packs && a.item == b.item)
    );
    let said = said(&after);
    for words in [
        "62.0 portions of 60 g for 63",
        "59.0 g a portion on all 63",
        "one more fish: +$42.30",
    ] {
        assert!(said.contains(words), "{words} in\n{said}");
    }
}

#[test]
fn weighing_the_fillets_says_the_same_as_the_yield() {
    let (_, by_yield) = replanned(EVENT, &["hot-smoked-char.fillet.yield=0.58"]);
    let (_, by_scale) = replanned(EVENT, &["hot-smoked-char.fillet.weighed=5220 g"]);
    for id in [
        "hot-smoked-char.cure.salt-table",
        "hot-smoked-char.made_g",
        "hot-smoked-char.portions_made",
    ] {
        near(number(&by_scale, id), number(&by_yield, id), 1e-9);
    }
}

#[test]
fn ordering_again_after_a_poor_fillet_takes_a_sixth_fish() {
    let (_, after) = replanned(EVENT, &["hot-smoked-char.fillet.yield=0.58", "order=again"]);
    // 5,307.4 ÷ 0.58 = 9,150.7 g ÷ 1,800 = 5.08 → 6.
    let fish = after
        .order
        .iter()
        .find(|l| l.item == "arctic-char-whole")
        .unwrap();
    near(fish.packs, 6.0, 0.0);
    near(fish.need, 9_150.7, 0.05);
}

#[test]
fn ninety_minutes_later_moves_the_plates_the_kohlrabi_and_the_shift() {
    let (before, after) = replanned(EVENT, &["serve=+90min"]);
    // 17:50 + 90.
    stands(
        &after,
        "harvest-plate.plate",
        "2027-10-07T19:20",
        "2027-10-07T19:41",
    );
    // Ribbons stand in iced water at most 4 h from 14:47: out by 18:47, drained at 18:45, damp 2 h more: 20:45.
    stands(
        &after,
        "kohlrabi-ribbons.ribbons.relief",
        "2027-10-07T18:45",
        "2027-10-07T18:47",
    );
    assert!(said(&after).contains("20:45"), "{}", said(&after));
    // Five at 24 s plate 63 in 25.2 min, within the 30 there are; four at 30 s would not.
    assert!(
        said(&after).contains("or 5 on a slower line, 24 s a plate: --set people=-1"),
        "{}",
        said(&after)
    );
    let d = plan::compare::difference(&before, &after);
    let mut moved: Vec<&str> = d.moved.iter().map(|m| m.id.as_str()).collect();
    moved.sort_unstable();
    assert_eq!(
        moved,
        [
            "clean",
            "harvest-plate.plate",
            "kohlrabi-ribbons.ribbons.relief",
            "serve"
        ]
    );
    // Clean-down 20:08–20:18: learners stay an hour past 19:30, by half hours.
    let (group, _, until) = &d.people[0];
    assert_eq!(
        (group.as_str(), until.as_deref()),
        ("learner", Some("Thu 20:30"))
    );
    // Technician 90 min at $26 = $39.00; draining is 2 min of a learner at $18: $0.60.
    let technician = d
        .labour
        .iter()
        .find(|m| m.what.starts_with("technician"))
        .unwrap();
    near(dollars(technician.by), 39.00, 1e-9);
    let learner = d
        .labour
        .iter()
        .find(|m| m.what.starts_with("learner"))
        .unwrap();
    near(dollars(learner.by), 0.60, 1e-9);
    assert!(
        d.food.is_empty() && d.weights.is_empty() && d.verdicts.is_empty(),
        "{d:?}"
    );
}

#[test]
fn fish_five_hours_late_costs_36_minutes_and_no_service() {
    let (before, after) = replanned(EVENT, &["delivery.arctic-char-whole=2027-10-05T13:30"]);
    // Cure in ends 15:10; + 18 h = 09:10, 26 min, + 3 h = 12:36, 25 min, 195 min, 90 min.
    stands(
        &after,
        "hot-smoked-char.cure",
        "2027-10-05T14:43",
        "2027-10-05T15:10",
    );
    stands(
        &after,
        "hot-smoked-char.rinse",
        "2027-10-06T09:10",
        "2027-10-06T09:36",
    );
    stands(
        &after,
        "hot-smoked-char.smoke",
        "2027-10-06T12:36",
        "2027-10-06T13:01",
    );
    stands(
        &after,
        "hot-smoked-char.smoke.run",
        "2027-10-06T13:01",
        "2027-10-06T16:16",
    );
    stands(
        &after,
        "hot-smoked-char.chill.run",
        "2027-10-06T16:31",
        "2027-10-06T17:46",
    );
    for id in [
        "hot-smoked-char.flake",
        "harvest-plate.plate",
        "serve",
        "fennel-pickle.shave",
        "clean",
    ] {
        assert_eq!(hours(&after, id).start, hours(&before, id).start, "{id}");
    }
    let d = plan::compare::difference(&before, &after);
    // 17:46 to 13:00 next day.
    let slack = plan::compare::slack_left(&d, &after);
    assert!(
        slack
            .iter()
            .any(|s| s.contains("hot-smoked-char.flake still 19 h 14 min")),
        "{slack:?}"
    );
    assert!(
        d.food.is_empty() && d.labour.is_empty() && d.weights.is_empty(),
        "{d:?}"
    );
}

#[test]
fn a_thicker_fish_takes_the_square_of_its_thickness() {
    let (_, after) = replanned(EVENT, &["hot-smoked-char.cure.thickness=34mm"]);
    // (34 ÷ 25)² = 1.8496; 22 h 20 × 1.8496 = 41 h 18; 75 min × 1.8496 = 138.7 → 139 min.
    near(
        number(&after, "hot-smoked-char.cure.time_factor"),
        1.849_6,
        1e-9,
    );
    let said = said(&after);
    for words in [
        "×1.85",
        "cure 22 h 20 min → 41 h 18 min",
        "ramp 1 h 15 min → 2 h 19 min",
        "two of 17 mm",
        "the programme of chill is NOT marked by-thickness",
        "an hour more does nothing",
    ] {
        assert!(said.contains(words), "{words} in\n{said}");
    }
    // 10:10 + 18 h × 1.8496 = 33 h 18 (rounded up) and + 24 h × 1.8496 = 44 h 23.
    let rinse = hours(&after, "hot-smoked-char.rinse");
    assert_eq!(
        (rinse.earliest.as_str(), rinse.latest.as_str()),
        ("2027-10-06T19:28", "2027-10-07T06:33")
    );
    // 30 + 60 + 138.72 + 30 = 258.7, on the clock 259.
    let run = hours(&after, "hot-smoked-char.smoke.run");
    assert_eq!(
        (run.start.as_str(), run.end.as_str()),
        ("2027-10-07T08:25", "2027-10-07T12:44")
    );
    assert!(after.timeline.clash.is_empty());
}

#[test]
fn twelve_more_covers_take_a_sixth_fish() {
    let (before, after) = replanned(EVENT, &["covers=72"]);
    // 72 × 1.05 = 75.6 → 76; 76 × 60 ÷ 0.712215 ÷ 0.62 ÷ 1,800 = 5.74 → 6; 1.8 kg × 23.50 = 42.30.
    near(after.plates, 76.0, 0.0);
    let fish = |p: &plan::Plan| {
        p.order
            .iter()
            .find(|l| l.item == "arctic-char-whole")
            .unwrap()
            .clone()
    };
    near(fish(&after).packs, 6.0, 0.0);
    near(
        dollars(fish(&after).cost_bought) - dollars(fish(&before).cost_bought),
        42.30,
        1e-9,
    );
}

#[test]
fn without_the_smoker_there_is_no_clock_and_the_smoker_is_named_first() {
    let (_, after) = replanned(EVENT, &["machine.smoker=off"]);
    assert_eq!(after.timeline.status, plan::timeline::Status::Impossible);
    assert!(after.is_broken());
    assert_eq!(
        after.timeline.clash.len(),
        1,
        "one reason is enough: {:?}",
        after.timeline.clash
    );
    let reason = after.timeline.clash.first().unwrap();
    assert!(
        reason.contains("S1 smoker") && reason.contains("hot-smoked-char.smoke"),
        "{reason}"
    );
}

#[test]
fn four_on_the_line_plate_at_thirty_seconds() {
    // 20 s × 6 ÷ 4 = 30 s a plate; 63 plates 31.5 min, on the clock 32. The book lets a plate stand 40 min and
    // wants the last one up 10 min before service: 30 min, 2 too few.
    let (_, after) = replanned(EVENT, &["people=-2"]);
    assert_eq!(after.timeline.status, plan::timeline::Status::Impossible);
    let reasons = after.timeline.clash.join("\n");
    assert!(
        reasons.contains("\"harvest-plate.plate\" takes 32 min with 4 people"),
        "{reasons}"
    );
    assert!(
        reasons.contains("harvest-plate.plate")
            && reasons.contains("40 min")
            && reasons.contains("10 min"),
        "{reasons}"
    );
    // With the last plate up 8 min before service it is exactly enough: 17:50 to 18:22.
    let mut first = demo::first(EVENT);
    let dish = first
        .book
        .dishes
        .values_mut()
        .find(|d| d.id == "harvest-plate")
        .unwrap();
    dish.plating.as_mut().unwrap().ready_before = units::Elapsed::from_minutes(8.0).unwrap();
    let scene = first.with_all(&demo::settings(&["people=-2"])).unwrap();
    let plan = make(&scene, &first);
    stands(
        &plan,
        "harvest-plate.plate",
        "2027-10-07T17:50",
        "2027-10-07T18:22",
    );
    assert_eq!(hours(&plan, "harvest-plate.plate").people, 4);
    // Five at 24 s: 25.2 min, on the clock 26; the book's own ten minutes hold.
    let (_, five) = replanned(EVENT, &["people=-1"]);
    stands(
        &five,
        "harvest-plate.plate",
        "2027-10-07T17:50",
        "2027-10-07T18:16",
    );
}

#[test]
fn two_functions_on_one_order_take_six_fish_and_not_seven() {
    let plan = planned(EVENT);
    let first = demo::first(EVENT);
    // 14 covers × 1.05 → 15 plates × 60 g ÷ 0.712215 ÷ 0.62 = 2,038 g: 1.13 fish, 2 by themselves.
    let small = first.with_all(&demo::settings(&["covers=14"])).unwrap();
    let small = make(&small, &small);
    let merged = plan::merge::merge(&[plan, small]).unwrap();
    let fish = merged
        .iter()
        .find(|m| m.line.item == "arctic-char-whole")
        .unwrap();
    assert_eq!(
        fish.apart.iter().map(|(_, n)| *n).collect::<Vec<_>>(),
        [5.0, 2.0]
    );
    // 8,560.3 + 2,038.2 = 10,598.5 g ÷ 1,800 = 5.89 → 6.
    near(fish.line.need, 10_598.5, 0.05);
    near(fish.line.packs, 6.0, 0.0);
    near(dollars(fish.saves), 42.30, 1e-9);
}

#[test]
fn an_unlikely_weight_is_planned_on_and_asked_about() {
    // 52,200 for 5,220 g: 5.80 of the 9,000 g that went in, where the book has 0.58 to 0.68.
    let (_, after) = replanned(EVENT, &["hot-smoked-char.fillet.weighed=52200 g"]);
    assert!(
        said(&after).contains(
            "hot-smoked-char.fillet gives 5.80 of what goes in; the book has 0.58 to 0.68"
        ),
        "{}",
        said(&after)
    );
    // 52,200 ÷ 1,400 g a slot is more than the six of the fish fridge, told in slots.
    let reasons = after.timeline.clash.join("\n");
    assert!(
        reasons.contains("places of F2 fish and meat fridge") && reasons.contains("which has 6"),
        "{reasons}"
    );
    // What the book calls usual is not asked about.
    for usual in ["0.58", "0.62", "0.68"] {
        let (_, after) = replanned(EVENT, &[&format!("hot-smoked-char.fillet.yield={usual}")]);
        assert!(
            !said(&after).contains("of what goes in"),
            "{}",
            said(&after)
        );
    }
}

#[test]
fn a_change_to_what_is_not_made_is_refused() {
    let first = demo::first(EVENT);
    for key in [
        "dry-cured-duck-breast.trim.yield=0.9",
        "dry-cured-duck-breast.per=pair",
        "people=4",
    ] {
        assert!(first.with_all(&demo::settings(&[key])).is_err(), "{key}");
    }
    // What is made for another recipe of the event can be changed.
    assert!(
        demo::first("orchard-lunch")
            .with_all(&demo::settings(&["clove-tea.brew.yield=0.98"]))
            .is_ok()
    );
}
