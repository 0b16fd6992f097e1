//! Tub labels: what is in it, since when, until when, whose.
//!
//! Where the book counts ware by the piece (a bag and net a breast, a jar a set) every piece has its label, made at that
//! step. Else a lot that stands cold for half a working day or more has a label for every slot it takes.

use kitchen::ingredient::Role;
use kitchen::step::{During, LineAmount, LineItem};

use crate::code::SCHEME;
use crate::door_map::{dated, state_key};
use crate::formula::count;
use crate::lots::tub_code;
use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, Writer, file, number, strong, text};

/// What stands shorter than this between two steps is not labelled, minutes. Common practice, no source.
const STANDS: i64 = 4 * 60;
/// Thousandths in a slot.
const THOUSANDTHS: f64 = 1000.0;

/// Every label of every lot.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let mut labels = Vec::new();
    for c in &w.plan.components {
        let places: Vec<Place<'_>> = w
            .places()
            .into_iter()
            .filter(|p| p.recipe.id == c.recipe)
            .collect();
        let mut first = 1;
        match places.iter().find_map(|p| Some((p, pieces_of_ware(w, p)?))) {
            Some((p, n)) => labels.extend(of_place(w, p, n, first)),
            None => {
                for p in &places {
                    let n = slots(w, p);
                    labels.extend(of_place(w, p, n, first));
                    first += n;
                }
            }
        }
    }
    labels
}

/// Pieces of ware a step uses up, where it does.
fn pieces_of_ware(w: &Writer<'_>, p: &Place<'_>) -> Option<usize> {
    p.step
        .lines
        .iter()
        .zip(&p.flow.lines)
        .find_map(|(line, g)| {
            let LineItem::Item(item) = &line.item else {
                return None;
            };
            let ware = w.plan.scene.book.ingredients.get(item)?.role == Some(Role::Ware);
            (ware && matches!(line.amount, LineAmount::PerPiece(_)))
                .then(|| usize::try_from(count(g.made_g)).ok())
                .flatten()
        })
}

/// Tubs a lot stands in after a step; none where it does not stand.
fn slots(w: &Writer<'_>, p: &Place<'_>) -> usize {
    if p.step.wait.at_most.is_none() {
        return 0;
    }
    let Some(end) = w.ends(&p.recipe.id, &p.step.id) else {
        return 0;
    };
    let until = w
        .taken(&p.recipe.id, p.at)
        .map(|t| t.start)
        .or_else(|| w.serve());
    if until.is_none_or(|until| until - end < STANDS) {
        return 0;
    }
    let waits = |machine: &kitchen::Id| {
        p.step
            .uses
            .iter()
            .any(|u| u.machine == *machine && matches!(u.during, During::Wait | During::All))
    };
    let held: i64 = w
        .plan
        .timeline
        .held
        .iter()
        .filter(|h| waits(&h.machine))
        .filter(|h| {
            w.tasks_of(&p.recipe.id, &p.step.id)
                .iter()
                .any(|t| t.meaning.id == h.task)
        })
        .map(|h| h.amount)
        .sum();
    #[allow(clippy::cast_precision_loss)] // thousandths of a few slots
    let slots = (held as f64 / THOUSANDTHS).ceil();
    // What stands in no counted place stands in one tub.
    usize::try_from(count(slots)).unwrap_or(1).max(1)
}

fn of_place(w: &Writer<'_>, p: &Place<'_>, n: usize, first: usize) -> Vec<Sheet> {
    (0..n)
        .filter_map(|i| label(w, p, (i + 1, n), first + i))
        .collect()
}

fn label(w: &Writer<'_>, p: &Place<'_>, (at, of): (usize, usize), tub: usize) -> Option<Sheet> {
    let id = &p.recipe.id;
    let code = tub_code(w.plan, id, tub)?;
    let made = w.ends(id, &p.step.id)?;
    let mut facts = vec![
        w.fact("label-made", text(w.moment(made))),
        // A label says the last day it may be kept; before its own mark runs, the hour it has to be worked on by.
        match (
            dated(p.recipe, p.at).then(|| w.discard_date(id)).flatten(),
            w.taken(id, p.at),
        ) {
            (Some(date), _) => w.fact("label-discard-by", strong(w.words.dated(date))),
            (None, Some(next)) => w.fact("label-out-by", strong(w.moment(next.latest))),
            (None, None) => w.fact("label-discard-by", Cell::WriteIn),
        },
        w.fact("label-state", strong(w.say(state_key(p.recipe, p.at)))),
    ];
    #[allow(clippy::cast_precision_loss)] // a count of tubs
    let share = if p.step.verb == kitchen::verb::Verb::Pickle {
        p.flow.in_g + p.flow.base_g
    } else {
        p.flow.out_g
    } / of as f64;
    facts.push(w.fact("label-planned-weight", number(w.weight(share, false))));
    facts.push(w.fact("label-weight", Cell::WriteIn));
    facts.push(w.fact("label-initials", Cell::WriteIn));
    let blocks = vec![
        Block::Letter(
            w.date(made)
                .map_or_else(String::new, |d| w.words.day_letters(d)),
        ),
        Block::Facts(facts),
        Block::Text(w.strip(id).join(". ")),
        Block::Code {
            holds: format!("{SCHEME}{code}"),
            letters: code.clone(),
        },
    ];
    Some(w.sheet(
        &file(&[
            "tub-label",
            id.as_str(),
            p.step.id.as_str(),
            &format!("{tub:03}"),
        ]),
        (Kind::TubLabel, Size::Label),
        (
            p.component.name.clone(),
            vec![w.say_with("label-n-of", &[("n", at.into()), ("all", of.into())])],
        ),
        blocks,
        &[code],
    ))
}
