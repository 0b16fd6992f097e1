//! The command line.

use clap::{Parser, Subcommand};

/// Plans, proves, prices and runs cold-kitchen production.
#[derive(Debug, Parser)]
#[command(name = "saltern", version, about, disable_help_subcommand = true)]
pub(crate) struct Args {
    /// What to do; nothing opens the board on the demo
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Read a book and say everything that is wrong with it
    Check(Check),
    /// Weights, order, cost, verdicts and a clock for one event
    Plan(PlanArgs),
    /// The derivation of one figure
    Why(Why),
    /// What a change moves, why, and what it costs
    Compare(Compare),
    /// One bench question, one answer
    Ask(crate::ask::Ask),
    /// The kitchen's own pages, on this machine
    Serve(crate::serving::Serve),
    /// What is entered against a rule: a fish that is eaten raw, samples of salt, dates, pieces that took nitrite
    Verdict(crate::verdict::Asked),
    /// A logger's file against a rule: shown, not shown or broken
    Judge(crate::judging::Judge),
    /// A plan or a recipe in an open format: calendar, csv, xlsx, JSON
    Export(crate::exporting::Export),
    /// Prices, supplier lists, ingredients or a recipe from a file: a preview, then --apply
    Import(crate::importing::Import),
}

/// `saltern check BOOK`
#[derive(Debug, clap::Args)]
pub(crate) struct Check {
    /// A folder of .toml files, one file, or `demo`
    pub(crate) book: String,
    /// For programs
    #[arg(long)]
    pub(crate) json: bool,
}

/// `saltern plan BOOK EVENT`
#[derive(Debug, clap::Args)]
pub(crate) struct PlanArgs {
    /// A folder of .toml files, one file, or `demo`
    pub(crate) book: String,
    /// The id of an event of the book
    pub(crate) event: String,
    /// A change, such as covers=72, serve=+90min, hot-smoked-char.fillet.yield=0.58
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// What happened so far
    #[command(flatten)]
    pub(crate) record: crate::happening::Record,
    /// Another event of the same site to put on one order
    #[arg(long, value_name = "EVENT")]
    pub(crate) with: Vec<String>,
    /// For programs: contract 1
    #[arg(long)]
    pub(crate) json: bool,
}

/// `saltern why BOOK EVENT FIGURE`
#[derive(Debug, clap::Args)]
pub(crate) struct Why {
    /// A folder of .toml files, one file, or `demo`
    pub(crate) book: String,
    /// The id of an event of the book
    pub(crate) event: String,
    /// The id of a figure, such as cost.per_cover_bought
    #[arg(required_unless_present = "list")]
    pub(crate) figure: Option<String>,
    /// A change, as in `plan`
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// What happened so far
    #[command(flatten)]
    pub(crate) record: crate::happening::Record,
    /// Go all the way down to what was entered, weighed or published
    #[arg(long)]
    pub(crate) deep: bool,
    /// Print the ids of all figures with their values
    #[arg(long)]
    pub(crate) list: bool,
    /// For programs
    #[arg(long)]
    pub(crate) json: bool,
}

/// `saltern compare BOOK EVENT --set KEY=VALUE`
#[derive(Debug, clap::Args)]
pub(crate) struct Compare {
    /// A folder of .toml files, one file, or `demo`
    pub(crate) book: String,
    /// The id of an event of the book
    pub(crate) event: String,
    /// A change, as in `plan`; several count together
    #[arg(long, value_name = "KEY=VALUE", required_unless_present = "now")]
    pub(crate) set: Vec<String>,
    /// What happened so far
    #[command(flatten)]
    pub(crate) record: crate::happening::Record,
    /// For programs
    #[arg(long)]
    pub(crate) json: bool,
}
