//! Ways out of a clash: tried, told with what does not help, and the same again from their text.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use book::{Limits, SourceFile};
use demo::{first, make, replanned, settings, stands};
use plan::timeline::Status;
use plan::ways::{Way, WaysOut, find};
use plan::{Plan, Scene, Setting};
use proptest::prelude::*;
use schedule::Effort;

fn ways(plan: &Plan, first: &Scene) -> WaysOut {
    find(plan, first, &Effort::standard(), &mut |_| true).expect("there is no clock")
}

#[track_caller]
fn way<'w>(found: &'w WaysOut, words: &str) -> &'w Way {
    found
        .ways
        .iter()
        .find(|w| w.what.contains(words))
        .unwrap_or_else(|| panic!("no way \"{words}\" in {found:#?}"))
}

/// Plans a way anew from its text, as the command line and an address do, and has the independent checker look at it.
#[track_caller]
fn again(first: &Scene, clash: &[&str], way: &[Setting]) -> Plan {
    let texts = way.iter().map(ToString::to_string);
    let added: Vec<Setting> = texts.map(|t| Setting::read(&t).expect("reads")).collect();
    let all: Vec<Setting> = settings(clash).into_iter().chain(added).collect();
    let scene = first.with_all(&all).expect("these changes can be made");
    let before = make(first, first);
    let scene = plan::compare::keeping(&scene, &before);
    let (plan, solved) =
        plan::make_with_problem(&scene, first, &Effort::standard(), &mut |_| true).unwrap();
    let (problem, schedule) = solved.unwrap_or_else(|| panic!("no clock with {all:?}"));
    let broken = schedule::check::check(&problem, &schedule.start, &schedule.people);
    assert!(broken.is_empty(), "{all:?}: {broken:?}");
    assert!(matches!(
        plan.timeline.status,
        Status::Proved | Status::Feasible
    ));
    plan
}

/// Sixteen kilograms of loin through a smoker of eight; the demo's site, suppliers and people, and a recipe of our own.
/// Minutes as the trade notes of this project work them out: 25 min to hang, 345 min run, 40 min change-over, 210 min chill.
fn loin(within_to: &str) -> kitchen::Book {
    let recipe = r#"
recipe  = "smoked-loin"
name    = "Smoked loin"
surplus = "through"

[[step]]
id    = "trim"
do    = "trim"
what  = "Trim"
takes = { item = "pork-collar", piece = "1.6 kg" }
hands = { setup = "20 min" }
wait  = { min = "0 min", max = "3 d", at = "<= 5 °C" }

[[step]]
id    = "smoke"
do    = "hot-smoke"
what  = "Hang one load, smoke, cook"
after = "trim"
hands = { setup = "25 min" }
programme = [ { what = "smoke and cook", air = "80 °C", for = "345 min", smoke = true } ]
uses  = [ { machine = "smoker", by = "mass", during = "run" } ]
wait  = "at once"

[[step]]
id    = "chill"
do    = "chill"
what  = "Unload, chill"
after = "smoke"
loads = "as before"
hands = { setup = "5 min" }
programme = [ { what = "blast", air = "-5 °C", for = "210 min" } ]
uses  = [ { machine = "blast-chiller", by = "mass", during = "run" } ]
wait  = { min = "0 min", max = "4 d", at = "<= 5 °C" }
"#;
    let dish = r#"
[[dish]]
id   = "loin-plate"
name = "Smoked loin"
parts = [ { recipe = "smoked-loin", portion = "100 g", per = "plate", leave-out = false } ]
"#;
    let event = format!(
        r#"
event  = "loin-supper"
name   = "Loin supper"
site   = "fernhollow"
from   = "2027-06-12T07:00"
serve  = "2027-06-18T18:00"
covers = 150
dishes = ["loin-plate"]
role   = "cook"

[[crew]]
id     = "cook"
count  = 2
role   = "cook"
shifts = [ {{ days = "Mon Tue Wed Thu Fri", from = "07:30", to = "21:00" }} ]

[[delivery]]
what = "holloway-road-meats"
at   = "2027-06-15T08:00"

[[prefer]]
step = "smoked-loin.smoke"
at   = "2027-06-16T11:00"

[[within]]
step = "smoked-loin.smoke"
from = "2027-06-16T11:00"
to   = "{within_to}"
"#
    );
    let mut files = book::demo::files();
    for (name, text) in [
        ("demo/recipes/smoked-loin.toml", recipe),
        ("demo/dishes-loin.toml", dish),
        ("demo/events/loin-supper.toml", &event),
    ] {
        files.push(SourceFile::text(name, text));
    }
    book::read(&files, Limits::default()).unwrap_or_else(|wrong| {
        panic!(
            "{}",
            wrong.iter().map(ToString::to_string).collect::<String>()
        )
    })
}

