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
use crate::opening;

/// `saltern serve`
#[derive(Debug, clap::Args)]
pub(crate) struct Serve {
    /// A folder of .toml files, one file, or `demo`; with --db it is read at the first start, and then the book on record
    #[arg(long, default_value = "demo")]
    book: String,
    /// Keep the book's revisions and the record of what happened in this file; it is made when it is not there
    #[arg(long, value_name = "FILE")]
    db: Option<PathBuf>,
    /// Where to listen; port 0 takes a free one. Beyond this machine everybody signs in
    #[arg(long, default_value = "127.0.0.1:4780", value_name = "ADDRESS")]
    listen: SocketAddr,
    /// A name tablets open the board by, such as board.local; no other name is answered
    #[arg(long, value_name = "NAME")]
    name: Vec<String>,
    /// Ask for a sign-in on this machine, too: behind a program that adds TLS
    #[arg(long)]
    sign_in: bool,
    /// Start the board's clock at this moment, to practise a day: 2027-10-06T12:10-04:00; not with --db
    #[arg(long, value_name = "MOMENT", conflicts_with = "db")]
    practise_at: Option<Timestamp>,
}

impl Serve {
    /// The demo at the usual address.
    pub(crate) fn demo() -> Self {
        Self {
            book: "demo".to_owned(),
            db: None,
            listen: SocketAddr::from(([127, 0, 0, 1], 4780)),
            name: Vec::new(),
            sign_in: false,
            practise_at: None,
        }
    }
}

pub(crate) fn run(serve: &Serve) -> Result<Outcome, BadInput> {
    let store = record(serve)?;
    let access = opening::access(
        serve.listen,
        &serve.name,
        serve.sign_in,
        serve.db.as_deref(),
        &store,
    )?;
    let signs_in = access.signs_in();
    let (book, was_there) = shelf(serve, &store)?;
    let board = Board::new(
        book,
        Box::new(Asked::new()),
        clock(serve),
        store,
        serve.db.is_some(),
    )
    .behind(access);
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
            "The board of {of} is at http://{}\n{} Ctrl-C ends it.\n",
            opened_by(serve, at),
            if signs_in {
                "Everybody signs in. Nothing is encrypted on the way: use a network of the kitchen's own (docs/access.md)."
            } else {
                "Open it in a browser on this machine;"
            }
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

/// The host a browser is given: a name of its own, else the address; all addresses at once are none to open.
fn opened_by(serve: &Serve, at: SocketAddr) -> String {
    match serve.name.first() {
        Some(name) => format!("{}:{}", name.trim(), at.port()),
        None if at.ip().is_unspecified() => {
            format!(
                "127.0.0.1:{0}, and at port {0} of every address of this machine",
                at.port()
            )
        }
        None => at.to_string(),
    }
}

/// The record: the file named, made when it is not there, or one that ends with the program.
fn record(serve: &Serve) -> Result<Store, BadInput> {
    let opened = match &serve.db {
        None => Store::in_memory(),
        Some(file) if file.exists() => Store::open(file),
        Some(file) => Store::create(file),
    };
    opened.map_err(|e| opening::told(&e))
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

/// The machine's own clock, or one that was set to practise by and runs on from there.
fn clock(serve: &Serve) -> Box<dyn Clock> {
    match serve.practise_at {
        None => Box::new(Wall),
        Some(from) => Box::new(Practised {
            from,
            begun: Timestamp::now(),
        }),
    }
}

/// A clock set to a moment; a record kept in a file is never written by it.
struct Practised {
    from: Timestamp,
    begun: Timestamp,
}

impl Clock for Practised {
    fn now(&self) -> Timestamp {
        // Where the calendar ends it stands still.
        self.from
            .checked_add(Timestamp::now().duration_since(self.begun))
            .unwrap_or(self.from)
    }
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
