//! Papers against the worked figures of the three scenarios. The figures were worked out by hand beside the demo book; the
//! arithmetic is repeated here where it is short.

#![allow(clippy::expect_used, clippy::panic)] // a test ends where its papers are not what they should be

mod paper;

use paper::{CLASS, LUNCH, SUPPER, of, of_cell, planned, read, read_all, tables, wishes};
use sheets::model::{Block, Kind, Sheet};
use words::Language::{English, French};

fn the<'a>(sheets: &'a [Sheet], id: &str) -> &'a Sheet {
    sheets.iter().find(|s| s.id == id).unwrap_or_else(|| {
        panic!(
            "no {id} among {:?}",
            sheets.iter().map(|s| &s.id).collect::<Vec<_>>()
        )
    })
}

fn row_of(sheet: &Sheet, word: &str) -> Vec<String> {
    tables(sheet)
        .iter()
        .flat_map(|t| &t.rows)
        .map(|r| r.iter().map(of_cell).collect::<Vec<_>>())
        .find(|r| r.iter().any(|c| c.contains(word)))
        .unwrap_or_else(|| panic!("no row with {word}"))
}

/// 26 breasts of 370.0 g; 4.60 % of 370 = 17.02 g. 402 → 18.49 and 331 → 15.23 follow from the percentage on the sheet.
#[test]
fn the_cure_sheet_has_26_lines_of_17_02_g() {
    let sheets = of(CLASS, Kind::CureSheet, English);
    let sheet = the(&sheets, "cure-sheet-dry-cured-duck-breast-cure");
    let pieces = tables(sheet)[0];
    assert_eq!(pieces.rows.len(), 26);
    for row in &pieces.rows {
        assert_eq!(of_cell(&row[2]), "370.0\u{a0}g");
        assert_eq!(of_cell(&row[4]), "*17.02\u{a0}g*");
    }
    assert!(read(sheet).contains("4.60~%"), "{}", read(sheet));
    // Weights the sheet's second table names: 4.60 % of each, half-up.
    let others = tables(sheet)[1];
    assert!(others.rows.len() > 8);
    for row in &others.rows {
        let grams = |text: &str| {
            text.trim_matches('*')
                .replace("\u{a0}g", "")
                .parse::<f64>()
                .expect("grams")
        };
        let (green, mix) = (grams(&of_cell(&row[0])), grams(&of_cell(&row[1])));
        assert!((mix - green * 0.046).abs() <= 0.005_000_1, "{green}: {mix}");
    }
}

/// 5,580 g × 4.60 % = 256.68; salt 139.5, sugar 83.7.
#[test]
fn the_char_formula_adds_up_to_256_7_g() {
    let sheets = of(SUPPER, Kind::FormulaCard, English);
    let card = the(&sheets, "formula-card-hot-smoked-char-cure");
    assert!(
        card.blocks
            .iter()
            .any(|b| matches!(b, Block::Big { number, .. } if number == "256.7\u{a0}g"))
    );
    let salt = row_of(card, "139.5\u{a0}g");
    assert_eq!(salt[2], "2.50\u{a0}%");
    let last = row_of(card, "zest");
    assert_eq!(last[3], "*16.7\u{a0}g*");
    assert_eq!(
        last[5], "256.7\u{a0}g",
        "the running total ends at the check"
    );
}

/// A scale with 0.1 g steps does not weigh 0.93 g within 2 %; the class mix of 24.05 g it does.
#[test]
fn curing_salt_is_weighed_to_a_hundredth_for_the_class() {
    let sheets = of(CLASS, Kind::FormulaCard, English);
    let card = the(&sheets, "formula-card-dry-cured-duck-breast-cure");
    let row = row_of(card, "24.05\u{a0}g");
    assert_eq!(row[2], "0.25\u{a0}%");
    assert!(row[4].starts_with("cure scale (0.01"), "{row:?}");
    assert!(read(card).contains("make 451.4~g"), "{}", read(card));
    assert!(read(card).contains("poisonous"), "its caution stands on it");
}

#[test]
fn the_class_has_twelve_station_cards() {
    let cards = of(CLASS, Kind::StationCard, English);
    assert_eq!(
        cards.len(),
        12,
        "{:?}",
        cards.iter().map(|c| &c.id).collect::<Vec<_>>()
    );
}

