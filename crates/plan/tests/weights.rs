//! What the clock weighs against what: a weight that is moved moves the plan its way, and the house values move nothing.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{first, hours, make, near, number, settings};
use jiff::civil::date;
use kitchen::event::Prefer;
use kitchen::site::ClockWeights;
use plan::{Plan, Scene};

/// The supper with the dressing wished for at 19:50 on Wednesday, when the learners' shift has ended at 19:30 and they may
/// stay until 21:00.
fn evening() -> Scene {
    let mut scene = first("harvest-supper");
    let step = "buttermilk-dressing.mix";
    scene.event.prefers.retain(|p| p.step != step);
    scene.event.prefers.push(Prefer {
        step: step.to_owned(),
        at: date(2027, 10, 6).at(19, 50, 0, 0),
    });
    // Lowmeadow Dairy comes Thursday; for this it comes Wednesday morning.
    for d in scene.event.deliveries.iter_mut() {
        if d.what == "lowmeadow-dairy" {
            d.at = date(2027, 10, 6).at(8, 0, 0, 0);
        }
    }
    scene
}

fn with(scene: &Scene, changes: &[&str]) -> Plan {
    let changed = scene.with_all(&settings(changes)).unwrap();
    make(&changed, scene)
}

/// Person-minutes beyond the shift, from the printed tasks: work after 19:30.
fn overtime(plan: &Plan) -> i64 {
    plan.timeline
        .tasks
        .iter()
        .filter(|t| !t.people.is_empty())
        .map(|t| {
            let local = |m: i64| {
                let at = jiff::Timestamp::from_second(m * 60).unwrap();
                at.to_zoned_datetime(plan.scene.site.zone.clone()).time()
            };
            let late = |m: i64| {
                let t = local(m);
                (i64::from(t.hour()) * 60 + i64::from(t.minute()) - (19 * 60 + 30)).max(0)
            };
            (late(t.end) - late(t.start)) * i64::try_from(t.people.len()).unwrap()
        })
        .sum()
}

#[test]
fn dear_overtime_makes_the_dressing_earlier_and_cheap_overtime_makes_it_fresher() {
    let scene = evening();
    let step = "buttermilk-dressing.mix";
    // Twenty person-minutes at 0.05 are a minute; the way back into the shift would be 40 minutes.
    let usual = with(&scene, &[]);
    assert_eq!(hours(&usual, step).start, "2027-10-06T19:50");
    // At 10 a person-minute they are 200: into the shift, as late as it goes.
    let dear = with(&scene, &["clock.overtime=10"]);
    let h = hours(&dear, step);
    assert_eq!(h.end, "2027-10-06T19:30", "starts {}", h.start);
    assert!(
        overtime(&dear) < overtime(&usual),
        "{} and {}",
        overtime(&dear),
        overtime(&usual)
    );
    // The best hour dearer still: back where it is wished.
    let fresh = with(&scene, &["clock.overtime=10", "clock.best-hour=100"]);
    assert_eq!(hours(&fresh, step).start, "2027-10-06T19:50");
}

#[test]
fn an_act_that_is_too_dear_is_not_put_in() {
    // The kohlrabi is drained to hold until plating when service is 90 minutes later: 5 and its 2 minutes against more
    // than 30 minutes of ribbons cut later than wished.
    let first = first("harvest-supper");
    let before = make(&first, &first);
    let acts = |changes: &[&str]| {
        let scene = first.with_all(&settings(changes)).unwrap();
        let plan = make(&plan::compare::keeping(&scene, &before), &first);
        plan.timeline
            .tasks
            .iter()
            .filter(|t| t.meaning.kind == plan::tasks::Kind::Relief)
            .count()
    };
    assert_eq!(acts(&["serve=+90min"]), 1);
    assert_eq!(acts(&["serve=+90min", "clock.act=1000"]), 0);
}

#[test]
fn the_house_values_are_what_a_book_without_them_has() {
    let first = first("harvest-supper");
    assert_eq!(first.site.clock, ClockWeights::DEFAULT);
    let plan = make(&first, &first);
    for (key, weight) in [
        ("best-hour", 1.0),
        ("around", 0.2),
        ("overtime", 0.05),
        ("act", 5.0),
    ] {
        near(number(&plan, &format!("clock.{key}")), weight, 0.0);
    }
    let same = with(
        &first,
        &[
            "clock.best-hour=1",
            "clock.around=0.2",
            "clock.overtime=0.05",
            "clock.act=5",
        ],
    );
    assert_eq!(same.timeline, plan.timeline);
}

#[test]
fn even_work_narrows_the_gap_and_moves_no_hour() {
    let scene = first("harvest-supper");
    let make = |changes: &[&str]| {
        let changed = scene.with_all(&settings(changes)).unwrap();
        let effort = schedule::Effort::standard();
        let (plan, solved) =
            plan::make_with_problem(&changed, &scene, &effort, &mut |_| true).unwrap();
        let (problem, schedule) = solved.unwrap();
        let broken = schedule::check::check(&problem, &schedule.start, &schedule.people);
        assert!(broken.is_empty(), "{broken:?}");
        let mut minutes = vec![0; problem.people.len()];
        for (task, crew) in schedule.people.iter().enumerate() {
            for &p in crew {
                minutes[p] += problem.tasks[task].duration;
            }
        }
        let learners = || {
            let all = problem.people.iter().zip(&minutes);
            all.filter(|(p, _)| p.id.starts_with("learner"))
                .map(|(_, m)| *m)
        };
        let gap = learners().max().unwrap() - learners().min().unwrap();
        (plan, schedule.start, gap)
    };
    let (usual, starts, before) = make(&[]);
    let (even, same, after) = make(&["clock.even-work=true"]);
    assert_eq!(starts, same);
    near(even.timeline.value, usual.timeline.value, 0.0);
    assert!(
        after < before,
        "{before} min between most and least, then {after}"
    );
}
