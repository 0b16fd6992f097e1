//! Every rule just inside, on and just outside its limit; gaps, lost probes, readings that cannot be;
//! the laws; and worked examples from outside.

mod acid;
mod chills;
mod decisions;
mod examples;
mod heat;
mod laws;
mod warmth;

use kitchen::site::RuleSet;

use super::{Judge, MeterCheck, Refusal, Terms, find};
use crate::history::{Channel, History, Quantity, Reading};
use crate::judgement::{Holds, Judgement};
use crate::rules::State;
use crate::verdict::Verdict;

/// A moment in March 2027, so that a clock on the wall would have changed nearby.
const START_S: i64 = 1_804_600_000;

/// One probe, read at minutes since the start; `None` where it was lost.
fn probe(name: &str, readings: &[(f64, Option<f64>)]) -> Channel {
    Channel {
        name: name.to_owned(),
        quantity: Quantity::TemperatureC,
        readings: readings
            .iter()
            .map(|(min, value)| Reading {
                at_s: START_S + (min * 60.0).round() as i64,
                value: *value,
            })
            .collect(),
    }
}

fn read(readings: &[(f64, f64)]) -> Channel {
    let some: Vec<_> = readings.iter().map(|(m, c)| (*m, Some(*c))).collect();
    probe("core", &some)
}

fn one(readings: &[(f64, f64)]) -> History {
    History {
        channels: vec![read(readings)],
    }
}

/// A steady temperature, read every `step` minutes from `from` to `to`, both included.
fn steady(from: f64, to: f64, step: f64, c: f64) -> Vec<(f64, f64)> {
    let count = ((to - from) / step).round() as usize;
    (0..=count).map(|i| (from + i as f64 * step, c)).collect()
}

/// Readings on straight lines through `knots`, every `step` minutes, the knots themselves included.
fn drawn(knots: &[(f64, f64)], step: f64) -> Vec<(f64, f64)> {
    let mut out = vec![knots[0]];
    for pair in knots.windows(2) {
        let ((t0, c0), (t1, c1)) = (pair[0], pair[1]);
        let mut t = t0 + step;
        while t < t1 - 1e-9 {
            out.push((t, c0 + (c1 - c0) * (t - t0) / (t1 - t0)));
            t += step;
        }
        out.push((t1, c1));
    }
    out
}

/// A meter that was checked as it should be.
const CHECKED: MeterCheck = MeterCheck {
    in_4: 4.02,
    in_7: 6.98,
    sample_c: 22.0,
};

/// A log of what a rule reads: temperatures as given, or a pH.
fn log_for(name: &str, mut history: History) -> History {
    if name == "ph" {
        for channel in &mut history.channels {
            channel.quantity = Quantity::Ph;
            for reading in &mut channel.readings {
                // A plausible pH where the temperature was plausible, and an impossible one where it was not.
                reading.value = reading.value.map(|v| {
                    if (-200.0..=600.0).contains(&v) {
                        4.0
                    } else {
                        v
                    }
                });
            }
        }
    }
    history
}

fn rule(name: &str) -> Judge {
    find(name).unwrap_or_else(|| panic!("no rule {name}"))
}

fn us(name: &str, history: &History) -> Judgement {
    rule(name)(history, &Terms::of(RuleSet::Us)).unwrap()
}

fn in_place(name: &str, place: RuleSet, history: &History) -> Judgement {
    rule(name)(history, &Terms::of(place)).unwrap()
}

#[test]
fn every_rule_names_its_row_and_says_what_to_do() {
    let history = one(&drawn(&[(0.0, 70.0), (60.0, 4.0), (90.0, 4.0)], 5.0));
    for (name, asks, judge) in super::RULES {
        let history = log_for(name, history.clone());
        assert!(!asks.is_empty());
        for (_, place) in RuleSet::ALL {
            let j = judge(&history, &Terms::of(*place)).unwrap();
            assert_eq!(j.rule, *name);
            assert!(
                !j.asks.is_empty() && !j.place.is_empty() && !j.next.is_empty(),
                "{name}"
            );
            assert!(j.limit.is_some() && !j.base.is_empty(), "{name}");
            assert!(!j.evidence.is_empty(), "{name}: no reading is named");
            for e in &j.evidence {
                let read = &history.channels[0].readings;
                assert!(
                    read.iter()
                        .any(|r| Some(r.at_s) == e.at_s && r.value == e.value),
                    "{name}: {e:?} was not read"
                );
            }
            assert!(j.source.title.contains(','), "{name}: {}", j.source.title);
            if j.verdict == Verdict::Shown {
                assert!(j.source.status.may_show(), "{name}");
                assert_ne!(j.holds, Holds::StandIn, "{name}: a stand-in shows nothing");
            }
        }
    }
    let names: std::collections::BTreeSet<_> = super::RULES.iter().map(|r| r.0).collect();
    assert_eq!(names.len(), super::RULES.len());
    assert!(find("nothing").is_none());
}

