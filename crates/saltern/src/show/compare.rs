//! `saltern compare` for people.

use std::fmt::Write;

use plan::Plan;
use plan::compare::{Difference, shift};

use super::sections;
use super::text::{column, difference, money, paragraph, right};

/// Changed weights printed; the rest is in --json.
const MOST_WEIGHTS: usize = 40;

/// What changes, why, what it costs.
pub(crate) fn render(before: &Plan, after: &Plan, d: &Difference) -> String {
    let sign = &after.scene.site.currency;
    let mut out = String::new();
    let mut cause: Vec<String> = after
        .scene
        .changes
        .iter()
        .map(ToString::to_string)
        .collect();
    if after.happened.is_some() {
        cause.push("what happened".to_owned());
    }
    out.push_str(&paragraph("", &headline(before, after, d)));
    let cause = if cause.is_empty() {
        "what happened".to_owned()
    } else {
        cause.join(", ")
    };
    out.push_str(&paragraph("because of  ", &cause));
    out.push_str(&super::happened::happened(after));
    out.push('\n');
    out.push_str(&sections::decide(after));
    let ways = super::ways::ways(after);
    if !ways.is_empty() {
        out.push('\n');
        out.push_str(&ways);
    }
    out.push('\n');
    let _ = writeln!(
        out,
        "CLOCK {} → {}",
        before.timeline.status.word(),
        after.timeline.status.word()
    );
    let mut root = String::new();
    for m in &d.moved {
        let line = match (&m.before, &m.after, m.by_min) {
            (Some(b), Some(a), Some(by)) => format!("{b} → {a}   {}", shift(by)),
            (None, Some(a), _) => format!("new, {a}"),
            (Some(b), None, _) => format!("{b} → gone"),
            _ => String::new(),
        };
        let longer = match m.longer_min {
            0 => String::new(),
            n if n > 0 => format!("{n} min longer"),
            n => format!("{} min shorter", -n),
        };
        let line = if m.by_min == Some(0) && !longer.is_empty() {
            line.replace(&shift(0), &longer)
        } else {
            line
        };
        let _ = writeln!(out, "    {} {line}", column(&m.id, 38));
        if m.by_min.is_some_and(|by| by != 0) && !longer.is_empty() {
            let _ = writeln!(out, "        and {longer}");
        }
        out.push_str(&why(m, &mut root));
    }
    if after.timeline.tasks.is_empty() {
        // The reasons stand above.
    } else if d.moved.is_empty() {
        out.push_str("    nothing moves\n");
    } else if d.stayed > 0 {
        let _ = writeln!(out, "    unchanged: {} other tasks", d.stayed);
    }
    for line in plan::compare::slack_left(d, after) {
        out.push_str(&paragraph("    ", &line));
    }
    for (group, was, now) in &d.people {
        let _ = writeln!(
            out,
            "    {group}: there until {} → {}",
            was.as_deref().unwrap_or("–"),
            now.as_deref().unwrap_or("–")
        );
    }
    if !d.weights.is_empty() {
        out.push_str("\nWEIGHTS\n");
        for w in d.weights.iter().take(MOST_WEIGHTS) {
            let _ = writeln!(
                out,
                "    {} {} → {}",
                column(&w.id, 48),
                right(&w.before, 18),
                w.after
            );
        }
    }
    if d.weights.len() > MOST_WEIGHTS {
        let _ = writeln!(
            out,
            "    and {} more (--json lists them)",
            d.weights.len() - MOST_WEIGHTS
        );
    }
    out.push_str("\nMONEY\n");
    for m in &d.food {
        let per = m.per_cover.map_or_else(String::new, |p| {
            format!(
                "   then {} a {}",
                money(sign, p, 2),
                after.scene.event.cover_word
            )
        });
        let _ = writeln!(
            out,
            "    {} {}{per}",
            column(&m.what, 38),
            right(&difference(sign, m.by), 12)
        );
    }
    for m in &d.labour {
        let _ = writeln!(
            out,
            "    {} {}",
            column(&m.what, 38),
            right(&difference(sign, m.by), 12)
        );
    }
    let food = after.cost.food_bought - before.cost.food_bought;
    let labour = after.cost.labour_cost - before.cost.labour_cost;
    if d.food.is_empty() && d.labour.is_empty() {
        out.push_str("    no difference\n");
    }
    let _ = writeln!(
        out,
        "    food {}, labour {}; prime {} a {}",
        difference(sign, food),
        difference(sign, labour),
        money(sign, after.cost.prime_per_cover(), 2),
        after.scene.event.cover_word
    );
    if !d.verdicts.is_empty() {
        out.push_str("\nVERDICTS\n");
        for (id, was, now) in &d.verdicts {
            out.push_str(&paragraph(
                &format!("    {} ", column(id, 44)),
                &format!("{was} → {now}"),
            ));
        }
    }
    out
}

/// What moved it: the nearest reason, and the one at the root unless the line before had the same.
fn why(m: &plan::compare::Moved, root: &mut String) -> String {
    let (Some(near), Some(far)) = (m.because.first(), m.because.last()) else {
        return String::new();
    };
    let said = if near == far {
        near.clone()
    } else if far == root {
        format!("{near}; at the root the same")
    } else {
        format!("{near}; at the root: {far}")
    };
    root.clone_from(far);
    paragraph("        because ", &said)
}

fn headline(before: &Plan, after: &Plan, d: &Difference) -> String {
    let sign = &after.scene.site.currency;
    let prime = after.cost.prime() - before.cost.prime();
    let plate = after
        .timeline
        .tasks
        .iter()
        .find(|t| t.meaning.kind == plan::tasks::Kind::Plating);
    let plating = plate.map_or_else(String::new, |p| {
        let at = jiff::Timestamp::from_second(p.start * 60).map_or_else(
            |_| String::new(),
            |t| {
                t.to_zoned_datetime(after.scene.site.zone.clone())
                    .strftime("%H:%M")
                    .to_string()
            },
        );
        format!("PLATE AT {at}  ")
    });
    match after.timeline.status {
        plan::timeline::Status::Impossible => format!("IMPOSSIBLE  {}", after.scene.event.name),
        plan::timeline::Status::NotFound => format!("NO CLOCK FOUND  {}", after.scene.event.name),
        _ => format!(
            "{plating}{} of {} tasks move, money {}",
            d.moved.len(),
            d.moved.len() + d.stayed,
            difference(sign, prime)
        ),
    }
}
