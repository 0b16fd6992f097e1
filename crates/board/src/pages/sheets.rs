//! Papers: what there is to print for an event, each as PDF, and its pages to look at first.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use plan::Plan;
use press::{Labels, Made, PressError, Print, Tongue};
use sheets::model::{Kind, Sheet, Stock};
use sheets::{UnitHabit, Wishes};
use words::Language;

use super::{Asked, plan_of};
use crate::Board;
use crate::address::Query;
use crate::day::deviations::Stand;
use crate::day::standing::standing;
use crate::page::{Frame, changes_of, event_address, frame};
use crate::shown::Shown;
use crate::tongue::{language, say, say_with};
use crate::trouble::Trouble;

/// Every kind of paper: its address, the key of its name here.
const KINDS: [(Kind, &str, &str); 20] = [
    (Kind::DayBoard, "day-board", "board-paper-day-board"),
    (Kind::BackPlan, "back-plan", "board-paper-back-plan"),
    (Kind::PrepList, "prep-list", "board-paper-prep-list"),
    (
        Kind::StationCard,
        "station-card",
        "board-paper-station-card",
    ),
    (
        Kind::FormulaCard,
        "formula-card",
        "board-paper-formula-card",
    ),
    (Kind::CureSheet, "cure-sheet", "board-paper-cure-sheet"),
    (Kind::SmokerLog, "smoker-log", "board-paper-smoker-log"),
    (Kind::CoolingLog, "cooling-log", "board-paper-cooling-log"),
    (Kind::PickleLog, "pickle-log", "board-paper-pickle-log"),
    (
        Kind::ReceivingSheet,
        "receiving-sheet",
        "board-paper-receiving-sheet",
    ),
    (Kind::DoorMap, "door-map", "board-paper-door-map"),
    (Kind::TubLabel, "tub-label", "board-paper-tub-label"),
    (
        Kind::PlatingGuide,
        "plating-guide",
        "board-paper-plating-guide",
    ),
    (
        Kind::AllergenMatrix,
        "allergen-matrix",
        "board-paper-allergen-matrix",
    ),
    (Kind::OrderSheet, "order-sheet", "board-paper-order-sheet"),
    (
        Kind::ServiceBrief,
        "service-brief",
        "board-paper-service-brief",
    ),
    (
        Kind::CleaningList,
        "cleaning-list",
        "board-paper-cleaning-list",
    ),
    (
        Kind::EmergencyCard,
        "emergency-card",
        "board-paper-emergency-card",
    ),
    (Kind::Rubric, "rubric", "board-paper-rubric"),
    (Kind::Dossier, "dossier", "board-paper-dossier"),
];

/// How the papers are wanted: said in the address, `?stock=iso&lang=fr&units=us`.
#[derive(Debug, Clone, Copy)]
struct Wanted {
    stock: Stock,
    language: Language,
    units: UnitHabit,
}

impl Wanted {
    fn read(query: &Query) -> Result<Self, Trouble> {
        let wrong = |name: &str, found: &str, known: &str| {
            Trouble::entry(
                format!("{name}: found \"{found}\""),
                known.to_owned(),
                "choose one of them",
            )
        };
        Ok(Self {
            stock: match query.first("stock") {
                None | Some("us") => Stock::Us,
                Some("iso") => Stock::Iso,
                Some(other) => {
                    return Err(wrong(
                        "stock",
                        other,
                        "us (letter, tabloid) or iso (A4, A3)",
                    ));
                }
            },
            language: match query.first("lang") {
                None => language(),
                Some(word) => {
                    Language::find(word).ok_or_else(|| wrong("lang", word, "en or fr"))?
                }
            },
            units: match query.first("units") {
                None | Some("metric") => UnitHabit::Metric,
                Some("us") => UnitHabit::UsCustomary,
                Some(other) => return Err(wrong("units", other, "metric or us")),
            },
        })
    }

    /// What it adds to an address.
    fn said(self) -> [(&'static str, &'static str); 3] {
        [
            ("stock", if self.stock == Stock::Us { "us" } else { "iso" }),
            ("lang", self.language.word()),
            (
                "units",
                if self.units == UnitHabit::Metric {
                    "metric"
                } else {
                    "us"
                },
            ),
        ]
    }

