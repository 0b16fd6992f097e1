//! The batch dossier: one page that sums a lot up, then the evidence for every line of it.
//!
//! What was not written down stands as *not written down*; a planned figure is called planned. Wordings of the rules stay in
//! the language they were read in: a rule in another wording would be another rule.

use kitchen::step::{FeedFrom, LineItem};
use plan::verdicts::Verdict;
use safety::Verdict as Word;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::wishes::Entry;
use crate::writer::{Place, Writer, file, number, strong, text};

/// A dossier a lot.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.plan
        .components
        .iter()
        .map(|c| dossier(w, &c.recipe))
        .collect()
}

fn dossier(w: &Writer<'_>, id: &kitchen::Id) -> Sheet {
    let places: Vec<Place<'_>> = w
        .places()
        .into_iter()
        .filter(|p| p.recipe.id == *id)
        .collect();
    let log: Vec<&Entry> = w
        .wishes
        .log
        .iter()
        .filter(|e| e.component.as_deref() == Some(id.as_str()))
        .collect();
    let verdicts: Vec<&Verdict> = w
        .plan
        .verdicts
        .iter()
        .filter(|v| v.component == *id)
        .collect();
    let mut blocks = summary(w, id, &places, &log, &verdicts);
    blocks.push(Block::NewPage);
    blocks.extend(lots_back(w, id, &places));
    blocks.extend(lots_forward(w, id));
    blocks.push(w.heading("heading-weights"));
    blocks.push(weights(w, &places, &log));
    for p in &places {
        if let Some((ppm, formula)) = w.nitrite(p) {
            blocks.push(w.heading("heading-nitrite"));
            blocks.push(Block::Facts(vec![
                w.fact("fact-nitrite-planned", strong(ppm)),
                w.fact("fact-nitrite-formula", text(formula)),
            ]));
            blocks.push(w.line("nitrite-green"));
        }
    }
    blocks.push(w.heading("heading-readings"));
    blocks.push(readings(w, &log));
    blocks.push(w.heading("heading-deviations"));
    blocks.extend(deviations(w, &log));
    blocks.push(w.heading("heading-verdicts"));
    blocks.push(w.line("verdicts-on-plan"));
    blocks.extend(verdict_blocks(w, &verdicts));
    blocks.push(w.heading("heading-sources"));
    blocks.extend(sources(w, &verdicts));
    blocks.push(Block::Facts(vec![
        w.fact("fact-thermometer", Cell::WriteIn),
        w.fact("fact-calibrated", Cell::WriteIn),
        w.fact("fact-reviewed-by", Cell::WriteIn),
        w.fact("fact-reviewed-on", Cell::WriteIn),
    ]));
    let code = w.code(id);
    w.sheet(
        &file(&["dossier", id.as_str()]),
        (Kind::Dossier, Size::Page),
        (
            w.say_with("dossier", &[("name", (&w.name(id)).into())]),
            vec![
                w.say_with("dossier-under", &[("code", (&code).into())]),
                w.plan.scene.event.name.clone(),
                w.plan.scene.site.name.clone(),
            ],
        ),
        blocks,
        &[code],
    )
}

