use std::collections::BTreeSet;

use super::*;
use crate::rules;

fn under(place: RuleSet, id: &str) -> Vec<Allergen> {
    let column = columns(place).into_iter().find(|c| c.id == id);
    column.unwrap_or_else(|| panic!("{id}")).words.clone()
}

fn all(place: RuleSet) -> BTreeSet<Allergen> {
    columns(place)
        .iter()
        .flat_map(|c| c.words.iter().copied())
        .collect()
}

/// Every entry of the row of a place is one column, and no column is an entry of nothing.
#[test]
fn a_place_has_one_column_for_every_entry_of_its_row() {
    for (place, row) in [
        (RuleSet::Us, "allergen.us"),
        (RuleSet::Canada, "allergen.ca"),
        (RuleSet::Eu, "allergen.eu_uk"),
        (RuleSet::England, "allergen.eu_uk"),
    ] {
        let rule = rules::shipped().unwrap().find(row).unwrap();
        assert!(rule.holds_in(place));
        for entry in &rule.list {
            let n = columns(place)
                .iter()
                .filter(|c| c.row.id == row && c.item.as_ref() == Some(entry))
                .count();
            assert_eq!(n, 1, "{row}: {entry}");
        }
        let own = columns(place)
            .iter()
            .filter(|c| c.row.id == row && c.item.is_some())
            .count();
        assert_eq!(own as f64, rule.number("count").unwrap(), "{row}");
    }
}

/// The counts and the differences as the reference page of this project lists them (second-hand for the US and the EU,
/// read for Canada): nine, eleven and gluten, fourteen.
#[test]
fn the_lists_are_as_long_as_they_are_said_to_be() {
    assert_eq!(columns(RuleSet::Us).len(), 9 + 1);
    assert_eq!(columns(RuleSet::Canada).len(), 11 + 1);
    assert_eq!(columns(RuleSet::Eu).len(), 14);
    assert_eq!(columns(RuleSet::England), columns(RuleSet::Eu));
}

#[test]
fn a_pine_nut_is_a_tree_nut_in_north_america_and_not_in_europe() {
    for place in [RuleSet::Us, RuleSet::Canada] {
        assert!(under(place, "tree-nut").contains(&Allergen::PineNut));
    }
    assert!(!all(RuleSet::Eu).contains(&Allergen::PineNut));
    for place in [RuleSet::Us, RuleSet::Canada, RuleSet::Eu] {
        assert!(!all(place).contains(&Allergen::Coconut));
    }
}

#[test]
fn mustard_molluscs_celery_and_lupin_are_where_they_belong() {
    for (word, us, canada, eu) in [
        (Allergen::Mustard, false, true, true),
        (Allergen::Mollusc, false, true, true),
        (Allergen::Celery, false, false, true),
        (Allergen::Lupin, false, false, true),
        (Allergen::Sulphites, true, true, true),
        (Allergen::Rye, false, true, true),
    ] {
        let there = [RuleSet::Us, RuleSet::Canada, RuleSet::Eu].map(|p| all(p).contains(&word));
        assert_eq!(there, [us, canada, eu], "{}", word.word());
    }
}

/// Where the law's list is longer, ours is: all the US names, Canada names, and Europe names all of it but four nuts.
#[test]
fn a_stricter_list_names_all_that_a_milder_one_names() {
    let (us, canada, eu) = (all(RuleSet::Us), all(RuleSet::Canada), all(RuleSet::Eu));
    let beyond: Vec<Allergen> = us.difference(&canada).copied().collect();
    assert_eq!(beyond, [Allergen::Chestnut], "kept in the US from memory");
    let beyond: Vec<Allergen> = canada.difference(&eu).copied().collect();
    assert_eq!(beyond, [Allergen::TreeNut, Allergen::PineNut]);
}

/// The gluten sources of Canada are those its row names.
#[test]
fn gluten_in_canada_is_what_the_row_names() {
    let rule = rules::shipped().unwrap().find("allergen.ca").unwrap();
    let named = beside(rule, "plus_gluten").unwrap();
    let words = under(RuleSet::Canada, "gluten");
    for cereal in &named {
        assert!(words.contains(&Allergen::find(cereal).unwrap()), "{cereal}");
    }
    assert_eq!(words.len(), named.len() + 1);
}

/// 10 mg/kg is named in the US and Canada (at least) and not in the EU and England (more than).
#[test]
fn ten_milligrams_of_sulphite_is_named_on_one_side_of_the_ocean() {
    let names = |place, mg| {
        let so2 = columns(place).into_iter().find(|c| c.id == "sulphites");
        so2.unwrap().limit.unwrap().names(mg)
    };
    for (place, at_ten) in [
        (RuleSet::Us, true),
        (RuleSet::Canada, true),
        (RuleSet::Eu, false),
        (RuleSet::England, false),
    ] {
        assert_eq!(names(place, 10.0), at_ten);
        assert!(names(place, 10.1) && !names(place, 9.9));
    }
    // The row all three boundaries stand in says 10 too.
    let row = rules::shipped().unwrap().find("allergen.sulphite").unwrap();
    assert_eq!((row.value, row.unit), (Some(10.0), Some("mg/kg")));
}

#[test]
fn only_the_canadian_list_was_read() {
    let cautioned = |place| columns(place).iter().all(|c| c.caution().is_some());
    assert!(cautioned(RuleSet::Us) && cautioned(RuleSet::Eu) && cautioned(RuleSet::England));
    assert!(
        columns(RuleSet::Canada)
            .iter()
            .all(|c| c.caution().is_none())
    );
}

#[test]
fn a_file_that_does_not_hold_together_says_where() {
    let rules = rules::shipped().unwrap();
    let good = "[[column]]\nplaces = [\"us\"]\nid = \"milk\"\nname = \"milk\"\nshort = \"Mlk\"\nwords = [\"milk\"]\n\
                row = \"allergen.us\"\nitem = \"milk\"\n";
    assert_eq!(read(good, rules).unwrap().len(), 1);
    for (old, new, found) in [
        ("item = \"milk\"", "item = \"cheese\"", "cheese"),
        ("words = [\"milk\"]", "words = [\"milky\"]", "milky"),
        ("places = [\"us\"]", "places = [\"eu\"]", "allergen.us"),
        ("short = \"Mlk\"", "short = \"Milk\"", "Milk"),
        ("row = ", "roww = ", "roww"),
        (
            "item = \"milk\"",
            "item = \"milk\"\nstatus = \"read\"",
            "read",
        ),
    ] {
        let error = read(&good.replace(old, new), rules).unwrap_err();
        assert!(error.found.contains(found), "{error}");
    }
    assert!(read(&good.repeat(2), rules).is_err());
}
