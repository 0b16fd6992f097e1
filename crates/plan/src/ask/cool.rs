//! Is it planned to cool fast enough, and is it cooling fast enough now?

mod drawn;
mod forecast;
mod series;

pub use forecast::{Followed, Seen, followed};

use kitchen::site::RuleSet;
use safety::Verdict;
use safety::planned::{CoolingRule, cooling_rule};
use science::ScienceError;
use science::heat::{Grid, HeatTransfer, Programme, Segment, Surroundings, time_to_core};
use science::inverse::Search;
use science::thermal_properties::{FREEZING_C, Food};
use sources::list;
use units::{Elapsed, Length, Temperature};

use super::answer::Answer;
use super::picture::{Pictured, lasts, said};
use super::refusal::Refusal;
use super::sheet::{Sheet, reading_of};
use super::warmth::{CONDUCTION, Lying, Matter, on_each_other, stacked, transfer};

/// Longest cooling looked at, h. House value: four times what any place allows.
const LONGEST_H: f64 = 24.0;
/// Where the deepest is looked for, mm. House values.
const DEPTH_MM: (f64, f64) = (2.0, 200.0);

/// The question before there is a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Cool {
    /// Thickness, diameter, or depth in the tub.
    pub thickness: Length,
    /// How many lie on each other; their joint thickness counts.
    pub stacked: u32,
    /// How it lies.
    pub lying: Lying,
    /// What it is.
    pub matter: Matter,
    /// How warm it is.
    pub from: Temperature,
    /// Air or water around it.
    pub air: Temperature,
    /// What it stands in.
    pub surroundings: Surroundings,
    /// In a word of the kitchen: "blast".
    pub called: String,
    /// Whose rule.
    pub place: RuleSet,
}

/// When the core passes the points of the rule; nothing where it does not in the time looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Times {
    clock: Elapsed,
    first: Option<Elapsed>,
    last: Option<Elapsed>,
}

impl Times {
    fn keeps(&self, rule: &CoolingRule) -> bool {
        let within =
            |time: Option<Elapsed>, minutes: f64| time.is_some_and(|t| t.minutes() <= minutes);
        within(self.first, rule.first_min) && within(self.last, rule.total_min)
    }
}

/// Answers it.
///
/// # Errors
/// Food no warmer than what it is to come to; whatever the model refuses.
pub fn cool(ask: &Cool) -> Result<Pictured, Refusal> {
    let rule = cooling_rule(ask.place).map_err(Refusal::rules)?;
    if ask.from.c() <= rule.first_c || ask.from <= ask.air {
        return Err(Refusal::new(
            format!("--from: found {}", ask.from),
            format!("warmer than {} °C and than what it stands in", rule.first_c),
            "give the core as it is now",
        ));
    }
    let mut sheet = Sheet::default();
    let mut from = vec!["thickness", "from", "air"];
    let joint = Cool {
        thickness: stacked(ask.thickness, ask.stacked, &mut sheet)?,
        ..ask.clone()
    };
    let (asked, ask) = (ask, &joint);
    sheet.entered("from", ask.from.c(), "°C");
    sheet.entered("air", ask.air.c(), "°C");
    from.extend(ask.matter.enter(&mut sheet));
    ruled(&rule, &mut sheet)?;
    let hs = transfer(ask.surroundings, &mut sheet)?;
    let food = ask.matter.food()?;
    let (air, all) = counted(ask, &food, &rule, hs.map(|(_, h)| h))?;
    let freezes = air != ask.air;
    if freezes {
        sheet.known(
            "air.counted",
            air.c(),
            "°C",
            &list::MEMORY,
            "where fish, meat and thin liquor begin to freeze",
        );
        from.push("air.counted");
    }
    for ((name, _), times) in hs.iter().zip(&all) {
        enter(name, times, &rule, &from, &mut sheet);
    }
    let usual = all[1];
    // A deeper one freezes its surface where this one may not: the search counts on no colder air.
    let warmer = Temperature::celsius(ask.air.c().max(FREEZING_C))?;
    let deepest = deepest(ask, &food, &rule, warmer, hs[0].1)?;
    if let Some(mm) = deepest {
        let from: Vec<&str> = from
            .iter()
            .copied()
            .filter(|id| *id != "thickness")
            .chain(["h.slow"])
            .collect();
        let formula = format!("bisection over the thickness for both limits, slow; {CONDUCTION}");
        sheet.worked("deepest", mm, "mm", 0, &formula, &from);
    }
    let late = !usual.keeps(&rule);
    // Heat transfer is known to the order of magnitude, and air counted warmer than it is gives the slow
    // side only: a plan is broken when even the quick one is late.
    let broken = !all[2].keeps(&rule) && !freezes;
    let answer = line_1(&usual, &rule, &sheet);
    let limit = limit(&all, &rule, &sheet);
    let mut next = next(ask, late, deepest, &rule, &sheet);
    let mut details = table(&rule, &sheet);
    if let Some((said, apart)) = on_each_other(asked.stacked, &sheet) {
        details.push(said);
        next = format!("{apart}; {next}");
    }
    let main = if usual.first.is_some() {
        "usual.first"
    } else {
        "usual.clock"
    };
    let picture = drawn::picture(ask, &food, air, hs[1].1, &usual, &rule)?;
    Ok(Pictured {
        answer: Answer {
            question: "cool",
            answer,
            limit,
            next,
            details,
            small: small(ask, &rule, freezes),
            verdict: Some(if broken {
                Verdict::Broken
            } else {
                Verdict::NotShown
            }),
            main,
            figures: sheet.figures,
        },
        picture,
    })
}

