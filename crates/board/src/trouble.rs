//! The one place where what went wrong becomes a page: what was found, what was expected, what to do now.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use plan::{PlanError, SceneError, SettingError};

use crate::access::pace::TooOften;
use crate::page::{Frame, frame};
use crate::tongue::say;

/// Why there is no page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Trouble {
    status: StatusCode,
    found: String,
    expected: String,
    do_now: String,
    /// Seconds until it may be tried again.
    wait_s: Option<i64>,
    /// The field of a form it stands in.
    at: Option<&'static str>,
}

impl Trouble {
    /// There is nothing of this name.
    pub(crate) fn missing(
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            status: StatusCode::NOT_FOUND,
            found: found.into(),
            expected: expected.into(),
            do_now: do_now.into(),
            wait_s: None,
            at: None,
        }
    }

    /// The same, of a field of a form.
    pub(crate) fn at(self, field: &'static str) -> Self {
        Self {
            at: Some(field),
            ..self
        }
    }

    /// What was filled in is at fault, so the form can be shown again.
    pub(crate) fn is_entry(&self) -> bool {
        self.status == StatusCode::UNPROCESSABLE_ENTITY
    }

    /// The field it stands in.
    pub(crate) fn field(&self) -> Option<&'static str> {
        self.at
    }

    /// What was found.
    pub(crate) fn found(&self) -> &str {
        &self.found
    }

    /// The three parts as a page shows them.
    pub(crate) fn told(&self) -> Markup {
        html! {
            p class="found" { (self.found) }
            p { span class="label" { (say("board-expected")) " " } (self.expected) }
            p { span class="label" { (say("board-do-now")) " " } (self.do_now) }
        }
    }

    /// For a script: a status and one line.
    pub(crate) fn plain(&self) -> Response {
        let line = format!(
            "{}; expected {}; now: {}",
            self.found, self.expected, self.do_now
        );
        (self.status, line).into_response()
    }

    /// What was entered cannot be used.
    pub(crate) fn entry(
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            status: StatusCode::UNPROCESSABLE_ENTITY,
            ..Self::missing(found, expected, do_now)
        }
    }

    /// It is not for who asks.
    pub(crate) fn refused(
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            status: StatusCode::FORBIDDEN,
            ..Self::missing(found, expected, do_now)
        }
    }

    /// It came too often.
    pub(crate) fn too_often(what: &str, TooOften(wait_s): TooOften) -> Self {
        Self {
            status: StatusCode::TOO_MANY_REQUESTS,
            wait_s: Some(wait_s),
            ..Self::missing(
                format!("too many {what} within a minute"),
                "a person's pace",
                format!("wait {wait_s} seconds, then send it again; this one was not taken"),
            )
        }
    }

    /// More was sent than a form of the board has.
    pub(crate) fn too_large(most_bytes: usize) -> Self {
        Self {
            status: StatusCode::PAYLOAD_TOO_LARGE,
            ..Self::missing(
                format!("more than {} KiB sent", most_bytes / 1024),
                "a form of the board, which is far shorter",
                "shorten the words and send it again; nothing was stored",
            )
        }
    }

    /// The same, with one thing more to do.
    pub(crate) fn and_now(mut self, more: &str) -> Self {
        self.do_now.push_str(more);
        self
    }

    /// The record cannot take it just now.
    fn not_kept(status: StatusCode, found: &str, expected: &str, do_now: &str) -> Self {
        Self {
            status,
            ..Self::missing(found, expected, do_now)
        }
    }

    /// The same in its frame, to stand inside a page.
    pub(crate) fn framed(&self) -> Markup {
        html! {
            div class="trouble" role="alert" { (self.told()) }
        }
    }

    /// The plan is being made; the page asks again by itself.
    pub(crate) fn waiting() -> Self {
        Self {
            status: StatusCode::ACCEPTED,
            ..Self::missing(
                "the plan is being made anew from what was written down",
                "a clock within a few seconds",
                "wait: this page asks again by itself every two seconds",
            )
        }
    }

    /// Whether it is only that the plan is still being made.
    pub(crate) fn is_waiting(&self) -> bool {
        self.status == StatusCode::ACCEPTED
    }

    /// The program failed at something it should not fail at.
    pub(crate) fn ours(found: impl Into<String>) -> Self {
        Self {
            status: StatusCode::INTERNAL_SERVER_ERROR,
            ..Self::missing(
                found,
                "a page",
                "load it again; if it stays so, note the address and what you did",
            )
        }
    }
}

/// What the store refused, for a page: no path of the machine, no SQL. What is wrong with the file itself the person at
/// the machine reads from `saltern verify`.
impl From<store::Error> for Trouble {
    fn from(e: store::Error) -> Self {
        use store::Error as E;
        let file = StatusCode::SERVICE_UNAVAILABLE;
        match e {
            E::Full { .. } => Self::not_kept(
                StatusCode::INSUFFICIENT_STORAGE,
                "no room left on the disk of the record",
                "room to write it down",
                "free some room on the machine the board runs on, then send it again: this was not stored, what was \
                 stored before is kept, and every page can still be read",
            ),
            E::ReadOnly { .. } => Self::not_kept(
                file,
                "the record's file cannot be written",
                "a file and a folder the program may write",
                "take the write protection off on the machine the board runs on, then send it again: this was not \
                 stored, what was stored before is kept, and every page can still be read",
            ),
            E::Busy { .. } => Self::not_kept(
                file,
                "another program holds the record's file",
                "to be let in within five seconds",
                "close the other program, then send it again; this was not stored",
            ),
            E::Damaged { .. } | E::Shape { .. } | E::Broken(_) => Self::not_kept(
                file,
                "the record's file is damaged",
                "a whole record",
                "stop writing; at the machine the board runs on, ask saltern verify what does not hold",
            ),
            E::Closed
            | E::NoFile { .. }
            | E::Exists { .. }
            | E::NotOurs { .. }
            | E::Newer { .. }
            | E::Disk { .. }
            | E::InMemory
            | E::Engine { .. } => Self::not_kept(
                file,
                "the record's file did not take it",
                "a file that can be read and written",
                "look at the disk of the machine the board runs on, then send it again; this was not stored",
            ),
            other => {
                let told = other.told();
                Self::entry(told.found, told.expected, told.do_now)
            }
        }
    }
}

