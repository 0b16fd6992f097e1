//! Our factors and conversions against figures that come from outside the project.

use units::{
    Amount, Customary, Mass, Temperature, TemperatureDifference, factors as f, read_amount,
};
use uom::si::f64::{
    Length as UomLength, Mass as UomMass, TemperatureInterval, ThermodynamicTemperature,
    Volume as UomVolume,
};
use uom::si::{length, mass, temperature_interval, thermodynamic_temperature, volume};

/// Every sum and quotient of a factor is within one rounding of a double.
const ONE_ROUNDING: f64 = f64::EPSILON;

/// What a table says one unit is worth: unit, our factor (mL, g), table's value, its unit, source.
/// Carried over from a table drawn up from the sources named in each row.
const TABLE: &[(&str, f64, f64, &str, &str)] = &[
    (
        "US gallon",
        f::ML_PER_US_GALLON,
        3.785_411_784,
        "L",
        "UCUM essence 2.2, [gal_us], 231 in^3",
    ),
    (
        "US quart",
        f::ML_PER_US_QUART,
        0.946_352_946,
        "L",
        "UCUM essence 2.2, [qt_us], gal/4",
    ),
    (
        "US pint",
        f::ML_PER_US_PINT,
        0.473_176_473,
        "L",
        "UCUM essence 2.2, [pt_us], qt/2",
    ),
    (
        "US fluid ounce",
        f::ML_PER_US_FLUID_OUNCE,
        29.573_529_562_5,
        "mL",
        "UCUM essence 2.2, [foz_us], gill/4",
    ),
    (
        "US cup",
        f::ML_PER_US_CUP,
        236.588_236_5,
        "mL",
        "UCUM essence 2.2, [cup_us], 16 tbs",
    ),
    (
        "US tablespoon",
        f::ML_PER_US_TABLESPOON,
        14.786_764_781_25,
        "mL",
        "UCUM essence 2.2, [tbs_us], fl oz/2",
    ),
    (
        "US teaspoon",
        f::ML_PER_US_TEASPOON,
        4.928_921_593_75,
        "mL",
        "UCUM essence 2.2, [tsp_us], tbs/3",
    ),
    (
        "metric tablespoon",
        f::ML_PER_METRIC_TABLESPOON,
        15.0,
        "mL",
        "UCUM essence 2.2, [tbs_m] (US label)",
    ),
    (
        "metric teaspoon",
        f::ML_PER_METRIC_TEASPOON,
        5.0,
        "mL",
        "UCUM essence 2.2, [tsp_m] (US label)",
    ),
    (
        "metric cup",
        f::ML_PER_METRIC_CUP,
        250.0,
        "mL",
        "GNU units definitions.units, line 3635",
    ),
    (
        "imperial gallon",
        f::ML_PER_IMPERIAL_GALLON,
        4.546_09,
        "L",
        "UCUM essence 2.2, [gal_br]",
    ),
    (
        "imperial quart",
        f::ML_PER_IMPERIAL_QUART,
        1.136_522_5,
        "L",
        "UCUM essence 2.2, [qt_br], gal/4",
    ),
    (
        "imperial pint",
        f::ML_PER_IMPERIAL_PINT,
        568.261_25,
        "mL",
        "UCUM essence 2.2, [pt_br], qt/2",
    ),
    (
        "imperial fluid ounce",
        f::ML_PER_IMPERIAL_FLUID_OUNCE,
        28.413_062_5,
        "mL",
        "UCUM essence 2.2, [foz_br], pt/20",
    ),
    (
        "imperial cup",
        f::ML_PER_IMPERIAL_CUP,
        284.130_625,
        "mL",
        "GNU units line 3666; pint default_en.txt line 676",
    ),
    (
        "British tablespoon",
        f::ML_PER_BRITISH_TABLESPOON,
        15.0,
        "mL",
        "GNU units line 3668",
    ),
    (
        "Australian tablespoon",
        f::ML_PER_AUSTRALIAN_TABLESPOON,
        20.0,
        "mL",
        "GNU units line 3680",
    ),
    (
        "pound avoirdupois",
        f::G_PER_LB,
        453.592_37,
        "g",
        "UCUM essence 2.2, [lb_av], 7000 gr",
    ),
    (
        "ounce avoirdupois",
        f::G_PER_OZ,
        28.349_523_125,
        "g",
        "UCUM essence 2.2, [oz_av], lb/16",
    ),
];

#[test]
fn factors_agree_with_the_tables() {
    for (unit, ours, value, table_unit, source) in TABLE {
        let value = if *table_unit == "L" {
            value * 1000.0
        } else {
            *value
        };
        assert!(
            (ours - value).abs() <= ONE_ROUNDING * value,
            "{unit}: {ours}, {source} has {value}"
        );
    }
}

