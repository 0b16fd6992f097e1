//! Pages: revisions are never lost, conflicts are never silent, a book goes in and out unchanged.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixture;

use book::SourceFile;
use fixture::{at, folder, label, name, page, save};
use proptest::prelude::*;
use store::{
    BookNow, Conflict, Error, ExportBook, GetPage, History, ImportBook, LatestPages, OpenConflicts,
    PageKind, PagesOfPlan, Pin, PlansOf, RecordPlan, Revision, SavePage, Saving, SettleConflict,
    Store, Verify,
};

fn saved(saving: Saving) -> Revision {
    match saving {
        Saving::Saved(revision) => revision,
        other => panic!("{other:?}"),
    }
}

fn met(saving: Saving) -> Conflict {
    match saving {
        Saving::Conflict(conflict) => *conflict,
        other => panic!("{other:?}"),
    }
}

fn import(files: &[(&str, &str)], onto: i64) -> ImportBook {
    ImportBook {
        files: files
            .iter()
            .map(|(name, text)| SourceFile::text(name, text))
            .collect(),
        onto,
        who: name("Maren"),
        at: at(0),
    }
}

const CHAR: &str = "recipes/char.toml";

#[test]
fn a_stale_save_is_a_conflict_with_both_texts() {
    let store = Store::in_memory().unwrap();
    let first = saved(store.ask(save(CHAR, None, "recipe = 'a'")).unwrap());
    assert_eq!(
        (first.number, first.parent, first.kind),
        (1, None, PageKind::Recipe)
    );
    saved(store.ask(save(CHAR, Some(1), "recipe = 'theirs'")).unwrap());
    let mine = SavePage {
        who: name("Ode"),
        ..save(CHAR, Some(1), "recipe = 'mine'")
    };
    let conflict = met(store.ask(mine.clone()).unwrap());
    assert_eq!(conflict.text.as_deref(), Some("recipe = 'mine'"));
    assert_eq!(conflict.met.text.as_deref(), Some("recipe = 'theirs'"));
    assert_eq!(
        conflict.parent.as_ref().unwrap().text.as_deref(),
        Some("recipe = 'a'")
    );
    // The page is as it was; the text is kept; the same sent again is kept once.
    let newest = store
        .ask(GetPage {
            page: page(CHAR),
            number: None,
        })
        .unwrap();
    assert_eq!(newest.number, 2);
    assert_eq!(met(store.ask(mine).unwrap()).id, conflict.id);
    assert_eq!(store.ask(OpenConflicts).unwrap(), vec![conflict.clone()]);

    let settle = |taken_into| SettleConflict {
        conflict: conflict.id,
        taken_into,
        who: name("Ode"),
        at: at(9),
    };
    assert!(matches!(
        store.ask(settle(Some(2))),
        Err(Error::NoRevision { .. })
    ));
    let merged = saved(store.ask(save(CHAR, Some(2), "recipe = 'both'")).unwrap());
    store.ask(settle(Some(merged.number))).unwrap();
    assert_eq!(store.ask(OpenConflicts).unwrap(), []);
    assert!(matches!(
        store.ask(settle(None)),
        Err(Error::NoConflict { .. })
    ));
}

#[test]
fn the_same_text_again_is_no_conflict_and_no_revision() {
    let store = Store::in_memory().unwrap();
    saved(store.ask(save(CHAR, None, "a = 1")).unwrap());
    for parent in [None, Some(1)] {
        let again = store.ask(save(CHAR, parent, "a = 1")).unwrap();
        assert!(
            matches!(again, Saving::Same(Revision { number: 1, .. })),
            "{again:?}"
        );
    }
}

#[test]
fn a_new_page_on_top_of_an_old_one_is_a_conflict() {
    let store = Store::in_memory().unwrap();
    saved(store.ask(save(CHAR, None, "a = 1")).unwrap());
    let conflict = met(store.ask(save(CHAR, None, "a = 2")).unwrap());
    assert_eq!(conflict.parent, None);
    assert!(matches!(
        store.ask(save(CHAR, Some(7), "a = 3")),
        Err(Error::NoRevision { number: 7, .. })
    ));
    assert!(matches!(
        store.ask(save("other.toml", Some(1), "a = 3")),
        Err(Error::NoRevision { number: 1, .. })
    ));
}

#[test]
fn a_page_taken_out_keeps_its_history_and_may_begin_anew() {
    let store = Store::in_memory().unwrap();
    saved(store.ask(save(CHAR, None, "recipe = 'a'")).unwrap());
    let out = SavePage {
        text: None,
        ..save(CHAR, Some(1), "")
    };
    let gone = saved(store.ask(out.clone()).unwrap());
    assert_eq!((gone.number, gone.text), (2, None));
    assert_eq!(
        store.ask(LatestPages).unwrap(),
        BookNow {
            number: 2,
            pages: vec![]
        }
    );
    // An empty page is not a page taken out.
    let empty = saved(store.ask(save(CHAR, None, "")).unwrap());
    assert_eq!((empty.number, empty.parent), (3, Some(2)));
    assert!(matches!(store.ask(out).unwrap(), Saving::Conflict(_)));
    let texts: Vec<_> = store
        .ask(History { page: page(CHAR) })
        .unwrap()
        .into_iter()
        .map(|r| r.text)
        .collect();
    assert_eq!(
        texts,
        [Some("recipe = 'a'".to_owned()), None, Some(String::new())]
    );
    assert!(
        store
            .ask(History {
                page: page("b.toml")
            })
            .is_err()
    );
}

