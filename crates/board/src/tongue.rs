//! The language of who reads: chosen once on a device, read once of every request, asked for where a label is written.
//!
//! The words are those of the room `words`, in its files `board.ftl`. Outside of a request the board speaks English, as
//! do the sentences the plan itself makes: findings, reasons, verdicts.

use std::cell::OnceCell;

use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::ZonedDateTime;
use jiff::civil::Date;
use kitchen::event::Event;
use maud::{Markup, html};
use plan::Plan;
use words::{Language, Value, Words};

use crate::address::Query;
use crate::trouble::Trouble;

/// The cookie's name.
const COOKIE: &str = "language";
/// How long a choice is remembered, seconds: a term, as a name is.
const TERM_S: u32 = 120 * 24 * 3600;

/// What is known of who asks: their language, and the page they look at.
#[derive(Debug, Clone)]
struct Asked {
    language: Language,
    /// Path and query of a page that is opened; the first page where something was sent.
    page: String,
}

tokio::task_local! {
    static ASKED: Asked;
}

thread_local! {
    static ENGLISH: OnceCell<Words> = const { OnceCell::new() };
    static FRENCH: OnceCell<Words> = const { OnceCell::new() };
}

/// Reads the language a request asks for; every page inside speaks it.
pub(crate) async fn heard(request: Request, next: Next) -> Response {
    let opens = matches!(*request.method(), Method::GET | Method::HEAD);
    let page = request
        .uri()
        .path_and_query()
        .filter(|_| opens)
        .map_or("/", |p| p.as_str());
    let asked = Asked {
        language: remembered(request.headers()),
        page: page.to_owned(),
    };
    ASKED.scope(asked, next.run(request)).await
}

/// The language this device chose; English where it chose none, or one there is not.
fn remembered(headers: &HeaderMap) -> Language {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|h| h.to_str().ok())
        .flat_map(|h| h.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(name, _)| *name == COOKIE)
        .and_then(|(_, word)| Language::find(word))
        .unwrap_or(Language::English)
}

/// The language of the request this code answers; outside of one, English.
pub(crate) fn language() -> Language {
    ASKED.try_with(|a| a.language).unwrap_or(Language::English)
}

/// A label in the language of who reads.
pub(crate) fn say(key: &str) -> String {
    say_with(key, &[])
}

