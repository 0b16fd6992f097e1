//! Exposure: how long food has been warm in all, added up over the log.
//!
//! The tables are steps: a temperature counts as the band it is in, and between bands as the warmer one. The guide
//! warns against drawing lines between its rows, so no time is shared out between bands: the time in a band or
//! above it is held against the band's hours, each band by itself.

use super::figure::{Finding, Row, row, table, verdict};
use super::probes::{Probes, Track, span};
use super::stages::shortly;
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};
use crate::rules::{Detail, celsius};

/// What to do when food was warm too long.
const MEND: &str = "set it aside and decide with your plan: what was warm too long does not get better in the cold";

/// Time warm in all, of which so much hotter.
#[derive(Debug, Clone, Copy)]
struct Most {
    whole_h: f64,
    hot_h: f64,
}

/// Raw ready-to-eat food: 4 h in all between 50 and 135 °F of which 2 h above 70 °F; never above 70 °F, 5 h.
///
/// "2 h between 50 and 135 °F" of the text is inside "4 h, of which 2 h above 70 °F" and needs no line of its own. The
/// part above 70 °F was read, the 5 h below it were not, and food below 70 °F keeps the part above it: shown by the one and
/// not by the other, colder food would do worse than warmer. So the rule breaks, and shows nothing.
///
/// # Source
/// `exposure.raw_rte.over70` (read), `exposure.raw_rte.50_70` (from memory).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn exposure_raw(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let warm = row("exposure.raw_rte.over70", terms)?;
    let cool = row("exposure.raw_rte.50_70", terms)?;
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let strict = alternative(&warm)?;
    let low_c = in_c(&warm, "low_f")?;
    let high_c = in_c(&warm, "high_f")?;
    let warm_c = in_c(&warm, "warm_f")?;
    let spans = spans(&probes, low_c, high_c, warm_c);
    let (row, most) = if ever_above(&probes, warm_c) {
        (
            if spans.iter().all(|s| s.keeps(strict)) {
                &cool
            } else {
                &warm
            },
            strict,
        )
    } else {
        let whole_h = cool.value()?;
        (
            &cool,
            Most {
                whole_h,
                hot_h: whole_h,
            },
        )
    };
    Ok(exposed(
        "exposure-raw",
        format!(
            "between {} and {} °C for {} h in all at most, of which {} h above {} °C; never above {} °C, {} h",
            shortly(low_c), shortly(high_c), strict.whole_h, strict.hot_h, shortly(warm_c), shortly(warm_c), cool.value()?
        ),
        most,
        (low_c, warm_c),
        &probes,
        &spans,
    )
    .against(row))
}

/// Cooked ready-to-eat food after its cooling: the hotter it ever was, the shorter.
///
/// # Source
/// `exposure.cooked_rte.over80`, `.70_80`, `.50_70` (from memory: they can break a verdict, never show one).
/// # Errors
/// As [`exposure_raw`].
pub fn exposure_cooked(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let hot = row("exposure.cooked_rte.over80", terms)?;
    let warm = row("exposure.cooked_rte.70_80", terms)?;
    let cool = row("exposure.cooked_rte.50_70", terms)?;
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let low_c = in_c(&hot, "low_f")?;
    let high_c = in_c(&hot, "high_f")?;
    let warm_c = in_c(&hot, "warm_f")?;
    let hot_c = in_c(&hot, "hot_f")?;
    let spans = spans(&probes, low_c, high_c, warm_c);
    let whole_h = cool.value()?;
    let (row, most) = if ever_above(&probes, hot_c) {
        (&hot, alternative(&hot)?)
    } else if ever_above(&probes, warm_c) {
        (&warm, alternative(&warm)?)
    } else {
        (
            &cool,
            Most {
                whole_h,
                hot_h: whole_h,
            },
        )
    };
    let words = |most: Most| {
        format!(
            "{} h in all of which {} h above {} °C",
            most.whole_h,
            most.hot_h,
            shortly(warm_c)
        )
    };
    Ok(exposed(
        "exposure-cooked",
        format!(
            "between {} and {} °C: ever above {} °C, {}; ever above {} °C, {}; else {whole_h} h",
            shortly(low_c),
            shortly(high_c),
            shortly(hot_c),
            words(alternative(&hot)?),
            shortly(warm_c),
            words(alternative(&warm)?)
        ),
        most,
        (low_c, warm_c),
        &probes,
        &spans,
    )
    .against(row))
}

fn in_c(row: &Row, key: &'static str) -> Result<f64, Refusal> {
    celsius(row.number(key)?).ok_or_else(|| row.missing(key))
}

/// The row's way with two times.
fn alternative(row: &Row) -> Result<Most, Refusal> {
    let missing = || row.missing("alternative");
    let Some(Detail::Table(both)) = row.rule.also.get("alternative") else {
        return Err(missing());
    };
    let number = |key: &str| match both.get(key) {
        Some(Detail::Number(n)) => Ok(*n),
        _ => Err(missing()),
    };
    Ok(Most {
        whole_h: number("hours_50_to_135F")?,
        hot_h: number("of_which_70_to_135F_max")?,
    })
}

/// How long one probe was warm, and hotter, seconds.
struct Span<'a> {
    track: &'a Track,
    whole_s: f64,
    hot_s: f64,
}

