//! The log: its chain, its idempotency, its guards, what it hands out.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixture;

use std::collections::BTreeMap;
use std::sync::mpsc;

use fixture::{append, at, draft, folder, label, note};
use proptest::prelude::*;
use rusqlite::Connection;
use store::{Error, Flaw, Hash, Head, Kind, LogHead, LogOf, Store, Unit, Verify};

#[test]
fn the_same_id_is_stored_once_and_answered_the_same() {
    let store = Store::in_memory().unwrap();
    let first = store.ask(note("t:1", "salt on")).unwrap();
    let mut again = note("t:1", "salt on");
    // Sent again later: what the client said is the same, the store's own clock is not.
    again.recorded = at(999);
    let again = store.ask(again).unwrap();
    assert_eq!((first.sequence, &first.hash), (again.sequence, &again.hash));
    assert!(first.is_new && !again.is_new);
    let other = store.ask(note("t:1", "salt off")).unwrap_err();
    assert_eq!(
        other,
        Error::OtherContent {
            id: "t:1".to_owned(),
            sequence: 1
        }
    );
    assert_eq!(store.ask(LogOf::all()).unwrap().len(), 1);
}

#[test]
fn decimals_are_content() {
    let store = Store::in_memory().unwrap();
    let weighed = |n| append(draft("t:1", Kind::Weighed, Some((n, Unit::Kilogram)), ""));
    store.ask(weighed("5.20")).unwrap();
    assert!(store.ask(weighed("5.2")).is_err());
    let log = store.ask(LogOf::all()).unwrap();
    assert_eq!(log[0].says.reading.unwrap().to_string(), "5.20 kg");
}

#[test]
fn a_correction_points_at_what_it_corrects() {
    let store = Store::in_memory().unwrap();
    let read = |id, kind, n, unit| append(draft(id, kind, Some((n, unit)), ""));
    store
        .ask(read("t:1", Kind::Temperature, "85", Unit::Celsius))
        .unwrap();
    let of = Kind::Correction { of: 1 };
    let wrong_unit = store.ask(read("t:2", of, "5220", Unit::Gram)).unwrap_err();
    assert!(matches!(wrong_unit, Error::Refused(_)), "{wrong_unit}");
    store.ask(read("t:2", of, "62.8", Unit::Celsius)).unwrap();
    let of_a_correction = Kind::Correction { of: 2 };
    assert!(
        store
            .ask(read("t:3", of_a_correction, "1", Unit::Gram))
            .is_err()
    );
    store
        .ask(read("t:3", of_a_correction, "62.9", Unit::Celsius))
        .unwrap();

    let log = store.ask(LogOf::all()).unwrap();
    let corrected: Vec<_> = log.iter().map(|e| e.corrected_by).collect();
    assert_eq!(corrected, [Some(2), Some(3), None]);
    assert_eq!(log[0].says.reading.unwrap().to_string(), "85 °C");

    let nothing = store.ask(read("t:4", Kind::Correction { of: 9 }, "1", Unit::Celsius));
    assert_eq!(
        nothing.unwrap_err().to_string(),
        "found a correction of entry 9, which the log of harvest-supper does not hold; expected \
         the sequence number of an entry of the same event; now: look the number up in the log"
    );
    let mut elsewhere = draft("t:5", of, Some(("1", Unit::Celsius)), "");
    elsewhere.about.event = label("duck-class");
    assert!(matches!(
        store.ask(append(elsewhere)),
        Err(Error::NoEntry { .. })
    ));
    assert_eq!(store.ask(LogHead).unwrap().sequence, 3);
}

