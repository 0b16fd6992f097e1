//! Re-plans from what happened: pinned where it happened, the rest as little disturbed as can be.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{first, hours, make, near, number, planned, said, settings, stands};
use jiff::Timestamp;
use plan::compare::{Difference, difference, keeping};
use plan::happened::{Fact, Happened, NotTaken, State, What, Wrong};
use plan::tasks::Kind;
use plan::{Plan, Scene};

const SUPPER: &str = "harvest-supper";

/// A local hour of the demo's site.
fn local(scene: &Scene, at: &str) -> Timestamp {
    let civil: jiff::civil::DateTime = at.parse().expect("an hour");
    scene
        .site
        .zone
        .to_timestamp(civil)
        .expect("in the calendar")
}

/// Facts written as "2027-10-05T13:30 hot-smoked-char receive started", one to a line; weights in grams at the end.
fn record(scene: &Scene, now: &str, lines: &[&str]) -> Happened {
    let facts = lines
        .iter()
        .enumerate()
        .map(|(i, line)| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let (step, what) = match words.as_slice() {
                [_, _, what] => ("", *what),
                [_, _, step, what, ..] => (*step, *what),
                _ => panic!("{line}"),
            };
            Fact {
                at: format!("row {}", i + 2),
                when: local(scene, words[0]),
                component: words[1].to_owned(),
                step: step.to_owned(),
                what: match what {
                    "started" => What::Started,
                    "done" => What::Done,
                    "weighed" => What::Weighed {
                        g: words[4].parse().expect("grams"),
                    },
                    _ => panic!("{line}"),
                },
            }
        })
        .collect();
    Happened {
        now: local(scene, now),
        facts,
    }
}

fn after(before: &Plan, first: &Scene, happened: &Happened) -> Plan {
    let scene = happened
        .on(&keeping(first, before), first)
        .unwrap_or_else(|e| panic!("{e:?}"));
    make(&scene, first)
}

/// The plan as it was and as it is after what happened, and what lies between.
fn replanned(event: &str, now: &str, lines: &[&str]) -> (Plan, Plan, Difference) {
    let first = first(event);
    let before = make(&first, &first);
    let after = after(&before, &first, &record(&first, now, lines));
    let d = difference(&before, &after);
    (before, after, d)
}

fn refused(now: &str, lines: &[&str]) -> Vec<Wrong> {
    let first = first(SUPPER);
    match record(&first, now, lines).on(&first, &first) {
        Err(NotTaken::Wrong(wrong)) => wrong,
        other => panic!("taken: {:?}", other.map(|_| ())),
    }
}

/// Everything a plan says to have happened by a minute, exactly as planned.
fn as_planned(plan: &Plan, now: i64) -> Happened {
    let stamp = |m: i64| Timestamp::from_second(m * 60).expect("in the calendar");
    let mut facts = Vec::new();
    for t in plan
        .timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.kind != Kind::Serve)
    {
        let (component, step) = t
            .meaning
            .id
            .split_once('.')
            .unwrap_or((t.meaning.id.as_str(), ""));
        let mut add = |at: i64, what| {
            facts.push(Fact {
                at: format!("{} {what:?}", t.meaning.id),
                when: stamp(at),
                component: component.to_owned(),
                step: step.to_owned(),
                what,
            });
        };
        // Work that is to begin this very minute has not begun.
        if t.start < now || t.end == t.start && t.start <= now {
            add(t.start, What::Started);
        }
        let has_run = plan
            .timeline
            .tasks
            .iter()
            .any(|r| r.meaning.id == format!("{}.run", t.meaning.id));
        if t.end <= now && t.end > t.start && !has_run {
            add(t.end, What::Done);
        }
    }
    Happened {
        now: stamp(now),
        facts,
    }
}

