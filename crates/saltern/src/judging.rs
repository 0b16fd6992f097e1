//! `saltern judge`: a logger's file held against the rules of a place.
//!
//! Here is what a user says about the file, and how the answer is set; the file is read by `logger`,
//! the rules are in `safety::judge`.

mod log;
pub(crate) mod text;
pub(crate) mod values;

use std::num::NonZeroUsize;

use book::did_you_mean;
use jiff::tz::TimeZone;
use kitchen::site::RuleSet;
use safety::judge::{MeterCheck, RULES, Refusal, Terms};
use safety::rules::State;
use safety::{Judgement, Verdict};
use units::{Elapsed, read_elapsed, read_temperature};

use crate::exit::{BadInput, Outcome, say};

/// `saltern judge LOG.csv --against RULE`
#[derive(Debug, clap::Args)]
pub(crate) struct Judge {
    /// The file of a data logger, as text (CSV); `-` reads from the input
    #[arg(required_unless_present = "rules")]
    log: Option<String>,
    /// A rule by its name; several are judged one after the other. `--rules` lists them
    #[arg(long, value_name = "RULE", required_unless_present = "rules")]
    against: Vec<String>,
    /// Whose rules: us, canada, england or eu; us when not said, and the answer says so
    #[arg(long, value_parser = ["us", "canada", "england", "eu"])]
    place: Option<String>,
    /// The zone of the logger's clock, such as America/Toronto, or a fixed offset such as -05:00
    #[arg(long, value_name = "ZONE")]
    zone: Option<String>,
    /// A column and what it is: time=Stamp, temp="Core 1", ph=pH, humidity=RH, weight=Scale, or temp="column 2"
    #[arg(long = "column", value_name = "ROLE=NAME")]
    columns: Vec<String>,
    /// In 03/04/2027 the day stands first
    #[arg(long, conflicts_with = "month_first")]
    day_first: bool,
    /// In 03/04/2027 the month stands first
    #[arg(long)]
    month_first: bool,
    /// Temperatures are in °F, where the file does not say
    #[arg(long, conflicts_with = "celsius")]
    fahrenheit: bool,
    /// Temperatures are in °C, where the file does not say
    #[arg(long)]
    celsius: bool,
    /// Which of two different readings at one moment counts: first or last in the file
    #[arg(long, value_parser = ["first", "last"])]
    keep: Option<String>,
    /// Longest time between two readings that still counts as watched; 30 min, or 5 min where a hold is counted
    #[arg(long, value_name = "TIME")]
    gap: Option<String>,
    /// Judge from here, such as "2027-10-06 15:40"; the first row when not said
    #[arg(long, value_name = "MOMENT")]
    from: Option<String>,
    /// Judge until here; the last row when not said
    #[arg(long, value_name = "MOMENT")]
    until: Option<String>,
    /// Probes that were placed: with fewer in the file nothing is shown
    #[arg(long, value_name = "NUMBER")]
    probes: Option<NonZeroUsize>,
    /// A state of the United States whose own rules hold: maine, michigan, new-york or pennsylvania
    #[arg(long, value_parser = ["maine", "michigan", "new-york", "pennsylvania"])]
    state: Option<String>,
    /// A channel that hangs in the air of the chamber or room, by its name; every other one counts as food
    #[arg(long, value_name = "NAME")]
    air: Vec<String>,
    /// What the pH meter read in the buffer of pH 4.01 that day; with --buffer-7 and --sample
    #[arg(long, value_name = "PH", requires_all = ["buffer_7", "sample"])]
    buffer_4: Option<f64>,
    /// What it read in the buffer of pH 7.00
    #[arg(long, value_name = "PH", requires_all = ["buffer_4", "sample"])]
    buffer_7: Option<f64>,
    /// How warm the sample was, such as "24 °C"
    #[arg(long, value_name = "TEMPERATURE", requires_all = ["buffer_4", "buffer_7"])]
    sample: Option<String>,
    /// Print the names of the rules and what each asks
    #[arg(long)]
    rules: bool,
    /// For programs
    #[arg(long)]
    json: bool,
}