impl Span<'_> {
    fn keeps(&self, most: Most) -> bool {
        self.whole_s <= most.whole_h * 3600.0 && self.hot_s <= most.hot_h * 3600.0
    }

    /// Hours left: of the whole, or of the hot part, whichever is less.
    fn left_h(&self, most: Most) -> (f64, bool) {
        let whole = most.whole_h - self.whole_s / 3600.0;
        let hot = most.hot_h - self.hot_s / 3600.0;
        (whole.min(hot), hot < whole)
    }
}

fn spans<'a>(probes: &'a Probes, low_c: f64, high_c: f64, warm_c: f64) -> Vec<Span<'a>> {
    probes
        .tracks
        .iter()
        .map(|track| Span {
            track,
            whole_s: probes.time_between(track, low_c, high_c, f64::INFINITY),
            hot_s: probes.time_between(track, warm_c, high_c, f64::INFINITY),
        })
        .collect()
}

fn ever_above(probes: &Probes, limit_c: f64) -> bool {
    probes
        .tracks
        .iter()
        .flat_map(|t| &t.readings)
        .any(|r| r.1 > limit_c)
}

fn exposed(
    rule: &'static str,
    asks: String,
    most: Most,
    (low_c, warm_c): (f64, f64),
    probes: &Probes,
    spans: &[Span<'_>],
) -> Finding {
    let worst = spans
        .iter()
        .min_by(|a, b| a.left_h(most).0.total_cmp(&b.left_h(most).0));
    let lacking = probes.uncovered();
    let hot = worst.is_some_and(|w| w.left_h(most).1);
    Finding {
        rule,
        asks,
        verdict: verdict(worst.is_some_and(|w| !w.keeps(most)), lacking.as_ref()),
        value: worst.map(|w| if hot { w.hot_s } else { w.whole_s } / 3600.0),
        limit: if hot { most.hot_h } else { most.whole_h },
        side: Side::AtMost,
        unit: "h",
        base: format!(
            "all time above {} °C added up",
            shortly(if hot { warm_c } else { low_c })
        ),
        place: worst.map_or_else(
            || "no reading".to_owned(),
            |w| {
                format!(
                    "{}: {} in all, {} of it above {} °C",
                    w.track.name,
                    span(w.whole_s),
                    span(w.hot_s),
                    shortly(warm_c)
                )
            },
        ),
        evidence: worst.map_or_else(Vec::new, |w| {
            probes.told_track(w.track, Side::AtMost, low_c)
        }),
        mend: MEND,
        lacking,
    }
}

/// One organism of the table of exposure: the hours of each band, for the time in it or above it.
///
/// # Source
/// Table `exposure` (from memory: it can break a verdict, never show one).
/// # Errors
/// As [`exposure_raw`]; an organism the table does not hold.
pub fn exposure_of(
    rule: &'static str,
    organism: &str,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    // The row lends its source: the table is of the same appendix, and of the same status.
    let row = row("exposure.cooked_rte.over80", terms)?;
    let bands = bands(organism)?;
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let worst = probes
        .tracks
        .iter()
        .flat_map(|t| bands.iter().map(move |b| (t, b)))
        .map(|(t, b)| {
            let hours = probes.time_between(t, b.above_c, f64::INFINITY, f64::INFINITY) / 3600.0;
            (t, b, hours)
        })
        .min_by(|a, b| (a.1.most_h - a.2).total_cmp(&(b.1.most_h - b.2)));
    let lacking = probes.uncovered();
    let first = bands.first().ok_or_else(|| row.missing("band"))?;
    let (above_c, most_h) =
        worst.map_or((first.above_c, first.most_h), |w| (w.1.above_c, w.1.most_h));
    Ok(Finding {
        rule,
        asks: format!(
            "{organism}: {}",
            bands
                .iter()
                .map(|b| format!("above {} °C {} h", shortly(b.above_c), b.most_h))
                .collect::<Vec<_>>()
                .join(", ")
        ),
        verdict: verdict(worst.is_some_and(|w| w.2 > w.1.most_h), lacking.as_ref()),
        value: worst.map(|w| w.2),
        limit: most_h,
        side: Side::AtMost,
        unit: "h",
        base: format!("all time above {} °C added up", shortly(above_c)),
        place: worst.map_or_else(
            || "no reading".to_owned(),
            |(t, _, hours)| {
                format!(
                    "{}: {} above {} °C; bands as steps, no line drawn between them",
                    t.name,
                    span(hours * 3600.0),
                    shortly(above_c)
                )
            },
        ),
        evidence: worst.map_or_else(Vec::new, |w| probes.told_track(w.0, Side::AtMost, above_c)),
        mend: MEND,
        lacking,
    }
    .against(&row))
}

/// Time above a temperature, and the hours allowed for it.
#[derive(Debug, Clone, Copy)]
struct Band {
    above_c: f64,
    most_h: f64,
}

/// The bands of an organism, coolest first. What lies between two bands counts as the warmer.
fn bands(organism: &str) -> Result<Vec<Band>, Refusal> {
    let table = table("exposure")?;
    let missing = || Refusal::Row {
        id: format!("exposure, {organism}"),
        what: "band of numbers",
    };
    let mut before_f: Option<f64> = None;
    let mut all = Vec::new();
    for cells in &table.rows {
        let [
            Detail::Words(name),
            Detail::Number(low),
            Detail::Number(high),
            Detail::Number(hours),
        ] = cells.as_slice()
        else {
            return Err(missing());
        };
        if name != organism {
            continue;
        }
        all.push(Band {
            above_c: celsius(before_f.unwrap_or(*low)).ok_or_else(missing)?,
            most_h: *hours,
        });
        before_f = Some(*high);
    }
    if all.is_empty() {
        return Err(missing());
    }
    Ok(all)
}
