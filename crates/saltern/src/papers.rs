//! `saltern sheets`: papers and labels of an event, one PDF a kind and one with everything.

use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::ValueEnum;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use press::{Labels, Laid, Made, PressError, Print, Tongue};
use sheets::model::{Kind, Sheet, Stock};
use sheets::{UnitHabit, Wishes};
use words::Language;

use crate::exit::{BadInput, Outcome, say};
use crate::writing::{self, Paper};
use crate::{exporting, load, planning};

/// `saltern sheets BOOK EVENT --out DIR`
#[derive(Debug, clap::Args)]
pub(crate) struct Papers {
    /// A folder of .toml files, one file, or `demo`
    book: String,
    /// The id of an event of the book
    event: String,
    /// The folder the PDFs go to; made when it is not there
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Only what one reader gets
    #[arg(
        long = "for",
        value_enum,
        value_name = "READER",
        conflicts_with = "only"
    )]
    reader: Option<Reader>,
    /// Only papers of one kind; may be said several times
    #[arg(long, value_name = "KIND")]
    only: Vec<String>,
    /// The paper in the printer
    #[arg(long, value_enum, default_value = "us")]
    stock: Sort,
    /// The language of the labels; names of the book stay as they are
    #[arg(long, value_enum, default_value = "en")]
    lang: Tongues,
    /// The measures that come first; grams are always there
    #[arg(long, value_enum, default_value = "metric")]
    units: Measures,
    /// Tub labels one a page, for a label printer, or side by side to be cut
    #[arg(long, value_enum, default_value = "cut")]
    labels: LabelForm,
    /// Every page as SVG too
    #[arg(long)]
    svg: bool,
    /// A change, as in `plan`
    #[arg(long, value_name = "KEY=VALUE")]
    set: Vec<String>,
    /// The moment on every foot, such as 2027-09-20T08:00:00Z; now when left out
    #[arg(long, value_name = "MOMENT")]
    printed_at: Option<String>,
    /// Write over files that are there
    #[arg(long)]
    overwrite: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Reader {
    /// The wall: day board, back-plan, door map, emergency card, cleaning list
    Wall,
    /// A learner at a station: station, formula, cure and plating sheets
    Learner,
    /// Who teaches: prep list, rubric
    Teacher,
    /// Who buys and receives: order and receiving sheets
    Purchaser,
    /// Who carries the plates: service brief, allergen matrix
    Service,
    /// Who inspects: logs and dossiers
    Inspector,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Sort {
    /// A3, A4, A5
    Iso,
    /// Tabloid, letter, half letter
    Us,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Tongues {
    En,
    Fr,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Measures {
    Metric,
    Us,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum LabelForm {
    Single,
    Cut,
}

/// Every kind with its name on the command line and in file names.
const KINDS: [(Kind, &str); 20] = [
    (Kind::DayBoard, "day-board"),
    (Kind::BackPlan, "back-plan"),
    (Kind::FormulaCard, "formula-card"),
    (Kind::StationCard, "station-card"),
    (Kind::CureSheet, "cure-sheet"),
    (Kind::SmokerLog, "smoker-log"),
    (Kind::CoolingLog, "cooling-log"),
    (Kind::PickleLog, "pickle-log"),
    (Kind::ReceivingSheet, "receiving-sheet"),
    (Kind::DoorMap, "door-map"),
    (Kind::TubLabel, "tub-label"),
    (Kind::PlatingGuide, "plating-guide"),
    (Kind::AllergenMatrix, "allergen-matrix"),
    (Kind::OrderSheet, "order-sheet"),
    (Kind::PrepList, "prep-list"),
    (Kind::ServiceBrief, "service-brief"),
    (Kind::CleaningList, "cleaning-list"),
    (Kind::EmergencyCard, "emergency-card"),
    (Kind::Rubric, "rubric"),
    (Kind::Dossier, "dossier"),
];

impl Reader {
    fn gets(self) -> &'static [Kind] {
        match self {
            Self::Wall => &[
                Kind::DayBoard,
                Kind::BackPlan,
                Kind::DoorMap,
                Kind::EmergencyCard,
                Kind::CleaningList,
            ],
            Self::Learner => &[
                Kind::StationCard,
                Kind::FormulaCard,
                Kind::CureSheet,
                Kind::PlatingGuide,
            ],
            Self::Teacher => &[Kind::PrepList, Kind::Rubric],
            Self::Purchaser => &[Kind::OrderSheet, Kind::ReceivingSheet],
            Self::Service => &[Kind::ServiceBrief, Kind::AllergenMatrix],
            Self::Inspector => &[
                Kind::Dossier,
                Kind::CureSheet,
                Kind::SmokerLog,
                Kind::CoolingLog,
                Kind::PickleLog,
                Kind::ReceivingSheet,
            ],
        }
    }
}

fn name_of(kind: Kind) -> &'static str {
    KINDS
        .iter()
        .find(|(k, _)| *k == kind)
        .map_or("paper", |(_, name)| name)
}

/// The kinds asked for; `None` for all of them.
fn asked(args: &Papers) -> Result<Option<Vec<Kind>>, BadInput> {
    if let Some(reader) = args.reader {
        return Ok(Some(reader.gets().to_vec()));
    }
    if args.only.is_empty() {
        return Ok(None);
    }
    let find = |word: &String| {
        KINDS
            .iter()
            .find(|(_, name)| name == word)
            .map(|(kind, _)| *kind)
            .ok_or_else(|| {
                let names: Vec<&str> = KINDS.iter().map(|(_, name)| *name).collect();
                let hint = book::did_you_mean(word, names.iter().copied())
                    .map_or_else(String::new, |n| format!("; did you mean {n}?"));
                BadInput::new(
                    &format!("--only: there is no paper \"{word}\"{hint}"),
                    &format!("one of: {}", names.join(", ")),
                    "name a kind of paper",
                )
            })
    };
    args.only
        .iter()
        .map(find)
        .collect::<Result<Vec<_>, _>>()
        .map(Some)
}

pub(crate) fn run(args: &Papers) -> Result<Outcome, BadInput> {
    let kinds = asked(args)?;
    let printed = exporting::printed(args.printed_at.as_deref())?;
    let book = load::book(&args.book)?;
    let first = planning::scene(&book, &args.event)?;
    let plan = planning::changed(&first, &planning::settings(&args.set)?)?;
    let stock = match args.stock {
        Sort::Iso => Stock::Iso,
        Sort::Us => Stock::Us,
    };
    let wishes = Wishes {
        language: match args.lang {
            Tongues::En => Language::English,
            Tongues::Fr => Language::French,
        },
        units: match args.units {
            Measures::Metric => UnitHabit::Metric,
            Measures::Us => UnitHabit::UsCustomary,
        },
        stock,
        printed_at: printed,
        version: sheets::plan_version(&plan),
        log: Vec::new(),
    };
    let print = Print {
        stock,
        tongue: match args.lang {
            Tongues::En => Tongue::En,
            Tongues::Fr => Tongue::Fr,
        },
        labels: match args.labels {
            LabelForm::Single => Labels::Single,
            LabelForm::Cut => Labels::Cut,
        },
    };
    let started = Instant::now();
    let wanted = |kind| kinds.as_ref().is_none_or(|k| k.contains(&kind));
    let all: Vec<Sheet> = sheets::all(&plan, &wishes)
        .into_iter()
        .filter(|s| wanted(s.kind))
        .collect();
    if all.is_empty() {
        return Err(BadInput::new(
            &format!(
                "{}: the plan has nothing for the papers asked for",
                args.event
            ),
            "a plan with such a step, dish or order",
            "leave out --only and --for to see what there is; nothing was written",
        ));
    }
    let laid = press::lay(&all, &print).map_err(|e| refused(&e))?;
    let files =
        files(args, &laid, &plan.scene.event.name, made(printed)?).map_err(|e| refused(&e))?;
    let drawn = started.elapsed();
    put(args, &files)?;
    let mut text = String::new();
    for (kind, pages) in laid.by_kind() {
        text.push_str(&format!("{:<18}{}\n", name_of(kind), counted(pages)));
    }
    text.push_str(&format!(
        "{:<18}{}, drawn in {:.2} s\n",
        "all",
        counted(laid.pages()),
        drawn.as_secs_f64()
    ));
    say(&text);
    let missing = laid.missing();
    if !missing.is_empty() {
        let signs: Vec<String> = missing
            .iter()
            .map(|c| format!("{c} (U+{:04X})", u32::from(*c)))
            .collect();
        eprintln!(
            "the faces have no sign for {}: an empty box is printed where they stand",
            signs.join(", ")
        );
    }
    Ok(planning::outcome(&plan))
}

fn counted(pages: usize) -> String {
    if pages == 1 {
        "1 page".to_owned()
    } else {
        format!("{pages} pages")
    }
}

/// The moment of printing for the PDF, in UTC.
fn made(printed: Timestamp) -> Result<Made, BadInput> {
    let at = TimeZone::UTC.to_datetime(printed);
    let out_of_range = || {
        BadInput::new(
            &format!("--printed-at: found the year {}", at.year()),
            "a year from 1 to 9999",
            "write such a moment",
        )
    };
    let number = |n: i8| u8::try_from(n).map_err(|_| out_of_range());
    let year = u16::try_from(at.year()).map_err(|_| out_of_range())?;
    Ok(Made {
        utc: (
            year,
            number(at.month())?,
            number(at.day())?,
            number(at.hour())?,
            number(at.minute())?,
        ),
    })
}

fn files(args: &Papers, laid: &Laid, title: &str, made: Made) -> Result<Vec<Paper>, PressError> {
    let place = |name: &str| args.out.join(format!("{}-{name}", args.event));
    let mut files = vec![Paper {
        path: place("all.pdf"),
        bytes: laid.pdf(title, made)?,
    }];
    for (kind, _) in laid.by_kind() {
        let name = name_of(kind);
        if let Some(bytes) = laid.pdf_of(kind, &format!("{title}: {name}"), made)? {
            files.push(Paper {
                path: place(&format!("{name}.pdf")),
                bytes,
            });
        }
    }
    if args.svg {
        for (number, (id, text)) in laid.svg().into_iter().enumerate() {
            files.push(Paper {
                path: place(&format!("{:03}-{id}.svg", number + 1)),
                bytes: text.into_bytes(),
            });
        }
    }
    Ok(files)
}

fn put(args: &Papers, files: &[Paper]) -> Result<(), BadInput> {
    let paths: Vec<&Path> = files.iter().map(|f| f.path.as_path()).collect();
    writing::check_free(&paths, args.overwrite)?;
    writing::write(files)?;
    for path in paths {
        eprintln!("written: {}", path.display());
    }
    Ok(())
}

fn refused(error: &PressError) -> BadInput {
    match error {
        PressError::Sheet {
            sheet,
            found,
            expected,
        } => BadInput::new(
            &format!("sheet {sheet}: {found}"),
            expected,
            "shorten what it says in the book; nothing was written",
        ),
        fault => BadInput::new(
            &fault.to_string(),
            "a program that can draw",
            "report this as a fault; nothing was written",
        ),
    }
}
