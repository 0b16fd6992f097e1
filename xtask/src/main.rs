//! Chores for those who work on the house.
//!
//! - `cargo xtask rcpsp [--seconds N] FILE...` solves open scheduling problems with the product's own engine, within 30 s
//!   each unless told otherwise, and prints `file,status,makespan,bound,seconds` a line.
//! - `cargo xtask kitchen SECONDS FILE...` does the same for the kitchens of `benches/schedule` and prints
//!   `file,status,value,bound,seconds,first,megabytes`: `first` is when the first schedule was there, the
//!   last column the most memory used so far (Linux).
//! - `cargo xtask replan SECONDS MINUTE FILE...` plans a kitchen, lets something go wrong at that minute and times the
//!   re-plan: `file,tasks,pinned,first,value at 0.3 s,at 1 s,at 2 s,best,proved,seconds`.

mod kitchen;
mod rcpsp;
mod replan;

use std::process::ExitCode;
use std::time::{Duration, Instant};

use schedule::{Effort, Outcome, Problem, check, solve};

/// Time for each file of open data.
const LIMIT: Duration = Duration::from_secs(30);

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["rcpsp", "--seconds", seconds, files @ ..] if !files.is_empty() => {
            limit(seconds).and_then(|limit| open_data(limit, files))
        }
        ["rcpsp", files @ ..] if !files.is_empty() => open_data(LIMIT, files),
        ["kitchen", seconds, files @ ..] if !files.is_empty() => {
            limit(seconds).and_then(|limit| kitchens(limit, files))
        }
        ["replan", seconds, now, files @ ..] if !files.is_empty() => {
            limit(seconds).and_then(|limit| replans(limit, now, files))
        }
        other => Err(format!(
            "found {other:?}; expected: cargo xtask rcpsp [--seconds N] FILE..., cargo xtask kitchen SECONDS FILE..., or \
             cargo xtask replan SECONDS MINUTE FILE..."
        )),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}

/// An answer with how long it took.
struct Timed {
    outcome: Outcome,
    seconds: f64,
    first: Option<f64>,
}

/// Solves within a time; an error when the schedule breaks a rule.
fn timed(problem: &Problem, limit: Duration) -> Result<Timed, String> {
    let begun = Instant::now();
    let effort = Effort {
        steps: u64::MAX / 4,
        ..Effort::standard()
    };
    let mut first = None;
    let outcome = solve(problem, &effort, &mut |progress| {
        if progress.best.is_some() && first.is_none() {
            first = Some(begun.elapsed().as_secs_f64());
        }
        begun.elapsed() < limit
    })
    .map_err(|malformed| malformed.to_string())?;
    let seconds = begun.elapsed().as_secs_f64();
    if let Outcome::Found(found) = &outcome {
        let broken = check::check(problem, &found.start, &found.people);
        if !broken.is_empty() {
            return Err(format!("the schedule breaks rules: {broken:?}"));
        }
        first = first.or(Some(seconds));
    }
    Ok(Timed {
        outcome,
        seconds,
        first,
    })
}

fn text_of(file: &str) -> Result<String, String> {
    std::fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))
}

fn open_data(limit: Duration, files: &[&str]) -> Result<(), String> {
    println!("file,status,makespan,bound,seconds");
    for file in files {
        let problem = rcpsp::read(&text_of(file)?).map_err(|error| format!("{file}: {error}"))?;
        let timed = timed(&problem, limit).map_err(|error| format!("{file}: {error}"))?;
        let seconds = timed.seconds;
        match timed.outcome {
            Outcome::Found(found) => {
                let last = problem.tasks.len() - 1;
                let status = if found.proved { "proved" } else { "feasible" };
                // The value is how much later than its earliest the last activity starts.
                let bound = found.earliest[last] as f64 + found.bound.ceil();
                let makespan = found.start[last];
                println!("{file},{status},{makespan},{bound},{seconds:.2}");
            }
            Outcome::Impossible(_) => println!("{file},impossible,,,{seconds:.2}"),
            Outcome::NotFound(_) => println!("{file},not found,,,{seconds:.2}"),
        }
    }
    Ok(())
}

/// A time from its words.
fn limit(seconds: &str) -> Result<Duration, String> {
    seconds
        .parse()
        .ok()
        .filter(|seconds| (0.0..=86_400.0).contains(seconds))
        .map(Duration::from_secs_f64)
        .ok_or_else(|| format!("found \"{seconds}\"; expected seconds, from 0 to a day's"))
}

fn kitchens(limit: Duration, files: &[&str]) -> Result<(), String> {
    println!("file,status,value,bound,seconds,first,megabytes");
    for file in files {
        let problem = kitchen::read(&text_of(file)?).map_err(|error| format!("{file}: {error}"))?;
        let timed = timed(&problem, limit).map_err(|error| format!("{file}: {error}"))?;
        let told = match &timed.outcome {
            Outcome::Found(found) => {
                let status = if found.proved { "proved" } else { "feasible" };
                format!("{status},{:.3},{:.3}", found.value, found.bound)
            }
            Outcome::Impossible(_) => "impossible,,".to_owned(),
            Outcome::NotFound(_) => "not found,,".to_owned(),
        };
        let first = timed.first.map_or(String::new(), |at| format!("{at:.2}"));
        let memory = most_memory().map_or(String::new(), |mb| mb.to_string());
        println!("{file},{told},{:.2},{first},{memory}", timed.seconds);
    }
    Ok(())
}

fn replans(limit: Duration, now: &str, files: &[&str]) -> Result<(), String> {
    let now = now
        .parse()
        .map_err(|_| format!("found \"{now}\"; expected a minute of the kitchen's clock"))?;
    println!("file,tasks,pinned,first,at 0.3 s,at 1 s,at 2 s,best,proved,seconds");
    for file in files {
        let problem = kitchen::read(&text_of(file)?).map_err(|error| format!("{file}: {error}"))?;
        let told = |v: Option<f64>| v.map_or(String::new(), |v| format!("{v:.2}"));
        match replan::replanned(&problem, now, limit) {
            Ok(r) => println!(
                "{file},{},{},{},{},{},{},{},{},{:.2}",
                r.tasks,
                r.pinned,
                r.first.map_or(String::new(), |v| format!("{v:.3}")),
                told(r.at[0]),
                told(r.at[1]),
                told(r.at[2]),
                told(r.best.map(|b| b.0)),
                r.best.is_some_and(|b| b.1),
                r.seconds
            ),
            Err(error) => println!("{file},{error}"),
        }
    }
    Ok(())
}

/// The most memory this process has held, in megabytes, where the system tells.
fn most_memory() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kilobytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kilobytes / 1_024)
}
