//! The pH a pickle may come to: a calculation with its spread, and never a release.

use science::ScienceError;
use science::acid::{ASSUMED_BUFFER, Acid, Liquor, Molality, Ph, Uptake};
use science::inverse::{Limit, Search, SearchError};
use science::spread::{Input, Outcome, Spread, draws};
use sources::list;
use units::{Mass, Temperature};

use super::{PH_LEGAL, PH_TARGET, Pickle};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;
use crate::figures::number;

/// What the equations are, once for all formulas.
pub(super) const PROTONS: &str = "charge balance [H⁺] + β × vegetable × (pH raw − pH) ÷ water = [OH⁻] + \
     Σ c z̄(pH) at 25 °C; pK of Harned and Ehlers and others, ions by Davies (all from memory)";
/// Draws for a chance, and for each step of a search and of the picture.
const DRAWS: usize = 10_000;
pub(super) const SEARCH_DRAWS: usize = 1_000;
/// Draws in a hundred that are to come to the target before an amount is said to do.
const SURE_PCT: f64 = 95.0;
/// Spreads of the inputs; house values: what a strip or meter, a label and a bench scale leave open.
const PH_SD: f64 = 0.1;
const STRENGTH_SD_OF_IT: f64 = 0.02;
const WEIGHTS_SD: f64 = 0.01;
const WATER_SD_PCT: f64 = 2.0;
/// Of the model itself, pH: what a model built on titrations is said to reach, taken as one deviation.
const MODEL_SD_PH: f64 = 0.11;
/// Factor a buffer of one trial, and one entered as a single number, may be off either way. House values:
/// the vegetable of the next delivery is not the one of the trial.
const TRIAL_SPREAD: f64 = 1.3;
const ENTERED_SPREAD: f64 = 1.5;
/// Normal deviate that leaves one draw in forty on either side (tables of the normal distribution).
const Z_95: f64 = 1.96;
/// Most vinegar looked at, times the vegetable, and the strengths looked at, percent. House values.
const MOST_VINEGAR: f64 = 5.0;
const STRENGTHS_PCT: (f64, f64) = (0.5, 20.0);

/// What is known of how the vegetable binds acid.
#[derive(Debug, Clone, PartialEq)]
pub enum Buffering {
    /// Nothing. Then its pickle has no calculated pH.
    Unknown,
    /// A range of buffer capacity, mmol for each kilogram and unit of pH, and the pH of the raw vegetable.
    Between {
        /// pH of the raw vegetable.
        raw: Ph,
        /// Least, mmol/(kg pH).
        least: f64,
        /// Most, mmol/(kg pH).
        most: f64,
    },
    /// The range assumed of a vegetable nobody measured, asked for by name.
    Assumed {
        /// pH of the raw vegetable.
        raw: Ph,
    },
    /// A trial with the same vinegar.
    Trial {
        /// Vegetable blended.
        vegetable: Mass,
        /// In so much water.
        water: Mass,
        /// Vinegar added until the pH stood at `after`.
        vinegar: Mass,
        /// pH before the vinegar.
        before: Ph,
        /// pH after it.
        after: Ph,
    },
}

/// What is poured on what.
#[derive(Debug, Clone, PartialEq)]
struct Batch {
    vinegar_g: f64,
    strength: f64,
    water_g: f64,
    salt_g: f64,
    acids: Vec<(Acid, f64)>,
    vegetable_g: f64,
    water_pct: f64,
    raw: f64,
    buffer_mmol: f64,
}

impl Batch {
    fn all_water(&self) -> Result<Mass, ScienceError> {
        let vinegar = self.vinegar_g * (1.0 - self.strength);
        let vegetable = self.vegetable_g * self.water_pct / 100.0;
        Ok(Mass::grams(vinegar + self.water_g + vegetable)?)
    }

