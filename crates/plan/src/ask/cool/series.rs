//! Readings of a core in their order, the curve through them, and whether it carries them.

use science::cooling::{CoolingFit, LEAST_READINGS, TimeConstant};
use sources::list;
use units::Elapsed;

use super::forecast::{DAY_MIN, Followed, Seen, moment};
use crate::ask::picture::lasts;
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// How far a reading may lie off the one curve before the law is said not to hold, K; house value: two
/// steps of a kitchen probe.
const HOLDS_WITHIN_K: f64 = 1.0;

/// The readings with their minutes in rising order, and the curve they are forecast by.
pub(super) struct Series {
    pub(super) all: Vec<Seen>,
    pub(super) tau: TimeConstant,
    /// The time constant at the beginning, by which the rule's clock is worked back.
    pub(super) tau_first: TimeConstant,
    fit: Option<CoolingFit>,
}

impl Series {
    pub(super) fn of(ask: &Followed) -> Result<Self, Refusal> {
        let mut all: Vec<Seen> = Vec::new();
        for seen in &ask.readings {
            let mut seen = *seen;
            while all.last().is_some_and(|before| seen.minute < before.minute) {
                seen.minute += DAY_MIN;
            }
            all.push(seen);
        }
        let ([first, second, ..], [.., last_but_one, last]) = (all.as_slice(), all.as_slice())
        else {
            return Err(Refusal::new(
                format!("readings: found {}", all.len()),
                "two at least",
                "read it once more, later",
            ));
        };
        if let Some(pair) = all.windows(2).find(|p| p[1].core >= p[0].core) {
            return Err(Refusal::new(
                format!("readings: found {} and then {}", pair[0].core, pair[1].core),
                "every reading below the one before",
                "it is not cooling: check the probe, then move it to ice or blast",
            ));
        }
        if let Some(cold) = all.iter().find(|s| s.core <= ask.air) {
            return Err(Refusal::new(
                format!("readings: found {} in air of {}", cold.core, ask.air),
                "every reading above the air around it",
                "read the air again where the food stands, and give that with --air",
            ));
        }
        let between = |a: &Seen, b: &Seen| {
            let time = Elapsed::from_minutes(b.minute - a.minute)?;
            Ok::<_, Refusal>(TimeConstant::measured(a.core, b.core, ask.air, time)?)
        };
        let (tau_first, tau_last) = (between(first, second)?, between(last_but_one, last)?);
        let fit = if all.len() >= LEAST_READINGS {
            let points = all
                .iter()
                .map(|s| Ok((Elapsed::from_minutes(s.minute - first.minute)?, s.core)))
                .collect::<Result<Vec<_>, Refusal>>()?;
            Some(CoolingFit::through(&points, ask.air)?)
        } else {
            None
        };
        Ok(match fit {
            Some(found) if found.furthest_k.abs() <= HOLDS_WITHIN_K => Self {
                all,
                tau: found.constant,
                tau_first: found.constant,
                fit,
            },
            // Where one curve does not carry them all, what comes is told by the last two alone.
            _ => Self {
                all,
                tau: tau_last,
                tau_first,
                fit,
            },
        })
    }

    /// Whether one curve carries all readings; nothing is known of two.
    pub(super) fn holds(&self) -> Option<bool> {
        self.fit.map(|f| f.furthest_k.abs() <= HOLDS_WITHIN_K)
    }