/// What was judged, ready to be set.
struct Judged {
    place: RuleSet,
    /// The state whose own rules hold.
    state: Option<State>,
    /// Whether the user named the place.
    place_named: bool,
    /// The longest time between readings, where the user named one.
    gap: Option<Elapsed>,
    log: log::Log,
    answers: Vec<Judgement>,
}

pub(crate) fn run(judge: &Judge) -> Result<Outcome, BadInput> {
    if judge.rules {
        say(&if judge.json {
            format!("{:#}\n", values::rules())
        } else {
            text::rules()
        });
        return Ok(Outcome::Fine);
    }
    let rules = judge
        .against
        .iter()
        .map(|name| rule(name))
        .collect::<Result<Vec<_>, _>>()?;
    let zone = zone(judge.zone.as_deref())?;
    let log = log::read(judge, zone)?;
    let place_named = judge.place.is_some();
    let place = judge
        .place
        .as_deref()
        .and_then(RuleSet::find)
        .unwrap_or(RuleSet::Us);
    let terms = terms(judge, place, &log)?;
    let answers = rules
        .iter()
        .map(|rule| rule(&log.history, &terms).map_err(|refusal| refused(&refusal, &log)))
        .collect::<Result<Vec<_>, _>>()?;
    let worst = Verdict::worst(answers.iter().map(|j| j.verdict));
    let judged = Judged {
        place,
        state: terms.state,
        place_named,
        gap: terms.gap,
        log,
        answers,
    };
    say(&if judge.json {
        format!("{:#}\n", values::judged(&judged))
    } else {
        text::judged(&judged)
    });
    Ok(match worst {
        Verdict::Broken => Outcome::Broken,
        Verdict::NotShown | Verdict::Shown => Outcome::Fine,
    })
}

fn rule(name: &str) -> Result<safety::judge::Judge, BadInput> {
    safety::judge::find(name).ok_or_else(|| {
        let names = RULES.iter().map(|(name, _, _)| *name);
        let near = did_you_mean(name, names.clone());
        BadInput::new(
            &format!("there is no rule \"{name}\""),
            &format!("one of {}", names.collect::<Vec<_>>().join(", ")),
            &near.map_or_else(
                || "saltern judge --rules says what each asks".to_owned(),
                |near| format!("did you mean {near}? saltern judge --rules says what each asks"),
            ),
        )
    })
}

/// The zone named, by its name in the tz database or as a fixed offset.
fn zone(named: Option<&str>) -> Result<Option<TimeZone>, BadInput> {
    let Some(name) = named else {
        return Ok(None);
    };
    let offset = || {
        let (sign, rest) = match name.split_at_checked(1)? {
            ("+", rest) => (1, rest),
            ("-" | "−", rest) => (-1, rest),
            _ => return None,
        };
        let (hours, minutes) = rest.split_once(':').unwrap_or((rest, "0"));
        let part = |text: &str, most: i32| {
            text.parse::<u8>()
                .ok()
                .map(i32::from)
                .filter(|n| *n <= most)
        };
        let seconds = sign * (part(hours, 25)? * 3600 + part(minutes, 59)? * 60);
        jiff::tz::Offset::from_seconds(seconds)
            .ok()
            .map(TimeZone::fixed)
    };
    offset()
        .or_else(|| TimeZone::get(name).ok())
        .map(Some)
        .ok_or_else(|| {
            BadInput::new(
                &format!("--zone: found \"{name}\""),
                "a zone such as America/Toronto or Europe/London, or a fixed offset such as -05:00",
                "name the zone of the place the logger stood in",
            )
        })
}

