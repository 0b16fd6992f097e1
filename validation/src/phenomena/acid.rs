//! pH of clear liquors, the constants behind it, and a pickle by balance.

use ::units::{Mass, Temperature};
use science::acid::{Acid, Buffer, Liquor, Molality, Ph, PickleBalance, Uptake};

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

/// A pickle from a trial of its vegetable.
const OF_TRIAL: Tolerance = Tolerance::difference(
    0.15,
    "a straight buffer for the curved one of a vegetable; 0.11 is what a model built on titrations is said to reach",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "acid",
    title: "Acid",
    shows: "Clear liquors agree with a geochemistry program inside a meter's reading. A pickle does not follow from that: buffer values of vegetables are assumed, and no calculated pH releases a batch.",
    tables: &[table!("acid", "reference.csv"), table!("acid", "case.csv")],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "pka" | "pickle" => FOUR_DECIMALS,
        "pickle_of_trial" => OF_TRIAL,
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
        "pickle_of_trial" => {
            let read = |name: &str| Ph::new(case.number(name)?).map_err(Unanswered::from);
            let liquor = |vinegar: f64, water: f64, salt: f64, vegetable: f64| {
                let water = water + vinegar * 0.95 + vegetable * 0.9;
                let acetic = Mass::grams(vinegar * 0.05)?;
                let all = Mass::grams(water)?;
                Ok::<_, Unanswered>((
                    Liquor {
                        acids: vec![(Acid::Acetic, Molality::of(Acid::Acetic, acetic, all)?)],
                        strong_base: Molality::ZERO,
                        salt: Molality::of_salt(Mass::grams(salt)?, all)?,
                        temperature: Temperature::celsius(25.0)?,
                    },
                    all,
                ))
            };
            let (trial, water) = liquor(case.number("trial_vinegar")?, 100.0, 0.0, 100.0)?;
            let bound = Uptake::of_trial(
                Mass::grams(100.0)?,
                water,
                &trial,
                read("before")?,
                read("after")?,
            )?;
            let vegetable = case.number("vegetable")?;
            let (pickle, water) = liquor(
                case.number("vinegar")?,
                case.number("water")?,
                case.number("salt")?,
                vegetable,
            )?;
            pickle
                .with_vegetable(Mass::grams(vegetable)?, water, &bound)?
                .ph
                .calculated()
        }
        _ => return case.unknown(),
    })
}