    fn ph(&self) -> Result<f64, ScienceError> {
        let water = self.all_water()?;
        let acetic = (Acid::Acetic, self.vinegar_g * self.strength);
        let acids = core::iter::once(&acetic)
            .chain(&self.acids)
            .map(|(acid, g)| Ok((*acid, Molality::of(*acid, Mass::grams(*g)?, water)?)))
            .collect::<Result<_, ScienceError>>()?;
        let liquor = Liquor {
            acids,
            strong_base: Molality::ZERO,
            salt: Molality::of_salt(Mass::grams(self.salt_g)?, water)?,
            temperature: Temperature::celsius(25.0)?,
        };
        let uptake = Uptake::new(self.buffer_mmol / 1000.0, Ph::new(self.raw)?)?;
        let even = liquor.with_vegetable(Mass::grams(self.vegetable_g)?, water, &uptake)?;
        Ok(even.ph.calculated())
    }
}

/// A pickle whose pH can be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sour {
    batch: Batch,
    buffer: Spread,
    seed: u64,
}

/// What a search varies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Varied {
    /// Grams of the vinegar.
    Vinegar,
    /// Its acid, percent.
    Strength,
}

/// Where a search ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Found {
    At(f64),
    Everywhere,
    Nowhere,
}

/// What the question says of the liquor, weighed.
pub(super) struct Weighed {
    pub(super) vinegar: Mass,
    pub(super) water: Mass,
    pub(super) salt: Mass,
}

impl Sour {
    /// The pickle as it was asked; why there is no pH to reckon otherwise.
    ///
    /// # Errors
    /// A trial that cannot have been.
    pub(super) fn of(ask: &Pickle, weighed: &Weighed) -> Result<Result<Self, String>, Refusal> {
        let Some((water_pct, _)) = ask.edible_water.as_ref() else {
            return Ok(Err(match ask.buffering {
                Buffering::Unknown => NO_BUFFER.to_owned(),
                _ => "unknown: the water of the vegetable is not known; name it with --item, or --ep-water"
                    .to_owned(),
            }));
        };
        let strength = ask.strength.ratio();
        let (raw, middle, buffer) = match &ask.buffering {
            Buffering::Unknown => return Ok(Err(NO_BUFFER.to_owned())),
            Buffering::Between { raw, least, most } if least < most => {
                let (low, high) = (*least, *most);
                (
                    *raw,
                    f64::midpoint(low, high),
                    Spread::Uniform { low, high },
                )
            }
            Buffering::Between { raw, most, .. } => (*raw, *most, around(*most, ENTERED_SPREAD)),
            Buffering::Assumed { raw } => {
                let (low, high) = assumed();
                (
                    *raw,
                    f64::midpoint(low, high),
                    Spread::Uniform { low, high },
                )
            }
            Buffering::Trial {
                vegetable,
                water,
                vinegar,
                before,
                after,
            } => {
                let acid = Mass::grams(vinegar.g() * strength)?;
                let all = Mass::grams(
                    water.g() + vegetable.g() * water_pct / 100.0 + vinegar.g() - acid.g(),
                )?;
                let liquor = Liquor {
                    acids: vec![(Acid::Acetic, Molality::of(Acid::Acetic, acid, all)?)],
                    strong_base: Molality::ZERO,
                    salt: Molality::ZERO,
                    temperature: Temperature::celsius(25.0)?,
                };
                let found = Uptake::of_trial(*vegetable, all, &liquor, *before, *after)
                    .map_err(|e| Refusal::from(e).about("--trial"))?;
                let mmol = found.mol_per_kg_ph() * 1000.0;
                (*before, mmol, around(mmol, TRIAL_SPREAD))
            }
        };
        let sour = Self {
            batch: Batch {
                vinegar_g: weighed.vinegar.g(),
                strength,
                water_g: weighed.water.g(),
                salt_g: weighed.salt.g(),
                acids: ask.acids.iter().map(|(a, m)| (*a, m.g())).collect(),
                vegetable_g: ask.edible.g(),
                water_pct: *water_pct,
                raw: raw.ph(),
                buffer_mmol: middle,
            },
            buffer,
            seed: ask.seed,
        };
        // Too salty for the formula of ions is no wrong question: the rest of the answer stands.
        Ok(match sour.batch.ph() {
            Ok(_) => Ok(sour),
            Err(ScienceError::OutOfRange {
                what,
                found,
                most,
                unit,
                ..
            }) => Err(format!(
                "unknown: {what} comes to {}, and the formula ends at {} {unit}; less salt, or read it",
                number(found, 2),
                number(most, 2)
            )),
            Err(error) => Err(format!("unknown: {error}")),
        })
    }

