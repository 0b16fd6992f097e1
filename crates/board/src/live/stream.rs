//! The stream of one screen: where it stands, what it missed, then each entry as it comes.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::{Path, RawQuery, State};
use axum::http::HeaderMap;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream::unfold;
use store::{Label, LogHead, LogOf};
use tokio::sync::broadcast::error::RecvError;
use tokio::sync::{OwnedSemaphorePermit, broadcast, watch};

use super::{Live, Told};
use crate::access::visitor::{session, visitor};
use crate::address::Query;
use crate::kept::ask_store;
use crate::pages::plan_of;
use crate::trouble::Trouble;
use crate::{Board, trouble};

/// How often a screen hears that the board is there although nothing happens. The script gives up after two and a half of them.
const BEAT: Duration = Duration::from_secs(10);
/// Entries told one by one to a screen that comes back; more than that and it loads its page again.
const MOST_MISSED: u32 = 100;

/// `GET /event/{event}/live`: server-sent events.
///
/// `hello` comes first: its id is the place in the log the screen stands at, its data the clock of the board. `entry`
/// carries the number of the entry as its id and what happened in words. `reload` says that more happened than is
/// told one by one. `beat` says that the board is there. The header `Last-Event-ID`, or `after` in the address, is the
/// last number seen.
pub(crate) async fn open(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
    headers: HeaderMap,
) -> Result<Response, Trouble> {
    let (plan, query) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    let event = plan.scene.event.id.to_string();
    let seen = seen(&headers, &query)?;
    let place = Arc::clone(&board.live.places)
        .try_acquire_owned()
        .map_err(|_| trouble::too_many_screens(super::MOST_SCREENS))?;
    // Listening first and reading then: what comes in between is heard twice and told once.
    let mut screen = Screen::new(&board.live, place, event.clone());
    let head = ask_store(&board.store, LogHead).await?.sequence;
    let after = seen.unwrap_or(head);
    screen.at = head;
    screen.waiting.push_back(
        Event::default()
            .event("hello")
            .id(after.min(head).to_string())
            .data(super::machine(board.clock.now())),
    );
    if after > head {
        // The screen knows entries this record does not have: it is another record.
        screen.waiting.push_back(reload(head));
    } else if after < head {
        let missed = LogOf {
            most: MOST_MISSED + 1,
            ..LogOf::event(Label::new(&event)?).after(after)
        };
        let missed = ask_store(&board.store, missed).await?;
        if missed.len() > MOST_MISSED as usize {
            screen.waiting.push_back(reload(head));
        } else {
            for entry in &missed {
                screen.at = screen.at.max(entry.sequence);
                screen
                    .waiting
                    .push_back(told(&Told::of(&board.book(), entry)));
            }
        }
    }
    let beat = KeepAlive::new()
        .interval(BEAT)
        .event(Event::default().event("beat").data(""));
    // Taken here: the stream runs on when the task of this request is over.
    let key = visitor().pass().map(|p| p.key.clone());
    let stream = unfold((screen, key, board), |(mut screen, key, board)| async {
        let event = screen.next().await?;
        // Whoever signed out, or was signed out, hears nothing more.
        if let Some(key) = &key
            && !matches!(
                ask_store(&board.store, session(key, board.clock.now())).await,
                Ok(Some(_))
            )
        {
            return None;
        }
        Some((Ok::<_, Infallible>(event), (screen, key, board)))
    });
    Ok(Sse::new(stream).keep_alive(beat).into_response())
}

/// The last entry the screen has, where it says one.
fn seen(headers: &HeaderMap, query: &Query) -> Result<Option<i64>, Trouble> {
    // The browser's own word is newer than the address it opened first.
    let said = match headers.get("last-event-id") {
        Some(id) => Some(id.to_str().unwrap_or("?")),
        None => query.first("after"),
    };
    said.map(|text| {
        text.parse::<i64>().ok().filter(|n| *n >= 0).ok_or_else(|| {
            Trouble::entry(
                format!(
                    "the last entry seen: found \"{}\"",
                    text.chars().take(40).collect::<String>()
                ),
                "the number of an entry, or 0",
                "load the page again",
            )
        })
    })
    .transpose()
}

fn told(told: &Told) -> Event {
    Event::default()
        .event("entry")
        .id(told.sequence.to_string())
        .data(&told.words)
}

fn reload(at: i64) -> Event {
    Event::default()
        .event("reload")
        .id(at.to_string())
        .data("more happened than is told here")
}

/// One open stream.
struct Screen {
    event: String,
    /// The last entry it was told or knew of.
    at: i64,
    waiting: VecDeque<Event>,
    hears: broadcast::Receiver<Arc<Told>>,
    ended: watch::Receiver<bool>,
    _place: OwnedSemaphorePermit,
}

impl Screen {
    fn new(live: &Live, place: OwnedSemaphorePermit, event: String) -> Self {
        Self {
            event,
            at: 0,
            waiting: VecDeque::new(),
            hears: live.sender.subscribe(),
            ended: live.ended.subscribe(),
            _place: place,
        }
    }

    /// The next event; `None` when the board ends.
    async fn next(&mut self) -> Option<Event> {
        if let Some(event) = self.waiting.pop_front() {
            return Some(event);
        }
        loop {
            let heard = tokio::select! {
                _ = self.ended.wait_for(|ended| *ended) => return None,
                heard = self.hears.recv() => heard,
            };
            match heard {
                Ok(told) if told.sequence <= self.at => {}
                Ok(told) => {
                    self.at = told.sequence;
                    if told.event == self.event {
                        return Some(self::told(&told));
                    }
                }
                // Too slow for what is kept: the page itself has it all.
                Err(RecvError::Lagged(_)) => return Some(reload(self.at)),
                Err(RecvError::Closed) => return None,
            }
        }
    }
}
