//! How much salt for this?

use safety::nitrite::{NitriteLimit, Way, limits};
use science::{cure, nitrite};
use sources::{Citation, list};
use units::{BenchKind, Fraction, Mass, Scale, bench};

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::{Sheet, cite, weight_places};
use super::weighable::{Line, TOLERANCE, Tool};

/// Usual salt of an equilibrium cure, and the top of a quick cure, percent of green weight.
/// Common practice, no source.
const EQUILIBRIUM_PCT: (f64, f64) = (2.0, 3.0);
const QUICK_PCT: f64 = 6.0;
/// Coarsest step named for a line of a cure, and the step for curing salt, g. Common practice, no source.
const COARSEST_STEP_G: f64 = 1.0;
pub(super) const CURING_STEP_G: f64 = 0.01;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Salt {
    /// The weight it is for.
    pub of: Mass,
    /// Salt, a percent of that weight; its base names the weight.
    pub at: Fraction,
    /// A curing salt besides.
    pub curing: Option<Curing>,
    /// The other lines of the mix, each a percent of the same base.
    pub lines: Vec<(String, Fraction)>,
    /// Scales of the room; empty when none were named.
    pub scales: Vec<Scale>,
}

/// A curing salt and how much of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Curing {
    /// Its name on the sheet.
    pub name: String,
    /// What is in it.
    pub kind: cure::CuringSalt,
    /// Where that is from.
    pub source: Citation,
    /// Percent of the same base as the salt.
    pub at: Fraction,
}

struct Weighed<'a> {
    id: String,
    name: &'a str,
    mass: Mass,
    curing: bool,
}

/// Answers it.
///
/// # Errors
/// A percent above 100, bases that differ, a weight no named scale weighs within ±2 %.
pub fn salt(ask: &Salt) -> Result<Answer, Refusal> {
    let base = ask.at.base().name().to_owned();
    if ask.of <= Mass::ZERO {
        return Err(Refusal::new(
            format!("found 0 g of {base}"),
            "more than nothing",
            "weigh it",
        ));
    }
    let mut sheet = Sheet::default();
    sheet.entered("green", ask.of.g(), "g");
    sheet.figures.of("green", &base);
    let lines = weigh(ask, &mut sheet)?;
    let total: Mass = lines.iter().map(|l| l.mass).sum();
    if total > ask.of {
        return Err(Refusal::new(
            format!("found a mix of {total} for {} of {base}", ask.of),
            "a mix lighter than what it is for",
            "check the decimal points: 2.5 % of 1 kg is 25 g",
        ));
    }
    let ids: Vec<&str> = lines.iter().map(|l| l.id.as_str()).collect();
    sheet.worked(
        "mix",
        total.g(),
        "g",
        weight_places(total.g()),
        "all lines together",
        &ids,
    );
    let tools = tools(ask, &lines, total, &mut sheet)?;
    sheet.known("tolerance", TOLERANCE * 100.0, "%", &list::PRACTICE, "");
    let slack = lines[0].mass.g() * TOLERANCE;
    sheet.worked(
        "slack",
        slack,
        "g",
        if slack < 1.0 { 2 } else { 1 },
        "salt × tolerance",
        &["salt", "tolerance"],
    );
    let mut slack = format!("slack ±{}", sheet.show("slack"));
    if let Some(curing) = lines.iter().find(|l| l.curing) {
        let formula = "curing salt × tolerance";
        sheet.worked(
            "slack.curing",
            curing.mass.g() * TOLERANCE,
            "g",
            2,
            formula,
            &["curing", "tolerance"],
        );
        slack.push_str(&format!(", curing salt ±{}", sheet.show("slack.curing")));
    }

    let mut answer = format!("{} salt", sheet.show("salt"));
    let mut details = Vec::new();
    let mut small = vec![(
        "base",
        format!("100 % is {base}, weighed; salt of {}", sheet.show("green")),
    )];
    if lines.len() > 1 {
        for (line, tool) in lines.iter().zip(&tools) {
            let pct = format!("{}.pct", line.id);
            details.push(format!(
                "{:<26}{:>8} %  {:>10}   {tool}",
                line.name,
                sheet.bare(&pct),
                sheet.show(&line.id)
            ));
        }
        details.push(format!(
            "{:<26}{:>10}  {:>10}   check the sum on the scale",
            "together",
            "",
            sheet.show("mix")
        ));
    }
    let mut next = format!("weigh on {}", tools[0]);
    let mut verdict = None;
    if let Some(curing) = &ask.curing {
        answer.push_str(&format!(" + {} {}", sheet.show("curing"), curing.name));
        verdict = nitrite_of(ask, curing, &mut sheet, &mut details)?;
        details.extend(scale_needed(ask, curing, &mut sheet)?);
        next = format!(
            "{next}; the curing salt twice, on {}, then ask nitrite for the limits of your place",
            tools[1]
        );
        small.push(("custody", CUSTODY.to_owned()));
        small.push((
            "source",
            format!("{}: {}", curing.name, cite(&curing.source)),
        ));
    } else if lines.len() > 1 {
        next.push_str(&format!(
            "; mix all {} and rub it all on",
            sheet.show("mix")
        ));
    } else {
        next.push_str("; weigh the piece again if it was trimmed, the salt goes with it");
    }
    small.push((
        "source",
        "percent entered; usual percents and ±2 % are common practice, no source".to_owned(),
    ));
    Ok(Answer {
        question: "salt",
        answer,
        limit: format!(
            "{} % of {} {base}: {}; {slack} (±{})",
            sheet.bare("salt.pct"),
            sheet.show("green"),
            usual(ask.at.pct(), &mut sheet),
            sheet.show("tolerance"),
        ),
        next,
        details,
        small,
        verdict,
        main: "salt",
        figures: sheet.figures,
    })
}

