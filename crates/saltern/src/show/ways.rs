//! Ways out of a plan without a clock, for people.

use std::fmt::Write;

use plan::Plan;
use plan::setting::Setting;
use plan::ways::{Tried, on_the_command_line};

use super::text::{difference, paragraph};

/// What was tried where there is no clock; nothing where there is one.
pub(crate) fn ways(plan: &Plan) -> String {
    let Some(found) = &plan.ways_out else {
        return String::new();
    };
    let mut out = String::new();
    out.push_str(&paragraph(
        "WAYS OUT  ",
        &format!(
            "each planned anew ({} plans); add its --set to the command to see its plan",
            found.plans
        ),
    ));
    if found.ways.is_empty() {
        out.push_str("    none of what was tried gives a clock\n");
    }
    for (i, way) in found.ways.iter().enumerate() {
        out.push_str(&paragraph(
            &format!("  {}  ", i + 1),
            &format!("{}: clock {}", way.what, way.status.word()),
        ));
        out.push_str(&paragraph("       ", &pasted(&way.settings)));
        let sign = &plan.scene.site.currency;
        let _ = writeln!(
            out,
            "       food {}, labour {}",
            difference(sign, way.food_by),
            difference(sign, way.labour_by)
        );
        for line in &way.consequences {
            out.push_str(&paragraph("       · ", line));
        }
    }
    for other in found.others.iter().filter(|t| t.why_not.is_none()) {
        let line = format!("holds too: {}  {}", other.what, pasted(&other.settings));
        out.push_str(&paragraph("  – ", &line));
    }
    for (why, what) in by_reason(&found.others) {
        out.push_str(&paragraph(
            "  – ",
            &format!("does not help: {} ({why})", what.join("; ")),
        ));
    }
    if found.cut_short {
        out.push_str("    the effort for this ended before everything was tried\n");
    }
    out
}

fn pasted(settings: &[Setting]) -> String {
    let all: Vec<String> = settings.iter().map(on_the_command_line).collect();
    all.join(" ")
}

/// What does not help, together where the same reason stands against it.
fn by_reason(others: &[Tried]) -> Vec<(&str, Vec<&str>)> {
    let mut all: Vec<(&str, Vec<&str>)> = Vec::new();
    for other in others {
        let Some(why) = &other.why_not else { continue };
        match all.iter_mut().find(|(w, _)| w == why) {
            Some((_, what)) => what.push(&other.what),
            None => all.push((why, vec![&other.what])),
        }
    }
    all
}
