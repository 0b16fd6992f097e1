//! The load: screens that listen and load their page anew when something happened, as the script does, and people who
//! look at pages and write things down.

mod line;

use std::collections::HashMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use tokio::task::JoinSet;

use line::Line;

const EVENT: &str = "/event/harvest-supper";
/// Looked at in turn; the first four go on by themselves.
const PAGES: &[&str] = &[
    "/today",
    "/record",
    "/lot/hot-smoked-char",
    "/cold",
    "/weigh",
    "/verdicts",
];
/// Mean time between two things a person does, ms.
const REST_MS: u64 = 2_000;
/// One thing in so many is an entry.
const ONE_ENTRY_IN: u64 = 20;
/// A screen loads its page anew at most so often, and a little later each, as `live.js` does.
const BETWEEN: Duration = Duration::from_secs(1);
const SPREAD_MS: u64 = 150;

/// What was measured.
#[derive(Default)]
pub(crate) struct Found {
    pages: Vec<Duration>,
    renewed: Vec<Duration>,
    entries: Vec<Duration>,
    /// By number in the log: when it was sent, and when each screen heard of it.
    sent: HashMap<i64, Instant>,
    heard: HashMap<i64, Vec<Instant>>,
    bytes: u64,
}

impl Found {
    fn join(&mut self, other: Self) {
        self.pages.extend(other.pages);
        self.renewed.extend(other.renewed);
        self.entries.extend(other.entries);
        self.sent.extend(other.sent);
        for (number, moments) in other.heard {
            self.heard.entry(number).or_default().extend(moments);
        }
        self.bytes += other.bytes;
    }

    pub(crate) fn print(mut self, screens: u64, seconds: u64) {
        let mut each = Vec::new();
        let mut last = Vec::new();
        let mut missed = 0;
        for (number, sent) in &self.sent {
            let heard = self.heard.remove(number).unwrap_or_default();
            missed += screens - heard.len() as u64;
            each.extend(heard.iter().map(|h| h.duration_since(*sent)));
            last.extend(heard.iter().max().map(|h| h.duration_since(*sent)));
        }
        let asked = self.pages.len() + self.renewed.len();
        println!(
            "{screens} screens for {seconds} s: {:.0} pages/s of {:.1} kB, {:.1} entries/s",
            asked as f64 / seconds as f64,
            self.bytes as f64 / asked.max(1) as f64 / 1000.0,
            self.entries.len() as f64 / seconds as f64
        );
        println!(
            "{:<44} {:>7} {:>8} {:>8} {:>8}",
            "ms", "count", "p50", "p99", "most"
        );
        row("a page somebody opens", self.pages);
        row("a page a screen loads anew", self.renewed);
        row("an entry, until it is acknowledged", self.entries);
        row("an entry, until a screen hears of it", each);
        row("an entry, until the last screen hears of it", last);
        println!("screens that never heard of an entry: {missed}");
    }
}

fn row(name: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    let at = |share: f64| {
        let place = (times.len() as f64 * share).ceil() as usize;
        times.get(place.saturating_sub(1)).map_or_else(
            || "none".to_owned(),
            |t| format!("{:.1}", t.as_secs_f64() * 1000.0),
        )
    };
    println!(
        "{name:<44} {:>7} {:>8} {:>8} {:>8}",
        times.len(),
        at(0.5),
        at(0.99),
        at(1.0)
    );
}

/// The same numbers in every run (SplitMix64: a counter, mixed).
struct Dice(u64);

impl Dice {
    fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

/// So many screens, with a person at each, for so long.
pub(crate) async fn run(board: String, screens: u64, time: Duration) -> Found {
    // The plan is made once, and not while somebody waits for a measured page.
    let mut first = Line::open(&board).await;
    for page in PAGES {
        first.get(&format!("{EVENT}{page}")).await;
    }
    let over = Arc::new(AtomicBool::new(false));
    let mut listening = JoinSet::new();
    for i in 0..screens {
        let heard = Line::open(&board)
            .await
            .listen(&format!("{EVENT}/live"))
            .await;
        listening.spawn(screen(board.clone(), heard, i, Arc::clone(&over)));
    }
    let end = tokio::time::Instant::now() + time;
    let mut people = JoinSet::new();
    for i in 0..screens {
        people.spawn(person(board.clone(), i, end));
    }
    let mut found = Found::default();
    while let Some(one) = people.join_next().await {
        found.join(one.expect("a person goes on to the end"));
    }
    // What was written last has a second to be heard.
    tokio::time::sleep(Duration::from_secs(1)).await;
    over.store(true, Ordering::Relaxed);
    while let Some(one) = listening.join_next().await {
        found.join(one.expect("a screen goes on to the end"));
    }
    found
}

/// A screen: hears of each entry, and loads its page anew.
async fn screen(board: String, mut heard: line::Heard, i: u64, over: Arc<AtomicBool>) -> Found {
    let mut found = Found::default();
    let mut own = Line::open(&board).await;
    let page = format!("{EVENT}{}", PAGES[i as usize % 4]);
    let mut dice = Dice(1_000_000 + i);
    let mut due: Option<tokio::time::Instant> = None;
    let mut last = tokio::time::Instant::now();
    while !over.load(Ordering::Relaxed) {
        let wake = due.unwrap_or_else(|| tokio::time::Instant::now() + Duration::from_millis(200));
        tokio::select! {
            number = heard.next() => {
                let at = Instant::now();
                let Some(number) = number else { break };
                found.heard.entry(number).or_default().push(at);
                let spread = Duration::from_millis(dice.throw() % SPREAD_MS);
                due.get_or_insert((last + BETWEEN).max(tokio::time::Instant::now()) + spread);
            }
            () = tokio::time::sleep_until(wake) => if due.take().is_some() {
                let begun = Instant::now();
                found.bytes += own.get(&page).await;
                found.renewed.push(begun.elapsed());
                last = tokio::time::Instant::now();
            }
        }
    }
    found
}

/// A person: opens pages, rests, and now and then writes something down.
async fn person(board: String, i: u64, end: tokio::time::Instant) -> Found {
    let mut found = Found::default();
    let mut own = Line::open(&board).await;
    let mut dice = Dice(i);
    for turn in 0_u64.. {
        let rest = Duration::from_millis(dice.throw() % (2 * REST_MS));
        let next = tokio::time::Instant::now() + rest;
        if next > end {
            break;
        }
        tokio::time::sleep_until(next).await;
        let begun = Instant::now();
        if dice.throw().is_multiple_of(ONE_ENTRY_IN) {
            let form = format!(
                "id=bench:{i}-{turn}&who=Person+{i}&kind=temperature&about=hot-smoked-char.smoke&part=probe+{i}&reading=63.{}+C",
                turn % 10
            );
            let number = own.post(&format!("{EVENT}/record"), &form).await;
            found.entries.push(begun.elapsed());
            found.sent.insert(number, begun);
        } else {
            let page = PAGES[dice.throw() as usize % PAGES.len()];
            found.bytes += own.get(&format!("{EVENT}{page}")).await;
            found.pages.push(begun.elapsed());
        }
    }
    found
}
