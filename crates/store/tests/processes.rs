//! Stories with more than one process: killed at random moments, two on one file, a full disk, a file
//! somebody else may only read. This binary starts itself again as the processes it kills.
//!
//! `cargo test -p saltern-store --test processes` kills 200 times; `-- 1000` kills a thousand times.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a test binary with a main of its own"
)]

mod fixture;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use fixture::{note, page, save};
use store::{Append, Error, Hash, Head, History, LogHead, LogOf, Saving, Store, Verify};

/// How often a process is killed where the command line does not say.
const KILLS: u32 = 200;
/// Longest life of a process before it is killed; for every other one starting up is part of it.
const LONGEST_LIFE_MS: u64 = 90;
/// Lives a file sees before a new one is begun.
const LIVES_OF_A_FILE: u32 = 10;
/// Threads that append in a process.
const WRITERS: u32 = 4;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    match args[..] {
        ["as-hammer", database, life, most] => {
            hammer(Path::new(database), life, most.parse().unwrap());
        }
        ["as-reader-only", database] => refused(Path::new(database)),
        _ => {
            let kills = args
                .iter()
                .find_map(|arg| arg.parse().ok())
                .unwrap_or(KILLS);
            killed(kills);
            two_on_one_file();
            full_disk();
            read_only();
        }
    }
}

/// Appends from several threads, saves a page from one; writes every acknowledgement to stdout.
fn hammer(database: &Path, life: &str, most: u32) {
    let store = match Store::open(database) {
        Err(Error::NoFile { .. }) => Store::create(database).unwrap(),
        opened => opened.unwrap(),
    };
    say("open");
    std::thread::scope(|scope| {
        for writer in 0..WRITERS {
            let store = store.clone();
            scope.spawn(move || {
                for n in 0..most {
                    let receipt = store.ask(entry(life, writer, n)).unwrap();
                    say(&format!(
                        "e {life}:{writer}:{n} {} {}",
                        receipt.sequence, receipt.hash
                    ));
                }
            });
        }
        scope.spawn(|| {
            for n in 0..most {
                let id = format!("life-{life}.toml");
                let parent = Some(n).filter(|n| *n > 0);
                match store.ask(save(&id, parent, &format!("n = {n}"))).unwrap() {
                    Saving::Saved(revision) => say(&format!("p {id} {} {n}", revision.number)),
                    other => panic!("{other:?}"),
                }
            }
        });
    });
    store.close().unwrap();
    say("closed");
}

/// One in eight is long, so that the write-ahead log fills and is brought home under way.
fn entry(life: &str, writer: u32, n: u32) -> Append {
    let long = if n % 8 == 7 { 30_000 } else { 20 };
    note(
        &format!("{life}:{writer}:{n}"),
        &format!("{n} {}", "x".repeat(long)),
    )
}

/// One line in one write: shorter than a pipe takes whole, so never mixed with another's.
fn say(line: &str) {
    std::io::stdout()
        .lock()
        .write_all(format!("{line}\n").as_bytes())
        .unwrap();
}

fn itself(args: &[&str]) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(args)
        .stdin(Stdio::null())
        .stdout(Stdio::piped());
    command
}

fn lines(mut said: impl Read) -> Vec<String> {
    let mut text = String::new();
    said.read_to_string(&mut text).unwrap();
    // A last line without its end was cut by the kill: it acknowledges nothing.
    let whole = text.rfind('\n').map_or("", |end| &text[..end]);
    whole.lines().map(str::to_owned).collect()
}

/// What the killed processes were told is stored.
#[derive(Default)]
struct Acknowledged {
    entries: BTreeMap<String, (i64, String)>,
    pages: BTreeMap<String, u32>,
}

impl Acknowledged {
    fn read(&mut self, lines: &[String]) -> usize {
        for line in lines {
            match line.split(' ').collect::<Vec<_>>()[..] {
                ["e", id, sequence, hash] => {
                    let place = (sequence.parse().unwrap(), hash.to_owned());
                    assert_eq!(self.entries.insert(id.to_owned(), place), None);
                }
                ["p", id, number, _] => {
                    self.pages.insert(id.to_owned(), number.parse().unwrap());
                }
                ["open" | "closed"] => {}
                _ => panic!("{line:?}"),
            }
        }
        lines.iter().filter(|line| line.contains(' ')).count()
    }

    /// The newest place that was acknowledged.
    fn head(&self) -> Option<Head> {
        let newest = self
            .entries
            .values()
            .max_by_key(|(sequence, _)| *sequence)?;
        Some(Head {
            sequence: newest.0,
            hash: Hash::from_hex(&newest.1).unwrap(),
        })
    }
}

