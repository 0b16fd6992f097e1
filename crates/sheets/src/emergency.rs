//! The emergency card: what to do when something stops, with the hours of this plan; phone numbers are written in.

use kitchen::verb::Verb;
use plan::tasks::Kind as TaskKind;
use safety::planned::{cold_hold, cooling_rule};

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Writer, number, strong, text};

/// The delay the last part reckons with, minutes.
const DELAY: i64 = 90;

/// One card for the event.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    vec![card(w)]
}

fn ticks(w: &Writer<'_>, keys: &[&str]) -> Block {
    Block::Ticks(keys.iter().map(|k| w.say(k)).collect())
}

fn card(w: &Writer<'_>) -> Sheet {
    let mut blocks = vec![
        Block::Facts(vec![
            w.fact("phone-emergency", Cell::WriteIn),
            w.fact("phone-poison", Cell::WriteIn),
            w.fact("phone-in-charge", Cell::WriteIn),
            w.fact("phone-building", Cell::WriteIn),
            w.fact("phone-refrigeration", Cell::WriteIn),
            w.fact("phone-authority", Cell::WriteIn),
        ]),
        w.line("emergency-first"),
    ];
    blocks.extend(smoker(w));
    blocks.extend(cold(w));
    blocks.push(w.heading("emergency-allergy"));
    blocks.push(ticks(
        w,
        &[
            "emergency-allergy-call",
            "emergency-allergy-own-medicine",
            "emergency-allergy-keep-plate",
            "emergency-allergy-labels",
        ],
    ));
    blocks.extend(delay(w));
    blocks.push(w.lines("what-was-done", 3));
    w.sheet(
        "emergency-card",
        (Kind::EmergencyCard, Size::Page),
        (
            w.say("emergency-card"),
            vec![
                w.plan.scene.event.name.clone(),
                w.plan.scene.site.name.clone(),
            ],
        ),
        blocks,
        &w.codes(),
    )
}

/// The smoker stops: which loads run when, what they must reach, and what to do with them.
fn smoker(w: &Writer<'_>) -> Vec<Block> {
    let mut rows = Vec::new();
    for p in w
        .places()
        .into_iter()
        .filter(|p| matches!(p.step.verb, Verb::HotSmoke | Verb::ColdSmoke))
    {
        for run in w
            .tasks_of(&p.recipe.id, &p.step.id)
            .into_iter()
            .filter(|t| t.meaning.kind == TaskKind::Run)
        {
            let reach = p.step.until.map_or_else(
                || w.say("no-core-aimed-at"),
                |u| {
                    let core = w.temperature(u.core.c());
                    let hold = w.words.span(u.hold.whole_minutes());
                    w.say_with(
                        "hold-core",
                        &[("core", (&core).into()), ("hold", (&hold).into())],
                    )
                },
            );
            rows.push(vec![
                text(w.named(&p.recipe.id)),
                number(w.moment(run.start)),
                number(w.moment(run.end)),
                strong(reach),
            ]);
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        w.heading("emergency-smoker"),
        w.table(
            &[
                ("column-lot", 2.5),
                ("column-starts", 1.5),
                ("column-ends", 1.5),
                ("column-must-reach", 2.5),
            ],
            rows,
        ),
        ticks(
            w,
            &[
                "emergency-smoker-read",
                "emergency-smoker-move",
                "emergency-smoker-hold",
                "emergency-smoker-not-reached",
                "emergency-smoker-relabel",
            ],
        ),
    ]
}

/// A fridge is warm, or the power is off.
fn cold(w: &Writer<'_>) -> Vec<Block> {
    let rules = w.plan.scene.site.rules;
    let mut blocks = vec![w.heading("emergency-fridge")];
    if let Ok((most, source)) = cold_hold(rules) {
        let most = w.temperature(most);
        let status = w.say(crate::cooling_log::status_key(source.status));
        blocks.push(Block::Text(w.say_with(
            "emergency-fridge-limit",
            &[
                ("limit", (&most).into()),
                ("title", source.title.into()),
                ("status", (&status).into()),
            ],
        )));
    }
    blocks.push(ticks(
        w,
        &[
            "emergency-fridge-food",
            "emergency-fridge-since",
            "emergency-fridge-move",
            "emergency-fridge-decide",
        ],
    ));
    blocks.push(w.heading("emergency-power"));
    blocks.push(ticks(
        w,
        &[
            "emergency-power-shut",
            "emergency-power-hour",
            "emergency-power-chilling",
            "emergency-power-back",
        ],
    ));
    if let Ok(rule) = cooling_rule(rules) {
        #[allow(clippy::cast_possible_truncation)] // minutes of a rule
        let span = |m: f64| w.words.span(m.round() as i64);
        let (from, last, all) = (
            w.temperature(rule.from_c),
            w.temperature(rule.last_c),
            span(rule.total_min),
        );
        blocks.push(Block::Text(w.say_with(
            "emergency-power-cooling",
            &[
                ("from", (&from).into()),
                ("last", (&last).into()),
                ("span", (&all).into()),
            ],
        )));
    }
    blocks
}

/// Service is an hour and a half late: until when every part may stand by its own longest wait.
fn delay(w: &Writer<'_>) -> Vec<Block> {
    let Some(serve) = w.serve() else {
        return Vec::new();
    };
    let late = serve + DELAY;
    let mut rows = Vec::new();
    for p in w.places().into_iter().filter(|p| p.at == p.recipe.last()) {
        let served = p.component.portions > 0.0;
        let Some(done) = w.ends(&p.recipe.id, &p.step.id).filter(|_| served) else {
            continue;
        };
        let until = done + p.step.wait.max.whole_minutes();
        let relief = p.step.wait.relief.as_ref().map(|r| r.what.clone());
        rows.push(vec![
            text(w.named(&p.recipe.id)),
            number(w.moment(until)),
            strong(w.say(if until >= late {
                "delay-within"
            } else {
                "delay-past"
            })),
            match (until < late, relief) {
                (true, Some(relief)) => text(relief),
                (true, None) => text(w.say("delay-decide")),
                (false, _) => Cell::Nothing,
            },
        ]);
    }
    let (serve, late) = (w.hour(serve), w.hour(late));
    vec![
        w.heading("emergency-delay"),
        Block::Text(w.say_with(
            "emergency-delay-hours",
            &[("serve", (&serve).into()), ("late", (&late).into())],
        )),
        w.table(
            &[
                ("column-lot", 2.5),
                ("column-stands-until", 1.8),
                ("column-at-delay", 1.5),
                ("column-what-to-do", 3.0),
            ],
            rows,
        ),
        ticks(
            w,
            &[
                "emergency-delay-plates",
                "emergency-delay-cold",
                "emergency-delay-plan",
            ],
        ),
    ]
}
