//! Signing in and out: by the square on the instructor's screen, by name and number, by name and passphrase.

use std::sync::Arc;

use axum::extract::{Extension, Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use jiff::Timestamp;
use maud::{Markup, html};
use store::{
    AddDevice, ClearSessions, DeviceId, EndSession, Error, Label, Moment, OpenSession, People,
    Person, PersonId, RemoveDevice, Role,
};

use crate::Board;
use crate::access::door::{Ends, IDLE, cookie, no_cookie, set_cookie};
use crate::access::invitation::Offer;
use crate::access::passphrase::fits;
use crate::access::secret::{is_one_time, one_time};
use crate::access::visitor::{Visitor, visitor};
use crate::address::Query;
use crate::kept::ask;
use crate::page::{Frame, frame};
use crate::tongue::say;
use crate::trouble::Trouble;

/// The device of everybody who signs in by passphrase.
pub(crate) const DESK: (&str, &str) = ("desk", "by passphrase");

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Result<Markup, Trouble> {
    asks(&board)?;
    Ok(frame(
        &Frame::plain(&say("board-sign-in")),
        html! {
            p { (say("board-sign-in-how")) }
            form class="fields" method="post" action="/sign-in" {
                label { (say("board-name")) input name="name" required autocomplete="off" autocapitalize="words"; }
                label { (say("board-pin")) input name="pin" required inputmode="numeric" autocomplete="one-time-code"; span class="hint" { (say("board-six-digits")) } }
                button type="submit" { (say("board-sign-in")) }
            }
            h2 { (say("board-instructor")) }
            form class="fields" method="post" action="/sign-in" {
                label { (say("board-name")) input name="name" required autocomplete="username"; }
                label { (say("board-passphrase")) input name="passphrase" type="password" required autocomplete="current-password"; }
                button type="submit" { (say("board-sign-in-passphrase")) }
            }
            p class="small" { (say("board-no-tls")) }
        },
    ))
}

/// The page the square leads to. Opening it uses nothing up: cameras and mail programs look at addresses by themselves.
pub(crate) async fn offered(
    State(board): State<Arc<Board>>,
    ends: Option<Extension<axum::extract::ConnectInfo<Ends>>>,
    Path(token): Path<String>,
) -> Result<Markup, Trouble> {
    asks(&board)?;
    let now = board.clock.now();
    let device = device(ends);
    tried(&board, &device, now)?;
    let offer = is_one_time(&token)
        .then(|| board.access.invitations.of_token(&token, now))
        .flatten()
        .ok_or_else(over)?;
    board.access.tries.give_back(&device);
    Ok(frame(
        &Frame::plain(&say("board-sign-in")),
        html! {
            p { (say("board-signs-in-as")) " " strong { (offer.name) } (say("board-at-station")) " " strong { (offer.station) } "." }
            form class="fields" method="post" action="/sign-in" {
                input type="hidden" name="token" value=(token);
                button type="submit" { (say("board-sign-in-as")) " " (offer.name) }
            }
        },
    ))
}

pub(crate) async fn sign_in(
    State(board): State<Arc<Board>>,
    ends: Option<Extension<axum::extract::ConnectInfo<Ends>>>,
    headers: HeaderMap,
    body: String,
) -> Result<Response, Trouble> {
    asks(&board)?;
    let now = board.clock.now();
    let device = device(ends);
    // Counted before it is known how it ends, and given back where it was right.
    tried(&board, &device, now)?;
    let form = Query::read(Some(&body));
    let way = if let Some(token) = form.first("token") {
        let offer = is_one_time(token)
            .then(|| board.access.invitations.use_token(token, now))
            .flatten()
            .ok_or_else(over)?;
        Way::Offered(offer)
    } else {
        by_name(&board, &form, now).await?
    };
    board.access.tries.give_back(&device);
    let opened = open(&board, &way, cookie(&headers), now).await;
    let cookie = match opened {
        Ok(cookie) => cookie,
        Err(trouble) => {
            // It was right and could not be written down: it may be used again.
            if let Way::Offered(offer) = way {
                return Err(lost(trouble, &offer));
            }
            return Err(trouble);
        }
    };
    Ok(see(&cookie))
}

pub(crate) async fn sign_out(State(board): State<Arc<Board>>) -> Result<Response, Trouble> {
    asks(&board)?;
    if let Some(pass) = visitor().pass() {
        let key = pass.key.clone();
        ask(&board, EndSession { key }).await?;
        // A device is one sign-in; the next one is another device. Its entries stay.
        if pass.device.as_str() != DESK.0 {
            let at = Moment::new(board.clock.now(), "UTC")?;
            let id = pass.device.clone();
            ask(&board, RemoveDevice { id, at }).await?;
        }
    }
    let cookie = no_cookie().ok_or_else(|| Trouble::ours("the cookie cannot be written"))?;
    Ok((
        StatusCode::SEE_OTHER,
        [
            (header::SET_COOKIE, cookie),
            (header::LOCATION, HeaderValue::from_static("/sign-in")),
        ],
    )
        .into_response())
}

/// How somebody proved who they are.
enum Way {
    Offered(Offer),
    Passphrase(PersonId),
}

/// By a name with a number or a passphrase. What does not fit is told the same whatever it was: a stranger learns no names.
async fn by_name(board: &Arc<Board>, form: &Query, now: Timestamp) -> Result<Way, Trouble> {
    let person = named(&ask(board, People).await?, form.first("name").unwrap_or(""));
    if let Some(pin) = form.first("pin") {
        let pin: String = pin.chars().filter(|c| !c.is_whitespace()).collect();
        let nobody = PersonId(0);
        let person = person.as_ref().map_or(nobody, |p| p.id);
        let offer = board.access.invitations.use_pin(person, &pin, now);
        return offer.map(Way::Offered).ok_or_else(no_fit);
    }
    let Some(passphrase) = form.first("passphrase").map(str::to_owned) else {
        return Err(no_fit());
    };
    let kept = person
        .as_ref()
        .filter(|p| p.role == Role::Instructor)
        .and_then(|p| p.password.clone());
    let one = board.access.comparing.acquire().await;
    let compared = tokio::task::spawn_blocking(move || fits(&passphrase, kept.as_deref())).await;
    drop(one);
    let fits = compared.map_err(|e| Trouble::ours(format!("the comparison stopped: {e}")))?;
    person
        .filter(|_| fits)
        .map(|p| Way::Passphrase(p.id))
        .ok_or_else(no_fit)
}

/// Who is meant by a name as it was typed; tablets write a capital where there is none.
pub(crate) fn named(people: &[Person], typed: &str) -> Option<Person> {
    let here = || people.iter().filter(|p| p.left.is_none());
    let same = |p: &&Person| p.name.as_str().to_lowercase() == typed.trim().to_lowercase();
    let mut alike = here().filter(same);
    match (alike.next(), alike.next()) {
        (Some(one), None) => Some(one.clone()),
        _ => here().find(|p| p.name.as_str() == typed.trim()).cloned(),
    }
}

/// Opens a session with a secret of its own; the one this browser had before ends.
async fn open(
    board: &Arc<Board>,
    way: &Way,
    before: Option<crate::access::secret::Secret>,
    now: Timestamp,
) -> Result<HeaderValue, Trouble> {
    let at = Moment::new(now, "UTC")?;
    let (person, device) = match way {
        Way::Offered(offer) => {
            let id = one_time(board.access.chance()?)?;
            let id = DeviceId::new(&format!("device-{}", id.get(..8).unwrap_or("")))?;
            let name = offer.station.clone();
            ask(
                board,
                AddDevice {
                    id: id.clone(),
                    name,
                    at,
                },
            )
            .await?;
            (offer.person, id)
        }
        Way::Passphrase(person) => {
            let id = DeviceId::new(DESK.0)?;
            let name = Label::new(DESK.1)?;
            let desk = AddDevice {
                id: id.clone(),
                name,
                at,
            };
            let store = board.store.clone();
            let added = tokio::task::spawn_blocking(move || store.ask(desk))
                .await
                .map_err(|e| Trouble::ours(format!("the record stopped: {e}")))?;
            match added {
                // It is there since the first who signed in.
                Ok(_) | Err(Error::KeyTaken { .. }) => {}
                Err(e) => return Err(e.into()),
            }
            (*person, id)
        }
    };
    let secret = board.access.secret()?;
    let ends = now
        .saturating_add(IDLE)
        .map_err(|e| Trouble::ours(format!("the clock: {e}")))?;
    let session = OpenSession {
        key: secret.key(),
        person,
        device,
        at: now,
        ends,
    };
    ask(board, session).await?;
    if let Some(before) = before {
        ask(board, EndSession { key: before.key() }).await?;
    }
    ask(board, ClearSessions { at: now }).await?;
    set_cookie(&secret).ok_or_else(|| Trouble::ours("the cookie cannot be written"))
}

fn see(cookie: &HeaderValue) -> Response {
    (
        StatusCode::SEE_OTHER,
        [
            (header::SET_COOKIE, cookie.clone()),
            (header::LOCATION, HeaderValue::from_static("/")),
        ],
    )
        .into_response()
}

/// Who is signed in, with a way out; the way in where nobody is.
pub(crate) fn who_is_here(visitor: &Visitor) -> Markup {
    html! {
        @match visitor {
            Visitor::AtTheMachine(_) => {}
            Visitor::Nobody => { p class="here no-print" { a href="/sign-in" { (say("board-sign-in")) } } }
            Visitor::SignedIn(pass) => {
                form class="here no-print" method="post" action="/sign-out" {
                    span { strong { (pass.name) } ", " (super::people::role_word(pass.role)) ", " (pass.station) }
                    @if pass.role == Role::Instructor { a href="/people" { (say("board-people-devices")) } }
                    button class="quiet" type="submit" { (say("board-sign-out")) }
                }
            }
        }
    }
}

/// Whether anybody signs in to this board at all.
pub(crate) fn asks(board: &Board) -> Result<(), Trouble> {
    if board.access.signs_in {
        return Ok(());
    }
    Err(Trouble::missing(
        "a sign-in on a board that is for this machine alone",
        "a board others can reach",
        "to open it to tablets: saltern people passphrase --db FILE, then saltern serve --db FILE --listen ADDRESS",
    ))
}

fn tried(board: &Board, device: &str, now: Timestamp) -> Result<(), Trouble> {
    let paced = board.access.tries.take(device, now);
    paced.map_err(|wait| Trouble::too_often("wrong tries to sign in", wait))
}

fn device(ends: Option<Extension<axum::extract::ConnectInfo<Ends>>>) -> String {
    ends.map_or(
        Ends {
            here: None,
            there: None,
        },
        |Extension(info)| info.0,
    )
    .device()
}

fn no_fit() -> Trouble {
    Trouble::refused(
        "name and number, or name and passphrase, do not fit together",
        "a name the instructor gave a sign-in to, with its number of the last ten minutes",
        "look again at the instructor's screen and type it anew; after five wrong ones a number is void and the instructor gives another",
    )
}

fn over() -> Trouble {
    Trouble::refused(
        "this sign-in was used already, or is older than ten minutes",
        "a sign-in that is still open",
        "ask the instructor for a new one",
    )
}

fn lost(trouble: Trouble, offer: &Offer) -> Trouble {
    trouble.and_now(&format!(
        "; then ask the instructor for a new sign-in for {}",
        offer.name
    ))
}