/// What every answer that handles nitrite says in small print.
pub(super) const CUSTODY: &str = "curing salt is locked away, issued by weight and logged; two people weigh it, \
     on a scale with steps of 0.01 g; it is never measured by spoon. Your local code decides";

/// Puts every line on the sheet; salt first, the curing salt second.
fn weigh<'a>(ask: &'a Salt, sheet: &mut Sheet) -> Result<Vec<Weighed<'a>>, Refusal> {
    let mut wanted: Vec<(String, &str, &Fraction, bool)> =
        vec![("salt".to_owned(), "salt", &ask.at, false)];
    wanted.extend(
        ask.curing
            .iter()
            .map(|c| ("curing".to_owned(), c.name.as_str(), &c.at, true)),
    );
    let others = ask.lines.iter().enumerate();
    wanted.extend(
        others.map(|(i, (name, share))| (format!("line.{}", i + 1), name.as_str(), share, false)),
    );
    let mut lines = Vec::new();
    for (id, name, share, curing) in wanted {
        if share.ratio() <= 0.0 {
            return Err(Refusal::new(
                format!("{name}: found 0 %"),
                "more than nothing",
                "drop the line or correct it",
            ));
        }
        let mass = share.of(ask.of, ask.at.base())?;
        let kind = if curing {
            BenchKind::CuringSalt
        } else {
            BenchKind::Ordinary
        };
        if bench(mass, kind).vanished() {
            return Err(Refusal::new(
                format!("{name}: found {mass}, which no bench scale shows"),
                "at least 0.01 g",
                "make the mix for more pieces at once",
            ));
        }
        let pct = format!("{id}.pct");
        sheet.entered(&pct, share.pct(), "%");
        sheet.figures.of(&pct, ask.at.base().name());
        if let Some(figure) = sheet.figures.get(&pct).cloned() {
            let places = figure.places.max(2);
            sheet.figures.put(crate::Figure { places, ..figure });
        }
        let places = if curing { 2 } else { weight_places(mass.g()) };
        sheet.worked(
            &id,
            mass.g(),
            "g",
            places,
            "green × percent",
            &["green", &pct],
        );
        lines.push(Weighed {
            id,
            name,
            mass,
            curing,
        });
    }
    Ok(lines)
}

