//! Every key this room uses is in the message files, and no message is there for nobody.

#![allow(clippy::expect_used, clippy::disallowed_methods)] // a test of the sources reads the sources

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use kitchen::label::Allergen;
use kitchen::site::RuleSet;
use words::{FILES, Language, Words};

fn sources(of: &str) -> String {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(of)
        .join("src");
    let mut files: Vec<PathBuf> = std::fs::read_dir(&dir)
        .expect("its sources")
        .map(|f| f.expect("a file").path())
        .filter(|p| p.extension().is_some_and(|e| e == "rs"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|f| std::fs::read_to_string(f).expect("text"))
        .collect()
}

/// What stands between quotes.
fn literals(source: &str) -> BTreeSet<String> {
    source
        .split('"')
        .skip(1)
        .step_by(1)
        .filter(|t| {
            !t.is_empty()
                && t.chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
        })
        .map(str::to_owned)
        .collect()
}

/// What is handed to the words by name: the literal after `say(`, `say_with(`, `fact(`, `heading(`, `line(`, `lines(`.
fn said(source: &str) -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    for call in ["say(", "say_with(", "fact(", "heading(", "line(", "lines("] {
        for after in source.split(call).skip(1) {
            if let Some(rest) = after.trim_start().strip_prefix('"')
                && let Some((key, _)) = rest.split_once('"')
            {
                keys.insert(key.to_owned());
            }
        }
    }
    keys
}

/// Keys put together at run time, all of them.
fn families() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    for caution in safety::cautions::ALL {
        keys.insert(format!("caution-{}", caution.id));
        keys.insert(format!("caution-{}-about", caution.id));
    }
    for (word, _) in Allergen::ALL {
        keys.insert(format!("label-word-{word}"));
    }
    for (word, _) in kitchen::diet::Diet::ALL {
        keys.insert(format!("diet-{word}"));
    }
    for (place, _) in RuleSet::ALL {
        keys.insert(format!("place-{place}"));
    }
    for column in safety::allergens::shipped().expect("the shipped list") {
        keys.insert(format!("allergen-{}", column.id));
    }
    keys
}

/// Keys that are used where the book has their word, and are not needed where it has another.
const BY_WORD_OF_THE_BOOK: &[&str] = &["role-", "count-", "pack-", "allergen-", "why-"];

fn all_keys() -> BTreeSet<String> {
    FILES
        .iter()
        .filter(|f| f.language == Language::English)
        .flat_map(|f| f.text.lines())
        .filter_map(|l| l.split_once(" =").map(|(k, _)| k.to_owned()))
        .filter(|k| k.chars().next().is_some_and(|c| c.is_ascii_lowercase()))
        .collect()
}

#[test]
fn every_key_used_is_there() {
    let (sheets, own) = (sources("sheets"), sources("words"));
    let keys = all_keys();
    let used: BTreeSet<String> = said(&sheets)
        .into_iter()
        .chain(said(&own))
        .chain(families())
        .collect();
    let missing: Vec<&String> = used
        .iter()
        .filter(|k| !keys.contains(*k) && *k != "no-such-key")
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
    assert!(used.len() > 250, "the scan found {} keys only", used.len());
    // Heads of tables come in lists: whatever looks like a key of theirs is one.
    let heads: Vec<String> = literals(&sheets)
        .into_iter()
        .filter(|l| {
            [
                "column-",
                "fact-",
                "heading-",
                "skill-",
                "emergency-",
                "phone-",
                "state-",
                "status-",
                "verdict-",
            ]
            .iter()
            .any(|p| l.starts_with(p))
        })
        .filter(|l| !keys.contains(l))
        .collect();
    assert!(heads.iter().all(|h| h == "emergency-card"), "{heads:?}");
}

#[test]
fn no_message_is_there_for_nobody() {
    let used: BTreeSet<String> = literals(&sources("sheets"))
        .into_iter()
        .chain(literals(&sources("words")))
        .chain(families())
        .collect();
    let idle: Vec<String> = all_keys()
        .into_iter()
        // The board's own are held to the sources of the board, there.
        .filter(|k| !k.starts_with("board-"))
        .filter(|k| !used.contains(k) && !BY_WORD_OF_THE_BOOK.iter().any(|p| k.starts_with(p)))
        .collect();
    assert!(idle.is_empty(), "{idle:?}");
}

/// The English cautions are those of the room `safety`, word for word; the French ones are there.
#[test]
fn cautions_are_those_of_the_safety_room() {
    let (en, fr) = (Words::of(Language::English), Words::of(Language::French));
    for caution in safety::cautions::ALL {
        assert_eq!(
            en.say(&format!("caution-{}", caution.id)),
            caution.words,
            "{}",
            caution.id
        );
        assert_eq!(
            en.say(&format!("caution-{}-about", caution.id)),
            caution.about,
            "{}",
            caution.id
        );
        let french = fr.say(&format!("caution-{}", caution.id));
        assert!(french.len() > 60 && french != caution.words, "{french}");
        // A figure of a caution is the same figure in French.
        for figure in ["0.01", "5 °C", "4 °C"] {
            let in_french = figure.replace('.', ",").replace(' ', "\u{a0}");
            assert_eq!(
                caution.words.contains(figure),
                french.contains(&in_french) || french.contains(&figure.replace('.', ",")),
                "{}: {figure}",
                caution.id
            );
        }
    }
}

/// A place's own list has a word of ours for every entry, in both languages.
#[test]
fn every_reason_is_of_an_act_there_is() {
    let words = Words::of(Language::English);
    for key in all_keys().iter().filter_map(|k| k.strip_prefix("why-")) {
        if key == "line" {
            continue;
        }
        assert!(kitchen::verb::Verb::find(key).is_some(), "why-{key}");
        assert!(words.has(&format!("why-{key}")));
    }
}
