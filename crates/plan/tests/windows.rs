//! Windows computed from what a step is to reach.
#![allow(clippy::unwrap_used, clippy::panic)]

use book::{Limits, SourceFile, demo, read};
use kitchen::Book;
use plan::windows::{Computed, Span};
use plan::{Plan, PlanError, Scene, Setting, make};
use schedule::Effort;

fn demo_book() -> Book {
    read(&demo::files(), Limits::default()).unwrap()
}

/// The demo with one stretch of one file written anew.
fn changed(file: &str, from: &str, to: &str) -> Book {
    let files: Vec<SourceFile> = demo::files()
        .into_iter()
        .map(|f| {
            if f.name.ends_with(file) {
                let text = String::from_utf8(f.bytes).unwrap();
                assert_eq!(text.matches(from).count(), 1, "{from}");
                SourceFile::text(&f.name, &text.replace(from, to))
            } else {
                f
            }
        })
        .collect();
    read(&files, Limits::default()).unwrap()
}

fn plan_of(book: &Book, event: &str, settings: &[&str]) -> Result<Plan, PlanError> {
    let first = Scene::new(book, event).unwrap();
    let settings: Vec<Setting> = settings.iter().map(|s| Setting::read(s).unwrap()).collect();
    let scene = first.with_all(&settings).unwrap();
    make(&scene, &first, &Effort::standard(), &mut |_| true)
}

fn window<'p>(plan: &'p Plan, component: &str, step: &str) -> &'p Computed {
    plan.windows
        .iter()
        .find(|w| w.component == component && w.step == step)
        .unwrap()
}

fn span(w: &Computed) -> Span {
    *w.window.as_ref().unwrap()
}

/// Time goes with the square of the thickness: (34 ÷ 25)² = 1.8496. The cure's salt is finite, so the square
/// holds to the accuracy of the scheme.
#[test]
fn thicker_fish_takes_the_square_of_the_time() {
    let book = demo_book();
    let usual = plan_of(&book, "harvest-supper", &[]).unwrap();
    let thick = plan_of(
        &book,
        "harvest-supper",
        &["hot-smoked-char.cure.thickness=34mm"],
    )
    .unwrap();
    let of = |p: &Plan| span(window(p, "hot-smoked-char", "cure")).nominal.hours();
    let ratio = of(&thick) / of(&usual);
    assert!((ratio - 1.8496).abs() < 0.01, "{ratio}");
}

#[test]
fn thin_is_there_before_usual_before_thick() {
    for event in ["harvest-supper", "duck-class", "orchard-lunch"] {
        let plan = plan_of(&demo_book(), event, &[]).unwrap();
        assert!(!plan.windows.is_empty());
        for w in &plan.windows {
            let s = span(w);
            assert!(s.thin <= s.nominal && s.nominal <= s.thick, "{w:?}");
            assert!(s.thick_if_slow.is_none_or(|slow| slow >= s.thick), "{w:?}");
            assert!(w.model.contains("not validated on product data"));
        }
    }
}

/// The demo's chill is planned for 75 minutes; the thickest fish needs longer by the model, and the plan says so
/// while it keeps the house's time.
#[test]
fn a_conflict_is_said_aloud_and_the_house_is_kept() {
    let plan = plan_of(&demo_book(), "harvest-supper", &[]).unwrap();
    let chill = window(&plan, "hot-smoked-char", "chill");
    assert!(chill.conflict.as_ref().unwrap().contains("1 h 15 min"));
    assert!(
        plan.choices
            .iter()
            .any(|c| c.finding.contains("hot-smoked-char.chill"))
    );
    let run = plan
        .timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == "hot-smoked-char.chill.run")
        .unwrap();
    assert_eq!(run.end - run.start, 75);
}

/// A wait that says from-goal takes its minimum from the thickest piece.
#[test]
fn a_wait_from_the_goal_is_what_the_clock_keeps() {
    let wait = "wait  = { min = \"18 h\", best = \"22 h 20 min\", max = \"24 h\", by-thickness = true, at = \"<= 3 °C\" }";
    let book = changed(
        "hot-smoked-char.toml",
        wait,
        "wait  = { from-goal = true, max = \"24 h\", at = \"<= 3 °C\" }",
    );
    let plan = plan_of(&book, "harvest-supper", &[]).unwrap();
    let w = window(&plan, "hot-smoked-char", "cure");
    assert!(w.house.is_none());
    let cure = plan
        .timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == "hot-smoked-char.cure")
        .unwrap();
    let rinse = plan
        .timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == "hot-smoked-char.rinse")
        .unwrap();
    assert_eq!(rinse.earliest, cure.end + span(w).thick.whole_minutes());
    assert_eq!(rinse.latest, cure.end + 24 * 60);
    // Thick fish cannot be there by a maximum that is too short: no plan, and the reason.
    let short = changed(
        "hot-smoked-char.toml",
        wait,
        "wait  = { from-goal = true, max = \"5 h\", at = \"<= 3 °C\" }",
    );
    match plan_of(&short, "harvest-supper", &[]) {
        Err(PlanError::NoWindow { what, why }) => {
            assert_eq!(what, "hot-smoked-char.cure");
            assert!(why.contains("ends after 5 h"), "{why}");
        }
        other => panic!("{other:?}"),
    }
}

/// More salt brings the same share sooner or as soon; a warmer flesh sooner.
#[test]
fn warmth_hastens_and_a_fitted_diffusivity_is_used() {
    let piece = "open-faces = 1 }\ngoal";
    let of = |book: &Book| {
        span(window(
            &plan_of(book, "harvest-supper", &[]).unwrap(),
            "hot-smoked-char",
            "cure",
        ))
        .nominal
    };
    let usual = of(&demo_book());
    let fast = of(&changed(
        "hot-smoked-char.toml",
        piece,
        "open-faces = 1, salt-diffusivity = 1.0e-9 }\ngoal",
    ));
    // Four times the diffusivity of the guess, the time a quarter; both at 3 °C by the same activation energy.
    let ratio = usual.hours() / fast.hours();
    assert!((ratio - 4.0).abs() < 0.05, "{ratio}");
}
