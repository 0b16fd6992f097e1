//! Who may reach the board: this machine alone, or others, and then everybody signs in.

use std::net::SocketAddr;
use std::path::Path;

use board::{Access, Chance, NoChance};
use store::{People, Role, Store};

use crate::exit::BadInput;

/// Longest name of a machine.
///
/// # Source
/// RFC 1035 section 2.3.4 (from memory): 255 octets with the dots.
const LONGEST_NAME: usize = 253;

/// The door of a board that listens at an address and is opened by these names.
pub(crate) fn access(
    listen: SocketAddr,
    names: &[String],
    sign_in: bool,
    db: Option<&Path>,
    store: &Store,
) -> Result<Access, BadInput> {
    let none = |_: NoChance| no_chance();
    if listen.ip().is_loopback() && names.is_empty() && !sign_in {
        return Access::this_machine(Box::new(System)).map_err(none);
    }
    let why = if listen.ip().is_loopback() {
        "a board with sign-in".to_owned()
    } else {
        format!("--listen {listen}, which others can reach")
    };
    let Some(db) = db else {
        return Err(BadInput::new(
            &format!("{why}, without --db"),
            "a record that is kept: who may sign in stands in its file",
            "add --db kitchen.db and set a passphrase: saltern people passphrase --db kitchen.db; or leave --listen out",
        ));
    };
    let people = store.ask(People).map_err(|e| told(&e))?;
    let instructor = people
        .iter()
        .any(|p| p.role == Role::Instructor && p.left.is_none() && p.password.is_some());
    if !instructor {
        return Err(BadInput::new(
            &format!("{why}, and nobody in {} has a passphrase", db.display()),
            "an instructor who can sign in: costs and records are not for everyone on the network",
            &format!(
                "set one first: saltern people passphrase --db {}",
                db.display()
            ),
        ));
    }
    let mut known = Vec::new();
    for name in names {
        known.push(name_of_machine(name)?);
    }
    if !listen.ip().is_unspecified() {
        known.push(match listen {
            SocketAddr::V4(a) => a.ip().to_string(),
            SocketAddr::V6(a) => format!("[{}]", a.ip()),
        });
    }
    Ok(Access::signed_in(Box::new(System), known))
}

/// A name a browser can be given: letters, digits, hyphens, dots.
fn name_of_machine(name: &str) -> Result<String, BadInput> {
    let name = name.trim().trim_end_matches('.').to_ascii_lowercase();
    let is_part = |part: &str| {
        !part.is_empty()
            && part.len() <= 63
            && !part.starts_with('-')
            && !part.ends_with('-')
            && part.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
    };
    if name.len() <= LONGEST_NAME && name.split('.').all(is_part) {
        return Ok(name);
    }
    Err(BadInput::new(
        &format!("--name {}", name.chars().take(60).collect::<String>()),
        "a name or address of this machine without http:// and without a port, such as board.local",
        "write only the name that stands in the browser's address",
    ))
}

/// What the store said, in the four parts.
pub(crate) fn told(error: &store::Error) -> BadInput {
    let told = error.told();
    BadInput::new(&told.found, &told.expected, &told.do_now)
}

/// No randomness: nothing that has to be secret can be made.
pub(crate) fn no_chance() -> BadInput {
    BadInput::new(
        "the system gives no randomness",
        "a source of random numbers, which every secret is made from",
        "look at the machine; nothing was started",
    )
}

/// The system's own randomness.
pub(crate) struct System;

impl Chance for System {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance> {
        getrandom::fill(bytes).map_err(|_| NoChance)
    }
}
