//! `saltern plan`, `why` and `compare`: reading arguments, running the walk, printing.

use std::io::IsTerminal;
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use book::did_you_mean;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use plan::happened::Happened;
use plan::{Plan, PlanError, Scene, SceneError, Setting, SettingError};
use serde_json::json;

use crate::args::{Compare, PlanArgs, Why};
use crate::exit::{BadInput, Outcome, say};
use crate::happening::Record;
use crate::{load, show};

/// Progress is shown on anything that takes longer.
const PATIENCE: Duration = Duration::from_secs(1);

/// Levels of a derivation told at once.
const LEVELS: usize = 3;

pub(crate) fn run_plan(args: &PlanArgs) -> Result<Outcome, BadInput> {
    let book = load::book(&args.book)?;
    let first = scene(&book, &args.event)?;
    let plan = asked_for(&first, &args.set, &args.record)?;
    let merged = merged(&book, &plan, &args.with)?;
    if args.json {
        let mut value = plan::json::plan(&plan);
        if let Some(merged) = &merged {
            value["order_merged"] = show_merged_json(&plan, merged);
        }
        say(&format!("{value:#}\n"));
    } else {
        say(&show::plan::render(&plan));
        if let Some(merged) = &merged {
            say(&format!("\n{}", show_merged(&plan, merged)));
        }
    }
    Ok(outcome(&plan))
}

pub(crate) fn run_why(args: &Why) -> Result<Outcome, BadInput> {
    let book = load::book(&args.book)?;
    let first = scene(&book, &args.event)?;
    let plan = asked_for(&first, &args.set, &args.record)?;
    if args.list {
        for figure in plan.figures.iter() {
            say(&format!("{}  {}\n", figure.id, figure.show()));
        }
        return Ok(Outcome::Fine);
    }
    let id = args.figure.as_deref().unwrap_or("");
    let holder = show::why::Holder {
        what: "this plan",
        such: "hot-smoked-char.cure.salt-table or cost.per_cover_bought",
        lists: &format!("saltern why {} {} --list", args.book, args.event),
    };
    if args.json {
        say(&show::why::json(&plan.figures, id, &holder)?);
        return Ok(Outcome::Fine);
    }
    let deep = if args.deep {
        plan::figures::WHOLE
    } else {
        LEVELS
    };
    let text = show::why::text(&plan.figures, id, deep, &holder)?;
    say(&text);
    if text.contains("more figure") {
        say("--deep goes all the way down; saltern why … FIGURE opens any figure above\n");
    }
    Ok(Outcome::Fine)
}

pub(crate) fn run_compare(args: &Compare) -> Result<Outcome, BadInput> {
    let book = load::book(&args.book)?;
    let first = scene(&book, &args.event)?;
    let settings = settings(&args.set)?;
    let happened = args.record.read(&first)?;
    let scene = checked(&first, &settings, &args.record, happened.as_ref())?;
    let before = make(&first, &first)?;
    let after = replanned(&first, &before, &scene, &args.record, happened.as_ref())?;
    let difference = plan::compare::difference(&before, &after);
    if args.json {
        say(&format!(
            "{:#}\n",
            plan::compare::to_json(&before, &after, &difference)
        ));
    } else {
        say(&show::compare::render(&before, &after, &difference));
    }
    Ok(outcome(&after))
}

pub(crate) fn outcome(plan: &Plan) -> Outcome {
    if plan.is_broken() {
        Outcome::Broken
    } else {
        Outcome::Fine
    }
}

pub(crate) fn scene(book: &kitchen::Book, event: &str) -> Result<Scene, BadInput> {
    Scene::new(book, event).map_err(scene_error)
}

pub(crate) fn settings(texts: &[String]) -> Result<Vec<Setting>, BadInput> {
    texts
        .iter()
        .map(|t| Setting::read(t).map_err(setting_error))
        .collect()
}

/// A plan with changes: without any, as written; with some, a re-plan that disturbs as little as it can.
pub(crate) fn changed(first: &Scene, settings: &[Setting]) -> Result<Plan, BadInput> {
    with_record(first, settings, &Record::NONE)
}

