//! The questions that go by physics: the whole answer as a golden, and the laws all answers keep.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used)]

mod asking;

use asking::{ask, every_figure_says_why, every_number_is_a_figure, fits, page};

/// The questions, by the name of their golden, as they are typed: entries set apart by "|".
const QUESTIONS: &[(&str, &str)] = &[
    (
        "cure_dry_on_the_skin",
        "cure|--thickness|25 mm|--thin|20 mm|--thick|30 mm|--faces|1|--salt|2.5 %|--sugar|1.5 %|--at|3 °C|--goal|95 %|--time|22 h",
    ),
    (
        "cure_in_a_cover_brine_too_early",
        "cure|--thickness|25 mm|--faces|1|--brine-strength|15 %|--brine-water|100 %|--at|3 °C|--mean|2.2 % to 2.8 %|--time|8 h",
    ),
    (
        "cure_to_a_core_by_a_fitted_diffusivity",
        "cure|--thickness|25 mm|--faces|2|--salt|3.5 %|--water|68 %|--at|3 °C|--core|3.5 %|--diffusivity|1e-9|--time|3 d",
    ),
    (
        "cure_of_fingers",
        "cure|--thickness|25 mm|--shape|finger|--width|30 mm|--faces|1|--salt|2.5 %|--at|3 °C|--goal|95 %|--time|1 h",
    ),
    (
        "cure_never_that_salty",
        "cure|--thickness|25 mm|--faces|2|--salt|2 %|--at|3 °C|--core|3.5 %",
    ),
    (
        "cure_without_faces",
        "cure|--thickness|25 mm|--salt|2.5 %|--at|3 °C|--goal|95 %",
    ),
    (
        "cure_with_one_percent_for_a_range",
        "cure|--thickness|25 mm|--faces|1|--salt|2.5 %|--at|3 °C|--mean|2.2 %",
    ),
    (
        "cook_char_in_the_smoker",
        "cook|--thickness|25 mm|--programme|50 °C 60 min, 82 °C 75 min|--core|63 °C|--hold|30 min",
    ),
    (
        "cook_thick_pieces_too_short",
        "cook|--thickness|34 mm|--programme|50 °C 60 min, 50 °C to 82 °C 20 min, 82 °C 55 min|--core|63 °C|--hold|30 min|--food|salmon",
    ),
    (
        "cook_with_a_wet_surface",
        "cook|--thickness|25 mm|--programme|50 °C 60 min, 82 °C 75 min|--core|63 °C|--hold|30 min|--humidity|40 %",
    ),
    (
        "cook_with_a_stretch_without_time",
        "cook|--thickness|25 mm|--programme|82 °C|--core|63 °C|--hold|30 min",
    ),
    (
        "cook_a_row_that_is_not_whole",
        "cook|--thickness|25 mm|--programme|82 °C 75 min|--core|63 °C|--hold|30 min|--food|water 70 %, protein 20 %",
    ),
    (
        "cool_a_tub_in_the_blast",
        "cool|--depth|50 mm|--from|60 °C|--in|blast|--air|-5 °C",
    ),
    (
        "cool_a_piece_in_an_ice_bath",
        "cool|--thickness|25 mm|--from|63 °C|--in|ice-bath|--food|salmon",
    ),
    (
        "cool_a_piece_in_england",
        "cool|--thickness|25 mm|--from|63 °C|--in|fridge|--air|3 °C|--place|england",
    ),
    (
        "cool_on_track",
        "cool|--reading|57 °C at 16:25|--reading|34 °C at 17:20|--air|3 °C",
    ),
    (
        "cool_too_slow",
        "cool|--reading|57 °C at 0:00|--reading|45 °C at 0:55|--air|3 °C",
    ),
    (
        "cool_too_late",
        "cool|--reading|60 °C at 0:00|--reading|30 °C at 2:40|--air|3 °C",
    ),
    (
        "cool_not_cooling",
        "cool|--reading|34 °C at 0:00|--reading|40 °C at 0:55|--air|3 °C",
    ),
    (
        "cool_without_air",
        "cool|--thickness|25 mm|--from|63 °C|--in|fridge",
    ),
    (
        "dry_two_weighings",
        "dry|--from|358.9 g|--now|310.0 g|--after|7 d|--target|30 %|--on|14 d",
    ),
    (
        "dry_four_weighings",
        "dry|--from|358.9 g|--weighed|334.2 g at 3 d|--weighed|310.0 g at 7 d|--weighed|296.0 g at 10 d|--target|30 %|--on|14 d",
    ),
    (
        "dry_that_gained",
        "dry|--from|358.9 g|--now|360.0 g|--after|7 d|--target|30 %",
    ),
    (
        "steep_onion_rings",
        "steep|--thickness|3 mm|--goal|90 %|--vegetable|500 g|--liquor|500 g|--acid|2.5 %|--salt|1.5 %|--time|2 h",
    ),
    ("steep_all_of_it", "steep|--thickness|3 mm|--goal|100 %"),
    (
        "emulsion_that_holds",
        "emulsion|--oil|200 g|--aqueous|60 g|--vinegar|20 g|--salt|2 g",
    ),
    (
        "emulsion_with_yolk_and_stiff",
        "emulsion|--oil|400 g|--aqueous|20 g|--yolk|36 g|--vinegar|30 g|--salt|4 g|--sugar|3 g",
    ),
    ("emulsion_without_oil", "emulsion|--oil|0 g|--aqueous|60 g"),
    (
        "brine_in_the_cold",
        "brine|--strength|60 SAL|--water|10 L|--read-at|4 °C",
    ),
    (
        "brine_with_sugar_and_a_salometer",
        "brine|--salt|280 g|--water|2 kg|--sugar|100 g|--read-at|4 °C",
    ),
    (
        "pickle_of_a_trial",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2",
    ),
    (
        "pickle_too_flat_with_an_assumed_buffer",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|200 g|--buffer|assumed|--ep-ph|6.0",
    ),
    (
        "pickle_broken_as_planned",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|20 g|--buffer|15 to 25|--ep-ph|6.0",
    ),
    (
        "pickle_with_lemon_and_one_buffer",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|200 g|--acid|citric 8 g|--buffer|15|--ep-ph|6.0",
    ),
    (
        "pickle_least_vinegar",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2|--find|least vinegar",
    ),
    (
        "pickle_weakest_vinegar",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2|--find|weakest vinegar",
    ),
    (
        "pickle_too_salty_for_the_formula",
        "pickle|--strength|5 %|--vinegar|400 g|--water|390 g|--salt|200 g|--ep|1299 g|--item|fennel|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2",
    ),
    (
        "pickle_of_a_vegetable_of_unknown_water",
        "pickle|--strength|5 %|--vinegar|400 g|--ep|1 kg|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2",
    ),
    (
        "pickle_looked_for_without_a_ph",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--find|least vinegar",
    ),
    (
        "pickle_looked_for_in_other_words",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 11 g vinegar, pH 6.0 to 4.2|--find|cheapest vinegar",
    ),
    (
        "pickle_drawn_without_a_ph",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--curve|unknown.svg",
    ),
    (
        "pickle_of_an_unknown_vegetable",
        "pickle|--strength|5 %|--vinegar|400 g|--ep|1 kg|--item|fenel",
    ),
    (
        "pickle_trial_in_other_units",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 mL water, 11 g vinegar, pH 6.0 to 4.2",
    ),
    (
        "pickle_trial_half_written",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 11 g vinegar",
    ),
    (
        "pickle_trial_that_hardly_fell",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 11 g vinegar, pH 4.5 to 4.2",
    ),
    (
        "pickle_trial_sourer_than_its_vinegar",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--trial|100 g, 100 g water, 1 g vinegar, pH 6.0 to 2.2",
    ),
    (
        "pickle_buffer_backwards",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--buffer|30 to 10|--ep-ph|6.0",
    ),
    (
        "pickle_buffer_not_a_number",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--buffer|NaN|--ep-ph|6.0",
    ),
    (
        "pickle_ph_of_15",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--buffer|10 to 30|--ep-ph|15",
    ),
    (
        "pickle_unknown_acid",
        "pickle|--strength|5 %|--water|390 g|--salt|39 g|--ep|1299 g|--item|fennel|--vinegar|676 g|--acid|oxalic 5 g",
    ),
    (
        "pickle_negative_vinegar",
        "pickle|--strength|5 %|--vinegar=-5 g|--ep|1 kg",
    ),
    (
        "cool_four_readings_on_one_curve",
        "cool|--reading|57 °C at 16:25|--reading|44 °C at 16:55|--reading|38.5 °C at 17:10|--reading|34 °C at 17:25|--air|3 °C",
    ),
    (
        "cool_readings_that_no_one_curve_carries",
        "cool|--reading|57 °C at 16:25|--reading|56 °C at 16:40|--reading|45 °C at 16:55|--reading|34 °C at 17:25|--air|3 °C",
    ),
    (
        "cool_a_reading_below_the_air",
        "cool|--reading|57 °C at 16:25|--reading|44 °C at 16:55|--reading|20 °C at 17:25|--air|22 °C",
    ),
    (
        "cool_two_pieces_on_each_other",
        "cool|--thickness|25 mm|--stack|2|--from|63 °C|--in|blast|--air|-5 °C",
    ),
    (
        "cook_three_pieces_on_each_other",
        "cook|--thickness|12 mm|--stack|3|--programme|50 °C 60 min, 82 °C 75 min|--core|63 °C|--hold|30 min",
    ),
    (
        "cook_no_piece",
        "cook|--thickness|12 mm|--stack|0|--programme|82 °C 75 min|--core|63 °C|--hold|30 min",
    ),
    (
        "cook_logs_on_each_other",
        "cook|--thickness|40 mm|--on|round|--stack|2|--programme|82 °C 75 min|--core|63 °C|--hold|30 min",
    ),
    (
        "cure_out_by_the_clock",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-10-05 10:10|--zone|America/Toronto|--now|2027-10-05 12:30",
    ),
    (
        "cure_out_across_the_clock_change",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--thin|22 mm|--thick|26 mm|--brine-strength|15 %|--mean|2.2 % to 2.8 %|--in|2027-11-06 20:10|--zone|America/Toronto|--now|2027-11-07 01:30 second",
    ),
    (
        "cure_too_late_by_the_clock",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--brine-strength|15 %|--mean|2.2 % to 2.8 %|--in|2027-03-13 20:10|--zone|America/Toronto|--now|2027-03-15 07:00",
    ),
    (
        "cure_in_at_an_hour_shown_twice",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-11-07 01:30|--zone|America/Toronto",
    ),
    (
        "cure_in_at_an_hour_skipped",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-03-14 02:30|--zone|America/Toronto",
    ),
    (
        "cure_in_on_a_date_without_an_hour",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-10-05|--zone|America/Toronto",
    ),
    (
        "cure_in_an_unknown_zone",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-10-05 10:10|--zone|America/Torronto",
    ),
    (
        "cure_now_before_it_went_in",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--in|2027-10-05 10:10|--zone|America/Toronto|--now|2027-10-05 09:00",
    ),
    (
        "cure_with_its_juice_kept",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--juice|stays|--water-out|1 to 2|--time|3 d",
    ),
    (
        "cure_with_juice_and_no_water_out",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--juice|stays",
    ),
    (
        "cure_with_juice_in_a_brine",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--brine-strength|15 %|--goal|95 %|--juice|stays|--water-out|1",
    ),
    (
        "cure_with_water_out_not_a_number",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--water-out|NaN",
    ),
    (
        "cure_least_salt",
        "cure|--thickness|12 mm|--faces|2|--at|3 °C|--salt|2.5 %|--core|2 %|--time|24 h|--find|least salt",
    ),
    (
        "cure_least_salt_of_a_share",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--goal|95 %|--time|24 h|--find|least salt",
    ),
    (
        "cure_least_salt_without_a_time",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--core|2 %|--find|least salt",
    ),
    (
        "cure_thickest_cut",
        "cure|--thickness|12 mm|--faces|2|--at|3 °C|--salt|2.5 %|--core|2 %|--time|24 h|--find|thickest cut",
    ),
    (
        "cure_shortest",
        "cure|--thickness|25 mm|--thin|20 mm|--thick|28 mm|--faces|2|--at|3 °C|--salt|4 %|--mean|2.2 % to 2.8 %|--find|shortest cure",
    ),
    (
        "cure_shortest_without_an_upper_end",
        "cure|--thickness|25 mm|--faces|1|--at|3 °C|--salt|2.5 %|--core|2 %|--find|shortest cure",
    ),
    (
        "emulsion_most_oil",
        "emulsion|--oil|200 g|--aqueous|60 g|--vinegar|20 g|--salt|2 g|--find|most oil",
    ),
    (
        "steep_thickest_cut",
        "steep|--thickness|3 mm|--goal|90 %|--time|8 h|--find|thickest cut",
    ),
    (
        "steep_thickest_cut_without_a_time",
        "steep|--thickness|3 mm|--goal|90 %|--find|thickest cut",
    ),
];

