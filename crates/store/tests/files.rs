//! The file: what is opened, what is refused and how, older versions, damage.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixture;

use std::fs;
use std::path::{Path, PathBuf};

use fixture::{filled, folder, label, note, page};
use proptest::prelude::*;
use rusqlite::Connection;
use store::{
    Entry, Error, Flaw, History, LatestPages, LogHead, LogOf, OpenConflicts, PagesOfPlan, People,
    PlansOf, Store, Verify, version,
};

fn refused(path: &Path) -> String {
    let told = Store::open(path).unwrap_err().to_string();
    told.replace(&path.display().to_string(), "FILE")
}

#[test]
fn what_is_no_database_of_ours_is_refused_untouched() {
    let (folder, path) = folder();
    assert_eq!(
        refused(&path),
        "found no file FILE; expected a Saltern database; \
         now: check the path; to begin a new one, create it"
    );
    fs::write(&path, "").unwrap();
    assert!(refused(&path).contains("FILE is an empty file"));
    fs::write(&path, "recipe = 'char'\n".repeat(1000)).unwrap();
    assert!(
        refused(&path).contains("FILE is not a database"),
        "{}",
        refused(&path)
    );
    assert!(refused(folder.path()).contains("FILE is a folder"));
    fs::remove_file(&path).unwrap();
    let other = Connection::open(&path).unwrap();
    other
        .execute_batch("CREATE TABLE t (x); INSERT INTO t VALUES (1);")
        .unwrap();
    drop(other);
    let before = fs::read(&path).unwrap();
    assert!(refused(&path).contains("FILE is a database of another program"));
    assert_eq!(fs::read(&path).unwrap(), before);
    assert!(matches!(Store::create(&path), Err(Error::Exists { .. })));
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn a_newer_file_is_refused_untouched() {
    let (_folder, path) = folder();
    filled(&path, 1);
    let raw = Connection::open(&path).unwrap();
    raw.pragma_update(None, "user_version", version() + 3)
        .unwrap();
    drop(raw);
    let before = fs::read(&path).unwrap();
    assert_eq!(
        refused(&path),
        format!(
            "found FILE has version {}; this program knows versions up to {}; expected a database \
             of this version or an older one; now: open it with the newer program that wrote it; \
             it was not touched",
            version() + 3,
            version()
        )
    );
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn a_file_without_its_guards_is_refused() {
    for (change, name) in [
        (
            "DROP TRIGGER log_is_not_deleted",
            "the trigger \"log_is_not_deleted\"",
        ),
        ("DROP INDEX log_by_lot", "the index \"log_by_lot\""),
        ("CREATE TABLE extra (x)", "the table \"extra\""),
        (
            "CREATE TRIGGER sly AFTER INSERT ON log BEGIN SELECT 1; END",
            "the trigger \"sly\"",
        ),
    ] {
        let (_folder, path) = folder();
        filled(&path, 1);
        Connection::open(&path)
            .unwrap()
            .execute_batch(change)
            .unwrap();
        match Store::open(&path) {
            Err(Error::Shape { name: found, .. }) => assert_eq!(found, name),
            other => panic!("{change}: {other:?}"),
        }
    }
}

/// Everything in the tables, in the order of the tables; the same for two files with the same record.
fn content(path: &Path) -> Vec<String> {
    let raw = Connection::open(path).unwrap();
    let mut content = Vec::new();
    for table in [
        "revision",
        "conflict",
        "settlement",
        "log",
        "plan",
        "plan_page",
        "person",
        "device",
        "session",
    ] {
        let mut rows = raw
            .prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2"))
            .unwrap();
        let columns = rows.column_count();
        let mut rows = rows.query([]).unwrap();
        while let Some(row) = rows.next().unwrap() {
            let cells: Vec<rusqlite::types::Value> =
                (0..columns).map(|c| row.get(c).unwrap()).collect();
            content.push(format!("{table} {cells:?}"));
        }
    }
    content
}

fn old(version: u32, path: &Path) {
    let file = format!("{}/tests/old/v{version}.sql", env!("CARGO_MANIFEST_DIR"));
    let raw = Connection::open(path).unwrap();
    raw.pragma_update(None, "foreign_keys", false).unwrap();
    raw.execute_batch(&fs::read_to_string(file).unwrap())
        .unwrap();
}

/// The files of `tests/old` were written by Python's sqlite3 and hashlib (`make_old.py`), the hashes
/// by the canonical form as `docs/store.md` describes it: a second way to the same bytes.
#[test]
fn every_earlier_version_is_brought_forward_with_all_it_held() {
    let (folder, newest) = folder();
    old(version(), &newest);
    Store::open(&newest).unwrap().close().unwrap();
    let all = content(&newest);
    for from in 1..=version() {
        let path = folder.path().join(format!("from-{from}.db"));
        old(from, &path);
        let before = Connection::open(&path).unwrap();
        let had: i64 = before
            .query_row(
                "SELECT count(*) FROM sqlite_schema WHERE type = 'table'",
                [],
                |r| r.get(0),
            )
            .unwrap();
        drop(before);
        let store = Store::open(&path).unwrap();
        let verified = store.ask(Verify::default()).unwrap();
        assert_eq!(verified.texts, 7);
        assert_eq!(verified.entries, if from >= 2 { 5 } else { 0 });
        if from >= 2 {
            assert_eq!(
                verified.head.hash.to_string(),
                "d12f916d4977bbfc9093e1d5c919a03d3d5bc77c600f4134dc3fadd1857aaa7a",
                "the hash Python's hashlib gave"
            );
        }
        // It works on: what was read is read, what is new is taken.
        let history = store
            .ask(History {
                page: page("recipes/char.toml"),
            })
            .unwrap();
        assert_eq!(
            history[0].text.as_deref(),
            Some("recipe = \"char\" # čar 🐟\n")
        );
        assert_eq!(store.ask(OpenConflicts).unwrap().len(), 1);
        assert_eq!(store.ask(LatestPages).unwrap().pages.len(), 2);
        store.close().unwrap();
        // Content: the rows the old file had, and no others.
        let kept = content(&path);
        let tables = [
            "revision",
            "conflict",
            "settlement",
            "log",
            "plan",
            "person",
            "device",
            "session",
        ];
        let held = match from {
            1 => &tables[..3],
            2 => &tables[..4],
            3 => &tables[..5],
            _ => &tables[..],
        };
        let expected: Vec<&String> = all
            .iter()
            .filter(|row| held.iter().any(|table| row.starts_with(table)))
            .collect();
        assert_eq!(
            kept.iter().collect::<Vec<_>>(),
            expected,
            "from version {from}"
        );
        let now: i64 = Connection::open(&path)
            .unwrap()
            .query_row(
                "SELECT count(*) FROM sqlite_schema WHERE type = 'table'",
                [],
                |r| r.get(0),
            )
            .unwrap();
        assert!(from == version() || now > had);
        let store = Store::open(&path).unwrap();
        store.ask(note("new:1", "after the move")).unwrap();
        store.ask(Verify::default()).unwrap();
    }
}

#[test]
fn the_newest_old_file_reads_through_every_command() {
    let (_folder, path) = folder();
    old(version(), &path);
    let store = Store::open(&path).unwrap();
    let log = store.ask(LogOf::lot(label("char-1"))).unwrap();
    assert_eq!(log[1].says.reading.unwrap().to_string(), "5.220 kg");
    assert_eq!(log[2].corrected_by, Some(4));
    let plans = store
        .ask(PlansOf {
            event: label("harvest-supper"),
        })
        .unwrap();
    let files = store.ask(PagesOfPlan { id: plans[0].id }).unwrap();
    assert_eq!(files[0].bytes, b"book = \"Old house\"\r\n");
    assert_eq!(store.ask(People).unwrap().len(), 2);
}

/// What a file says about its record: everything, or that it does not hold.
fn told(path: &Path) -> Result<(Vec<Entry>, store::BookNow), Error> {
    let store = Store::open(path)?;
    store.ask(Verify::default())?;
    Ok((store.ask(LogOf::all())?, store.ask(LatestPages)?))
}

fn copy_with(path: &Path, change: impl FnOnce(&mut Vec<u8>)) -> PathBuf {
    let copy = path.with_extension("damaged");
    for end in ["", "-wal", "-shm"] {
        let _ = fs::remove_file(format!("{}{end}", copy.display()));
    }
    let mut bytes = fs::read(path).unwrap();
    change(&mut bytes);
    fs::write(&copy, bytes).unwrap();
    copy
}

#[test]
fn a_page_of_the_file_overwritten_is_found_wherever_it_is() {
    let (_folder, path) = folder();
    filled(&path, 200);
    let len = fs::metadata(&path).unwrap().len();
    let mut found = Vec::new();
    for at in (0..usize::try_from(len).unwrap()).step_by(4096) {
        let copy = copy_with(&path, |bytes| bytes[at..at + 4096].fill(0x55));
        let error = told(&copy).expect_err("a page of noise went unseen");
        assert!(!error.told().do_now.is_empty());
        assert!(!matches!(error, Error::Engine { .. }), "page {at}: {error}");
        found.push(error.to_string());
    }
    assert!(found.len() > 10, "{}", found.len());
}

#[test]
fn a_file_cut_short_is_found() {
    let (_folder, path) = folder();
    filled(&path, 200);
    let len = usize::try_from(fs::metadata(&path).unwrap().len()).unwrap();
    for keep in [
        0,
        1,
        50,
        100,
        4095,
        4096,
        8192,
        len / 2,
        len - 4096,
        len - 1,
    ] {
        let copy = copy_with(&path, |bytes| bytes.truncate(keep));
        let error = told(&copy).expect_err("a cut went unseen");
        assert!(
            !matches!(error, Error::Engine { .. }),
            "cut to {keep}: {error}"
        );
    }
}

/// The state a crash leaves: the file and its write-ahead log, copied while they are in use.
fn crash_image(entries: u32) -> (tempfile::TempDir, PathBuf, store::Head) {
    let (folder, path) = folder();
    filled(&path, 5);
    let store = Store::open(&path).unwrap();
    for n in 0..entries {
        store
            .ask(note(&format!("w:{n}"), "in the write-ahead log"))
            .unwrap();
    }
    let head = store.ask(LogHead).unwrap();
    let image = folder.path().join("image.db");
    for end in ["", "-wal"] {
        fs::copy(
            format!("{}{end}", path.display()),
            format!("{}{end}", image.display()),
        )
        .unwrap();
    }
    (folder, image, head)
}

#[test]
fn a_cut_write_ahead_log_leaves_a_clean_beginning_and_a_known_head_tells() {
    let (_folder, image, known) = crash_image(20);
    let wal = PathBuf::from(format!("{}-wal", image.display()));
    let (file, whole) = (fs::read(&image).unwrap(), fs::read(&wal).unwrap());
    let mut ends = std::collections::BTreeSet::new();
    for keep in (0..=whole.len())
        .step_by(whole.len() / 23)
        .chain([whole.len()])
    {
        fs::write(&image, &file).unwrap();
        fs::write(&wal, &whole[..keep]).unwrap();
        let _ = fs::remove_file(format!("{}-shm", image.display()));
        let store = Store::open(&image).unwrap();
        // By itself the shorter record is a clean one …
        let head = store.ask(Verify::default()).unwrap().head;
        assert!((5..=25).contains(&head.sequence));
        ends.insert(head.sequence);
        // … a head kept elsewhere tells that it is not all.
        let checked = store.ask(Verify { known: Some(known) });
        if head == known {
            checked.unwrap();
        } else {
            assert_eq!(
                checked.unwrap_err(),
                Error::Broken(Flaw::Cut {
                    last: head.sequence,
                    ever: known.sequence
                })
            );
        }
        store.close().unwrap();
    }
    assert!(
        ends.len() > 5 && ends.contains(&5) && ends.contains(&25),
        "{ends:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    /// One byte anywhere: either it is found, or nothing of the record is other than it was.
    #[test]
    fn a_flipped_byte_is_found_or_changes_nothing(at in any::<prop::sample::Index>(), by in 1_u8..) {
        let (_folder, path) = folder();
        filled(&path, 12);
        let before = told(&path).unwrap();
        let copy = copy_with(&path, |bytes| {
            let at = at.index(bytes.len());
            bytes[at] ^= by;
        });
        if let Ok(after) = told(&copy) {
            prop_assert_eq!(after, before);
        }
    }

    #[test]
    fn a_flipped_byte_of_the_write_ahead_log_never_changes_an_entry(
        at in any::<prop::sample::Index>(), by in 1_u8..,
    ) {
        let (_folder, image, _) = crash_image(6);
        let wal = format!("{}-wal", image.display());
        let mut bytes = fs::read(&wal).unwrap();
        let at = at.index(bytes.len());
        bytes[at] ^= by;
        fs::write(&wal, bytes).unwrap();
        if let Ok((log, _)) = told(&image) {
            prop_assert!(log.len() >= 5 && log.len() <= 11);
            for entry in log {
                let id = if entry.sequence <= 5 {
                    format!("t:{}", entry.sequence - 1)
                } else {
                    format!("w:{}", entry.sequence - 6)
                };
                prop_assert_eq!(entry.says.id.as_str(), id);
            }
        }
    }
}
