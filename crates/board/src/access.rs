//! Who may open what. Every request comes through one door ([`door`]); what each address asks of a visitor stands
//! in one table ([`doors`]); a page knows its visitor without being told ([`visitor`]), and a visitor who sees no
//! costs is given plans that hold none ([`money`]).
//!
//! A board on this machine alone asks nobody to sign in: whoever sits at it is the instructor.

pub(crate) mod door;
pub(crate) mod doors;
pub(crate) mod invitation;
pub(crate) mod money;
pub(crate) mod pace;
pub mod passphrase;
pub(crate) mod secret;
pub(crate) mod tokens;
pub(crate) mod visitor;

use std::net::IpAddr;

use tokio::sync::Semaphore;

use crate::trouble::Trouble;
use invitation::Invitations;
use pace::Pace;
use secret::Secret;

/// Wrong tries to sign in within a minute: from one device, from all.
const TRIES: (usize, usize) = (5, 30);
/// Forms sent within a minute: by one session, by all.
const WRITES: (usize, usize) = (60, 3000);
/// Looks of one session and of all within a minute: one types and pauses at most so often.
const LOOKS: (usize, usize) = (200, 1000);

/// Where secrets come from; handed in like the clock, so that tests know them beforehand.
pub trait Chance: Send + Sync {
    /// Fills the bytes with what nobody can foretell.
    ///
    /// # Errors
    /// [`NoChance`]: the system has none to give, and nothing that needs it may be made.
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance>;
}

/// The system gave no randomness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the system gives no randomness")]
pub struct NoChance;

impl From<NoChance> for Trouble {
    fn from(e: NoChance) -> Self {
        Self::ours(e.to_string())
    }
}

/// Who may open the board, and by which names it is reached.
pub struct Access {
    /// Names beside those of this machine.
    names: Vec<String>,
    /// Everybody has to sign in.
    pub(crate) signs_in: bool,
    pub(crate) chance: Option<Box<dyn Chance>>,
    /// The token of every form where nobody signs in; new with each start.
    run_token: Option<String>,
    pub(crate) invitations: Invitations,
    pub(crate) tries: Pace,
    pub(crate) writes: Pace,
    /// Looks at a page while it is changed.
    pub(crate) looks: Pace,
    /// Passphrases are compared one at a time: each takes memory and half a core on purpose.
    pub(crate) comparing: Semaphore,
}

impl Access {
    fn new(names: Vec<String>, signs_in: bool) -> Self {
        Self {
            names,
            signs_in,
            chance: None,
            run_token: None,
            invitations: Invitations::default(),
            tries: Pace::new(TRIES),
            writes: Pace::new(WRITES),
            looks: Pace::new(LOOKS),
            comparing: Semaphore::new(1),
        }
    }

    /// This machine alone, nobody signs in, no token in the forms: for tests and trials.
    #[must_use]
    pub fn bare() -> Self {
        Self::new(Vec::new(), false)
    }

    /// This machine alone: nobody signs in, and every form carries a token of this start of the program.
    ///
    /// # Errors
    /// [`NoChance`].
    pub fn this_machine(chance: Box<dyn Chance>) -> Result<Self, NoChance> {
        let token = Secret::new(chance.as_ref())?.form_token();
        Ok(Self {
            chance: Some(chance),
            run_token: Some(token),
            ..Self::new(Vec::new(), false)
        })
    }

    /// A board others can reach: everybody signs in. `names` are the names and addresses it is opened by, beside
    /// those of this machine; no other name is answered.
    #[must_use]
    pub fn signed_in(chance: Box<dyn Chance>, names: Vec<String>) -> Self {
        Self {
            chance: Some(chance),
            ..Self::new(names, true)
        }
    }

    /// Whether everybody has to sign in.
    #[must_use]
    pub fn signs_in(&self) -> bool {
        self.signs_in
    }

    /// A new secret.
    pub(crate) fn secret(&self) -> Result<Secret, NoChance> {
        Secret::new(self.chance()?)
    }

    pub(crate) fn chance(&self) -> Result<&dyn Chance, NoChance> {
        self.chance.as_deref().ok_or(NoChance)
    }

    /// Whether a host of a request is this board: this machine, a name it was given, or the very address the
    /// request came in by. Any other name could be one that another site points here.
    pub(crate) fn is_called(&self, host: &str, came_in_by: Option<IpAddr>) -> bool {
        let name = without_port(host).to_ascii_lowercase();
        if matches!(name.as_str(), "127.0.0.1" | "localhost" | "[::1]") {
            return true;
        }
        let literal = name.trim_start_matches('[').trim_end_matches(']');
        let by_address = || {
            let address: Option<IpAddr> = literal.parse().ok();
            self.signs_in && address.is_some() && address == came_in_by.map(|a| a.to_canonical())
        };
        self.names.iter().any(|n| n.eq_ignore_ascii_case(&name)) || by_address()
    }
}

/// A host without its port.
pub(crate) fn without_port(host: &str) -> &str {
    host.rsplit_once(':')
        .filter(|(_, port)| port.chars().all(|c| c.is_ascii_digit()))
        .map_or(host, |(name, _)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_its_own_names_are_answered() {
        let alone = Access::bare();
        let address = Some("192.168.1.5".parse().unwrap());
        for (host, is) in [
            ("127.0.0.1:4780", true),
            ("localhost", true),
            ("[::1]:4780", true),
            ("192.168.1.5:4780", false),
            ("kitchen.example", false),
            ("127.0.0.1.kitchen.example", false),
            ("", false),
        ] {
            assert_eq!(alone.is_called(host, address), is, "{host}");
        }
        let mut listened = Access::bare();
        listened.signs_in = true;
        listened.names = vec!["board.local".to_owned()];
        for (host, is) in [
            ("Board.Local:4780", true),
            ("192.168.1.5:4780", true),
            ("192.168.1.6:4780", false),
            ("evil.example", false),
            ("board.local.evil.example", false),
            ("[fe80::1]", false),
        ] {
            assert_eq!(listened.is_called(host, address), is, "{host}");
        }
        assert!(!listened.is_called("192.168.1.5", None));
    }
}
