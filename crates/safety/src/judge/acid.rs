//! The acid gate: what is pickled to keep is released by readings from a checked meter, and by nothing else.

use super::figure::{Finding, Row, row, verdict};
use super::probes::Probes;
use super::{GAP_MIN, Refusal, Terms};
use crate::history::{History, Quantity};
use crate::judgement::{Evidence, Judgement, Part, Side};

/// How far a meter may read a buffer off, pH: house value; the method reports to 0.05 (second-hand).
pub const BUFFER_OFF_PH: f64 = 0.05;

/// What a pH is read on.
const BASE: &str = "solids and liquid blended, once even";
/// What to do when it is too high.
const MEND: &str = "add vinegar and re-test; keep it cold meanwhile, it is not a pickle yet";

/// How a meter was checked before it read: what it showed in each buffer, and how warm the sample was.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterCheck {
    /// What it read in the buffer of pH 4.01.
    pub in_4: f64,
    /// What it read in the buffer of pH 7.00.
    pub in_7: f64,
    /// Temperature of the sample, °C.
    pub sample_c: f64,
}

/// The buffers of a check.
const BUFFERS: [f64; 2] = [4.01, 7.0];

impl MeterCheck {
    /// What is wrong with it, in words; `None` when nothing is.
    fn wrong(&self, least_c: f64, most_c: f64) -> Option<String> {
        let off = [self.in_4, self.in_7]
            .into_iter()
            .zip(BUFFERS)
            // NaN lies in no range, so an impossible reading of a buffer is off, too.
            .find(|(read, buffer)| {
                let off = BUFFER_OFF_PH + 1e-9;
                !(buffer - off..=buffer + off).contains(read)
            });
        if let Some((read, buffer)) = off {
            return Some(format!(
                "the meter reads {read} in the buffer of {buffer}: calibrate it and read again"
            ));
        }
        (!(least_c..=most_c).contains(&self.sample_c)).then(|| {
            format!(
                "the sample was at {} °C: read it again at {least_c} to {most_c} °C",
                self.sample_c
            )
        })
    }
}

/// What read the pH.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Meter {
    /// A meter whose check was logged that day.
    Checked(MeterCheck),
    /// A meter not checked, or whose check nobody wrote down.
    Unchecked,
    /// Paper strips.
    Strip,
}

/// A pH as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct PhReading {
    /// Which jar, tub or place.
    pub sample: String,
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
    /// Whether the batch may leave for the shelf or the fridge as pickled: every reading at or below the target, by a
    /// checked meter.
    pub released: bool,
    /// The worst reading against the legal limit.
    pub judgement: Judgement,
}

/// The rows of the gate.
struct Limits {
    legal: Row,
    most: f64,
    target: f64,
    sample_c: (f64, f64),
}

fn limits(terms: &Terms) -> Result<Limits, Refusal> {
    let legal = row("acid.ph", terms)?;
    Ok(Limits {
        most: legal.value()?,
        target: row("acid.margin", terms)?.value()?,
        sample_c: (
            legal.number("sample_least_c")?,
            legal.number("sample_most_c")?,
        ),
        legal,
    })
}

/// What is lacking of one reading, in words.
fn lacks(reading: &PhReading, limits: &Limits) -> Option<String> {
    match reading.meter {
        Meter::Strip | Meter::Unchecked => {
            return Some(format!(
                "{}: read it again with a meter checked in buffers 4 and 7",
                reading.sample
            ));
        }
        Meter::Checked(check) => {
            if let Some(wrong) = check.wrong(limits.sample_c.0, limits.sample_c.1) {
                return Some(format!("{}: {wrong}", reading.sample));
            }
        }
    }
    if !reading.even {
        return Some(format!(
            "{}: blend solids and liquid once they have come even, and read that",
            reading.sample
        ));
    }
    (reading.ph > limits.target).then(|| {
        format!(
            "{}: add vinegar and re-test: the target is {}",
            reading.sample, limits.target
        )
    })
}

