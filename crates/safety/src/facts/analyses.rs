//! What a laboratory or a meter found at places of the food: water-phase salt and water activity.

use kitchen::site::RuleSet;

use crate::judge::figure::{Finding, Row, row, verdict};
use crate::judge::{Refusal, Terms};
use crate::judgement::{Evidence, Judgement, Part, Side};
use crate::rules::State;

/// Where a sample was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// The thickest place of the thickest piece: of fish, the loin.
    Thickest,
    /// Another place.
    Elsewhere,
    /// A whole piece or several, blended: a mean.
    Blended,
}

/// Salt and water of one sample.
#[derive(Debug, Clone, PartialEq)]
pub struct SaltSample {
    /// Its name or number.
    pub sample: String,
    /// Where it was taken.
    pub taken: Taken,
    /// Salt, percent of the sample.
    pub salt_pct: f64,
    /// Water, percent of the same sample.
    pub water_pct: f64,
    /// Sodium nitrite found in it, ppm; `None` where it was not looked for.
    pub nitrite_ppm: Option<f64>,
}

/// How smoked fish is packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pack {
    /// With air.
    Air,
    /// Vacuum, gas or any other pack without oxygen.
    ReducedOxygen,
    /// The same, of a species in which nitrite is permitted, with 100 to 200 ppm of it.
    ReducedOxygenWithNitrite,
}

/// Salt in the water phase, percent: salt ÷ (salt + water).
///
/// # Errors
/// Percentages that cannot be: below nothing, together above 100, no water.
pub fn wps_pct(sample: &SaltSample) -> Result<f64, Refusal> {
    let (salt, water) = (sample.salt_pct, sample.water_pct);
    let whole = salt + water;
    if salt >= 0.0 && water > 0.0 && whole <= 100.0 {
        return Ok(100.0 * salt / whole);
    }
    Err(Refusal::Terms {
        found: format!("{}: {salt} % salt and {water} % water", sample.sample),
        expected: "0 % of salt or more and some water, together 100 % at most",
    })
}

/// Smoked fish: the least of the samples against the limit of its pack; shown only with a sample of the thickest place.
///
/// Fewer samples than [`Terms::probes`] show nothing: that is how many were taken.
///
/// # Source
/// `smoked_fish.wps.rop`, `.rop_nitrite`, `.air` (law of Maine, guidance elsewhere in the US; read), `.air.michigan` (there
/// only; read).
/// # Errors
/// Percentages that cannot be; a nitrite below nothing.
pub fn water_phase_salt(
    terms: &Terms,
    pack: Pack,
    samples: &[SaltSample],
) -> Result<Judgement, Refusal> {
    let michigan = terms.place == RuleSet::Us && terms.state == Some(State::Michigan);
    let row = row(
        match pack {
            Pack::Air if michigan => "smoked_fish.wps.air.michigan",
            Pack::Air => "smoked_fish.wps.air",
            Pack::ReducedOxygen => "smoked_fish.wps.rop",
            Pack::ReducedOxygenWithNitrite => "smoked_fish.wps.rop_nitrite",
        },
        terms,
    )?;
    let limit = row.value()?;
    let found = samples
        .iter()
        .map(|s| Ok((s, wps_pct(s)?)))
        .collect::<Result<Vec<_>, Refusal>>()?;
    let nitrite = (pack == Pack::ReducedOxygenWithNitrite)
        .then(|| nitrite(&row, samples))
        .transpose()?;
    let worst = found.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let lacking = thickest(terms, samples.iter().map(|s| s.taken)).or_else(|| {
        nitrite.as_ref().and_then(|n| {
            n.lacking
                .then(|| "look for nitrite in every sample".to_owned())
        })
    });
    let broken = worst.is_some_and(|w| w.1 < limit) || nitrite.as_ref().is_some_and(|n| n.outside);
    Ok(Finding {
        rule: "water-phase-salt",
        asks: format!(
            "water-phase salt ≥ {limit} % in the loin, {}",
            match pack {
                Pack::Air => "packed in air",
                Pack::ReducedOxygen => "packed without oxygen",
                Pack::ReducedOxygenWithNitrite =>
                    "packed without oxygen, with 100 to 200 ppm of nitrite in a species where it is permitted",
            }
        ),
        verdict: verdict(broken, lacking.as_ref()),
        value: worst.map(|w| w.1),
        limit,
        side: Side::AtLeast,
        unit: "%",
        base: "salt of salt and water together, in one sample".to_owned(),
        place: worst.map_or_else(
            || "no sample".to_owned(),
            |w| format!("{}, the least of {}: {}", w.0.sample, samples.len(), words(w.0.taken)),
        ),
        evidence: found
            .iter()
            .map(|(s, wps)| told(&s.sample, *wps, "%"))
            .collect(),
        mend: "not for this pack: keep it cold and air-exposed where that limit is met, or freeze it; more salt or a drier finish next time",
        lacking,
    }
    .against(&row))
}

