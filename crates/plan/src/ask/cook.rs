//! When does the core get there, and does the programme hold it long enough?

use drawing::{Chart, Curve, Mark, Stroke};
use safety::Verdict;
use science::ScienceError;
use science::heat::{
    Grid, HeatTransfer, History, Humidity, Programme, Segment, Surroundings, heat, hold_time_above,
};
use science::lethality::{LISTERIA, lethality_of};
use science::psychrometrics::{RelativeHumidity, SurfaceWater};
use sources::list;
use units::{Elapsed, Length, Temperature};

use super::answer::Answer;
use super::picture::{Pictured, axis, lasts_minutes, said, until};
use super::refusal::Refusal;
use super::sheet::Sheet;
use super::warmth::{CONDUCTION, Lying, Matter, curve, on_each_other, stacked, transfer};

/// How much longer the last stretch is run to find when the hold would be done, h. House value.
const LONGER_H: f64 = 12.0;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Cook {
    /// Thickness or diameter.
    pub thickness: Length,
    /// How many lie on each other; their joint thickness counts.
    pub stacked: u32,
    /// How it lies.
    pub lying: Lying,
    /// What it is.
    pub matter: Matter,
    /// How warm it goes in.
    pub from: Temperature,
    /// What it stands in.
    pub surroundings: Surroundings,
    /// The stretches.
    pub programme: Vec<Stretch>,
    /// Relative humidity of the air, percent, over a wet surface; nothing for a dry one.
    pub humidity_pct: Option<f64>,
    /// The core asked for.
    pub core: Temperature,
    /// How long without a dip.
    pub hold: Elapsed,
}

/// A stretch of a programme.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Air at its beginning.
    pub from: Temperature,
    /// Air at its end.
    pub to: Temperature,
    /// How long.
    pub time: Elapsed,
}

/// One run of the programme at one heat transfer.
struct Run {
    history: History,
    core_at: Option<Elapsed>,
    done_at: Option<Elapsed>,
    held: Elapsed,
    core_at_end: Temperature,
    minutes_at_70: f64,
}

