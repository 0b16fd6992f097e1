//! How sturdy the clock is.

use plan::Plan;
use plan::figures::number;
use plan::robust::Used;

use super::text::paragraph;

/// In how many drawn days everything still holds, and what threatens it most. Empty without a clock.
#[allow(clippy::cast_precision_loss)]
pub(crate) fn robust(plan: &Plan) -> String {
    let Some(r) = &plan.robust else {
        return String::new();
    };
    let pct = |x: f64| number(x * 100.0, 1);
    let mut out = paragraph(
        "ROBUST  ",
        &format!(
            "every wait, hour and shift holds on {} of {} drawn days ({} % ± {}) if nobody re-plans",
            number(r.met as f64, 0),
            number(r.draws as f64, 0),
            pct(r.chance()),
            pct(r.error)
        ),
    );
    if !r.threats.is_empty() {
        let threats: Vec<String> = r
            .threats
            .iter()
            .map(|t| format!("{} ({})", t.task, t.days))
            .collect();
        out.push_str(&paragraph(
            "    threatened most by ",
            &format!("{} (days it was behind a breach)", threats.join(", ")),
        ));
    }
    let range = |u: &Used| {
        format!(
            "{} % to {} % of usual",
            number(u.low * 100.0, 0),
            number(u.high * 100.0, 0)
        )
    };
    let from = |u: &Used| format!(" ({}: {})", u.source.source.status.words(), u.source.place);
    let used = if r.hands.source == r.programme.source {
        format!(
            "hands {}, programmes {}{}",
            range(&r.hands),
            range(&r.programme),
            from(&r.hands)
        )
    } else {
        format!(
            "hands {}{}, programmes {}{}",
            range(&r.hands),
            from(&r.hands),
            range(&r.programme),
            from(&r.programme)
        )
    };
    out.push_str(&paragraph(
        "    drawn with ",
        &format!(
            "{used}; {} tasks by their own page. Waits, deliveries and yields are not drawn",
            r.own
        ),
    ));
    if let Some(b) = &r.bought {
        let asked = pct(b.target);
        let reached = if r.chance() >= b.target {
            format!("{asked} % asked for, reached")
        } else {
            format!("{asked} % asked for, NOT reached by what was tried; this is the best of it")
        };
        out.push_str(&paragraph(
            "    allowed ",
            &format!(
                "{reached}: {} days without allowances; {} person-minutes booked beyond the usual; {} → {} weighted min away \
                 from the hours wished for; {} clocks tried",
                b.met_before,
                b.person_minutes,
                number(b.value.0, 0),
                number(b.value.1, 0),
                b.clocks
            ),
        ));
        let allowed: Vec<String> = b
            .allowance
            .iter()
            .map(|(id, m)| format!("{id} +{m} min"))
            .collect();
        if !allowed.is_empty() {
            out.push_str(&paragraph("      – ", &allowed.join(", ")));
        }
    }
    out
}