#[test]
fn pinning_the_returned_plan_returns_it() {
    for event in [SUPPER, "duck-class", "orchard-lunch"] {
        let first = first(event);
        let before = make(&first, &first);
        let tasks = &before.timeline.tasks;
        let (begin, end) = (tasks[0].start, tasks.iter().map(|t| t.end).max().unwrap());
        // Moments in the middle of things, at the very start of work, and after everything.
        let mut moments: Vec<i64> = tasks.iter().step_by(7).map(|t| t.start).collect();
        moments.extend(tasks.iter().step_by(11).map(|t| (t.start + t.end) / 2));
        moments.extend([begin - 60, end + 60]);
        for now in moments {
            let happened = as_planned(&before, now);
            let after = after(&before, &first, &happened);
            let d = difference(&before, &after);
            let told = after.happened.clone().expect("there is a record");
            assert_eq!(
                (told.notes, told.broken),
                (vec![], vec![]),
                "{event} at {now}"
            );
            assert_eq!(d.moved, vec![], "{event} at {now}");
            assert_eq!(
                (d.weights.len(), d.food.len(), d.labour.len()),
                (0, 0, 0),
                "{event} at {now}"
            );
            assert_eq!(d.verdicts, vec![], "{event} at {now}");
            for t in &before.timeline.tasks {
                let same = after
                    .timeline
                    .tasks
                    .iter()
                    .find(|a| a.meaning.id == t.meaning.id);
                assert_eq!(
                    same.map(|a| (a.start, a.end)),
                    Some((t.start, t.end)),
                    "{event} {} at {now}",
                    t.meaning.id
                );
            }
        }
    }
}

/// Story 1 of the trade notes (worked there by hand): fish at 13:30, cure in 15:10, rinse from Wed 09:10 on,
/// service untouched.
#[test]
fn fish_five_hours_late_is_a_fact_that_moves_the_rinse() {
    let (_, after, d) = replanned(
        SUPPER,
        "2027-10-05T13:31",
        &["2027-10-05T13:30 hot-smoked-char receive started"],
    );
    let cure = hours(&after, "hot-smoked-char.cure");
    let rinse = hours(&after, "hot-smoked-char.rinse");
    assert_eq!(
        hours(&after, "hot-smoked-char.receive").start,
        "2027-10-05T13:30"
    );
    assert!(cure.end.as_str() >= "2027-10-05T14:30", "{cure:?}");
    assert!(rinse.start.as_str() >= "2027-10-06T08:30", "{rinse:?}");
    assert!(!after.is_broken(), "{:?}", after.happened);
    let moved = d
        .moved
        .iter()
        .find(|m| m.id == "hot-smoked-char.cure")
        .expect("the cure moved");
    let said = moved.because.join("; ");
    assert!(
        said.contains("hot-smoked-char.receive started Tue 10-05 13:30")
            && said.contains("(row 2)"),
        "{said}"
    );
    // The plating is where it was.
    assert!(!d.moved.iter().any(|m| m.id == "harvest-plate.plate"));
}

/// Story 3 of the trade notes: 9,000 g of fish give 5,220 g of fillet: cure 130.5 g of salt, 62.0 portions of 60 g for 63
/// plates; 59.0 g a plate, 62 plates, or one more fish.
#[test]
fn a_light_fillet_scales_everything_after_it() {
    let (before, after, d) = replanned(
        SUPPER,
        "2027-10-05T10:05",
        &[
            "2027-10-05T08:30 hot-smoked-char receive started",
            "2027-10-05T08:55 hot-smoked-char receive done",
            "2027-10-05T09:05 hot-smoked-char fillet started",
            "2027-10-05T09:40 hot-smoked-char fillet done",
            "2027-10-05T09:45 hot-smoked-char fillet weighed 5220",
        ],
    );
    near(
        number(&before, "hot-smoked-char.cure.salt-table"),
        139.5,
        0.05,
    );
    near(
        number(&after, "hot-smoked-char.cure.salt-table"),
        130.5,
        0.05,
    );
    near(number(&after, "hot-smoked-char.portions_made"), 62.0, 0.05);
    let said = said(&after);
    for way in [
        "59.0 g a portion on all 63",
        "62 portions of 60 g",
        "one more fish",
    ] {
        assert!(said.contains(way), "{way}: {said}");
    }
    assert!(
        d.weights
            .iter()
            .any(|w| w.id == "hot-smoked-char.cure.salt-table")
    );
    // What is bought is bought.
    let bought = |p: &Plan| {
        p.order
            .iter()
            .map(|l| (l.item.clone(), l.packs))
            .collect::<Vec<_>>()
    };
    assert_eq!(bought(&after), bought(&before));
    stands(
        &after,
        "hot-smoked-char.fillet",
        "2027-10-05T09:05",
        "2027-10-05T09:40",
    );
}

