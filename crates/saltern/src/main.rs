//! Saltern plans, proves, prices and runs cold-kitchen production.
//!
//! This is the edge: arguments in, text out, exit codes. `main` reads like a table of contents;
//! everything it calls for a figure lives in the rooms below.

// The edge is where printing belongs.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod args;
mod ask;
mod check;
mod diagnostics;
mod exit;
mod exporting;
mod happening;
mod importing;
mod judging;
mod load;
mod planning;
mod serving;
mod show;
mod verdict;
mod writing;

use std::process::ExitCode;

use args::{Args, Command};
use clap::Parser;

fn main() -> ExitCode {
    let args = Args::parse();
    let outcome = match args.command {
        None => serving::run(&serving::Serve::demo()),
        Some(Command::Check(check)) => check::run(&check),
        Some(Command::Plan(args)) => planning::run_plan(&args),
        Some(Command::Why(args)) => planning::run_why(&args),
        Some(Command::Compare(args)) => planning::run_compare(&args),
        Some(Command::Ask(question)) => ask::run(&question),
        Some(Command::Serve(serve)) => serving::run(&serve),
        Some(Command::Verdict(asked)) => verdict::run(&asked),
        Some(Command::Judge(judge)) => judging::run(&judge),
        Some(Command::Export(export)) => exporting::run(&export),
        Some(Command::Import(import)) => importing::run(&import),
    };
    exit::report(outcome)
}