fn terms(judge: &Judge, place: RuleSet, log: &log::Log) -> Result<Terms, BadInput> {
    let gap = judge.gap.as_deref().map(gap).transpose()?;
    let moment = |entry: &str, text: &Option<String>| {
        text.as_deref().map(|t| log.moment(entry, t)).transpose()
    };
    let from = moment("--from", &judge.from)?;
    let until = moment("--until", &judge.until)?;
    let period = match (from, until, log.span()) {
        (None, None, _) | (_, _, None) => None,
        (from, until, Some((first, last))) => Some((from.unwrap_or(first), until.unwrap_or(last))),
    };
    if let Some((from, until)) = period.filter(|(from, until)| from >= until) {
        return Err(BadInput::new(
            &format!("a period from {} to {}", log.clock(from), log.clock(until)),
            "an end after its start, both on the clock of the log",
            "correct --from and --until; without them the whole log is judged",
        ));
    }
    Ok(Terms {
        state: state(judge.state.as_deref(), place)?,
        air: air(&judge.air, log)?,
        meter: meter(judge)?,
        gap,
        period,
        probes: judge.probes.map_or(1, NonZeroUsize::get),
        ..Terms::of(place)
    })
}

/// The state whose rules hold: only where the rules are those of the United States.
pub(crate) fn state(word: Option<&str>, place: RuleSet) -> Result<Option<State>, BadInput> {
    let Some(word) = word else {
        return Ok(None);
    };
    if place != RuleSet::Us {
        return Err(BadInput::new(
            &format!("--state {word} with --place {}", place.word()),
            "a state of the United States, or another place",
            "leave one of the two out",
        ));
    }
    Ok(State::ALL
        .iter()
        .find(|(name, _)| name.to_lowercase().replace(' ', "-") == word)
        .map(|(_, state)| *state))
}

/// How the meter was checked, where it was written down.
fn meter(judge: &Judge) -> Result<Option<MeterCheck>, BadInput> {
    let (Some(in_4), Some(in_7), Some(sample)) = (judge.buffer_4, judge.buffer_7, &judge.sample)
    else {
        return Ok(None);
    };
    let sample = read_temperature(sample).map_err(|error| {
        BadInput::new(
            &format!("--sample: {error}"),
            "a temperature such as 24 °C",
            "write how warm the sample was when it was read",
        )
    })?;
    Ok(Some(MeterCheck {
        in_4,
        in_7,
        sample_c: sample.c(),
    }))
}

/// The channels in the air: each must be one of the file.
fn air(named: &[String], log: &log::Log) -> Result<Vec<String>, BadInput> {
    let names: Vec<&str> = log
        .history
        .channels
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    match named.iter().find(|n| !names.contains(&n.as_str())) {
        None => Ok(named.to_vec()),
        Some(unknown) => {
            let near = did_you_mean(unknown, names.iter().copied());
            Err(BadInput::new(
                &format!("--air: there is no channel \"{unknown}\""),
                &format!("one of {}", names.join(", ")),
                &near.map_or_else(
                    || "name the channel as the heading has it".to_owned(),
                    |near| format!("did you mean \"{near}\"?"),
                ),
            ))
        }
    }
}

fn gap(text: &str) -> Result<Elapsed, BadInput> {
    read_elapsed(text).map_err(|error| {
        BadInput::new(
            &format!("--gap: {error}"),
            "a time such as 10 min",
            "name the longest time between two readings that your rule allows",
        )
    })
}

/// Why nothing can be judged, with moments as the clock on the wall had them.
fn refused(refusal: &Refusal, log: &log::Log) -> BadInput {
    match refusal {
        Refusal::Impossible {
            channel,
            at_s,
            value,
            unit,
            least,
            most,
        } => BadInput::new(
            &format!("{channel}: {value} {unit} at {}", log.clock(*at_s)),
            &format!("{least} to {most} {unit}, what a kitchen probe can read"),
            "look at the probe and mark the reading as lost; nothing is judged until then",
        ),
        Refusal::Contradictory {
            channel,
            before_s,
            at_s,
        } => BadInput::new(
            &format!(
                "{channel}: a reading at {} after one at {}",
                log.clock(*at_s),
                log.clock(*before_s)
            ),
            "each reading later than the one before",
            "say which of them holds",
        ),
        Refusal::Terms { found, expected } => {
            BadInput::new(found, expected, "correct the entry and judge again")
        }
        other => BadInput::new(
            &other.to_string(),
            "rules that hold together",
            "install the program anew: its rules are part of it",
        ),
    }
}
