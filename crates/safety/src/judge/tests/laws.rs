//! The three laws, over histories drawn near the limits.
//!
//! "Worse" is warmer or colder by rule, inside the clock of that rule: a reading put between two that
//! already count as one line, or, where no clock hangs on a single reading, in place of one.
//! "Taken away" leaves the rows of the log standing, or the period named: a log cut short is another log.

mod cases;

use cases::{CASES, Case, DAYS, NEVER_SHOWN};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

use super::*;
use crate::judgement::Side;

/// One drawn row: its step, what each of two probes read, and whether it was lost.
type Row = (usize, usize, usize, u8);

fn rows() -> impl Strategy<Value = (Vec<Row>, bool, bool)> {
    (
        prop::collection::vec((0_usize..8, 0_usize..10, 0_usize..10, 0_u8..24), 2..26),
        any::<bool>(),
        any::<bool>(),
    )
}

/// A history near the limits of a case; `sorted` runs it from the first temperature of the list to the last.
fn history(case: &Case, rows: &[Row], two: bool, sorted: bool) -> History {
    let count = case.values.len();
    let pick = |mut all: Vec<usize>| -> Vec<f64> {
        if sorted {
            all.sort_unstable();
        }
        all.iter().map(|i| case.values[*i]).collect()
    };
    let first = pick(rows.iter().map(|r| r.1 % count).collect());
    let second = pick(rows.iter().map(|r| r.2 % count).collect());
    let mut at = 0;
    let (mut a, mut b) = (Vec::new(), Vec::new());
    for (i, row) in rows.iter().enumerate() {
        let lost = |this: bool, value: f64| (!this).then_some(value);
        a.push((at as f64, lost(row.3 == 0, first[i])));
        b.push((at as f64, lost(row.3 == 1, second[i])));
        at += case.steps[row.0 % case.steps.len()];
    }
    let mut channels = vec![probe("first", &a)];
    if two {
        channels.push(probe("second", &b));
    }
    for channel in &mut channels {
        channel.quantity = case.quantity;
    }
    if case.humid {
        let humid: Vec<_> = a.iter().map(|(min, _)| (*min, Some(95.0))).collect();
        let mut air = probe("air", &humid);
        air.quantity = Quantity::HumidityPct;
        channels.push(air);
    }
    History { channels }
}

/// The gap that counts, seconds.
fn gap_s(case: &Case) -> i64 {
    let min = match case.name {
        _ if case.steps == DAYS => 720.0,
        "fish-core" | "reheat" | "listeria-6d" | "botulinum-6d" => super::super::HOLD_GAP_MIN,
        name if name.starts_with("cook") => super::super::HOLD_GAP_MIN,
        _ => super::super::GAP_MIN,
    };
    (min * 60.0) as i64
}

fn terms(case: &Case, place: RuleSet) -> Terms {
    let gap = (case.steps == DAYS).then(|| units::Elapsed::from_seconds(gap_s(case)).unwrap());
    // A state's own rule is asked about in that state.
    let state = match case.name {
        "cold-smoke" => Some(State::Maine),
        "smoked-fish-hold" => Some(State::Michigan),
        _ => None,
    };
    Terms {
        gap,
        state: state.filter(|_| place == RuleSet::Us),
        meter: Some(CHECKED),
        ..Terms::of(place)
    }
}

fn span_of(history: &History) -> (i64, i64) {
    let all = || {
        history
            .channels
            .iter()
            .flat_map(|c| c.readings.iter().map(|r| r.at_s))
    };
    (all().min().unwrap(), all().max().unwrap())
}

/// A reading `by` degrees worse than the line, put into the `which`-th pair that is one line.
fn inserted(case: &Case, history: &History, which: usize, part: f64, by: f64) -> Option<History> {
    let mut out = history.clone();
    let pairs: Vec<(usize, usize, usize)> = history
        .channels
        .iter()
        .enumerate()
        .flat_map(|(c, channel)| {
            let known: Vec<usize> = (0..channel.readings.len())
                .filter(|i| channel.readings[*i].value.is_some())
                .collect();
            known
                .windows(2)
                .map(|p| (c, p[0], p[1]))
                .collect::<Vec<_>>()
        })
        .filter(|(c, i, j)| {
            let channel = &history.channels[*c];
            let r = &channel.readings;
            let within = |at: usize| !case.inside || r[at].value.is_some_and(|v| v <= case.bound);
            channel.quantity == case.quantity
                && r[*j].at_s - r[*i].at_s <= gap_s(case)
                && within(*i)
                && within(*j)
        })
        .collect();
    let (c, i, j) = *pairs.get(which % pairs.len().max(1))?;
    let channel = &mut out.channels[c];
    let (a, b) = (channel.readings[i], channel.readings[j]);
    let at_s = a.at_s + ((b.at_s - a.at_s) as f64 * part) as i64;
    if at_s <= a.at_s || at_s >= b.at_s || channel.readings.iter().any(|r| r.at_s == at_s) {
        return None;
    }
    let (a_c, b_c) = (a.value?, b.value?);
    let line = a_c + (b_c - a_c) * (at_s - a.at_s) as f64 / (b.at_s - a.at_s) as f64;
    let worse = worsened(case, line, by)?;
    let place = channel.readings.iter().position(|r| r.at_s > at_s)?;
    channel.readings.insert(
        place,
        Reading {
            at_s,
            value: Some(worse),
        },
    );
    Some(out)
}