/// The plan the words of a command line ask for.
fn asked_for(first: &Scene, set: &[String], record: &Record) -> Result<Plan, BadInput> {
    with_record(first, &settings(set)?, record)
}

fn with_record(first: &Scene, settings: &[Setting], record: &Record) -> Result<Plan, BadInput> {
    let happened = record.read(first)?;
    if settings.is_empty() && happened.is_none() {
        return make(first, first);
    }
    let scene = checked(first, settings, record, happened.as_ref())?;
    let before = make(first, first)?;
    replanned(first, &before, &scene, record, happened.as_ref())
}

/// The changed scene; changes and record are checked before anything is computed.
fn checked(
    first: &Scene,
    settings: &[Setting],
    record: &Record,
    happened: Option<&Happened>,
) -> Result<Scene, BadInput> {
    let scene = first.with_all(settings).map_err(scene_error)?;
    if let Some(happened) = happened {
        record.on(happened, &scene, first)?;
    }
    Ok(scene)
}

fn replanned(
    first: &Scene,
    before: &Plan,
    scene: &Scene,
    record: &Record,
    happened: Option<&Happened>,
) -> Result<Plan, BadInput> {
    let kept = plan::compare::keeping(scene, before);
    let scene = match happened {
        Some(happened) => record.on(happened, &kept, first)?,
        None => kept,
    };
    make(&scene, first)
}

fn make(scene: &Scene, first: &Scene) -> Result<Plan, BadInput> {
    let started = Instant::now();
    let stopped = stopped_by_hand();
    let mut bar: Option<ProgressBar> = None;
    let mut watch = |p: &schedule::Progress| {
        if stopped.load(Ordering::Relaxed) {
            return false;
        }
        if started.elapsed() > PATIENCE {
            let bar = bar.get_or_insert_with(progress);
            let best = p
                .best
                .map_or_else(|| "none yet".to_owned(), |b| format!("{b:.0}"));
            bar.set_message(format!(
                "{} of {} tasks placed, best {best}, at least {:.0}",
                p.placed, p.tasks, p.bound
            ));
            bar.tick();
        }
        true
    };
    let made = plan::make(scene, first, &schedule::Effort::standard(), &mut watch);
    if let Some(bar) = bar {
        bar.finish_and_clear();
    }
    if stopped.load(Ordering::Relaxed) {
        static SAID: Once = Once::new();
        SAID.call_once(|| {
            eprintln!("stopped by hand: the best clock found so far; nothing more is proved")
        });
    }
    made.map_err(plan_error)
}

/// A flag that Ctrl-C raises: the search then answers with the best it has. A second Ctrl-C ends the program.
fn stopped_by_hand() -> &'static AtomicBool {
    static STOPPED: AtomicBool = AtomicBool::new(false);
    static LISTENING: Once = Once::new();
    LISTENING.call_once(|| {
        // Without a listener Ctrl-C ends the program as it always does.
        let _ = std::thread::Builder::new().spawn(|| {
            let Ok(runtime) = tokio::runtime::Builder::new_current_thread()
                .enable_all()
                .build()
            else {
                return;
            };
            runtime.block_on(async {
                while tokio::signal::ctrl_c().await.is_ok() {
                    if STOPPED.swap(true, Ordering::Relaxed) {
                        std::process::exit(130);
                    }
                }
            });
        });
    });
    &STOPPED
}

fn progress() -> ProgressBar {
    let bar = ProgressBar::new_spinner();
    if !std::io::stderr().is_terminal() {
        bar.set_draw_target(ProgressDrawTarget::hidden());
        eprintln!("planning: more than a second …");
    }
    if let Ok(style) = ProgressStyle::with_template("{spinner} setting the clock, {elapsed}: {msg}")
    {
        bar.set_style(style);
    }
    bar
}