    /// The address of a paper of this plan, drawn so.
    fn address(self, plan: &Plan, paper: &str) -> String {
        let base = event_address(plan, &format!("sheets{paper}"));
        let sign = if changes_of(plan).is_empty() {
            '?'
        } else {
            '&'
        };
        let [a, b, c] = self.said().map(|(name, value)| format!("{name}={value}"));
        format!("{base}{sign}{a}&{b}&{c}")
    }
}

/// What there is to print.
pub(crate) async fn list(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&asked).await?;
    let wanted = Wanted::read(&query)?;
    let laid = drawn(&asked.0.0, &plan, wanted, None, Need::Count).await?;
    Ok(frame(
        &Frame {
            title: &say("board-papers"),
            plan: Some(&plan),
            here: "sheets",
        },
        html! {
            (how(&plan, wanted))
            p { a href=(wanted.address(&plan, "/all/print.pdf")) { (say("board-all-as-pdf")) } ", " (counted(laid.pages)) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-paper")) } th class="n" { (say("board-pages")) } th { (say("board-print")) } th { (say("board-look-head")) } } }
                tbody {
                    @for (kind, word, key) in KINDS {
                        @let name = say(key);
                        @if let Some((_, count)) = laid.by_kind.iter().find(|(k, _)| *k == kind) {
                            tr {
                                td { (name) }
                                td class="n" { (count) }
                                td { a href=(wanted.address(&plan, &format!("/{word}/print.pdf"))) { "PDF" span class="small" { " " (name) } } }
                                td { a href=(wanted.address(&plan, &format!("/{word}"))) { (say("board-look")) span class="small" { " at " (name) } } }
                            }
                        }
                    }
                }
            } }
            (missing(&laid))
        },
    ))
}

/// The choices of stock, language and measures, as links.
fn how(plan: &Plan, now: Wanted) -> Markup {
    let choices: [(String, [(String, Wanted); 2]); 3] = [
        (
            say("board-paper"),
            [
                (
                    say("board-stock-us"),
                    Wanted {
                        stock: Stock::Us,
                        ..now
                    },
                ),
                (
                    "A4, A3".to_owned(),
                    Wanted {
                        stock: Stock::Iso,
                        ..now
                    },
                ),
            ],
        ),
        (
            say("board-language"),
            [
                (
                    "English".to_owned(),
                    Wanted {
                        language: Language::English,
                        ..now
                    },
                ),
                (
                    "français".to_owned(),
                    Wanted {
                        language: Language::French,
                        ..now
                    },
                ),
            ],
        ),
        (
            say("board-measures"),
            [
                (
                    say("board-metric"),
                    Wanted {
                        units: UnitHabit::Metric,
                        ..now
                    },
                ),
                (
                    say("board-us-measures"),
                    Wanted {
                        units: UnitHabit::UsCustomary,
                        ..now
                    },
                ),
            ],
        ),
    ];
    html! {
        @for (word, pair) in choices {
            p { (word) ": "
                @for (i, (name, wanted)) in pair.iter().enumerate() {
                    @if i > 0 { " · " }
                    @if wanted.said() == now.said() { strong { (name) } } @else { a href=(wanted.address(plan, "")) { (name) } }
                }
            }
        }
    }
}

/// The pages of one kind, to look at.
pub(crate) async fn look(
    State(board): State<Arc<Board>>,
    Path((event, word)): Path<(String, String)>,
    RawQuery(raw): RawQuery,
) -> Result<Markup, Trouble> {
    let asked: Asked = (State(board), Path(event), RawQuery(raw));
    let (plan, query) = plan_of(&asked).await?;
    let wanted = Wanted::read(&query)?;
    let (kind, name) = known(&word)?;
    let laid = drawn(&asked.0.0, &plan, wanted, Some(kind), Need::Count).await?;
    Ok(frame(
        &Frame {
            title: &name,
            plan: Some(&plan),
            here: "sheets",
        },
        html! {
            p {
                a href=(wanted.address(&plan, &format!("/{word}/print.pdf"))) { (say("board-pdf-to-print")) } ", " (counted(laid.pages)) " · "
                a href=(wanted.address(&plan, "")) { (say("board-all-papers")) }
            }
            @for page in 1..=laid.pages {
                p { img class="paper" loading="lazy" src=(wanted.address(&plan, &format!("/{word}/{page}.svg"))) alt=(format!("{name}, page {page} of {}; its words are in the PDF", laid.pages)); }
            }
            (missing(&laid))
        },
    ))
}

