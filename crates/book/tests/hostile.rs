//! Files nobody meant: whatever bytes a book is, reading it ends, in a book or in complaints that
//! point into the text.

use std::time::{Duration, Instant};

use book::{Code, Diagnostic, Limits, SourceFile, demo, read};
use proptest::prelude::*;

/// Longest any reading here may take, in the slow build of the tests on a busy machine. What it is
/// to catch takes minutes or does not end.
const LONGEST: Duration = Duration::from_secs(20);

// The clock is what these tests are about.
#[allow(clippy::disallowed_methods)]
/// Reads, and holds every complaint to its text.
fn told(files: &[SourceFile]) -> Result<kitchen::Book, Vec<Diagnostic>> {
    let start = Instant::now();
    let answer = read(files, Limits::default());
    assert!(start.elapsed() < LONGEST, "took {:?}", start.elapsed());
    let Err(wrong) = &answer else { return answer };
    assert!(!wrong.is_empty(), "refused without a reason");
    for d in wrong {
        assert!(
            d.text.get(d.span.clone()).is_some(),
            "{d}: {:?} is no part of a text of {} bytes",
            d.span,
            d.text.len()
        );
        assert!(d.line >= 1 && d.column >= 1, "{d}");
        for part in [&d.found, &d.expected, &d.do_now, &d.mark] {
            assert!(!part.trim().is_empty(), "{d:?}");
            assert!(part.len() < 2_000, "a message of {} bytes", part.len());
            assert!(!part.contains('\u{1b}'), "{d:?}");
        }
        if !d.text.is_empty() {
            let before = d.text.get(..d.span.start).unwrap_or("");
            assert_eq!(d.line, before.matches('\n').count() + 1, "{d}");
        }
    }
    answer
}

/// The demo book with one file of it changed.
fn demo_with(which: usize, change: impl FnOnce(&mut Vec<u8>)) -> Vec<SourceFile> {
    let mut files = demo::files();
    let at = which % files.len();
    change(&mut files[at].bytes);
    files
}

/// Values of every kind, and texts that are nearly right.
fn value() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<i64>().prop_map(|n| n.to_string()),
        any::<f64>().prop_map(|n| if n.is_finite() {
            format!("{n:e}")
        } else {
            "nan".to_owned()
        }),
        Just("inf".to_owned()),
        Just("99999999999999999999999".to_owned()),
        Just("true".to_owned()),
        Just("2027-10-07T18:30:00".to_owned()),
        Just("[]".to_owned()),
        Just("[1, \"a\", {}, []]".to_owned()),
        Just("{}".to_owned()),
        Just("[{}, {}]".to_owned()),
        Just("{ id = \"a\", item = \"salt\", min = \"1 h\", max = 3 }".to_owned()),
        "[0-9]{1,4}[.,/]?[0-9]{0,3} ?(g|kg|h|min|d|%|°C|mm|cups|slots|bunch|é)?"
            .prop_map(|s| format!("'{s}'")),
        "\\PC{0,40}".prop_map(|s| format!("{s:?}")
            .replace("\\'", "'")
            .replace("\\u{", "\\\\u{")),
        "(serve )?[+-]?[0-9]{0,3} ?(min|h)?".prop_map(|s| format!("'{s}'")),
        "20[0-9]{2}-[0-9]{2}-[0-9]{2}(T[0-9]{2}:[0-9]{2})?".prop_map(|s| format!("'{s}'")),
    ]
}