/// The reader reaches the same factors by the words cooks write.
#[test]
fn words_reach_the_factors_of_the_tables() {
    for (unit, _, value, table_unit, source) in TABLE {
        let word = unit.replace(" avoirdupois", "");
        let read = read_amount(&format!("1 {word}"), Customary::Metric).unwrap();
        let found = match read {
            Amount::Volume(volume) => volume.ml(),
            Amount::Mass(mass) => mass.g(),
            other => panic!("{unit} was read as {other}"),
        };
        let value = if *table_unit == "L" {
            value * 1000.0
        } else {
            *value
        };
        assert!(
            (found - value).abs() <= ONE_ROUNDING * value,
            "{unit}: {found}, {source} has {value}"
        );
    }
}

/// The general-purpose library `uom` 0.38 holds most factors to seven significant digits,
/// so half a unit of the seventh digit is the most by which it can differ from an exact one:
/// 0.5e-6 of a number that begins with 1.
const UOM_SEVEN_DIGITS: f64 = 0.5e-6;

#[test]
fn factors_agree_with_uom_to_the_digits_it_holds() {
    let ml = |one: UomVolume| one.get::<volume::milliliter>();
    let g = |one: UomMass| one.get::<mass::gram>();
    let pairs = [
        (
            "gallon",
            f::ML_PER_US_GALLON,
            ml(UomVolume::new::<volume::gallon>(1.0)),
        ),
        (
            "quart",
            f::ML_PER_US_QUART,
            ml(UomVolume::new::<volume::quart_liquid>(1.0)),
        ),
        (
            "pint",
            f::ML_PER_US_PINT,
            ml(UomVolume::new::<volume::pint_liquid>(1.0)),
        ),
        (
            "cup",
            f::ML_PER_US_CUP,
            ml(UomVolume::new::<volume::cup>(1.0)),
        ),
        (
            "fluid ounce",
            f::ML_PER_US_FLUID_OUNCE,
            ml(UomVolume::new::<volume::fluid_ounce>(1.0)),
        ),
        (
            "tablespoon",
            f::ML_PER_US_TABLESPOON,
            ml(UomVolume::new::<volume::tablespoon>(1.0)),
        ),
        (
            "teaspoon",
            f::ML_PER_US_TEASPOON,
            ml(UomVolume::new::<volume::teaspoon>(1.0)),
        ),
        (
            "imperial gallon",
            f::ML_PER_IMPERIAL_GALLON,
            ml(UomVolume::new::<volume::gallon_imperial>(1.0)),
        ),
        (
            "imperial fluid ounce",
            f::ML_PER_IMPERIAL_FLUID_OUNCE,
            ml(UomVolume::new::<volume::fluid_ounce_imperial>(1.0)),
        ),
        ("pound", f::G_PER_LB, g(UomMass::new::<mass::pound>(1.0))),
        ("ounce", f::G_PER_OZ, g(UomMass::new::<mass::ounce>(1.0))),
        (
            "inch",
            f::MM_PER_INCH,
            UomLength::new::<length::inch>(1.0).get::<length::millimeter>(),
        ),
    ];
    for (unit, ours, uom) in pairs {
        let off = (ours - uom).abs() / ours;
        assert!(
            off <= UOM_SEVEN_DIGITS,
            "{unit}: ours {ours}, uom {uom}, off by {off:e}"
        );
    }
}

#[test]
fn temperatures_agree_with_uom_as_points_and_as_differences() {
    for fahrenheit in [-459.67, -40.0, 0.0, 32.0, 38.0, 41.0, 145.0, 212.0, 500.0] {
        let point = ThermodynamicTemperature::new::<thermodynamic_temperature::degree_fahrenheit>(
            fahrenheit,
        );
        let uom = point.get::<thermodynamic_temperature::degree_celsius>();
        let ours = Temperature::from_f(fahrenheit).unwrap().c();
        assert!(
            (ours - uom).abs() < 1e-10,
            "{fahrenheit} °F: ours {ours}, uom {uom}"
        );

        let gap = TemperatureInterval::new::<temperature_interval::degree_fahrenheit>(fahrenheit);
        let uom = gap.get::<temperature_interval::kelvin>();
        let ours = TemperatureDifference::from_f_degrees(fahrenheit)
            .unwrap()
            .k();
        assert!(
            (ours - uom).abs() < 1e-10,
            "{fahrenheit} °F apart: ours {ours}, uom {uom}"
        );
    }
}

/// What pint 0.25.3 (a general-purpose Python library) printed.
#[test]
fn conversions_agree_with_what_pint_printed() {
    let read = |text| read_amount(text, Customary::Us).unwrap();
    let Amount::Volume(gallon) = read("1 gal") else {
        panic!("a gallon is a volume")
    };
    assert_eq!(format!("{:.9}", gallon.litres()), "3.785411784");
    let Amount::Mass(pound) = read("1 lb") else {
        panic!("a pound is a weight")
    };
    assert_eq!(format!("{:.5}", pound.g()), "453.59237");
    let Amount::Temperature(point) = read("145 °F") else {
        panic!("°F is a temperature")
    };
    assert_eq!(format!("{:.4}", point.c()), "62.7778");
    assert_eq!(
        format!("{:.4}", Temperature::celsius(62.777_777_8).unwrap().f()),
        "145.0000"
    );
    assert_eq!(Mass::pounds(1.0).unwrap(), pound);
}
