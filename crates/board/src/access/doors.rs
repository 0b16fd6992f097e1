//! What each address asks of a visitor, in one table. An address that is not in it is for the instructor alone, so that
//! a page somebody adds and forgets here shows nobody too much.

use store::Role;

use super::visitor::Visitor;

/// Who may.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Who {
    /// Whoever reaches the board.
    Anyone,
    /// Whoever is signed in; what they see holds no costs unless they are the instructor.
    Kitchen,
    /// Whoever works: instructor and learners.
    Hands,
    /// The instructor.
    Instructor,
}

use Who::{Anyone, Hands, Instructor, Kitchen};

/// Address as in `app.rs`, who may read it, who may send to it.
const DOORS: &[(&str, Who, Who)] = &[
    ("/look/board.css", Anyone, Instructor),
    ("/sign-in", Anyone, Anyone),
    ("/sign-in/{token}", Anyone, Instructor),
    ("/sign-out", Anyone, Anyone),
    ("/language", Anyone, Anyone),
    ("/", Kitchen, Instructor),
    ("/event/{event}/today", Kitchen, Instructor),
    ("/event/{event}/weigh", Kitchen, Instructor),
    ("/event/{event}/lot/{component}", Kitchen, Instructor),
    ("/event/{event}/cold", Kitchen, Instructor),
    ("/event/{event}/guests", Kitchen, Instructor),
    ("/event/{event}/record", Kitchen, Hands),
    // A learner reads what may be done; the decision is the instructor's.
    ("/event/{event}/deviation", Kitchen, Instructor),
    ("/event/{event}/verdicts", Kitchen, Instructor),
    ("/event/{event}/why", Kitchen, Instructor),
    ("/event/{event}/why/{figure}", Kitchen, Instructor),
    ("/bench", Kitchen, Instructor),
    ("/bench/{question}", Kitchen, Instructor),
    ("/sources", Kitchen, Instructor),
    // Money: the plan's first page, order, cost and what a change costs.
    ("/event/{event}", Instructor, Instructor),
    ("/event/{event}/order", Instructor, Instructor),
    ("/event/{event}/cost", Instructor, Instructor),
    ("/event/{event}/compare", Instructor, Instructor),
    // The book: its pages hold prices, and what is written there changes what the kitchen does.
    ("/recipe", Instructor, Instructor),
    ("/recipe/book.zip", Instructor, Instructor),
    ("/recipe/paste", Instructor, Instructor),
    ("/recipe/made_from", Instructor, Instructor),
    ("/recipe/{which}", Instructor, Instructor),
    ("/recipe/{which}/edit", Instructor, Instructor),
    ("/recipe/{which}/revisions", Instructor, Instructor),
    ("/recipe/{which}/compare", Instructor, Instructor),
    ("/recipe/{which}/conflict/{id}", Instructor, Instructor),
    (
        "/recipe/{which}/conflict/{id}/theirs",
        Instructor,
        Instructor,
    ),
    ("/look/recipe.js", Anyone, Instructor),
    ("/look/{script}", Anyone, Instructor),
    ("/event/{event}/live", Kitchen, Instructor),
    // Papers: order sheets hold prices, rubrics hold marks.
    ("/event/{event}/sheets", Instructor, Instructor),
    ("/event/{event}/sheets/{paper}", Instructor, Instructor),
    (
        "/event/{event}/sheets/{paper}/{file}",
        Instructor,
        Instructor,
    ),
    ("/people", Instructor, Instructor),
    ("/people/out", Instructor, Instructor),
    ("/people/left", Instructor, Instructor),
];

/// Bench questions that are asked with prices and wages and answered in money.
const OF_MONEY: &[&str] = &["worth"];

/// Whether somebody may read (or send to) an address; `None` is an address there is not.
pub(crate) fn open(visitor: &Visitor, route: Option<&str>, sends: bool) -> bool {
    let who =
        match route {
            None => Kitchen,
            Some(route) => DOORS.iter().find(|(r, _, _)| *r == route).map_or(
                Instructor,
                |(_, reads, writes)| {
                    if sends { *writes } else { *reads }
                },
            ),
        };
    let role = visitor.pass().map(|p| p.role);
    match who {
        Anyone => true,
        Kitchen => *visitor != Visitor::Nobody,
        Hands => visitor.is_instructor() || role == Some(Role::Learner),
        Instructor => visitor.is_instructor(),
    }
}

/// Whether somebody may read an address.
pub(crate) fn may_read(visitor: &Visitor, route: &str) -> bool {
    open(visitor, Some(route), false)
}

/// Whether somebody may send to an address.
pub(crate) fn may_send(visitor: &Visitor, route: &str) -> bool {
    open(visitor, Some(route), true)
}

/// Whether a bench question is for somebody.
pub(crate) fn may_ask(visitor: &Visitor, question: &str) -> bool {
    visitor.sees_costs() || !OF_MONEY.contains(&question)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_address_of_the_board_is_in_the_table() {
        let routes: Vec<&str> = [
            include_str!("../app.rs"),
            include_str!("../pages/recipe.rs"),
        ]
        .iter()
        .flat_map(|file| file.split(".route(").skip(1))
        .filter_map(|rest| rest.split('"').nth(1))
        .collect();
        assert!(routes.len() > 15, "{routes:?}");
        for route in &routes {
            assert!(
                DOORS.iter().any(|(r, _, _)| r == route),
                "{route}: say in the table who may read it and who may send to it"
            );
        }
        for (route, _, _) in DOORS {
            assert!(routes.contains(route), "{route} is no address any more");
        }
    }

    #[test]
    fn what_is_not_in_the_table_is_for_the_instructor() {
        let machine = Visitor::AtTheMachine(None);
        assert!(open(&machine, Some("/new"), false));
        assert!(!open(&Visitor::Nobody, Some("/new"), false));
        assert!(!open(&Visitor::Nobody, None, false));
    }
}
