//! `saltern export`: a plan or a recipe in an open format.

use std::path::{Path, PathBuf};

use clap::ValueEnum;
use formats::calendar::{self, Earlier};
use formats::refusal::Refusal;
use formats::sheet::Sheet;
use formats::workbook::Paper as PaperSize;
use formats::{comma, recipe, sheets, workbook};
use jiff::Timestamp;
use plan::Plan;

use crate::exit::{BadInput, Outcome, say};
use crate::writing::{self, Paper};
use crate::{load, planning};

/// `saltern export BOOK [EVENT] --as FORMAT`
#[derive(Debug, clap::Args)]
pub(crate) struct Export {
    /// A folder of .toml files, one file, or `demo`
    book: String,
    /// The id of an event of the book
    #[arg(required_unless_present = "recipe", conflicts_with = "recipe")]
    event: Option<String>,
    /// A recipe instead of an event
    #[arg(long, value_name = "ID")]
    recipe: Option<String>,
    /// The format
    #[arg(long = "as", value_enum, value_name = "FORMAT")]
    form: Form,
    /// A file, or a folder (csv: always a folder); ics, json and jsonld go to the screen without it
    #[arg(long, value_name = "PATH")]
    out: Option<PathBuf>,
    /// ics: the calendar exported before, so that this one updates it
    #[arg(long, value_name = "FILE")]
    since: Option<PathBuf>,
    /// A change, as in `plan`
    #[arg(long, value_name = "KEY=VALUE", conflicts_with = "recipe")]
    set: Vec<String>,
    /// The moment it is dated, such as 2027-09-20T08:00:00Z; now when left out
    #[arg(long, value_name = "MOMENT")]
    printed_at: Option<String>,
    /// xlsx: the paper it prints on
    #[arg(long, value_enum, default_value = "letter")]
    paper: Sort,
    /// Write over files that are there
    #[arg(long)]
    overwrite: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Calendar: tasks, order cut-offs, deliveries, discard dates
    Ics,
    /// Tables, one file each
    Csv,
    /// The same tables as one workbook
    Xlsx,
    /// The whole plan, contract 1
    Json,
    /// A recipe as schema.org Recipe
    Jsonld,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Sort {
    A4,
    Letter,
}

pub(crate) fn run(args: &Export) -> Result<Outcome, BadInput> {
    match (&args.recipe, &args.event, args.form) {
        (Some(id), _, Form::Jsonld) => run_recipe(args, id),
        (Some(_), _, _) => Err(BadInput::new(
            "--recipe in a format that holds events",
            "--as jsonld with --recipe",
            "name an event instead, or write --as jsonld",
        )),
        (None, _, Form::Jsonld) => Err(BadInput::new(
            "--as jsonld without --recipe",
            "a recipe: JSON-LD holds one recipe, not an event",
            "write --recipe ID",
        )),
        (None, Some(event), _) => run_event(args, event),
        (None, None, _) => Err(BadInput::new(
            "neither an event nor a recipe",
            "one of the two",
            "name an event of the book",
        )),
    }
}

fn run_recipe(args: &Export, id: &str) -> Result<Outcome, BadInput> {
    let book = load::book(&args.book)?;
    let text = recipe::json_ld(&book, id).map_err(|unknown| {
        let hint = book::did_you_mean(&unknown.found, unknown.known.iter().map(String::as_str))
            .map_or_else(String::new, |n| format!("; did you mean {n}?"));
        BadInput::new(
            &format!("the book has no recipe \"{}\"{hint}", unknown.found),
            &format!("one of: {}", unknown.known.join(", ")),
            "name a recipe of the book",
        )
    })?;
    deliver(args, &format!("{id}.jsonld"), text.into_bytes())?;
    Ok(Outcome::Fine)
}

fn run_event(args: &Export, event: &str) -> Result<Outcome, BadInput> {
    if args.since.is_some() && args.form != Form::Ics {
        return Err(BadInput::new(
            "--since with a format that has no earlier one",
            "--since with --as ics",
            "leave it out",
        ));
    }
    let printed = printed(args.printed_at.as_deref())?;
    let book = load::book(&args.book)?;
    let first = planning::scene(&book, event)?;
    let plan = planning::changed(&first, &planning::settings(&args.set)?)?;
    match args.form {
        Form::Ics => return run_calendar(args, &plan, printed),
        Form::Csv => csv(args, &plan)?,
        Form::Xlsx => xlsx(args, &plan, printed)?,
        Form::Json | Form::Jsonld => {
            let text = format!("{:#}\n", plan::json::plan(&plan));
            deliver(args, &format!("{event}.json"), text.into_bytes())?;
        }
    }
    Ok(planning::outcome(&plan))
}

pub(crate) fn printed(said: Option<&str>) -> Result<Timestamp, BadInput> {
    let Some(text) = said else {
        return Ok(Timestamp::now());
    };
    text.parse().map_err(|_| {
        BadInput::new(
            &format!("--printed-at: found \"{text}\""),
            "a moment with its offset, such as 2027-09-20T08:00:00Z",
            "write it so, or leave it out",
        )
    })
}

fn run_calendar(args: &Export, plan: &Plan, printed: Timestamp) -> Result<Outcome, BadInput> {
    if plan.timeline.tasks.is_empty() {
        // Cancelling every task of the earlier calendar would be the one thing worse than saying nothing.
        eprint!(
            "{}",
            BadInput::new(
                &format!(
                    "the plan is {}: it has no clock, so there is no calendar",
                    plan.timeline.status.word()
                ),
                "a plan with a clock",
                "`saltern plan` says what clashes; nothing was written",
            )
            .0
        );
        return Ok(Outcome::Broken);
    }
    let earlier = match &args.since {
        None => None,
        Some(path) => {
            let bytes = writing::read(path, calendar::MOST_BYTES)?;
            let belongs = calendar::belongs_to(plan);
            Some(Earlier::read(&bytes, &belongs).map_err(|wrong| refused(path, &wrong))?)
        }
    };
    let (text, told) = calendar::write(plan, printed, earlier.as_ref()).map_err(|e| {
        BadInput::new(
            &format!("an hour no calendar can hold: {}", e.what),
            "hours of the years 1 to 9999",
            "correct the dates of the event",
        )
    })?;
    deliver(
        args,
        &format!("{}.ics", plan.scene.event.id),
        text.into_bytes(),
    )?;
    if earlier.is_some() {
        eprintln!(
            "against the earlier calendar: {} new, {} changed, {} cancelled, {} as before",
            told.new, told.changed, told.cancelled, told.same
        );
    }
    Ok(planning::outcome(plan))
}

/// Refusals of a file, each with its row; the first hundred.
pub(crate) fn refused(path: &Path, wrong: &[Refusal]) -> BadInput {
    const MOST: usize = 100;
    let mut text = String::new();
    for r in wrong.iter().take(MOST) {
        let row = r.row.map_or_else(String::new, |row| format!(", row {row}"));
        let place = if r.place.is_empty() {
            String::new()
        } else {
            format!(", {}", r.place)
        };
        let found = format!("{}{row}{place}: {}", path.display(), r.found);
        text.push_str(&BadInput::new(&found, &r.expected, &r.do_now).0);
    }
    if wrong.len() > MOST {
        text.push_str(&format!("The first {MOST} of {} are shown.\n", wrong.len()));
    }
    text.push_str("Nothing was taken from the file.\n");
    BadInput(text)
}

fn csv(args: &Export, plan: &Plan) -> Result<(), BadInput> {
    let Some(folder) = &args.out else {
        return Err(BadInput::new(
            "--as csv without --out",
            "a folder for the tables",
            "write --out FOLDER",
        ));
    };
    let papers: Vec<Paper> = sheets::all(plan)
        .iter()
        .map(|sheet: &Sheet| Paper {
            path: folder.join(format!("{}.csv", sheet.name)),
            bytes: comma::write(sheet).into_bytes(),
        })
        .collect();
    put(args, &papers)
}

fn xlsx(args: &Export, plan: &Plan, printed: Timestamp) -> Result<(), BadInput> {
    if args.out.is_none() {
        return Err(BadInput::new(
            "--as xlsx without --out",
            "a file or a folder",
            "write --out FILE.xlsx",
        ));
    }
    let wall = plan.scene.site.zone.to_datetime(printed);
    let paper = match args.paper {
        Sort::A4 => PaperSize::A4,
        Sort::Letter => PaperSize::Letter,
    };
    let bytes =
        workbook::write(&sheets::all(plan), &plan.scene.event.name, wall, paper).map_err(|e| {
            BadInput::new(
                &format!("more than a workbook can hold: {}", e.what),
                "32,767 characters a cell, 1,048,576 rows, years from 1900",
                "export it as csv",
            )
        })?;
    deliver(args, &format!("{}.xlsx", plan.scene.event.id), bytes)
}

/// One file to where the user wants it, or to the screen.
fn deliver(args: &Export, name: &str, bytes: Vec<u8>) -> Result<(), BadInput> {
    match &args.out {
        None => {
            say(&String::from_utf8_lossy(&bytes));
            Ok(())
        }
        Some(out) => {
            let path = if out.is_dir() {
                out.join(name)
            } else {
                out.clone()
            };
            put(args, &[Paper { path, bytes }])
        }
    }
}

fn put(args: &Export, papers: &[Paper]) -> Result<(), BadInput> {
    let paths: Vec<&Path> = papers.iter().map(|p| p.path.as_path()).collect();
    writing::check_free(&paths, args.overwrite)?;
    let over: Vec<bool> = paths.iter().map(|p| p.exists()).collect();
    writing::write(papers)?;
    for (path, over) in paths.iter().zip(over) {
        let how = if over { "written over" } else { "written" };
        eprintln!("{how}: {}", path.display());
    }
    Ok(())
}