#[test]
fn the_class_has_26_labels_for_tubs_and_39_for_jars() {
    let labels = of(CLASS, Kind::TubLabel, English);
    let n = |start: &str| labels.iter().filter(|l| l.id.starts_with(start)).count();
    assert_eq!(n("tub-label-dry-cured-duck-breast"), 26);
    let jars = n("tub-label-cucumber-pickle")
        + n("tub-label-daikon-pickle")
        + n("tub-label-cauliflower-pickle");
    assert_eq!(jars, 39);
    assert_eq!(labels.len(), 65);
    let mut codes: Vec<String> = labels
        .iter()
        .flat_map(|l| &l.blocks)
        .filter_map(|b| match b {
            Block::Code { letters, holds } => {
                assert_eq!(holds, &format!("saltern:{letters}"));
                assert!(sheets::code::holds(letters), "{letters}");
                Some(letters.clone())
            }
            _ => None,
        })
        .collect();
    assert_eq!(codes.len(), 65);
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), 65, "no two labels alike");
}

#[test]
fn the_brief_says_sixty_covers_and_63_plates() {
    let sheets = of(SUPPER, Kind::ServiceBrief, English);
    let text = read_all(&sheets);
    assert!(text.contains("for: *60 covers*"), "{text}");
    assert!(text.contains("plates: 63"), "{text}");
}

/// Wed 04:10 to 10:10, out planned 08:30 (18 to 24 h from Tue 10:10).
#[test]
fn the_cure_sheet_of_the_char_names_its_window() {
    let sheets = of(SUPPER, Kind::CureSheet, English);
    let text = read(the(&sheets, "cure-sheet-hot-smoked-char-cure"));
    assert!(text.contains("out, earliest: Wed 6 Oct 04:10"), "{text}");
    assert!(text.contains("out, latest: Wed 6 Oct 10:10"), "{text}");
    assert!(text.contains("out, planned: *Wed 6 Oct 08:30*"), "{text}");
}

/// US rules of the demo: 21 °C within 2 h, 5 °C within 6 h in all.
#[test]
fn the_cooling_log_has_the_hours_of_the_place() {
    let sheets = of(SUPPER, Kind::CoolingLog, English);
    let text = read(the(&sheets, "cooling-log-hot-smoked-char-chill"));
    assert!(text.contains("*21~°C* | within 2~h of it"), "{text}");
    assert!(text.contains("*5~°C* | within 6~h in all"), "{text}");
}

/// 5,580 g ÷ 28.349523125 g = 196.83 oz = 12 lb 4.83 oz; 63 °C × 9/5 + 32 = 145.4 °F. The avoirdupois ounce is exact
/// (NIST SP 811, from memory).
#[test]
fn us_customary_is_converted_and_rounded_once() {
    let plan = planned(SUPPER);
    let us = paper::in_us_units(plan, English);
    let cards = sheets::of_kind(plan, &us, Kind::FormulaCard);
    let text = read(the(&cards, "formula-card-hot-smoked-char-cure"));
    assert!(text.contains("12~lb 4.8~oz (5,580~g)"), "{text}");
    assert!(text.contains("*4.92~oz (139.5~g)*"), "{text}");
    let log = read_all(&sheets::of_kind(plan, &us, Kind::SmokerLog));
    assert!(log.contains("145.4~°F (63~°C)"), "{log}");
}

/// What is put in adds up to the total on the card: the fennel's liquor with the water that boils off (1,305.2 + 40.2).
#[test]
fn a_running_total_counts_what_goes_into_the_pan() {
    let sheets = of(SUPPER, Kind::FormulaCard, English);
    let card = the(&sheets, "formula-card-fennel-pickle-pickle");
    assert_eq!(row_of(card, "water")[3], "*430.2\u{a0}g*");
    assert!(
        card.blocks
            .iter()
            .any(|b| matches!(b, Block::Big { number, .. } if number == "1,345\u{a0}g"))
    );
}

#[test]
fn two_loads_have_two_smoker_logs() {
    assert_eq!(of(LUNCH, Kind::SmokerLog, English).len(), 2);
}

#[test]
fn every_foot_has_the_plan_s_version_and_when_it_was_printed() {
    for event in [SUPPER, CLASS, LUNCH] {
        let plan = planned(event);
        let version = sheets::plan_version(plan);
        assert_eq!(version.len(), 8);
        for sheet in sheets::all(plan, &wishes(plan, English)) {
            let foot = sheet.foot.join("\n");
            assert!(
                foot.contains(&version) && foot.contains("2027"),
                "{}: {foot}",
                sheet.id
            );
        }
    }
}

#[test]
fn a_changed_plan_is_another_version_with_the_same_lot_codes() {
    let changed = paper::changed(SUPPER, &["serve=2027-10-07T20:00"]);
    let first = planned(SUPPER);
    assert_ne!(sheets::plan_version(first), sheets::plan_version(&changed));
    assert_eq!(sheets::lot_codes(first), sheets::lot_codes(&changed));
}

#[test]
fn the_same_plan_gives_the_same_papers() {
    let plan = planned(LUNCH);
    assert_eq!(
        sheets::all(plan, &wishes(plan, French)),
        sheets::all(plan, &wishes(plan, French))
    );
}