/// How the nitrite found stands to what the row requires.
struct NitriteFound {
    outside: bool,
    lacking: bool,
}

fn nitrite(row: &Row, samples: &[SaltSample]) -> Result<NitriteFound, Refusal> {
    let (least, most) = (
        row.required("nitrite_ppm_min")?,
        row.required("nitrite_ppm_max")?,
    );
    if let Some(ppm) = samples
        .iter()
        .filter_map(|s| s.nitrite_ppm)
        .find(|p| !(0.0..=1e6).contains(p))
    {
        return Err(Refusal::Terms {
            found: format!("{ppm} ppm of nitrite"),
            expected: "0 to 1 000 000 ppm",
        });
    }
    Ok(NitriteFound {
        outside: samples
            .iter()
            .filter_map(|s| s.nitrite_ppm)
            .any(|p| p < least || p > most),
        lacking: samples.is_empty() || samples.iter().any(|s| s.nitrite_ppm.is_none()),
    })
}

/// Water activity of one sample.
#[derive(Debug, Clone, PartialEq)]
pub struct AwSample {
    /// Its name or number.
    pub sample: String,
    /// Where it was taken.
    pub taken: Taken,
    /// Water activity, above 0 and at most 1.
    pub aw: f64,
    /// Whether the meter was checked against a salt standard that day, and that was written down.
    pub checked: bool,
}

/// Water activity at or below 0.85, where low-acid food needs neither acid nor heat by the acid rule; the highest decides.
///
/// Fewer samples than [`Terms::probes`] show nothing: that is how many were taken.
///
/// # Source
/// `acid.aw` (read): the rule speaks of food above 0.85.
/// # Errors
/// A water activity that cannot be.
pub fn water_activity(terms: &Terms, samples: &[AwSample]) -> Result<Judgement, Refusal> {
    let row = row("acid.aw", terms)?;
    let limit = row.value()?;
    if let Some(s) = samples.iter().find(|s| !(s.aw > 0.0 && s.aw <= 1.0)) {
        return Err(Refusal::Terms {
            found: format!("{}: a water activity of {}", s.sample, s.aw),
            expected: "above 0 and at most 1",
        });
    }
    let worst = samples.iter().max_by(|a, b| a.aw.total_cmp(&b.aw));
    let lacking = thickest(terms, samples.iter().map(|s| s.taken)).or_else(|| {
        let one = samples.iter().find(|s| !s.checked)?;
        Some(format!(
            "{}: check the meter against a standard and read again",
            one.sample
        ))
    });
    Ok(Finding {
        rule: "water-activity",
        asks: format!("water activity ≤ {limit} in the thickest place"),
        verdict: verdict(worst.is_some_and(|w| w.aw > limit), lacking.as_ref()),
        value: worst.map(|w| w.aw),
        limit,
        side: Side::AtMost,
        unit: "",
        base: "of one sample, by meter".to_owned(),
        place: worst.map_or_else(
            || "no sample".to_owned(),
            |w| format!("{}, the highest of {}: {}", w.sample, samples.len(), words(w.taken)),
        ),
        evidence: samples.iter().map(|s| told(&s.sample, s.aw, "")).collect(),
        mend: "it needs cold, acid or heat besides: keep it cold, and dry or salt it further before it is called stable",
        lacking,
    }
    .against(&row))
}

/// What is lacking when a sample that was taken is not there, or none is of the thickest place.
fn thickest(terms: &Terms, taken: impl Iterator<Item = Taken>) -> Option<String> {
    let all: Vec<Taken> = taken.collect();
    if !all.is_empty() && all.len() < terms.probes {
        return Some(format!(
            "{} of {} samples analysed",
            all.len(),
            terms.probes
        ));
    }
    if all.contains(&Taken::Thickest) {
        return None;
    }
    Some(
        if all.is_empty() {
            "analyse a finished piece at its thickest place"
        } else if all.contains(&Taken::Blended) {
            "a mean is not the thickest place: analyse that"
        } else {
            "analyse the thickest place of the thickest piece"
        }
        .to_owned(),
    )
}

const fn words(taken: Taken) -> &'static str {
    match taken {
        Taken::Thickest => "of the thickest place",
        Taken::Elsewhere => "not of the thickest place",
        Taken::Blended => "a blend, a mean and not the thickest place",
    }
}

fn told(sample: &str, value: f64, unit: &'static str) -> Evidence {
    Evidence {
        channel: sample.to_owned(),
        part: Part::Worst,
        at_s: None,
        value: Some(value),
        unit,
    }
}