/// Answers it.
///
/// # Errors
/// A piece that is as warm already; a programme without time; whatever the model refuses.
pub fn cook(ask: &Cook) -> Result<Pictured, Refusal> {
    if ask.from >= ask.core {
        return Err(Refusal::new(
            format!(
                "--from: found {}, with a core of {} asked",
                ask.from, ask.core
            ),
            "a piece colder than the core asked for",
            "check the two temperatures",
        ));
    }
    if matches!(ask.lying, Lying::Round) && ask.stacked > 1 {
        return Err(Refusal::new(
            format!("--stack: found {} round ones on each other", ask.stacked),
            "flat pieces: round ones leave gaps, which is not calculated",
            "lay or hang them apart and leave --stack out",
        ));
    }
    let mut sheet = Sheet::default();
    let mut from = vec!["thickness", "from"];
    let thickness = stacked(ask.thickness, ask.stacked, &mut sheet)?;
    sheet.entered("from", ask.from.c(), "°C");
    sheet.entered("core", ask.core.c(), "°C");
    sheet.entered("hold", ask.hold.minutes(), "min");
    from.extend(ask.matter.enter(&mut sheet));
    let mut stretches = Vec::new();
    for (i, stretch) in ask.programme.iter().enumerate() {
        let id = |what: &str| format!("programme.{}.{what}", i + 1);
        if stretch.from != stretch.to {
            sheet.entered(&id("from"), stretch.from.c(), "°C");
            stretches.push(id("from"));
        }
        sheet.entered(&id("air"), stretch.to.c(), "°C");
        sheet.entered(&id("time"), stretch.time.minutes(), "min");
        stretches.extend([id("air"), id("time")]);
    }
    from.extend(stretches.iter().map(String::as_str));
    if let Some(pct) = ask.humidity_pct {
        sheet.entered("humidity", pct, "%");
        from.push("humidity");
    }
    let hs = transfer(ask.surroundings, &mut sheet)?;
    let programme_time: Elapsed =
        Elapsed::from_seconds(ask.programme.iter().map(|s| s.time.seconds()).sum())?;
    let lengths: Vec<&str> = stretches
        .iter()
        .map(String::as_str)
        .filter(|id| id.ends_with("time"))
        .collect();
    lasts_minutes(
        &mut sheet,
        "programme",
        programme_time,
        "all stretches together",
        &lengths,
    );

    let runs = hs
        .iter()
        .map(|(_, h)| run(ask, thickness, *h))
        .collect::<Result<Vec<_>, ScienceError>>()?;
    let mut details = vec![format!(
        "{:<34}{:>12}{:>12}{:>12}",
        "heat transfer to the surface", "slow", "usual", "quick"
    )];
    for ((name, _), run) in hs.iter().zip(&runs) {
        enter(name, run, &from, &mut sheet);
    }
    let row = |what: &str, id: &str, sheet: &Sheet| {
        let cell = |name: &str| {
            let id = format!("{name}.{id}");
            match sheet.figures.get(&id) {
                Some(_) => sheet.show(&id),
                None => "not".to_owned(),
            }
        };
        format!(
            "{what:<34}{:>12}{:>12}{:>12}",
            cell("slow"),
            cell("usual"),
            cell("quick")
        )
    };
    let core = sheet.show("core");
    for (what, id) in [
        (format!("core at {core}, in the programme"), "core_at"),
        (format!("at {core} or above, without a dip"), "held"),
        ("core when the programme ends".to_owned(), "core_end"),
        (
            format!("{} held, last stretch running", sheet.show("hold")),
            "done_at",
        ),
        ("worth, minutes at 70 °C".to_owned(), "f70"),
    ] {
        details.push(row(&what, id, &sheet));
    }
    sheet.known(
        "f70.at",
        70.0,
        "°C",
        &list::FDA_FISH_A4,
        "reference temperature",
    );
    let usual = &runs[1];
    let (answer, limit, mut next, main) = told(ask, usual, programme_time, &mut sheet)?;
    if let Some((said, apart)) = on_each_other(ask.stacked, &sheet) {
        details.push(said);
        next = format!("{apart}; {next}");
    }
    let picture = picture(ask, thickness, usual)?;
    Ok(Pictured {
        answer: Answer {
            question: "cook",
            answer,
            limit,
            next,
            details,
            small: small(ask),
            verdict: Some(Verdict::NotShown),
            main,
            figures: sheet.figures,
        },
        picture,
    })
}

fn programme(ask: &Cook, h: HeatTransfer, longer: bool) -> Result<Programme, ScienceError> {
    let mut segments: Vec<Segment> = ask
        .programme
        .iter()
        .map(|s| Segment::ramp(s.from, s.to, s.time, h))
        .collect();
    if let (true, Some(last)) = (longer, ask.programme.last()) {
        segments.push(Segment::steady(last.to, Elapsed::from_hours(LONGER_H)?, h));
    }
    if let Some(pct) = ask.humidity_pct {
        let humidity = Humidity::Relative(RelativeHumidity::percent(pct)?);
        segments = segments
            .into_iter()
            .map(|s| s.evaporating(humidity, SurfaceWater::FREE))
            .collect();
    }
    Programme::new(segments)
}

fn run(ask: &Cook, thickness: Length, h: HeatTransfer) -> Result<Run, ScienceError> {
    let food = ask.matter.food()?;
    let body = ask.lying.body(thickness)?;
    let grid = Grid::usual()?;
    let history = heat(&food, &body, &programme(ask, h, false)?, ask.from, grid)?;
    let longer = heat(&food, &body, &programme(ask, h, true)?, ask.from, grid)?;
    let line = ask.core.c();
    let crossing = |history: &History| {
        history.readings.windows(2).find_map(|pair| {
            let (a, b) = (pair[0].core.c(), pair[1].core.c());
            (a < line && b >= line).then(|| {
                let part = (line - a) / (b - a);
                let (t0, t1) = (pair[0].time.seconds() as f64, pair[1].time.seconds() as f64);
                Elapsed::from_seconds((t0 + part * (t1 - t0)).ceil() as i64)
            })
        })
    };
    Ok(Run {
        core_at: crossing(&history).transpose()?,
        done_at: done(&longer, ask)?,
        held: hold_time_above(&history, ask.core)?.longest,
        core_at_end: history.readings.last().map_or(ask.from, |r| r.core),
        minutes_at_70: lethality_of(&history, &LISTERIA)?.minutes,
        history,
    })
}