    fn inputs(&self) -> Result<Vec<Input>, ScienceError> {
        let normal = |name: &str, mean: f64, sd: f64, low: f64, high: f64| {
            Input::new(name, Spread::Normal { mean, sd }, low..=high)
        };
        let (s, w) = (self.batch.strength, self.batch.water_pct);
        Ok(vec![
            Input::new("buffer of the vegetable", self.buffer, 0.0..=200.0)?,
            normal("pH of the raw vegetable", self.batch.raw, PH_SD, 0.0, 14.0)?,
            normal(
                "strength of the vinegar",
                s,
                (s * STRENGTH_SD_OF_IT).max(1e-9),
                0.0,
                1.0,
            )?,
            normal("weights", 1.0, WEIGHTS_SD, 0.5, 1.5)?,
            normal("water of the vegetable", w, WATER_SD_PCT, 20.0, 98.0)?,
            normal("the model itself", 0.0, MODEL_SD_PH, -2.0, 2.0)?,
        ])
    }

    pub(super) fn drawn(&self, count: usize) -> Result<Outcome, ScienceError> {
        draws(&self.inputs()?, count, self.seed, |v| {
            let [buffer_mmol, raw, strength, weights, water_pct, model] = *v else {
                return None;
            };
            let batch = Batch {
                vinegar_g: self.batch.vinegar_g * weights,
                strength,
                water_pct,
                raw,
                buffer_mmol,
                ..self.batch.clone()
            };
            Some(batch.ph().ok()? + model)
        })
    }

    /// The same with something else in its place.
    pub(super) fn with(&self, varied: Varied, value: f64) -> Self {
        let mut other = self.clone();
        match varied {
            Varied::Vinegar => other.batch.vinegar_g = value,
            Varied::Strength => other.batch.strength = value / 100.0,
        }
        other
    }

    /// The value asked with, in the unit it is varied in.
    pub(super) fn asked(&self, varied: Varied) -> f64 {
        match varied {
            Varied::Vinegar => self.batch.vinegar_g,
            Varied::Strength => self.batch.strength * 100.0,
        }
    }

    /// The range it is looked for in.
    pub(super) fn range(&self, varied: Varied) -> (f64, f64) {
        match varied {
            Varied::Vinegar => (0.0, MOST_VINEGAR * self.batch.vegetable_g),
            Varied::Strength => STRENGTHS_PCT,
        }
    }

    /// The least with which [`SURE_PCT`] draws in a hundred come to the target.
    pub(super) fn least(&self, varied: Varied) -> Result<Found, ScienceError> {
        let (low, high) = self.range(varied);
        let (what, fine) = match varied {
            Varied::Vinegar => ("vinegar, g", (high / 10_000.0).max(0.05)),
            Varied::Strength => ("strength of the vinegar, %", 0.01),
        };
        let search = Search::new(what, low, high, fine)?;
        let found = search.least(|x| {
            let outcome = self.with(varied, x).drawn(SEARCH_DRAWS)?;
            let high = outcome.quantile(SURE_PCT / 100.0)?;
            Ok(outcome.unknown() == 0 && high.is_some_and(|ph| ph <= PH_TARGET))
        });
        match found {
            Ok(Limit { fails_at: None, .. }) => Ok(Found::Everywhere),
            Ok(limit) => Ok(Found::At(limit.x)),
            Err(ScienceError::Search(SearchError::NeverHolds { .. })) => Ok(Found::Nowhere),
            Err(other) => Err(other),
        }
    }
}

const NO_BUFFER: &str =
    "unknown: nobody said how this vegetable binds acid, and no value is published";

/// The range assumed of a vegetable nobody measured, mmol/(kg pH).
fn assumed() -> (f64, f64) {
    (
        ASSUMED_BUFFER.least() * 1000.0,
        ASSUMED_BUFFER.most() * 1000.0,
    )
}

fn around(median: f64, spread: f64) -> Spread {
    Spread::LogNormal {
        median: median.max(1e-6),
        factor: spread.powf(1.0 / Z_95),
    }
}

