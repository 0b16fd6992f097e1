//! Reading what was typed: an amount, a share, a strength, a pace, a price.

use std::str::FromStr;

use plan::ask::{Kind, Measure, Refusal};
use science::acid::Ph;
use science::brine::Strength;
use science::diffusion::Diffusivity;
use science::nitrite::Proportion;
use science::yields::Yield;
use units::{
    Amount, Base, Customary, Decimal, Elapsed, Fraction, Length, Mass, Money, Scale, Temperature,
    Volume, read_amount, read_elapsed, read_length, read_mass, read_percent, read_ratio,
    read_temperature,
};

/// A weight, for the entry named.
pub(super) fn mass(entry: &str, text: &str) -> Result<Mass, Refusal> {
    read_mass(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A percentage of a base.
pub(super) fn share(entry: &str, text: &str, base: &str) -> Result<Fraction, Refusal> {
    let pct = read_percent(text).map_err(|e| Refusal::from(e).about(entry))?;
    if pct > 100.0 {
        return Err(Refusal::new(
            format!("{entry}: found {pct} %"),
            "at most 100 %",
            "check the decimal point",
        ));
    }
    Ok(Fraction::percent(pct, Base::new(base)?)?)
}

/// A weight, or a volume of one of these kinds.
pub(super) fn measure(
    entry: &str,
    text: &str,
    cups: Customary,
    what: &str,
    kinds: Vec<Kind>,
) -> Result<Measure, Refusal> {
    match read_amount(text, cups) {
        Ok(Amount::Mass(mass)) => Ok(Measure::Weighed(mass)),
        Ok(Amount::Volume(volume)) => Ok(Measure::Poured {
            volume,
            written: text.trim().to_owned(),
            what: what.to_owned(),
            kinds,
        }),
        Ok(other) => Err(Refusal::new(
            format!("{entry}: found {}, \"{}\"", other.kind(), text.trim()),
            "a weight such as 500 g, or a volume such as 2 L",
            "write the weight",
        )),
        Err(error) => Err(Refusal::from(error).about(entry)),
    }
}

/// A volume.
pub(super) fn volume(entry: &str, text: &str, cups: Customary) -> Result<Volume, Refusal> {
    units::read_volume(text, cups).map_err(|e| Refusal::from(e).about(entry))
}

/// A brine strength: "60 SAL" or "10 %".
pub(super) fn strength(entry: &str, text: &str) -> Result<Strength, Refusal> {
    if let Some(degrees) = salometer(text) {
        let degrees = read_ratio(degrees).map_err(|e| Refusal::from(e).about(entry))?;
        return Strength::from_salometer(degrees).map_err(|e| Refusal::from(e).about(entry));
    }
    let pct = read_percent(text).map_err(|e| {
        let mut refusal = Refusal::from(e).about(entry);
        refusal.expected = "a strength such as 10 % or 60 SAL".to_owned();
        refusal
    })?;
    Strength::percent(pct).map_err(|e| Refusal::from(e).about(entry))
}

/// The number before "SAL", "°SAL" or "degrees SAL".
pub(super) fn salometer(text: &str) -> Option<&str> {
    let text = text.trim();
    let cut = text.len().checked_sub(3)?;
    let (number, unit) = (text.get(..cut)?, text.get(cut..)?);
    if !unit.eq_ignore_ascii_case("sal") {
        return None;
    }
    Some(
        number
            .trim_end()
            .trim_end_matches('°')
            .trim_end_matches("degrees")
            .trim_end(),
    )
}

/// Smallest pump taken for what it says, percent: below it a proportion was written with a % sign.
const LEAST_PUMP_PCT: f64 = 0.5;

/// A pump or pick-up: "10 %", or 0.10 as a proportion.
pub(super) fn proportion(entry: &str, text: &str) -> Result<Proportion, Refusal> {
    if let Ok(plain) = read_ratio(text) {
        return Proportion::new(plain).map_err(|e| {
            let mut refusal = Refusal::from(e).about(entry);
            refusal.expected =
                "a percent with its sign such as 10 %, or a proportion below 1 such as 0.10"
                    .to_owned();
            refusal.do_now = format!("did you mean {plain} %? write the sign");
            refusal
        });
    }
    let pct = read_percent(text).map_err(|e| Refusal::from(e).about(entry))?;
    if pct < LEAST_PUMP_PCT {
        return Err(Refusal::new(
            format!("{entry}: found {pct} %"),
            format!("at least {LEAST_PUMP_PCT} %"),
            format!(
                "did you mean {} %? write the percent of green weight the piece gains",
                pct * 100.0
            ),
        ));
    }
    Proportion::new(pct / 100.0).map_err(|e| Refusal::from(e).about(entry))
}

/// A yield: 0.62, or 62 %.
pub(super) fn one_yield(entry: &str, text: &str) -> Result<Yield, Refusal> {
    let ratio = match read_percent(text) {
        Ok(pct) => pct / 100.0,
        Err(_) => read_ratio(text).map_err(|e| Refusal::from(e).about(entry))?,
    };
    Yield::ratio_of(ratio).map_err(|e| Refusal::from(e).about(entry))
}

/// Yields one after another, set apart by blanks, commas or ×.
pub(super) fn chain(entry: &str, text: &str) -> Result<Vec<Yield>, Refusal> {
    text.replace(" %", "%")
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | '×' | 'x'))
        .filter(|part| !part.is_empty())
        .map(|part| one_yield(entry, part))
        .collect()
}