#[test]
fn the_demo_book_goes_in_and_out_byte_for_byte() {
    let (_folder, path) = folder();
    let store = Store::create(&path).unwrap();
    let mut files = book::demo::files();
    let import = ImportBook {
        files: files.clone(),
        onto: 0,
        who: name("Maren"),
        at: at(0),
    };
    let done = store.ask(import.clone()).unwrap();
    assert_eq!(done.saved.len(), files.len());
    store.close().unwrap();

    let store = Store::open(&path).unwrap();
    let back = store.ask(ExportBook { number: None }).unwrap();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    assert_eq!(back, files);
    assert_eq!(
        book::read(&back, book::Limits::default()),
        book::read(&files, book::Limits::default())
    );
    let again = store
        .ask(ImportBook {
            onto: done.number,
            ..import
        })
        .unwrap();
    assert_eq!((again.number, again.same.len()), (done.number, files.len()));
    let kinds: Vec<PageKind> = store
        .ask(LatestPages)
        .unwrap()
        .pages
        .iter()
        .map(|p| p.kind)
        .collect();
    assert_eq!(kinds.iter().filter(|k| **k == PageKind::Event).count(), 3);
    assert!(!kinds.contains(&PageKind::Unread));
}

#[test]
fn an_import_is_whole_or_not_there() {
    let store = Store::in_memory().unwrap();
    let good = [("a.toml", "a = 1\r\n"), ("b.toml", "\u{feff}b = 'ü🐟'")];
    let first = store.ask(import(&good, 0)).unwrap();
    let before = store.ask(LatestPages).unwrap();
    let mut not_utf8 = import(&[("a.toml", "a = 9"), ("c.toml", "")], first.number);
    not_utf8.files[1].bytes = vec![b'a', 0xff];
    let refused = store.ask(not_utf8).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "found the import: c.toml: no UTF-8 from byte 2 on; expected text in UTF-8; \
         now: save the file as UTF-8"
    );
    for wrong in [
        import(&[], first.number),
        import(
            &[("a.toml", "a = 9"), ("../../etc/x.toml", "")],
            first.number,
        ),
        import(&[("a.toml", "a = 9"), ("a.toml", "a = 8")], first.number),
    ] {
        assert!(matches!(store.ask(wrong), Err(Error::Refused(_))));
    }
    assert_eq!(store.ask(LatestPages).unwrap(), before);
}

#[test]
fn an_import_never_writes_over_what_it_has_not_seen() {
    let store = Store::in_memory().unwrap();
    let first = store
        .ask(import(&[("a.toml", "a = 1"), ("b.toml", "b = 1")], 0))
        .unwrap();
    saved(store.ask(save("a.toml", Some(1), "a = 'edited'")).unwrap());
    let stale = store
        .ask(import(&[("a.toml", "a = 2")], first.number))
        .unwrap_err();
    assert_eq!(
        stale,
        Error::BookMoved {
            known: 2,
            now: 3,
            changed: vec![page("a.toml")]
        }
    );
    let now = store.ask(import(&[("a.toml", "a = 2")], 3)).unwrap();
    assert_eq!(now.taken_out, [page("b.toml")]);
    // The book as it stood at any number.
    let names = |number| -> Vec<String> {
        let files = store.ask(ExportBook { number }).unwrap();
        files
            .into_iter()
            .map(|f| String::from_utf8(f.bytes).unwrap())
            .collect()
    };
    assert_eq!(names(Some(2)), ["a = 1", "b = 1"]);
    assert_eq!(names(Some(3)), ["a = 'edited'", "b = 1"]);
    assert_eq!(names(None), ["a = 2"]);
}

