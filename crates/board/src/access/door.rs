//! The door: every request passes here before any page, and only here is it decided who it is and what they may.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::body::{Body, to_bytes};
use axum::extract::connect_info::{ConnectInfo, Connected};
use axum::extract::{MatchedPath, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use axum::serve::IncomingStream;
use jiff::{SignedDuration, Timestamp};
use store::ProlongSession;
use tokio::net::TcpListener;

use super::doors;
use super::secret::{Secret, same};
use super::tokens::{FIELD, HEADER};
use super::visitor::{Pass, VISITOR, Visitor, session};
use crate::address::{Query, encoded};
use crate::kept::ask;
use crate::trouble::{Trouble, other_host};
use crate::{Board, asked_from_here};

/// Bytes of a form: a form of the board has far less.
pub(crate) const MOST_BYTES: usize = 256 * 1024;
/// The cookie of a session.
const COOKIE: &str = "saltern-session";
/// A session nobody uses ends after this.
pub(crate) const IDLE: SignedDuration = SignedDuration::from_hours(12);
/// A session in use is written down anew at most this often.
const PROLONGED_EVERY: SignedDuration = SignedDuration::from_mins(15);

/// The two ends of a connection: where it came in, and from where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ends {
    /// The address of this machine it was made to.
    pub here: Option<IpAddr>,
    /// The device at the other end.
    pub there: Option<IpAddr>,
}

impl Connected<IncomingStream<'_, TcpListener>> for Ends {
    fn connect_info(stream: IncomingStream<'_, TcpListener>) -> Self {
        let ip = |a: SocketAddr| a.ip().to_canonical();
        Self {
            here: stream.io().local_addr().ok().map(ip),
            there: Some(ip(*stream.remote_addr())),
        }
    }
}

impl Ends {
    pub(crate) fn of(request: &axum::http::Extensions) -> Self {
        request.get::<ConnectInfo<Self>>().map_or(
            Self {
                here: None,
                there: None,
            },
            |info| info.0,
        )
    }

    /// The device as tries are counted for it; of the long addresses the part a network gives out.
    pub(crate) fn device(self) -> String {
        match self.there {
            Some(IpAddr::V6(a)) => {
                let [a, b, c, d, ..] = a.segments();
                format!("{a:x}:{b:x}:{c:x}:{d:x}")
            }
            Some(a) => a.to_string(),
            None => "unknown".to_owned(),
        }
    }
}

/// Lets a request through, or says why not.
pub(crate) async fn door(
    State(board): State<Arc<Board>>,
    request: Request,
    next: Next,
) -> Response {
    let host = request.headers().get(header::HOST);
    let host = host.map(|h| h.to_str().unwrap_or("").to_owned());
    let here = Ends::of(request.extensions()).here;
    if host.is_some_and(|h| !board.access.is_called(&h, here)) {
        return other_host().into_response();
    }
    let now = board.clock.now();
    let secret = cookie(request.headers());
    let visitor = match who(&board, secret.as_ref(), now).await {
        Ok(visitor) => visitor,
        Err(trouble) => return trouble.into_response(),
    };
    let prolonged = prolong(&board, &visitor, secret.as_ref(), now).await;
    let passed = VISITOR
        .scope(visitor.clone(), async move {
            match checked(&board, request, &visitor, now).await {
                Ok(request) => next.run(request).await,
                Err(refused) => refused,
            }
        })
        .await;
    match prolonged {
        // A page that sets this cookie itself has the last word.
        Some(cookie) if !sets_session(passed.headers()) => {
            let mut passed = passed;
            passed.headers_mut().append(header::SET_COOKIE, cookie);
            passed
        }
        _ => passed,
    }
}

/// Whether an answer sets the session's cookie.
fn sets_session(headers: &HeaderMap) -> bool {
    headers
        .get_all(header::SET_COOKIE)
        .iter()
        .any(|v| v.as_bytes().starts_with(COOKIE.as_bytes()))
}

