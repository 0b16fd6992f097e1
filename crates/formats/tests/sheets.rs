//! Tables of the demo: the figures in them are the plan's, and what is written is read back.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx};
use demo::{EVENTS, planned, printed};
use formats::sheet::Cell;
use formats::workbook::{self, Paper};
use formats::{comma, sheets};
use plan::figures::decimal_to_f64;

#[test]
fn the_tables_of_the_demo() {
    for event in EVENTS {
        for sheet in sheets::all(&planned(event)) {
            let text = comma::write(&sheet).replace("\r\n", "\n");
            insta::assert_snapshot!(format!("{}_{event}", sheet.name), text);
        }
    }
}

#[test]
fn a_workbook_holds_what_the_tables_hold_as_numbers_and_dates() {
    for event in EVENTS {
        let plan = planned(event);
        let all = sheets::all(&plan);
        let wall = plan.scene.site.zone.to_datetime(printed());
        let bytes = workbook::write(&all, "x", wall, Paper::A4).unwrap();
        assert_eq!(
            bytes,
            workbook::write(&all, "x", wall, Paper::A4).unwrap(),
            "the same bytes"
        );
        let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
        for sheet in &all {
            let range = book.worksheet_range(sheet.name).unwrap();
            for (x, column) in sheet.columns.iter().enumerate() {
                let heading = range.get_value((0, u32::try_from(x).unwrap()));
                assert_eq!(heading, Some(&Data::String(column.heading())));
            }
            for (y, row) in sheet.rows.iter().enumerate() {
                for (x, cell) in row.iter().enumerate() {
                    let at = (u32::try_from(y + 1).unwrap(), u32::try_from(x).unwrap());
                    let given = range.get_value(at).unwrap_or(&Data::Empty);
                    let same = match (cell, given) {
                        (Cell::Unknown, Data::Empty) => true,
                        (Cell::Text(t), Data::String(s)) => t == s,
                        (Cell::Number(n), Data::Float(f)) => n.to_bits() == f.to_bits(),
                        (Cell::Number(n), Data::Int(i)) => *n == *i as f64,
                        (Cell::Money(m), Data::Float(f)) => {
                            decimal_to_f64(*m).to_bits() == f.to_bits()
                        }
                        (Cell::Moment(_) | Cell::Day(_), Data::DateTime(_)) => true,
                        _ => false,
                    };
                    assert!(same, "{} {at:?}: {cell:?} {given:?}", sheet.name);
                }
            }
        }
    }
}

#[test]
fn the_tables_say_what_the_json_says() {
    let plan = planned("harvest-supper");
    let json = plan::json::plan(&plan);
    let order = sheets::order(&plan);
    let lines = json["order"].as_array().unwrap();
    assert_eq!(order.rows.len(), lines.len());
    for (row, line) in order.rows.iter().zip(lines) {
        assert_eq!(
            row[1],
            Cell::Text(line["item"].as_str().unwrap().to_owned())
        );
        assert_eq!(row[6], Cell::Number(line["packs"].as_f64().unwrap()));
        let Cell::Money(cost) = &row[12] else {
            panic!("no money")
        };
        assert_eq!(decimal_to_f64(*cost), line["cost_bought"].as_f64().unwrap());
    }
    // Minutes of hands, by the plan's own clock: nothing with people is left out of the prep list.
    let with_people = json["schedule"]["tasks"].as_array().unwrap();
    let with_people = with_people
        .iter()
        .filter(|t| !t["people"].as_array().unwrap().is_empty());
    assert_eq!(sheets::prep(&plan).rows.len(), with_people.count());
}

#[test]
fn a_load_is_its_part_of_the_step() {
    // Scenario C smokes in two loads: the rows of both together weigh what flows into the step.
    let plan = planned("orchard-lunch");
    let prep = sheets::prep(&plan);
    let kg = |id: &str| -> f64 {
        let rows = prep.rows.iter().filter(|r| match &r[11] {
            Cell::Text(task) => {
                task == id
                    || (task.starts_with(&format!("{id}#")) && !task[id.len()..].contains('.'))
            }
            _ => false,
        });
        rows.map(|r| match r[6] {
            Cell::Number(n) => n,
            _ => panic!("no weight"),
        })
        .sum()
    };
    let pork = plan.component("smoked-pork-collar").unwrap();
    let recipe = &plan.scene.book.recipes["smoked-pork-collar"];
    let mut seen = 0;
    for (step, flow) in recipe
        .steps
        .iter()
        .zip(&pork.flows)
        .filter(|(_, f)| f.loads > 1)
    {
        let total = kg(&format!("smoked-pork-collar.{}", step.id));
        if total > 0.0 {
            assert!((total * 1000.0 - flow.in_g).abs() < 1e-6, "{}", step.id);
            seen += 1;
        }
    }
    assert!(seen > 0, "no step of it runs in loads");
}
