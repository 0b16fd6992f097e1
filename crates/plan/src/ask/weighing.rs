//! Is what the scale shows what was wanted, and is it in the unit it was taken for?

use units::Mass;

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::{Sheet, weight_places};
use crate::figures::number;

/// How far a weight may be off, percent, where nobody says otherwise. Common practice, no source.
pub const TOLERANCE_PCT: f64 = 2.0;
/// From so many times too much, or too little, nothing is asked any more: it is stopped. House value.
pub const STOPS_AT: f64 = 20.0;

/// A weight from a number in one unit.
type InUnit = fn(f64) -> Result<Mass, units::QuantityError>;

/// The units a scale may stand in, with a gram's worth of each.
const UNITS: &[(&str, &str, InUnit)] = &[
    ("g", "grams", Mass::grams),
    ("kg", "kilograms", Mass::kilograms),
    ("oz", "ounces", Mass::ounces),
    ("lb", "pounds", Mass::pounds),
];

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighing {
    /// What was to be weighed.
    pub wanted: Mass,
    /// The number that was keyed in.
    pub keyed: f64,
    /// The unit it was taken for: g, kg, oz or lb.
    pub unit: &'static str,
    /// How far it may be off, percent.
    pub tolerance_pct: f64,
}

/// What a weight is to what was wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slip {
    /// Within the tolerance.
    Fits,
    /// Outside it, in a way a bench can mend.
    Off,
    /// The same number fits in another unit: which one was it?
    OtherUnit {
        /// That unit: g, kg, oz or lb.
        unit: &'static str,
        /// Its name in words.
        name: &'static str,
        /// What the number comes to in the unit it was keyed in, grams.
        found_g: f64,
        /// What it comes to in the other, grams.
        other_g: f64,
    },
    /// [`STOPS_AT`] times off and more.
    Stopped {
        /// What the number comes to, grams.
        found_g: f64,
        /// How many times too much, or too little.
        times: f64,
    },
}

/// Holds a weight against what was wanted, as data; [`weighing`] says the same in words.
///
/// # Errors
/// Nothing wanted, a tolerance that is none, a unit that is none, or a number no scale shows.
pub fn slip(ask: &Weighing) -> Result<Slip, Refusal> {
    let grams = |unit: &str| {
        UNITS
            .iter()
            .find(|(u, _, _)| *u == unit)
            .ok_or_else(|| {
                Refusal::new(
                    format!("found the unit \"{unit}\""),
                    "g, kg, oz or lb",
                    "read the unit off the scale",
                )
            })
            .and_then(|(_, _, mass)| mass(ask.keyed).map_err(Refusal::from))
    };
    let wanted = ask.wanted.g();
    if wanted <= 0.0 {
        return Err(Refusal::new(
            "--wanted: found nothing to weigh",
            "a weight above 0 g",
            "write what the sheet asks for",
        ));
    }
    if !(ask.tolerance_pct > 0.0 && ask.tolerance_pct < 100.0) {
        return Err(Refusal::new(
            format!("--tolerance: found {} %", ask.tolerance_pct),
            "above 0 % and below 100 %",
            "2 % is usual",
        ));
    }
    let found = grams(ask.unit)?.g();
    let fits = |g: f64| (100.0 * (g - wanted) / wanted).abs() <= ask.tolerance_pct;
    if fits(found) {
        return Ok(Slip::Fits);
    }
    for (unit, name, mass) in UNITS.iter().filter(|(u, _, _)| *u != ask.unit) {
        if let Ok(other) = mass(ask.keyed)
            && fits(other.g())
        {
            return Ok(Slip::OtherUnit {
                unit,
                name,
                found_g: found,
                other_g: other.g(),
            });
        }
    }
    let times = (found / wanted).max(wanted / found);
    Ok(if times >= STOPS_AT {
        Slip::Stopped {
            found_g: found,
            times,
        }
    } else {
        Slip::Off
    })
}

/// Compares them.
///
/// # Errors
/// A number that fits in another unit: which one was it? A weight [`STOPS_AT`] times off and more: stop.
pub fn weighing(ask: &Weighing) -> Result<Answer, Refusal> {
    let fits = match slip(ask)? {
        Slip::OtherUnit {
            unit,
            name,
            found_g,
            other_g,
        } => return Err(another_unit(ask, found_g, unit, name, other_g)),
        Slip::Stopped { found_g, times } => return Err(stopped(ask, found_g, times)),
        Slip::Fits => true,
        Slip::Off => false,
    };
    let mass = UNITS
        .iter()
        .find(|(u, _, _)| *u == ask.unit)
        .map(|(_, _, mass)| mass(ask.keyed))
        .transpose()?;
    let found = mass.map_or(0.0, Mass::g);
    let off_pct = 100.0 * (found - ask.wanted.g()) / ask.wanted.g();
    Ok(compared(ask, found, off_pct, fits))
}

/// A weight as it is said here: in grams, with the places of its size.
fn said(g: f64) -> String {
    format!("{} g", number(g, weight_places(g)))
}

