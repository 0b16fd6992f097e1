//! The readings of a probe that decided, as evidence for a judgement.

use super::probes::{Probes, Track};
use super::stretches::Stretch;
use crate::judgement::{Evidence, Part, Side};

impl Probes {
    /// A reading of a probe as evidence.
    pub(super) fn evidence(&self, track: &Track, reading: (f64, f64), part: Part) -> Evidence {
        Evidence {
            channel: track.name.clone(),
            part,
            at_s: Some(self.start_s + reading.0 as i64),
            value: Some(reading.1),
            unit: self.unit,
        }
    }

    /// The first and the last reading of a probe, and what else decided in between, in order of time.
    pub(super) fn told(&self, track: &Track, deciding: &[((f64, f64), Part)]) -> Vec<Evidence> {
        let ends = [
            (track.readings.first(), Part::First),
            (track.readings.last(), Part::Last),
        ];
        let mut all: Vec<Evidence> = ends
            .into_iter()
            .filter_map(|(r, part)| Some(self.evidence(track, *r?, part)))
            .chain(
                deciding
                    .iter()
                    .map(|(r, part)| self.evidence(track, *r, *part)),
            )
            .collect();
        all.sort_by_key(|e| (e.at_s, e.part));
        all
    }

    /// The reading farthest outside a limit, or nearest it, of every probe: the first of equals.
    pub(super) fn worst(&self, side: Side, limit_c: f64) -> Option<(&Track, (f64, f64))> {
        self.tracks
            .iter()
            .flat_map(|t| t.readings.iter().map(move |r| (t, *r)))
            .min_by(|a, b| {
                side.margin(a.1.1, limit_c)
                    .total_cmp(&side.margin(b.1.1, limit_c))
            })
    }

    /// First, worst and last reading of one probe.
    pub(super) fn told_track(&self, track: &Track, side: Side, limit_c: f64) -> Vec<Evidence> {
        let worst = track.readings.iter().copied().min_by(|a, b| {
            side.margin(a.1, limit_c)
                .total_cmp(&side.margin(b.1, limit_c))
        });
        let deciding: Vec<_> = worst.map(|r| (r, Part::Worst)).into_iter().collect();
        self.told(track, &deciding)
    }

    /// First, worst and last reading of the probe that is farthest outside a limit, or nearest it.
    pub(super) fn told_worst(&self, side: Side, limit_c: f64) -> Vec<Evidence> {
        self.worst(side, limit_c)
            .map_or_else(Vec::new, |(t, r)| self.told(t, &[(r, Part::Worst)]))
    }

    /// The first and last reading of every probe inside a stretch.
    pub(super) fn told_hold(&self, stretch: Stretch) -> Vec<Evidence> {
        let inside = |r: &&(f64, f64)| r.0 >= stretch.0 && r.0 <= stretch.1;
        self.tracks
            .iter()
            .flat_map(|t| {
                let first = t.readings.iter().find(inside);
                let last = t.readings.iter().rfind(inside);
                let hold = [(first, Part::HoldStarts), (last, Part::HoldEnds)];
                let deciding: Vec<_> = hold
                    .into_iter()
                    .filter_map(|(r, part)| Some((*r?, part)))
                    .collect();
                self.told(t, &deciding)
            })
            .collect()
    }
}
