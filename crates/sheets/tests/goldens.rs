//! Whole papers as text. When one changes on purpose, read it as the person who gets it before it is kept.

#![allow(clippy::expect_used, clippy::panic)] // a test ends where its papers are not what they should be

mod paper;

use jiff::Timestamp;
use paper::{CLASS, LUNCH, SUPPER, in_us_units, of, planned, read, read_all, wishes};
use sheets::model::Kind;
use sheets::{Entry, of_kind};
use words::Language::{English, French};

const KINDS: &[(Kind, &str)] = &[
    (Kind::DayBoard, "day-board"),
    (Kind::BackPlan, "back-plan"),
    (Kind::FormulaCard, "formula-card"),
    (Kind::CureSheet, "cure-sheet"),
    (Kind::SmokerLog, "smoker-log"),
    (Kind::CoolingLog, "cooling-log"),
    (Kind::PickleLog, "pickle-log"),
    (Kind::ReceivingSheet, "receiving"),
    (Kind::DoorMap, "door-map"),
    (Kind::PlatingGuide, "plating"),
    (Kind::AllergenMatrix, "allergen-matrix"),
    (Kind::OrderSheet, "order"),
    (Kind::PrepList, "prep-list"),
    (Kind::ServiceBrief, "service-brief"),
    (Kind::CleaningList, "cleaning"),
    (Kind::EmergencyCard, "emergency-card"),
    (Kind::Rubric, "rubric"),
    (Kind::Dossier, "dossier"),
];

#[test]
fn every_paper_of_the_three_events() {
    for event in [SUPPER, CLASS, LUNCH] {
        for (kind, name) in KINDS {
            let sheets = of(event, *kind, English);
            if !sheets.is_empty() {
                insta::assert_snapshot!(format!("{event}-{name}"), read_all(&sheets));
            }
        }
    }
}

#[test]
fn the_first_and_the_last_station() {
    for event in [SUPPER, CLASS, LUNCH] {
        let cards = of(event, Kind::StationCard, English);
        let ends = [
            cards.first().expect("a station"),
            cards.last().expect("a station"),
        ];
        let text: String = ends.iter().map(|s| read(s)).collect();
        insta::assert_snapshot!(format!("{event}-station-card"), text);
    }
}

#[test]
fn one_label_of_every_lot() {
    for event in [SUPPER, CLASS, LUNCH] {
        let labels = of(event, Kind::TubLabel, English);
        let mut shown: Vec<&str> = Vec::new();
        let mut text = format!("{} labels\n", labels.len());
        for label in &labels {
            let lot = label.id.rsplit_once('-').expect("numbered").0;
            if !shown.contains(&lot) {
                shown.push(lot);
                text.push_str(&read(label));
            }
        }
        insta::assert_snapshot!(format!("{event}-tub-label"), text);
    }
}

#[test]
fn in_french() {
    for (event, kind, name) in [
        (SUPPER, Kind::FormulaCard, "formula-card"),
        (CLASS, Kind::CureSheet, "cure-sheet"),
        (LUNCH, Kind::SmokerLog, "smoker-log"),
        (SUPPER, Kind::CoolingLog, "cooling-log"),
        (SUPPER, Kind::AllergenMatrix, "allergen-matrix"),
        (SUPPER, Kind::ServiceBrief, "service-brief"),
        (SUPPER, Kind::EmergencyCard, "emergency-card"),
        (SUPPER, Kind::DoorMap, "door-map"),
        (SUPPER, Kind::BackPlan, "back-plan"),
        (SUPPER, Kind::OrderSheet, "order"),
        (LUNCH, Kind::PrepList, "prep-list"),
    ] {
        insta::assert_snapshot!(
            format!("fr-{event}-{name}"),
            read_all(&of(event, kind, French))
        );
    }
    let cards = of(CLASS, Kind::StationCard, French);
    insta::assert_snapshot!("fr-duck-class-station-card", read(&cards[0]));
}

#[test]
fn in_pounds_and_fahrenheit() {
    for (event, kind, name) in [
        (SUPPER, Kind::FormulaCard, "formula-card"),
        (LUNCH, Kind::SmokerLog, "smoker-log"),
        (CLASS, Kind::CureSheet, "cure-sheet"),
    ] {
        let plan = planned(event);
        let sheets = of_kind(plan, &in_us_units(plan, English), kind);
        insta::assert_snapshot!(format!("us-{event}-{name}"), read_all(&sheets));
    }
}

#[test]
fn a_dossier_with_a_log() {
    let plan = planned(SUPPER);
    let entry =
        |at: &str, step: &str, what: &str, value: Option<f64>, unit: &str, note: &str| Entry {
            at: at.parse::<Timestamp>().expect("a moment"),
            who: "learner 2".to_owned(),
            component: Some("hot-smoked-char".to_owned()),
            step: Some(step.to_owned()),
            what: what.to_owned(),
            value,
            unit: unit.to_owned(),
            note: note.to_owned(),
            deviation: !note.is_empty(),
        };
    let mut wanted = wishes(plan, English);
    wanted.log = vec![
        entry(
            "2027-10-05T13:35:00Z",
            "fillet",
            "weighed",
            Some(5220.0),
            "g",
            "",
        ),
        entry(
            "2027-10-06T18:30:00Z",
            "smoke",
            "core, probe 2",
            Some(62.8),
            "°C",
            "",
        ),
        entry(
            "2027-10-06T19:00:00Z",
            "smoke",
            "core, probe 2",
            None,
            "°C",
            "probe fell out; put back, hold started anew",
        ),
    ];
    let sheets = of_kind(plan, &wanted, Kind::Dossier);
    let char = sheets
        .iter()
        .find(|s| s.id == "dossier-hot-smoked-char")
        .expect("the char");
    insta::assert_snapshot!("dossier-with-a-log", read(char));
}
