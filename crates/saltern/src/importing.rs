//! `saltern import`: a file into a book, as a preview first and applied only when asked.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use book::{Limits, SourceFile};
use clap::ValueEnum;
use formats::import::{self, Preview, TABS, Target};
use formats::refusal::Refusal;
use formats::{recipe, table};
use kitchen::Book;
use units::Customary;

use crate::diagnostics::{self, wrapped};
use crate::exit::{BadInput, Outcome, say};
use crate::exporting::refused;
use crate::importing_book;
use crate::load;
use crate::writing::{self, Paper};

/// Changes listed in a preview; a longer list is for the file itself.
const MOST_LISTED: usize = 200;

/// `saltern import FILE --into BOOK_DIR`, or `saltern import book BOOK_DIR --db FILE`
#[derive(Debug, clap::Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(crate) struct Import {
    #[command(subcommand)]
    what: Option<What>,
    #[command(flatten)]
    file: Option<FileIn>,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// A whole book into the record of a board: what changes first, then --apply
    Book(importing_book::BookIn),
}

/// A file into a book.
#[derive(Debug, clap::Args)]
struct FileIn {
    /// A .csv or .xlsx of prices, offers or ingredients, or a .json of one recipe
    file: PathBuf,
    /// The folder of the book
    #[arg(long, value_name = "FOLDER")]
    into: PathBuf,
    /// What the file holds; a .json or .jsonld holds a recipe, anything else prices
    #[arg(long, value_enum)]
    kind: Option<Kind>,
    /// The site whose suppliers they are, when the book has several
    #[arg(long, value_name = "ID")]
    site: Option<String>,
    /// recipe: whose cups and spoons it means
    #[arg(long, value_enum)]
    measures: Option<Measures>,
    /// Write it into the book; without it only what would change is told
    #[arg(long)]
    apply: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// Prices of what the site buys already
    Prices,
    /// Ingredients of the book
    Ingredients,
    /// What suppliers sell, new offers too
    Suppliers,
    /// A schema.org Recipe, as a draft page with its open questions
    Recipe,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Measures {
    Us,
    Metric,
    Imperial,
}

pub(crate) fn run(args: &Import) -> Result<Outcome, BadInput> {
    match (&args.what, &args.file) {
        (Some(What::Book(book)), _) => importing_book::run(book),
        (None, Some(file)) => run_file(file),
        (None, None) => Err(BadInput::new(
            "an import of nothing",
            "a file and --into, or book, a folder and --db",
            "see `saltern import --help`",
        )),
    }
}

fn run_file(args: &FileIn) -> Result<Outcome, BadInput> {
    if !args.into.is_dir() {
        return Err(BadInput::new(
            &format!("--into: \"{}\" is no folder", args.into.display()),
            "the folder of a book",
            "name it; the demo is not to be changed: copy it first",
        ));
    }
    let files = load::files(&args.into.to_string_lossy())?;
    let book = book::read(&files, Limits::default())
        .map_err(|wrong| BadInput(diagnostics::render(&wrong)))?;
    let kind = args.kind.unwrap_or_else(|| kind_of(&args.file));
    if kind == Kind::Recipe {
        return run_recipe(args, &files, &book);
    }
    if args.measures.is_some() {
        return Err(BadInput::new(
            "--measures with a list",
            "--measures with --kind recipe",
            "leave it out",
        ));
    }
    let into = Target {
        files: &files,
        book: &book,
    };
    let bytes = writing::read(&args.file, table::MOST_BYTES)?;
    let wrong = |wrong: Vec<Refusal>| refused(&args.file, &wrong);
    let table = table::read(&bytes, &TABS).map_err(wrong)?;
    let site = args.site.as_deref();
    let preview = match kind {
        Kind::Ingredients => import::ingredients(into, &table),
        Kind::Suppliers => import::suppliers(into, &table, site),
        Kind::Prices | Kind::Recipe => import::prices(into, &table, site),
    }
    .map_err(wrong)?;
    say(&told(&preview));
    if !preview.refused.is_empty() {
        return Err(refused(&args.file, &preview.refused));
    }
    let Some(page) = &preview.page else {
        return Ok(Outcome::Fine);
    };
    let path = args.into.join(&preview.file);
    if !args.apply {
        say(&format!(
            "Nothing is written yet: --apply writes {}.\n",
            path.display()
        ));
        return Ok(Outcome::Fine);
    }
    unchanged(&path, &files, &preview.file)?;
    writing::write(&[Paper {
        path: path.clone(),
        bytes: page.clone().into_bytes(),
    }])?;
    say(&format!("Written: {}\n", path.display()));
    Ok(Outcome::Fine)
}

fn kind_of(file: &Path) -> Kind {
    let end = file.extension().map(|e| e.to_string_lossy().to_lowercase());
    match end.as_deref() {
        Some("json" | "jsonld") => Kind::Recipe,
        _ => Kind::Prices,
    }
}

/// The page on the disk must still be the one the preview was made of.
fn unchanged(path: &Path, files: &[SourceFile], name: &str) -> Result<(), BadInput> {
    let read = files.iter().find(|f| f.name == name);
    let now = if path.exists() {
        Some(writing::read(path, Limits::default().file_bytes)?)
    } else {
        None
    };
    if now.as_deref() == read.map(|f| f.bytes.as_slice()) {
        return Ok(());
    }
    Err(BadInput::new(
        &format!("{} was changed while it was being read", path.display()),
        "a page nobody else is writing",
        "run it again; nothing was written",
    ))
}

fn told(preview: &Preview) -> String {
    let mut out = format!("{}\n", preview.file);
    for c in preview.changes.iter().take(MOST_LISTED) {
        let before = c.before.as_deref().unwrap_or("–");
        let look = if c.look.is_empty() {
            String::new()
        } else {
            format!("   ({})", c.look)
        };
        out.push_str(&wrapped(
            &format!("  row {:<5} ", c.row),
            &format!("{}: {} {before} → {}{look}", c.of, c.key, c.after),
        ));
    }
    if preview.changes.len() > MOST_LISTED {
        let _ = writeln!(out, "  and {} more", preview.changes.len() - MOST_LISTED);
    }
    for note in &preview.notes {
        out.push_str(&wrapped("  note: ", note));
    }
    let plural = |n: usize, word: &str| format!("{n} {word}{}", if n == 1 { "" } else { "s" });
    let _ = writeln!(
        out,
        "{}, {} as before, {} refused",
        plural(preview.changes.len(), "change"),
        plural(preview.same, "row"),
        plural(preview.refused.len(), "row")
    );
    out
}

fn run_recipe(args: &FileIn, files: &[SourceFile], book: &Book) -> Result<Outcome, BadInput> {
    if args.site.is_some() {
        return Err(BadInput::new(
            "--site with a recipe",
            "--site with a list of a supplier",
            "leave it out",
        ));
    }
    let measures = args.measures.map(|m| match m {
        Measures::Us => Customary::Us,
        Measures::Metric => Customary::Metric,
        Measures::Imperial => Customary::Imperial,
    });
    let bytes = writing::read(&args.file, Limits::default().file_bytes)?;
    let draft = recipe::draft(&bytes, Target { files, book }, measures)
        .map_err(|wrong| refused(&args.file, &wrong))?;
    let mut out = format!(
        "{}: {} lines read, {} with a question\n",
        draft.file, draft.read, draft.unread
    );
    for question in &draft.open {
        out.push_str(&wrapped("  open: ", question));
    }
    let path = args.into.join(&draft.file);
    if args.apply {
        writing::check_free(&[&path], false)?;
        writing::write(&[Paper {
            path: path.clone(),
            bytes: draft.page.into_bytes(),
        }])?;
        out.push_str(&format!("Written: {}\n", path.display()));
        out.push_str("The book does not pass `saltern check`, nor plan, before these questions are settled.\n");
    } else {
        out.push_str(&format!("\n{}\n", draft.page));
        out.push_str(&format!(
            "Nothing is written yet: --apply writes {}.\n",
            path.display()
        ));
    }
    say(&out);
    Ok(Outcome::Fine)
}
