//! The acid gate: what is pickled to keep is released by a reading from a checked meter, and by nothing else.

use kitchen::site::RuleSet;

use super::figure::{Finding, row};
use super::{Refusal, Terms};
use crate::judgement::{Evidence, Judgement, Part, Side};
use crate::verdict::Verdict;

/// What read the pH.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meter {
    /// A meter, checked in buffers of pH 4 and 7 that day.
    Checked,
    /// A meter not checked.
    Unchecked,
    /// Paper strips.
    Strip,
}

/// A pH as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhReading {
    /// pH, 0 to 14.
    pub ph: f64,
    /// What read it.
    pub meter: Meter,
    /// Solids and liquid blended, once acid and food had come even.
    pub even: bool,
}

/// The answer of the gate.
#[derive(Debug, Clone, PartialEq)]
pub struct Gate {
    /// Whether the batch may leave for the shelf or the fridge as pickled: at or below the target, by a checked meter.
    pub released: bool,
    /// The reading against the legal limit.
    pub judgement: Judgement,
}

/// Holds a pH against the limit of 4.6 and the target of 4.2.
///
/// # Source
/// `acid.ph` and `acid.margin` (second-hand: they can break a verdict, never show one).
/// # Errors
/// A pH below 0 or above 14.
pub fn ph_gate(place: RuleSet, reading: Option<PhReading>) -> Result<Gate, Refusal> {
    let limit = row("acid.ph", &Terms::of(place))?;
    let target = row("acid.margin", &Terms::of(place))?.value()?;
    let most = limit.value()?;
    if let Some(r) = reading.filter(|r| !(0.0..=14.0).contains(&r.ph)) {
        return Err(Refusal::Impossible {
            channel: "pH".to_owned(),
            at_s: 0,
            value: r.ph,
            unit: "pH",
            least: 0.0,
            most: 14.0,
        });
    }
    let lacking = match reading {
        None => Some("read the pH with a checked meter".to_owned()),
        Some(r) if r.meter != Meter::Checked => {
            Some("read it again with a meter checked in buffers 4 and 7".to_owned())
        }
        Some(r) if !r.even => {
            Some("blend solids and liquid once they have come even, and read that".to_owned())
        }
        Some(r) if r.ph > target => {
            Some(format!("add vinegar and re-test: the target is {target}"))
        }
        Some(_) => None,
    };
    let broken = reading.is_some_and(|r| r.ph > most);
    let judgement = Finding {
        rule: "ph",
        asks: format!("pH ≤ {most} once even, target {target}"),
        verdict: match (broken, &lacking) {
            (true, _) => Verdict::Broken,
            (false, Some(_)) => Verdict::NotShown,
            (false, None) => Verdict::Shown,
        },
        value: reading.map(|r| r.ph),
        limit: most,
        side: Side::AtMost,
        unit: "pH",
        base: "solids and liquid blended, once even".to_owned(),
        evidence: reading
            .map(|r| Evidence {
                channel: "pH".to_owned(),
                part: Part::Worst,
                at_s: None,
                value: Some(r.ph),
                unit: "pH",
            })
            .into_iter()
            .collect(),
        place: reading
            .map_or("no reading", |r| match (r.meter, r.even) {
                (Meter::Checked, true) => "checked meter, solids and liquid blended",
                (Meter::Checked, false) => "checked meter, not yet even",
                (Meter::Unchecked, _) => "meter not checked",
                (Meter::Strip, _) => "paper strip",
            })
            .to_owned(),
        mend: "add vinegar and re-test; keep it cold meanwhile, it is not a pickle yet",
        lacking: lacking.clone(),
    }
    .against(&limit);
    Ok(Gate {
        released: lacking.is_none() && !broken,
        judgement,
    })
}