/// What the answer says of the pH.
pub(super) struct Told {
    pub(super) rows: Vec<String>,
    /// Whether even the sour side of the spread lies above the legal line.
    pub(super) broken: bool,
    /// Whether the draws come to the target often enough.
    pub(super) likely: bool,
    /// The least vinegar that does, where there is one.
    pub(super) least: Option<Found>,
}

const UNIT: &str = "mmol/(kg pH)";

/// Puts pH, spread, chances and searches on the sheet; the rows under the answer.
pub(super) fn told(ask: &Pickle, sour: &Sour, sheet: &mut Sheet) -> Result<Told, Refusal> {
    let from = enter(ask, sour, sheet)?;
    let ids: Vec<&str> = from.iter().map(String::as_str).collect();
    sheet.worked("ph", sour.batch.ph()?, "", 2, PROTONS, &ids);
    let spreads = [
        ("draws.ph", PH_SD, "", "pH of the raw vegetable"),
        (
            "draws.strength",
            STRENGTH_SD_OF_IT * 100.0,
            "% of it",
            "strength",
        ),
        ("draws.weights", WEIGHTS_SD * 100.0, "% of them", "weights"),
        ("draws.water", WATER_SD_PCT, "%", "water of the vegetable"),
    ];
    for (id, sd, unit, of) in spreads {
        let place = format!("standard deviation of the draws: {of}");
        sheet.known(id, sd, unit, &list::HOUSE, &place);
    }
    let place = "taken as one standard deviation of the model itself";
    sheet.known("draws.model", MODEL_SD_PH, "", &list::PRICE_2020, place);
    sheet.known("draws", DRAWS as f64, "", &list::HOUSE, "");
    sheet.known("draws.seed", sour.seed as f64, "", &list::ENTERED, "");
    let outcome = sour.drawn(DRAWS)?;
    let drawn: Vec<&str> = ids
        .iter()
        .copied()
        .chain(spreads.iter().map(|(id, ..)| *id))
        .chain(["draws.model", "draws", "draws.seed"])
        .collect();
    let marks = outcome.quantiles().ok_or_else(|| {
        Refusal::new(
            "found no draw with a pH",
            "a liquor the formula of ions holds for",
            "less salt, or leave the buffer out and measure",
        )
    })?;
    for (id, value, mark) in [("ph.low", marks.p5, 5), ("ph.high", marks.p95, 95)] {
        let formula = format!("{mark} draws in a hundred lie below; each draw: {PROTONS}");
        sheet.worked(id, value, "", 2, &formula, &drawn);
    }
    let mut rows = vec![row(
        "pH, calculated",
        &sheet.show("ph"),
        &format!(
            "nine draws in ten {} to {}",
            sheet.show("ph.low"),
            sheet.show("ph.high")
        ),
    )];
    let likely = outcome.probability(|ph| ph <= PH_TARGET);
    chance(
        "chance.target",
        likely,
        "at or below the target",
        &drawn,
        sheet,
    );
    rows.push(row(
        &format!("chance of {} or below", sheet.show("ph.target")),
        &sheet.show("chance.target"),
        &format!(
            "{} to {}, {} draws",
            sheet.bare("chance.target.low"),
            sheet.show("chance.target.high"),
            sheet.show("draws")
        ),
    ));
    let over = outcome.probability(|ph| ph > PH_LEGAL);
    chance("chance.legal", over, "above the legal line", &drawn, sheet);
    rows.push(row(
        &format!("chance above {}", sheet.show("ph.legal")),
        &sheet.show("chance.legal"),
        &format!(
            "{} to {}",
            sheet.bare("chance.legal.low"),
            sheet.show("chance.legal.high")
        ),
    ));
    if outcome.unknown() > 0 {
        let formula = "draws the formula of ions refuses";
        sheet.worked(
            "draws.unknown",
            outcome.unknown() as f64,
            "draws",
            0,
            formula,
            &["draws"],
        );
        rows.push(row("without an answer", &sheet.show("draws.unknown"), ""));
    }
    rows.extend(matters(&outcome, sheet));
    let least = searches(sour, &drawn, sheet, &mut rows)?;
    Ok(Told {
        rows,
        broken: marks.p5 > PH_LEGAL,
        likely: likely
            .share_of_known()
            .is_some_and(|p| p * 100.0 >= SURE_PCT),
        least: Some(least),
    })
}