impl From<SettingError> for Trouble {
    fn from(e: SettingError) -> Self {
        Self::entry(e.found, e.expected, e.do_now)
    }
}

impl From<SceneError> for Trouble {
    fn from(e: SceneError) -> Self {
        match e {
            SceneError::UnknownEvent { found, known } => Self::missing(
                format!("there is no event \"{found}\""),
                format!("one of {}", known.join(", ")),
                "choose an event on the first page",
            ),
            SceneError::Setting(e) => e.into(),
        }
    }
}

impl From<PlanError> for Trouble {
    fn from(e: PlanError) -> Self {
        Self::entry(
            e.to_string(),
            "an event that can be planned",
            "take the last change back, or mend the book",
        )
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let title = say(match self.status {
            StatusCode::NOT_FOUND => "board-not-here",
            StatusCode::UNPROCESSABLE_ENTITY => "board-not-taken",
            StatusCode::FORBIDDEN => "board-not-opened",
            StatusCode::TOO_MANY_REQUESTS => "board-too-often",
            StatusCode::PAYLOAD_TOO_LARGE => "board-too-large",
            StatusCode::INSUFFICIENT_STORAGE | StatusCode::SERVICE_UNAVAILABLE => {
                "board-not-written-down"
            }
            StatusCode::ACCEPTED => "board-being-planned",
            _ => "board-something-failed",
        });
        let entered = self.status == StatusCode::UNPROCESSABLE_ENTITY;
        let page = frame(
            &Frame::plain(&title),
            html! {
                div class="trouble" role="alert" {
                    (self.told())
                }
                @if entered { p { (say("board-nothing-changed")) } }
                p { a href="/" { (say("board-all-events")) } }
            },
        );
        let mut response = (self.status, page).into_response();
        let headers = response.headers_mut();
        if let Some(Ok(wait)) = self.wait_s.map(|w| w.to_string().parse()) {
            headers.insert(header::RETRY_AFTER, wait);
        }
        if self.status == StatusCode::ACCEPTED {
            headers.insert("refresh", axum::http::HeaderValue::from_static("2"));
        }
        response
    }
}

/// Somebody reached the board by a name that is not this machine's.
pub(crate) fn other_host() -> Trouble {
    Trouble {
        status: StatusCode::FORBIDDEN,
        ..Trouble::missing(
            "an address with another machine's name",
            "the address the board was started with",
            "open the address the program printed",
        )
    }
}

/// As many screens listen as may.
pub(crate) fn too_many_screens(most: usize) -> Trouble {
    Trouble {
        status: StatusCode::SERVICE_UNAVAILABLE,
        ..Trouble::missing(
            format!("{most} screens listen already"),
            format!("at most {most}"),
            "close a screen nobody looks at; pages without updates still open, load them again now and then",
        )
    }
}

pub(crate) async fn no_such_page(uri: axum::http::Uri) -> Trouble {
    let shown: String = uri.path().chars().take(80).collect();
    Trouble::missing(
        format!("there is no page at {shown}"),
        "an address of the board",
        "start from the first page",
    )
}

/// The page is there, and is not asked for in this way.
pub(crate) async fn no_such_way() -> Trouble {
    Trouble {
        status: StatusCode::METHOD_NOT_ALLOWED,
        ..Trouble::missing(
            "a page asked for in a way it does not answer",
            "a page that is opened, or a form that is sent from it",
            "start from the first page",
        )
    }
}

#[cfg(test)]
mod tests {
    use axum::body::to_bytes;

    use super::*;

    /// What a page says of a file that does not work tells nothing of where it is.
    #[tokio::test]
    async fn no_page_tells_a_path() {
        use store::Error as E;
        let file = || "/srv/kitchen/record.db".to_owned();
        for (error, status) in [
            (E::Full { file: file() }, 507),
            (E::ReadOnly { file: file() }, 503),
            (E::Busy { file: file() }, 503),
            (
                E::Damaged {
                    file: file(),
                    what: "row 7".to_owned(),
                },
                503,
            ),
            (
                E::Disk {
                    file: file(),
                    said: "os error 5".to_owned(),
                },
                503,
            ),
            (
                E::Engine {
                    said: "SELECT".to_owned(),
                },
                503,
            ),
            (E::NoFile { file: file() }, 503),
            (E::Closed, 503),
        ] {
            let answer = Trouble::from(error.clone()).into_response();
            assert_eq!(answer.status().as_u16(), status, "{error}");
            let page = to_bytes(answer.into_body(), 1 << 20).await.unwrap();
            let page = String::from_utf8(page.to_vec()).unwrap();
            for inside in ["/srv", "record.db", "SELECT", "os error", "row 7"] {
                assert!(!page.contains(inside), "{error}: {page}");
            }
            assert!(page.contains("do now"), "{page}");
        }
    }

    #[test]
    fn a_page_that_waits_for_its_plan_says_so_and_asks_again_by_itself() {
        let response = Trouble::waiting().into_response();
        assert_eq!(response.status(), StatusCode::ACCEPTED);
        assert_eq!(response.headers()["refresh"], "2");
        let other = Trouble::ours("something").into_response();
        assert!(other.headers().get("refresh").is_none());
    }
}
