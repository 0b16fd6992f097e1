//! Tasks by the names people use: the component's own name, and the step in it.

use plan::Plan;
use plan::tasks::Kind;
use plan::timeline::Timed;

use crate::tongue::{say, say_with};

/// The component's name, where the task belongs to one.
pub(crate) fn component<'a>(plan: &'a Plan, t: &'a Timed) -> Option<&'a str> {
    let id = t.meaning.component.as_ref()?;
    Some(
        plan.scene
            .book
            .recipes
            .get(id)
            .map_or(id.as_str(), |r| r.name.as_str()),
    )
}

/// The step, with its load, its round, or that it runs by itself: "smoke, round 3".
pub(crate) fn step(t: &Timed) -> String {
    if t.meaning.kind == Kind::Serve {
        return say("board-service");
    }
    let id = t.meaning.id.as_str();
    let rest = t
        .meaning
        .component
        .as_ref()
        .and_then(|c| id.strip_prefix(c.as_str())?.strip_prefix('.'))
        .unwrap_or(id);
    let mut words = String::new();
    for (i, part) in rest.split('.').enumerate() {
        let (part, load) = part
            .split_once('#')
            .map_or((part, None), |(p, n)| (p, Some(n)));
        let word = match part.strip_prefix("round-") {
            Some(n) => say_with("board-round-n", &[("n", n.into())]),
            None if i > 0 && part == "run" => say("board-runs"),
            None => part.replace('-', " "),
        };
        if i > 0 {
            words.push_str(", ");
        }
        words.push_str(&word);
        if let Some(n) = load {
            words.push_str(", ");
            words.push_str(&say_with("board-load-n", &[("n", n.into())]));
        }
    }
    words
}

/// Both in one line.
pub(crate) fn whole(plan: &Plan, t: &Timed) -> String {
    component(plan, t).map_or_else(|| step(t), |c| format!("{c}: {}", step(t)))
}

/// A reading as it was entered, thousands parted: "5,220 g".
pub(crate) fn reading(reading: store::Reading) -> String {
    let number = reading.number().to_string();
    let (whole, rest) = number
        .find('.')
        .map_or((number.as_str(), ""), |at| number.split_at(at));
    let (sign, digits) = whole
        .strip_prefix('-')
        .map_or(("", whole), |digits| ("-", digits));
    let mut shown = String::from(sign);
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i) % 3 == 0 {
            shown.push(',');
        }
        shown.push(digit);
    }
    format!("{shown}{rest} {}", reading.unit())
}