fn killed(kills: u32) {
    let began = Instant::now();
    let mut random = 0x5a17_e241_u64;
    let mut folder = tempfile::tempdir().unwrap();
    let mut acknowledged = Acknowledged::default();
    let (mut all, mut unacknowledged, mut before_open, mut slowest) = (0, 0, 0, Duration::ZERO);
    let mut with_journal = 0;
    for life in 0..kills {
        if life % LIVES_OF_A_FILE == 0 {
            folder = tempfile::tempdir().unwrap();
            acknowledged = Acknowledged::default();
        }
        let database = folder.path().join("kitchen.db");
        let name = life.to_string();
        let mut child = itself(&["as-hammer", database.to_str().unwrap(), &name, "1000000"])
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        // Every other one may first open the file, however slow the machine is just now.
        if life % 2 == 1 {
            said.read_line(&mut String::new()).unwrap();
        }
        std::thread::sleep(Duration::from_micros(
            next(&mut random) % (LONGEST_LIFE_MS * 1000),
        ));
        // On unix this is SIGKILL.
        child.kill().unwrap();
        let said = lines(said);
        assert!(
            !child.wait().unwrap().success(),
            "it ended before it was killed"
        );
        all += acknowledged.read(&said);
        if !database.exists() {
            assert!(acknowledged.entries.is_empty(), "acknowledged, and no file");
            before_open += 1;
            continue;
        }
        with_journal += u32::from(PathBuf::from(format!("{}-wal", database.display())).exists());
        let opening = Instant::now();
        let store = Store::open(&database).unwrap();
        slowest = slowest.max(opening.elapsed());
        unacknowledged += holds(&store, &acknowledged, &name);
        store.close().unwrap();
    }
    println!(
        "kill -9: {kills} kills ({before_open} before there was a file, {with_journal} with a \
         write-ahead log left), {all} acknowledgements, every one there; {unacknowledged} stored \
         and not yet acknowledged; chain held each time; slowest opening {:.1} ms; {:.1} s in all",
        slowest.as_secs_f64() * 1000.0,
        began.elapsed().as_secs_f64()
    );
    assert!(
        all > usize::try_from(kills).unwrap(),
        "it was killed before it did anything: {all}"
    );
}

/// Everything acknowledged is there, the chain holds, a repeat is known. Answers how many entries
/// were stored without anybody having been told yet.
fn holds(store: &Store, acknowledged: &Acknowledged, life: &str) -> usize {
    let verified = store
        .ask(Verify {
            known: acknowledged.head(),
        })
        .unwrap();
    let log = store.ask(LogOf::all()).unwrap();
    assert_eq!(i64::try_from(log.len()).unwrap(), verified.entries);
    let stored: BTreeMap<&str, (i64, String)> = log
        .iter()
        .map(|e| (e.says.id.as_str(), (e.sequence, e.hash.to_string())))
        .collect();
    for (id, place) in &acknowledged.entries {
        assert_eq!(stored.get(id.as_str()), Some(place), "entry {id}");
    }
    for (id, number) in &acknowledged.pages {
        let history = store.ask(History { page: page(id) }).unwrap();
        assert!(
            history.len() >= usize::try_from(*number).unwrap(),
            "page {id}"
        );
        for (n, revision) in history.iter().enumerate() {
            assert_eq!(revision.text.as_deref(), Some(format!("n = {n}").as_str()));
        }
    }
    // The client that never got its answer sends the last ones again, each stored once.
    for writer in 0..WRITERS {
        let told = acknowledged
            .entries
            .keys()
            .filter(|id| id.starts_with(&format!("{life}:{writer}:")))
            .count();
        let told = u32::try_from(told).unwrap();
        for n in told.saturating_sub(2)..=told {
            let again = store.ask(entry(life, writer, n)).unwrap();
            let there = stored.get(format!("{life}:{writer}:{n}").as_str());
            assert_eq!(again.is_new, there.is_none());
            if let Some((sequence, _)) = there {
                assert_eq!(again.sequence, *sequence);
            }
        }
    }
    log.iter()
        .filter(|e| e.says.id.as_str().starts_with(&format!("{life}:")))
        .filter(|e| !acknowledged.entries.contains_key(e.says.id.as_str()))
        .count()
}

/// SplitMix64, a fixed start: the same kills each time, as far as the machine allows.
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

