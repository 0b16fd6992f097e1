//! The command line.

use clap::{Parser, Subcommand};

/// Plans, proves, prices and runs cold-kitchen production.
#[derive(Debug, Parser)]
#[command(name = "saltern", version, about, disable_help_subcommand = true)]
pub(crate) struct Args {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Read a book and say everything that is wrong with it
    Check(Check),
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