/// What each line is weighed on, in words.
fn tools(
    ask: &Salt,
    lines: &[Weighed<'_>],
    total: Mass,
    sheet: &mut Sheet,
) -> Result<Vec<String>, Refusal> {
    for (i, scale) in ask.scales.iter().enumerate() {
        sheet.entered(&format!("scale.{}", i + 1), scale.resolution.g(), "g");
    }
    let ppm = |mass: Mass| {
        let curing = ask.curing.as_ref()?;
        nitrite::dry(mass, curing.kind, ask.of)
            .ok()
            .map(units::Ppm::ppm)
    };
    let mut tools = vec![String::new(); lines.len()];
    // The curing salt first: where several lines are too fine, that is the one to hear of.
    let order = lines.iter().enumerate();
    let (first, then): (Vec<_>, Vec<_>) = order.partition(|(_, line)| line.curing);
    for (i, line) in first.into_iter().chain(then) {
        let rest = total.checked_sub(line.mass)?;
        let tool = Line {
            name: line.name,
            weight: line.mass,
            rest,
            nitrite: line.curing.then_some(&ppm),
        }
        .tool(&ask.scales)?;
        tools[i] = match tool {
            Tool::At(name) => format!("the {name}"),
            // A curing salt is weighed to 0.01 g whatever its weight would allow.
            Tool::Steps(_) if line.curing => {
                sheet.known("step.curing", CURING_STEP_G, "g", &list::PRACTICE, "");
                format!("a scale with steps of {}", sheet.show("step.curing"))
            }
            Tool::Steps(step) => {
                let id = format!("step.{}", line.id);
                sheet.known(
                    &id,
                    step.g().min(COARSEST_STEP_G),
                    "g",
                    &list::PRACTICE,
                    "steps scales are sold with",
                );
                format!("a scale with steps of {} or finer", sheet.show(&id))
            }
            Tool::None => {
                return Err(Refusal::new(
                    format!("{}: found {}", line.name, line.mass),
                    "an amount some scale commonly sold can weigh",
                    "make the mix for more pieces at once",
                ));
            }
        };
    }
    Ok(tools)
}

/// Salt in all and ingoing nitrite of a cure, as rows. *Broken* above every limit known.
fn nitrite_of(
    ask: &Salt,
    curing: &Curing,
    sheet: &mut Sheet,
    details: &mut Vec<String>,
) -> Result<Option<safety::Verdict>, Refusal> {
    let total = cure::total_salt(&ask.at, &curing.at, curing.kind)?;
    sheet.cited(
        "curing.nitrite",
        curing.kind.nitrite_ratio() * 100.0,
        "%",
        &curing.source,
    );
    sheet.cited(
        "curing.salt",
        curing.kind.salt_ratio() * 100.0,
        "%",
        &curing.source,
    );
    sheet.worked(
        "salt.total.pct",
        total.pct(),
        "%",
        3,
        "salt % + curing salt % × salt in it",
        &["salt.pct", "curing.pct", "curing.salt"],
    );
    let ppm = nitrite::dry(curing.at.of(ask.of, ask.at.base())?, curing.kind, ask.of)?;
    sheet.worked(
        "nitrite",
        ppm.ppm(),
        "ppm NaNO2",
        2,
        "curing salt × nitrite in it × 10⁶ ÷ green",
        &["curing", "curing.nitrite", "green"],
    );
    details.push(String::new());
    details.push(format!(
        "all salt, the carrier counted   {}",
        sheet.show("salt.total.pct")
    ));
    details.push(format!(
        "ingoing nitrite                 {}",
        sheet.show("nitrite")
    ));
    let Some((highest, limit)) = highest_limit().filter(|(highest, _)| ppm.ppm() > *highest) else {
        return Ok(None);
    };
    sheet.known(
        "nitrite.highest",
        highest,
        "ppm NaNO2",
        limit.source,
        limit.product,
    );
    details.push(format!(
        "broken: above {}, the highest limit of any place known here; check the decimal point",
        sheet.show("nitrite.highest")
    ));
    Ok(Some(safety::Verdict::Broken))
}

/// What a scale coarser than the curing salt needs would make of it, as a row: the finest one named, or a
/// common class scale where none was. No row where the scale is fine enough.
fn scale_needed(ask: &Salt, curing: &Curing, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    let mass = curing.at.of(ask.of, ask.at.base())?;
    let carries = |s: &&Scale| s.capacity >= mass;
    let finest = ask.scales.iter().filter(carries).map(|s| s.resolution.g());
    let step = match finest.min_by(f64::total_cmp) {
        Some(step) => {
            sheet.entered("scale.step", step, "g");
            step
        }
        None => {
            let place = "steps of a common class scale";
            sheet.known("scale.step", COARSEST_STEP_G, "g", &list::PRACTICE, place);
            COARSEST_STEP_G
        }
    };
    if step <= CURING_STEP_G {
        return Ok(Vec::new());
    }
    sheet.known("step.curing", CURING_STEP_G, "g", &list::PRACTICE, "");
    let shown = (mass.g() / step + 0.5).floor() * step;
    let (low, high) = ((shown - step / 2.0).max(0.0), shown + step / 2.0);
    let places = super::sheet::places_of(step);
    let from = ["curing", "scale.step"];
    sheet.worked(
        "scale.shows",
        shown,
        "g",
        places,
        "curing salt to the nearest step",
        &from,
    );
    let from = ["scale.shows", "scale.step"];
    sheet.worked("scale.low", low, "g", 2, "shown − half a step", &from);
    sheet.worked("scale.high", high, "g", 2, "shown + half a step", &from);
    for (id, grams, of) in [
        ("nitrite.low", low, "scale.low"),
        ("nitrite.high", high, "scale.high"),
    ] {
        let ppm = nitrite::dry(Mass::grams(grams)?, curing.kind, ask.of)?.ppm();
        let formula = "curing salt × nitrite in it × 10⁶ ÷ green";
        sheet.worked(
            id,
            ppm,
            "ppm NaNO2",
            0,
            formula,
            &[of, "curing.nitrite", "green"],
        );
    }
    Ok(vec![
        format!(
            "scale needed                    {} steps for the curing salt",
            sheet.show("step.curing")
        ),
        format!(
            "one with {:<23}shows {} for {} to {}: {} to {}",
            format!("{} steps", sheet.show("scale.step")),
            sheet.show("scale.shows"),
            sheet.bare("scale.low"),
            sheet.show("scale.high"),
            sheet.bare("nitrite.low"),
            sheet.show("nitrite.high"),
        ),
    ])
}

/// The highest limit on ingoing nitrite of any place and meat known here, ppm NaNO2.
fn highest_limit() -> Option<(f64, NitriteLimit)> {
    let rubbed = limits()
        .into_iter()
        .filter(|l| l.ingoing && l.by.contains(&Way::Dry));
    rubbed
        .filter_map(|l| Some((l.ppm_nano2?, l)))
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
}

/// Where a percent lies among the usual ones, in words.
fn usual(pct: f64, sheet: &mut Sheet) -> String {
    let (low, high) = EQUILIBRIUM_PCT;
    sheet.known("usual.low", low, "%", &list::PRACTICE, "");
    sheet.known("usual.high", high, "%", &list::PRACTICE, "");
    let range = format!(
        "the usual {} to {} of an equilibrium cure",
        sheet.bare("usual.low"),
        sheet.show("usual.high")
    );
    if pct < low {
        return format!("below {range}");
    }
    if pct <= high {
        return format!("within {range}");
    }
    sheet.known("usual.quick", QUICK_PCT, "%", &list::PRACTICE, "");
    let quick = sheet.show("usual.quick");
    if pct <= QUICK_PCT {
        format!("above {range}, within a quick cure (to {quick}): go by time")
    } else {
        format!("above a quick cure (to {quick}): an excess cure, go by time and rinse")
    }
}

#[cfg(test)]
mod tests;
