//! Special plates: what each lays otherwise.

use plan::Plan;
use plan::wording::{grams, item_name};

use super::text::{column, paragraph, plural};

/// Columns of seat and plates.
const PLACE: usize = 14;

/// The section; empty where the event has none.
pub(crate) fn specials(plan: &Plan) -> String {
    if plan.specials.is_empty() {
        return String::new();
    }
    let plates: u32 = plan.specials.iter().map(|l| l.special.plates).sum();
    let mut out = paragraph(
        "SPECIAL PLATES  ",
        &format!(
            "{plates} of {} covers, as far as the labels in the book say; the guest is asked, the label is read",
            plan.scene.event.covers
        ),
    );
    for l in &plan.specials {
        out.push_str(&paragraph(
            &format!("  {} ", column(&l.place(), PLACE)),
            &format!(
                "{} {}, {}: {}",
                l.special.plates,
                plural("plate", f64::from(l.special.plates)),
                l.said(),
                l.headline().replace('\n', "; ")
            ),
        ));
        for m in &l.mixes {
            let form = m
                .form
                .as_ref()
                .map_or_else(String::new, |f| format!(", {f}"));
            out.push_str(&paragraph(
                "      + ",
                &format!(
                    "{} {}{form} for {}: {}",
                    grams(m.grams, false),
                    item_name(&plan.scene, &m.item).0,
                    m.swap,
                    m.from.words()
                ),
            ));
        }
        if !l.answered.answer.next.is_empty() {
            out.push_str(&paragraph("      – ", &l.answered.answer.next));
        }
    }
    out
}