#[test]
fn sixteen_kilograms_go_through_eight_on_two_days() {
    let book = loin("2027-06-17T21:00");
    let scene = Scene::new(&book, "loin-supper").unwrap();
    let plan = make(&scene, &scene);
    // 150 × 100 g = 15.0 kg → 10 logs of 1.6 kg = 16 kg: two loads of 8.
    stands(
        &plan,
        "smoked-loin.smoke#1.run",
        "2027-06-16T11:25",
        "2027-06-16T17:10",
    );
    // The house opens 07:00, the cooks come 07:30: hang until 07:55.
    stands(
        &plan,
        "smoked-loin.smoke#2.run",
        "2027-06-17T07:55",
        "2027-06-17T13:40",
    );
}

#[test]
fn both_loads_on_one_day_are_refused_with_the_reason_and_ways_out() {
    let book = loin("2027-06-16T21:00");
    let first = Scene::new(&book, "loin-supper").unwrap();
    let plan = make(&first, &first);
    assert_eq!(plan.timeline.status, Status::Impossible);
    let reasons = plan.timeline.clash.join("\n");
    assert!(
        reasons.contains("S1 smoker") || reasons.contains("smoked-loin.smoke"),
        "{reasons}"
    );
    let found = ways(&plan, &first);
    // Another day for the second load: the split over two days.
    let split = way(&found, "smoked-loin.smoke also a day later");
    assert_eq!(split.settings, settings(&["within.smoked-loin.smoke=+24h"]));
    let two_days = again(&first, &[], &split.settings);
    stands(
        &two_days,
        "smoked-loin.smoke#2.run",
        "2027-06-17T07:55",
        "2027-06-17T13:40",
    );
    // A second smoker beside the first: one load of sixteen.
    let second = found
        .ways
        .iter()
        .map(|w| (&w.what, &w.settings))
        .chain(
            found
                .others
                .iter()
                .filter(|t| t.why_not.is_none())
                .map(|t| (&t.what, &t.settings)),
        )
        .find(|(what, _)| what.contains("a second S1 smoker"));
    if let Some((_, settings)) = second {
        again(&first, &[], settings);
    }
    // Longer hours that day were tried; the run would end at midnight and the house's day ends with it.
    assert!(
        found
            .others
            .iter()
            .any(|t| t.what.contains("more cook") && t.why_not.is_some()),
        "{found:#?}"
    );
}

#[test]
fn fish_that_comes_too_late_has_to_come_by_the_hour_that_still_works() {
    let clash = ["delivery.arctic-char-whole=2027-10-06T20:30"];
    let (_, plan) = replanned("harvest-supper", &clash);
    let first = first("harvest-supper");
    let found = ways(&plan, &first);
    let delivery = way(&found, "arctic-char-whole delivered");
    again(&first, &clash, &delivery.settings);
    // The next half hour is too late: it is the least move.
    let at: jiff::civil::DateTime = delivery.settings[0].value.parse().unwrap();
    let later = at.checked_add(jiff::SignedDuration::from_mins(30)).unwrap();
    let later = format!("{}={later}", delivery.settings[0].key);
    let (_, too_late) = replanned("harvest-supper", &[later.as_str()]);
    assert_eq!(too_late.timeline.status, Status::Impossible);
    // It costs nothing the plan counts, and says what the supplier has to be asked.
    assert!(delivery.food_by.amount().is_zero() && delivery.labour_by.amount().is_zero());
    assert!(
        delivery
            .consequences
            .iter()
            .any(|c| c.contains("order by Tue 10-05 11:00")),
        "{:?}",
        delivery.consequences
    );
}

