//! A page of the book being edited: its text, the values that change most as fields, and what the change moves.
//!
//! Nothing is saved that the book does not read with, and nothing is saved over a revision the writer has not seen.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Path, RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use book::Limits;
use formats::fields::{Change, Field, fields, write};
use maud::{Markup, html};
use store::{LatestPages, Name, PageId, PageKind, Revision, SavePage, Saving, SettleConflict};

use super::look::{Said, events_with, mistakes, planned, read_with, refused};
use super::{
    Found, conflict, figures, find, form, not_kept, raw, revision, saved, which, whole_number,
};
use crate::access::visitor::who_field;
use crate::address::{Query, encoded};
use crate::page::{Frame, frame};
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;
use crate::{Board, planned as plans};

/// What is being written.
pub(super) struct Sheet {
    pub(super) page: PageId,
    /// The revision it was made from; `None` for a new page.
    pub(super) parent: Option<u32>,
    pub(super) text: String,
    pub(super) who: String,
    /// The event whose figures are shown.
    pub(super) event: Option<String>,
    /// Conflicts that end when this is saved.
    pub(super) settles: Vec<i64>,
    /// Fields as they were typed and could not be taken: place, was, is.
    kept: Vec<(String, String, String)>,
}

/// The page to edit: the newest revision, an earlier one to put back, or a change that met another.
pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path(which): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let query = Query::read(query.as_deref());
    let found = find(&board, &which).await?;
    let mut sheet = Sheet {
        page: found.page.clone(),
        parent: Some(found.newest.number),
        text: found.newest.text.clone().unwrap_or_default(),
        who: query.first("who").unwrap_or("").to_owned(),
        event: query.first("event").map(str::to_owned),
        settles: Vec::new(),
        kept: Vec::new(),
    };
    let mut about = html! {};
    if let Some(number) = whole_number(&query, "from")? {
        let earlier = revision(&board, &found.page, number).await?;
        sheet.text = earlier.text.clone().unwrap_or_default();
        about = html! { p class="what-if" role="status" { (say("board-this-is-text-of")) " " strong { (say_with("board-revision-n", &[("n", number.into())])) } " (" (saved(&earlier)) "). " (say_with("board-saved-becomes", &[("n", (found.newest.number + 1).into())])) } };
    }
    if let Some(id) = whole_number(&query, "conflict")? {
        let met = conflict::of(&board, &found.page, id).await?;
        about = conflict::begin(&mut sheet, &found.newest, &met, query.first("way"));
        let also = query.0.iter().filter(|(n, _)| n == "also");
        sheet
            .settles
            .extend(also.filter_map(|(_, v)| v.parse::<i64>().ok()));
    }
    let same = Some(&sheet.text) == found.newest.text.as_ref();
    let said = if same {
        None
    } else {
        Some(looked(&sheet, found.now.pages.clone()).await?)
    };
    shown(&board, &sheet, &found.now.pages, said, about).await
}