    /// Puts readings, time constant and residual on the sheet; the rows that tell of them.
    pub(super) fn enter(&self, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
        let count = self.all.len();
        let id = |i: usize| match i {
            0 => "before".to_owned(),
            i if i + 1 == count => "now".to_owned(),
            i => format!("between.{i}"),
        };
        let mut ids = Vec::new();
        for (i, seen) in self.all.iter().enumerate() {
            let time = format!("{}.time", id(i));
            sheet.entered(&id(i), seen.core.c(), "°C");
            moment(sheet, &time, seen.minute, "", &[]);
            ids.extend([id(i), time]);
        }
        ids.push("air".to_owned());
        let all: Vec<&str> = ids.iter().map(String::as_str).collect();
        let pair = |a: usize, b: usize| {
            let of = |i: usize| [id(i), format!("{}.time", id(i))];
            let mut ids = [of(a), of(b)].concat();
            ids.push("air".to_owned());
            ids
        };
        let newton = "time between ÷ ln((before − air) ÷ (now − air)), Newton's law of cooling";
        let fitted =
            "T = air + A e^(−t ÷ τ), Newton's law of cooling, least squares through all readings";
        if self.holds() == Some(true) {
            lasts(sheet, "tau", self.tau.time()?, fitted, &all);
        } else {
            let last = pair(count - 2, count - 1);
            let from: Vec<&str> = last.iter().map(String::as_str).collect();
            lasts(sheet, "tau", self.tau.time()?, newton, &from);
        }
        let in_what = match self.holds() {
            Some(true) => format!("in {count} readings"),
            Some(false) => "in the last two readings".to_owned(),
            None => "in two readings".to_owned(),
        };
        let mut rows = vec![format!(
            "time constant              {:<10} of the difference to {} {in_what}",
            sheet.show("tau"),
            sheet.show("air")
        )];
        if self.holds() == Some(true) {
            sheet.entered("readings", count as f64, "");
        }
        let Some(fit) = self.fit else {
            return Ok(rows);
        };
        let formula =
            "√(Σ (read − curve)² ÷ (readings − 2)), one curve by least squares through all";
        sheet.worked("scatter", fit.scatter_k, "K", 2, formula, &all);
        let formula = "furthest of read − curve, one curve by least squares through all";
        sheet.worked("furthest", fit.furthest_k.abs(), "K", 1, formula, &all);
        sheet.known(
            "holds.within",
            HOLDS_WITHIN_K,
            "K",
            &list::HOUSE,
            "two steps of a kitchen probe",
        );
        let verdict = if self.holds() == Some(true) {
            "the law of cooling holds so far"
        } else {
            "the law of cooling does NOT hold"
        };
        rows.push(format!(
            "one curve through all      off by {} at most, scatter {}: {verdict}",
            sheet.show("furthest"),
            sheet.show("scatter")
        ));
        if self.holds() == Some(false) {
            let first = pair(0, 1);
            let from: Vec<&str> = first.iter().map(String::as_str).collect();
            lasts(sheet, "tau.first", self.tau_first.time()?, newton, &from);
            let how = if self.tau > self.tau_first {
                "it cools more slowly now than at first: air that warms, a full fridge, a lid"
            } else {
                "it cools faster now than at first: a core that lagged behind, or was moved"
            };
            rows.push(format!(
                "in the first two           {}",
                sheet.show("tau.first")
            ));
            rows.push(how.to_owned());
        }
        Ok(rows)
    }

    /// Small print: what the forecast is worth, and what it stands on.
    pub(super) fn small(&self) -> [(&'static str, String); 2] {
        let (status, base) = match self.holds() {
            None => (
                "Two readings give no spread, and always lie on the curve".to_owned(),
                "A thick core read soon after heat off falls slowly at first, which forecasts too late",
            ),
            Some(true) => (
                "What lies beyond the last reading is extrapolation, no evidence".to_owned(),
                "readings off by no more than a probe is read to say nothing against it",
            ),
            Some(false) => (
                "One curve does not carry the readings: the forecast stands on the last two alone"
                    .to_owned(),
                "the rule's clock is worked back by the first two, what comes by the last two",
            ),
        };
        [
            (
                "status",
                format!("a forecast, not shown: the next reading shows it. {status}"),
            ),
            (
                "base",
                format!("one time constant: air and coldest surface stay as they are. {base}"),
            ),
        ]
    }
}