#[test]
fn every_answer_reads_as_it_did_and_fits_a_hundred_columns() {
    for (name, entries) in QUESTIONS {
        fits(name, entries);
        insta::with_settings!({ omit_expression => true, prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("science_{name}"), page(entries));
        });
    }
}

#[test]
fn every_figure_of_every_answer_says_why() {
    for (name, entries) in QUESTIONS {
        every_figure_says_why(name, entries);
    }
}

#[test]
fn every_number_above_the_small_print_is_a_figure_with_its_derivation() {
    let checked: usize = QUESTIONS
        .iter()
        .map(|(name, entries)| every_number_is_a_figure(name, entries))
        .sum();
    assert!(checked > 300, "only {checked} numbers were looked at");
}

#[test]
fn every_cure_says_that_it_is_not_validated_and_that_a_core_shows_nothing() {
    for (name, entries) in QUESTIONS.iter().filter(|(_, e)| e.starts_with("cure|")) {
        let told = ask(entries, false);
        if told.code != 2 {
            let words = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(words.contains("not validated on product data"), "{name}");
            assert!(words.contains("a calculated core shows nothing"), "{name}");
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_chance_and_another_one_nearly() {
    let entries = QUESTIONS[0].1;
    let chance = |more: &str| ask(&format!("{entries}{more}"), true).figure("chance");
    assert_eq!(chance(""), chance("|--seed|1"));
    let other = chance("|--seed|2");
    assert!(
        other != chance("") && (other - chance("")).abs() < 1.5,
        "{other}"
    );
}

#[test]
fn a_curve_is_written_where_it_was_named_and_nowhere_else() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    for word in [
        "cure|",
        "cook|",
        "cool|--depth",
        "cool|--reading",
        "dry|",
        "steep|",
        "pickle|",
        "emulsion|",
        "cure|--thickness|12 mm|--faces|2|--at|3 °C|--salt|2.5 %|--core|2 %|--time|24 h|--find|least salt",
        "cure|--thickness|12 mm|--faces|2|--at|3 °C|--salt|2.5 %|--core|2 %|--time|24 h|--find|thickest cut",
        "cure|--thickness|25 mm|--thin|20 mm|--thick|28 mm",
    ] {
        let (name, entries) = QUESTIONS.iter().find(|(_, e)| e.starts_with(word)).unwrap();
        let path = folder.join(format!("{name}.svg"));
        let _ = std::fs::remove_file(&path);
        let told = ask(&format!("{entries}|--curve|{}", path.display()), false);
        assert_ne!(told.code, 2, "{name}: {}", told.err);
        let svg = std::fs::read_to_string(&path).unwrap();
        assert!(svg.starts_with("<svg ") && svg.contains("<desc>"), "{name}");
    }
    let told = ask(&format!("{}|--curve|book.toml", QUESTIONS[0].1), false);
    assert_eq!(told.code, 2);
    assert!(told.err.contains("ending in .svg"), "{}", told.err);
    let told = ask(
        &format!(
            "{}|--curve|{}/no/such/place/c.svg",
            QUESTIONS[0].1,
            folder.display()
        ),
        false,
    );
    assert_eq!(told.code, 2);
}