/// When the core has been there for the whole hold without a dip.
fn done(history: &History, ask: &Cook) -> Result<Option<Elapsed>, ScienceError> {
    let (line, hold) = (ask.core.c(), ask.hold.seconds() as f64);
    let mut since: Option<f64> = None;
    for pair in history.readings.windows(2) {
        let (a, b) = (pair[0].core.c(), pair[1].core.c());
        let (t0, t1) = (pair[0].time.seconds() as f64, pair[1].time.seconds() as f64);
        if b < line {
            since = None;
            continue;
        }
        let start = *since.get_or_insert(if a >= line {
            t0
        } else {
            t0 + (line - a) / (b - a) * (t1 - t0)
        });
        if t1 - start >= hold {
            return Ok(Some(Elapsed::from_seconds((start + hold).ceil() as i64)?));
        }
    }
    Ok(None)
}

fn enter(name: &str, run: &Run, from: &[&str], sheet: &mut Sheet) {
    let h = format!("h.{name}");
    let all: Vec<&str> = from.iter().copied().chain([h.as_str()]).collect();
    let with = |more: &'static str| all.iter().copied().chain([more]).collect::<Vec<_>>();
    let id = |what: &str| format!("{name}.{what}");
    if let Some(at) = run.core_at {
        let formula = format!("first time core ≥ asked; {CONDUCTION}");
        lasts_minutes(sheet, &id("core_at"), at, &formula, &with("core"));
    }
    let formula = format!("longest stretch of core ≥ asked; {CONDUCTION}");
    lasts_minutes(sheet, &id("held"), run.held, &formula, &with("core"));
    let formula = format!("core at the end; {CONDUCTION}");
    sheet.worked(
        &id("core_end"),
        run.core_at_end.c(),
        "°C",
        1,
        &formula,
        &all,
    );
    if let Some(at) = run.done_at {
        let formula =
            format!("end of the first whole hold, the last stretch going on; {CONDUCTION}");
        let mut from = with("core");
        from.push("hold");
        lasts_minutes(sheet, &id("done_at"), at, &formula, &from);
    }
    let formula =
        "∫ 10^((core − 70) ÷ 7.5) dt, Listeria in fish (FDA fish guide App. 4, from memory)";
    let places = if run.minutes_at_70 < 10.0 { 2 } else { 0 };
    sheet.worked(&id("f70"), run.minutes_at_70, "min", places, formula, &all);
}