fn row(what: &str, figure: &str, note: &str) -> String {
    let row = format!("{what:<26}{figure:>12}   {note}");
    row.trim_end().to_owned()
}

/// What the pH hangs on, put on the sheet; the ids.
fn enter(ask: &Pickle, sour: &Sour, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    let water = sour.batch.all_water()?;
    let mut parts = vec!["vinegar", "strength", "edible", "edible.water"];
    for id in ["water"] {
        if sheet.figures.get(id).is_some() {
            parts.push(id);
        }
    }
    let formula = "water of vinegar, liquor and vegetable, mass balance";
    sheet.worked("water.all", water.g(), "g", 0, formula, &parts);
    let mut from: Vec<String> = vec![
        "acid.g".to_owned(),
        "water.all".to_owned(),
        "edible".to_owned(),
    ];
    if sheet.figures.get("salt").is_some() {
        from.push("salt".to_owned());
    }
    from.extend((1..=ask.acids.len()).map(|i| format!("acid.other.{i}")));
    match &ask.buffering {
        Buffering::Unknown => {}
        Buffering::Between { raw, least, most } => {
            sheet.entered("raw.ph", raw.ph(), "");
            if least < most {
                sheet.entered("buffer.least", *least, UNIT);
                sheet.entered("buffer.most", *most, UNIT);
                middle(sour, sheet);
            } else {
                sheet.entered("buffer", *most, UNIT);
                let place = "a buffer entered as one number, either way";
                sheet.known(
                    "buffer.spread",
                    ENTERED_SPREAD,
                    "times",
                    &list::HOUSE,
                    place,
                );
                from.push("buffer.spread".to_owned());
            }
            from.push("raw.ph".to_owned());
        }
        Buffering::Assumed { raw } => {
            sheet.entered("raw.ph", raw.ph(), "");
            let (least, most) = assumed();
            let place = "assumed of any vegetable, measured of none";
            sheet.known("buffer.least", least, UNIT, &list::HOUSE, place);
            sheet.known("buffer.most", most, UNIT, &list::HOUSE, place);
            middle(sour, sheet);
            from.push("raw.ph".to_owned());
        }
        Buffering::Trial {
            vegetable,
            water,
            vinegar,
            before,
            after,
        } => {
            for (id, value, unit) in [
                ("trial.vegetable", vegetable.g(), "g"),
                ("trial.water", water.g(), "g"),
                ("trial.vinegar", vinegar.g(), "g"),
                ("trial.before", before.ph(), ""),
                ("trial.after", after.ph(), ""),
            ] {
                sheet.entered(id, value, unit);
            }
            let formula = "given off by the acetic acid at the pH after ÷ (vegetable × (pH before − pH after)); \
                 pK and activities as for the pH";
            sheet.worked(
                "buffer",
                sour.batch.buffer_mmol,
                UNIT,
                1,
                formula,
                &[
                    "trial.vegetable",
                    "trial.water",
                    "trial.vinegar",
                    "trial.before",
                    "trial.after",
                    "strength",
                    "edible.water",
                ],
            );
            let place = "a buffer of one trial, either way";
            sheet.known("buffer.spread", TRIAL_SPREAD, "times", &list::HOUSE, place);
            from.extend(["buffer.spread".to_owned(), "trial.before".to_owned()]);
        }
    }
    from.push("buffer".to_owned());
    Ok(from)
}

fn middle(sour: &Sour, sheet: &mut Sheet) {
    let from = ["buffer.least", "buffer.most"];
    let value = sour.batch.buffer_mmol;
    sheet.worked("buffer", value, UNIT, 1, "middle of the two", &from);
}