/// The rule on the sheet.
fn ruled(rule: &CoolingRule, sheet: &mut Sheet) -> Result<(), Refusal> {
    sheet.known(
        "rule.from",
        rule.from_c,
        "°C",
        rule.source,
        "where the clock starts",
    );
    sheet.known("rule.first", rule.first_c, "°C", rule.source, "");
    sheet.known("rule.last", rule.last_c, "°C", rule.source, "");
    for (id, minutes) in [
        ("rule.first_time", rule.first_min),
        ("rule.total_time", rule.total_min),
    ] {
        let (value, unit, _) = said(Elapsed::from_minutes(minutes)?.hours());
        sheet.known(id, value, unit, rule.source, "");
    }
    Ok(())
}

/// The air as counted, and the times at all three heat transfers.
///
/// The model does not freeze food. Where a surface would, air at the freezing point is counted instead,
/// for all three: colder air is quicker, so the times are then the slow side, and the answer says so.
fn counted(
    ask: &Cool,
    food: &Food,
    rule: &CoolingRule,
    hs: [HeatTransfer; 3],
) -> Result<(Temperature, Vec<Times>), ScienceError> {
    let all = |air| {
        hs.iter()
            .map(|h| times(ask, food, rule, air, ask.thickness, *h))
            .collect::<Result<Vec<_>, _>>()
    };
    match all(ask.air) {
        Err(ScienceError::OutOfRange { .. }) if ask.air.c() < FREEZING_C => {
            let air = Temperature::celsius(FREEZING_C)?;
            Ok((air, all(air)?))
        }
        other => Ok((ask.air, other?)),
    }
}

fn times(
    ask: &Cool,
    food: &Food,
    rule: &CoolingRule,
    air: Temperature,
    thickness: Length,
    h: HeatTransfer,
) -> Result<Times, ScienceError> {
    let body = ask.lying.body(thickness)?;
    let programme = Programme::new(vec![Segment::steady(
        air,
        Elapsed::from_hours(LONGEST_H)?,
        h,
    )])?;
    let reach = |c: f64| {
        let target = Temperature::celsius(c)?;
        match time_to_core(food, &body, &programme, ask.from, target, Grid::usual()?) {
            Ok(time) => Ok(Some(time)),
            Err(ScienceError::CoreNotReached { .. }) => Ok(None),
            Err(other) => Err(other),
        }
    };
    let clock = if ask.from.c() > rule.from_c {
        reach(rule.from_c)?.unwrap_or(Elapsed::ZERO)
    } else {
        Elapsed::ZERO
    };
    let since = |time: Option<Elapsed>| time.map(|t| t.checked_sub(clock)).transpose();
    Ok(Times {
        clock,
        first: since(reach(rule.first_c)?)?,
        last: since(reach(rule.last_c)?)?,
    })
}

