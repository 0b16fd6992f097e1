//! The one place where what went wrong becomes a page: what was found, what was expected, what to do now.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;
use plan::{PlanError, SceneError, SettingError};

use crate::page::{Frame, frame};

/// Why there is no page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Trouble {
    status: StatusCode,
    found: String,
    expected: String,
    do_now: String,
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
        }
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
        let title = match self.status {
            StatusCode::NOT_FOUND => "Not here",
            StatusCode::UNPROCESSABLE_ENTITY => "Not taken",
            StatusCode::FORBIDDEN => "Not from there",
            StatusCode::ACCEPTED => "Being planned",
            _ => "Something failed",
        };
        let entered = self.status == StatusCode::UNPROCESSABLE_ENTITY;
        let page = frame(
            &Frame::plain(title),
            html! {
                div class="trouble" role="alert" {
                    p class="found" { (self.found) }
                    p { span class="label" { "expected " } (self.expected) }
                    p { span class="label" { "do now " } (self.do_now) }
                }
                @if entered { p { "Nothing was changed. Go back one page: what you filled in is still there." } }
                p { a href="/" { "All events" } }
            },
        );
        let mut response = (self.status, page).into_response();
        if self.status == StatusCode::ACCEPTED {
            let again = axum::http::HeaderValue::from_static("2");
            response.headers_mut().insert("refresh", again);
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
            "127.0.0.1 or localhost",
            "open the address the program printed",
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_that_waits_for_its_plan_says_so_and_asks_again_by_itself() {
        let response = Trouble::waiting().into_response();
        assert_eq!(response.status(), StatusCode::ACCEPTED);
        assert_eq!(response.headers()["refresh"], "2");
        let other = Trouble::ours("something").into_response();
        assert!(other.headers().get("refresh").is_none());
    }
}