#[test]
fn a_broken_smoker_has_to_be_mended_by_the_hour_it_is_needed_or_the_fish_bought_ready() {
    let clash = ["machine.smoker=off"];
    let (before, plan) = replanned("harvest-supper", &clash);
    let first = first("harvest-supper");
    let found = ways(&plan, &first);
    let mended = way(&found, "S1 smoker repaired");
    assert!(
        mended
            .consequences
            .iter()
            .any(|c| c.contains("needed from Wed 10-06 12:00")),
        "{:?}",
        mended.consequences
    );
    again(&first, &clash, &mended.settings);
    let ready = way(&found, "hot-smoked-char bought ready");
    let says = ready.consequences.join("\n");
    for words in [
        "no evidence of our own",
        "allergens are unknown",
        "not in the book",
    ] {
        assert!(says.contains(words), "{words} in {says}");
    }
    let bought = again(&first, &clash, &ready.settings);
    // What it saves is all the food of it; and no verdict of ours stands for it.
    let share = before
        .cost
        .shares
        .iter()
        .find(|s| s.component == "hot-smoked-char")
        .unwrap();
    demo::near(
        demo::dollars(share.bought),
        -demo::dollars(ready.food_by),
        0.01,
    );
    assert!(
        bought
            .verdicts
            .iter()
            .all(|v| v.component != "hot-smoked-char")
    );
    // The plate is not called free of fish: what is bought has a label nobody has read.
    let plate = &bought.allergens.dishes[0];
    for (column, state) in bought.allergens.columns.iter().zip(&plate.states) {
        assert!(
            *state > plan::allergens::State::Free,
            "{}: {state:?}",
            column.name
        );
    }
    assert!(demo::said(&bought).contains("hot-smoked-char comes ready"));
    // Hours and hands do not mend a machine: not even tried.
    assert!(found.others.iter().all(|t| !t.what.contains("learner")));
}

#[test]
fn nobody_at_work_is_told_with_who_has_to_come() {
    // The learners are away on Wednesday and Thursday: nobody to smoke, nobody to plate.
    let mut first = first("harvest-supper");
    for group in first.event.crew.iter_mut().filter(|g| g.id == "learner") {
        group.shifts[0].days = vec![jiff::civil::Weekday::Tuesday];
    }
    let plan = make(&first, &first);
    assert_eq!(plan.timeline.status, Status::Impossible);
    let found = ways(&plan, &first);
    let come = way(&found, "learner at work on Wed 10-06, Thu 10-07 too");
    assert_eq!(
        come.settings,
        settings(&[
            "shift.learner=2027-10-06 07:00-21:00",
            "shift.learner=2027-10-07 07:00-21:00",
        ])
    );
    // 6 × 14 h × 2 = 168 h at $18.
    assert!(
        come.consequences
            .iter()
            .any(|c| c.contains("168.0 person-hours") && c.contains("$3,024.00")),
        "{:?}",
        come.consequences
    );
    again(&first, &[], &come.settings);
    assert!(
        found
            .others
            .iter()
            .any(|t| t.what == "6 more learner" && t.why_not.is_some())
    );
}

