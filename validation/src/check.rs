//! One answer beside the other, and the verdict.

use crate::case::{Case, Unanswered};

/// How an error is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// The difference, in the unit of the value.
    Difference,
    /// The difference as a part of the value from outside.
    Part,
}

/// How far two answers may lie apart, and why that far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// The most the error may be.
    pub most: f64,
    /// How the error is measured.
    pub measure: Measure,
    /// Why this much and no more.
    pub reason: &'static str,
}

impl Tolerance {
    /// A tolerance in the unit of the value.
    #[must_use]
    pub const fn difference(most: f64, reason: &'static str) -> Self {
        Self {
            most,
            measure: Measure::Difference,
            reason,
        }
    }

    /// A tolerance as a part of the value from outside.
    #[must_use]
    pub const fn part(most: f64, reason: &'static str) -> Self {
        Self {
            most,
            measure: Measure::Part,
            reason,
        }
    }
}

/// What came of a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// The error is within the tolerance.
    Within,
    /// It is not.
    Outside,
    /// The science gives no answer there.
    Refused,
}

/// A case with our answer.
#[derive(Debug, Clone)]
pub struct Check {
    /// Folder of the phenomenon.
    pub phenomenon: &'static str,
    /// The question and their answer.
    pub case: Case,
    /// Our answer.
    pub ours: Result<f64, Unanswered>,
    /// How far apart they may be.
    pub tolerance: Tolerance,
}

impl Check {
    /// The error, never negative, as the tolerance measures it; `None` without an answer.
    #[must_use]
    pub fn error(&self) -> Option<f64> {
        let difference = (self.ours.as_ref().ok()? - self.case.value).abs();
        Some(match self.tolerance.measure {
            Measure::Difference => difference,
            Measure::Part => difference / self.case.value.abs(),
        })
    }

    /// The error with its sign: positive where ours is the larger.
    #[must_use]
    pub fn signed_error(&self) -> Option<f64> {
        let ours = *self.ours.as_ref().ok()?;
        self.error()
            .map(|error| error.copysign(ours - self.case.value))
    }

    /// What came of it. An answer that is no number is outside.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self.error() {
            None => Verdict::Refused,
            Some(error) if error <= self.tolerance.most => Verdict::Within,
            Some(_) => Verdict::Outside,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(ours: f64, theirs: f64, tolerance: Tolerance) -> Check {
        let text = format!(
            "quantity,inputs,value,unit,source,status,call\nq,a=1,{theirs},1,me,read,here\n"
        );
        Check {
            phenomenon: "x",
            case: Case::read("t", &text).unwrap().remove(0),
            ours: Ok(ours),
            tolerance,
        }
    }

    #[test]
    fn a_miss_is_outside_whichever_way_it_is_measured() {
        let part = Tolerance::part(0.01, "test");
        assert_eq!(check(101.0, 100.0, part).verdict(), Verdict::Within);
        assert_eq!(check(101.1, 100.0, part).verdict(), Verdict::Outside);
        let difference = Tolerance::difference(0.5, "test");
        assert_eq!(check(99.4, 100.0, difference).verdict(), Verdict::Outside);
        assert!(check(99.4, 100.0, difference).signed_error().unwrap() < 0.0);
        assert_eq!(check(f64::NAN, 100.0, part).verdict(), Verdict::Outside);
    }
}