fn told(
    ask: &Cook,
    usual: &Run,
    programme: Elapsed,
    sheet: &mut Sheet,
) -> Result<(String, String, String, &'static str), Refusal> {
    let core = sheet.show("core");
    let hold = sheet.show("hold");
    let (answer, main) = match usual.core_at {
        Some(_) => (
            format!(
                "{}  until the core is at {core}",
                sheet.show("usual.core_at")
            ),
            "usual.core_at",
        ),
        None => (
            format!(
                "{}  in the core when the programme ends: {core} is not reached",
                sheet.show("usual.core_end")
            ),
            "usual.core_end",
        ),
    };
    let limit = if usual.held >= ask.hold {
        lasts_minutes(
            sheet,
            "spare",
            usual.held.checked_sub(ask.hold)?,
            "held − hold",
            &["usual.held", "hold"],
        );
        format!(
            "{core} held {} of the {hold} asked when the programme ends: {} to spare",
            sheet.show("usual.held"),
            sheet.show("spare")
        )
    } else {
        lasts_minutes(
            sheet,
            "short",
            ask.hold.checked_sub(usual.held)?,
            "hold − held",
            &["usual.held", "hold"],
        );
        format!(
            "hold NOT REACHED: {core} held {} of the {hold} asked when the programme ends after {}, {} short",
            sheet.show("usual.held"),
            sheet.show("programme"),
            sheet.show("short")
        )
    };
    let probes =
        "probe the thickest piece in three places: the coldest decides, a dip starts the hold anew";
    let next = match usual.done_at {
        Some(done) if done <= programme => format!(
            "the hold is done at {}, by this calculation; {probes}",
            sheet.show("usual.done_at")
        ),
        Some(done) => {
            let from = ["usual.done_at", "programme"];
            lasts_minutes(
                sheet,
                "longer",
                done.checked_sub(programme)?,
                "done − programme",
                &from,
            );
            format!(
                "run the last stretch {} longer; {probes}",
                sheet.show("longer")
            )
        }
        None => {
            sheet.known(
                "longest",
                LONGER_H,
                "h",
                &list::HOUSE,
                "longest last stretch looked at",
            );
            format!(
                "the last stretch does not do it in {} either: hotter air, or thinner pieces; {probes}",
                sheet.show("longest")
            )
        }
    };
    Ok((answer, limit, next, main))
}

fn small(ask: &Cook) -> Vec<(&'static str, String)> {
    let surface = match ask.humidity_pct {
        Some(_) => "wet surface that cools itself, its water never running out",
        None => "surface taken as dry: a wet one cools itself and is slower (give --humidity)",
    };
    vec![
        (
            "status",
            "planned, not shown: only a probe shows a core. Heat transfer is known to the order of \
             magnitude: fit it to a logged core"
                .to_owned(),
        ),
        ("base", format!("{}; {}; {surface}", ask.matter.words(), ask.lying.words())),
        (
            "worth",
            format!(
                "minutes at 70 °C, for information: {} in {} min at 70 °C, z 7.5 °C. {} ({})",
                LISTERIA.name,
                LISTERIA.target_minutes().map_or_else(String::new, |m| crate::figures::number(m, 0)),
                list::FDA_FISH_A4.title,
                list::FDA_FISH_A4.status.words()
            ),
        ),
        (
            "source",
            format!(
                "conduction: {} ({}); food: {} ({}); heat transfer ({})",
                list::CONDUCTION.title,
                list::CONDUCTION.status.words(),
                list::CHOI_OKOS.title,
                list::CHOI_OKOS.status.words(),
                list::HEAT_TRANSFER.status.words()
            ),
        ),
    ]
}

fn picture(ask: &Cook, thickness: Length, usual: &Run) -> Result<Chart, Refusal> {
    let end = usual
        .history
        .readings
        .last()
        .map_or(0.0, |r| r.time.hours());
    let (_, unit, _) = said(end);
    let per_hour = if unit == "min" { 60.0 } else { 1.0 };
    let unit = if unit == "min" { "min" } else { "h" };
    let one = |name: &str, stroke, of: fn(&science::heat::Reading) -> f64| Curve {
        name: name.to_owned(),
        points: curve(&usual.history, per_hour, of),
        stroke,
    };
    let curves = vec![
        one("air", Stroke::Dotted, |r| r.air.c()),
        one("surface", Stroke::Dashed, |r| r.surface.c()),
        one("core", Stroke::Solid, |r| r.core.c()),
    ];
    let values: Vec<f64> = curves
        .iter()
        .flat_map(|c| c.points.iter().map(|p| p.1))
        .collect();
    Ok(Chart {
        title: format!("{thickness} piece through the programme: calculated, no reading",),
        x: until("time", unit, end * per_hour),
        y: axis("temperature", "°C", values)?,
        curves,
        bands: Vec::new(),
        marks: usual
            .core_at
            .map(|at| Mark {
                x: at.hours() * per_hour,
                label: format!("core at {}", ask.core),
            })
            .into_iter()
            .collect(),
        measured: Vec::new(),
    })
}

#[cfg(test)]
mod tests;
