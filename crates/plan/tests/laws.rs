//! Laws every plan keeps, whatever is set.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use std::collections::BTreeMap;

use demo::{at_work_outside, first, settings};
use kitchen::recipe::Surplus;
use kitchen::step::{BaseKind, LineAmount};
use plan::timeline::Status;
use plan::{Plan, Scene};
use proptest::prelude::*;
use schedule::Effort;

/// Plans of random scenes need not be the best: a twentieth of the usual effort.
const EFFORT: Effort = Effort {
    seed: 1,
    steps: 3_000_000,
};
/// Noise of a few dozen multiplications, relative.
const NOISE: f64 = 1e-9;

const EVENTS: [&str; 3] = ["harvest-supper", "duck-class", "orchard-lunch"];

fn changed(event: &str, changes: &[String]) -> Scene {
    let texts: Vec<&str> = changes.iter().map(String::as_str).collect();
    first(event)
        .with_all(&settings(&texts))
        .unwrap_or_else(|e| panic!("{changes:?}: {e:?}"))
}

fn plan_of(event: &str, changes: &[String]) -> Plan {
    plan::make(
        &changed(event, changes),
        &first(event),
        &EFFORT,
        &mut |_| true,
    )
    .expect("there is a plan")
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= NOISE * a.abs().max(b.abs()).max(1e-6)
}

/// Few, so that a slow build is soon done; the law of the clock was once run with 500.
fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// What a kitchen changes without having measured anything.
fn before_buying() -> impl Strategy<Value = (&'static str, Vec<String>)> {
    prop_oneof![
        (1u32..=140, 0u32..=20).prop_map(|(c, s)| (
            "harvest-supper",
            vec![format!("covers={c}"), format!("spare={s} %")]
        )),
        (2u32..=48).prop_map(|c| ("duck-class", vec![format!("covers={c}")])),
        (2u32..=160, 50u32..=110).prop_map(|(c, g)| (
            "orchard-lunch",
            vec![
                format!("covers={c}"),
                format!("smoked-pork-collar.portion={g} g")
            ]
        )),
    ]
}

/// Anything that may happen to the supper, and to the two others.
fn anything() -> impl Strategy<Value = (&'static str, Vec<String>)> {
    let supper = (
        1u32..=120,
        -36i64..=48,
        0i64..=120,
        -4i64..=2,
        50u32..=70,
        15u32..=40,
    )
        .prop_map(|(covers, serve, late, people, fillet, mm)| {
            let mut set = vec![
                format!("covers={covers}"),
                format!("serve={:+}min", serve * 5),
                format!("delivery.arctic-char-whole=+{}min", late * 5),
                format!("hot-smoked-char.fillet.yield=0.{fillet}"),
                format!("hot-smoked-char.cure.thickness={mm}mm"),
            ];
            if people != 0 {
                set.push(format!("people={people:+}"));
            }
            ("harvest-supper", set)
        });
    let class = (2u32..=48, -12i64..=0, -20i64..=6, 60u32..=98).prop_map(
        |(covers, serve, people, hang)| {
            (
                "duck-class",
                vec![
                    format!("covers={covers}"),
                    format!("serve={:+}min", serve * 5),
                    format!("people={people:+}"),
                    format!("dry-cured-duck-breast.hang.yield=0.{hang}"),
                ],
            )
        },
    );
    let lunch =
        (2u32..=200, -24i64..=48, 0u32..=1, 70u32..=90).prop_map(|(covers, serve, off, smoke)| {
            (
                "orchard-lunch",
                vec![
                    format!("covers={covers}"),
                    format!("serve={:+}min", serve * 5),
                    format!("machine.slicer={}", if off == 1 { "off" } else { "on" }),
                    format!("smoked-pork-collar.smoke.yield=0.{smoke}"),
                ],
            )
        });
    prop_oneof![4 => supper, 1 => class, 2 => lunch]
}

