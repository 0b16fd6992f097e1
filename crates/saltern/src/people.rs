//! `saltern people`: instructors and their passphrases. Everybody else is added on the board.

use std::io::{BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

use board::passphrase::{FEWEST_LETTERS, MOST_BYTES, NotKept, hashed};
use jiff::Timestamp;
use store::{
    AddPerson, ChangePerson, EndSessionsOf, Moment, Name, People as Everybody, Person, Role, Store,
};

use crate::exit::{BadInput, Outcome, say};
use crate::opening::{System, told};

/// `saltern people`
#[derive(Debug, clap::Args)]
pub(crate) struct People {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Sets the passphrase of an instructor, who is added when there is none of that name
    ///
    /// The passphrase is asked for on the terminal, or read as one line from a pipe. It is never an argument:
    /// arguments can be seen by everybody on the machine.
    Passphrase(Passphrase),
    /// Who may sign in, with their roles
    List(List),
}

#[derive(Debug, clap::Args)]
struct Passphrase {
    /// The file of the record; it is made when it is not there
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
    /// The instructor's name as it stands in the record; asked for when it is left out
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
}

#[derive(Debug, clap::Args)]
struct List {
    /// The file of the record
    #[arg(long, value_name = "FILE")]
    db: PathBuf,
}

pub(crate) fn run(people: &People) -> Result<Outcome, BadInput> {
    match &people.command {
        Command::Passphrase(asked) => passphrase(asked),
        Command::List(list) => all(list),
    }
}

fn all(list: &List) -> Result<Outcome, BadInput> {
    let store = Store::open(&list.db).map_err(|e| told(&e))?;
    let mut text = String::new();
    for p in store.ask(Everybody).map_err(|e| told(&e))? {
        let more = match (&p.left, p.role, &p.password) {
            (Some(_), _, _) => ", has left",
            (None, Role::Instructor, None) => ", no passphrase",
            _ => "",
        };
        text.push_str(&format!("{}: {}{more}\n", p.name, p.role.as_str()));
    }
    say(if text.is_empty() {
        "Nobody yet.\n"
    } else {
        &text
    });
    Ok(Outcome::Fine)
}

fn passphrase(asked: &Passphrase) -> Result<Outcome, BadInput> {
    let name = match &asked.name {
        Some(name) => name.clone(),
        None => line("Name of the instructor: ")?,
    };
    let name = Name::new(&name).map_err(|e| {
        BadInput::new(
            &format!("{}: {}", e.what, e.found),
            &e.expected,
            "say --name NAME",
        )
    })?;
    let store = opened(&asked.db)?;
    let known = known(&store, &name)?;
    let typed = secret_line()?;
    let hash = hashed(&typed, &System).map_err(not_kept)?;
    let at = Moment::new(Timestamp::now(), "UTC")
        .map_err(|e| BadInput::new(&e.found, &e.expected, e.do_now))?;
    let done = if let Some(person) = known {
        let id = person.id;
        let changed = Person {
            password: Some(hash),
            ..person
        };
        store.ask(ChangePerson(changed)).map_err(|e| told(&e))?;
        let ended = EndSessionsOf {
            person: id,
            device: None,
        };
        let ended = store.ask(ended).map_err(|e| told(&e))?;
        format!("{name} has a new passphrase; sessions ended: {ended}.\n")
    } else {
        let new = AddPerson {
            name: name.clone(),
            role: Role::Instructor,
            password: Some(hash),
            at,
        };
        store.ask(new).map_err(|e| told(&e))?;
        format!("{name} is an instructor with a passphrase.\n")
    };
    store.close().map_err(|e| told(&e))?;
    say(&done);
    Ok(Outcome::Fine)
}

/// The record, made when it is not there.
fn opened(file: &Path) -> Result<Store, BadInput> {
    let opened = if file.exists() {
        Store::open(file)
    } else {
        Store::create(file)
    };
    opened.map_err(|e| told(&e))
}

/// The instructor of a name; a learner's name is not taken over.
fn known(store: &Store, name: &Name) -> Result<Option<Person>, BadInput> {
    let people = store.ask(Everybody).map_err(|e| told(&e))?;
    let Some(person) = people.into_iter().find(|p| p.name == *name) else {
        return Ok(None);
    };
    if person.role != Role::Instructor || person.left.is_some() {
        let is = if person.left.is_some() {
            "has left"
        } else {
            person.role.as_str()
        };
        return Err(BadInput::new(
            &format!("{name} stands in the record: {is}"),
            "an instructor, or a name that is free",
            "choose another name, such as one with the family name",
        ));
    }
    Ok(Some(person))
}

fn not_kept(error: NotKept) -> BadInput {
    let found = match error {
        NotKept::TooShort(n) => format!("a passphrase of {n} letters"),
        NotKept::TooLong(n) => format!("a passphrase of {n} bytes"),
        NotKept::Failed(why) => why.to_owned(),
    };
    BadInput::new(
        &found,
        &format!("{FEWEST_LETTERS} letters or more, at most {MOST_BYTES} bytes"),
        "take four or five words nobody would put together, and run it again; nothing was changed",
    )
}

/// One line from the terminal or a pipe.
fn line(prompt: &str) -> Result<String, BadInput> {
    if std::io::stdin().is_terminal() {
        eprint!("{prompt}");
        let _ = std::io::stderr().flush();
    }
    let mut text = String::new();
    std::io::stdin()
        .lock()
        .read_line(&mut text)
        .map_err(|e| unread(&e))?;
    Ok(text.trim_end_matches(['\r', '\n']).to_owned())
}

/// A passphrase: unseen and twice on a terminal, one line from a pipe.
fn secret_line() -> Result<String, BadInput> {
    if !std::io::stdin().is_terminal() {
        return line("");
    }
    let ask = |prompt: &str| rpassword::prompt_password(prompt).map_err(|e| unread(&e));
    let first = ask("Passphrase (not shown): ")?;
    if ask("Once more: ")? != first {
        return Err(BadInput::new(
            "two passphrases that differ",
            "the same one twice",
            "run it again; nothing was changed",
        ));
    }
    Ok(first)
}

fn unread(error: &std::io::Error) -> BadInput {
    BadInput::new(
        &format!("what was typed cannot be read: {error}"),
        "one line of text",
        "run it on a terminal, or send one line through a pipe",
    )
}
