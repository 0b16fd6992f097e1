//! The tables of federal inspection for cooked meat and poultry, with the two conditions that belong to them: a come-up
//! of 6 h at most between 50 and 130 °F, and humid air. Never for fish.

use super::figure::{Row, row, table};
use super::holds::{Held, at_temperature};
use super::probes::{Probes, span};
use super::stages::shortly;
use super::{HOLD_GAP_MIN, Refusal, Terms};
use crate::history::{History, Quantity};
use crate::judgement::Judgement;
use crate::rules::celsius;
use crate::verdict::Verdict;

/// Where the come-up is counted, °F: the words of the row, which gives its hours.
const COME_UP_F: (f64, f64) = (50.0, 130.0);
/// Humid, percent; for a quarter of the cook, and an hour at least. Option 3 of `cook.humidity`.
const HUMID_PCT: f64 = 90.0;
/// Part of the cook that has to be humid.
const HUMID_PART: f64 = 0.25;
/// And never less than this, seconds.
const HUMID_LEAST_S: f64 = 3600.0;

/// How the air around the meat was humid enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Humidity {
    /// By the humidity channels of the log.
    Logged,
    /// Not asked: cooked in a sealed bag, or by direct contact with the heat.
    NotAsked,
}

/// A bird of the tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bird {
    /// Chicken.
    Chicken,
    /// Turkey.
    Turkey,
    /// Any other, or unknown: the longer of both tables.
    Other,
}

/// Meat, 6.5 tenfold reductions of *Salmonella*; humid by the log. Never fish.
///
/// # Source
/// Table `fsis-meat`, `cook.comeup`, `cook.humidity` (read).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn inspected_meat(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    inspected_meat_in(history, terms, Humidity::Logged)
}

/// The same, saying how the air was humid.
///
/// # Errors
/// As [`inspected_meat`].
pub fn inspected_meat_in(
    history: &History,
    terms: &Terms,
    humidity: Humidity,
) -> Result<Judgement, Refusal> {
    let held = rows("fsis-meat", "s_for_6.5_log")?;
    inspected("cook-inspected-meat", &held, history, terms, humidity)
}

/// Poultry, 7 tenfold reductions: of any bird and any fat, so the longest of the tables; humid by the log.
///
/// # Source
/// Tables `fsis-chicken` and `fsis-turkey`, `cook.comeup`, `cook.humidity` (read).
/// # Errors
/// As [`inspected_meat`].
pub fn inspected_poultry(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    inspected_poultry_of(history, terms, Bird::Other, None, Humidity::Logged)
}

/// The same for one bird, with its fat where it is known: the next column up, or the 12 % one.
///
/// # Errors
/// As [`inspected_meat`]; fat outside 0 to 100 %.
pub fn inspected_poultry_of(
    history: &History,
    terms: &Terms,
    bird: Bird,
    fat_pct: Option<f64>,
    humidity: Humidity,
) -> Result<Judgement, Refusal> {
    let column = match fat_pct {
        Some(fat) if !(0.0..=100.0).contains(&fat) => {
            return Err(Refusal::Terms {
                found: format!("{fat} % of fat"),
                expected: "0 to 100 %, or nothing where it is not known",
            });
        }
        Some(fat) if fat <= 1.0 => "s_1pct_fat",
        Some(fat) if fat <= 5.0 => "s_5pct_fat",
        Some(_) | None => "s_12pct_fat",
    };
    let held = match bird {
        Bird::Chicken => rows("fsis-chicken", column)?,
        Bird::Turkey => rows("fsis-turkey", column)?,
        Bird::Other => {
            let (a, b) = (rows("fsis-chicken", column)?, rows("fsis-turkey", column)?);
            a.iter()
                .zip(&b)
                .map(|(a, b)| Held {
                    at_c: a.at_c.max(b.at_c),
                    for_s: a.for_s.max(b.for_s),
                })
                .collect()
        }
    };
    inspected("cook-inspected-poultry", &held, history, terms, humidity)
}