fn another_unit(ask: &Weighing, found: f64, unit: &str, name: &str, other: f64) -> Refusal {
    let keyed = number(ask.keyed, super::sheet::places_of(ask.keyed));
    let mut refusal = Refusal::new(
        format!(
            "{keyed} {} where {} are wanted; {keyed} looks like {name}",
            ask.unit,
            said(ask.wanted.g())
        ),
        format!("{} within {} %", said(ask.wanted.g()), ask.tolerance_pct),
        format!(
            "look at the unit on the scale; if it stands in {name}, write {keyed} {unit}, then set it to grams"
        ),
    );
    refusal.readings = vec![
        format!("{keyed} {} is {}", ask.unit, said(found)),
        format!("{keyed} {unit} is {}", said(other)),
    ];
    refusal
}

fn stopped(ask: &Weighing, found: f64, times: f64) -> Refusal {
    Refusal::new(
        if found > 0.0 {
            format!(
                "{} where {} are wanted: {} times {}",
                said(found),
                said(ask.wanted.g()),
                number(times, 0),
                if found > ask.wanted.g() {
                    "too much"
                } else {
                    "too little"
                }
            )
        } else {
            format!("nothing where {} are wanted", said(ask.wanted.g()))
        },
        format!("{} within {} %", said(ask.wanted.g()), ask.tolerance_pct),
        "stop: nothing goes into the batch until somebody else has looked at scale, unit and sheet",
    )
}

fn compared(ask: &Weighing, found: f64, off_pct: f64, fits: bool) -> Answer {
    let mut sheet = Sheet::default();
    sheet.entered("wanted", ask.wanted.g(), "g");
    sheet.entered("found", found, "g");
    sheet.entered("tolerance", ask.tolerance_pct, "%");
    sheet.worked(
        "off",
        found - ask.wanted.g(),
        "g",
        weight_places(found),
        "found − wanted",
        &["found", "wanted"],
    );
    sheet.worked(
        "off.pct",
        off_pct,
        "%",
        1,
        "(found − wanted) ÷ wanted",
        &["found", "wanted"],
    );
    let shown = sheet
        .figures
        .get("off.pct")
        .map_or_else(String::new, crate::Figure::show);
    let over = found > ask.wanted.g();
    let word = if fits { "fits" } else { "does not fit" };
    Answer {
        question: "weighing",
        answer: format!("{shown}: {word}"),
        limit: format!(
            "{} of {} wanted; {} % either way",
            said(found),
            said(ask.wanted.g()),
            number(
                ask.tolerance_pct,
                super::sheet::places_of(ask.tolerance_pct)
            )
        ),
        next: match (fits, over) {
            (true, _) => "write it down with your initials".to_owned(),
            (false, true) => "take some off, and weigh it again".to_owned(),
            (false, false) => "put some on, and weigh it again".to_owned(),
        },
        details: Vec::new(),
        small: vec![(
            "source",
            format!(
                "2 % either way is common practice, no source; from {} times off it is stopped (house value)",
                number(STOPS_AT, 0)
            ),
        )],
        verdict: None,
        main: "off.pct",
        figures: sheet.figures,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(wanted: f64, keyed: f64, unit: &'static str) -> Result<Answer, Refusal> {
        weighing(&Weighing {
            wanted: Mass::grams(wanted).unwrap(),
            keyed,
            unit,
            tolerance_pct: TOLERANCE_PCT,
        })
    }

    /// 0.85 oz = 24.097 g, by the exact avoirdupois ounce (UCUM essence).
    #[test]
    fn ounces_on_a_gram_sheet_are_asked_about() {
        let refusal = asked(24.1, 0.85, "g").unwrap_err();
        assert!(
            refusal.found.contains("looks like ounces"),
            "{}",
            refusal.found
        );
        assert!(asked(24.1, 0.85, "oz").is_ok());
    }

    /// 24.1 on a scale in ounces is 683 g, 28 times too much.
    #[test]
    fn grams_keyed_on_an_ounce_scale_are_asked_about_and_far_off_stops() {
        let refusal = asked(24.1, 24.1, "oz").unwrap_err();
        assert!(
            refusal.found.contains("looks like grams"),
            "{}",
            refusal.found
        );
        let refusal = asked(24.1, 683.0, "g").unwrap_err();
        assert!(refusal.do_now.starts_with("stop"), "{}", refusal.do_now);
        assert!(
            refusal.found.contains("28 times too much"),
            "{}",
            refusal.found
        );
    }

    /// 138.0 of 139.5 g is −1.1 %, inside two percent.
    #[test]
    fn a_little_off_fits_and_more_does_not() {
        assert_eq!(asked(139.5, 138.0, "g").unwrap().answer, "−1.1 %: fits");
        assert!(
            asked(139.5, 130.0, "g")
                .unwrap()
                .answer
                .ends_with("does not fit")
        );
    }

    #[test]
    fn nothing_on_the_scale_stops_it() {
        assert!(
            asked(24.1, 0.0, "g")
                .unwrap_err()
                .found
                .starts_with("nothing")
        );
    }
}
