//! Laws of the reader: it never panics, and it reads back what is displayed.

use proptest::prelude::*;
use units::{
    Amount, Count, Customary, Elapsed, Length, Mass, Ppm, ReadError, Temperature, Volume,
    read_amount, read_elapsed, read_length, read_mass, read_percent, read_ratio, read_temperature,
    read_temperature_difference, read_volume,
};

const KITCHENS: [Customary; 3] = [Customary::Us, Customary::Metric, Customary::Imperial];

/// The range of a refusal is sliceable, so an editor can underline it.
fn lies_inside(text: &str, error: &ReadError) -> bool {
    text.get(error.range.clone()).is_some()
}

fn every_reader(text: &str) -> Result<(), TestCaseError> {
    for whose in KITCHENS {
        match read_amount(text, whose) {
            Err(error) => prop_assert!(lies_inside(text, &error), "{text:?}: {error:?}"),
            Ok(amount) => prop_assert!(!amount.to_string().is_empty()),
        }
    }
    let narrow = [
        read_mass(text).map(drop),
        read_volume(text, Customary::Metric).map(drop),
        read_length(text).map(drop),
        read_temperature(text).map(drop),
        read_temperature_difference(text).map(drop),
        read_percent(text).map(drop),
        read_elapsed(text).map(drop),
        read_ratio(text).map(drop),
    ];
    for error in narrow.into_iter().filter_map(Result::err) {
        prop_assert!(lies_inside(text, &error), "{text:?}: {error:?}");
    }
    Ok(())
}

/// Pieces of amounts in any order: reaches deeper into the grammar than free text.
fn shuffled_amount() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "1",
        "2",
        "1/2",
        "½",
        "1,250",
        "0.5",
        "9999999999999999999",
        "-",
        "–",
        "to",
        "g",
        "kg",
        "lb",
        "oz",
        "fl",
        "cup",
        "US",
        "metric",
        "imperial",
        "Australian",
        "pint",
        "°",
        "°C",
        "F",
        "C",
        "h",
        "min",
        "d",
        "%",
        "ppm",
        "in",
        "\"",
        "half",
        "a",
        "dozen",
        "×",
        "x",
        "cloves",
        "large",
        "bay",
        "leaves",
        "pinch",
        "taste",
        "/",
        "per",
        "cent",
        ".",
        ",",
        "é",
        "\u{301}",
        "\u{200b}",
    ]);
    let joint = prop::sample::select(vec!["", " ", " "]);
    prop::collection::vec((piece, joint), 0..9).prop_map(|pieces| {
        pieces
            .into_iter()
            .flat_map(|(piece, joint)| [piece, joint])
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        every_reader(&text)?;
    }

    #[test]
    fn any_shuffle_of_pieces_is_read_or_refused(text in shuffled_amount()) {
        every_reader(&text)?;
    }

    #[test]
    fn a_displayed_time_is_read_back_exactly(seconds in 0_i64..300_000_000) {
        let time = Elapsed::from_seconds(seconds).unwrap();
        prop_assert_eq!(read_elapsed(&time.to_string()).unwrap(), time);
    }

    #[test]
    fn a_displayed_weight_is_read_back_to_its_last_digit(g in 0.0..1e6_f64) {
        let mass = Mass::grams(g).unwrap();
        let back = read_mass(&mass.to_string()).unwrap();
        // Half of the last digit shown: 0.01 g below 10 kg, 1 g from there.
        let half_digit = if g >= 9_999.995 { 0.5 } else { 0.005 };
        prop_assert!((back.g() - g).abs() <= half_digit + 1e-9, "{mass}: {}", back.g());
    }

    #[test]
    fn a_weight_in_hundredths_is_read_back_exactly(hundredths in 0_u32..999_999) {
        let mass = Mass::grams(f64::from(hundredths) / 100.0).unwrap();
        prop_assert_eq!(read_mass(&mass.to_string()).unwrap(), mass);
    }

    #[test]
    fn every_displayed_amount_is_read_back_as_its_kind(n in 0.0..1000.0_f64, more in 1.0..2.0_f64) {
        let kinds = |n: f64| [
            Amount::Mass(Mass::grams(n).unwrap()),
            Amount::Volume(Volume::millilitres(n * 9.0).unwrap()),
            Amount::Length(Length::millimetres(n * 9.0).unwrap()),
            Amount::Temperature(Temperature::celsius(n - 200.0).unwrap()),
            Amount::Percent(n),
            Amount::Ppm(Ppm::new(n).unwrap()),
            Amount::Elapsed(Elapsed::from_minutes(n).unwrap()),
            Amount::Count(Count::new(n, "clove").unwrap()),
        ];
        for (low, high) in kinds(n).into_iter().zip(kinds(n * more)) {
            let kind = low.kind();
            prop_assert_eq!(read_amount(&low.to_string(), Customary::Us).unwrap().kind(), kind);
            let range = Amount::Range { low: Box::new(low), high: Box::new(high) };
            let back = read_amount(&range.to_string(), Customary::Us).unwrap();
            prop_assert_eq!(back.to_string(), range.to_string());
        }
    }
}