#[test]
fn nothing_read_is_not_shown_anywhere() {
    let lost = History {
        channels: vec![probe("core", &[(0.0, None), (100.0, None)])],
    };
    for (name, _, judge) in super::RULES {
        for (_, place) in RuleSet::ALL {
            for history in [History::default(), log_for(name, lost.clone())] {
                let j = judge(&history, &Terms::of(*place)).unwrap();
                assert_eq!(j.verdict, Verdict::NotShown, "{name} {place:?}");
            }
        }
    }
}

#[test]
fn what_cannot_be_read_is_refused() {
    for (name, _, rule) in super::RULES {
        let terms = Terms::of(RuleSet::Us);
        let judge = |history: &History, terms: &Terms| rule(&log_for(name, history.clone()), terms);
        for bad in [-300.0, 1372.0, f64::NAN, f64::INFINITY] {
            let refused = judge(&one(&[(0.0, 4.0), (5.0, bad), (10.0, 4.0)]), &terms);
            assert!(
                matches!(refused, Err(Refusal::Impossible { .. })),
                "{name} {bad}"
            );
        }
        let twice = judge(&one(&[(0.0, 4.0), (5.0, 4.0), (5.0, 9.0)]), &terms);
        assert!(
            matches!(twice, Err(Refusal::Contradictory { .. })),
            "{name}"
        );
        let back = judge(&one(&[(5.0, 4.0), (0.0, 4.0)]), &terms);
        assert!(matches!(back, Err(Refusal::Contradictory { .. })), "{name}");
        let pair = History {
            channels: vec![
                read(&[(0.0, 4.0), (5.0, 4.0)]),
                read(&[(0.0, 4.0), (5.0, 4.0)]),
            ],
        };
        assert!(
            matches!(judge(&pair, &terms), Err(Refusal::SameName { .. })),
            "{name}"
        );
        let good = one(&[(0.0, 4.0), (5.0, 4.0)]);
        for bad in [
            Terms {
                gap: Some(units::Elapsed::ZERO),
                ..terms.clone()
            },
            Terms {
                probes: 0,
                ..terms.clone()
            },
            Terms {
                period: Some((10, 5)),
                ..terms.clone()
            },
            Terms {
                air: vec!["nobody".to_owned()],
                ..terms.clone()
            },
            Terms {
                state: Some(State::Maine),
                ..Terms::of(RuleSet::Canada)
            },
        ] {
            assert!(
                matches!(judge(&good, &bad), Err(Refusal::Terms { .. })),
                "{name}"
            );
        }
    }
    let error = us_error(&[(0.0, -300.0)]);
    assert_eq!(
        error,
        format!(
            "core: found -300 °C at {START_S} s; expected -200 to 600 °C. Look at the probe, and mark the reading as lost"
        )
    );
}

fn us_error(readings: &[(f64, f64)]) -> String {
    rule("cold-hold")(&one(readings), &Terms::of(RuleSet::Us))
        .unwrap_err()
        .to_string()
}

#[test]
fn a_probe_that_was_placed_and_is_not_in_the_log_shows_nothing() {
    let good = one(&steady(0.0, 60.0, 10.0, 4.0));
    let mut terms = Terms::of(RuleSet::Us);
    assert_eq!(
        super::cold_hold(&good, &terms).unwrap().verdict,
        Verdict::Shown
    );
    terms.probes = 2;
    let j = super::cold_hold(&good, &terms).unwrap();
    assert_eq!(j.verdict, Verdict::NotShown);
    assert!(j.next.contains("1 of 2 probes"), "{}", j.next);
}
