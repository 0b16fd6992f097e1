//! pH of clear liquors, the constants behind it, and a pickle by balance.

use ::units::{Mass, Temperature};
use science::acid::{Acid, Buffer, Liquor, Molality, Ph, PickleBalance};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Two Davies forms with constants of two compilations.
const LIQUOR: Tolerance = Tolerance::difference(
    0.02,
    "constants of two compilations (0.01) and activities of neutral molecules in one of them only; a bench meter reads to 0.02",
);

/// Salt and strong buffers.
const SALTED: Tolerance = Tolerance::difference(
    0.05,
    "the database gives neutral molecules an activity of 0.1 I, ours none: 0.05 at half a mole of ions",
);

/// Constants and balances printed to four decimals.
const FOUR_DECIMALS: Tolerance = Tolerance::difference(
    2e-4,
    "one remembered formula worked twice, printed to four decimals",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "acid",
    title: "Acid",
    shows: "Clear liquors agree with a geochemistry program inside a meter's reading. A pickle does not follow from that: buffer values of vegetables are assumed, and no calculated pH releases a batch.",
    tables: &[table!("acid", "reference.csv"), table!("acid", "case.csv")],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "pka" | "pickle" => FOUR_DECIMALS,
        _ if case.text("salt").is_some() || case.text("sodium_acetate").is_some() => SALTED,
        _ => LIQUOR,
    },
};

const ACIDS: [(&str, Acid); 4] = [
    ("acetic", Acid::Acetic),
    ("lactic", Acid::Lactic),
    ("citric", Acid::Citric),
    ("tartaric", Acid::Tartaric),
];

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let molal = |name: &str| -> Result<f64, Unanswered> { case.number_or(name, 0.0) };
    Ok(match case.quantity.as_str() {
        "ph" => {
            let base = molal("sodium_acetate")?;
            let mut acids = Vec::new();
            for (name, acid) in ACIDS {
                // Sodium acetate brings its acetic acid, and its sodium as strong base.
                let amount = molal(name)? + if acid == Acid::Acetic { base } else { 0.0 };
                if amount > 0.0 {
                    acids.push((acid, Molality::mol_per_kg(amount)?));
                }
            }
            let liquor = Liquor {
                acids,
                strong_base: Molality::mol_per_kg(base)?,
                salt: Molality::mol_per_kg(molal("salt")?)?,
                temperature: Temperature::celsius(25.0)?,
            };
            liquor.at_rest()?.ph.calculated()
        }
        "pka" => {
            let named = case.text("acid").unwrap_or_default();
            let Some((_, acid)) = ACIDS.iter().find(|(name, _)| *name == named) else {
                return case.unknown();
            };
            let all = acid.pka(Temperature::celsius(case.number("celsius")?)?)?;
            let step = case.number("step")? as usize;
            match step.checked_sub(1).and_then(|i| all.get(i)) {
                Some(pka) => *pka,
                None => return case.unknown(),
            }
        }
        "pickle" => {
            let beta = case.number("beta")?;
            let balance = PickleBalance {
                liquor: Mass::kilograms(case.number("liquor")?)?,
                acids: vec![(Acid::Acetic, Molality::mol_per_kg(case.number("acid")?)?)],
                vegetable: Mass::kilograms(case.number("veg")?)?,
                vegetable_ph: Ph::new(case.number("ph0")?)?,
                buffer: Buffer::mol_per_kg_ph(beta, beta)?,
                temperature: Temperature::celsius(25.0)?,
            };
            balance.bracket()?.highest.calculated()
        }
        _ => return case.unknown(),
    })
}
