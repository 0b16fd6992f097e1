//! Two loads that cannot be inside together: one of them comes first.

use super::profile::Load;
use super::trail::{Conflict, Lit, Trail};
use crate::problem::Minute;

/// Two loads with at least `gap` between the end of whichever is first and the start of the other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub(super) one: Load,
    pub(super) other: Load,
    pub(super) gap: Minute,
}

impl Pair {
    /// Draws what follows where only one order is left.
    pub(super) fn propagate(&self, trail: &mut Trail) -> Result<(), Conflict> {
        comes_after(trail, &self.one, &self.other, self.gap, &[])?;
        comes_after(trail, &self.other, &self.one, self.gap, &[])
    }
}

impl Load {
    /// Why this load cannot come before another, if it cannot: it ends too late, the other starts too early.
    pub(super) fn cannot_precede(
        &self,
        trail: &Trail,
        other: &Self,
        gap: Minute,
    ) -> Option<[Lit; 2]> {
        let soonest_end = trail.low(self.to) + self.to_after;
        let latest_start = trail.high(other.from) + other.from_after;
        let excess = soonest_end + gap - latest_start;
        // Any border between the two does; the middle keeps both reasons weak.
        let border = latest_start - gap + 1 + (excess - 1) / 2;
        (excess > 0).then(|| [self.ends_from(border), other.starts_by(border + gap - 1)])
    }
}

/// If `first` cannot come before `second`, it comes after it. `always` are further literals this rests on.
pub(super) fn comes_after(
    trail: &mut Trail,
    first: &Load,
    second: &Load,
    gap: Minute,
    always: &[Lit],
) -> Result<(), Conflict> {
    let Some([too_late, too_early]) = first.cannot_precede(trail, second, gap) else {
        return Ok(());
    };
    let end = trail.low(second.to) + second.to_after;
    let after = first.starts_from(end + gap);
    if !trail.holds(after) {
        let mut why = vec![too_late, too_early, second.ends_from(end)];
        why.extend_from_slice(always);
        trail.raise_for(after, &why)?;
    }
    let start = trail.high(first.from) + first.from_after;
    let before = second.ends_by(start - gap);
    if !trail.holds(before) {
        let mut why = vec![too_late, too_early, first.starts_by(start)];
        why.extend_from_slice(always);
        trail.raise_for(before, &why)?;
    }
    Ok(())
}