/// Look, or save.
pub(crate) async fn send(
    State(board): State<Arc<Board>>,
    Path(address): Path<String>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(body)?;
    let save = form.first("do") == Some("save");
    // One save after the other: each is read together with what the one before it left.
    let _turn = if save {
        Some(board.saving.lock().await)
    } else {
        None
    };
    let now = board.ask(LatestPages).await?;
    let mut sheet = sent(&form, &address, &now.pages)?;
    let changed: Vec<(String, String, String)> = changed_fields(&form);
    let changes: Vec<Change<'_>> = changed
        .iter()
        .map(|(place, was, now)| Change { place, was, now })
        .collect();
    let said = match write(&sheet.text, &changes) {
        Err(wrong) => {
            sheet.kept = changed;
            Said::Fields(wrong)
        }
        Ok(text) => {
            sheet.text = text;
            looked(&sheet, now.pages.clone()).await?
        }
    };
    let said = match (said, Name::new(&sheet.who)) {
        (Said::Book(_), Ok(who)) if save => return keep(&board, sheet, who).await,
        (Said::Book(_), Err(refusal)) if save => Said::Unnamed(refusal.into()),
        (said, _) => said,
    };
    let status = match said {
        Said::Book(_) => StatusCode::OK,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    let shown = shown(&board, &sheet, &now.pages, Some(said), html! {}).await?;
    Ok((status, shown).into_response())
}

/// The sheet as a form sent it.
fn sent(form: &Query, address: &str, pages: &[Revision]) -> Result<Sheet, Trouble> {
    let parent: Option<u32> = whole_number(form, "parent")?;
    let known = if address.contains('.') {
        pages.iter().find(|p| p.page.as_str() == address)
    } else {
        crate::shelf::page_of(pages, address)
    };
    let page = match (form.first("page"), known) {
        // A page that was renamed or taken out meanwhile is still the page it was.
        (Some(name), _) => PageId::new(name)?,
        (None, Some(revision)) => revision.page.clone(),
        (None, None) => PageId::new(address)?,
    };
    let most = Limits::default().file_bytes;
    let text = raw(form, "text").unwrap_or("");
    if text.len() > most * 2 {
        return Err(Trouble::entry(
            format!("a text of {} bytes", text.len()),
            format!("a page of at most {most} bytes"),
            "split the page: a book may have many",
        ));
    }
    let stood = pages.iter().find(|p| p.page == page);
    let stood = stood.and_then(|p| p.text.as_deref()).unwrap_or("");
    let text = own_line_ends(text, stood);
    if text.contains('\u{fffd}') && !stood.contains('\u{fffd}') {
        return Err(Trouble::entry(
            "a sign that could not be read on its way here (U+FFFD)",
            "text in UTF-8",
            "go back one page and write the sign anew",
        ));
    }
    let settles = form.0.iter().filter(|(n, _)| n == "conflict");
    Ok(Sheet {
        page,
        parent,
        text,
        who: form.first("who").unwrap_or("").to_owned(),
        event: form.first("event").map(str::to_owned),
        settles: settles.filter_map(|(_, v)| v.parse().ok()).collect(),
        kept: Vec::new(),
    })
}

/// A browser sends every line end as CR LF; the page keeps the ones it has.
fn own_line_ends(sent: &str, stood: &str) -> String {
    let plain = sent.replace("\r\n", "\n");
    let crlf = stood.matches("\r\n").count();
    if crlf > 0 && crlf * 2 > stood.matches('\n').count() {
        plain.replace('\n', "\r\n")
    } else {
        plain
    }
}

/// Fields whose value is another than when they were shown: place, was, is.
fn changed_fields(form: &Query) -> Vec<(String, String, String)> {
    form.0
        .iter()
        .filter_map(|(name, value)| {
            let (place, was) = name.strip_prefix("set|")?.split_once('|')?;
            let now = value.trim();
            (now != was.trim()).then(|| (place.to_owned(), was.to_owned(), now.to_owned()))
        })
        .collect()
}

async fn looked(sheet: &Sheet, pages: Vec<Revision>) -> Result<Said, Trouble> {
    let (page, text) = (sheet.page.clone(), sheet.text.clone());
    tokio::task::spawn_blocking(move || match read_with(&pages, &page, &text) {
        Ok(book) => Said::Book(Box::new(book)),
        Err(wrong) => Said::Wrong(wrong),
    })
    .await
    .map_err(|e| Trouble::ours(format!("reading the book stopped: {e}")))
}

/// Saves it on top of the revision it was made from, or keeps it as a conflict.
async fn keep(board: &Arc<Board>, sheet: Sheet, who: Name) -> Result<Response, Trouble> {
    let at = board.moment()?;
    let saving = SavePage {
        page: sheet.page.clone(),
        parent: sheet.parent,
        text: Some(sheet.text.clone()),
        who: who.clone(),
        at: at.clone(),
    };
    let name = encoded(who.as_str());
    let (revision, word) = match board.ask(saving).await? {
        Saving::Saved(revision) => (revision, "saved"),
        Saving::Same(revision) => (revision, "same"),
        Saving::Conflict(conflict) => {
            let which = which(&conflict.page, conflict.met.text.as_deref());
            let also: String = sheet
                .settles
                .iter()
                .map(|id| format!("&also={id}"))
                .collect();
            let to = format!("/recipe/{which}/conflict/{}?who={name}{also}", conflict.id);
            return Ok(Redirect::to(&to).into_response());
        }
    };
    for conflict in sheet.settles {
        let settled = SettleConflict {
            conflict,
            taken_into: (word == "saved").then_some(revision.number),
            who: who.clone(),
            at: at.clone(),
        };
        // Somebody may have settled it meanwhile; the text is saved either way.
        let _ = board.ask(settled).await;
    }
    board.standing_now().await?;
    let which = which(&revision.page, revision.text.as_deref());
    let to = format!("/recipe/{which}?{word}={}&who={name}", revision.number);
    Ok(Redirect::to(&to).into_response())
}

/// The page with its form and what a look found.
pub(super) async fn shown(
    board: &Arc<Board>,
    sheet: &Sheet,
    pages: &[Revision],
    said: Option<Said>,
    about: Markup,
) -> Result<Markup, Trouble> {
    let saved_text = pages
        .iter()
        .find(|p| p.page == sheet.page)
        .and_then(|p| p.text.as_deref());
    // A text that cannot be read as it is typed is still the page it was.
    let says = |key| {
        formats::fields::says(&sheet.text, key).or_else(|| formats::fields::says(saved_text?, key))
    };
    let recipe = says("recipe");
    let title = recipe
        .as_ref()
        .and_then(|_| says("name"))
        .unwrap_or_else(|| sheet.page.to_string());
    let standing = board.standing_now().await?;
    let events = events_with(&standing.book, recipe.as_deref());
    let event = sheet
        .event
        .clone()
        .filter(|id| events.iter().any(|e| e.id == id.as_str()))
        .or_else(|| events.first().map(|e| e.id.to_string()));
    let is_new = saved_text != Some(sheet.text.as_str());
    let preview = match said {
        None => html! {},
        Some(Said::Fields(wrong)) => refused(&wrong),
        Some(Said::Unnamed(trouble)) => trouble.framed(),
        Some(Said::Wrong(wrong)) => mistakes(&wrong, &sheet.page, &say("board-nothing-saved")),
        Some(Said::Book(_)) if !is_new => {
            html! { p { (say_with("board-says-what-revision", &[("n", sheet.parent.unwrap_or(0).into())])) } }
        }
        Some(Said::Book(book)) => match &event {
            None => {
                html! { p { (say("board-reads-no-event")) } }
            }
            Some(event) => moves(board, *book, event).await,
        },
    };
    let back = saved_text.map_or_else(String::new, |t| format!("/{}", which(&sheet.page, Some(t))));
    Ok(frame(
        &Frame {
            title: &say_with("board-edit-title", &[("title", (&title).into())]),
            plan: None,
            here: "recipe",
        },
        html! {
            (not_kept(board))
            (about)
            form id="edit" method="post" action=(format!("/recipe/{}/edit", encoded(sheet.page.as_str()))) {
                input type="hidden" name="page" value=(sheet.page);
                input type="hidden" name="parent" value=[sheet.parent];
                @for id in &sheet.settles { input type="hidden" name="conflict" value=(id); }
                div class="desk" {
                    div class="paper" {
                        label for="text" { (say("board-page-itself")) " " code { (sheet.page) } }
                        // A browser drops the first line end after the tag.
                        textarea id="text" name="text" spellcheck="false" autocapitalize="off" autocomplete="off" wrap="off" { "\n" (sheet.text) }
                        p class="hint" { @if let Some(n) = sheet.parent { (say_with("board-made-from-revision", &[("n", n.into())])) " " } @else { (say("board-a-new-page")) " " } (say("board-figures-change")) }
                    }
                    div class="beside" {
                        div class="fields" {
                            @if !events.is_empty() { label { (say("board-figures-of"))
                                select name="event" {
                                    @for e in &events { option value=(e.id) selected[event.as_deref() == Some(e.id.as_str())] { (e.name) } }
                                }
                            } }
                            (who_field(&sheet.who))
                        }
                        p class="acts" {
                            button name="do" value="look" formnovalidate { (say("board-look-act")) }
                            " "
                            button name="do" value="save" { (say("board-save")) }
                        }
                        p id="working" class="small" role="status" {}
                        div id="preview" { (preview) }
                    }
                    div id="fields" { (turned(sheet)) }
                }
            }
            p class="no-print" { a href=(format!("/recipe{back}")) { (say("board-back-unsaved")) } }
            script src="/look/recipe.js" defer {}
        },
    ))
}

/// What the change moves in an event.
async fn moves(board: &Arc<Board>, book: kitchen::Book, event: &str) -> Markup {
    let before = match plans::plan(board, event, &[]).await {
        Ok(before) => before,
        Err(trouble) => return trouble.framed(),
    };
    match planned(book, event.to_owned(), Some(Arc::clone(&before))).await {
        Ok(after) => html! {
            p class="label" { (say("board-against-saved")) }
            (figures::figures(&before, &after))
        },
        Err(trouble) => trouble.framed(),
    }
}

/// The fields, step by step.
fn turned(sheet: &Sheet) -> Markup {
    let all = fields(&sheet.text);
    let mut groups: Vec<(&str, Vec<&Field>)> = Vec::new();
    for field in &all {
        match groups.last_mut() {
            Some((of, list)) if *of == field.of => list.push(field),
            _ => groups.push((&field.of, vec![field])),
        }
    }
    // What was typed and not taken stands in its field still.
    let typed = |f: &Field| sheet.kept.iter().find(|(place, ..)| *place == f.place);
    html! {
        @if !groups.is_empty() {
            h2 { (say("board-usual-changes")) }
            p class="hint" { (say("board-field-writes")) }
        }
        div class="steps" {
            @for (of, list) in &groups {
                fieldset {
                    legend { @if of.is_empty() { (say("board-the-page")) } @else { (of) } }
                    @for f in list {
                        @let kept = typed(f);
                        @let was = kept.map_or(f.value.as_str(), |k| k.1.as_str());
                        label { (f.name)
                            input name=(format!("set|{}|{was}", f.place)) value=(kept.map_or(f.value.as_str(), |k| k.2.as_str())) autocomplete="off";
                        }
                    }
                }
            }
        }
    }
}

/// The way to the editor of a page.
pub(super) fn link(found: &Found) -> Markup {
    let which = which(&found.page, found.newest.text.as_deref());
    let what = say(match found.newest.kind {
        PageKind::Recipe => "board-edit-recipe",
        _ => "board-edit",
    });
    html! { a href=(format!("/recipe/{which}/edit")) { (what) } }
}