/// The page that sums it up.
fn summary(
    w: &Writer<'_>,
    id: &kitchen::Id,
    places: &[Place<'_>],
    log: &[&Entry],
    verdicts: &[&Verdict],
) -> Vec<Block> {
    let scene = &w.plan.scene;
    let not_named = || text(w.say("not-named"));
    let first = places.iter().filter_map(|p| w.starts(id, &p.step.id)).min();
    let last = places.iter().filter_map(|p| w.ends(id, &p.step.id)).max();
    let made = places.last().map_or(0.0, |p| p.component.made_g);
    let mut facts = vec![
        w.fact("fact-lot", strong(w.code(id))),
        w.fact(
            "fact-plan-number",
            scene.site.plan_number.clone().map_or_else(not_named, text),
        ),
        w.fact(
            "fact-rules-of",
            text(w.say(&format!("place-{}", scene.site.rules.word()))),
        ),
        w.fact(
            "fact-first-work",
            first.map_or_else(not_named, |m| text(w.moment(m))),
        ),
        w.fact(
            "fact-last-work",
            last.map_or_else(not_named, |m| text(w.moment(m))),
        ),
        w.fact("fact-made-planned", number(w.weight(made, false))),
        w.fact(
            "fact-discard-by",
            w.discard_by(id)
                .map_or_else(|| text(w.say("no-date-in-book")), strong),
        ),
        w.fact("fact-entries", number(log.len().to_string())),
        w.fact(
            "fact-deviations",
            number(log.iter().filter(|e| e.deviation).count().to_string()),
        ),
    ];
    for (word, key) in [
        (Word::Broken, "fact-verdicts-broken"),
        (Word::NotShown, "fact-verdicts-not-shown"),
        (Word::Shown, "fact-verdicts-shown"),
    ] {
        let n = verdicts
            .iter()
            .filter(|v| v.judgement.verdict == word)
            .count();
        facts.push(w.fact(key, strong(n.to_string())));
    }
    let mut blocks = vec![Block::Facts(facts)];
    let acts = places
        .iter()
        .map(|p| {
            vec![
                text(p.step.what.clone()),
                w.starts(id, &p.step.id)
                    .map_or(Cell::Nothing, |m| text(w.moment(m))),
                number(w.weight(p.flow.out_g, false)),
                text(limits(w, p)),
            ]
        })
        .collect();
    blocks.push(w.heading("heading-flow"));
    blocks.push(w.table(
        &[
            ("column-step", 4.0),
            ("column-planned-start", 1.8),
            ("column-planned-out", 1.4),
            ("column-limit", 2.0),
        ],
        acts,
    ));
    if log.is_empty() {
        blocks.push(w.line("nothing-written-down"));
    }
    blocks.push(w.line("dossier-evidence-follows"));
    blocks
}

fn limits(w: &Writer<'_>, p: &Place<'_>) -> String {
    let mut parts = Vec::new();
    if let Some(until) = p.step.until {
        let core = w.temperature(until.core.c());
        let hold = w.words.span(until.hold.whole_minutes());
        parts.push(w.say_with(
            "hold-core",
            &[("core", (&core).into()), ("hold", (&hold).into())],
        ));
    }
    if let Some(most) = p.step.wait.at_most {
        let most = w.temperature(most.c());
        parts.push(w.say_with("hold-cold", &[("most", (&most).into())]));
    }
    parts.join("; ")
}

/// Backward: what went in, from whom; the supplier's lot is written in at the door.
fn lots_back(w: &Writer<'_>, id: &kitchen::Id, places: &[Place<'_>]) -> Vec<Block> {
    let mut rows = Vec::new();
    for line in w
        .plan
        .order
        .iter()
        .filter(|l| l.shares.iter().any(|(c, _)| c == id))
    {
        let used = line
            .shares
            .iter()
            .find(|(c, _)| c == id)
            .map_or(0.0, |(_, n)| *n);
        let amount = if line.counted {
            w.say_with("pieces", &[("n", crate::formula::count(used).into())])
        } else {
            w.weight(used, false)
        };
        rows.push(vec![
            text(line.spec.clone()),
            text(w.supplier(&line.supplier)),
            number(amount),
            Cell::WriteIn,
        ]);
    }
    for p in places {
        let fed = p.step.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(r) => Some((r, p.flow.in_g * f.share)),
            _ => None,
        });
        let mixed = p
            .step
            .lines
            .iter()
            .zip(&p.flow.lines)
            .filter_map(|(l, g)| match &l.item {
                LineItem::Recipe(r) => Some((r, g.made_g)),
                LineItem::Item(_) => None,
            });
        for (inner, g) in fed.chain(mixed) {
            rows.push(vec![
                text(w.name(inner)),
                text(w.say("made-here")),
                number(w.weight(g, false)),
                strong(w.code(inner)),
            ]);
        }
    }
    vec![
        w.heading("heading-lots-back"),
        w.table(
            &[
                ("column-what", 3.0),
                ("column-supplier", 2.0),
                ("column-planned-used", 1.3),
                ("column-suppliers-lot", 2.0),
            ],
            rows,
        ),
    ]
}

/// Forward: the dishes, or the lots it goes into.
fn lots_forward(w: &Writer<'_>, id: &kitchen::Id) -> Vec<Block> {
    let mut rows = Vec::new();
    let event = &w.plan.scene.event;
    for dish in event
        .dishes
        .iter()
        .filter_map(|d| w.plan.scene.book.dishes.get(d))
    {
        for _ in dish.parts.iter().filter(|p| p.recipe == *id) {
            let n = w.plan.component(id.as_str()).map_or(0.0, |c| c.portions);
            rows.push(vec![
                text(dish.name.clone()),
                number(w.words.short(n, 0)),
                text(w.at(event.serve)),
                Cell::WriteIn,
            ]);
        }
    }
    for p in w.places() {
        let takes = p
            .step
            .lines
            .iter()
            .any(|l| matches!(&l.item, LineItem::Recipe(r) if r == id))
            || p.step
                .feeds
                .iter()
                .any(|f| matches!(&f.from, FeedFrom::Recipe(r) if r == id));
        if takes {
            let at = w.starts(&p.recipe.id, &p.step.id);
            rows.push(vec![
                text(w.named(&p.recipe.id)),
                Cell::Nothing,
                at.map_or(Cell::Nothing, |m| text(w.moment(m))),
                Cell::WriteIn,
            ]);
        }
    }
    vec![
        w.heading("heading-lots-forward"),
        w.table(
            &[
                ("column-goes-into", 4.0),
                ("column-portions-planned", 1.3),
                ("column-when", 1.6),
                ("column-really-served", 1.5),
            ],
            rows,
        ),
    ]
}

