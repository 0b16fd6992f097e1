//! Raw-cured meat: without a kill step that was proved it is neither served nor sold.

use crate::judge::figure::row;
use crate::judge::{Refusal, Terms};
use crate::judgement::Judgement;
use crate::verdict::Verdict;

/// What the meat is meant for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meant {
    /// Service or sale.
    Service,
    /// A demonstration tasting, under the plan whose number is named.
    Tasting,
    /// Neither: it is looked at.
    Study,
}

/// Cured and dried meat that nothing has heated, with the verdict on its kill step where there is one.
///
/// *Broken* for service without a kill step that is shown, and for a tasting without a plan. Never *shown* by this rule
/// itself: the kill step is shown by its own.
///
/// # Source
/// `kill_step.raw_cured` (common practice, a rule of this house).
/// # Errors
/// Rules that do not hold together.
pub fn raw_cured(
    terms: &Terms,
    meant: Meant,
    kill_step: Option<Verdict>,
    plan_number: Option<&str>,
) -> Result<Judgement, Refusal> {
    let row = row("kill_step.raw_cured", terms)?;
    let proved = kill_step == Some(Verdict::Shown);
    let (verdict, place, next) = match (meant, proved, plan_number) {
        (_, true, _) => (
            Verdict::NotShown,
            "a kill step is shown by its own rule",
            "keep that log with the batch papers",
        ),
        (Meant::Service, false, _) => (
            Verdict::Broken,
            "nothing is shown to have killed what is on raw meat",
            "no service and no sale; prove a kill step, or cook it",
        ),
        (Meant::Tasting, false, None) => (
            Verdict::Broken,
            "a tasting without a plan",
            "no tasting: there is no plan number",
        ),
        (Meant::Tasting, false, Some(_)) => (
            Verdict::NotShown,
            "a tasting under a plan; the plan itself was not seen",
            "only as the plan allows it; not for pregnant, old, young or ill guests",
        ),
        (Meant::Study, false, _) => (
            Verdict::NotShown,
            "neither served nor sold",
            "label it: not for eating",
        ),
    };
    Ok(Judgement {
        verdict,
        holds: row.holds,
        base: "what it is meant for, as it was said".to_owned(),
        ..Judgement::not_shown(
            "kill-step",
            row.rule.list.join("; "),
            place,
            row.source,
            row.cautioned(next.to_owned()),
        )
    })
}
