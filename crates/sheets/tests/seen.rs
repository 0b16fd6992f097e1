//! Who sees what, and what nobody must see; and that every sheet can be drawn.

#![allow(clippy::expect_used, clippy::panic)] // a test ends where its papers are not what they should be

mod paper;

use std::collections::BTreeSet;

use paper::{CLASS, LUNCH, SUPPER, book, of, of_book, planned, read, tables, wishes};
use sheets::all;
use sheets::model::{Block, Kind, Sheet};
use words::Language::{self, English, French};

fn every_sheet(mut look: impl FnMut(&plan::Plan, &Sheet)) {
    for event in [SUPPER, CLASS, LUNCH] {
        for language in [English, French] {
            let plan = planned(event);
            for sheet in all(plan, &wishes(plan, language)) {
                look(plan, &sheet);
            }
        }
    }
}

#[test]
fn money_is_on_the_order_sheets_and_nowhere_else() {
    let (mut with, mut without) = (0, 0);
    every_sheet(|plan, sheet| {
        let has = read(sheet).contains(&plan.scene.site.currency);
        assert_eq!(
            has,
            sheet.kind == Kind::OrderSheet,
            "{}: {}",
            sheet.id,
            read(sheet)
        );
        if has { with += 1 } else { without += 1 }
    });
    assert!(with > 10 && without > 100, "{with}, {without}");
}

#[test]
fn a_station_card_names_no_other_station() {
    for event in [SUPPER, CLASS] {
        let plan = planned(event);
        let everybody: BTreeSet<&String> =
            plan.timeline.tasks.iter().flat_map(|t| &t.people).collect();
        let cards = of(event, Kind::StationCard, English);
        for card in &cards {
            let text = read(card);
            let own: BTreeSet<&&String> = everybody
                .iter()
                .filter(|p| {
                    let number = p.rsplit_once(' ').map_or("", |(_, n)| n);
                    let id = &card.id["station-card-learner-".len().min(card.id.len())..];
                    id.split('-').take(2).any(|part| part == number)
                        || card.id.contains(&p.replace(' ', "-"))
                })
                .collect();
            for other in everybody
                .iter()
                .filter(|p| !own.contains(p) && p.contains(' '))
            {
                let named = text.lines().any(|l| {
                    l.split(|c: char| !c.is_alphanumeric() && c != ' ')
                        .any(|w| w.trim() == **other)
                });
                assert!(!named, "{} names {other}:\n{text}", card.id);
            }
            assert!(!text.contains("ppm"), "{text}");
        }
    }
}

#[test]
fn those_who_carry_the_plates_read_no_curing_figures() {
    for event in [SUPPER, LUNCH] {
        for sheet in of(event, Kind::ServiceBrief, English) {
            let text = read(&sheet);
            for word in ["ppm", "nitrite", "~g", "yield", "%"] {
                assert!(!text.contains(word), "{word}: {text}");
            }
        }
    }
}

#[test]
fn the_purchaser_reads_no_portions() {
    for sheet in of(SUPPER, Kind::OrderSheet, English) {
        let text = read(&sheet);
        assert!(
            !text.contains("portion") && !text.contains("plate"),
            "{text}"
        );
    }
}

#[test]
fn nothing_is_called_safe_and_nothing_is_missing_from_the_words() {
    every_sheet(|_, sheet| {
        let text = read(sheet);
        assert!(!text.contains('⟨'), "{}: {text}", sheet.id);
        assert!(
            !text.to_lowercase().contains("safe"),
            "{}: {text}",
            sheet.id
        );
    });
}

#[test]
fn every_sheet_can_be_drawn() {
    let mut ids = BTreeSet::new();
    every_sheet(|plan, sheet| {
        ids.insert((plan.scene.event.id.to_string(), sheet.id.clone()));
        assert!(
            sheet
                .id
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '-'),
            "{}",
            sheet.id
        );
        assert!(!sheet.title.trim().is_empty() && !sheet.blocks.is_empty());
        for table in tables(sheet) {
            for row in &table.rows {
                assert_eq!(row.len(), table.columns.len(), "{}", sheet.id);
            }
        }
        for block in &sheet.blocks {
            if let Block::Bars(bars) = block {
                for lane in &bars.lanes {
                    let mut ends = 0;
                    for bar in &lane.bars {
                        assert!(
                            bar.from <= bar.to && bar.to <= bars.minutes,
                            "{}: {bar:?}",
                            sheet.id
                        );
                        assert!(
                            bar.from >= ends,
                            "{} {}: {bar:?} lies over another",
                            sheet.id,
                            lane.name
                        );
                        ends = bar.to;
                    }
                }
                assert!(bars.shaded.iter().all(|(a, z)| a < z && *z <= bars.minutes));
            }
        }
    });
    let sheets: usize = [SUPPER, CLASS, LUNCH]
        .iter()
        .map(|e| all(planned(e), &wishes(planned(e), English)).len())
        .sum();
    assert_eq!(ids.len(), sheets, "two sheets of a plan share an id");
}