/// A label with what goes into it.
pub(crate) fn say_with(key: &str, with: &[(&str, Value<'_>)]) -> String {
    let language = language();
    let words = match language {
        Language::English => &ENGLISH,
        Language::French => &FRENCH,
    };
    words.with(|w| w.get_or_init(|| Words::of(language)).say_with(key, with))
}

/// A word the plan has in English: by its own message where the language has one, else as the plan has it.
pub(crate) fn translated(key: &str, own: &str, with: &[(&str, Value<'_>)]) -> String {
    if language() == Language::English {
        return own.to_owned();
    }
    FRENCH.with(|w| {
        let words = w.get_or_init(|| Words::of(Language::French));
        if words.has(key) {
            words.say_with(key, with)
        } else {
            own.to_owned()
        }
    })
}

/// How many an event is for, by the word it has for them: "48 covers".
pub(crate) fn covers(event: &Event) -> String {
    translated(
        &format!("count-{}", event.cover_word),
        &format!("{} {}s", event.covers, event.cover_word),
        &[("n", event.covers.into())],
    )
}

/// One of those an event is for: "cover".
pub(crate) fn cover_word(plan: &Plan) -> String {
    let own = &plan.scene.event.cover_word;
    translated(&format!("board-one-{own}"), own, &[])
}

/// People in few words, known roles by language: "learner 1–4, technician".
pub(crate) fn people(names: &[String]) -> String {
    let role = |id: &str| translated(&format!("role-{id}"), id, &[]);
    let names: Vec<String> = names
        .iter()
        .map(|name| match name.rsplit_once(' ') {
            Some((group, n)) if n.parse::<u32>().is_ok() => format!("{} {n}", role(group)),
            _ => role(name),
        })
        .collect();
    plan::wording::people(&names)
}

/// A moment in a form of `strftime`, the day of the week by language. The other figures stand as they are.
pub(crate) fn moment(at: &ZonedDateTime, form: &str) -> String {
    at.strftime(&with_weekday(form, at.date())).to_string()
}

/// A form of `strftime` with the day of the week put in by language.
pub(crate) fn with_weekday(form: &str, date: Date) -> String {
    if language() == Language::English {
        return form.to_owned();
    }
    let day = date.strftime("%A").to_string().to_lowercase();
    form.replace("%A", &say(&day))
        .replace("%a", &say(&format!("{day}-short")))
}

/// Where a page is chosen in the other language.
pub(crate) fn choice() -> Markup {
    let now = language();
    let page = ASKED
        .try_with(|a| a.page.clone())
        .unwrap_or_else(|_| "/".to_owned());
    html! {
        form class="acts no-print" method="post" action="/language" aria-label=(say("board-language")) {
            input type="hidden" name="back" value=(page);
            @for (word, language) in Language::ALL {
                @if *language != now {
                    button class="quiet" type="submit" name="to" value=(word) lang=(word) { (own_name(*language)) }
                }
            }
        }
    }
}

/// A language by the name its readers have for it, the same in every language.
const fn own_name(language: Language) -> &'static str {
    match language {
        Language::English => "English",
        Language::French => "Français",
    }
}

/// Has this device remember a language, and goes back to the page it was chosen on.
pub(crate) async fn choose(body: String) -> Result<Response, Trouble> {
    let form = Query::read(Some(&body));
    let to = form.first("to").unwrap_or("");
    let language = Language::find(to).ok_or_else(|| {
        Trouble::entry(
            format!("to: found \"{}\"", to.chars().take(40).collect::<String>()),
            "en or fr",
            "choose a language at the foot of any page",
        )
    })?;
    let back = form.first("back").unwrap_or("/");
    if !is_own(back) {
        return Err(Trouble::entry(
            format!(
                "back: found \"{}\"",
                back.chars().take(80).collect::<String>()
            ),
            "an address of this board, from its first slash on",
            "open the page on this board and choose the language there",
        ));
    }
    let mut response = Redirect::to(back).into_response();
    let cookie = format!(
        "{COOKIE}={}; Path=/; Max-Age={TERM_S}; SameSite=Strict; HttpOnly",
        language.word()
    );
    if let Ok(cookie) = HeaderValue::from_str(&cookie) {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    Ok(response)
}

/// Whether an address is a path of this board: browsers read `//name` and `/\name` as another machine.
fn is_own(address: &str) -> bool {
    address.starts_with('/')
        && !address.starts_with("//")
        && address.bytes().all(|b| b.is_ascii_graphic() && b != b'\\')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_path_of_the_board_is_gone_back_to() {
        for own in ["/", "/event/x/today?set=covers%3D72&at=2027-10-06T12:00"] {
            assert!(is_own(own), "{own}");
        }
        for other in [
            "",
            "event",
            "//evil.example",
            "/\\evil.example",
            "https://evil.example/",
            "/a\r\nSet-Cookie: x=y",
            "/\t/evil.example",
            "javascript:alert(1)",
        ] {
            assert!(!is_own(other), "{other}");
        }
    }

    #[test]
    fn a_language_there_is_not_is_english() {
        for (cookie, is) in [
            ("language=fr", Language::French),
            ("who=Maren; language=fr", Language::French),
            ("language=en", Language::English),
            ("language=tlh", Language::English),
            ("xlanguage=fr", Language::English),
            ("", Language::English),
        ] {
            let mut headers = HeaderMap::new();
            headers.insert(header::COOKIE, cookie.parse().unwrap());
            assert_eq!(remembered(&headers), is, "{cookie}");
        }
    }

    #[test]
    fn outside_of_a_request_labels_are_english() {
        assert_eq!(say("board-today"), "Today");
        assert_eq!(language(), Language::English);
    }

    #[test]
    fn the_day_of_the_week_is_of_the_language() {
        let at: jiff::ZonedDateTime = "2027-10-06T12:10:00[America/Toronto]".parse().unwrap();
        assert_eq!(moment(&at, "%a %m-%d %H:%M"), "Wed 10-06 12:10");
        let french = Asked {
            language: Language::French,
            page: "/".to_owned(),
        };
        ASKED.sync_scope(french, || {
            assert_eq!(moment(&at, "%a %m-%d %H:%M"), "mer. 10-06 12:10");
            assert_eq!(moment(&at, "%A %F"), "mercredi 2027-10-06");
        });
    }
}