/// Holds readings against the limit of 4.6 and the target of 4.2; the worst decides, and each has to be fit to count.
///
/// Fewer readings than [`Terms::probes`] release nothing: that is how many samples were taken.
///
/// # Source
/// `acid.ph` (read; 20 to 30 °C second-hand) and `acid.margin` (second-hand: the target of this house).
/// # Errors
/// A pH below 0 or above 14.
pub fn ph_gate(terms: &Terms, readings: &[PhReading]) -> Result<Gate, Refusal> {
    let limits = limits(terms)?;
    if let Some(r) = readings.iter().find(|r| !(0.0..=14.0).contains(&r.ph)) {
        return Err(Refusal::Terms {
            found: format!("{}: pH {}", r.sample, r.ph),
            expected: "a pH of 0 to 14",
        });
    }
    let worst = readings.iter().max_by(|a, b| a.ph.total_cmp(&b.ph));
    let lacking = if readings.is_empty() {
        Some("read the pH with a checked meter".to_owned())
    } else if readings.len() < terms.probes {
        Some(format!(
            "{} of {} samples read",
            readings.len(),
            terms.probes
        ))
    } else {
        readings.iter().find_map(|r| lacks(r, &limits))
    };
    let broken = worst.is_some_and(|r| r.ph > limits.most);
    let evidence = readings
        .iter()
        .map(|r| Evidence {
            channel: r.sample.clone(),
            part: Part::Worst,
            at_s: None,
            value: Some(r.ph),
            unit: "pH",
        })
        .collect();
    let place = worst.map_or_else(
        || "no reading".to_owned(),
        |r| {
            let how = match (r.meter, r.even) {
                (Meter::Checked(_), true) => "checked meter, solids and liquid blended",
                (Meter::Checked(_), false) => "checked meter, not yet even",
                (Meter::Unchecked, _) => "meter not checked",
                (Meter::Strip, _) => "paper strip",
            };
            format!("{}, the highest of {}; {how}", r.sample, readings.len())
        },
    );
    let judgement = Finding {
        rule: "ph",
        asks: format!("pH ≤ {} once even, target {}", limits.most, limits.target),
        verdict: verdict(broken, lacking.as_ref()),
        value: worst.map(|r| r.ph),
        limit: limits.most,
        side: Side::AtMost,
        unit: "pH",
        base: BASE.to_owned(),
        place,
        evidence,
        mend: MEND,
        lacking: lacking.clone(),
    }
    .against(&limits.legal);
    Ok(Gate {
        released: lacking.is_none() && !broken,
        judgement,
    })
}

/// A log of pH, from when it is even: every reading at or below the target of 4.2, and never above the legal 4.6.
///
/// A log is held against the target itself. Were a reading between 4.2 and 4.6 *not shown* here, as it is at the gate,
/// leaving that reading out would turn *not shown* into *shown*. Shown only with the check of the meter in
/// [`Terms::meter`]. A log that starts before the acid has come even is judged from there by naming its period.
///
/// # Source
/// As [`ph_gate`].
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn ph(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let limits = limits(terms)?;
    let probes = Probes::read_as(history, terms, GAP_MIN, Quantity::Ph)?;
    let worst = probes.worst(Side::AtMost, limits.target);
    let meter = match terms.meter {
        None => Some(
            "log what the meter read in its buffers, and the temperature of the sample".to_owned(),
        ),
        Some(check) => check.wrong(limits.sample_c.0, limits.sample_c.1),
    };
    let lacking = probes.uncovered().or(meter);
    let place = worst.map_or_else(
        || "no reading".to_owned(),
        |(t, r)| {
            let stands = if r.1 > limits.most {
                "above the legal limit"
            } else if r.1 > limits.target {
                "above the target of this house, and not above the legal limit"
            } else {
                "at or below the target"
            };
            format!(
                "{}, the highest reading of {} channels; {stands}",
                t.name,
                probes.tracks.len()
            )
        },
    );
    Ok(Finding {
        rule: "ph",
        asks: format!(
            "pH ≤ {} (target of this house) throughout, once even; the legal limit is {}",
            limits.target, limits.most
        ),
        verdict: verdict(
            worst.is_some_and(|(_, r)| r.1 > limits.target),
            lacking.as_ref(),
        ),
        value: worst.map(|(_, r)| r.1),
        limit: limits.target,
        side: Side::AtMost,
        unit: "pH",
        base: BASE.to_owned(),
        place,
        evidence: probes.told_worst(Side::AtMost, limits.target),
        mend: MEND,
        lacking,
    }
    .against(&limits.legal))
}