#[test]
fn the_log_is_read_by_event_by_lot_and_from_a_place_on() {
    let store = Store::in_memory().unwrap();
    for n in 0..6 {
        let mut entry = draft(&format!("t:{n}"), Kind::Note, None, "x");
        entry.about.event = label(if n % 2 == 0 { "supper" } else { "class" });
        entry.about.lot = (n > 3).then(|| label("char-1"));
        store.ask(append(entry)).unwrap();
    }
    let places = |query: LogOf| -> Vec<i64> {
        store
            .ask(query)
            .unwrap()
            .iter()
            .map(|e| e.sequence)
            .collect()
    };
    assert_eq!(places(LogOf::all()), [1, 2, 3, 4, 5, 6]);
    assert_eq!(places(LogOf::event(label("supper"))), [1, 3, 5]);
    assert_eq!(places(LogOf::event(label("supper")).after(1)), [3, 5]);
    assert_eq!(places(LogOf::lot(label("char-1"))), [5, 6]);
    let both = LogOf {
        event: Some(label("class")),
        ..LogOf::lot(label("char-1"))
    };
    assert_eq!(places(both), [6]);
    assert_eq!(
        places(
            LogOf {
                most: 2,
                ..LogOf::all()
            }
            .after(3)
        ),
        [4, 5]
    );
    assert!(places(LogOf::event(label("nothing"))).is_empty());
}

#[test]
fn the_file_refuses_what_the_log_forbids() {
    let (_folder, path) = folder();
    fixture::filled(&path, 3);
    let raw = Connection::open(&path).unwrap();
    let row = "SELECT sequence, id, at, zone, recorded_at, recorded_zone, who, device, event,
        component, step, lot, part, kind, corrects, number, unit, 'forged', before, hash FROM log";
    for sql in [
        "UPDATE log SET words = 'forged' WHERE sequence = 2".to_owned(),
        "DELETE FROM log WHERE sequence = 3".to_owned(),
        "DELETE FROM log".to_owned(),
        format!("INSERT OR REPLACE INTO log {row} WHERE sequence = 2"),
        format!(
            "REPLACE INTO log {}",
            row.replace("SELECT sequence, id", "SELECT 4, id")
        ),
        "UPDATE OR REPLACE log SET sequence = 2 WHERE sequence = 3".to_owned(),
        format!(
            "INSERT INTO log {}",
            row.replace("SELECT sequence, id", "SELECT 5, 'new'")
        ),
        "UPDATE revision SET text = 'forged'".to_owned(),
        "DELETE FROM revision".to_owned(),
        "INSERT OR REPLACE INTO revision SELECT seq, page, number, parent, kind, 'forged', who,
             at, zone, hash FROM revision"
            .to_owned(),
    ] {
        let refused = raw.execute(&sql, []).unwrap_err().to_string();
        assert!(
            ["never", "goes on"]
                .iter()
                .any(|word| refused.contains(word)),
            "{sql}: {refused}"
        );
    }
    drop(raw);
    let store = Store::open(&path).unwrap();
    assert_eq!(store.ask(Verify::default()).unwrap().entries, 3);
}

/// Somebody with the file in hand takes the guard away, changes something, puts the guard back.
#[test]
fn verify_names_the_first_entry_that_does_not_hold() {
    let forged = |sql: &str| {
        let (_folder, path) = folder();
        fixture::filled(&path, 6);
        let known = Store::open(&path).unwrap().ask(LogHead).unwrap();
        let raw = Connection::open(&path).unwrap();
        raw.pragma_update(None, "foreign_keys", false).unwrap();
        let guards: Vec<(String, String)> = raw
            .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
            .unwrap()
            .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        for (name, _) in &guards {
            raw.execute_batch(&format!("DROP TRIGGER {name}")).unwrap();
        }
        raw.execute_batch(sql).unwrap();
        for (_, sql) in &guards {
            raw.execute_batch(sql).unwrap();
        }
        drop(raw);
        let store = Store::open(&path).unwrap();
        let verified = store.ask(Verify { known: Some(known) });
        match verified {
            Err(Error::Broken(flaw)) => flaw,
            other => panic!("{sql}: {other:?}"),
        }
    };
    for (sql, flaw) in [
        (
            "UPDATE log SET words = 'x' WHERE sequence IN (3, 5)",
            Flaw::Content { sequence: 3 },
        ),
        (
            "UPDATE log SET who = 'Ode' WHERE sequence = 1",
            Flaw::Content { sequence: 1 },
        ),
        (
            "UPDATE log SET at = recorded_at WHERE sequence = 4",
            Flaw::Content { sequence: 4 },
        ),
        (
            "UPDATE log SET hash = zeroblob(32) WHERE sequence = 4",
            Flaw::Content { sequence: 4 },
        ),
        (
            "DELETE FROM log WHERE sequence = 2",
            Flaw::Missing { sequence: 2 },
        ),
        (
            "DELETE FROM log WHERE sequence = 1",
            Flaw::Missing { sequence: 1 },
        ),
        (
            "DELETE FROM log WHERE sequence > 4",
            Flaw::Cut { last: 4, ever: 6 },
        ),
        (
            "DELETE FROM log WHERE sequence > 4; UPDATE sqlite_sequence SET seq = 4 WHERE name = 'log'",
            Flaw::Cut { last: 4, ever: 6 },
        ),
        ("DELETE FROM log", Flaw::Cut { last: 0, ever: 6 }),
        (
            "UPDATE revision SET text = 'recipe = ''b'''",
            Flaw::Revision {
                page: fixture::page("a.toml"),
                number: 1,
            },
        ),
    ] {
        assert_eq!(forged(sql), flaw, "{sql}");
    }
    let kind = forged("UPDATE log SET kind = 'eaten' WHERE sequence = 2");
    assert!(
        matches!(kind, Flaw::Unreadable { sequence: 2, .. }),
        "{kind:?}"
    );
}

