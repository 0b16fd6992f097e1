//! Backup while writing, restore from one, and everything that may be wrong with either.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixture;

use std::fs;
use std::sync::atomic::{AtomicBool, Ordering};

use fixture::{filled, folder, instant, note};
use rusqlite::Connection;
use store::{Error, LogHead, LogOf, Store, Verify, restore, version};

#[test]
fn a_backup_is_one_moment_while_others_write() {
    let (folder, path) = folder();
    let store = Store::create(&path).unwrap();
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        for thread in 0..3 {
            let (store, done) = (store.clone(), &done);
            scope.spawn(move || {
                for n in 0.. {
                    if done.load(Ordering::Relaxed) {
                        break;
                    }
                    store
                        .ask(note(&format!("{thread}:{n}"), &"x".repeat(2000)))
                        .unwrap();
                }
            });
        }
        for n in 0..5 {
            let acknowledged = store.ask(LogHead).unwrap();
            let copy = folder.path().join(format!("copy-{n}.db"));
            let verified = store.backup(&copy).unwrap();
            assert!(verified.head.sequence >= acknowledged.sequence);
            let copied = Store::open(&copy).unwrap();
            let known = Some(acknowledged).filter(|h| h.sequence > 0);
            assert_eq!(copied.ask(Verify { known }).unwrap(), verified);
        }
        done.store(true, Ordering::Relaxed);
    });
}

#[test]
fn a_backup_is_one_file_and_writes_over_nothing() {
    let (folder, path) = folder();
    filled(&path, 3);
    let store = Store::open(&path).unwrap();
    let copy = folder.path().join("copy.db");
    store.backup(&copy).unwrap();
    assert!(matches!(store.backup(&copy), Err(Error::Exists { .. })));
    assert!(matches!(store.backup(&path), Err(Error::Exists { .. })));
    assert!(
        store
            .backup(&folder.path().join("no/such/folder.db"))
            .is_err()
    );
    store.close().unwrap();
    let mut names: Vec<String> = fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["copy.db", "kitchen.db"]);
    assert_eq!(
        Store::in_memory().unwrap().backup(&path).unwrap_err(),
        Error::InMemory
    );
}

#[test]
fn a_restore_brings_the_backup_back_and_keeps_what_was_there() {
    let (folder, path) = folder();
    filled(&path, 3);
    let store = Store::open(&path).unwrap();
    let copy = folder.path().join("copy.db");
    store.backup(&copy).unwrap();
    store.ask(note("later:1", "after the backup")).unwrap();
    // Not while it is open.
    assert!(matches!(
        restore(&copy, &path, instant(0)),
        Err(Error::Busy { .. })
    ));
    assert_eq!(store.ask(LogHead).unwrap().sequence, 4);
    store.close().unwrap();

    let restored = restore(&copy, &path, instant(0)).unwrap();
    assert_eq!(restored.holds.entries, 3);
    let kept = restored.kept.unwrap();
    assert!(
        kept.ends_with("kitchen.db.kept-20271007T123000Z"),
        "{kept:?}"
    );
    assert_eq!(
        Store::open(&path).unwrap().ask(LogOf::all()).unwrap().len(),
        3
    );
    assert_eq!(
        Store::open(&kept).unwrap().ask(LogOf::all()).unwrap().len(),
        4
    );
    // A second time in the same second.
    let again = restore(&copy, &path, instant(0)).unwrap();
    assert!(
        again
            .kept
            .unwrap()
            .ends_with("kitchen.db.kept-20271007T123000Z-2")
    );
    // Into a place where there is nothing.
    let fresh = folder.path().join("fresh.db");
    assert_eq!(restore(&copy, &fresh, instant(0)).unwrap().kept, None);
    assert_eq!(
        Store::open(&fresh).unwrap().ask(LogHead).unwrap().sequence,
        3
    );
}

#[test]
fn a_restore_takes_the_place_of_a_damaged_file_and_its_journal() {
    let (folder, path) = folder();
    filled(&path, 3);
    let copy = folder.path().join("copy.db");
    Store::open(&path).unwrap().backup(&copy).unwrap();
    let store = Store::open(&path).unwrap();
    store.ask(note("t:9", "x")).unwrap();
    let wal = format!("{}-wal", path.display());
    let journal = fs::read(&wal).unwrap();
    store.close().unwrap();
    fs::write(&path, "not a database any more").unwrap();
    fs::write(&wal, &journal).unwrap();

    let kept = restore(&copy, &path, instant(0)).unwrap().kept.unwrap();
    assert_eq!(fs::read(&kept).unwrap(), b"not a database any more");
    assert_eq!(
        fs::read(format!("{}-wal", kept.display())).unwrap(),
        journal
    );
    assert_eq!(
        Store::open(&path).unwrap().ask(LogHead).unwrap().sequence,
        3
    );
}

#[test]
fn a_backup_that_does_not_hold_replaces_nothing() {
    let (folder, path) = folder();
    filled(&path, 3);
    let before = fs::read(&path).unwrap();
    let copy = folder.path().join("copy.db");
    let spoilt = |spoil: &dyn Fn(&Connection)| {
        let _ = fs::remove_file(&copy);
        Store::open(&path).unwrap().backup(&copy).unwrap();
        let raw = Connection::open(&copy).unwrap();
        raw.pragma_update(None, "journal_mode", "delete").unwrap();
        spoil(&raw);
        drop(raw);
        let error = restore(&copy, &path, instant(0)).unwrap_err();
        assert_eq!(fs::read(&path).unwrap(), before);
        error
    };
    let newer = spoilt(&|raw| {
        raw.pragma_update(None, "user_version", version() + 1)
            .unwrap()
    });
    assert!(matches!(newer, Error::Newer { .. }), "{newer}");
    let unguarded = spoilt(&|raw| {
        raw.execute_batch("DROP TRIGGER log_is_not_changed")
            .unwrap()
    });
    assert!(matches!(unguarded, Error::Shape { .. }), "{unguarded}");
    let forged = spoilt(&|raw| {
        let guard: String = raw
            .query_row(
                "SELECT sql FROM sqlite_schema WHERE name = 'log_is_not_changed'",
                [],
                |r| r.get(0),
            )
            .unwrap();
        raw.execute_batch(
            "DROP TRIGGER log_is_not_changed; UPDATE log SET words = 'x' WHERE sequence = 2;",
        )
        .unwrap();
        raw.execute_batch(&guard).unwrap();
    });
    assert!(
        matches!(forged, Error::Broken(store::Flaw::Content { sequence: 2 })),
        "{forged}"
    );
    assert!(matches!(
        restore(&folder.path().join("nothing.db"), &path, instant(0)),
        Err(Error::NoFile { .. })
    ));
    fs::write(&copy, "words").unwrap();
    assert!(matches!(
        restore(&copy, &path, instant(0)),
        Err(Error::NotOurs { .. })
    ));
    let left: Vec<_> = fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .filter(|name| {
            name.contains("restoring") || name.contains("kept") || name.contains("copying")
        })
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_backup_of_an_earlier_version_is_taken() {
    let (folder, path) = folder();
    let old = folder.path().join("old.db");
    let sql =
        fs::read_to_string(format!("{}/tests/old/v1.sql", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let raw = Connection::open(&old).unwrap();
    raw.pragma_update(None, "foreign_keys", false).unwrap();
    raw.execute_batch(&sql).unwrap();
    drop(raw);
    assert_eq!(restore(&old, &path, instant(0)).unwrap().holds.texts, 7);
    let store = Store::open(&path).unwrap();
    assert_eq!(store.ask(Verify::default()).unwrap().texts, 7);
}
