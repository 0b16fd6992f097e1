//! The pickle log: the liquor, its acid, the pH that has to be read.

use kitchen::verb::Verb;
use plan::figures::Value;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, Writer, file, number, strong, text};

/// Readings of pH there is room for.
const READINGS: usize = 4;

/// A log for every pickle.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.places()
        .into_iter()
        .filter(|p| p.step.verb == Verb::Pickle)
        .map(|p| log(w, &p))
        .collect()
}

fn log(w: &Writer<'_>, p: &Place<'_>) -> Sheet {
    let id = &p.recipe.id;
    let mut facts = vec![
        w.fact("fact-vegetable", text(w.weight(p.flow.in_g, false))),
        w.fact("fact-liquor", strong(w.weight(p.flow.base_g, false))),
    ];
    for (key, figure) in [
        ("fact-acetic", "acetic_pct"),
        ("fact-salt", "salt_pct"),
        ("fact-sugar", "sugar_pct"),
    ] {
        // Percent of vegetable and liquor together, once they have traded.
        let value = w.plan.figures.number(&format!("{id}.lot.{figure}"));
        facts.push(w.fact(
            key,
            value.map_or_else(
                || text(w.say("not-known")),
                |n| number(w.words.percent(n, 2)),
            ),
        ));
    }
    if let Some(poured) = w.ends(id, &p.step.id) {
        facts.push(w.fact("fact-poured", strong(w.moment(poured))));
        facts.push(w.fact("fact-ph-from", strong(w.moment(poured + 24 * 60))));
    }
    facts.push(w.fact(
        "fact-discard-by",
        strong(w.discard_by(id).unwrap_or_else(|| w.say("no-date-in-book"))),
    ));
    let limit = w
        .plan
        .verdicts
        .iter()
        .find(|v| v.component == *id && v.judgement.rule == "pickle-ph")
        .and_then(|v| v.judgement.limit);
    facts.push(w.fact(
        "fact-ph-target",
        limit.map_or_else(
            || text(w.say("not-known")),
            |ph| strong(format!("≤ {}", w.words.short(ph, 2))),
        ),
    ));
    let mut blocks = vec![Block::Facts(facts)];
    blocks.push(Block::Facts(vec![
        w.fact("fact-buffer-4", Cell::WriteIn),
        w.fact("fact-buffer-7", Cell::WriteIn),
    ]));
    let rows = (1..=READINGS)
        .map(|n| {
            vec![
                number(n.to_string()),
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::WriteIn,
            ]
        })
        .collect();
    blocks.push(w.table(
        &[
            ("column-order", 0.5),
            ("column-when", 1.5),
            ("column-tub", 1.0),
            ("column-ph", 1.0),
            ("column-initials", 1.0),
        ],
        rows,
    ));
    blocks.push(w.line("pickle-above-target"));
    blocks.push(w.lines("what-was-done", 2));
    blocks.extend(w.cautions(p));
    w.sheet(
        &file(&["pickle-log", id.as_str(), p.step.id.as_str()]),
        (Kind::PickleLog, Size::Card),
        (
            w.say_with("pickle-log", &[("name", (&p.component.name).into())]),
            vec![p.step.what.clone()],
        ),
        blocks,
        &[w.code(id)],
    )
}

impl Writer<'_> {
    /// The last day a component may be kept, as the plan reckons it; `None` where the book gives no days.
    pub(crate) fn discard_by(&self, component: &kitchen::Id) -> Option<String> {
        self.discard_date(component).map(|d| self.words.dated(d))
    }

    pub(crate) fn discard_date(&self, component: &kitchen::Id) -> Option<jiff::civil::Date> {
        match &self
            .plan
            .figures
            .get(&format!("{component}.discard_by"))?
            .value
        {
            Value::Word(word) => word.split(' ').next_back()?.parse().ok(),
            _ => None,
        }
    }
}