/// Planned weights beside those that were written down.
fn weights(w: &Writer<'_>, places: &[Place<'_>], log: &[&Entry]) -> Block {
    let rows = places
        .iter()
        .map(|p| {
            let weighed: Vec<String> = log
                .iter()
                .filter(|e| e.step.as_deref() == Some(p.step.id.as_str()) && e.unit == "g")
                .filter_map(|e| e.value)
                .map(|g| w.weight(g, false))
                .collect();
            let found = if weighed.is_empty() {
                text(w.say("not-written-down"))
            } else {
                strong(weighed.join("; "))
            };
            vec![
                text(p.step.id.as_str().replace('-', " ")),
                number(w.weight(p.flow.in_g, false)),
                number(w.weight(p.flow.out_g, false)),
                number(w.words.percent(p.step.yields.mean * 100.0, 1)),
                found,
            ]
        })
        .collect();
    w.table(
        &[
            ("column-step", 1.5),
            ("column-planned-in", 1.4),
            ("column-planned-out", 1.4),
            ("column-planned-yield", 1.2),
            ("column-weighed", 2.5),
        ],
        rows,
    )
}

fn readings(w: &Writer<'_>, log: &[&Entry]) -> Block {
    let mut rows: Vec<Vec<Cell>> = log
        .iter()
        .map(|e| {
            let zone = w.plan.scene.site.zone.clone();
            vec![
                text(w.at(e.at.to_zoned_datetime(zone).datetime())),
                text(e.step.clone().unwrap_or_default().replace('-', " ")),
                text(e.what.clone()),
                e.value.map_or_else(
                    || text(w.say("no-reading")),
                    |v| strong(w.words.with_unit(&w.words.short(v, 3), &e.unit)),
                ),
                text(e.who.clone()),
                text(e.note.clone()),
            ]
        })
        .collect();
    if rows.is_empty() {
        let mut row = vec![Cell::Nothing; 6];
        row[2] = text(w.say("not-written-down"));
        rows.push(row);
    }
    w.table(
        &[
            ("column-when", 1.6),
            ("column-step", 1.2),
            ("column-what", 2.0),
            ("column-reading", 1.3),
            ("column-who", 1.4),
            ("column-note", 2.5),
        ],
        rows,
    )
}

fn deviations(w: &Writer<'_>, log: &[&Entry]) -> Vec<Block> {
    let mut blocks: Vec<Block> = log
        .iter()
        .filter(|e| e.deviation)
        .map(|e| {
            let zone = w.plan.scene.site.zone.clone();
            let at = w.at(e.at.to_zoned_datetime(zone).datetime());
            Block::Text(format!("{at}, {}: {}. {}", e.who, e.what, e.note))
        })
        .collect();
    if blocks.is_empty() {
        // That none was written down is not that none was.
        blocks.push(w.line("no-deviation-written-down"));
    }
    blocks
}

pub(crate) const fn verdict_key(verdict: Word) -> &'static str {
    match verdict {
        Word::Shown => "verdict-shown",
        Word::NotShown => "verdict-not-shown",
        Word::Broken => "verdict-broken",
    }
}

fn verdict_blocks(w: &Writer<'_>, verdicts: &[&Verdict]) -> Vec<Block> {
    if verdicts.is_empty() {
        return vec![w.line("no-rule-speaks")];
    }
    let mut sorted = verdicts.to_vec();
    sorted.sort_by_key(|v| v.judgement.verdict);
    let rows = sorted
        .iter()
        .map(|v| {
            let j = &v.judgement;
            let figure = |n: Option<f64>| {
                n.map_or_else(
                    || text(w.say("no-reading")),
                    |n| number(w.words.with_unit(&w.words.short(n, 2), j.unit)),
                )
            };
            vec![
                strong(w.say(verdict_key(j.verdict))),
                text(j.asks.clone()),
                figure(j.value),
                text(j.place.clone()),
                text(j.next.clone()),
            ]
        })
        .collect();
    vec![w.table(
        &[
            ("column-verdict", 1.2),
            ("column-asks", 3.0),
            ("column-figure", 1.2),
            ("column-where-how", 2.5),
            ("column-next", 2.5),
        ],
        rows,
    )]
}

fn sources(w: &Writer<'_>, verdicts: &[&Verdict]) -> Vec<Block> {
    let mut lines: Vec<String> = verdicts
        .iter()
        .map(|v| w.source_line(v.judgement.source, v.judgement.holds))
        .collect();
    lines.sort_unstable();
    lines.dedup();
    if lines.is_empty() {
        lines.push(w.say("no-rule-speaks"));
    }
    lines.into_iter().map(Block::Text).collect()
}
