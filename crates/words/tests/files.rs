//! The message files of both languages say the same things: the same keys, with the same things put in.

#![allow(clippy::panic)] // a file that does not read ends the test

use std::collections::{BTreeMap, BTreeSet};

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use words::{FILES, Language, Words};

/// Keys of a language, each with the names of what goes in.
fn keys(language: Language) -> BTreeMap<String, BTreeSet<String>> {
    let mut keys = BTreeMap::new();
    for file in FILES.iter().filter(|f| f.language == language) {
        let resource = fluent_syntax::parser::parse(file.text)
            .unwrap_or_else(|(_, wrong)| panic!("{}/{}: {wrong:?}", language.word(), file.name));
        for entry in &resource.body {
            match entry {
                Entry::Message(m) => {
                    let pattern = m
                        .value
                        .as_ref()
                        .unwrap_or_else(|| panic!("{}: no text", m.id.name));
                    let mut inside = BTreeSet::new();
                    of_pattern(pattern, &mut inside);
                    let twice = keys.insert(m.id.name.to_owned(), inside);
                    assert!(
                        twice.is_none(),
                        "{} stands twice in {}",
                        m.id.name,
                        language.word()
                    );
                }
                Entry::Junk { content } => panic!("{}/{}: {content}", language.word(), file.name),
                _ => {}
            }
        }
    }
    keys
}

fn of_pattern(pattern: &Pattern<&str>, inside: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            match expression {
                Expression::Inline(inline) => of_inline(inline, inside),
                Expression::Select { selector, variants } => {
                    of_inline(selector, inside);
                    for v in variants {
                        of_pattern(&v.value, inside);
                    }
                }
            }
        }
    }
}

fn of_inline(inline: &InlineExpression<&str>, inside: &mut BTreeSet<String>) {
    if let InlineExpression::VariableReference { id } = inline {
        inside.insert(id.name.to_owned());
    }
}

#[test]
fn both_languages_have_the_same_keys_with_the_same_things_put_in() {
    let (en, fr) = (keys(Language::English), keys(Language::French));
    let only = |a: &BTreeMap<String, BTreeSet<String>>, b: &BTreeMap<String, BTreeSet<String>>| {
        a.keys()
            .filter(|k| !b.contains_key(*k))
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!(only(&en, &fr), Vec::<String>::new(), "not in French");
    assert_eq!(only(&fr, &en), Vec::<String>::new(), "not in English");
    for (key, inside) in &en {
        assert_eq!(inside, &fr[key], "{key}");
    }
}

#[test]
fn every_message_says_something_in_its_own_file() {
    for (_, language) in Language::ALL {
        let words = Words::of(*language);
        for (key, inside) in keys(*language) {
            let with: Vec<(&str, words::Value<'_>)> = inside
                .iter()
                .map(|name| {
                    (
                        name.as_str(),
                        if name == "n" {
                            2_u32.into()
                        } else {
                            "X".into()
                        },
                    )
                })
                .collect();
            let text = words.say_with(&key, &with);
            assert!(
                !text.trim().is_empty() && !text.contains('⟨'),
                "{key}: {text}"
            );
            assert!(!text.to_lowercase().contains("safe"), "{key}: {text}");
        }
    }
}

#[test]
fn a_key_that_is_not_there_shows_itself() {
    assert_eq!(
        Words::of(Language::French).say("no-such-key"),
        "⟨no-such-key⟩"
    );
}

#[test]
fn a_thing_that_was_not_put_in_shows_itself() {
    let text = Words::of(Language::English).say("load-n");
    assert!(text.contains("⟨load-n⟩"), "{text}");
}

/// French takes the singular for nothing and for one, English for one only (Unicode CLDR plural rules; second-hand).
#[test]
fn plurals_follow_the_language() {
    let say = |language, n: u32| Words::of(language).say_with("count-cover", &[("n", n.into())]);
    assert_eq!(say(Language::English, 0), "0 covers");
    assert_eq!(say(Language::English, 1), "1 cover");
    assert_eq!(say(Language::French, 0), "0 couvert");
    assert_eq!(say(Language::French, 1), "1 couvert");
    assert_eq!(say(Language::French, 2), "2 couverts");
}