/// Where each `key = value` of a text has its value, by the shape of the demo book: up to the next
/// comma, brace or line end outside quotes.
fn values_in(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut places = Vec::new();
    for (at, _) in text.match_indices("= ") {
        let start = at + 2;
        let (mut quoted, mut depth) = (false, 0_i32);
        let end = text[start..]
            .char_indices()
            .find(|(_, c)| {
                match c {
                    '"' => quoted = !quoted,
                    '[' | '{' if !quoted => depth += 1,
                    ']' | '}' if !quoted => depth -= 1,
                    _ => {}
                }
                !quoted && (depth < 0 || (depth == 0 && matches!(c, ',' | '\n')))
            })
            .map_or(text.len(), |(i, _)| start + i);
        places.push(start..end);
    }
    places
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn any_bytes_end_in_a_book_or_in_complaints(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = told(&[SourceFile { name: "a.toml".to_owned(), bytes }]);
    }

    #[test]
    fn any_text_of_the_signs_of_a_book_ends(
        text in "(\\[\\[?(step|offer|machine)\\]\\]?\n|(recipe|id|mix|wait|after) ?= ?|[\"'{}\\[\\],\n é°%\\\\]|[a-z0-9]){0,120}"
    ) {
        let _ = told(&[SourceFile::text("a.toml", &text)]);
    }

    #[test]
    fn a_span_taken_out_put_in_or_doubled_ends(
        which in any::<usize>(),
        from in any::<proptest::sample::Index>(),
        length in 0_usize..300,
        to in any::<proptest::sample::Index>(),
        how in 0..3,
        other in proptest::collection::vec(any::<u8>(), 0..20),
    ) {
        let files = demo_with(which, |bytes| {
            let start = from.index(bytes.len());
            let end = (start + length).min(bytes.len());
            let cut: Vec<u8> = bytes[start..end].to_vec();
            match how {
                0 => { bytes.drain(start..end); }
                1 => { let at = to.index(bytes.len()); bytes.splice(at..at, cut); }
                _ => { bytes.splice(start..start, other); }
            }
        });
        let _ = told(&files);
    }

    #[test]
    fn any_value_under_any_key_ends(
        which in any::<usize>(),
        place in any::<proptest::sample::Index>(),
        value in value(),
    ) {
        let files = demo_with(which, |bytes| {
            let text = String::from_utf8(bytes.clone()).unwrap();
            let places = values_in(&text);
            if places.is_empty() { return; }
            let mut text = text;
            text.replace_range(places[place.index(places.len())].clone(), &value);
            *bytes = text.into_bytes();
        });
        let _ = told(&files);
    }

    /// The law behind "nothing is half-loaded": a list of a book that reads is as long as its file says.
    #[test]
    fn a_value_of_the_wrong_kind_is_never_passed_over(
        which in any::<usize>(),
        place in any::<proptest::sample::Index>(),
    ) {
        let mut kept = String::new();
        let files = demo_with(which, |bytes| {
            let mut text = String::from_utf8(bytes.clone()).unwrap();
            let places = values_in(&text);
            if places.is_empty() { return; }
            let at = places[place.index(places.len())].clone();
            // No key of a book takes a date without quotes.
            text.replace_range(at.clone(), "2027-10-07");
            kept = text[..at.start].lines().last().unwrap_or("").to_owned();
            *bytes = text.into_bytes();
        });
        prop_assert!(kept.is_empty() || told(&files).is_err(), "taken: {kept}");
    }

    #[test]
    fn an_unknown_key_anywhere_is_told(which in any::<usize>(), place in any::<proptest::sample::Index>()) {
        let mut changed = false;
        let files = demo_with(which, |bytes| {
            let mut text = String::from_utf8(bytes.clone()).unwrap();
            let opens: Vec<usize> = text.match_indices("{ ").map(|(i, _)| i + 2).collect();
            if opens.is_empty() { return; }
            text.insert_str(opens[place.index(opens.len())], "moon = 1, ");
            changed = true;
            *bytes = text.into_bytes();
        });
        match told(&files) {
            Ok(_) => prop_assert!(!changed),
            Err(wrong) => prop_assert!(
                wrong.iter().any(|d| d.code == Code::UnknownKey && d.found.contains("moon")),
                "{wrong:?}"
            ),
        }
    }
}

