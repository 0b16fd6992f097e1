//! What cooks write, and what is read from it.

#![allow(clippy::panic, reason = "a test helper names the text that failed")]

use units::{
    Amount, Customary, LONGEST_TEXT, ReadError, read_amount, read_elapsed, read_length, read_mass,
    read_percent, read_ratio, read_temperature, read_temperature_difference, read_volume,
};

/// A figure in the unit of its kind: g, mL, mm, °C, %, ppm, s, pieces.
fn figure(amount: &Amount) -> f64 {
    match amount {
        Amount::Mass(mass) => mass.g(),
        Amount::Volume(volume) => volume.ml(),
        Amount::Length(length) => length.mm(),
        Amount::Temperature(point) => point.c(),
        Amount::Percent(pct) => *pct,
        Amount::Ppm(ppm) => ppm.ppm(),
        Amount::Elapsed(time) => time.seconds() as f64,
        Amount::Count(count) => count.n(),
        Amount::Vague { .. } | Amount::Range { .. } => f64::NAN,
    }
}

fn us(text: &str) -> Amount {
    read_amount(text, Customary::Us).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn refused(text: &str) -> ReadError {
    match read_amount(text, Customary::Us) {
        Err(error) => error,
        Ok(amount) => panic!("{text} was read as {amount}"),
    }
}

/// Kinds and figures worked by hand from the factor table (a cup is 236.588 236 5 mL,
/// a pound 453.592 37 g).
const READ: &[(&str, &str, f64)] = &[
    ("1 1/2 cups", "a volume", 354.882_354_75),
    ("1½ cups", "a volume", 354.882_354_75),
    ("1 ½ cups", "a volume", 354.882_354_75),
    ("¾ tsp", "a volume", 3.696_691_195_312_5),
    ("2 lb 3 oz", "a weight", 992.233_309_375),
    ("500 g", "a weight", 500.0),
    ("500g", "a weight", 500.0),
    ("500 G.", "a weight", 500.0),
    ("0.5 kg", "a weight", 500.0),
    (".5 kg", "a weight", 500.0),
    ("1,250 g", "a weight", 1250.0),
    ("1,250.5 g", "a weight", 1250.5),
    ("145 °F", "a temperature", 62.777_777_777_8),
    ("145F", "a temperature", 62.777_777_777_8),
    ("63 °C", "a temperature", 63.0),
    ("63C", "a temperature", 63.0),
    ("63 degrees C", "a temperature", 63.0),
    ("63 ℃", "a temperature", 63.0),
    ("-18 °C", "a temperature", -18.0),
    ("−18 °C", "a temperature", -18.0),
    ("2 cloves", "a count", 2.0),
    ("half a shallot", "a count", 0.5),
    ("half an onion", "a count", 0.5),
    ("2 large eggs", "a count", 2.0),
    ("2 bay leaves", "a count", 2.0),
    ("3 × quenelle", "a count", 3.0),
    ("3 x quenelle", "a count", 3.0),
    ("dozen", "a count", 12.0),
    ("a dozen", "a count", 12.0),
    ("half a dozen oysters", "a count", 6.0),
    ("2 dozen oysters", "a count", 24.0),
    ("1 US cup", "a volume", 236.588_236_5),
    ("1 metric cup", "a volume", 250.0),
    ("1 imperial cup", "a volume", 284.130_625),
    ("1 imperial pint", "a volume", 568.261_25),
    ("1 Australian tablespoon", "a volume", 20.0),
    ("2.5 %", "a percentage", 2.5),
    ("2.5%", "a percentage", 2.5),
    ("2.5 per cent", "a percentage", 2.5),
    ("156 ppm", "parts per million", 156.0),
    ("156 mg/kg", "parts per million", 156.0),
    ("25 mm", "a length", 25.0),
    ("1 in", "a length", 25.4),
    ("1/2\"", "a length", 12.7),
    ("1 h 30 min", "a time", 5400.0),
    ("6 d 22 h 30 min", "a time", 599_400.0),
    ("90 min", "a time", 5400.0),
    ("1.5 L", "a volume", 1500.0),
    ("1 qt", "a volume", 946.352_946),
    ("2 fl oz", "a volume", 59.147_059_125),
    ("2 fl. oz.", "a volume", 59.147_059_125),
    ("8 oz", "a weight", 226.796_185),
    ("1 gal", "a volume", 3_785.411_784),
    ("3 tbsp", "a volume", 44.360_294_343_75),
    ("a cup", "a volume", 236.588_236_5),
];

#[test]
fn amounts_are_read_as_written() {
    for (text, kind, expected) in READ {
        let amount = us(text);
        assert_eq!(amount.kind(), *kind, "{text}");
        let found = figure(&amount);
        assert!(
            (found - expected).abs() <= 1e-9 * expected.abs(),
            "{text}: {found}"
        );
    }
}

#[test]
fn a_range_has_two_ends_of_one_kind() {
    for text in [
        "18–24 h",
        "18-24 h",
        "18 to 24 hours",
        "18 h – 24 h",
        "18h-24h",
    ] {
        assert_eq!(us(text).to_string(), "18 h to 24 h", "{text}");
    }
    assert_eq!(us("-20 to -18 °C").to_string(), "-20 °C to -18 °C");
    assert_eq!(us("1-2 cloves").to_string(), "1 × clove to 2 × clove");
    assert_eq!(us("1 lb to 2 kg").to_string(), "453.59 g to 2,000 g");
}

#[test]
fn some_amounts_have_no_weight() {
    for text in [
        "a pinch",
        "pinch",
        "2 pinches",
        "A dash",
        "to taste",
        "a good splash",
        "as needed",
    ] {
        assert!(matches!(us(text), Amount::Vague { .. }), "{text}");
    }
}

#[test]
fn whose_cup_it_is_is_said_by_the_book() {
    let cup = |whose| figure(&read_amount("1 cup", whose).unwrap());
    assert_eq!(cup(Customary::Metric), 250.0);
    assert_eq!(cup(Customary::Imperial), 284.130_625);
    let error = read_amount("1 pint", Customary::Metric).unwrap_err();
    assert_eq!(
        error.to_string(),
        "found a pint where measures are metric, which have none; expected whose pint it is, such as US pint or imperial pint, \
         or millilitres; write US pint, imperial pint or the millilitres"
    );
}

/// Each text, the part of it the refusal points at, and words of the message.
const REFUSED: &[(&str, &str, &str)] = &[
    ("500", "500", "write the unit"),
    ("18 h to 24", "24", "bare number \"24\""),
    ("1,25 kg", "1,25", "write 1.25"),
    ("0,500 kg", "0,500", "comma that is not between thousands"),
    ("1.250,5 g", "1.250,5", "more than one decimal sign"),
    ("500 grms", "grms", "nearest known: grams"),
    ("3 tbps", "tbps", "tbsp"),
    ("4 zorkmids", "zorkmids", "write 4 × zorkmids"),
    ("2 c", "c", "cup or °C"),
    ("5 m", "m", "min or metre"),
    ("2 T", "T", "tablespoon"),
    ("63°", "°", "°C or °F"),
    ("3 gr", "gr", "gram or grain"),
    ("-5 g", "-5 g", "at least 0 g"),
    ("-0 lb 3 oz", "-0 lb 3 oz", "at least 0 g"),
    ("1e308 g", "1", "exponent"),
    ("2,000,000 kg", "2,000,000 kg", "at most 1,000,000,000 g"),
    ("NaN g", "NaN", "where a number should be"),
    ("inf g", "inf", "where a number should be"),
    ("-300 °C", "-300 °C", "at least -273.15 °C"),
    ("500 g salt", "salt", "after the amount"),
    ("3 oz 2 lb", "2 lb", "do not add up"),
    ("2 lb 3 min", "3 min", "do not add up"),
    ("1 250 g", "1 250", "two numbers side by side"),
    ("1/0 cup", "1/0", "0 below the line"),
    ("1/ cup", "1/", "nothing below the line"),
    ("1 3/2 cups", "1 3/2", "do not go together"),
    ("1-1/2 cups", "1-1/2 cups", "without a dash"),
    ("24–18 h", "24–18 h", "the smaller amount first"),
    ("1 h to 2 kg", "1 h to 2 kg", "two amounts of one kind"),
    ("3 ×", "×", "no name after it"),
    ("", "", "an amount such as 500 g"),
    ("salt", "salt", "write the number first"),
    ("500 ₴", "₴", "where a unit should be"),
];

#[test]
fn what_cannot_be_read_says_where_and_what_to_do() {
    for (text, at, says) in REFUSED {
        let error = refused(text);
        let message = error.to_string();
        assert!(message.contains(says), "{text}: {message}");
        let pointed = text
            .get(error.range.clone())
            .unwrap_or_else(|| panic!("{text}: {:?}", error.range));
        assert_eq!(pointed, *at, "{text}: {message}");
    }
}

#[test]
fn a_long_text_is_not_an_amount() {
    let long = "½".repeat(LONGEST_TEXT + 1);
    assert!(refused(&long).found.starts_with("201 characters"));
    let digits = format!("{} g", "9".repeat(190));
    assert!(refused(&digits).expected.contains("at most"));
}

#[test]
fn a_field_for_one_kind_refuses_another() {
    let error = read_mass("90 min").unwrap_err();
    assert!(
        error
            .to_string()
            .starts_with("found a time, \"90 min\"; expected a weight such as 500 g")
    );
    assert!(
        read_mass("500")
            .unwrap_err()
            .expected
            .contains("a weight such as 500 g")
    );
    assert_eq!(read_mass("1.5 kg").unwrap().g(), 1500.0);
    assert_eq!(
        read_volume("1 pint", Customary::Imperial).unwrap().ml(),
        568.261_25
    );
    assert_eq!(read_length("25 mm").unwrap().mm(), 25.0);
    assert_eq!(read_temperature("3 °C").unwrap().c(), 3.0);
    assert_eq!(read_percent("2.50 %").unwrap(), 2.5);
    assert_eq!(read_elapsed("12 min").unwrap().seconds(), 720);
    assert!(read_length("1 cup").is_err());
    assert!(
        read_temperature("3–4 °C")
            .unwrap_err()
            .found
            .starts_with("a range")
    );
    assert!(read_percent("2.5").is_err());
    assert!(read_elapsed("a pinch").is_err());
    assert!(read_volume("500 g", Customary::Us).is_err());
}

#[test]
fn a_ratio_is_a_number_alone() {
    assert_eq!(read_ratio("5/3").unwrap(), 5.0 / 3.0);
    assert_eq!(read_ratio("1 1/2").unwrap(), 1.5);
    assert_eq!(read_ratio(" 1.5 ").unwrap(), 1.5);
    for bad in ["", "1.5 g", "-2", "half", "1/0", "5/", "2x", "1e3"] {
        assert!(read_ratio(bad).is_err(), "{bad}");
    }
}

#[test]
fn a_temperature_difference_has_no_offset() {
    assert_eq!(read_temperature_difference("9 °F").unwrap().k(), 5.0);
    assert_eq!(read_temperature_difference("2 °C").unwrap().k(), 2.0);
    for bad in ["-2 °C", "2 °C 3 °C", "2 g", "2", "", "1–2 °C"] {
        assert!(read_temperature_difference(bad).is_err(), "{bad}");
    }
}