#[test]
fn work_started_forty_minutes_late_moves_what_follows_and_says_so() {
    let first = first(SUPPER);
    let before = make(&first, &first);
    let find = |p: &Plan, id: &str| {
        p.timeline
            .tasks
            .iter()
            .find(|t| t.meaning.id == id)
            .cloned()
            .unwrap()
    };
    let load = find(&before, "hot-smoked-char.smoke");
    let mut happened = as_planned(&before, load.start);
    let late = load.start + 40;
    happened.now = Timestamp::from_second((late + 1) * 60).unwrap();
    happened.facts.push(Fact {
        at: "row 99".to_owned(),
        when: Timestamp::from_second(late * 60).unwrap(),
        component: "hot-smoked-char".to_owned(),
        step: "smoke".to_owned(),
        what: What::Started,
    });
    let after = after(&before, &first, &happened);
    let d = difference(&before, &after);
    for id in [
        "hot-smoked-char.smoke",
        "hot-smoked-char.smoke.run",
        "hot-smoked-char.chill",
    ] {
        let moved = d
            .moved
            .iter()
            .find(|m| m.id == id)
            .unwrap_or_else(|| panic!("{id} moved"));
        assert_eq!(moved.by_min, Some(40), "{moved:?}");
        assert!(moved.because.join("; ").contains("(row 99)"), "{moved:?}");
    }
    assert!(!d.moved.iter().any(|m| m.id == "hot-smoked-char.flake"));
    let slack = plan::compare::slack_left(&d, &after).join("\n");
    assert!(
        slack.contains("slack before hot-smoked-char.flake still"),
        "{slack}"
    );
    assert_eq!(
        after.happened.unwrap().states["hot-smoked-char.smoke"],
        State::UnderWay
    );
}

/// The wait of the cure is at least 18 h; the lot was rinsed after 16 h 30 min.
#[test]
fn a_cure_pulled_too_early_is_broken_and_the_plan_goes_on() {
    let (_, after, d) = replanned(
        SUPPER,
        "2027-10-06T03:00",
        &[
            "2027-10-05T09:40 hot-smoked-char cure started",
            "2027-10-05T10:10 hot-smoked-char cure done",
            "2027-10-06T02:40 hot-smoked-char rinse started",
        ],
    );
    let wait = after
        .verdicts
        .iter()
        .find(|v| v.id == "hot-smoked-char.wait-kept")
        .expect("a verdict");
    assert_eq!(wait.judgement.verdict, safety::Verdict::Broken);
    near(wait.judgement.value.unwrap(), 16.5, 0.001);
    near(wait.judgement.limit.unwrap(), 18.0, 0.001);
    assert!(after.is_broken());
    assert!(
        !after.timeline.tasks.is_empty(),
        "it goes on: {:?}",
        after.timeline.clash
    );
    assert!(
        d.verdicts
            .iter()
            .any(|(id, _, _)| id == "hot-smoked-char.wait-kept")
    );
    // What was not written down before it is taken, and said.
    let told = after.happened.unwrap();
    assert!(
        told.notes
            .iter()
            .any(|n| n.starts_with("hot-smoked-char.fillet: nothing was written down")),
        "{:?}",
        told.notes
    );
}

#[test]
fn a_lot_that_stands_too_long_is_broken_while_it_stands() {
    let (_, after, _) = replanned(
        SUPPER,
        "2027-10-06T11:00",
        &[
            "2027-10-05T09:40 hot-smoked-char cure started",
            "2027-10-05T10:10 hot-smoked-char cure done",
        ],
    );
    let told = after.happened.as_ref().unwrap();
    let broken = told
        .broken
        .iter()
        .find(|b| b.to == "hot-smoked-char.rinse")
        .expect("told");
    assert!(
        broken.still_standing && !broken.least && broken.got == 24 * 60 + 50,
        "{broken:?}"
    );
    assert!(hours(&after, "hot-smoked-char.rinse").start.as_str() >= "2027-10-06T11:00");
}