fn rows(id: &str, column: &str) -> Result<Vec<Held>, Refusal> {
    let missing = || Refusal::Row {
        id: id.to_owned(),
        what: "column of numbers",
    };
    table(id)?
        .pairs("degF", column)
        .ok_or_else(missing)?
        .into_iter()
        .map(|(f, s)| {
            Ok(Held {
                at_c: celsius(f).ok_or_else(missing)?,
                for_s: s,
            })
        })
        .collect()
}

fn inspected(
    rule: &'static str,
    held: &[Held],
    history: &History,
    terms: &Terms,
    humidity: Humidity,
) -> Result<Judgement, Refusal> {
    // The row of the standard lends its source; the tables are of the guideline that serves it.
    let row = row("cook.comeup", terms)?;
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    let mut finding = at_temperature(rule, held, &probes);
    let (first, last) = (held.first(), held.last());
    if let (Some(first), Some(last)) = (first, last) {
        finding.asks = format!(
            "a row of the table from {first} to {last}; {} h at most from {} to {} °C on the way up; humid air; never for fish",
            row.value()?,
            shortly(in_c(&row, COME_UP_F.0)?),
            shortly(in_c(&row, COME_UP_F.1)?)
        );
    }
    let slow = come_up(&row, &probes)?;
    if let Some((hours, _)) = slow.filter(|(hours, most)| hours > most) {
        finding.verdict = Verdict::Broken;
        finding.place = format!("{}; come-up of {}", finding.place, span(hours * 3600.0));
        finding.mend = "too slow on the way up: set it aside and decide with your plan; no later heat mends that";
    }
    if finding.verdict != Verdict::Broken
        && let Some(lacking) = dry(history, terms, &probes, humidity)?
    {
        finding.verdict = finding.verdict.min(Verdict::NotShown);
        finding.lacking = finding.lacking.or(Some(lacking));
    }
    Ok(finding.against(&row))
}

fn in_c(row: &Row, f: f64) -> Result<f64, Refusal> {
    celsius(f).ok_or_else(|| row.missing("temperature"))
}

/// The longest known come-up of a probe, hours, and the most allowed.
fn come_up(row: &Row, probes: &Probes) -> Result<Option<(f64, f64)>, Refusal> {
    let (low_c, high_c) = (in_c(row, COME_UP_F.0)?, in_c(row, COME_UP_F.1)?);
    let most_h = row.value()?;
    Ok(probes
        .tracks
        .iter()
        .map(|t| {
            let until = t
                .readings
                .iter()
                .find(|r| r.1 > high_c)
                .map_or(f64::INFINITY, |r| r.0);
            probes.time_between(t, low_c, high_c, until) / 3600.0
        })
        .reduce(f64::max)
        .map(|hours| (hours, most_h)))
}

/// Why the air is not known to have been humid for long enough; `None` when it is, or is not asked.
fn dry(
    history: &History,
    terms: &Terms,
    probes: &Probes,
    humidity: Humidity,
) -> Result<Option<String>, Refusal> {
    if humidity == Humidity::NotAsked {
        return Ok(None);
    }
    let air = Probes::read_as(history, terms, HOLD_GAP_MIN, Quantity::HumidityPct)?;
    let need_s = (probes.length_s() * HUMID_PART).max(HUMID_LEAST_S);
    if air.tracks.is_empty() {
        return Ok(Some(format!(
            "log the humidity: {HUMID_PCT} % or more for {} of the cook, or one of the other options of the guideline",
            span(need_s)
        )));
    }
    // A gap or a lost reading of the air is a part of the cook that was not humid, as far as is known.
    let humid = air
        .tracks
        .iter()
        .map(|t| air.time_at_least(t, HUMID_PCT))
        .fold(f64::INFINITY, f64::min);
    Ok(air.uncovered().or_else(|| {
        (humid < need_s)
            .then(|| format!("humid air for {}, {} are asked", span(humid), span(need_s)))
    }))
}
