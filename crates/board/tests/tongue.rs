//! The board in the language of who reads: chosen once, kept by the device, and every label of a page in it.

#![allow(clippy::unwrap_used, clippy::panic, clippy::disallowed_methods)] // a test of the sources reads the sources

mod asked;
mod signed;

use std::collections::BTreeSet;
use std::path::Path;

use asked::{app_at, app_with_pages, get, get_with, post_whole};
use axum::http::StatusCode;
use words::{FILES, Language, Words};

const NOON: &str = "2027-10-06T16:10:00Z";
const EVENT: &str = "/event/harvest-supper";
const FRENCH: &[(&str, &str)] = &[("cookie", "who=Maren; language=fr")];

/// Keys of the board's message file.
fn keys() -> BTreeSet<String> {
    FILES
        .iter()
        .filter(|f| f.language == Language::English && f.name == "board")
        .flat_map(|f| f.text.lines())
        .filter_map(|l| l.split_once(" =").map(|(k, _)| k.to_owned()))
        .filter(|k| k.starts_with("board-"))
        .collect()
}

fn sources(dir: &Path, into: &mut String) {
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push_str(&std::fs::read_to_string(&path).unwrap());
        }
    }
}

/// What the sources name: `"board-…"`, and the beginnings of keys put together at run time, which end in a hyphen.
fn named() -> (BTreeSet<String>, BTreeSet<String>) {
    let mut source = String::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut source,
    );
    source
        .split("\"board-")
        .skip(1)
        .map(|rest| {
            let key: String = rest
                .chars()
                .take_while(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || *c == '-')
                .collect();
            format!("board-{key}")
        })
        .partition(|key| !key.ends_with('-'))
}

#[test]
fn every_key_used_is_there_and_no_message_is_there_for_nobody() {
    let (keys, (used, families)) = (keys(), named());
    assert!(keys.len() > 150, "the scan found {} keys only", keys.len());
    let missing: Vec<&String> = used.iter().filter(|k| !keys.contains(*k)).collect();
    assert!(missing.is_empty(), "in the code only: {missing:?}");
    assert_eq!(families.len(), 2, "{families:?}");
    let idle: Vec<&String> = keys
        .iter()
        .filter(|k| !used.contains(*k) && !families.iter().any(|f| k.starts_with(f)))
        .collect();
    assert!(idle.is_empty(), "in the file only: {idle:?}");
}

/// What stands between the tags of a page, one piece of text a line.
fn texts(page: &str) -> BTreeSet<String> {
    page.split('<')
        .filter_map(|part| part.split_once('>'))
        .map(|(_, text)| {
            text.replace("&amp;", "&")
                .replace("&quot;", "\"")
                .trim_matches(|c: char| c.is_whitespace() || c == '·')
                .to_owned()
        })
        .filter(|t| !t.is_empty())
        .collect()
}

/// The pages that have both languages, each with its heading in French.
const PAGES: &[(&str, &str)] = &[
    ("/today", "Aujourd’hui"),
    ("/record", "Registre"),
    (
        "/record?quick=1&kind=weighed&about=hot-smoked-char.smoke&unit=g",
        "Registre",
    ),
    ("/weigh", "Peser"),
    ("/cold", "Chambre froide et appareils"),
    ("/guests", "Convives"),
    ("/lot/hot-smoked-char", ""),
    ("", "Plan"),
    ("/order", "Commande"),
    ("/cost", "Coût"),
    ("/verdicts", "Verdicts"),
    ("/compare?set=covers%3D72", "Ce qui change"),
    ("/sheets", "Papiers"),
];

/// Labels that stand where the book or the plan has the very same word.
const WORDS_OF_THE_BOOK: &[&str] = &["board-lot-salt", "board-lot-water", "board-lot-sugar"];

/// The pages of the book, each with its heading in French.
const BOOK_PAGES: &[(&str, &str)] = &[
    ("/recipe", "Recettes"),
    ("/recipe/hot-smoked-char", ""),
    ("/recipe/hot-smoked-char/revisions", "Révisions de "),
    ("/recipe/hot-smoked-char/compare", ""),
    ("/recipe/hot-smoked-char/edit", "Modifier "),
    ("/recipe/paste", "Coller une recette"),
    (
        "/recipe/made_from?event=harvest-supper",
        "D’après quoi ce plan est fait",
    ),
];

