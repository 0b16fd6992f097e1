//! Quick pickles by mass balance.

use ::units::{Base, Fraction, Mass};
use science::pickle::{of_all, vinegar_to_add};

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "pickle",
    title: "Pickle by mass balance",
    shows: "The arithmetic only. How soon a vegetable is even with its liquor is under diffusion.",
    tables: &[table!("pickle", "case.csv")],
    answer,
    tolerance: |_| DIGITS_OF_THE_TABLE,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let grams = |name: &str| -> Result<Mass, Unanswered> { Ok(Mass::grams(case.number(name)?)?) };
    let share = |name: &str| -> Result<Fraction, Unanswered> {
        Ok(Fraction::percent(
            case.number(name)?,
            Base::new("vinegar")?,
        )?)
    };
    Ok(match case.quantity.as_str() {
        "of_all" => of_all(grams("solute_g")?, grams("liquor_g")?, grams("edible_g")?)?.pct(),
        "vinegar_to_add" => vinegar_to_add(
            grams("acid_g")?,
            grams("all_g")?,
            &share("strength")?,
            &share("wanted")?,
        )?
        .g(),
        _ => return case.unknown(),
    })
}