/// A value `by` worse, no further than the bound; `None` where it is there already.
fn worsened(case: &Case, value: f64, by: f64) -> Option<f64> {
    match case.good {
        Side::AtMost => Some((value + by).min(case.bound - 0.01)).filter(|w| *w >= value),
        Side::AtLeast => Some((value - by).max(case.bound + 0.01)).filter(|w| *w <= value),
    }
}

fn replaced(case: &Case, history: &History, which: usize, by: f64) -> Option<History> {
    let mut out = history.clone();
    let mut known: Vec<&mut Reading> = out
        .channels
        .iter_mut()
        .filter(|c| c.quantity == case.quantity)
        .flat_map(|c| c.readings.iter_mut())
        .filter(|r| r.value.is_some())
        .collect();
    let count = known.len().max(1);
    let reading = known.get_mut(which % count)?;
    reading.value = Some(worsened(case, reading.value?, by)?);
    Some(out)
}

fn judged(case: &Case, history: &History, terms: &Terms) -> Verdict {
    rule(case.name)(history, terms).unwrap().verdict
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn a_worse_reading_never_betters_a_verdict(
        (rows, two, sorted) in rows(),
        which in 0_usize..100,
        part in 0.05_f64..0.95,
        by in 0.1_f64..30.0,
    ) {
        for case in CASES {
            for (_, place) in RuleSet::ALL {
                // Where another place's clock starts is that place's: warmer than its own start is no worse.
                if case.name == "cooling" && *place != RuleSet::Us {
                    continue;
                }
                let terms = terms(case, *place);
                let before = history(case, &rows, two, sorted);
                let was = judged(case, &before, &terms);
                let replace = if case.replace { replaced(case, &before, which, by) } else { None };
                for after in [inserted(case, &before, which, part, by), replace].into_iter().flatten() {
                    let is = judged(case, &after, &terms);
                    prop_assert!(is <= was, "{} {place:?}: {was} became {is}\n{before:?}\n{after:?}", case.name);
                }
            }
        }
    }

    #[test]
    fn evidence_taken_away_never_turns_not_shown_into_shown(
        (rows, two, sorted) in rows(),
        keep in prop::collection::vec(0_u8..5, 60),
    ) {
        for case in CASES {
            let before = history(case, &rows, two, sorted);
            let mut lost = before.clone();
            let mut gone = before.clone();
            let mut i = 0;
            for (l, g) in lost.channels.iter_mut().zip(&mut gone.channels) {
                let start = i;
                for reading in &mut l.readings {
                    if keep[i % keep.len()] == 0 {
                        reading.value = None;
                    }
                    i += 1;
                }
                let mut n = start;
                g.readings.retain(|_| {
                    n += 1;
                    keep[(n - 1) % keep.len()] != 0
                });
            }
            for (_, place) in RuleSet::ALL {
                let log = terms(case, *place);
                let named = Terms { period: Some(span_of(&before)), ..log.clone() };
                if judged(case, &before, &log) == Verdict::NotShown {
                    prop_assert_ne!(judged(case, &lost, &log), Verdict::Shown, "{} lost\n{:?}\n{:?}", case.name, before, lost);
                }
                if judged(case, &before, &named) == Verdict::NotShown {
                    prop_assert_ne!(judged(case, &gone, &named), Verdict::Shown, "{} gone\n{:?}\n{:?}", case.name, before, gone);
                }
                // A probe that was placed and left out of the log shows nothing.
                if two {
                    let placed = Terms { probes: 2, ..log };
                    let mut without = before.clone();
                    without.channels.retain(|c| c.name != "second");
                    prop_assert_ne!(judged(case, &without, &placed), Verdict::Shown, "{}", case.name);
                }
            }
        }
    }

    #[test]
    fn a_stricter_place_never_passes_what_a_laxer_one_fails((rows, two, sorted) in rows()) {
        use RuleSet::{Canada, England, Eu, Us};
        for case in CASES {
            let history = history(case, &rows, two, sorted);
            let of = |place| rule(case.name)(&history, &terms(case, place)).unwrap();
            // Strictest first, where one figure orders the places.
            let order: &[RuleSet] = match case.name {
                "cold-hold" => &[Canada, Us, England, Eu],
                "hot-hold" => &[England, Canada, Us],
                "freeze-parasites" => &[Us, Eu],
                "botulinum-6d" => &[Us, England],
                _ => &[],
            };
            for pair in order.windows(2) {
                let (strict, lax) = (of(pair[0]), of(pair[1]));
                if lax.verdict == Verdict::Broken {
                    prop_assert_eq!(strict.verdict, Verdict::Broken, "{}", case.name);
                }
                if case.name.ends_with("hold") {
                    prop_assert!(strict.margin <= lax.margin);
                }
            }
            // Whatever the order: a stand-in shows nothing, and nothing is shown by a row that was not read.
            for (_, place) in RuleSet::ALL {
                let j = of(*place);
                if j.verdict == Verdict::Shown {
                    prop_assert!(j.holds != Holds::StandIn && j.status().may_show(), "{}", case.name);
                }
            }
        }
    }
}