/// The caution of every recipe is on a paper of the station that does the step, in both languages.
#[test]
fn every_caution_is_on_a_paper_of_who_does_it() {
    for event in [SUPPER, CLASS, LUNCH] {
        for language in [English, French] {
            let plan = planned(event);
            let words = words::Words::of(language);
            let papers: String = [
                Kind::StationCard,
                Kind::FormulaCard,
                Kind::SmokerLog,
                Kind::CureSheet,
            ]
            .into_iter()
            .flat_map(|k| of(event, k, language))
            .flat_map(|s| s.blocks)
            .filter_map(|b| match b {
                Block::Caution(text) => Some(text),
                _ => None,
            })
            .collect();
            for placed in &plan.cautions {
                let said = words.say(&format!("caution-{}", placed.caution.id));
                assert!(
                    papers.contains(&said),
                    "{event}: {} of {} is on no paper",
                    placed.caution.id,
                    placed.component
                );
            }
        }
    }
}

/// The limit of the European Union for the demo's duck is below what goes in: every paper of that lot says so first.
#[test]
fn a_broken_verdict_stands_on_every_paper_of_its_lot() {
    let plan = paper::changed(CLASS, &["site.rules=eu"]);
    let code = &sheets::lot_codes(&plan)["dry-cured-duck-breast"];
    let mut seen = 0;
    for sheet in all(&plan, &wishes(&plan, English)) {
        if sheet.foot.iter().any(|f| f.contains(code.as_str())) && sheet.kind != Kind::TubLabel {
            seen += 1;
            let first = &sheet.blocks[0];
            let said = matches!(first, Block::Caution(t) if t.starts_with("Broken for Dry-cured duck breast"));
            assert!(said, "{}: {first:?}", sheet.id);
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn a_plan_without_a_clock_says_so_on_every_paper() {
    let plan = paper::changed(SUPPER, &["machine.smoker=off"]);
    let sheets = all(&plan, &wishes(&plan, English));
    assert!(sheets.len() > 10);
    for sheet in sheets {
        assert!(
            matches!(&sheet.blocks[0], Block::Caution(t) if t.contains("no clock that works")),
            "{}",
            sheet.id
        );
    }
}

/// The gram, the degree Celsius and the millimetre are never lost.
#[test]
fn in_us_customary_the_metric_figure_stands_beside() {
    let mut converted = 0;
    for event in [SUPPER, CLASS, LUNCH] {
        let plan = planned(event);
        for sheet in all(plan, &paper::in_us_units(plan, English)) {
            for line in read(&sheet).lines() {
                for part in line.split(" | ") {
                    for (us, metric) in [
                        ("~oz", "g)"),
                        ("~lb", "g)"),
                        ("~°F", "~°C)"),
                        ("~in ", "~mm)"),
                    ] {
                        if part.contains(us) {
                            converted += 1;
                            assert!(part.contains(metric), "{}: {part}", sheet.id);
                        }
                    }
                }
            }
        }
    }
    assert!(converted > 500, "{converted}");
}

#[test]
fn forty_learners_have_twenty_cards_and_forty_lines() {
    let plan = paper::changed(CLASS, &["covers=40", "people=+16"]);
    let wished = wishes(&plan, English);
    let sheets = all(&plan, &wished);
    let n = |kind: Kind| sheets.iter().filter(|s| s.kind == kind).count();
    assert_eq!(
        tables(
            sheets
                .iter()
                .find(|s| s.kind == Kind::Rubric)
                .expect("a rubric")
        )[0]
        .rows
        .len(),
        40
    );
    assert_eq!(n(Kind::StationCard), 20);
}

#[test]
fn long_names_stay_whole() {
    let long = "Slowly and patiently dry-cured, twice rinsed and carefully air-dried breast of the Barbary duck of the lower meadow";
    let mut book = book();
    for recipe in book
        .recipes
        .values_mut()
        .filter(|r| r.id == "dry-cured-duck-breast")
    {
        recipe.name = long.to_owned();
    }
    let plan = of_book(&book, CLASS, &[]);
    let sheets = all(&plan, &wishes(&plan, Language::French));
    let label = sheets
        .iter()
        .find(|s| s.kind == Kind::TubLabel)
        .expect("a label");
    assert_eq!(label.title, long);
    assert!(sheets.iter().all(|s| s.id.len() < 120));
}