/// One page as SVG, or all of a kind as PDF: the last part of the address says which.
pub(crate) async fn file(
    State(board): State<Arc<Board>>,
    Path((event, word, file)): Path<(String, String, String)>,
    RawQuery(raw): RawQuery,
) -> Result<Response, Trouble> {
    let asked: Asked = (State(board), Path(event), RawQuery(raw));
    let (plan, query) = plan_of(&asked).await?;
    let wanted = Wanted::read(&query)?;
    let (kind, name) = if word == "all" {
        (None, "papers".to_owned())
    } else {
        known(&word).map(|(k, n)| (Some(k), n))?
    };
    let number = file
        .strip_suffix(".svg")
        .and_then(|n| n.parse::<usize>().ok());
    let need = match number {
        Some(number) => Need::Page(number),
        None if file == "print.pdf" => Need::Pdf(format!("{}: {name}", plan.scene.event.name)),
        None => Need::Count,
    };
    let laid = drawn(&asked.0.0, &plan, wanted, kind, need).await?;
    let Some(bytes) = laid.bytes else {
        let expected = format!("print.pdf, or 1.svg to {}.svg", laid.pages);
        return Err(Trouble::missing(
            format!("no page \"{file}\""),
            expected,
            "look at the list of papers",
        ));
    };
    if number.is_some() {
        return Ok(([(header::CONTENT_TYPE, "image/svg+xml")], bytes).into_response());
    }
    let inline = format!("inline; filename=\"{}-{word}.pdf\"", plan.scene.event.id);
    Ok((
        [
            (header::CONTENT_TYPE, "application/pdf".to_owned()),
            (header::CONTENT_DISPOSITION, inline),
        ],
        bytes,
    )
        .into_response())
}

fn known(word: &str) -> Result<(Kind, String), Trouble> {
    KINDS
        .iter()
        .find(|(_, w, _)| *w == word)
        .map(|(kind, _, key)| (*kind, say(key)))
        .ok_or_else(|| {
            let words: Vec<&str> = KINDS.iter().map(|(_, w, _)| *w).collect();
            Trouble::missing(
                format!("there is no paper \"{word}\""),
                format!("one of {}", words.join(", ")),
                "look at the list of papers",
            )
        })
}

/// What a page needs of the drawn papers.
enum Need {
    /// How many pages there are.
    Count,
    /// Everything as PDF, under this title.
    Pdf(String),
    /// The page of this number as SVG, counted from 1.
    Page(usize),
}

/// Papers as they were drawn.
struct Drawn {
    pages: usize,
    by_kind: Vec<(Kind, usize)>,
    missing: Vec<char>,
    /// The PDF or the SVG that was asked for; nothing when there is no such page.
    bytes: Option<Vec<u8>>,
}

/// Papers of a plan, drawn beside the pages and not in their way.
async fn drawn(
    board: &Arc<Board>,
    plan: &Arc<Shown>,
    wanted: Wanted,
    kind: Option<Kind>,
    need: Need,
) -> Result<Drawn, Trouble> {
    let (plan, printed_at) = (Arc::clone(plan), board.clock.now());
    let made = made(printed_at)?;
    tokio::task::spawn_blocking(move || {
        let wishes = Wishes {
            language: wanted.language,
            units: wanted.units,
            stock: wanted.stock,
            printed_at,
            version: sheets::plan_version(&plan),
            log: recorded(&plan),
        };
        let mut papers: Vec<Sheet> = match kind {
            Some(kind) => sheets::of_kind(&plan, &wishes, kind),
            None => sheets::all(&plan, &wishes),
        };
        sheets::mark(&mut papers, &plan, wanted.language, &held(&plan));
        let tongue = match wanted.language {
            Language::English => Tongue::En,
            Language::French => Tongue::Fr,
        };
        let laid = press::lay(
            &papers,
            &Print {
                stock: wanted.stock,
                tongue,
                labels: Labels::Cut,
            },
        )
        .map_err(|e| refused(&e))?;
        let bytes = match need {
            Need::Count => None,
            Need::Pdf(title) => Some(laid.pdf(&title, made).map_err(|e| refused(&e))?),
            Need::Page(number) => number
                .checked_sub(1)
                .and_then(|n| laid.svg().into_iter().nth(n))
                .map(|(_, svg)| svg.into_bytes()),
        };
        Ok(Drawn {
            pages: laid.pages(),
            by_kind: laid.by_kind(),
            missing: laid.missing(),
            bytes,
        })
    })
    .await
    .map_err(|_| Trouble::ours("drawing the papers stopped"))?
}

