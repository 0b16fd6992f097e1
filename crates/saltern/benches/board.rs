//! How quick the board is with many screens on it: pages, entries, and how soon every screen hears of one.
//!
//! `cargo bench -p saltern --bench board` runs 200 screens for 20 s; `-- 1000 20` another number and time. The board is a
//! process of its own with its record in a file; screens and clients run here, on the same machine. Figures and what
//! they mean: docs/performance.md.

// A bench is an edge: it prints, reads the clock, and stops when the board does.
#![allow(clippy::print_stdout, clippy::expect_used, clippy::panic)]

mod screens;

use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

fn main() {
    let numbers: Vec<u64> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .map(|a| a.parse().expect("SCREENS SECONDS: two whole numbers"))
        .collect();
    let screens = numbers.first().copied().unwrap_or(200);
    let seconds = numbers.get(1).copied().unwrap_or(20);
    let board = Board::start();
    println!("load of the machine before: {}", load());
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    let before = board.memory("VmRSS");
    let found = runtime.block_on(screens::run(
        board.address.clone(),
        screens,
        Duration::from_secs(seconds),
    ));
    found.print(screens, seconds);
    println!(
        "memory of the board: {before} before, {} with {screens} screens, {} at most",
        board.memory("VmRSS"),
        board.memory("VmHWM")
    );
    println!("load of the machine after: {}", load());
}

/// The one-minute load and how many cores share it.
fn load() -> String {
    let load = std::fs::read_to_string("/proc/loadavg").unwrap_or_default();
    let cores = std::thread::available_parallelism().map_or(0, usize::from);
    format!("{} on {cores} cores", load.split(' ').next().unwrap_or("?"))
}

/// The program, its record in a file of its own.
struct Board {
    child: Child,
    address: String,
    record: PathBuf,
}

impl Board {
    fn start() -> Self {
        let record = std::env::temp_dir().join(format!("saltern-bench-{}.db", std::process::id()));
        let mut child = Command::new(env!("CARGO_BIN_EXE_saltern"))
            .args(["serve", "--listen", "127.0.0.1:0", "--db"])
            .arg(&record)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the board starts");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("its output"))
            .read_line(&mut line)
            .expect("its address");
        let address = line
            .split_whitespace()
            .find_map(|w| w.strip_prefix("http://"))
            .expect("an address in its first line")
            .to_owned();
        Self {
            child,
            address,
            record,
        }
    }

    /// A line of what the kernel says of its memory.
    fn memory(&self, name: &str) -> String {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id()))
            .unwrap_or_default();
        let kb = status
            .lines()
            .find_map(|l| l.strip_prefix(name)?.strip_prefix(':'))
            .and_then(|rest| rest.split_whitespace().next()?.parse::<f64>().ok());
        kb.map_or_else(
            || "unknown".to_owned(),
            |kb| format!("{:.1} MB", kb / 1024.0),
        )
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        for end in ["", "-wal", "-shm"] {
            let mut file = self.record.clone().into_os_string();
            file.push(end);
            let _ = std::fs::remove_file(file);
        }
    }
}