fn rounds_up(plan: &Plan, recipe: &kitchen::Id) -> bool {
    plan.scene.book.recipes[recipe]
        .steps
        .iter()
        .any(|s| s.base.make_in.is_some())
}

/// Needs of the lines in percent and of the starting item, by name, of recipes that are not made in rounded batches.
fn linear_needs(plan: &Plan) -> BTreeMap<String, f64> {
    let mut needs = BTreeMap::new();
    for c in plan
        .components
        .iter()
        .filter(|c| !rounds_up(plan, &c.recipe))
    {
        let recipe = &plan.scene.book.recipes[&c.recipe];
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            needs.insert(format!("{}.{}", c.recipe, step.id), flow.need_in_g);
            for (i, (line, l)) in step.lines.iter().zip(&flow.lines).enumerate() {
                if matches!(line.amount, LineAmount::OfBase(_)) {
                    needs.insert(format!("{}.{}.{i}", c.recipe, step.id), l.need_g);
                }
            }
        }
    }
    needs
}

/// Every step's mass is what flowed in (or was mixed) times its yield, and nothing is lost between steps.
fn masses_close(plan: &Plan) {
    for c in &plan.components {
        let recipe = &plan.scene.book.recipes[&c.recipe];
        for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
            let name = format!("{}.{}", c.recipe, step.id);
            let through = |inflow: f64, base: f64| {
                if matches!(step.base.kind, BaseKind::Made) {
                    base
                } else {
                    inflow
                }
            };
            assert!(
                close(
                    flow.out_g,
                    through(flow.in_g, flow.base_g) * step.yields.mean
                ),
                "{name}: {flow:?}"
            );
            if !rounds_up(plan, &c.recipe) {
                assert!(
                    close(
                        flow.need_out_g,
                        through(flow.need_in_g, flow.need_base_g) * step.yields.mean
                    ),
                    "{name}: {flow:?}"
                );
            }
            if i == recipe.last() {
                assert!(
                    close(flow.need_out_g, c.served_need_g),
                    "{name}: {} of {}",
                    flow.need_out_g,
                    c.served_need_g
                );
                assert!(close(flow.out_g, c.made_g), "{name}");
                continue;
            }
            let taken: f64 = recipe
                .takers(i)
                .iter()
                .map(|(j, share)| c.flows[*j].in_g * share)
                .sum();
            match recipe.surplus {
                Surplus::Through => assert!(
                    close(taken, flow.out_g),
                    "{name}: {taken} taken of {}",
                    flow.out_g
                ),
                Surplus::ToStore => assert!(
                    taken <= flow.out_g * (1.0 + NOISE),
                    "{name}: {taken} taken of {}",
                    flow.out_g
                ),
            }
            let needed: f64 = recipe
                .takers(i)
                .iter()
                .map(|(j, share)| c.flows[*j].need_in_g * share)
                .sum();
            assert!(
                close(needed, flow.need_out_g),
                "{name}: {needed} needed of {}",
                flow.need_out_g
            );
        }
    }
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn twice_the_covers_need_twice_of_everything_that_is_linear(covers in 1u32..=200, k in 2u32..=5) {
        for event in ["harvest-supper", "orchard-lunch"] {
            let one = linear_needs(&plan_of(event, &[format!("covers={covers}"), "spare=0 %".to_owned()]));
            let many = linear_needs(&plan_of(event, &[format!("covers={}", covers * k), "spare=0 %".to_owned()]));
            prop_assert!(one.len() > 10, "{} lines", one.len());
            for (name, need) in &one {
                prop_assert!(close(many[name], need * f64::from(k)), "{name}: {need} × {k} is not {}", many[name]);
            }
        }
    }

    #[test]
    fn a_portion_larger_and_smaller_again_is_the_same_plan(tenths in 11u32..=40) {
        let k = f64::from(tenths) / 10.0;
        let size = |g: f64| vec![format!("hot-smoked-char.portion={g} g")];
        let one = plan_of("harvest-supper", &size(60.0));
        let larger = plan_of("harvest-supper", &size(60.0 * k));
        let again = plan_of("harvest-supper", &size(60.0 * k / k));
        let (a, b, c) = (linear_needs(&one), linear_needs(&larger), linear_needs(&again));
        for (name, need) in a.iter().filter(|(n, _)| n.starts_with("hot-smoked-char")) {
            prop_assert!(close(b[name], need * k), "{name}: {need} × {k} is not {}", b[name]);
            prop_assert!(close(c[name], *need), "{name}: {need} came back as {}", c[name]);
        }
        for (name, need) in a.iter().filter(|(n, _)| !n.starts_with("hot-smoked-char")) {
            prop_assert!(close(b[name], *need), "{name} has no part in it: {need}, {}", b[name]);
        }
    }

    #[test]
    fn masses_close_at_every_step((event, set) in anything()) {
        masses_close(&plan_of(event, &set));
    }

    #[test]
    fn money_is_the_sum_of_its_lines_and_packs_are_whole_and_enough((event, set) in before_buying()) {
        let plan = plan_of(event, &set);
        let cost = &plan.cost;
        let sum = |f: fn(&plan::order::OrderLine) -> units::Money| plan.order.iter().map(f).sum::<units::Money>();
        prop_assert_eq!(sum(|l| l.cost_needed), cost.food_needed);
        prop_assert_eq!(sum(|l| l.cost_bought), cost.food_bought);
        prop_assert_eq!(cost.labour.iter().map(|l| l.cost).sum::<units::Money>(), cost.labour_cost);
        prop_assert_eq!(cost.food_bought + cost.labour_cost, cost.prime());
        let shares: f64 = cost.shares.iter().map(|s| demo::dollars(s.bought)).sum();
        prop_assert!((shares - demo::dollars(cost.food_bought)).abs() < 1e-6, "components cost {shares}");
        for l in &plan.order {
            let step = plan.scene.site.offers.iter().find(|o| o.item == l.item).and_then(|o| match &o.pack {
                kitchen::site::Pack::Loose { step, .. } => Some(step.map(units::Mass::g)),
                _ => None,
            });
            match step {
                None => prop_assert!(l.packs.fract() == 0.0, "{} {} of {}", l.packs, l.word, l.item),
                Some(Some(g)) => {
                    let n = l.bought_g().unwrap() / g;
                    prop_assert!(close(n, n.round()), "{} by {g} g: {n} times", l.item);
                }
                Some(None) => {}
            }
            prop_assert!(l.packs >= l.need_packs * (1.0 - plan.scene.site.pack_tolerance) - NOISE, "{}: {} of {}", l.item, l.packs, l.need_packs);
            prop_assert!(l.packs < l.need_packs.max(l.used / (l.need / l.need_packs)) + 1.0, "{}: {} where {} would do", l.item, l.packs, l.need_packs);
            prop_assert!(l.cost_bought.amount() >= l.cost_needed.amount() || plan.scene.site.pack_tolerance > 0.0 || close(demo::dollars(l.cost_bought), demo::dollars(l.cost_needed)), "{}", l.item);
        }
    }

    #[test]
    fn a_better_yield_never_asks_for_more(step in 0usize..5, low in 40u32..=97, better in 1u32..=30) {
        let step = ["fillet", "cure", "pellicle", "smoke", "flake"][step];
        let high = (low + better).min(100);
        let set = |pct: u32| vec![format!("hot-smoked-char.{step}.yield={pct} %"), "order=again".to_owned()];
        let (poor, good) = (plan_of("harvest-supper", &set(low)), plan_of("harvest-supper", &set(high)));
        for (p, g) in poor.order.iter().map(|p| (p, good.order.iter().find(|g| g.item == p.item).unwrap())) {
            prop_assert!(g.need <= p.need * (1.0 + NOISE), "{step} {low} → {high} %: {} {} → {}", p.item, p.need, g.need);
        }
        let fish = |p: &Plan| p.order.iter().find(|l| l.item == "arctic-char-whole").unwrap().packs;
        prop_assert!(fish(&good) <= fish(&poor));
    }
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn a_clock_keeps_every_rule_or_says_why_there_is_none((event, set) in anything()) {
        let scene = changed(event, &set);
        let (plan, solved) = plan::make_with_problem(&scene, &first(event), &EFFORT, &mut |_| true).unwrap();
        match solved {
            Some((problem, schedule)) => {
                let broken = schedule::check::check(&problem, &schedule.start, &schedule.people);
                prop_assert!(broken.is_empty(), "{broken:?}");
                prop_assert!(matches!(plan.timeline.status, Status::Proved | Status::Feasible));
                prop_assert!(plan.timeline.clash.is_empty());
                prop_assert_eq!(plan.timeline.tasks.len(), problem.tasks.len());
                for t in &plan.timeline.tasks {
                    prop_assert!(t.earliest <= t.start && t.start <= t.latest, "{} {} not in {}..{}", t.meaning.id, t.start, t.earliest, t.latest);
                }
                prop_assert!(plan.timeline.value >= plan.timeline.bound - 1e-6, "{} below {}", plan.timeline.value, plan.timeline.bound);
                // The site is open 07:00 to 21:00 every day: read off the printed hours, not the engine's.
                prop_assert_eq!(at_work_outside(&plan, "07:00", "21:00"), Vec::<String>::new());
            }
            None => {
                prop_assert!(matches!(plan.timeline.status, Status::Impossible | Status::NotFound));
                prop_assert!(plan.timeline.clash.iter().any(|r| !r.trim().is_empty()), "no reason: {:?}", plan.timeline.clash);
                prop_assert!(plan.timeline.tasks.is_empty());
                prop_assert!(plan.is_broken());
            }
        }
    }
}