/// Minutes as a bare number, or a time with its unit.
pub(super) fn pace(entry: &str, text: &str) -> Result<Elapsed, Refusal> {
    if let Ok(minutes) = read_ratio(text) {
        return Ok(Elapsed::from_minutes(minutes)?);
    }
    read_elapsed(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A price as a plain decimal, a currency sign before it allowed.
pub(super) fn money(entry: &str, text: &str) -> Result<Money, Refusal> {
    let plain = text.trim().trim_start_matches(['$', '€', '£']).trim();
    let wrong = || {
        Refusal::new(
            format!("{entry}: found \"{}\"", text.trim()),
            "a sum of money such as 9.00",
            "write it with a point and no thousands sign",
        )
    };
    let amount = Decimal::from_str(plain).map_err(|_| wrong())?;
    if amount.is_sign_negative() {
        return Err(wrong());
    }
    Ok(Money::new(amount)?)
}

/// A scale: "0.1 g", or "0.1 g to 6 kg" with what it carries.
pub(super) fn scale(text: &str) -> Result<Scale, Refusal> {
    let entry = "--scale";
    let (step, capacity) = match text.split_once(" to ") {
        Some((step, most)) => (mass(entry, step)?, mass(entry, most)?),
        None => (mass(entry, text)?, Mass::grams(Mass::MOST_G)?),
    };
    Ok(Scale::new(&format!("{step} scale"), step, capacity)?)
}

/// A line of a mix: "white sugar 1.5 %".
pub(super) fn line(entry: &str, text: &str, base: &str) -> Result<(String, Fraction), Refusal> {
    let at = text.find(|c: char| c.is_ascii_digit()).filter(|at| *at > 0);
    let Some((name, pct)) = at.and_then(|at| text.split_at_checked(at)) else {
        return Err(Refusal::new(
            format!("{entry}: found \"{text}\""),
            "a name and its percent, such as \"white sugar 1.5 %\"",
            "write both",
        ));
    };
    Ok((name.trim().to_owned(), share(entry, pct, base)?))
}

/// A length.
pub(super) fn length(entry: &str, text: &str) -> Result<Length, Refusal> {
    read_length(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A point on a thermometer.
pub(super) fn temperature(entry: &str, text: &str) -> Result<Temperature, Refusal> {
    read_temperature(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A time with its unit.
pub(super) fn elapsed(entry: &str, text: &str) -> Result<Elapsed, Refusal> {
    read_elapsed(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A percentage; what it is of is the question's business.
pub(super) fn percent(entry: &str, text: &str) -> Result<f64, Refusal> {
    read_percent(text).map_err(|e| Refusal::from(e).about(entry))
}

/// Two percentages: "2.2 % to 2.8 %".
pub(super) fn percents(entry: &str, text: &str) -> Result<(f64, f64), Refusal> {
    let Some((least, most)) = text.split_once(" to ") else {
        return Err(Refusal::new(
            format!("{entry}: found \"{text}\""),
            "two percentages such as 2.2 % to 2.8 %",
            "write both, with their signs",
        ));
    };
    Ok((percent(entry, least)?, percent(entry, most)?))
}

/// A diffusivity in m²/s, written as a plain number or with an exponent.
pub(super) fn diffusivity(text: &str) -> Result<Diffusivity, Refusal> {
    let number: f64 = text.trim().parse().map_err(|_| {
        Refusal::new(
            format!("--diffusivity: found \"{text}\""),
            "a number in m²/s such as 1e-9",
            "write the number alone",
        )
    })?;
    Diffusivity::m2_per_s(number).map_err(|e| Refusal::from(e).about("--diffusivity"))
}

/// A plain number.
pub(super) fn ratio(entry: &str, text: &str) -> Result<f64, Refusal> {
    read_ratio(text).map_err(|e| Refusal::from(e).about(entry))
}

/// A pH.
pub(super) fn ph(entry: &str, text: &str) -> Result<Ph, Refusal> {
    Ph::new(ratio(entry, text)?).map_err(|e| Refusal::from(e).about(entry))
}

/// What is looked for, by its words.
pub(super) fn find<T: Copy>(words: &str, known: &[(&str, T)]) -> Result<T, Refusal> {
    let found = known.iter().find(|(name, _)| *name == words.trim());
    found.map(|(_, what)| *what).ok_or_else(|| {
        let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
        Refusal::new(
            format!("--find: found \"{words}\""),
            names.join(" or "),
            "write one of them",
        )
    })
}