fn enter(name: &str, times: &Times, rule: &CoolingRule, from: &[&str], sheet: &mut Sheet) {
    let h = format!("h.{name}");
    let clock = format!("{name}.clock");
    let all: Vec<&str> = from.iter().copied().chain([h.as_str()]).collect();
    let with = |more: &[&'static str]| {
        all.iter()
            .copied()
            .chain(more.iter().copied())
            .collect::<Vec<_>>()
    };
    let formula =
        format!("when the core passes the point where the clock starts, from now; {CONDUCTION}");
    lasts(sheet, &clock, times.clock, &formula, &with(&["rule.from"]));
    let formula = format!("when the core gets there, from where the clock starts; {CONDUCTION}");
    let mut put =
        |what: &str, time: Option<Elapsed>, limit: f64, to: &'static str, limit_id: &str| {
            let Some(time) = time else { return };
            let id = format!("{name}.{what}");
            let from: Vec<&str> = with(&[to]).into_iter().chain([clock.as_str()]).collect();
            lasts(sheet, &id, time, &formula, &from);
            let (value, unit, places) = said((limit - time.minutes()).abs() / 60.0);
            let formula = if time.minutes() <= limit {
                "limit − time"
            } else {
                "time − limit"
            };
            sheet.worked(
                &format!("{id}.margin"),
                value,
                unit,
                places,
                formula,
                &[limit_id, &id],
            );
        };
    put(
        "first",
        times.first,
        rule.first_min,
        "rule.first",
        "rule.first_time",
    );
    put(
        "last",
        times.last,
        rule.total_min,
        "rule.last",
        "rule.total_time",
    );
}

fn line_1(usual: &Times, rule: &CoolingRule, sheet: &Sheet) -> String {
    let two = rule.first_c > rule.last_c;
    let first = match usual.first {
        Some(_) => format!(
            "{}  to {}",
            sheet.show("usual.first"),
            sheet.show("rule.first")
        ),
        None => format!("NOT REACHED  {}", sheet.show("rule.first")),
    };
    let last = match usual.last {
        _ if !two => String::new(),
        Some(_) => format!(
            ", {} to {}",
            sheet.show("usual.last"),
            sheet.show("rule.last")
        ),
        None => format!(", {} not reached", sheet.show("rule.last")),
    };
    format!(
        "{first}{last}  (core, from {})",
        sheet.show(if sheet.figures.number("from") > Some(rule.from_c) {
            "rule.from"
        } else {
            "from"
        })
    )
}

fn limit(all: &[Times], rule: &CoolingRule, sheet: &Sheet) -> String {
    let two = rule.first_c > rule.last_c;
    let stage = |name: &str, what: &str, time: Option<Elapsed>, limit: f64| match time {
        None => "not reached".to_owned(),
        Some(time) => {
            let margin = sheet.show(&format!("{name}.{what}.margin"));
            if time.minutes() <= limit {
                format!("{margin} to spare")
            } else {
                format!("{margin} TOO LATE")
            }
        }
    };
    let told = |name: &str, times: &Times| {
        let first = stage(name, "first", times.first, rule.first_min);
        if two {
            format!(
                "{first} and {}",
                stage(name, "last", times.last, rule.total_min)
            )
        } else {
            first
        }
    };
    let asked = if two {
        format!(
            "{} within {}, {} within {} in all",
            sheet.show("rule.first"),
            sheet.show("rule.first_time"),
            sheet.show("rule.last"),
            sheet.show("rule.total_time")
        )
    } else {
        format!(
            "{} within {}",
            sheet.show("rule.first"),
            sheet.show("rule.first_time")
        )
    };
    format!(
        "from {}: {asked}. Usual {}; slow {}. Planned, not shown",
        sheet.show("rule.from"),
        told("usual", &all[1]),
        told("slow", &all[0])
    )
}

