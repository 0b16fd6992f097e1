//! Everything measured in turns, so that a busy moment of the computer touches what is compared alike; then ratios.

use std::hint::black_box;
use std::time::Instant;

use book::{Limits, SourceFile};
use schedule::Effort;

use crate::large_book::{self, Feast};

/// Components of the large books.
pub(crate) const SIZES: [usize; 4] = [10, 20, 40, 80];
/// Covers of the large books.
pub(crate) const COVERS: usize = 1_000;
/// Seed of the large books.
pub(crate) const SEED: u64 = 7;

/// A large book that has a schedule.
pub(crate) fn feast(components: usize) -> Feast {
    Feast {
        components,
        covers: COVERS,
        people_per_platter: 2,
        ribbons_hours_too_soon: 0,
        seed: SEED,
    }
}

/// Turns for what takes milliseconds, and for what takes seconds.
const TURNS: usize = 31;
const FEW_TURNS: usize = 3;

pub(crate) fn read(files: &[SourceFile]) -> kitchen::Book {
    match book::read(files, Limits::default()) {
        Ok(book) => book,
        Err(wrong) => panic!(
            "the book to measure with does not read: {:?}",
            &wrong[..wrong.len().min(3)]
        ),
    }
}

pub(crate) fn plan(book: &kitchen::Book, event: &str) -> plan::Plan {
    watched(book, event).0
}

pub(crate) fn json(plan: &plan::Plan) -> String {
    format!("{:#}", plan::json::plan(plan))
}

/// The scheduling problem behind the plan of a large book, with the acts put in that bought time.
pub(crate) fn problem(book: &kitchen::Book) -> schedule::Problem {
    let scene = plan::Scene::new(book, large_book::EVENT).expect("the event is there");
    let (_, found) = plan::make_with_problem(&scene, &scene, &Effort::standard(), &mut |_| true)
        .expect("a plan");
    found.map_or_else(
        || panic!("no schedule was found, so there is nothing to measure"),
        |(problem, _)| problem,
    )
}

/// A plan, and how often the scheduler was asked for it: its steps begin anew each time.
fn watched(book: &kitchen::Book, event: &str) -> (plan::Plan, usize) {
    let (mut searches, mut last) = (0, u64::MAX);
    let scene = plan::Scene::new(book, event).expect("the event is there");
    let made = plan::make(&scene, &scene, &Effort::standard(), &mut |progress| {
        searches += usize::from(progress.steps < last);
        last = progress.steps;
        true
    });
    (made.expect("a plan"), searches)
}

fn seconds<T>(work: impl FnOnce() -> T) -> f64 {
    let begun = Instant::now();
    black_box(work());
    begun.elapsed().as_secs_f64()
}

fn median(mut list: Vec<f64>) -> f64 {
    list.sort_by(f64::total_cmp);
    list.get(list.len() / 2).copied().unwrap_or(f64::NAN)
}

pub(crate) fn print() {
    demo();
    growth();
    hard_cases();
}

fn demo() {
    let files = book::demo::files();
    let known = read(&files);
    let made = plan(&known, "harvest-supper");
    let (mut reading, mut whole, mut walking, mut rendering) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for _ in 0..TURNS {
        reading.push(seconds(|| read(&files)));
        whole.push(seconds(|| plan(&read(&files), "harvest-supper")));
        walking.push(seconds(|| plan(&known, "harvest-supper")));
        rendering.push(seconds(|| json(&made)));
    }
    let reference = median(reading);
    println!("\nDemo book, harvest-supper: medians of {TURNS} turns; reference: reading the book");
    for (what, took) in [
        ("reading the book", reference),
        ("text to plan", median(whole)),
        ("plan of a book that is read", median(walking)),
        ("json of the plan", median(rendering)),
    ] {
        println!(
            "  {what:<30}{:>9.2} ms   {:>6.2} × reading",
            took * 1e3,
            took / reference
        );
    }
}

fn growth() {
    let books: Vec<kitchen::Book> = SIZES
        .iter()
        .map(|n| read(&large_book::files(feast(*n))))
        .collect();
    let problems: Vec<schedule::Problem> = books.iter().map(problem).collect();
    let (mut whole, mut alone) = (vec![Vec::new(); SIZES.len()], vec![Vec::new(); SIZES.len()]);
    let (mut reading, mut rendering) =
        (vec![Vec::new(); SIZES.len()], vec![Vec::new(); SIZES.len()]);
    let mut ends = Vec::new();
    for turn in 0..FEW_TURNS {
        for (i, size) in SIZES.iter().enumerate() {
            let files = large_book::files(feast(*size));
            reading[i].push(seconds(|| read(&files)));
            let mut end = None;
            whole[i].push(seconds(|| {
                end = Some(watched(&books[i], large_book::EVENT))
            }));
            alone[i].push(seconds(|| {
                schedule::solve(&problems[i], &Effort::standard(), &mut |_| true)
            }));
            if let Some((made, searches)) = end {
                rendering[i].push(seconds(|| json(&made)));
                if turn == 0 {
                    ends.push((made, searches));
                }
            }
        }
    }
    let whole: Vec<f64> = whole.into_iter().map(median).collect();
    println!(
        "\nLarge books for {COVERS} covers, seed {SEED}: medians of {FEW_TURNS} turns; reference: {} components",
        SIZES[0]
    );
    println!(
        "  components tasks  status    value / bound    plan s   × ref  × ref each  searches  one search  share   read s  json s"
    );
    for (i, ((size, (made, searches)), took)) in SIZES.iter().zip(&ends).zip(&whole).enumerate() {
        let search = median(std::mem::take(&mut alone[i]));
        let clock = &made.timeline;
        #[allow(clippy::cast_precision_loss)]
        let more = *size as f64 / SIZES[0] as f64;
        println!(
            "  {size:>10} {:>5}  {:<9} {:>6.0} / {:<6.0} {took:>9.3} {:>7.2} {:>11.2} {searches:>9} {search:>9.3} s {:>5.0} % {:>7.3} {:>7.3}",
            clock.tasks.len(),
            clock.status.word(),
            clock.value,
            clock.bound,
            took / whole[0],
            took / whole[0] / more,
            search / took * 100.0,
            median(std::mem::take(&mut reading[i])),
            median(std::mem::take(&mut rendering[i])),
        );
    }
}

/// What makes the scheduler search more than once, or to its ceiling: beside the same book without it.
fn hard_cases() {
    let components = SIZES[2];
    let easy = feast(components);
    let cases = [
        ("as in the table", easy),
        (
            "ribbons wished for too soon",
            Feast {
                ribbons_hours_too_soon: 3,
                ..easy
            },
        ),
        (
            "too few people for the platters",
            Feast {
                people_per_platter: 4,
                ..easy
            },
        ),
    ];
    let books = cases.map(|(_, feast)| read(&large_book::files(feast)));
    let mut took = [const { Vec::new() }; 3];
    let mut ends = [const { None }; 3];
    for _ in 0..FEW_TURNS {
        for (i, book) in books.iter().enumerate() {
            took[i].push(seconds(|| ends[i] = Some(watched(book, large_book::EVENT))));
        }
    }
    println!(
        "\n{components} components made hard: medians of {FEW_TURNS} turns; reference: the first line"
    );
    let took = took.map(median);
    for (i, (what, _)) in cases.iter().enumerate() {
        if let Some((made, searches)) = &ends[i] {
            let (status, ratio) = (made.timeline.status.word(), took[i] / took[0]);
            println!(
                "  {what:<33}{status:<10} {searches:>3} searches {:>8.3} s {ratio:>6.2} × ref",
                took[i]
            );
        }
    }
}
