//! Household measures: a cup of an ingredient of the shipped table, in grams.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use ::units::{Density, Volume};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The table keeps a density to four decimals and the source a cup to the gram: 0.5 g in 150 g.
const A_CUP: Tolerance = Tolerance::part(
    0.005,
    "the source gives whole grams, the table four decimals",
);

/// Densities of the shipped table by ingredient and form.
static SHIPPED: LazyLock<BTreeMap<(String, String), Density>> = LazyLock::new(|| {
    book::shipped_ingredients()
        .iter()
        .flat_map(|item| {
            item.density
                .iter()
                .map(|d| ((item.id.to_string(), d.form.clone()), d.density))
        })
        .collect()
});

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "measures",
    title: "Household measures",
    shows: "The shipped table carries the public food tables over without a slip. That a cook's cup weighs as much is another matter.",
    tables: &[table!("measures", "published.csv")],
    answer,
    tolerance: |_| A_CUP,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let key = (
        case.text("ingredient").unwrap_or_default().to_owned(),
        case.text("form").unwrap_or_default().to_owned(),
    );
    match SHIPPED.get(&key) {
        Some(density) => Ok(density
            .mass_of(Volume::millilitres(case.number("ml")?)?)
            .g()),
        None => Err(Unanswered::Unknown(format!("{} {}", key.0, key.1))),
    }
}