/// How many tables of each list are written in the files, and how many a book holds of it.
fn written_and_read(
    files: &[SourceFile],
    book: &kitchen::Book,
) -> Vec<(&'static str, usize, usize)> {
    let text: String = files
        .iter()
        .map(|f| String::from_utf8_lossy(&f.bytes).into_owned() + "\n")
        .collect();
    let sites = || book.sites.values();
    let events = || book.events.values();
    [
        ("step", book.recipes.values().map(|r| r.steps.len()).sum()),
        ("dish", book.dishes.len()),
        ("role", sites().map(|s| s.roles.len()).sum()),
        ("machine", sites().map(|s| s.machines.len()).sum()),
        ("scale", sites().map(|s| s.scales.len()).sum()),
        ("supplier", sites().map(|s| s.suppliers.len()).sum()),
        ("offer", sites().map(|s| s.offers.len()).sum()),
        ("crew", events().map(|e| e.crew.len()).sum()),
        ("delivery", events().map(|e| e.deliveries.len()).sum()),
        ("prefer", events().map(|e| e.prefers.len()).sum()),
        ("within", events().map(|e| e.within.len()).sum()),
        ("task", events().map(|e| e.tasks.len()).sum()),
        ("presence", events().map(|e| e.presence.len()).sum()),
    ]
    .into_iter()
    .map(|(list, read): (&str, usize)| (list, text.matches(&format!("[[{list}]]")).count(), read))
    .collect()
}

#[test]
fn a_line_taken_out_is_told_or_leaves_every_table_in_the_book() {
    // Every third line of the demo in turn, to keep the test short; never a table dropped in silence.
    for (at, file) in demo::files().iter().enumerate() {
        let text = String::from_utf8(file.bytes.clone()).unwrap();
        for (n, line) in text.lines().enumerate().skip(at % 3).step_by(3) {
            let left: Vec<&str> = text
                .lines()
                .enumerate()
                .filter(|(i, _)| *i != n)
                .map(|(_, l)| l)
                .collect();
            let files = demo_with(at, |bytes| *bytes = left.join("\n").into_bytes());
            if let Ok(book) = told(&files) {
                for (list, written, read) in written_and_read(&files, &book) {
                    assert_eq!(read, written, "[[{list}]] of {} without {line}", file.name);
                }
            }
        }
    }
}

fn recipe(id: &str, inner: &str) -> SourceFile {
    SourceFile::text(
        &format!("{id}.toml"),
        &format!("recipe = \"{id}\"\nname = \"{id}\"\n{inner}"),
    )
}

#[test]
fn a_chain_of_two_thousand_steps_is_refused_by_its_number() {
    let mut steps = String::new();
    for i in 0..2_000 {
        let from = if i == 0 {
            "takes = { item = \"cucumber\" }".to_owned()
        } else {
            format!("after = \"s{}\"", i - 1)
        };
        steps.push_str(&format!(
            "[[step]]\nid = \"s{i}\"\ndo = \"keep\"\n{from}\nwait = \"at once\"\n"
        ));
    }
    let wrong = told(&[recipe("long", &steps)]).unwrap_err();
    assert_eq!(wrong.len(), 1);
    assert!(wrong[0].found.contains("2000 steps"), "{}", wrong[0]);
}

#[test]
fn two_hundred_steps_are_read_in_order() {
    let mut steps = String::new();
    for i in (0..200).rev() {
        let from = if i == 0 {
            "takes = { item = \"cucumber\" }".to_owned()
        } else {
            format!("after = \"s{}\"", i - 1)
        };
        steps.push_str(&format!(
            "[[step]]\nid = \"s{i}\"\ndo = \"keep\"\n{from}\nwait = \"at once\"\n"
        ));
    }
    let book = told(&[recipe("long", &steps)]).unwrap();
    let ids: Vec<String> = book.recipes["long"]
        .steps
        .iter()
        .map(|s| s.id.to_string())
        .collect();
    let wanted: Vec<String> = (0..200).map(|i| format!("s{i}")).collect();
    assert_eq!(ids, wanted);
}

