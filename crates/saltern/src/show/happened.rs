//! What happened, as the plan took it.

use plan::Plan;
use plan::happened::State;

use super::text::paragraph;

/// The record of a plan: the hour it is, how far things are, what was taken, what looks odd. Empty without one.
pub(crate) fn happened(plan: &Plan) -> String {
    let Some(told) = &plan.happened else {
        return String::new();
    };
    let wall = |m: i64| {
        jiff::Timestamp::from_second(m * 60).map_or_else(
            |_| String::new(),
            |t| {
                t.to_zoned_datetime(plan.scene.site.zone.clone())
                    .strftime("%a %m-%d %H:%M")
                    .to_string()
            },
        )
    };
    let count = |state: State| told.states.values().filter(|s| **s == state).count();
    let mut out = paragraph(
        "HAPPENED  ",
        &format!(
            "it is {}; done {}, under way {}, taken as done {}, not written down {}",
            wall(told.now),
            count(State::Done),
            count(State::UnderWay),
            count(State::Taken),
            count(State::NotWrittenDown)
        ),
    );
    for note in &told.notes {
        out.push_str(&paragraph("  · ", note));
    }
    out
}

/// How far a task is, beside its hours in the clock.
pub(crate) fn state(plan: &Plan, id: &str) -> &'static str {
    plan.happened
        .as_ref()
        .and_then(|told| told.states.get(id))
        .map_or("", |state| state.word())
}
