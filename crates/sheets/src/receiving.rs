//! The receiving sheet: what a delivery is looked at for, before anybody signs.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use kitchen::Id;
use kitchen::label::Origin;
use plan::order::OrderLine;
use safety::planned::cold_hold;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Writer, file, strong, text};

/// A sheet for every delivery.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let mut deliveries: BTreeMap<(Option<DateTime>, &Id), Vec<&OrderLine>> = BTreeMap::new();
    for line in &w.plan.order {
        deliveries
            .entry((line.delivery, &line.supplier))
            .or_default()
            .push(line);
    }
    deliveries
        .into_iter()
        .map(|((at, supplier), lines)| sheet(w, supplier, at, &lines))
        .collect()
}

fn sheet(w: &Writer<'_>, supplier: &Id, at: Option<DateTime>, lines: &[&OrderLine]) -> Sheet {
    let mut facts = vec![
        w.fact("fact-arrives", strong(w.at_or_unknown(at))),
        w.fact("fact-came-at", Cell::WriteIn),
        w.fact("fact-received-by", Cell::WriteIn),
        w.fact("fact-probe-checked", Cell::WriteIn),
    ];
    // The ceiling for cold food at the place; a colder one of the recipe stands on the station card.
    if let Ok((most, source)) = cold_hold(w.plan.scene.site.rules) {
        let (most, status) = (
            w.temperature(most),
            w.say(crate::cooling_log::status_key(source.status)),
        );
        facts.push(w.fact(
            "fact-cold-at-most",
            strong(w.say_with(
                "limit-of",
                &[
                    ("limit", (&most).into()),
                    ("title", source.title.into()),
                    ("status", (&status).into()),
                ],
            )),
        ));
    }
    let rows = lines
        .iter()
        .map(|l| {
            let fish = is_of(w, &l.item, Origin::Fish);
            vec![
                text(l.spec.clone()),
                strong(w.amount(l)),
                Cell::WriteIn,
                Cell::WriteIn,
                if fish { Cell::WriteIn } else { Cell::Nothing },
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::Tick,
                Cell::Tick,
            ]
        })
        .collect();
    let mut blocks = vec![
        Block::Facts(facts),
        w.table(
            &[
                ("column-spec", 3.2),
                ("column-ordered", 1.4),
                ("column-came", 1.2),
                ("column-suppliers-lot", 1.4),
                ("column-wild-farmed", 1.2),
                ("column-temperature", 1.0),
                ("column-look-smell", 1.3),
                ("column-taken", 0.7),
                ("column-refused", 0.7),
            ],
            rows,
        ),
        w.line("receiving-rule"),
    ];
    if lines.iter().any(|l| is_of(w, &l.item, Origin::Fish)) {
        blocks.push(w.line("receiving-fish"));
    }
    blocks.push(w.lines("receiving-claim", 2));
    let name = w.supplier(supplier);
    let day = at.map_or_else(String::new, |at| at.date().to_string());
    w.sheet(
        &file(&["receiving", supplier.as_str(), &day]),
        (Kind::ReceivingSheet, Size::PageWide),
        (
            w.say_with("receiving-sheet", &[("supplier", (&name).into())]),
            vec![w.at_or_unknown(at)],
        ),
        blocks,
        &lots_of(w, lines),
    )
}

/// Codes of the lots a delivery goes into.
fn lots_of(w: &Writer<'_>, lines: &[&OrderLine]) -> Vec<String> {
    w.plan
        .components
        .iter()
        .filter(|c| {
            lines
                .iter()
                .any(|l| l.shares.iter().any(|(id, _)| *id == c.recipe))
        })
        .map(|c| w.code(&c.recipe))
        .collect()
}

/// Whether an item is made from something, as far as the book says.
fn is_of(w: &Writer<'_>, item: &Id, origin: Origin) -> bool {
    w.plan
        .scene
        .book
        .ingredients
        .get(item)
        .and_then(|i| i.origin.as_ref())
        .is_some_and(|o| o.from.contains(&origin))
}

impl Writer<'_> {
    /// A supplier's name as the book has it.
    pub(crate) fn supplier(&self, id: &Id) -> String {
        self.plan
            .scene
            .site
            .suppliers
            .iter()
            .find(|s| s.id == *id)
            .map_or_else(|| id.to_string(), |s| s.name.clone())
    }

    /// What is bought, as it is asked for: "5 fish", "1.840 kg".
    pub(crate) fn amount(&self, line: &OrderLine) -> String {
        if line.by_weight {
            return line
                .bought_g()
                .map_or_else(|| self.say("not-known"), |g| self.kilograms(g));
        }
        let n = self.words.short(line.packs, 2);
        let word = self.pack_word(&line.word, line.packs);
        match line.pack_g {
            Some(g) => format!("{n} {word} × {}", self.weight(g, false)),
            None => format!("{n} {word}"),
        }
    }

    /// What a pack is called: known words in the language of the sheet, others as the book has them.
    fn pack_word(&self, word: &str, n: f64) -> String {
        let key = format!("pack-{word}");
        if self.words.has(&key) {
            self.say_with(&key, &[("n", crate::formula::count(n).into())])
        } else {
            plan::wording::plural(word, n)
        }
    }
}