/// Recipes `r0` to `r(n-1)`, each using all of `next(i)`.
fn recipes(n: usize, next: impl Fn(usize) -> Vec<usize>) -> Vec<SourceFile> {
    (0..n)
        .map(|i| {
            let lines: Vec<String> = next(i)
                .into_iter()
                .filter(|j| *j < n)
                .map(|j| format!("{{ recipe = \"r{j}\", of-base = \"10 %\" }}"))
                .collect();
            recipe(
                &format!("r{i}"),
                &format!(
                    "[[step]]\nid = \"mix\"\ndo = \"mix\"\nbase = \"lot\"\nwait = \"at once\"\n\
                     takes = {{ item = \"cucumber\" }}\nmix = [ {} ]\n",
                    lines.join(", ")
                ),
            )
        })
        .collect()
}

#[test]
fn two_hundred_recipes_that_use_each_other_in_a_chain_read() {
    assert_eq!(
        told(&recipes(200, |i| vec![i + 1])).unwrap().recipes.len(),
        200
    );
}

#[test]
fn recipes_that_share_their_parts_in_layers_read_without_trying_every_way() {
    // Two to the hundredth ways from the first to the last.
    let files = recipes(200, |i| {
        let layer = i / 2 + 1;
        vec![2 * layer, 2 * layer + 1]
    });
    assert_eq!(told(&files).unwrap().recipes.len(), 200);
}

#[test]
fn a_circle_of_two_hundred_recipes_is_told_once() {
    let wrong = told(&recipes(200, |i| vec![(i + 1) % 200])).unwrap_err();
    assert_eq!(wrong.len(), 1);
    assert_eq!(wrong[0].code, Code::Cycle);
}

#[test]
fn half_a_megabyte_in_one_value_is_refused_by_its_length() {
    for key in ["name", "note"] {
        let text = format!("recipe = \"r\"\n{key} = \"{}\"\n", "ä".repeat(250_000));
        let wrong = told(&[SourceFile::text("r.toml", &text)]).unwrap_err();
        assert!(wrong.iter().any(|d| d.code == Code::OutOfRange), "{key}");
    }
    let text = format!("book = \"b\"\nnote = \"\"\"{}\"\"\"", "a\n".repeat(250_000));
    assert!(told(&[SourceFile::text("b.toml", &text)]).is_err());
}

#[test]
fn an_amount_of_half_a_megabyte_is_refused_by_its_length() {
    let line = format!(
        "[[step]]\nid = \"a\"\ndo = \"mix\"\nwait = {{ min = \"{}\", max = \"1 h\" }}\n",
        "1".repeat(500_000)
    );
    assert!(told(&[recipe("r", &line)]).is_err());
}

#[test]
fn a_file_of_nothing_but_mistakes_is_told_up_to_a_number() {
    // About a megabyte of keys nobody reads.
    let mut text = "recipe = \"r\"\nname = \"r\"\n".to_owned();
    for i in 0..60_000 {
        text.push_str(&format!("k{i:05} = 1\n"));
    }
    let wrong = told(&[SourceFile::text("r.toml", &text)]).unwrap_err();
    assert!((100..500).contains(&wrong.len()), "{}", wrong.len());
    assert!(wrong.last().unwrap().found.contains("more than"));
}

#[test]
fn brackets_without_end_are_refused_unparsed() {
    for text in [
        "x = ".to_owned() + &"[".repeat(400_000),
        "x = ".to_owned() + &"{a=".repeat(300_000),
        "a.".repeat(400_000) + "a = 1",
        format!("[{}a]\n", "a.".repeat(400_000)),
    ] {
        let _ = told(&[SourceFile::text("a.toml", &text)]);
    }
}

#[test]
fn a_file_too_many_and_a_byte_too_many_are_refused() {
    let limits = Limits {
        file_bytes: 10,
        files: 1,
    };
    let small = SourceFile::text("a.toml", "book = 'a'");
    assert!(read(std::slice::from_ref(&small), limits).is_ok());
    assert!(read(&[small.clone(), small], limits).is_err());
    assert!(read(&[SourceFile::text("a.toml", "book = 'ab'")], limits).is_err());
    assert!(read(&[], limits).is_err());
}