/// Keys of a page of the book that have a label's very word: the editor names its fields by them.
const KEYS_OF_THE_BOOK: &[&str] = &["board-fact-thickness", "board-fact-wait"];

/// Every label that differs by language, English, French and key, and all labels of each.
struct Labels {
    plain: Vec<(String, String, String)>,
    english: BTreeSet<String>,
    french: BTreeSet<String>,
}

impl Labels {
    fn of() -> Self {
        let (en, fr) = (Words::of(Language::English), Words::of(Language::French));
        let plain: Vec<(String, String, String)> = keys()
            .into_iter()
            .filter(|k| !WORDS_OF_THE_BOOK.contains(&k.as_str()))
            .map(|k| (en.say(&k), fr.say(&k), k))
            // What takes something in shows itself in angle brackets here; its text is not looked for.
            .filter(|(en, fr, _)| en != fr && !en.contains('⟨'))
            .collect();
        assert!(plain.len() > 200, "{}", plain.len());
        Self {
            plain,
            english: keys().iter().map(|k| en.say(k)).collect(),
            // "Place" is a seat in French: a French label is no English one left.
            french: keys().iter().map(|k| fr.say(k)).collect(),
        }
    }

    /// Holds that no English label is left on a French page.
    fn none_left(&self, address: &str, french: &str) {
        let shown = texts(french);
        let left: Vec<&String> = self
            .plain
            .iter()
            .filter(|(en, _, _)| shown.contains(en) && !self.french.contains(en))
            .map(|(_, _, key)| key)
            .filter(|key| !(address.ends_with("/edit") && KEYS_OF_THE_BOOK.contains(&key.as_str())))
            .collect();
        assert!(left.is_empty(), "{address}: English left: {left:?}");
    }

    /// Looks at a page in both languages; answers the French one.
    async fn look(&self, app: &axum::Router, address: &str, heading: &str) -> String {
        let (status, french) = get_with(app, address, FRENCH).await;
        assert_eq!(status, StatusCode::OK, "{address}");
        assert!(french.contains("<html lang=\"fr\">"), "{address}");
        assert!(
            french.contains(&format!("<h1>{heading}")),
            "{address}: no {heading}"
        );
        assert!(!french.contains('⟨'), "{address}: a key is missing");
        self.none_left(address, &french);
        let (_, english, _) = get(app, address).await;
        assert!(english.contains("<html lang=\"en\">"), "{address}");
        assert!(!english.contains('⟨'), "{address}");
        let shown = texts(&english);
        let left: Vec<&String> = self
            .plain
            .iter()
            .filter(|(_, fr, _)| shown.contains(fr) && !self.english.contains(fr))
            .map(|(_, _, key)| key)
            .collect();
        assert!(
            left.is_empty(),
            "{address}: French without asking: {left:?}"
        );
        french
    }
}

#[tokio::test]
async fn with_the_cookie_no_english_label_is_left_on_a_page() {
    let app = app_at(NOON);
    let labels = Labels::of();
    let sentences = Words::of(Language::French).say("board-plan-sentences");
    for (page, heading) in PAGES {
        let address = format!("{EVENT}{page}");
        let french = labels.look(&app, &address, heading).await;
        assert_eq!(
            french.matches(&sentences).count(),
            1,
            "{address}: says once what is still English"
        );
    }
}

#[tokio::test]
async fn with_the_cookie_no_english_label_is_left_on_a_page_of_the_book() {
    let app = app_with_pages(NOON);
    let labels = Labels::of();
    for (address, heading) in BOOK_PAGES {
        labels.look(&app, address, heading).await;
    }
}