/// Lots that are held or discarded, for their papers.
fn held(plan: &Shown) -> Vec<(String, sheets::Mark)> {
    plan.components
        .iter()
        .filter_map(|c| {
            let mark = match plan.day.stand(plan, c.recipe.as_str())? {
                Stand::Discarded => sheets::Mark::Discarded,
                _ => sheets::Mark::Held,
            };
            Some((c.recipe.to_string(), mark))
        })
        .collect()
}

/// The record as the dossiers take it: each entry with the reading that holds, what was taken back left out.
fn recorded(plan: &Shown) -> Vec<sheets::Entry> {
    let mut all = written_down(plan);
    // What the readings broke and nobody has decided on yet stands in no entry of its own.
    let undecided = plan
        .day
        .deviations
        .iter()
        .filter(|d| d.decided.is_empty() && !d.by_hand());
    all.extend(undecided.filter_map(|d| {
        let made_by = plan.day.log.iter().find(|e| e.sequence == d.made_by)?;
        Some(sheets::Entry {
            at: made_by.says.at.instant(),
            who: made_by.says.who.to_string(),
            component: d.component.clone(),
            step: d.step.clone(),
            what: "outside its limit".to_owned(),
            value: None,
            unit: String::new(),
            note: format!("{}; limit: {}; nobody has decided yet", d.found, d.limit),
            deviation: true,
        })
    }));
    all
}

fn written_down(plan: &Shown) -> Vec<sheets::Entry> {
    standing(&plan.day.log)
        .into_iter()
        .filter(|s| s.holds)
        .map(|s| {
            let says = &s.entry.says;
            let kind = crate::entry::KINDS
                .iter()
                .find(|(_, _, kind)| *kind == says.kind);
            let what = kind.map_or(says.kind.as_str(), |(_, name, _)| name);
            sheets::Entry {
                at: s.at(),
                who: says.who.to_string(),
                component: s.component().map(str::to_owned),
                step: s.step().map(str::to_owned),
                what: s
                    .part()
                    .map_or_else(|| what.to_owned(), |part| format!("{what}, {part}")),
                value: s.reading.and_then(|r| r.number().to_string().parse().ok()),
                unit: s.reading.map_or_else(String::new, |r| r.unit().to_string()),
                note: says.words.clone(),
                deviation: says.kind == store::Kind::Deviation,
            }
        })
        .collect()
}

fn counted(pages: usize) -> String {
    say_with("board-n-pages", &[("n", pages.into())])
}

fn missing(laid: &Drawn) -> Markup {
    let signs = &laid.missing;
    html! {
        @if !signs.is_empty() {
            p { strong { (say("board-empty-box")) } " " (say("board-for-signs")) " " (signs.iter().map(char::to_string).collect::<Vec<_>>().join(" ")) }
        }
    }
}

fn refused(error: &PressError) -> Trouble {
    match error {
        PressError::Sheet {
            sheet,
            found,
            expected,
        } => Trouble::entry(
            format!("sheet {sheet}: {found}"),
            expected.clone(),
            "shorten what it says in the book",
        ),
        fault => Trouble::ours(fault.to_string()),
    }
}

/// The moment of printing, in UTC.
fn made(now: Timestamp) -> Result<Made, Trouble> {
    let at = TimeZone::UTC.to_datetime(now);
    let wrong = || {
        Trouble::ours(format!(
            "the clock of this machine stands in the year {}",
            at.year()
        ))
    };
    let small = |n: i8| u8::try_from(n).map_err(|_| wrong());
    let year = u16::try_from(at.year()).map_err(|_| wrong())?;
    Ok(Made {
        utc: (
            year,
            small(at.month())?,
            small(at.day())?,
            small(at.hour())?,
            small(at.minute())?,
        ),
    })
}
