//! Who asks for a page. Set once at the door; a page or a part of it asks for it where it needs it, so that no page
//! can be handed the wrong one, and one that was never let through the door has nobody.

use crate::tongue::say;
use jiff::Timestamp;
use maud::{Markup, html};
use store::{DeviceId, FindSession, Label, Name, PersonId, Role};

tokio::task_local! {
    /// The visitor of the request this task answers.
    pub(crate) static VISITOR: Visitor;
}

/// Who asks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Visitor {
    /// The person at the machine the board runs on, with the token of its forms.
    AtTheMachine(Option<String>),
    /// Somebody who signed in.
    SignedIn(Box<Pass>),
    /// Nobody that is known.
    Nobody,
}

/// A session as the door found it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pass {
    pub(crate) person: PersonId,
    pub(crate) name: Name,
    pub(crate) role: Role,
    pub(crate) device: DeviceId,
    /// What people call the device: the station it stands at.
    pub(crate) station: Label,
    /// The key of the session in the store.
    pub(crate) key: String,
    pub(crate) form_token: String,
    pub(crate) ends: Timestamp,
}

/// The visitor of the request this code answers; outside of one, nobody.
pub(crate) fn visitor() -> Visitor {
    VISITOR.try_with(Clone::clone).unwrap_or(Visitor::Nobody)
}

impl Visitor {
    /// Whether costs, prices and wages are for these eyes.
    pub(crate) fn sees_costs(&self) -> bool {
        self.is_instructor()
    }

    pub(crate) fn is_instructor(&self) -> bool {
        match self {
            Self::AtTheMachine(_) => true,
            Self::SignedIn(pass) => pass.role == Role::Instructor,
            Self::Nobody => false,
        }
    }

    /// The token their forms carry.
    pub(crate) fn form_token(&self) -> Option<&str> {
        match self {
            Self::AtTheMachine(token) => token.as_deref(),
            Self::SignedIn(pass) => Some(&pass.form_token),
            Self::Nobody => None,
        }
    }

    /// The session, where there is one.
    pub(crate) fn pass(&self) -> Option<&Pass> {
        match self {
            Self::SignedIn(pass) => Some(pass),
            _ => None,
        }
    }

    /// The device their entries are written down from.
    pub(crate) fn device(&self) -> &str {
        self.pass().map_or("board", |p| p.device.as_str())
    }
}

/// Who enters this: a field where nobody signed in, else the name that will stand there.
pub(crate) fn who_field(said: &str) -> Markup {
    html! {
        @match visitor().pass() {
            Some(pass) => {
                p class="who" { span class="label" { (say("board-written-as")) " " } strong { (pass.name) } }
                // A form kept on a tablet says whose it is: the door takes it from nobody else.
                input type="hidden" name="who" value=(pass.name);
            }
            None => { label { (say("board-who-needed")) input name="who" required value=(said) autocomplete="off"; } }
        }
    }
}

/// What the store is asked for a cookie.
pub(crate) fn session(key: &str, at: Timestamp) -> FindSession {
    FindSession {
        key: key.to_owned(),
        at,
    }
}