#[test]
fn thicker_fish_is_cut_as_little_as_it_takes() {
    let clash = ["hot-smoked-char.cure.thickness=40mm"];
    let (_, plan) = replanned("harvest-supper", &clash);
    let first = first("harvest-supper");
    let found = ways(&plan, &first);
    let cut = way(&found, "hot-smoked-char cut to");
    again(&first, &clash, &cut.settings);
    // 18 h × (40 ÷ 25)² = 46 h 05; × (34 ÷ 25)² = 33 h 18: 12 h 47 less.
    assert_eq!(
        cut.settings,
        settings(&["hot-smoked-char.cure.thickness=34mm"])
    );
    assert!(
        cut.consequences
            .iter()
            .any(|c| c.contains("moves by 12 h 47 min: 33 h 18 min instead of 46 h 5 min")),
        "{:?}",
        cut.consequences
    );
    let (_, thicker) = replanned("harvest-supper", &["hot-smoked-char.cure.thickness=35mm"]);
    assert_eq!(thicker.timeline.status, Status::Impossible);
}

#[test]
fn a_plan_with_a_clock_is_not_asked_for_ways_out() {
    let first = first("harvest-supper");
    let plan = make(&first, &first);
    let mut asked = 0;
    let found = find(&plan, &first, &Effort::standard(), &mut |_| {
        asked += 1;
        true
    });
    assert_eq!((found, asked), (None, 0));
}

fn clashes() -> impl Strategy<Value = (&'static str, Vec<String>)> {
    let char_hour = (0i64..=30).prop_map(|h| {
        let at = jiff::civil::date(2027, 10, 6).at(6, 0, 0, 0);
        let at = at
            .checked_add(jiff::SignedDuration::from_mins(h * 60))
            .unwrap();
        (
            "harvest-supper",
            vec![format!(
                "delivery.arctic-char-whole={}",
                at.strftime("%Y-%m-%dT%H:%M")
            )],
        )
    });
    prop_oneof![
        char_hour,
        (36u32..=60).prop_map(|mm| (
            "harvest-supper",
            vec![format!("hot-smoked-char.cure.thickness={mm}mm")]
        )),
        (2u32..=4).prop_map(|n| ("harvest-supper", vec![format!("people=-{n}")])),
        (80u32..=220).prop_map(|n| ("harvest-supper", vec![format!("covers={n}")])),
        (130u32..=260).prop_map(|n| ("orchard-lunch", vec![format!("covers={n}")])),
        (11u32..=16).prop_map(|d| (
            "orchard-lunch",
            vec![format!("delivery.holloway-road-meats=2027-09-{d}T08:00")]
        )),
        prop::sample::select(vec![
            "smoker",
            "fish-fridge",
            "walk-in",
            "oven",
            "blast-chiller"
        ])
        .prop_map(|m| ("harvest-supper", vec![format!("machine.{m}=off")])),
        (1i64..=3).prop_map(|h| ("harvest-supper", vec![format!("serve=-{h}h")])),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    /// Every way is the same plan from its text, with a clock that the independent checker has nothing against; and the
    /// same clash has the same ways.
    #[test]
    fn every_way_out_holds_when_planned_anew_from_its_text((event, set) in clashes()) {
        let texts: Vec<&str> = set.iter().map(String::as_str).collect();
        let first = first(event);
        let (_, plan) = replanned(event, &texts);
        let Some(found) = find(&plan, &first, &Effort::standard(), &mut |_| true) else {
            prop_assert!(plan.timeline.clash.is_empty());
            return Ok(());
        };
        prop_assert!(!found.cut_short, "{} plans", found.plans);
        prop_assert!(found.ways.len() <= plan::ways::MOST_WAYS);
        for way in &found.ways {
            let held = again(&first, &texts, &way.settings);
            prop_assert_eq!(held.cost.food_bought - plan.cost.food_bought, way.food_by);
            prop_assert_eq!(held.cost.labour_cost - plan.cost.labour_cost, way.labour_by);
            prop_assert!(!way.consequences.is_empty(), "{}", way.what);
        }
        for other in found.others.iter().filter(|t| t.why_not.is_none()) {
            again(&first, &texts, &other.settings);
        }
        prop_assert_eq!(find(&plan, &first, &Effort::standard(), &mut |_| true), Some(found));
    }
}
