//! Chores for those who work on the house. `cargo xtask rcpsp FILE...` solves open scheduling problems with the product's
//! own engine and prints `file,status,makespan,bound,seconds` a line.

mod rcpsp;

use std::process::ExitCode;
use std::time::{Duration, Instant};

use schedule::{Effort, Outcome, Problem, check, solve};

/// Time for each file.
const LIMIT: Duration = Duration::from_secs(30);

fn main() -> ExitCode {
    let mut words = std::env::args().skip(1);
    match words.next().as_deref() {
        Some("rcpsp") => solve_files(words.collect()),
        other => {
            eprintln!(
                "found {}; expected a chore; there is one: cargo xtask rcpsp FILE...",
                other.map_or("nothing".to_owned(), |word| format!("\"{word}\""))
            );
            ExitCode::from(2)
        }
    }
}

fn solve_files(files: Vec<String>) -> ExitCode {
    if files.is_empty() {
        eprintln!("found no file; expected: cargo xtask rcpsp FILE...");
        return ExitCode::from(2);
    }
    let mut fine = true;
    println!("file,status,makespan,bound,seconds");
    for file in files {
        let problem = std::fs::read_to_string(&file)
            .map_err(|error| error.to_string())
            .and_then(|text| rcpsp::read(&text).map_err(|error| error.to_string()));
        match problem.and_then(|problem| line(&problem)) {
            Ok(line) => println!("{file},{line}"),
            Err(error) => {
                eprintln!("{file}: {error}");
                fine = false;
            }
        }
    }
    if fine { ExitCode::SUCCESS } else { ExitCode::from(2) }
}

/// Status, makespan, bound and seconds of one problem; an error when the schedule breaks a rule.
fn line(problem: &Problem) -> Result<String, String> {
    let begun = Instant::now();
    let effort = Effort {
        steps: u64::MAX / 4,
        ..Effort::standard()
    };
    let outcome = solve(problem, &effort, &mut |_| begun.elapsed() < LIMIT)
        .map_err(|malformed| malformed.to_string())?;
    let seconds = begun.elapsed().as_secs_f64();
    Ok(match outcome {
        Outcome::Found(found) => {
            let broken = check::check(problem, &found.start, &found.people);
            if !broken.is_empty() {
                return Err(format!("the schedule breaks rules: {broken:?}"));
            }
            let last = problem.tasks.len() - 1;
            let status = if found.proved { "proved" } else { "feasible" };
            let makespan = found.start[last];
            // The value is how much later than its earliest the last activity starts.
            let bound = found.earliest[last] as f64 + found.bound;
            format!("{status},{makespan},{},{seconds:.2}", bound.ceil())
        }
        Outcome::Impossible(_) => format!("impossible,,,{seconds:.2}"),
        Outcome::NotFound(_) => format!("not found,,,{seconds:.2}"),
    })
}