fn merged(
    book: &kitchen::Book,
    plan: &Plan,
    with: &[String],
) -> Result<Option<Vec<plan::merge::Merged>>, BadInput> {
    if with.is_empty() {
        return Ok(None);
    }
    let mut plans = vec![plan.clone()];
    for id in with {
        let other = scene(book, id)?;
        if other.site.id != plan.scene.site.id {
            return Err(BadInput::new(
                &format!(
                    "{id} is at {}, {} at {}",
                    other.site.id, plan.scene.event.id, plan.scene.site.id
                ),
                "events of one site",
                "order for each site by itself",
            ));
        }
        if other.event.id == plan.scene.event.id {
            return Err(BadInput::new(
                &format!("{id} twice"),
                "different events",
                "name each event once",
            ));
        }
        plans.push(make(&other, &other)?);
    }
    plan::merge::merge(&plans).map(Some).map_err(plan_error)
}

fn show_merged(plan: &Plan, merged: &[plan::merge::Merged]) -> String {
    let sign = &plan.scene.site.currency;
    let mut out = "ONE ORDER FOR ALL\n".to_owned();
    let shared = merged.iter().filter(|m| m.apart.len() > 1).count();
    if shared == 0 {
        out.push_str("    nothing in common within two days: each event orders by itself\n");
    }
    for m in merged.iter().filter(|m| m.apart.len() > 1) {
        let apart: Vec<String> = m
            .apart
            .iter()
            .map(|(e, n)| {
                let g = m.line.pack_g.unwrap_or(1.0) * n / 1000.0;
                format!(
                    "{e} {}",
                    if m.line.by_weight {
                        plan::figures::number(g, 3)
                    } else {
                        plan::figures::number(*n, 0)
                    }
                )
            })
            .collect();
        out.push_str(&show::text::paragraph(
            "    ",
            &format!(
                "{}: {} {} together (apart: {}), saves {}",
                m.line.item,
                if m.line.by_weight {
                    plan::figures::number(m.line.bought_g().unwrap_or(0.0) / 1000.0, 3)
                } else {
                    plan::figures::number(m.line.packs, 0)
                },
                if m.line.by_weight {
                    "kg".to_owned()
                } else {
                    show::text::plural(&m.line.word, m.line.packs)
                },
                apart.join(" + "),
                show::text::money(sign, m.saves, 2)
            ),
        ));
    }
    let saves: units::Money = merged.iter().map(|m| m.saves).sum();
    out.push_str(&format!(
        "    saved in all: {}\n",
        show::text::money(sign, saves, 2)
    ));
    out
}

fn show_merged_json(plan: &Plan, merged: &[plan::merge::Merged]) -> serde_json::Value {
    let lines: Vec<serde_json::Value> = merged
        .iter()
        .map(|m| {
            let mut line = plan::json::order(plan, &m.line);
            line["apart"] = m
                .apart
                .iter()
                .map(|(e, n)| json!({ "event": e.as_str(), "packs": n }))
                .collect();
            line["saves"] = json!(plan::figures::decimal_to_f64(m.saves.amount()));
            line
        })
        .collect();
    json!(lines)
}

pub(crate) fn scene_error(error: SceneError) -> BadInput {
    match error {
        SceneError::UnknownEvent { found, known } => {
            let hint = did_you_mean(&found, known.iter().map(String::as_str))
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            BadInput::new(
                &format!("the book has no event \"{found}\"{hint}"),
                &format!("one of: {}", known.join(", ")),
                "name an event of the book",
            )
        }
        SceneError::Setting(error) => setting_error(error),
    }
}

fn setting_error(error: SettingError) -> BadInput {
    let hint = did_you_mean(&error.key, error.known.iter().map(String::as_str))
        .map_or_else(String::new, |n| format!("; did you mean {n}?"));
    BadInput::new(
        &format!("{}{hint}", error.found),
        &error.expected,
        &error.do_now,
    )
}

pub(crate) fn plan_error(error: PlanError) -> BadInput {
    let (found, expected, do_now) = error.parts();
    BadInput::new(&found, expected, do_now)
}
