//! Refuses a problem that does not make sense before any of it is used.

use thiserror::Error;

use crate::problem::{AMOUNT_LIMIT, Lean, MINUTE_LIMIT, MachineKind, Minute, Point, Problem, Span};

/// Why a problem was refused: where, what was found, what was expected.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Malformed {
    /// A minute, lag or duration too far from zero to be a real one.
    #[error(
        "{place}: {got} minutes is further than {MINUTE_LIMIT} from zero; count minutes from an epoch near the work"
    )]
    MinuteOutOfRange {
        /// Where it stands.
        place: String,
        /// What was found.
        got: Minute,
    },
    /// A duration, change-over, amount or capacity below zero, or an amount too large.
    #[error("{place}: {got} is not between 0 and {most}; give an amount in that range")]
    AmountOutOfRange {
        /// Where it stands.
        place: String,
        /// What was found.
        got: i64,
        /// The largest accepted.
        most: i64,
    },
    /// A weight that is negative, infinite or not a number.
    #[error("{place}: a weight of {got} cannot be compared; give a finite number of at least 0")]
    BadWeight {
        /// Where it stands.
        place: String,
        /// What was found.
        got: f64,
    },
    /// A span that ends before or when it starts.
    #[error(
        "{place}: the span from {start} to {end} is empty or backwards; its end must come after its start"
    )]
    BackwardSpan {
        /// Where it stands.
        place: String,
        /// Its start.
        start: Minute,
        /// Its end.
        end: Minute,
    },
    /// Spans of a calendar out of order or overlapping.
    #[error(
        "{place}: a span starting at {start} comes after one ending at {previous_end}; sort and merge the spans"
    )]
    UnsortedSpans {
        /// Where they stand.
        place: String,
        /// End of the span before.
        previous_end: Minute,
        /// Start of the span at fault.
        start: Minute,
    },
    /// An index that points at nothing.
    #[error("{place}: there is no {kind} number {got} (there are {count}); indexes count from 0")]
    NoSuchIndex {
        /// Where it stands.
        place: String,
        /// What it should point at: "task", "machine".
        kind: &'static str,
        /// The index found.
        got: usize,
        /// How many there are.
        count: usize,
    },
    /// A crew of nobody, or one that may shrink.
    #[error(
        "{place}: a crew of {count} with at least {min_count} is not supported; give a crew of 1 or more with both \
         numbers equal, or no crew at all"
    )]
    BadCrew {
        /// Where it stands.
        place: String,
        /// People wanted.
        count: usize,
        /// Fewest people.
        min_count: usize,
    },
}

/// Looks at every number once.
pub(crate) fn refuse_malformed(problem: &Problem) -> Result<(), Malformed> {
    weight(problem.overtime_weight, || "overtime weight".to_owned())?;
    for person in &problem.people {
        calendar(&person.available, || format!("hours of \"{}\"", person.id))?;
        calendar(&person.overtime, || {
            format!("overtime of \"{}\"", person.id)
        })?;
    }
    for machine in &problem.machines {
        let place = || format!("machine \"{}\"", machine.id);
        amount(machine.capacity, AMOUNT_LIMIT, || {
            format!("capacity of {}", place())
        })?;
        if let MachineKind::OneLoad { change_over } = machine.kind {
            amount(change_over, MINUTE_LIMIT, || {
                format!("change-over of {}", place())
            })?;
        }
        for span in &machine.unavailable {
            one_span(*span, &place)?;
        }
    }
    for task in &problem.tasks {
        let place = |part: &str| format!("{part} of task \"{}\"", task.id);
        amount(task.duration, MINUTE_LIMIT, || place("duration"))?;
        minute(task.earliest, || place("earliest start"))?;
        minute(task.latest, || place("latest start"))?;
        weight(task.weight, || place("weight"))?;
        if let Lean::Toward(at) = task.lean {
            minute(at, || place("wished start"))?;
        }
        if let Some(crew) = &task.crew
            && (crew.count == 0 || crew.count != crew.min_count)
        {
            return Err(Malformed::BadCrew {
                place: place("crew"),
                count: crew.count,
                min_count: crew.min_count,
            });
        }
    }
    for (index, link) in problem.links.iter().enumerate() {
        let place = || format!("link number {index} (\"{}\")", link.why);
        point(link.from, problem, &place)?;
        point(link.to, problem, &place)?;
        minute(link.min, || format!("least lag of {}", place()))?;
        if let Some(max) = link.max {
            minute(max, || format!("most lag of {}", place()))?;
        }
    }
    for (index, hold) in problem.occupancies.iter().enumerate() {
        let place = || format!("occupancy number {index} (\"{}\")", hold.what);
        point(hold.from, problem, &place)?;
        point(hold.to, problem, &place)?;
        amount(hold.amount, AMOUNT_LIMIT, || {
            format!("amount of {}", place())
        })?;
        let count = problem.machines.len();
        if hold.machine >= count {
            return Err(Malformed::NoSuchIndex {
                place: place(),
                kind: "machine",
                got: hold.machine,
                count,
            });
        }
    }
    Ok(())
}

fn minute(got: Minute, place: impl Fn() -> String) -> Result<(), Malformed> {
    if (-MINUTE_LIMIT..=MINUTE_LIMIT).contains(&got) {
        Ok(())
    } else {
        Err(Malformed::MinuteOutOfRange {
            place: place(),
            got,
        })
    }
}

fn amount(got: i64, most: i64, place: impl Fn() -> String) -> Result<(), Malformed> {
    if (0..=most).contains(&got) {
        Ok(())
    } else {
        Err(Malformed::AmountOutOfRange {
            place: place(),
            got,
            most,
        })
    }
}

fn weight(got: f64, place: impl Fn() -> String) -> Result<(), Malformed> {
    if got.is_finite() && got >= 0.0 {
        Ok(())
    } else {
        Err(Malformed::BadWeight {
            place: place(),
            got,
        })
    }
}

fn point(at: Point, problem: &Problem, place: &impl Fn() -> String) -> Result<(), Malformed> {
    let count = problem.tasks.len();
    if at.task < count {
        Ok(())
    } else {
        Err(Malformed::NoSuchIndex {
            place: place(),
            kind: "task",
            got: at.task,
            count,
        })
    }
}

fn one_span(span: Span, place: &impl Fn() -> String) -> Result<(), Malformed> {
    minute(span.start, place)?;
    minute(span.end, place)?;
    if span.start < span.end {
        Ok(())
    } else {
        Err(Malformed::BackwardSpan {
            place: place(),
            start: span.start,
            end: span.end,
        })
    }
}

fn calendar(spans: &[Span], place: impl Fn() -> String) -> Result<(), Malformed> {
    let mut previous_end = None;
    for span in spans {
        one_span(*span, &place)?;
        if let Some(previous_end) = previous_end
            && span.start < previous_end
        {
            return Err(Malformed::UnsortedSpans {
                place: place(),
                previous_end,
                start: span.start,
            });
        }
        previous_end = Some(span.end);
    }
    Ok(())
}