#[test]
fn a_plan_keeps_the_pages_it_was_made_from() {
    let store = Store::in_memory().unwrap();
    store
        .ask(import(&[("a.toml", "a = 1"), ("b.toml", "b = 1")], 0))
        .unwrap();
    let pin = |id: &str, number| Pin {
        page: page(id),
        number,
    };
    let record = RecordPlan {
        event: label("supper"),
        settings: "covers=72".to_owned(),
        pins: vec![pin("b.toml", 1), pin("a.toml", 1)],
        who: name("Maren"),
        at: at(3),
    };
    let plan = store.ask(record.clone()).unwrap();
    saved(store.ask(save("a.toml", Some(1), "a = 2")).unwrap());
    assert_eq!(store.ask(record.clone()).unwrap(), plan);
    let files = store.ask(PagesOfPlan { id: plan.id }).unwrap();
    assert_eq!(
        files,
        [
            SourceFile::text("a.toml", "a = 1"),
            SourceFile::text("b.toml", "b = 1")
        ]
    );
    let moved = RecordPlan {
        pins: vec![pin("a.toml", 2), pin("b.toml", 1)],
        ..record.clone()
    };
    assert_ne!(store.ask(moved).unwrap().id, plan.id);
    assert_eq!(
        store
            .ask(PlansOf {
                event: label("supper")
            })
            .unwrap()
            .len(),
        2
    );
    let nothing = RecordPlan {
        pins: vec![pin("a.toml", 9)],
        ..record.clone()
    };
    assert!(matches!(
        store.ask(nothing),
        Err(Error::NoRevision { number: 9, .. })
    ));
    let twice = RecordPlan {
        pins: vec![pin("a.toml", 1), pin("a.toml", 2)],
        ..record
    };
    assert!(matches!(store.ask(twice), Err(Error::Refused(_))));
    assert_eq!(
        store
            .ask(PlansOf {
                event: label("supper")
            })
            .unwrap()
            .len(),
        2
    );
    assert!(matches!(
        store.ask(PagesOfPlan { id: 99 }),
        Err(Error::NoPlan { id: 99 })
    ));
}

#[test]
fn hostile_pages_come_back_exactly() {
    let store = Store::in_memory().unwrap();
    let ten_mb = "# salt 🧂\n".repeat(10_000_000 / 12 + 1);
    assert!(ten_mb.len() > 10_000_000);
    let hostile = [
        "a\0b",
        "'; DROP TABLE revision; --",
        "\u{feff}\r\n\r",
        "",
        &ten_mb,
    ];
    for (n, text) in hostile.iter().enumerate() {
        saved(store.ask(save(&format!("p{n}.toml"), None, text)).unwrap());
    }
    let files = store.ask(ExportBook { number: None }).unwrap();
    for (file, text) in files.iter().zip(hostile) {
        assert!(
            file.bytes == text.as_bytes(),
            "{} changed on the way",
            file.name
        );
    }
    store.ask(Verify::default()).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Two people save from whatever revision they last saw: every text either is a revision, or is
    /// in a conflict, or was there already; earlier revisions never change.
    #[test]
    fn no_text_is_ever_lost(saves in prop::collection::vec((0_u32..6, 0_u8..5, any::<bool>()), 1..40)) {
        let store = Store::in_memory().unwrap();
        let mut revisions: Vec<Option<String>> = Vec::new();
        let mut kept: Vec<(String, Option<String>)> = Vec::new();
        for (back, text, by_ode) in saves {
            let newest = u32::try_from(revisions.len()).unwrap();
            let parent = newest.checked_sub(back).filter(|n| *n > 0);
            let text = (text > 0).then(|| format!("n = {text}"));
            let who = if by_ode { "Ode" } else { "Maren" };
            let command = SavePage { text: text.clone(), who: name(who), ..save(CHAR, parent, "") };
            let gone = revisions.last().is_none_or(Option::is_none);
            match store.ask(command) {
                Ok(Saving::Saved(revision)) => {
                    prop_assert!(parent == (newest > 0).then_some(newest) || (parent.is_none() && gone));
                    prop_assert_eq!(revision.number, newest + 1);
                    revisions.push(text);
                }
                Ok(Saving::Same(_)) => prop_assert_eq!(revisions.last(), Some(&text)),
                Ok(Saving::Conflict(conflict)) => {
                    prop_assert!(parent != Some(newest));
                    prop_assert_eq!(&conflict.met.text, revisions.last().unwrap());
                    prop_assert_eq!(&conflict.text, &text);
                    kept.push((who.to_owned(), text));
                }
                Err(Error::NoPage { .. }) => prop_assert!(newest == 0 && text.is_none()),
                Err(error) => prop_assert!(false, "{}", error),
            }
        }
        if !revisions.is_empty() {
            let history = store.ask(History { page: page(CHAR) }).unwrap();
            let texts: Vec<Option<String>> = history.into_iter().map(|r| r.text).collect();
            prop_assert_eq!(&texts, &revisions);
        }
        let open = store.ask(OpenConflicts).unwrap();
        for (who, text) in &kept {
            prop_assert!(open.iter().any(|c| c.who.as_str() == who && c.text == *text));
        }
        store.ask(Verify::default()).unwrap();
    }

    #[test]
    fn any_book_goes_in_and_out(texts in prop::collection::btree_map("[a-z]{1,8}", ".*", 1..8)) {
        let files: Vec<SourceFile> = texts
            .iter()
            .map(|(name, text)| SourceFile::text(&format!("{name}.toml"), text))
            .collect();
        let store = Store::in_memory().unwrap();
        store
            .ask(ImportBook { files: files.clone(), onto: 0, who: name("Maren"), at: at(0) })
            .unwrap();
        let mut sorted = files;
        sorted.sort_by(|a, b| a.name.cmp(&b.name));
        prop_assert_eq!(store.ask(ExportBook { number: None }).unwrap(), sorted);
    }
}
