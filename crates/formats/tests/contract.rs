//! The JSON of real plans against the schema of contract 1 (`docs/contract-1.schema.json`, JSON Schema 2020-12), by the
//! validator `jsonschema`.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{EVENTS, planned, replanned};
use serde_json::{Value, json};

const SCHEMA: &str = include_str!("../../../docs/contract-1.schema.json");

fn schema() -> Value {
    serde_json::from_str(SCHEMA).unwrap()
}

/// The schema with every object closed: nothing may be printed that it does not name.
fn closed(mut schema: Value) -> Value {
    fn close(value: &mut Value) {
        match value {
            Value::Object(map) => {
                map.values_mut().for_each(close);
                if map.contains_key("properties") && map.contains_key("required") {
                    map.insert("unevaluatedProperties".to_owned(), json!(false));
                }
            }
            Value::Array(all) => all.iter_mut().for_each(close),
            _ => {}
        }
    }
    close(&mut schema);
    schema
}

#[track_caller]
fn fits(schema: &Value, value: &Value) {
    let validator = jsonschema::draft202012::new(schema).unwrap();
    let wrong: Vec<String> = validator
        .iter_errors(value)
        .take(10)
        .map(|e| format!("{} at {}", e, e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_schema_is_one() {
    jsonschema::draft202012::meta::validate(&schema()).unwrap();
}

#[test]
fn the_plans_of_the_demo_fit_and_hold_nothing_unnamed() {
    let (open, closed) = (schema(), closed(schema()));
    for event in EVENTS {
        let value = plan::json::plan(&planned(event));
        fits(&open, &value);
        fits(&closed, &value);
    }
}

#[test]
fn a_plan_without_a_clock_fits() {
    let (_, after) = replanned("harvest-supper", &["machine.smoker=off"]);
    let value = plan::json::plan(&after);
    assert_eq!(value["schedule"]["tasks"], json!([]));
    assert_eq!(value["ways_out"], Value::Null);
    fits(&closed(schema()), &value);
    // With the ways out somebody asked for.
    let first = plan::Scene::new(&demo::Demo::new().book, "harvest-supper").unwrap();
    let effort = schedule::Effort::standard();
    let after = plan::ways::with_ways_out(after, &first, &effort, &mut |_| true);
    let value = plan::json::plan(&after);
    assert!(
        value["ways_out"]["ways"]
            .as_array()
            .is_some_and(|w| !w.is_empty())
    );
    fits(&closed(schema()), &value);
}

#[test]
fn what_is_not_contract_1_does_not_fit() {
    let good = plan::json::plan(&planned("harvest-supper"));
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    assert!(validator.is_valid(&good));
    for (path, value) in [
        ("/contract", json!(2)),
        ("/event/serve", json!("2027-10-07T18:30:00")),
        ("/components/0/made_g", Value::Null),
        ("/components/0/lot/salt_pct", json!("2.5")),
        ("/order/0/price_per", json!("box")),
        ("/schedule/status", json!("optimal")),
        ("/verdicts/0/verdict", json!("safe")),
        ("/verdicts/0/status", json!("sure")),
        ("/cost/by_role/0/by_presence", json!(1)),
    ] {
        let mut bad = good.clone();
        *bad.pointer_mut(path).unwrap() = value;
        assert!(!validator.is_valid(&bad), "{path}");
    }
    for field in ["verdicts", "figures", "schedule"] {
        let mut bad = good.clone();
        bad.as_object_mut().unwrap().remove(field);
        assert!(!validator.is_valid(&bad), "{field}");
    }
}

#[test]
fn a_plan_with_a_record_and_allowances_fits_and_holds_nothing_unnamed() {
    use plan::happened::{Fact, Happened, What};
    let (open, closed) = (schema(), closed(schema()));
    let first = plan::Scene::new(&demo::Demo::new().book, "harvest-supper").unwrap();
    let hour = |at: &str| {
        let at: jiff::civil::DateTime = at.parse().unwrap();
        first.site.zone.to_timestamp(at).unwrap()
    };
    let fact = |when: &str, step: &str, what| Fact {
        at: "row 2".to_owned(),
        when: hour(when),
        component: "hot-smoked-char".to_owned(),
        step: step.to_owned(),
        what,
    };
    let happened = Happened {
        now: hour("2027-10-06T03:30"),
        facts: vec![
            fact("2027-10-05T09:45", "fillet", What::Weighed { g: 5220.0 }),
            fact("2027-10-05T10:10", "cure", What::Done),
            fact("2027-10-06T02:40", "rinse", What::Started),
        ],
    };
    let before = planned("harvest-supper");
    let scene = first
        .with_all(&[plan::Setting::read("robust=0.9").unwrap()])
        .unwrap();
    let scene = happened
        .on(&plan::compare::keeping(&scene, &before), &first)
        .unwrap();
    let value = plan::json::plan(
        &plan::make(&scene, &first, &schedule::Effort::standard(), &mut |_| true).unwrap(),
    );
    fits(&open, &value);
    fits(&closed, &value);
    assert!(!value["happened"]["broken"].as_array().unwrap().is_empty());
    assert!(value["robust"]["bought"].is_object());
}