#[test]
fn nothing_that_was_not_started_is_planned_before_now() {
    let first = first(SUPPER);
    let before = planned(SUPPER);
    let now = "2027-10-06T14:00";
    let after = after(&before, &first, &record(&first, now, &[]));
    let at = local(&first, now).as_second() / 60;
    for t in &after.timeline.tasks {
        assert!(t.start >= at, "{} at {}", t.meaning.id, t.start);
    }
}

#[test]
fn a_record_and_a_change_go_together() {
    let first = first(SUPPER);
    let before = make(&first, &first);
    let scene = first.with_all(&settings(&["covers=54"])).unwrap();
    let happened = record(
        &first,
        "2027-10-05T09:00",
        &["2027-10-05T08:40 hot-smoked-char receive started"],
    );
    let scene = happened.on(&keeping(&scene, &before), &first).unwrap();
    let after = make(&scene, &first);
    assert_eq!(after.scene.event.covers, 54);
    assert_eq!(
        hours(&after, "hot-smoked-char.receive").start,
        "2027-10-05T08:40"
    );
}

#[test]
fn facts_at_odds_are_refused_with_their_rows() {
    let cases: [(&[&str], &str, &str); 9] = [
        (
            &[
                "2027-10-05T09:00 hot-smoked-char fillet started",
                "2027-10-05T08:50 hot-smoked-char fillet done",
            ],
            "row 3",
            "done Tue 10-05 08:50, started Tue 10-05 09:00 (row 2)",
        ),
        (
            &[
                "2027-10-05T09:00 hot-smoked-char fillet started",
                "2027-10-05T09:10 hot-smoked-char fillet started",
            ],
            "row 3",
            "started Tue 10-05 09:10 here and Tue 10-05 09:00 at row 2",
        ),
        (
            &[
                "2027-10-05T10:30 hot-smoked-char cure done",
                "2027-10-05T10:00 hot-smoked-char rinse started",
            ],
            "row 3",
            "before it was done only Tue 10-05 10:30 (row 2)",
        ),
        (
            &[
                "2027-10-05T10:30 hot-smoked-char cure started",
                "2027-10-05T10:00 hot-smoked-char rinse started",
            ],
            "row 3",
            "before it was started only Tue 10-05 10:30 (row 2)",
        ),
        (
            &["2027-10-05T09:00 hot-smoked-char filet started"],
            "row 2",
            "the plan has no \"hot-smoked-char.filet\"",
        ),
        (
            &["2027-10-05T09:00 hot-smoked-char filet weighed 5220"],
            "row 2",
            "hot-smoked-char.filet weighed, 5220 g",
        ),
        (
            &["2027-10-07T09:00 hot-smoked-char fillet started"],
            "row 2",
            "and it is Wed 10-06 12:00 now",
        ),
        (
            &["2026-10-05T09:00 hot-smoked-char fillet started"],
            "row 2",
            "before anything of this event",
        ),
        (
            &[
                "2027-10-05T09:45 hot-smoked-char fillet weighed 5220",
                "2027-10-05T09:50 hot-smoked-char fillet weighed 5250",
            ],
            "row 3",
            "weighs 5,250.0 g here and 5,220.0 g at row 2",
        ),
    ];
    for (lines, at, found) in cases {
        let wrong = refused("2027-10-06T12:00", lines);
        let said: Vec<String> = wrong
            .iter()
            .map(|w| format!("{}: {}", w.at, w.found))
            .collect();
        assert!(
            wrong.iter().any(|w| w.at == at && w.found.contains(found)),
            "{lines:?}: {said:?}"
        );
        assert!(
            wrong
                .iter()
                .all(|w| !w.expected.is_empty() && !w.do_now.is_empty())
        );
    }
}

#[test]
fn the_same_fact_twice_is_one_fact() {
    let line = "2027-10-05T08:30 hot-smoked-char receive started";
    let (_, once, _) = replanned(SUPPER, "2027-10-05T08:40", &[line]);
    let (_, twice, _) = replanned(SUPPER, "2027-10-05T08:40", &[line, line]);
    assert_eq!(once.timeline, twice.timeline);
}
