//! `saltern serve`, and `saltern` alone: the board on this machine.

use std::net::SocketAddr;
use std::path::PathBuf;

use board::{Bench, Board, Clock, Question};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use store::Store;
use tokio::net::TcpListener;

use crate::ask;
use crate::exit::{BadInput, Outcome, say};
use crate::load;

/// `saltern serve`
#[derive(Debug, clap::Args)]
pub(crate) struct Serve {
    /// A folder of .toml files, one file, or `demo`
    #[arg(long, default_value = "demo")]
    book: String,
    /// Keep the record of what happened in this file; it is made when it is not there
    #[arg(long, value_name = "FILE")]
    db: Option<PathBuf>,
    /// Where to listen on this machine; port 0 takes a free one
    #[arg(long, default_value = "127.0.0.1:4780", value_name = "ADDRESS")]
    listen: SocketAddr,
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
            practise_at: None,
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
    let book = load::book(&serve.book)?;
    let store = record(serve)?;
    let board = Board::new(
        book,
        Box::new(Asked::new()),
        clock(serve),
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
        say(&format!(
            "The board of {} is at http://{at}\nOpen it in a browser on this machine; Ctrl-C ends it.\n",
            serve.book
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