/// Who sent a request.
async fn who(
    board: &Arc<Board>,
    secret: Option<&Secret>,
    now: Timestamp,
) -> Result<Visitor, Trouble> {
    if !board.access.signs_in {
        return Ok(Visitor::AtTheMachine(board.access.run_token.clone()));
    }
    let Some(secret) = secret else {
        return Ok(Visitor::Nobody);
    };
    let key = secret.key();
    let Some(found) = ask(board, session(&key, now)).await? else {
        return Ok(Visitor::Nobody);
    };
    Ok(Visitor::SignedIn(Box::new(Pass {
        person: found.person.id,
        name: found.person.name,
        role: found.person.role,
        device: found.device,
        station: found.device_name,
        key,
        form_token: secret.form_token(),
        ends: found.ends,
    })))
}

/// The secret of the session cookie. Two of them mean that somebody else set one: neither counts.
pub(crate) fn cookie(headers: &HeaderMap) -> Option<Secret> {
    let mut ours = headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|h| h.to_str().ok())
        .flat_map(|h| h.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .filter(|(name, _)| *name == COOKIE)
        .map(|(_, value)| value);
    match (ours.next(), ours.next()) {
        (Some(one), None) => Secret::read(one),
        _ => None,
    }
}

/// The cookie that carries a secret. Not `Secure`: there is no TLS on the board itself.
pub(crate) fn set_cookie(secret: &Secret) -> Option<HeaderValue> {
    written(secret.cookie(), IDLE.as_secs())
}

/// The cookie that ends a session in the browser.
pub(crate) fn no_cookie() -> Option<HeaderValue> {
    written("", 0)
}

fn written(value: &str, seconds: i64) -> Option<HeaderValue> {
    let text = format!("{COOKIE}={value}; Path=/; HttpOnly; SameSite=Strict; Max-Age={seconds}");
    HeaderValue::from_str(&text).ok()
}

/// Lets a session in use last, now and then. Where that cannot be written down the page goes on.
async fn prolong(
    board: &Arc<Board>,
    visitor: &Visitor,
    secret: Option<&Secret>,
    now: Timestamp,
) -> Option<HeaderValue> {
    let pass = visitor.pass()?;
    let ends = now.saturating_add(IDLE).ok()?;
    if ends.duration_since(pass.ends) < PROLONGED_EVERY {
        return None;
    }
    let longer = ProlongSession {
        key: pass.key.clone(),
        at: now,
        ends,
    };
    ask(board, longer).await.ok()?;
    set_cookie(secret?)
}

/// The request, if its visitor may send it and it is whole.
async fn checked(
    board: &Arc<Board>,
    request: Request,
    visitor: &Visitor,
    now: Timestamp,
) -> Result<Request, Response> {
    let sends = !matches!(*request.method(), Method::GET | Method::HEAD);
    if sends && !asked_from_here(request.headers()) {
        return Err(Trouble::refused(
            "a form of another page",
            "the board's own form",
            "open the page on this board and enter it there; nothing was stored",
        )
        .into_response());
    }
    let route = request.extensions().get::<MatchedPath>();
    let route = route.map(|r| r.as_str().to_owned());
    if !doors::open(visitor, route.as_deref(), sends) {
        return Err(match visitor {
            Visitor::Nobody if !sends => Redirect::to("/sign-in").into_response(),
            _ => not_for(visitor, sends).into_response(),
        });
    }
    if !sends {
        return Ok(request);
    }
    if let Some(pass) = visitor.pass() {
        // The recipe editor looks while one types: that is no write, and has a pace of its own.
        let pace = match route.as_deref() {
            Some("/recipe/{which}/edit") => &board.access.looks,
            _ => &board.access.writes,
        };
        let paced = pace.take(&pass.key, now);
        paced.map_err(|wait| Trouble::too_often("forms sent", wait).into_response())?;
    }
    let most = match route.as_deref() {
        Some(route) if route.starts_with("/recipe") => crate::pages::recipe::MOST_BYTES,
        _ => MOST_BYTES,
    };
    whole(request, visitor, most)
        .await
        .map_err(IntoResponse::into_response)
}