proptest! {
    #![proptest_config(cases(8))]

    #[test]
    fn the_same_scene_gives_the_same_plan((event, set) in anything()) {
        prop_assert_eq!(plan::json::plan(&plan_of(event, &set)), plan::json::plan(&plan_of(event, &set)));
    }

    #[test]
    fn figures_stand_on_figures_and_end_in_sources((event, set) in anything()) {
        let plan = plan_of(event, &set);
        sound(&plan);
    }
}

/// Figures that are computed and yet stand on no other figure, and why that is so.
const ROOTS: [(&str, &str); 2] = [
    // The clock's choice for work nothing comes before: it stands on the whole problem, not on a figure.
    ("clock.", ""),
    // A planned cooling time where the recipe cools by a programme of its own: known gap.
    ("", ".cooling_min"),
];

/// Figures computed from nothing, or leaves without a source.
fn sound(plan: &Plan) {
    assert_eq!(plan.figures.dangling(), Vec::new());
    let mut wrong = Vec::new();
    for f in plan.figures.iter() {
        let root = ROOTS
            .iter()
            .any(|(start, end)| f.id.starts_with(start) && f.id.ends_with(end));
        if root && f.source == "computed" && f.from.is_empty() && f.formula.trim().is_empty() {
            wrong.push(format!("{} = {} says not what it is", f.id, f.show()));
        }
        if f.from.is_empty() && !root && (f.source.trim().is_empty() || f.source == "computed") {
            wrong.push(format!(
                "{} = {} is computed ({}) from nothing",
                f.id,
                f.show(),
                f.formula
            ));
        }
        if !f.from.is_empty() && f.formula.trim().is_empty() {
            wrong.push(format!("{} says not how it comes from {:?}", f.id, f.from));
        }
        if f.from.contains(&f.id) {
            wrong.push(format!("{} comes from itself", f.id));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {} figures:\n{}",
        wrong.len(),
        plan.figures.len(),
        wrong.join("\n")
    );
    for f in plan.figures.iter() {
        let mut path = Vec::new();
        assert!(
            !circles(plan, &f.id, &mut path),
            "{} comes round to itself: {path:?}",
            f.id
        );
    }
}

fn circles(plan: &Plan, id: &str, path: &mut Vec<String>) -> bool {
    if path.iter().any(|p| p == id) {
        return true;
    }
    path.push(id.to_owned());
    let round = plan
        .figures
        .get(id)
        .is_some_and(|f| f.from.iter().any(|from| circles(plan, from, path)));
    if !round {
        path.pop();
    }
    round
}

#[test]
fn the_demo_figures_stand_on_figures_and_end_in_sources() {
    for event in EVENTS {
        sound(&demo::planned(event));
    }
}

/// Every number below a value, with its path.
fn numbers(value: &serde_json::Value, path: &str, all: &mut Vec<(String, f64)>) {
    match value {
        serde_json::Value::Number(n) => all.push((path.to_owned(), n.as_f64().unwrap())),
        serde_json::Value::Array(list) => {
            for (i, v) in list.iter().enumerate() {
                let name = ["id", "item", "role"]
                    .iter()
                    .find_map(|k| v[*k].as_str())
                    .map_or_else(|| i.to_string(), str::to_owned);
                let name = match v["step"].as_str() {
                    Some(step) => format!("{step}.{name}"),
                    None => name,
                };
                numbers(v, &format!("{path}/{name}"), all);
            }
        }
        serde_json::Value::Object(map) => {
            for (k, v) in map {
                numbers(v, &format!("{path}/{k}"), all);
            }
        }
        _ => {}
    }
}

/// Numbers of the contract without a figure of their own: known gaps, each said by its neighbours.
const UNEXPLAINED: [&str; 4] = [
    // The pack count of the offered edge: a pack less than bought.
    "/edge/packs",
    // Steps of 100 g or 500 g of what is sold by weight; the figure is in kilograms.
    "cucumber/packs",
    "daikon/packs",
    "onion-red/packs",
];

#[test]
fn every_number_of_the_contract_is_a_figure_that_explains_itself() {
    let mut lost = Vec::new();
    for event in EVENTS {
        let plan = demo::planned(event);
        let json = plan::json::plan(&plan);
        let mut all = Vec::new();
        for part in ["components", "order", "cost"] {
            numbers(&json[part], part, &mut all);
        }
        assert!(all.len() > 100, "{} numbers in {event}", all.len());
        for (path, n) in all {
            let names: Vec<&str> = path.split('/').collect();
            // A figure of the same component, item or part of the cost holds it.
            let mine = |id: &str| match names[0] {
                "components" if names[2] == "lines" => {
                    let step = names[3].split('.').next().unwrap_or("");
                    let of_step =
                        names[4] == "base_g" && id == format!("{}.{step}.base_g", names[1]);
                    of_step || id.starts_with(&format!("{}.{}", names[1], names[3]))
                }
                "components" if names[2] == "buy_g" => {
                    id.starts_with("order.") && id.ends_with(".bought")
                }
                // Pieces are the packs of the starting item, or the portions wanted.
                "components" if names[2] == "pieces" && id.starts_with("order.") => {
                    id.ends_with(".packs")
                }
                "components" => id.starts_with(&format!("{}.", names[1])),
                "order" => id.starts_with(&format!("order.{}.", names[1])),
                _ => {
                    id.starts_with("cost.") || id.starts_with("labour.") || id.starts_with("event.")
                }
            };
            let there = plan
                .figures
                .iter()
                .filter(|f| mine(&f.id))
                .any(|f| match &f.value {
                    plan::figures::Value::Number(v) => close(*v, n),
                    plan::figures::Value::Money(d) => close(plan::figures::decimal_to_f64(*d), n),
                    _ => false,
                });
            // Nothing of a substance was added: a zero needs no derivation.
            let none = names.get(2) == Some(&"lot") && n == 0.0;
            if !there && !none && !UNEXPLAINED.iter().any(|u| path.ends_with(u)) {
                lost.push(format!("{event}: {path} = {n}"));
            }
        }
    }
    assert!(
        lost.is_empty(),
        "{} numbers nobody explains:\n{}",
        lost.len(),
        lost.join("\n")
    );
}
