//! Drawn spreads against their laws.

use science::spread::{Input, Outcome, Spread, draws};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Draws of a case.
const DRAWS: usize = 200_000;
/// The seed: any other does as well.
const SEED: u64 = 20_261_125;

/// The 5 % mark of a log-normal with a factor of three is the worst: 2 % is four standard errors of 200 000 draws.
const DRAWING: Tolerance = Tolerance::part(
    0.02,
    "the error of 200 000 draws: four standard errors at the outer mark of the widest law",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "spread",
    title: "Spread of inputs",
    shows: "Draws follow the laws they are named for. That an input has such a law is the house's word.",
    tables: &[table!("spread", "case.csv")],
    answer,
    tolerance: |_| DRAWING,
};

fn law(text: &str) -> Result<Spread, Unanswered> {
    let wrong = || Unanswered::Input {
        name: "law".to_owned(),
        found: text.to_owned(),
    };
    let mut parts = text.split(':');
    let name = parts.next().unwrap_or_default();
    let figures: Vec<f64> = parts
        .map(|part| part.parse().map_err(|_| wrong()))
        .collect::<Result<_, _>>()?;
    Ok(match (name, figures.as_slice()) {
        ("normal", &[mean, sd]) => Spread::Normal { mean, sd },
        ("lognormal", &[median, factor]) => Spread::LogNormal { median, factor },
        ("uniform", &[low, high]) => Spread::Uniform { low, high },
        ("triangular", &[low, mode, high]) => Spread::Triangular { low, mode, high },
        _ => return Err(wrong()),
    })
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let none = || Unanswered::Unknown("a known result".to_owned());
    let everywhere = f64::NEG_INFINITY..=f64::INFINITY;
    let input = |name: &str, text: &str| -> Result<Input, Unanswered> {
        Ok(Input::new(name, law(text)?, everywhere.clone())?)
    };
    let alone = || -> Result<Outcome, Unanswered> {
        let drawn = input("it", case.text("law").unwrap_or_default())?;
        Ok(draws(&[drawn], DRAWS, SEED, |v| v.first().copied())?)
    };
    Ok(match case.quantity.as_str() {
        "quantile" => alone()?.quantile(case.number("share")?)?.ok_or_else(none)?,
        "mean" => alone()?.mean().ok_or_else(none)?,
        "chance_of_sum" => {
            let both = [
                input("a", case.text("a").unwrap_or_default())?,
                input("b", case.text("b").unwrap_or_default())?,
            ];
            let above = case.number("above")?;
            let sum = draws(&both, DRAWS, SEED, |v| Some(v.iter().sum()))?;
            sum.probability(|s| s > above)
                .share_of_known()
                .ok_or_else(none)?
        }
        _ => return case.unknown(),
    })
}
