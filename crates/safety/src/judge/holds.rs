//! Holds: a temperature kept long enough by every probe at once.
//!
//! The hold counts while every probe is at the temperature or above; a dip of any of them ends it, and
//! the clock starts anew. Where a rule gives several temperatures with a time each, one of them met is enough.

use super::figure::Finding;
use super::probes::{Probes, Track, span};
use super::stages::shortly;
use super::stretches::{Stretch, length, longest};
use crate::judgement::{Part, Side};
use crate::verdict::Verdict;

/// A temperature and how long it is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Held {
    pub(crate) at_c: f64,
    pub(crate) for_s: f64,
}

impl std::fmt::Display for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "≥ {} °C", shortly(self.at_c))?;
        if self.for_s > 0.0 {
            write!(f, " for {}", span(self.for_s))?;
        }
        Ok(())
    }
}

/// A temperature and how long it was held, and may have been held in the gaps.
struct Try {
    asked: Held,
    known: Option<Stretch>,
    hoped: bool,
}

impl Try {
    fn met(&self) -> bool {
        self.known.is_some_and(|s| length(s) >= self.asked.for_s)
    }

    /// The part of the hold that is known; below nothing where the temperature was never there.
    fn part(&self) -> f64 {
        self.known.map_or(-1.0, |s| {
            if self.asked.for_s > 0.0 {
                length(s) / self.asked.for_s
            } else {
                1.0
            }
        })
    }
}

/// Held at one of several temperatures for its time, by every probe at once.
pub(super) fn at_temperature(rule: &'static str, held: &[Held], probes: &Probes) -> Finding {
    let lacking = probes.uncovered();
    let tries: Vec<Try> = held
        .iter()
        .map(|h| Try {
            asked: *h,
            known: longest(&probes.stretches(Side::AtLeast, h.at_c, false)),
            hoped: longest(&probes.stretches(Side::AtLeast, h.at_c, true))
                .is_some_and(|s| length(s) >= h.for_s),
        })
        .collect();
    let met = tries.iter().find(|t| t.met());
    let verdict = match (met, tries.iter().any(|t| t.hoped), &lacking) {
        (Some(_), _, None) => Verdict::Shown,
        (None, false, _) if !probes.silent() => Verdict::Broken,
        _ => Verdict::NotShown,
    };
    let best = met.or_else(|| tries.iter().max_by(|a, b| a.part().total_cmp(&b.part())));
    let held_at_c = best.map_or(0.0, |t| t.asked.at_c);
    let known = best.and_then(|t| t.known);
    let evidence = match known {
        Some(stretch) => probes.told_hold(stretch),
        None => coldest(probes).map_or_else(Vec::new, |(t, r)| probes.told(t, &[(r, Part::Worst)])),
    };
    let held_s = known.map_or(0.0, length);
    let warmest = coldest(probes).map_or_else(String::new, |(_, (_, c))| {
        format!(
            "; the probes were together no warmer than {} °C",
            shortly(c)
        )
    });
    let place = format!(
        "coldest of {} probes at every moment; longest hold at ≥ {} °C: {}{warmest}",
        probes.tracks.len(),
        shortly(held_at_c),
        span(held_s.floor())
    );
    // A hold that is there in full, and a gap elsewhere: the period is what keeps it from being shown.
    let alone = met.is_some() && known.is_some_and(|s| probes.covered_between(s.0, s.1));
    let lacking = lacking.map(|why| {
        if alone {
            format!("{why}; the longest hold is there in full: judge it alone, from its first reading to its last")
        } else {
            why
        }
    });
    Finding {
        rule,
        asks: held
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join(", or "),
        verdict,
        value: best.map(|_| held_s / 60.0),
        limit: best.map_or(0.0, |t| t.asked.for_s / 60.0),
        side: Side::AtLeast,
        unit: "min",
        base: format!(
            "the longest stretch in which every probe is at {} °C or above",
            shortly(held_at_c)
        ),
        place,
        evidence,
        mend: "keep heating: the hold starts anew with every probe at temperature; if it has cooled, decide by your plan",
        lacking,
    }
}

/// The probe whose highest reading is the least, and that reading.
fn coldest(probes: &Probes) -> Option<(&Track, (f64, f64))> {
    probes
        .tracks
        .iter()
        .filter_map(|t| {
            let highest = t
                .readings
                .iter()
                .copied()
                .max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some((t, highest))
        })
        .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
}