#[test]
fn a_chain_written_anew_is_found_by_a_head_kept_elsewhere() {
    let (_folder, path) = folder();
    fixture::filled(&path, 3);
    let store = Store::open(&path).unwrap();
    let known = Head {
        sequence: 2,
        hash: Hash::of(b"another"),
    };
    assert_eq!(
        store.ask(Verify { known: Some(known) }).unwrap_err(),
        Error::Broken(Flaw::NotAsKnown { sequence: 2 })
    );
}

#[test]
fn an_entry_that_does_not_hold_is_not_handed_out() {
    let (_folder, path) = folder();
    fixture::filled(&path, 3);
    let raw = Connection::open(&path).unwrap();
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
    drop(raw);
    let store = Store::open(&path).unwrap();
    assert_eq!(
        store.ask(LogOf::all()).unwrap_err(),
        Error::Broken(Flaw::Content { sequence: 2 })
    );
    assert_eq!(store.ask(LogOf::all().after(2)).unwrap().len(), 1);
}

#[test]
fn hostile_words_come_back_exactly() {
    let store = Store::in_memory().unwrap();
    let huge = "x🐟".repeat(2_000_000);
    let hostile = [
        "a\0b\0",
        "'); DROP TABLE log; --",
        "🐟👩‍🍳\u{202e}\u{feff}é e\u{301}",
        "\r\n\t \u{1b}[31m",
        "<script>alert(1)</script>",
        "words 3:abc\nhash 64:",
        &huge,
    ];
    for (n, words) in hostile.iter().enumerate() {
        store.ask(note(&format!("t:{n}"), words)).unwrap();
    }
    let log = store.ask(LogOf::all()).unwrap();
    let back: Vec<&str> = log.iter().map(|e| e.says.words.as_str()).collect();
    assert!(back == hostile, "a text changed on the way");
    store.ask(Verify::default()).unwrap();
    let too_long = draft(
        "t:x",
        Kind::Note,
        None,
        &"x".repeat(store::MOST_TEXT_BYTES + 1),
    );
    assert!(too_long.checked().is_err());
}

#[test]
fn many_at_once_are_one_chain_and_every_caller_is_answered() {
    let (_folder, path) = folder();
    let store = Store::create(&path).unwrap();
    let (reply, answers) = mpsc::channel();
    std::thread::scope(|scope| {
        for thread in 0..8 {
            let (store, reply) = (store.clone(), reply.clone());
            scope.spawn(move || {
                for n in 0..50 {
                    let reply = reply.clone();
                    // Every fifth is refused; its neighbours in the transaction are not.
                    let append = if n % 5 == 4 {
                        append(draft(
                            &format!("{thread}:{n}"),
                            Kind::Correction { of: 9999 },
                            None,
                            "x",
                        ))
                    } else {
                        note(&format!("{thread}:{n}"), "x")
                    };
                    store.send(append, move |answer| reply.send((n, answer)).unwrap());
                }
            });
        }
    });
    drop(reply);
    store.close().unwrap();
    let mut places = Vec::new();
    for (n, answer) in answers {
        match answer {
            Ok(receipt) => places.push(receipt.sequence),
            Err(error) => assert!(
                n % 5 == 4 && matches!(error, Error::NoEntry { .. }),
                "{error}"
            ),
        }
    }
    places.sort_unstable();
    assert_eq!(places, (1..=320).collect::<Vec<i64>>());
    assert_eq!(store.ask(LogHead).unwrap_err(), Error::Closed);
    let store = Store::open(&path).unwrap();
    assert_eq!(store.ask(Verify::default()).unwrap().entries, 320);
}

