//! `saltern backup`, `saltern restore`, `saltern verify`: the file of the record.

use std::path::{Path, PathBuf};

use jiff::Timestamp;
use store::{Error, Store, Verified, Verify};

use crate::exit::{BadInput, Outcome, say};
use crate::opening::told;

/// `saltern backup`
#[derive(Debug, clap::Args)]
pub(crate) struct Backup {
    /// The file of the record; it may be in use
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
    /// The new file; it must not be there yet
    #[arg(long, value_name = "FILE2")]
    to: PathBuf,
}

/// `saltern restore`
#[derive(Debug, clap::Args)]
pub(crate) struct Restore {
    /// The backup
    #[arg(long, value_name = "FILE2")]
    from: PathBuf,
    /// The file of the record it takes the place of; nobody may have it open
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
    /// Take the place of a file that is there; the old one is kept beside
    #[arg(long)]
    replace: bool,
}

/// `saltern verify`
#[derive(Debug, clap::Args)]
pub(crate) struct VerifyArgs {
    /// The file of the record
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
}

pub(crate) fn backup(args: &Backup) -> Result<Outcome, BadInput> {
    let store = Store::open(&args.db).map_err(|e| told(&e))?;
    let copied = match store.backup(&args.to) {
        // It was read whole, and something in it does not hold: the same answer as verify gives.
        Err(Error::Broken(flaw)) => return Ok(broken(&args.db, &flaw)),
        other => other.map_err(|e| told(&e))?,
    };
    say(&format!(
        "{} holds {}.\n{}",
        args.to.display(),
        holds(&copied),
        head(&copied)
    ));
    Ok(Outcome::Fine)
}

pub(crate) fn restore(args: &Restore) -> Result<Outcome, BadInput> {
    let there = std::fs::symlink_metadata(&args.db).is_ok();
    if there && !args.replace {
        return Err(BadInput::new(
            &format!("{} is there already", args.db.display()),
            "a name that is free, or --replace",
            "add --replace to put the backup in its place; the file that is there is kept beside under a new name",
        ));
    }
    if std::fs::canonicalize(&args.from)
        .is_ok_and(|from| std::fs::canonicalize(&args.db).is_ok_and(|db| db == from))
    {
        return Err(BadInput::new(
            "the backup and the record are the same file",
            "two files",
            "name the backup with --from and the record with --db",
        ));
    }
    let done = match store::restore(&args.from, &args.db, Timestamp::now()) {
        Err(Error::Broken(flaw)) => return Ok(broken(&args.from, &flaw)),
        other => other.map_err(|e| told(&e))?,
    };
    let kept = done.kept.map_or_else(String::new, |kept| {
        format!(
            "What was there is kept as {}; what was entered after the backup is only in it.\n",
            kept.display()
        )
    });
    say(&format!(
        "{} holds {}.\n{kept}{}",
        args.db.display(),
        holds(&done.holds),
        head(&done.holds)
    ));
    Ok(Outcome::Fine)
}

pub(crate) fn verify(args: &VerifyArgs) -> Result<Outcome, BadInput> {
    let store = Store::open(&args.db).map_err(|e| told(&e))?;
    let found = match store.ask(Verify::default()) {
        Err(Error::Broken(flaw)) => return Ok(broken(&args.db, &flaw)),
        other => other.map_err(|e| told(&e))?,
    };
    say(&format!(
        "{} holds: {}, each as it was written, in one chain.\n{}",
        args.db.display(),
        holds(&found),
        head(&found)
    ));
    Ok(Outcome::Fine)
}

/// A record that does not hold is an answer, and a bad one: exit code 1.
fn broken(file: &Path, flaw: &store::Flaw) -> Outcome {
    let told = Error::Broken(flaw.clone()).told();
    let message = BadInput::new(
        &format!("{} does not hold: {flaw}", file.display()),
        &told.expected,
        &told.do_now,
    );
    say(&message.0);
    Outcome::Broken
}

fn holds(v: &Verified) -> String {
    let counted =
        |n: i64, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
    format!(
        "{} of the log and {} of pages",
        counted(v.entries, "entry", "entries"),
        counted(v.texts, "text", "texts")
    )
}

fn head(v: &Verified) -> String {
    format!(
        "Last entry {}, sealed with {}.\nWrite that down elsewhere: it tells later whether anything before it was changed or cut off.\n",
        v.head.sequence, v.head.hash
    )
}