/// A counted chance with its interval, on the sheet.
fn chance(
    id: &str,
    chance: science::spread::Probability,
    what: &str,
    from: &[&str],
    sheet: &mut Sheet,
) {
    let share = chance.share_of_known().unwrap_or(f64::NAN) * 100.0;
    // Near certainty the digits after the point are what is left of the doubt.
    let places = if (1.0..=99.0).contains(&share) { 0 } else { 2 };
    let formula = format!("draws {what} ÷ draws that can be answered; each draw: {PROTONS}");
    sheet.worked(id, share, "%", places, &formula, from);
    let wilson = "Wilson's interval of a counted share, 95 % (Wilson 1927, from memory)";
    for (end, value) in [("low", chance.low), ("high", chance.high)] {
        let end = format!("{id}.{end}");
        sheet.worked(&end, value * 100.0, "%", places, wilson, &[id, "draws"]);
    }
}

/// The two inputs that matter most, a row each.
fn matters(outcome: &Outcome, sheet: &mut Sheet) -> Vec<String> {
    let told: Vec<String> = outcome
        .influences()
        .iter()
        .filter(|influence| influence.variance_share >= 0.01)
        .take(2)
        .enumerate()
        .map(|(i, influence)| {
            let id = format!("matters.{}", i + 1);
            let formula = format!(
                "{}: variance between 50 groups of it ÷ variance of all (first-order share)",
                influence.name
            );
            let value = influence.variance_share * 100.0;
            sheet.worked(&id, value, "%", 0, &formula, &["draws", "draws.seed"]);
            let what = if i == 0 { "what matters most" } else { "then" };
            row(
                what,
                &sheet.show(&id),
                &format!("of the spread: {}", influence.name),
            )
        })
        .collect();
    if told.is_empty() {
        return vec![row("what matters most", "", "nothing alone moves it")];
    }
    told
}

fn searches(
    sour: &Sour,
    drawn: &[&str],
    sheet: &mut Sheet,
    rows: &mut Vec<String>,
) -> Result<Found, Refusal> {
    sheet.known(
        "sure",
        SURE_PCT,
        "draws",
        &list::HOUSE,
        "of a hundred that are to come to the target",
    );
    let place = "for each step of a search";
    sheet.known("search.draws", SEARCH_DRAWS as f64, "", &list::HOUSE, place);
    let from: Vec<&str> = drawn
        .iter()
        .copied()
        .filter(|id| !matches!(*id, "acid.g" | "draws"))
        .chain(["ph.target", "sure", "search.draws"])
        .collect();
    let mut of_vinegar = Found::Nowhere;
    for (varied, id, what) in [
        (Varied::Vinegar, "least.vinegar", "least vinegar"),
        (Varied::Strength, "weakest", "weakest vinegar"),
    ] {
        let found = sour.least(varied)?;
        let what = format!("{what} for {}", sheet.show("ph.target"));
        let held = match varied {
            Varied::Vinegar => "the rest as it is",
            Varied::Strength => "as much of it",
        };
        let (_, most) = sour.range(varied);
        let unit = if varied == Varied::Vinegar { "g" } else { "%" };
        let limit = format!("{id}.looked");
        sheet.known(&limit, most, unit, &list::HOUSE, "most looked at");
        let figure = match found {
            Found::At(x) => {
                // Rounded up: the figure printed is one that does.
                let (value, places) = match varied {
                    Varied::Vinegar => (x.ceil(), 0),
                    Varied::Strength => ((x * 10.0).ceil() / 10.0, 1),
                };
                let formula = format!(
                    "halving over it until {SURE_PCT:.0} draws in a hundred are at the target or below, rounded up; {PROTONS}"
                );
                sheet.worked(id, value, unit, places, &formula, &from);
                sheet.show(id)
            }
            Found::Everywhere => "any".to_owned(),
            Found::Nowhere => "none".to_owned(),
        };
        let note = match found {
            Found::At(_) => format!("{} in a hundred come to it, {held}", sheet.show("sure")),
            Found::Everywhere => format!(
                "{} in a hundred come to it at the least looked at",
                sheet.show("sure")
            ),
            Found::Nowhere => format!("up to {}, {held}", sheet.show(&limit)),
        };
        rows.push(row(&what, &figure, &note));
        if varied == Varied::Vinegar {
            of_vinegar = found;
        }
    }
    Ok(of_vinegar)
}
