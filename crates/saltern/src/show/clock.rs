//! The clock of a plan: who does what when, what stands how long, who looks in between.

use std::fmt::Write;

use plan::Plan;
use plan::figures::number;
use plan::tasks::Kind;
use plan::timeline::Timed;
use plan::wording::people;

use super::text::{column, paragraph};

fn wall(plan: &Plan, m: i64, form: &str) -> String {
    jiff::Timestamp::from_second(m * 60).map_or_else(
        |_| String::new(),
        |t| {
            t.to_zoned_datetime(plan.scene.site.zone.clone())
                .strftime(form)
                .to_string()
        },
    )
}

/// The clock, by day.
pub(crate) fn clock(plan: &Plan) -> String {
    let t = &plan.timeline;
    let mut out = format!("CLOCK {}", t.status.word());
    if t.tasks.is_empty() {
        out.push('\n');
        for fact in &t.clash {
            out.push_str(&paragraph("  – ", fact));
        }
        return out;
    }
    let _ = writeln!(
        out,
        ": {} min away from the hours wished for, at least {} unavoidable",
        number(t.value, 0),
        number(t.bound, 0)
    );
    let mut day = String::new();
    for x in t
        .tasks
        .iter()
        .filter(|x| !matches!(x.meaning.kind, Kind::Round | Kind::Passing))
    {
        let today = wall(plan, x.start, "%a %Y-%m-%d");
        if today != day {
            let _ = writeln!(out, "  {today}");
            day = today;
        }
        out.push_str(&task(plan, x));
    }
    out.push_str(&waits(plan));
    out.push_str(&rounds(plan));
    out
}

/// When someone looks at what runs by itself.
fn rounds(plan: &Plan) -> String {
    let mut out = String::new();
    let mut last = String::new();
    for x in &plan.timeline.tasks {
        if x.meaning.kind != Kind::Round {
            continue;
        }
        let at = wall(plan, x.start, "%a %m-%d %H:%M");
        let said = format!("{at} {}: {}", people(&x.people), x.meaning.id);
        if said != last {
            out.push_str(&paragraph("    round   ", &said));
        }
        last = said;
    }
    out
}

/// How long lots stand, elapsed, and what a clock change makes of it.
fn waits(plan: &Plan) -> String {
    let mut out = String::new();
    for w in &plan.timeline.waits {
        let elapsed = |m: i64| {
            units::Elapsed::from_seconds(m * 60)
                .map_or_else(|_| format!("{m} min"), |e| e.to_string())
        };
        #[allow(clippy::cast_precision_loss)]
        let h = number(
            w.minutes as f64 / 60.0,
            if w.minutes % 60 == 0 { 0 } else { 1 },
        );
        #[allow(clippy::cast_precision_loss)]
        let change = match w.clock_change {
            0 => String::new(),
            m => format!(
                "; the clocks change between: {} h by the wall, {h} h elapsed",
                number(
                    (w.minutes + m) as f64 / 60.0,
                    if (w.minutes + m) % 60 == 0 { 0 } else { 1 }
                )
            ),
        };
        out.push_str(&paragraph(
            "    stands  ",
            &format!(
                "{} → {}: {h} h (allowed {} to {}){change}",
                w.from,
                w.to,
                elapsed(w.min),
                elapsed(w.max)
            ),
        ));
    }
    out
}

fn task(plan: &Plan, x: &Timed) -> String {
    let hours = if x.start == x.end {
        format!("{}      ", wall(plan, x.start, "%H:%M"))
    } else if wall(plan, x.start, "%F") == wall(plan, x.end, "%F") {
        format!(
            "{}–{}",
            wall(plan, x.start, "%H:%M"),
            wall(plan, x.end, "%H:%M")
        )
    } else {
        format!(
            "{}–{}",
            wall(plan, x.start, "%H:%M"),
            wall(plan, x.end, "%a %H:%M")
        )
    };
    let who = match x.meaning.kind {
        Kind::Run => "by itself".to_owned(),
        Kind::Serve => String::new(),
        _ => people(&x.people),
    };
    let state = super::happened::state(plan, &x.meaning.id);
    let window = if !state.is_empty() {
        state.to_owned()
    } else if x.meaning.kind == Kind::Hands
        && x.latest > x.earliest
        && x.latest - x.earliest < 30 * 24 * 60
    {
        let same = wall(plan, x.earliest, "%F") == wall(plan, x.start, "%F");
        let form = if same { "%H:%M" } else { "%a %H:%M" };
        let form_to = if wall(plan, x.latest, "%F") == wall(plan, x.start, "%F") {
            "%H:%M"
        } else {
            "%a %H:%M"
        };
        format!(
            "from {} to {}",
            wall(plan, x.earliest, form),
            wall(plan, x.latest, form_to)
        )
    } else {
        String::new()
    };
    let mut out = String::new();
    let name = if x.meaning.kind == Kind::Serve {
        "SERVICE".to_owned()
    } else {
        x.meaning.id.clone()
    };
    let line = format!(
        "    {}  {} {} {window}",
        column(&hours, 15),
        column(&name, 32),
        column(&who, 18)
    );
    out.push_str(line.trim_end());
    out.push('\n');
    out
}
