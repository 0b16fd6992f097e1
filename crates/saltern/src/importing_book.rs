//! `saltern import book`: a whole book into the record of a board, as a preview first and applied only when asked.

use std::collections::BTreeMap;
use std::path::PathBuf;

use book::Limits;
use jiff::Timestamp;
use store::{BookNow, ImportBook, LatestPages, Moment, Name, Store};

use crate::diagnostics::{self, wrapped};
use crate::exit::{BadInput, Outcome, say};
use crate::load;

/// `saltern import book DIR --db FILE`
#[derive(Debug, clap::Args)]
pub(crate) struct BookIn {
    /// A folder of .toml files, or `demo`
    book: String,
    /// The record of the board; it is made when it is not there
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
    /// Who imports; needed with --apply
    #[arg(long, value_name = "NAME")]
    who: Option<String>,
    /// Save it; without it only what would change is told
    #[arg(long)]
    apply: bool,
}

pub(crate) fn run(args: &BookIn) -> Result<Outcome, BadInput> {
    let files = load::files(&args.book)?;
    let read = book::read(&files, Limits::default())
        .map_err(|wrong| BadInput(diagnostics::render(&wrong)))?;
    let there = args.db.exists();
    let opened = if there {
        Some(Store::open(&args.db).map_err(told)?)
    } else {
        None
    };
    let now = match &opened {
        Some(store) => store.ask(LatestPages).map_err(told)?,
        None => BookNow {
            number: 0,
            pages: Vec::new(),
        },
    };
    let before: BTreeMap<&str, &str> = now
        .pages
        .iter()
        .filter_map(|p| Some((p.page.as_str(), p.text.as_deref()?)))
        .collect();
    let mut out = String::new();
    let mut same = 0;
    let mut changes = 0;
    for file in &files {
        let text = String::from_utf8_lossy(&file.bytes);
        let lines = text.lines().count();
        let what = match before.get(file.name.as_str()) {
            None => format!("new, {lines} lines"),
            Some(old) if **old == *text => {
                same += 1;
                continue;
            }
            Some(old) => format!("changed, {} lines → {lines}", old.lines().count()),
        };
        changes += 1;
        out.push_str(&wrapped("  ", &format!("{}: {what}", file.name)));
    }
    for page in &now.pages {
        if files.iter().all(|f| f.name != page.page.as_str()) {
            changes += 1;
            out.push_str(&wrapped(
                "  ",
                &format!("{}: taken out; its revisions stay", page.page),
            ));
        }
    }
    out.push_str(&format!(
        "{changes} {} of book number {}, {same} as before\n",
        if changes == 1 { "page" } else { "pages" },
        now.number
    ));
    if changes == 0 {
        say(&out);
        return Ok(Outcome::Fine);
    }
    if !args.apply {
        out.push_str(&format!(
            "Nothing is saved yet: --apply --who NAME saves it into {}.\n",
            args.db.display()
        ));
        say(&out);
        return Ok(Outcome::Fine);
    }
    let who = args.who.as_deref().unwrap_or("");
    let refused = |r: store::Refusal| told(r.into());
    let who = Name::new(who).map_err(|_| {
        BadInput::new(
            "--apply without a name",
            "--who NAME: every revision says who saved it",
            "say who imports; nothing is saved",
        )
    })?;
    let zone = read.sites.values().next();
    let zone = zone.and_then(|s| s.zone.iana_name()).unwrap_or("UTC");
    let store = match opened {
        Some(store) => store,
        None => Store::create(&args.db).map_err(told)?,
    };
    let done = store
        .ask(ImportBook {
            files,
            onto: now.number,
            who,
            at: Moment::new(Timestamp::now(), zone).map_err(refused)?,
        })
        .map_err(told)?;
    out.push_str(&format!(
        "Saved: the book has number {} now.\n",
        done.number
    ));
    say(&out);
    Ok(Outcome::Fine)
}

fn told(error: store::Error) -> BadInput {
    let told = error.told();
    BadInput::new(&told.found, &told.expected, &told.do_now)
}
