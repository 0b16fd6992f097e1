//! People and devices: the instructor gives sign-ins, sees who is signed in where, and ends it.

use std::sync::Arc;

use axum::extract::State;
use axum::http::{HeaderMap, header};
use jiff::{Timestamp, tz::TimeZone};
use maud::{Markup, PreEscaped, html};
use qrcode::{Color, EcLevel, QrCode};
use store::{
    AddPerson, ChangePerson, DeviceId, EndSessionsOf, Label, Moment, Name, People, Person,
    RemoveDevice, Role, SessionsNow, SignedIn,
};

use super::sign_in::{DESK, asks, named};
use crate::Board;
use crate::access::invitation::{LASTS, Offer, Ways};
use crate::access::without_port;
use crate::address::Query;
use crate::kept::ask;
use crate::page::{Frame, frame};
use crate::tongue::{moment, say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Result<Markup, Trouble> {
    shown(&board, html! {}).await
}

/// The page, with what was just done above.
async fn shown(board: &Arc<Board>, done: Markup) -> Result<Markup, Trouble> {
    asks(board)?;
    let now = board.clock.now();
    let mut people = ask(board, People).await?;
    people.retain(|p| p.left.is_none());
    let sessions = ask(board, SessionsNow { at: now }).await?;
    let zone = zone(board);
    Ok(frame(
        &Frame {
            title: &say("board-people-devices"),
            plan: None,
            here: "people",
        },
        html! {
            (done)
            h2 { (say("board-give-device")) }
            form class="fields" method="post" action="/people" {
                label { (say("board-name")) input name="name" required autocomplete="off" list="known"; span class="hint" { (say("board-name-hint")) } }
                label { (say("board-station")) input name="station" required autocomplete="off"; span class="hint" { (say("board-station-hint")) } }
                label { (say("board-may"))
                    select name="role" {
                        option value="learner" { (say("board-may-work")) }
                        option value="viewer" { (say("board-may-look")) }
                    }
                }
                button type="submit" { (say("board-make-sign-in")) }
            }
            datalist id="known" { @for p in people.iter().filter(|p| p.role != Role::Instructor) { option value=(p.name) {} } }
            p class="small" { (say("board-neither-cost")) " " code { "saltern people passphrase --db FILE" } "." }
            h2 { (say("board-signed-in-now")) }
            (signed_in(&sessions, &zone))
            h2 { (say("board-everybody")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-name")) } th { (say("board-role")) } th { (say("board-since")) } td {} } }
                tbody { @for p in &people { (person(p)) } }
            } }
        },
    ))
}

fn signed_in(sessions: &[SignedIn], zone: &TimeZone) -> Markup {
    let hour = |at: Timestamp| moment(&at.to_zoned_datetime(zone.clone()), "%a %H:%M");
    html! {
        div class="wide" tabindex="0" { table {
            thead { tr { th { (say("board-name")) } th { (say("board-role")) } th { (say("board-station")) } th { (say("board-since")) } th { (say("board-unused-ends")) } td {} } }
            tbody { @for s in sessions {
                tr {
                    td { strong { (s.name) } } td { (role_word(s.role)) } td { (s.device_name) }
                    td class="hour" { (hour(s.since)) } td { (hour(s.ends)) }
                    td {
                        form method="post" action="/people/out" {
                            input type="hidden" name="person" value=(s.person.0);
                            input type="hidden" name="device" value=(s.device);
                            button class="quiet" type="submit" { (say("board-sign-out")) " " span class="unseen" { (s.name) " " (say("board-at")) " " (s.device_name) } }
                        }
                    }
                }
            } }
        } }
    }
}

fn person(p: &Person) -> Markup {
    html! {
        tr {
            td { strong { (p.name) } }
            td { (role_word(p.role)) @if p.role == Role::Instructor && p.password.is_none() { (say("board-no-passphrase")) } }
            td { @if let Some(z) = p.since.on_the_clock() { (z.strftime("%Y-%m-%d")) } }
            td {
                // Instructors come and go at the machine: nobody locks the last one out from a tablet.
                @if p.role != Role::Instructor {
                    form method="post" action="/people/left" {
                        input type="hidden" name="person" value=(p.id.0);
                        button class="quiet" type="submit" { (say("board-has-left")) " " span class="unseen" { (p.name) } }
                    }
                }
            }
        }
    }
}

pub(crate) async fn give(
    State(board): State<Arc<Board>>,
    headers: HeaderMap,
    body: String,
) -> Result<Markup, Trouble> {
    asks(&board)?;
    let form = Query::read(Some(&body));
    let role = match form.first("role") {
        Some("learner") => Role::Learner,
        Some("viewer") => Role::Viewer,
        other => {
            return Err(Trouble::entry(
                format!("may: found \"{}\"", short(other.unwrap_or(""))),
                "learner or viewer",
                "choose one of the list",
            ));
        }
    };
    let name = Name::new(form.first("name").unwrap_or(""))?;
    let station = Label::new(form.first("station").unwrap_or(""))?;
    let now = board.clock.now();
    let person = known_or_new(&board, name, role, now).await?;
    let offer = Offer {
        person: person.id,
        name: person.name,
        station,
    };
    let chance = board.access.chance()?;
    let ways = board.access.invitations.give(offer.clone(), chance, now)?;
    let given = given(&offer, &ways, &headers, now, &zone(&board))?;
    shown(&board, given).await
}

/// The person of a name, made where there is none; somebody who left comes back.
async fn known_or_new(
    board: &Arc<Board>,
    name: Name,
    role: Role,
    now: Timestamp,
) -> Result<Person, Trouble> {
    let people = ask(board, People).await?;
    let left = |p: &&Person| p.left.is_some() && p.name == name;
    let at = Moment::new(now, zone(board).iana_name().unwrap_or("UTC"))?;
    let known = named(&people, name.as_str());
    let Some(known) = known.or_else(|| people.iter().find(left).cloned()) else {
        let new = AddPerson {
            name,
            role,
            password: None,
            at,
        };
        return ask(board, new).await;
    };
    if known.role == Role::Instructor {
        return Err(Trouble::entry(
            format!("{} is an instructor", known.name),
            "a learner or a viewer",
            "instructors sign in with their passphrase",
        ));
    }
    if known.left.is_some() {
        let back = Person {
            left: None,
            role,
            ..known
        };
        ask(board, ChangePerson(back.clone())).await?;
        return Ok(back);
    }
    if known.role != role {
        return Err(Trouble::entry(
            format!("{} is a {} already", known.name, known.role.as_str()),
            "one role for one name",
            "choose that role; or mark them as having left first, then give the new one",
        ));
    }
    Ok(known)
}

/// The square and the number; shown this once.
fn given(
    offer: &Offer,
    ways: &Ways,
    headers: &HeaderMap,
    now: Timestamp,
    zone: &TimeZone,
) -> Result<Markup, Trouble> {
    let said = |name| headers.get(name).and_then(|h| h.to_str().ok());
    let host = said(header::HOST).unwrap_or("127.0.0.1");
    let base = said(header::ORIGIN)
        .filter(|o| o.split_once("://").is_some_and(|(_, h)| h == host))
        .map_or_else(|| format!("http://{host}"), str::to_owned);
    let address = format!("{base}/sign-in/{}", ways.token);
    let here_only = matches!(without_port(host), "127.0.0.1" | "localhost" | "[::1]");
    let until = now.saturating_add(LASTS).unwrap_or(now);
    let until = until.to_zoned_datetime(zone.clone()).strftime("%H:%M");
    let (first, last) = ways.pin.split_at_checked(3).unwrap_or((&ways.pin, ""));
    Ok(html! {
        div class="now given" role="status" {
            p { (say("board-given-for")) " " strong { (offer.name) } (say("board-at-station")) " " strong { (offer.station) } ", " (say("board-until")) " " strong { (until) } (say("board-given-once")) }
            (square(&address)?)
            p { (say("board-look-at-square")) " " strong { (base) "/sign-in" } " " (say("board-and-type")) }
            p class="big" { (first) " " (last) }
            @if here_only {
                p { strong { (say("board-own-name")) " " } (say("board-open-by-network")) }
            }
            p class="small" { (say("board-shown-once")) }
        }
    })
}

/// A square code as a drawing: one path, four modules of quiet around it.
fn square(text: &str) -> Result<Markup, Trouble> {
    const QUIET: usize = 4;
    let code = QrCode::with_error_correction_level(text, EcLevel::M)
        .map_err(|e| Trouble::ours(format!("the square code: {e}")))?;
    let width = code.width();
    let mut path = String::new();
    for (i, color) in code.to_colors().into_iter().enumerate() {
        if color == Color::Dark {
            path.push_str(&format!(
                "M{} {}h1v1h-1z",
                i % width + QUIET,
                i / width + QUIET
            ));
        }
    }
    let side = width + 2 * QUIET;
    Ok(html! {
        svg class="square" viewBox=(format!("0 0 {side} {side}")) role="img" aria-label=(say("board-square-code")) shape-rendering="crispEdges" {
            rect width=(side) height=(side) fill="#fff" {}
            (PreEscaped(format!("<path fill=\"#000\" d=\"{path}\"/>")))
        }
    })
}

pub(crate) async fn out(State(board): State<Arc<Board>>, body: String) -> Result<Markup, Trouble> {
    asks(&board)?;
    let form = Query::read(Some(&body));
    let person = person_of(&board, &form).await?;
    let device = DeviceId::new(form.first("device").unwrap_or(""))?;
    let end = EndSessionsOf {
        person: person.id,
        device: Some(device.clone()),
    };
    let ended = ask(&board, end).await?;
    if ended > 0 && device.as_str() != DESK.0 {
        let at = Moment::new(board.clock.now(), "UTC")?;
        ask(&board, RemoveDevice { id: device, at }).await?;
    }
    let with = [("name", person.name.as_str().into())];
    let done = if ended > 0 {
        say_with("board-is-signed-out", &with)
    } else {
        say_with("board-was-not-signed-in", &with)
    };
    shown(&board, html! { p role="status" { strong { (done) } } }).await
}

pub(crate) async fn left(State(board): State<Arc<Board>>, body: String) -> Result<Markup, Trouble> {
    asks(&board)?;
    let mut person = person_of(&board, &Query::read(Some(&body))).await?;
    if person.role == Role::Instructor {
        return Err(Trouble::entry(
            format!("{} is an instructor", person.name),
            "a learner or a viewer",
            "instructors come and go at the machine the board runs on",
        ));
    }
    let now = board.clock.now();
    person.left = Some(Moment::new(now, zone(&board).iana_name().unwrap_or("UTC"))?);
    let name = person.name.clone();
    board.access.invitations.end(person.id, now);
    ask(&board, ChangePerson(person)).await?;
    let done = html! { p role="status" { strong { (name) " " (say("board-left-out")) } " " (say("board-entries-stay")) } };
    shown(&board, done).await
}

async fn person_of(board: &Arc<Board>, form: &Query) -> Result<Person, Trouble> {
    let said = form.first("person").unwrap_or("");
    let people = ask(board, People).await?;
    let found = people
        .into_iter()
        .find(|p| p.left.is_none() && said.parse() == Ok(p.id.0));
    found.ok_or_else(|| {
        Trouble::entry(
            format!("person: found \"{}\"", short(said)),
            "somebody of the list",
            "open the page again and choose there",
        )
    })
}

fn short(text: &str) -> String {
    text.chars().take(40).collect()
}

/// A role by its name.
pub(crate) fn role_word(role: Role) -> String {
    say(match role {
        Role::Instructor => "board-role-instructor",
        Role::Learner => "board-role-learner",
        Role::Viewer => "board-role-viewer",
    })
}

/// The clock of the kitchen: that of the book's first site.
fn zone(board: &Board) -> TimeZone {
    board
        .book()
        .sites
        .values()
        .next()
        .map_or(TimeZone::UTC, |s| s.zone.clone())
}
