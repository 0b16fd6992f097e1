//! Which scale weighs a line of a formula, and the ways out when none does.

use units::{Mass, Scale, Unweighable, WayOut, check, needed_resolution};

use super::refusal::Refusal;

/// Tolerance of a weight on the bench, ±2 %. Common practice, no source.
pub(super) const TOLERANCE: f64 = 0.02;

/// What to weigh a line on.
pub(super) enum Tool {
    /// This scale of the room.
    At(String),
    /// No scale was named: one with steps this fine or finer.
    Steps(Mass),
    /// No scale commonly sold is fine enough.
    None,
}

/// A line to weigh.
pub(super) struct Line<'a> {
    pub(super) name: &'a str,
    pub(super) weight: Mass,
    /// The rest of the mix it belongs to.
    pub(super) rest: Mass,
    /// Least and most ppm of nitrite for a least and most weight, when it is a curing salt.
    pub(super) nitrite: Option<&'a dyn Fn(Mass) -> Option<f64>>,
}

impl Line<'_> {
    /// The scale for it, or a refusal with the ways out.
    pub(super) fn tool(&self, scales: &[Scale]) -> Result<Tool, Refusal> {
        if scales.is_empty() {
            return Ok(needed_resolution(self.weight, TOLERANCE).map_or(Tool::None, Tool::Steps));
        }
        let too_fine = match check(self.weight, TOLERANCE, scales) {
            Ok(scale) => return Ok(Tool::At(scale.name.clone())),
            Err(Unweighable::TooFine(too_fine)) => too_fine,
            Err(other) => {
                let message = other.to_string();
                let (found, do_now) = message.split_once("; ").unwrap_or((&message, ""));
                return Err(Refusal::new(
                    found,
                    "a weight the scales named here can carry",
                    do_now,
                )
                .about(self.name));
            }
        };
        let share = (self.rest > Mass::ZERO)
            .then(|| self.weight.ratio_to(self.weight + self.rest))
            .transpose()?;
        let mut ways: Vec<String> = too_fine
            .ways_out(share)?
            .iter()
            // A dilution leaves carrier out of the formula; without so much of it there is none to leave.
            .filter(|way| !matches!(way, WayOut::Dilution(d) if d.leave_out > self.rest))
            .map(ToString::to_string)
            .collect();
        ways.extend(self.master_mix(&ways));
        let message = too_fine.to_string();
        let mut parts = message.splitn(3, "; ");
        let found = parts.next().unwrap_or("").to_owned();
        let trusted = parts.next().unwrap_or("").to_owned();
        let wanted = parts.next().unwrap_or("").replace(" would do", "");
        let do_now = if ways.is_empty() {
            "weigh for several pieces at once".to_owned()
        } else {
            ways.join("; or ")
        };
        let mut refusal = Refusal::new(found, wanted, do_now).about(self.name);
        refusal.readings.push(trusted);
        if let Some(ppm) = self.nitrite {
            let (low, high) = too_fine.reading_range();
            if let (Some(low), Some(high)) = (ppm(low), ppm(high)) {
                refusal.readings.push(format!(
                    "read as {} there, the nitrite could be {low:.0} to {high:.0} ppm",
                    too_fine.nearest_reading(),
                ));
            }
        }
        Err(refusal)
    }

    /// A master mix on a scale coarser than the line by itself needs, where the scales at hand do not carry
    /// one: the mix weighs more than its finest line.
    fn master_mix(&self, ways: &[String]) -> Option<String> {
        let mix = self.weight + self.rest;
        let (alone, mixed) = (
            needed_resolution(self.weight, TOLERANCE)?,
            needed_resolution(mix, TOLERANCE)?,
        );
        let offered = ways.iter().any(|way| way.starts_with("mix for"));
        (!offered && mixed > alone && self.rest > Mass::ZERO).then(|| {
            format!(
                "bring one with steps of {mixed} or finer, mix for the whole class once, then dispense {} g a piece",
                crate::figures::number(mix.g(), 2)
            )
        })
    }
}