/// Why a page is not for somebody, and what they can do.
fn not_for(visitor: &Visitor, sends: bool) -> Trouble {
    match visitor.pass() {
        None => Trouble::refused(
            "nobody is signed in on this device, or not any more",
            "somebody who is signed in",
            "sign in, then enter it again; nothing was stored",
        ),
        Some(pass) => Trouble::refused(
            if sends {
                format!(
                    "{} is signed in as {}, who enters nothing here",
                    pass.name,
                    pass.role.as_str()
                )
            } else {
                format!(
                    "{} is signed in as {}; this page is for the instructor",
                    pass.name,
                    pass.role.as_str()
                )
            },
            "the instructor",
            "go back to the day's page, or ask the instructor to open it",
        ),
    }
}

/// Reads a form, checks its token, and writes the name of who is signed in where the form says who.
async fn whole(request: Request, visitor: &Visitor, most: usize) -> Result<Request, Trouble> {
    let Some(token) = visitor.form_token() else {
        return Ok(request);
    };
    let (mut parts, body) = request.into_parts();
    let said: Option<u64> = parts
        .headers
        .get(header::CONTENT_LENGTH)
        .and_then(|l| l.to_str().ok()?.parse().ok());
    if said.is_some_and(|bytes| bytes > most as u64) {
        return Err(Trouble::too_large(most));
    }
    let bytes = to_bytes(body, most)
        .await
        .map_err(|_| Trouble::too_large(most))?;
    let is_form = parts.headers.get(header::CONTENT_TYPE).is_none_or(|t| {
        t.as_bytes()
            .starts_with(b"application/x-www-form-urlencoded")
    });
    let in_header = parts.headers.get(HEADER).and_then(|t| t.to_str().ok());
    if !is_form {
        if visitor.pass().is_some() {
            return Err(Trouble::entry(
                "something sent that is no form of the board",
                "a form of the board",
                "enter it on its page; nothing was stored",
            ));
        }
        if !in_header.is_some_and(|t| same(t, token)) {
            return Err(no_token());
        }
        return Ok(Request::from_parts(parts, Body::from(bytes)));
    }
    let text = std::str::from_utf8(&bytes).map_err(|_| {
        Trouble::entry(
            "a form with bytes that are no text",
            "text in UTF-8",
            "enter it on its page; nothing was stored",
        )
    })?;
    let mut form = Query::read(Some(text));
    let in_form = form.first(FIELD);
    if !in_header.or(in_form).is_some_and(|t| same(t, token)) {
        return Err(no_token());
    }
    form.0.retain(|(name, _)| name != FIELD);
    if let Some(pass) = visitor.pass() {
        let other = form.0.iter().find(|(name, value)| {
            let value = value.trim();
            name == "who" && !value.is_empty() && value != pass.name.as_str()
        });
        if let Some((_, other)) = other {
            return Err(Trouble::refused(
                format!(
                    "an entry of \"{}\" from the session of {}",
                    other.chars().take(40).collect::<String>(),
                    pass.name
                ),
                "entries of who is signed in",
                "let them sign in and enter it themselves; nothing was stored",
            ));
        }
        form.0.retain(|(name, _)| name != "who");
        form.0.push(("who".to_owned(), pass.name.to_string()));
    }
    let written: Vec<String> = form
        .0
        .iter()
        .map(|(name, value)| format!("{}={}", encoded(name), encoded(value)))
        .collect();
    parts.headers.remove(header::CONTENT_LENGTH);
    Ok(Request::from_parts(parts, Body::from(written.join("&"))))
}

fn no_token() -> Trouble {
    Trouble::refused(
        "a form without the token of this session",
        "a form of a page this session opened",
        "load the page again and enter it there; nothing was stored",
    )
}
