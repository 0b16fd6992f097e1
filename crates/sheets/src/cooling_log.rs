//! The cooling log: from hot to cold, by the hours the rule of the place gives.

use kitchen::verb::Verb;
use safety::planned::cooling_rule;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, Writer, file, number, strong, text};

/// Rows to write readings in: every half hour over the six hours most rules give.
const ROWS: usize = 13;

/// A log for every chill.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.places()
        .into_iter()
        .filter(|p| p.step.verb == Verb::Chill)
        .map(|p| log(w, &p))
        .collect()
}

fn log(w: &Writer<'_>, p: &Place<'_>) -> Sheet {
    let mut blocks = Vec::new();
    let mut facts = Vec::new();
    if let Some(at) = w.starts(&p.recipe.id, &p.step.id) {
        facts.push(w.fact("fact-starts", strong(w.moment(at))));
    }
    if let Some(at) = w.ends(&p.recipe.id, &p.step.id) {
        facts.push(w.fact("fact-cold-planned", text(w.moment(at))));
    }
    facts.push(w.fact("fact-weight", text(w.kilograms(p.flow.in_g))));
    facts.push(w.fact("fact-heat-off", Cell::WriteIn));
    blocks.push(Block::Facts(facts));
    match cooling_rule(w.plan.scene.site.rules) {
        Ok(rule) => {
            // The clock of the rule starts with the reading, so its hours are written in; the spans are the rule's.
            #[allow(clippy::cast_possible_truncation)] // minutes of a rule
            let span = |minutes: f64| w.words.span(minutes.round() as i64);
            let mut rows = vec![vec![
                strong(w.temperature(rule.from_c)),
                text(w.say("cooling-clock-starts")),
                Cell::WriteIn,
                Cell::WriteIn,
            ]];
            if rule.first_c > rule.last_c {
                let within = span(rule.first_min);
                rows.push(vec![
                    strong(w.temperature(rule.first_c)),
                    text(w.say_with("cooling-within", &[("span", (&within).into())])),
                    Cell::WriteIn,
                    Cell::WriteIn,
                ]);
            }
            let within = span(rule.total_min);
            rows.push(vec![
                strong(w.temperature(rule.last_c)),
                text(w.say_with("cooling-within-in-all", &[("span", (&within).into())])),
                Cell::WriteIn,
                Cell::WriteIn,
            ]);
            blocks.push(w.table(
                &[
                    ("column-down-to", 1.2),
                    ("column-rule", 3.0),
                    ("column-by-hour", 1.2),
                    ("column-read-at", 1.2),
                ],
                rows,
            ));
            blocks.push(Block::Text(w.source_line(rule.source, rule.holds)));
        }
        Err(_) => blocks.push(w.line("cooling-no-rule")),
    }
    blocks.push(w.heading("heading-readings"));
    let rows = (1..=ROWS)
        .map(|n| {
            vec![
                number(n.to_string()),
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::WriteIn,
            ]
        })
        .collect();
    blocks.push(w.table(
        &[
            ("column-order", 0.5),
            ("column-hour", 1.0),
            ("column-thickest", 2.0),
            ("column-initials", 1.0),
        ],
        rows,
    ));
    blocks.push(w.line("cooling-thickest"));
    blocks.push(Block::Ticks(vec![
        w.say("cooling-tick-reached"),
        w.say("cooling-tick-not-reached"),
        w.say("cooling-tick-not-read"),
    ]));
    blocks.push(w.lines("what-was-done", 2));
    blocks.extend(w.cautions(p));
    w.sheet(
        &file(&["cooling-log", p.recipe.id.as_str(), p.step.id.as_str()]),
        (Kind::CoolingLog, Size::Card),
        (
            w.say_with("cooling-log", &[("name", (&p.component.name).into())]),
            vec![p.step.what.clone()],
        ),
        blocks,
        &[w.code(&p.recipe.id)],
    )
}

impl Writer<'_> {
    /// A source with how far it was read, and whether its rule is one of the place. Titles stay as they are.
    pub(crate) fn source_line(&self, source: &sources::Source, holds: safety::Holds) -> String {
        let status = self.say(status_key(source.status));
        let holds = self.say(match holds {
            safety::Holds::Here => "holds-here",
            safety::Holds::AsGuidance => "holds-as-guidance",
            safety::Holds::StandIn => "holds-stand-in",
        });
        self.say_with(
            "source-line",
            &[
                ("title", source.title.into()),
                ("status", (&status).into()),
                ("holds", (&holds).into()),
            ],
        )
    }
}

pub(crate) const fn status_key(status: sources::Status) -> &'static str {
    use sources::Status;
    match status {
        Status::Read => "status-read",
        Status::SecondHand => "status-second-hand",
        Status::FromMemory => "status-from-memory",
        Status::CommonPractice => "status-practice",
        Status::House => "status-house",
        Status::Entered => "status-entered",
        Status::Computed => "status-computed",
    }
}
