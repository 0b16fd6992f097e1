//! Two loads that cannot be inside together: one of them comes first.

use super::profile::Load;
use super::trail::{Conflict, Trail};
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
    pub(super) fn propagate(&self, trail: &mut Trail) -> Result<bool, Conflict> {
        let forward = follows_if_not_before(trail, &self.one, &self.other, self.gap)?;
        let backward = follows_if_not_before(trail, &self.other, &self.one, self.gap)?;
        Ok(forward || backward)
    }
}

/// If `first` cannot come before `second`, it comes after it.
fn follows_if_not_before(
    trail: &mut Trail,
    first: &Load,
    second: &Load,
    gap: Minute,
) -> Result<bool, Conflict> {
    let (_, latest_start, soonest_end, _) = {
        let (_, _, soonest_end, _) = first.times(trail);
        let (_, latest_start, _, _) = second.times(trail);
        (0, latest_start, soonest_end, 0)
    };
    if soonest_end + gap <= latest_start {
        return Ok(false);
    }
    // Any border between the two does; the middle keeps both reasons weak.
    let border = latest_start - gap + 1 + (soonest_end + gap - latest_start - 1) / 2;
    let too_late = first.ends_from(border);
    let too_early = second.starts_by(border + gap - 1);
    let (_, _, end, _) = second.times(trail);
    let mut moved = trail.raise_for(
        first.starts_from(end + gap),
        &[too_late, too_early, second.ends_from(end)],
    )?;
    let (_, start, _, _) = first.times(trail);
    moved |= trail.raise_for(
        second.ends_by(start - gap),
        &[too_late, too_early, first.starts_by(start)],
    )?;
    Ok(moved)
}