#[tokio::test]
async fn people_and_devices_are_in_french_for_who_asks() {
    let kitchen = signed::Kitchen::open();
    let _ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let mut maren = kitchen.instructor().await;
    let english = maren.get("/people").await.page;
    assert!(english.contains(">learner<") && english.contains("Signed in now"));
    maren.cookie = maren.cookie.map(|c| format!("{c}; language=fr"));
    let french = maren.get("/people").await;
    assert_eq!(french.status, StatusCode::OK);
    assert!(french.page.contains("<h1>Personnes et appareils"));
    assert!(french.page.contains(">élève<") && french.page.contains(">instructeur<"));
    Labels::of().none_left("/people", &french.page);
    // The word of the form stays what the board reads, whatever its label says.
    assert!(french.page.contains("value=\"learner\""));
    let given = [
        ("name", "Tove"),
        ("station", "table froide"),
        ("role", "viewer"),
    ];
    let given = maren.form("/people", "/people", &given).await;
    assert_eq!(given.status, StatusCode::OK, "{}", given.page);
    assert!(given.page.contains("connexion en code carré"));
    Labels::of().none_left("/people, given", &given.page);
}

/// The name of a verdict, of a reading out of its limit and of a caution are in the language too.
#[tokio::test]
async fn what_must_not_be_missed_is_in_french() {
    let app = app_at(NOON);
    let fr = Words::of(Language::French);
    let (_, weigh) = get_with(&app, &format!("{EVENT}/weigh"), FRENCH).await;
    let (_, english, _) = get(&app, &format!("{EVENT}/weigh")).await;
    let cautions: Vec<String> = safety::cautions::ALL
        .iter()
        .filter(|c| english.contains(c.words))
        .map(|c| fr.say(&format!("caution-{}", c.id)))
        .collect();
    assert!(cautions.len() > 2, "{cautions:?}");
    for caution in &cautions {
        assert!(weigh.contains(caution), "{caution}");
    }
    let (_, lot) = get_with(&app, &format!("{EVENT}/lot/hot-smoked-char"), FRENCH).await;
    assert!(lot.contains("DÉMONTRÉ"), "{lot}");
    assert!(!lot.contains(">NOT SHOWN<") && !lot.contains(">SHOWN<"));
    let (status, not_here) = get_with(&app, "/nowhere", FRENCH).await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert!(not_here.contains("<h1>Pas ici") && not_here.contains("à faire maintenant"));
}

#[tokio::test]
async fn a_language_is_chosen_on_any_page_and_the_page_comes_back() {
    let app = app_at(NOON);
    let address = format!("{EVENT}/weigh?set=covers%3D72");
    let (_, page, _) = get(&app, &address).await;
    assert!(page.contains("action=\"/language\"") && page.contains(">Français<"));
    assert!(page.contains(&format!("name=\"back\" value=\"{address}\"")));
    let form = [("to", "fr"), ("back", address.as_str())];
    let (status, _, headers) = post_whole(&app, "/language", &form, &[]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert_eq!(headers["location"], address.as_str());
    let cookie = headers["set-cookie"].to_str().unwrap();
    assert!(cookie.starts_with("language=fr; Path=/"), "{cookie}");
    assert!(cookie.contains("SameSite=Strict") && cookie.contains("HttpOnly"));
    let own = cookie.split(';').next().unwrap();
    let (_, page) = get_with(&app, &address, &[("cookie", own)]).await;
    assert!(page.contains("<h1>Peser") && page.contains(">English<"));
    // The change of a what-if is still there.
    assert!(page.contains("covers=72") && page.contains("Et si"));
}

#[tokio::test]
async fn nobody_is_sent_away_from_the_board() {
    let app = app_at(NOON);
    for back in [
        "https://evil.example/",
        "//evil.example",
        "/\\evil.example",
        "/a\r\nx: y",
        "evil",
    ] {
        let form = [("to", "fr"), ("back", back)];
        let (status, page, headers) = post_whole(&app, "/language", &form, &[]).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{back}: {page}");
        assert!(!headers.contains_key("location") && !headers.contains_key("set-cookie"));
    }
    let (status, page, headers) =
        post_whole(&app, "/language", &[("to", "tlh"), ("back", "/")], &[]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("en or fr") && !headers.contains_key("set-cookie"));
    // Another site cannot choose for this device.
    let elsewhere = [("sec-fetch-site", "cross-site")];
    let form = [("to", "fr"), ("back", "/")];
    let (status, _, headers) = post_whole(&app, "/language", &form, &elsewhere).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
    assert!(!headers.contains_key("set-cookie"));
}