/// The histories drawn for the laws do reach every verdict: a law over one verdict only would say nothing.
#[test]
fn the_histories_of_the_laws_reach_every_verdict() {
    let mut runner = TestRunner::deterministic();
    let strategy = rows();
    let mut seen = std::collections::BTreeMap::<(&str, Verdict), u32>::new();
    for _ in 0..2000 {
        let (rows, two, sorted) = strategy.new_tree(&mut runner).unwrap().current();
        for case in CASES {
            let verdict = judged(
                case,
                &history(case, &rows, two, sorted),
                &terms(case, RuleSet::Us),
            );
            *seen.entry((case.name, verdict)).or_default() += 1;
        }
    }
    for case in CASES {
        let of = |v| seen.get(&(case.name, v)).copied().unwrap_or(0);
        let counts = (
            of(Verdict::Shown),
            of(Verdict::NotShown),
            of(Verdict::Broken),
        );
        println!(
            "{:16} shown {:4} not shown {:4} broken {:4}",
            case.name, counts.0, counts.1, counts.2
        );
        let shows = !NEVER_SHOWN.contains(&case.name) && case.name != "botulinum-6d";
        assert!(counts.0 > 0 || !shows, "{} never shows", case.name);
        assert!(
            counts.1 > 0 || case.name == "time-4h",
            "{} is never not shown",
            case.name
        );
        assert!(
            counts.2 > 0 || case.name == "cold-smoke",
            "{} never breaks",
            case.name
        );
    }
}

/// A rule that nobody tried the laws on would keep none of them.
#[test]
fn the_laws_are_tried_on_every_rule() {
    let tried: Vec<&str> = CASES.iter().map(|c| c.name).collect();
    let all: Vec<&str> = super::super::RULES.iter().map(|r| r.0).collect();
    assert_eq!(tried, all);
}

/// A second stage gets its own hours, so a reading that puts off the end of the first is no better a verdict only because
/// the first has its own: late in the first is broken, whatever the second.
#[test]
fn a_first_stage_that_is_late_is_broken_whatever_comes_after() {
    for (name, from, first, late_min, last) in [
        ("cool-smoked-fish", 60.0, 21.0, 121.0, 4.0),
        ("cool-smoked-fish-135", 57.3, 21.0, 122.0, 4.0),
        ("cool-fsis-1", 54.5, 26.6, 91.0, 4.0),
    ] {
        let late = one(&drawn(
            &[(0.0, from), (late_min, first), (late_min + 30.0, last)],
            10.0,
        ));
        assert_eq!(us(name, &late).verdict, Verdict::Broken, "{name}");
    }
}

/// Decision 0007: a hold that is there in full beside a gap is not shown, because taking away the dip that ends another
/// hold would then turn *not shown* into *shown*.
#[test]
fn a_covered_hold_beside_a_gap_would_break_the_second_law() {
    let with_dip = [
        (0.0, 63.5),
        (5.0, 62.0),
        (10.0, 63.5),
        (15.0, 63.5),
        (30.0, 63.5),
        (40.0, 63.5),
    ];
    let without: Vec<_> = with_dip.iter().copied().filter(|r| r.0 != 5.0).collect();
    let terms = Terms {
        gap: Some(units::Elapsed::from_minutes(10.0).unwrap()),
        ..Terms::of(RuleSet::Us)
    };
    let held = [super::super::holds::Held {
        at_c: 63.0,
        for_s: 900.0,
    }];
    let known = |readings: &[(f64, f64)]| {
        let probes = super::super::probes::Probes::of(&one(readings), &terms, 5.0).unwrap();
        let finding = super::super::holds::at_temperature("fish-core", &held, &probes);
        let hold = super::super::stretches::longest(&probes.stretches(Side::AtLeast, 63.0, false));
        (
            finding.verdict,
            hold.is_some_and(|(from, to)| to - from >= 900.0),
        )
    };
    assert_eq!(known(&with_dip), (Verdict::NotShown, false));
    // The hold is there in full now; only the gap elsewhere keeps the verdict where it was.
    assert_eq!(known(&without), (Verdict::NotShown, true));
}