#[test]
fn a_caller_that_fails_on_its_answer_leaves_the_store_standing() {
    let store = Store::in_memory().unwrap();
    store.send(LogHead, |_| panic!("the caller's own mistake"));
    assert_eq!(store.ask(LogHead).unwrap().sequence, 0);
}

#[test]
fn the_last_handle_may_go_inside_an_answer() {
    let (_folder, path) = folder();
    let store = Store::create(&path).unwrap();
    let (reply, answer) = mpsc::channel();
    let held = store.clone();
    store.send(note("t:1", "x"), move |receipt| {
        reply.send(receipt.is_ok()).unwrap();
        drop(held);
    });
    drop(store);
    assert!(answer.recv().unwrap());
}

/// What a client may do in one step of a trial.
#[derive(Debug, Clone)]
enum Send {
    New(u8),
    Again(prop::sample::Index),
    Forged(prop::sample::Index),
    Reopen,
}

fn sends() -> impl Strategy<Value = Vec<Send>> {
    let one = prop_oneof![
        4 => (0_u8..4).prop_map(Send::New),
        3 => any::<prop::sample::Index>().prop_map(Send::Again),
        1 => any::<prop::sample::Index>().prop_map(Send::Forged),
        1 => Just(Send::Reopen),
    ];
    prop::collection::vec(one, 1..40)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Any interleaving of new entries, repeats, forgeries and restarts: each entry stands once, at
    /// the place it was first answered with, and the chain holds.
    #[test]
    fn any_interleaving_keeps_the_chain(sends in sends()) {
        let (_folder, path) = folder();
        let mut store = Store::create(&path).unwrap();
        let mut known: Vec<(String, String, i64)> = Vec::new();
        let mut counters = BTreeMap::new();
        for send in sends {
            match send {
                Send::New(device) => {
                    let n: &mut u32 = counters.entry(device).or_default();
                    *n += 1;
                    let (id, words) = (format!("d{device}:{n}"), format!("w{}", known.len()));
                    let receipt = store.ask(note(&id, &words)).unwrap();
                    prop_assert!(receipt.is_new);
                    prop_assert_eq!(receipt.sequence, i64::try_from(known.len()).unwrap() + 1);
                    known.push((id, words, receipt.sequence));
                }
                Send::Again(which) if !known.is_empty() => {
                    let (id, words, sequence) = which.get(&known);
                    let receipt = store.ask(note(id, words)).unwrap();
                    prop_assert!(!receipt.is_new);
                    prop_assert_eq!(receipt.sequence, *sequence);
                }
                Send::Forged(which) if !known.is_empty() => {
                    let (id, words, sequence) = which.get(&known);
                    let answer = store.ask(note(id, &format!("{words}!")));
                    prop_assert_eq!(
                        answer.unwrap_err(),
                        Error::OtherContent { id: id.clone(), sequence: *sequence }
                    );
                }
                Send::Reopen => {
                    store.close().unwrap();
                    store = Store::open(&path).unwrap();
                }
                _ => {}
            }
        }
        let log = store.ask(LogOf::all()).unwrap();
        let stored: Vec<(String, String, i64)> = log
            .iter()
            .map(|e| (e.says.id.to_string(), e.says.words.clone(), e.sequence))
            .collect();
        prop_assert_eq!(&stored, &known);
        prop_assert_eq!(
            store.ask(Verify::default()).unwrap().entries,
            i64::try_from(known.len()).unwrap()
        );
    }
}