fn next(ask: &Cool, late: bool, deepest: Option<f64>, rule: &CoolingRule, sheet: &Sheet) -> String {
    let word = if matches!(ask.lying, Lying::OneFace) {
        "deep"
    } else {
        "thick"
    };
    let read = format!(
        "read the core at {} and at {}",
        sheet.show("rule.first_time"),
        sheet.show("rule.total_time")
    );
    let read = if rule.first_c > rule.last_c {
        read
    } else {
        format!("read the core at {}", sheet.show("rule.first_time"))
    };
    match deepest {
        Some(_) if late => format!(
            "at most {} {word} in here keeps to it on the slow side: cut or pour it so, or take colder or \
             quicker surroundings; {read}",
            sheet.show("deepest")
        ),
        Some(_) => format!(
            "{read}; up to {} {word} keeps to it on the slow side",
            sheet.show("deepest")
        ),
        None => format!(
            "no thickness keeps to it in here on the slow side: colder or quicker surroundings; {read}"
        ),
    }
}

fn table(rule: &CoolingRule, sheet: &Sheet) -> Vec<String> {
    let mut rows = vec![format!(
        "{:<34}{:>12}{:>12}{:>12}",
        "heat transfer to the surface", "slow", "usual", "quick"
    )];
    let mut row = |what: String, id: &str| {
        let cell = |name: &str| {
            let id = format!("{name}.{id}");
            if sheet.figures.get(&id).is_some() {
                sheet.show(&id)
            } else {
                "never".to_owned()
            }
        };
        rows.push(format!(
            "{what:<34}{:>12}{:>12}{:>12}",
            cell("slow"),
            cell("usual"),
            cell("quick")
        ));
    };
    if sheet.figures.number("from") > Some(rule.from_c) {
        row(
            format!("core at {}, the clock starts", sheet.show("rule.from")),
            "clock",
        );
    }
    row(format!("then to {}", sheet.show("rule.first")), "first");
    if rule.first_c > rule.last_c {
        row(
            format!("and to {}, in all", sheet.show("rule.last")),
            "last",
        );
    }
    rows
}

/// The largest thickness that keeps to both limits at the slow heat transfer, mm; nothing when even the
/// smallest does not. The largest looked at is an answer like any other.
fn deepest(
    ask: &Cool,
    food: &Food,
    rule: &CoolingRule,
    air: Temperature,
    h: HeatTransfer,
) -> Result<Option<f64>, Refusal> {
    let search = Search::new("thickness", DEPTH_MM.0, DEPTH_MM.1, 0.5)?;
    let found = search
        .greatest(|mm| Ok(times(ask, food, rule, air, Length::millimetres(mm)?, h)?.keeps(rule)));
    match found {
        Ok(limit) => Ok(Some(limit.x.floor())),
        Err(ScienceError::Search(science::inverse::SearchError::NeverHolds { .. })) => Ok(None),
        Err(other) => Err(other.into()),
    }
}

fn small(ask: &Cool, rule: &CoolingRule, freezes: bool) -> Vec<(&'static str, String)> {
    let mut small = vec![
        (
            "status",
            "planned, not shown: only readings show cooling".to_owned(),
        ),
        ("rule", reading_of(rule.source)),
        (
            "base",
            format!(
                "{}; {}; in {}. A liquor that is stirred is quicker than the still one calculated here",
                ask.matter.words(),
                ask.lying.words(),
                ask.called
            ),
        ),
        (
            "source",
            format!(
                "conduction: {} ({}); heat transfer, order of magnitude ({}); food: {} ({})",
                list::CONDUCTION.title,
                list::CONDUCTION.status.words(),
                list::HEAT_TRANSFER.status.words(),
                list::CHOI_OKOS.title,
                list::CHOI_OKOS.status.words()
            ),
        ),
    ];
    if freezes {
        small.insert(
            1,
            (
                "air",
                format!(
                    "its surface would freeze in air of {} °C, which is not calculated: the times are for air of \
                     {} °C, the slow side. Watch for ice",
                    crate::figures::number(ask.air.c(), 0),
                    crate::figures::number(FREEZING_C, 0)
                ),
            ),
        );
    }
    small
}

#[cfg(test)]
mod tests;
