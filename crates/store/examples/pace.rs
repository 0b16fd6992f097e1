//! How fast the store answers with so many callers at once, on the disk of the folder given:
//! `cargo run --release -p saltern-store --example pace -- FOLDER`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a measurement to run by hand"
)]

use std::path::Path;
use std::time::{Duration, Instant};

use store::{
    About, Append, DeviceId, Draft, EntryId, Kind, Label, LogOf, Moment, Name, Reading, Store,
    Unit, Verify,
};

/// Length of one run.
const RUN: Duration = Duration::from_secs(3);

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| ".".to_owned());
    println!("callers  appends/s  append p50   p99 ms   reads/s  read p50   p99 ms");
    for callers in [1, 8, 64, 200] {
        run(Path::new(&folder), callers);
    }
}

fn run(folder: &Path, callers: u32) {
    let file = folder.join(format!("pace-{}-{callers}.db", std::process::id()));
    let store = Store::create(&file).unwrap();
    let began = Instant::now();
    let (mut appends, mut reads) = (Vec::new(), Vec::new());
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..callers)
            .map(|caller| {
                let store = store.clone();
                scope.spawn(move || one_caller(&store, caller, began))
            })
            .collect();
        for thread in threads {
            let (appended, read) = thread.join().unwrap();
            appends.extend(appended);
            reads.extend(read);
        }
    });
    let seconds = began.elapsed().as_secs_f64();
    let (a50, a99) = spread(&mut appends);
    let (r50, r99) = spread(&mut reads);
    println!(
        "{callers:7}  {:9.0}  {a50:10.2}  {a99:7.2}  {:8.0}  {r50:8.2}  {r99:7.2}",
        per_second(&appends, seconds),
        per_second(&reads, seconds),
    );
    let verifying = Instant::now();
    let verified = store.ask(Verify::default()).unwrap();
    println!(
        "         {} entries verified in {:.0} ms",
        verified.entries,
        verifying.elapsed().as_secs_f64() * 1000.0
    );
    store.close().unwrap();
    std::fs::remove_file(&file).unwrap();
}

/// One append, then what a screen reads: thirty entries of its event. No caller ever rests.
fn one_caller(store: &Store, caller: u32, began: Instant) -> (Vec<Duration>, Vec<Duration>) {
    let (mut appends, mut reads) = (Vec::new(), Vec::new());
    let event = Label::new("supper").unwrap();
    for n in 0.. {
        if began.elapsed() > RUN {
            break;
        }
        let entry = entry(caller, n);
        let asked = Instant::now();
        let receipt = store.ask(entry).unwrap();
        appends.push(asked.elapsed());
        let asked = Instant::now();
        let query = LogOf {
            most: 30,
            ..LogOf::event(event.clone()).after(receipt.sequence - 30)
        };
        store.ask(query).unwrap();
        reads.push(asked.elapsed());
    }
    (appends, reads)
}

fn entry(caller: u32, n: u32) -> Append {
    let now = Moment::new("2027-10-07T12:30:00Z".parse().unwrap(), "UTC").unwrap();
    let draft = Draft {
        id: EntryId::new(&format!("c{caller}:{n}")).unwrap(),
        at: now.clone(),
        who: Name::new("Maren").unwrap(),
        device: DeviceId::new(&format!("c{caller}")).unwrap(),
        about: About {
            lot: Some(Label::new("char-1").unwrap()),
            ..About::event(Label::new("supper").unwrap())
        },
        kind: Kind::Temperature,
        reading: Some(Reading::new("63.1".parse().unwrap(), Unit::Celsius).unwrap()),
        words: String::new(),
    };
    Append {
        entry: draft.checked().unwrap(),
        recorded: now,
    }
}

fn per_second(times: &[Duration], seconds: f64) -> f64 {
    f64::from(u32::try_from(times.len()).unwrap()) / seconds
}

/// Median and 99th percentile, in milliseconds.
fn spread(times: &mut [Duration]) -> (f64, f64) {
    times.sort_unstable();
    let at = |share: usize| times[(times.len() - 1) * share / 100].as_secs_f64() * 1000.0;
    (at(50), at(99))
}
