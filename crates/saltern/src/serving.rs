//! `saltern serve`, and `saltern` alone: the board on this machine.

use std::net::SocketAddr;
use std::path::PathBuf;

use board::{Bench, Board, Clock, Question, Shelf, Unread};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use store::{ImportBook, Moment, Name, Store};
use tokio::net::TcpListener;

use crate::ask;
use crate::diagnostics;
use crate::exit::{BadInput, Outcome, say};
use crate::load;

/// `saltern serve`
#[derive(Debug, clap::Args)]
pub(crate) struct Serve {
    /// A folder of .toml files, one file, or `demo`; with --db it is read at the first start, and then the book on record
    #[arg(long, default_value = "demo")]
    book: String,
    /// Keep the book's revisions and the record of what happened in this file; it is made when it is not there
    #[arg(long, value_name = "FILE")]
    db: Option<PathBuf>,
    /// Where to listen on this machine; port 0 takes a free one
    #[arg(long, default_value = "127.0.0.1:4780", value_name = "ADDRESS")]
    listen: SocketAddr,
}

impl Serve {
    /// The demo at the usual address.
    pub(crate) fn demo() -> Self {
        Self {
            book: "demo".to_owned(),
            db: None,
            listen: SocketAddr::from(([127, 0, 0, 1], 4780)),
        }
    }
}

pub(crate) fn run(serve: &Serve) -> Result<Outcome, BadInput> {
    if !serve.listen.ip().is_loopback() {
        return Err(BadInput::new(
            &format!("--listen {}", serve.listen),
            "an address of this machine alone, such as 127.0.0.1:4780: there is no sign-in yet, and costs and weights \
             are not for everyone on the network",
            "leave --listen out",
        ));
    }
    let store = record(serve)?;
    let (book, was_there) = shelf(serve, &store)?;
    let board = Board::new(
        book,
        Box::new(Asked::new()),
        Box::new(Wall),
        store,
        serve.db.is_some(),
    );
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|e| failed(serve, &e))?;
    runtime.block_on(async {
        let listener = TcpListener::bind(serve.listen)
            .await
            .map_err(|e| failed(serve, &e))?;
        let at = listener.local_addr().map_err(|e| failed(serve, &e))?;
        let of = match &serve.db {
            Some(file) if was_there => format!("the book in {}", file.display()),
            _ => serve.book.clone(),
        };
        say(&format!(
            "The board of {of} is at http://{at}\nOpen it in a browser on this machine; Ctrl-C ends it.\n"
        ));
        board::serve(board, listener, async {
            // Without a signal to wait for there is nothing that ends it but the machine.
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        })
        .await
        .map_err(|e| failed(serve, &e))
    })?;
    Ok(Outcome::Fine)
}

/// The record: the file named, made when it is not there, or one that ends with the program.
fn record(serve: &Serve) -> Result<Store, BadInput> {
    let opened = match &serve.db {
        None => Store::in_memory(),
        Some(file) if file.exists() => Store::open(file),
        Some(file) => Store::create(file),
    };
    opened.map_err(|e| {
        let told = e.told();
        BadInput::new(&told.found, &told.expected, &told.do_now)
    })
}

/// The book on record; at first start the one named is put there. Whether it was there already.
fn shelf(serve: &Serve, store: &Store) -> Result<(Shelf, bool), BadInput> {
    let refused = |e: store::Error| {
        let told = e.told();
        BadInput::new(&told.found, &told.expected, &told.do_now)
    };
    let of = |store: &Store| {
        Shelf::of(store).map_err(|e| match e {
            Unread::Store(e) => refused(e),
            Unread::Wrong(wrong) => BadInput(diagnostics::render(&wrong)),
        })
    };
    if let Some(shelf) = of(store)? {
        return Ok((shelf, true));
    }
    let files = load::files(&serve.book)?;
    let read = book::read(&files, book::Limits::default())
        .map_err(|wrong| BadInput(diagnostics::render(&wrong)))?;
    let zone = read.sites.values().next();
    let zone = zone.and_then(|s| s.zone.iana_name()).unwrap_or("UTC");
    let unnamed = |r: store::Refusal| refused(r.into());
    store
        .ask(ImportBook {
            files,
            onto: 0,
            who: Name::new("saltern serve").map_err(unnamed)?,
            at: Moment::new(Timestamp::now(), zone).map_err(unnamed)?,
        })
        .map_err(refused)?;
    let shelf = of(store)?.ok_or_else(|| {
        BadInput::new(
            "a record without the book just put there",
            "its pages",
            "start it again",
        )
    })?;
    Ok((shelf, false))
}

fn failed(serve: &Serve, error: &std::io::Error) -> BadInput {
    BadInput::new(
        &format!("the board cannot listen at {}: {error}", serve.listen),
        "an address of this machine that nothing else uses",
        "end the other program, or name another port: --listen 127.0.0.1:4781",
    )
}

/// The machine's own clock.
struct Wall;

impl Clock for Wall {
    fn now(&self) -> Timestamp {
        Timestamp::now()
    }
}

/// The bench questions of the command line.
struct Asked(Vec<Question>);

impl Asked {
    fn new() -> Self {
        Self(ask::form::questions())
    }
}

impl Bench for Asked {
    fn questions(&self) -> &[Question] {
        &self.0
    }

    fn answer(&self, question: &str, entries: &[(String, String)]) -> Result<Answer, Refusal> {
        ask::form::answer(question, entries)
    }
}
