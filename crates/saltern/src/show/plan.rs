//! `saltern plan` for people.

use plan::Plan;
use plan::timeline::Status;
use safety::Verdict;

use super::text::{COLUMNS, money, paragraph};
use super::{allergens, clock, sections, specials, ways};

/// The whole plan.
pub(crate) fn render(plan: &Plan) -> String {
    let mut out = head(plan);
    for part in [
        super::happened::happened(plan),
        sections::decide(plan),
        ways::ways(plan),
        sections::weigh(plan),
        sections::order(plan),
        sections::cost(plan),
        clock::clock(plan),
        sections::discard(plan),
        sections::windows(plan),
        sections::verdicts(plan),
        super::robust::robust(plan),
        allergens::allergens(plan),
        specials::specials(plan),
    ] {
        if part.is_empty() {
            continue;
        }
        out.push('\n');
        out.push_str(&part);
    }
    out.push('\n');
    out.push_str(&cautions());
    out.push_str(&paragraph("· ", &weights(plan)));
    out
}

/// What the clock weighs against what, in minutes of cooking work away from its best hour.
fn weights(plan: &Plan) -> String {
    let w = plan.scene.site.clock;
    let n = |weight: f64| {
        let text = plan::figures::number(weight, 3);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    format!(
        "The clock weighs a minute away from the best hour {}, around the cooking {}, a person-minute of overtime {}, an extra act {} and its minutes (--set clock.best-hour=…)",
        n(w.best_hour),
        n(w.around),
        n(w.overtime),
        n(w.act)
    )
}

/// The answers first.
fn head(plan: &Plan) -> String {
    let e = &plan.scene.event;
    let sign = &plan.scene.site.currency;
    let serve = e.serve.strftime("%a %Y-%m-%d %H:%M");
    let what = if plan.scene.event.spare > 0.0 {
        format!(
            "{} plates for {} {}s",
            plan::figures::number(plan.plates, 0),
            e.covers,
            e.cover_word
        )
    } else {
        format!("{} {}s", e.covers, e.cover_word)
    };
    let mut out = paragraph("", &format!("{}: {what}, {serve}", e.name));
    let number = plan
        .scene
        .site
        .plan_number
        .as_deref()
        .unwrap_or("none named");
    out.push_str(&paragraph(
        "",
        &format!(
            "{} · rules {} · variance and plan {number}",
            plan.scene.site.name,
            plan.scene.site.rules.word()
        ),
    ));
    if !plan.scene.book.note.is_empty() {
        out.push_str(&paragraph("", &plan.scene.book.note));
    }
    for change in &plan.scene.changes {
        out.push_str(&format!("with {change}\n"));
    }
    out.push('\n');
    let clock = match plan.timeline.status {
        Status::Proved => "CLOCK holds, none better".to_owned(),
        Status::Feasible => "CLOCK holds".to_owned(),
        Status::Impossible => "CLOCK IMPOSSIBLE".to_owned(),
        Status::NotFound => "CLOCK NOT FOUND".to_owned(),
    };
    let count = |v: Verdict| {
        plan.verdicts
            .iter()
            .filter(|x| x.judgement.verdict == v)
            .count()
    };
    let parts = [
        clock,
        format!(
            "FOOD {} bought, {} a {}",
            money(sign, plan.cost.food_bought, 2),
            money(sign, plan.cost.per_cover_bought(), 3),
            e.cover_word
        ),
        format!("WORK {}", sections::minutes(plan.cost.labour_min)),
        format!(
            "VERDICTS {} broken, {} not shown, {} shown",
            count(Verdict::Broken),
            count(Verdict::NotShown),
            count(Verdict::Shown)
        ),
    ];
    let line = parts.join("  |  ");
    if line.chars().count() <= COLUMNS {
        out.push_str(&line);
        out.push('\n');
    } else {
        out.push_str(&parts[..2].join("  |  "));
        out.push('\n');
        out.push_str(&parts[2..].join("  |  "));
        out.push('\n');
    }
    out
}

fn cautions() -> String {
    let mut out = String::new();
    for line in [
        "A plan is not evidence: what is cured, cooked or cooled is shown by readings of a checked instrument.",
        "Local code and the plan your authority approved come first; ask them where a limit here is marked second-hand or from memory.",
        "Any figure: saltern why BOOK EVENT FIGURE",
    ] {
        out.push_str(&paragraph("· ", line));
    }
    out
}