fn two_on_one_file() {
    const EACH: u32 = 60;
    let began = Instant::now();
    let folder = tempfile::tempdir().unwrap();
    let database = folder.path().join("kitchen.db");
    Store::create(&database).unwrap().close().unwrap();
    let most = EACH.to_string();
    let mut children: Vec<Child> = ["a", "b"]
        .iter()
        .map(|name| {
            itself(&["as-hammer", database.to_str().unwrap(), name, &most])
                .spawn()
                .unwrap()
        })
        .collect();
    let mut acknowledged = Acknowledged::default();
    for child in &mut children {
        let said = lines(child.stdout.take().unwrap());
        assert!(child.wait().unwrap().success());
        assert_eq!(said.last().map(String::as_str), Some("closed"));
        acknowledged.read(&said);
    }
    let store = Store::open(&database).unwrap();
    let verified = store
        .ask(Verify {
            known: acknowledged.head(),
        })
        .unwrap();
    assert_eq!(verified.entries, i64::from(2 * WRITERS * EACH));
    assert_eq!(
        acknowledged.entries.len(),
        usize::try_from(2 * WRITERS * EACH).unwrap()
    );
    println!(
        "two processes on one file: {} entries, one chain, {:.1} s",
        verified.entries,
        began.elapsed().as_secs_f64()
    );
}

/// A disk of one megabyte. Mounting one is up to the machine; elsewhere the test of a full file in
/// `src/owner.rs` stands alone, and this says so.
fn full_disk() {
    let folder = tempfile::tempdir().unwrap();
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=1m", "tmpfs"])
        .arg(folder.path())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success());
    if !mounted {
        println!("full disk: not run here, no small disk may be mounted");
        return;
    }
    let outcome = std::panic::catch_unwind(|| fill(folder.path()));
    let unmounted = Command::new("umount").arg(folder.path()).status();
    let stored = outcome.expect("the full disk");
    assert!(unmounted.is_ok_and(|status| status.success()));
    println!(
        "full disk: {stored} entries acknowledged, refused, room made, all there and going on"
    );
}

fn fill(disk: &Path) -> u32 {
    let database = disk.join("kitchen.db");
    let ballast = disk.join("ballast");
    let store = Store::create(&database).unwrap();
    std::fs::write(&ballast, vec![0_u8; 200_000]).unwrap();
    let big = |n: u32| note(&format!("t:{n}"), &"x".repeat(20_000));
    let mut stored = 0;
    let error = loop {
        match store.ask(big(stored)) {
            Ok(_) => stored += 1,
            Err(error) => break error,
        }
    };
    assert!(matches!(error, Error::Full { .. }), "{error}");
    assert!(stored > 2, "{stored}");
    // Reading goes on, a backup onto the full disk is refused and leaves nothing behind.
    assert_eq!(store.ask(LogHead).unwrap().sequence, i64::from(stored));
    let backup = store.backup(&disk.join("copy.db")).unwrap_err();
    assert!(matches!(backup, Error::Full { .. }), "{backup}");
    assert!(!disk.join("copy.db").exists());
    std::fs::remove_file(&ballast).unwrap();
    assert!(store.ask(big(stored)).unwrap().is_new);
    store.close().unwrap();
    let store = Store::open(&database).unwrap();
    assert_eq!(
        store.ask(Verify::default()).unwrap().entries,
        i64::from(stored) + 1
    );
    stored
}

/// A file its user may only read. The superuser may write everything, so as the superuser the child
/// becomes another user first.
fn read_only() {
    let folder = tempfile::tempdir().unwrap();
    let database = folder.path().join("kitchen.db");
    fixture::filled(&database, 3);
    let before = std::fs::read(&database).unwrap();
    let mut command = itself(&["as-reader-only", database.to_str().unwrap()]);
    make_read_only(&mut command, folder.path(), &database);
    let child = command.spawn().and_then(Child::wait_with_output);
    let output = match child {
        Ok(output) => output,
        Err(error) => {
            println!("read-only file: not run here, no other user to be ({error})");
            return;
        }
    };
    let told = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "{told}");
    let file = database.display();
    assert_eq!(
        told,
        format!(
            "found {file} or its folder cannot be written; expected a file and a folder this program \
             may write; now: give it the right to write, or free the disk from write protection; \
             nothing was lost\n"
        )
    );
    assert_eq!(std::fs::read(&database).unwrap(), before);
    println!("read-only file: refused with a clear message, the file untouched");
}

#[cfg(unix)]
fn make_read_only(command: &mut Command, folder: &Path, database: &Path) {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;

    /// The user "nobody" of most systems.
    const NOBODY: u32 = 65_534;
    let mode = |path: &Path, mode| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    mode(folder, 0o755);
    mode(database, 0o444);
    if std::fs::OpenOptions::new()
        .write(true)
        .open(database)
        .is_ok()
    {
        command.uid(NOBODY);
    }
}

#[cfg(not(unix))]
fn make_read_only(_: &mut Command, _: &Path, database: &Path) {
    let mut permissions = std::fs::metadata(database).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(database, permissions).unwrap();
}

fn refused(database: &Path) {
    match Store::open(database) {
        Err(error @ Error::ReadOnly { .. }) => say(&error.to_string()),
        other => panic!("{other:?}"),
    }
}
