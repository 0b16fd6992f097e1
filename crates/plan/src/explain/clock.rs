//! Hours: starts, ends, windows.

use crate::clock;
use crate::figures::{Figure, Figures, Value};
use crate::tasks::{Kind, hours};
use crate::timeline::Timed;
use crate::verdicts;
use crate::whole::Plan;

fn moment(plan: &Plan, id: &str, at: i64, formula: &str, from: &[String], source: &str) -> Figure {
    let zone = &plan.scene.site.zone;
    Figure {
        id: id.to_owned(),
        value: Value::Moment {
            instant: clock::instant(zone, at),
            wall: clock::wall(zone, at),
        },
        unit: String::new(),
        base: None,
        from: from.to_vec(),
        formula: formula.to_owned(),
        source: source.to_owned(),
        places: 0,
    }
}

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    if let Ok(serve) = clock::minute(&plan.scene.site.zone, plan.scene.event.serve) {
        let source =
            super::stated(plan, "serve", &format!("event {}", plan.scene.event.id)).to_string();
        f.put(moment(plan, "event.serve", serve, "", &[], &source));
    }
    let search = super::book(
        "the search: minutes each task starts away from the hour wished for, weighted, and overtime",
    );
    let weights = plan.scene.site.clock;
    for (key, weight) in weights.named() {
        let id = format!("clock.{key}");
        let place = format!("what the clock weighs at {}", plan.scene.site.id);
        f.leaf(&id, weight, "min", 3, &super::stated(plan, &id, &place));
    }
    f.derived(
        "clock.away_min",
        plan.timeline.value,
        "min",
        0,
        "minutes each task starts away from the hour wished for × its weight + person-minutes of overtime × theirs; \
         made small by the search",
        &["clock.best-hour", "clock.around", "clock.overtime"],
    );
    f.leaf(
        "clock.unavoidable_min",
        plan.timeline.bound,
        "min",
        0,
        &search,
    );
    for (i, t) in plan.timeline.tasks.iter().enumerate() {
        task(plan, i, t, f);
    }
    for w in &plan.timeline.waits {
        #[allow(clippy::cast_precision_loss)]
        let elapsed_h = w.minutes as f64 / 60.0;
        let from: Vec<String> = [
            format!("clock.{}.end", w.from),
            format!("clock.{}.start", w.to),
        ]
        .into_iter()
        .filter(|x| f.get(x).is_some())
        .collect();
        f.derived(
            &format!("wait.{}.{}.elapsed_h", w.from, w.to),
            elapsed_h,
            "h",
            2,
            &format!(
                "elapsed hours between the two; allowed {} to {}",
                hours(w.min),
                hours(w.max)
            ),
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
    }
    #[allow(clippy::cast_precision_loss)]
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (step, minutes) in verdicts::coolings(recipe, &plan.timeline) {
            let id = format!("{}.{step}.cooling_min", c.recipe);
            let end = format!("clock.{}.{step}.end", c.recipe);
            let from: Vec<String> = [end].into_iter().filter(|x| f.get(x).is_some()).collect();
            f.derived(
                &id,
                minutes as f64,
                "min",
                0,
                "planned, heat off to the end of the chill",
                &from.iter().map(String::as_str).collect::<Vec<_>>(),
            );
        }
        if let Some(days) = verdicts::days_kept(&plan.scene, recipe, &plan.timeline) {
            f.derived(
                &format!("{}.date_mark.day_eaten", c.recipe),
                f64::from(days),
                "d",
                0,
                "day of service, the day made being day 1",
                &["event.serve"],
            );
        }
        if let (Some(mark), Some(made)) = (
            &recipe.keeps_for,
            recipe
                .keeps_for
                .as_ref()
                .and_then(|m| verdicts::made_at(recipe, &m.from, &plan.timeline)),
        ) && let Ok(day) = clock::zoned(&plan.scene.site.zone, made)
            && let Ok(last) = day
                .date()
                .checked_add(jiff::Span::new().days(i64::from(mark.days) - 1))
        {
            f.put(Figure {
                id: format!("{}.discard_by", c.recipe),
                value: Value::Word(last.strftime("%a %Y-%m-%d").to_string()),
                unit: String::new(),
                base: None,
                from: vec![],
                formula: String::new(),
                source: format!(
                    "day 1 is {} ({}); end of day {} at most {:.0} °C",
                    day.date().strftime("%a %m-%d"),
                    mark.from,
                    mark.days,
                    mark.at_most.c()
                ),
                places: 0,
            });
        }
        for step in &recipe.steps {
            if let Some(until) = step.until {
                f.leaf(
                    &format!("{}.{}.core", c.recipe, step.id),
                    until.core.c(),
                    "°C",
                    1,
                    &super::book("the programme aims at it; a probe shows it"),
                );
            }
            if let Some(piece) = &step.piece {
                thickness(plan, c.recipe.as_str(), step, piece, f);
            }
        }
    }
}

fn thickness(
    plan: &Plan,
    recipe: &str,
    step: &kitchen::step::Step,
    piece: &kitchen::step::Piece,
    f: &mut Figures,
) {
    let id = |s: &str| format!("{recipe}.{}.{s}", step.id);
    f.leaf(
        &id("thickness_written"),
        piece.thickness.mm(),
        "mm",
        0,
        &super::book("recipe"),
    );
    if let Some(measured) = piece.measured {
        let key = id("thickness");
        f.leaf(
            &key,
            measured.mm(),
            "mm",
            0,
            &super::stated(plan, &key, "recipe"),
        );
        f.derived(
            &id("time_factor"),
            piece.time_factor(),
            "×",
            2,
            "(thickness ÷ thickness written)²: salt and heat go in by the square of the way",
            &[&key, &id("thickness_written")],
        );
    }
}

fn task(plan: &Plan, i: usize, t: &Timed, f: &mut Figures) {
    let id = format!("clock.{}", t.meaning.id);
    let before = plan.timeline.tasks[..i].iter().rev().find(|b| {
        b.meaning.component == t.meaning.component
            && t.meaning.component.is_some()
            && b.end <= t.start
            && !matches!(b.meaning.kind, Kind::Round)
    });
    let from: Vec<String> = before
        .map(|b| format!("clock.{}.end", b.meaning.id))
        .into_iter()
        .filter(|x| f.get(x).is_some())
        .collect();
    let elapsed = before.map_or_else(String::new, |b| {
        format!(", {} after {}", hours(t.start - b.end), b.meaning.id)
    });
    f.put(moment(
        plan,
        &format!("{id}.start"),
        t.start,
        &format!("chosen by the clock inside its window{elapsed}"),
        &from,
        "computed",
    ));
    f.put(moment(
        plan,
        &format!("{id}.end"),
        t.end,
        &format!("start + {}", hours(t.end - t.start)),
        &[format!("{id}.start")],
        "computed",
    ));
    f.put(moment(
        plan,
        &format!("{id}.earliest"),
        t.earliest,
        "what came before it, and its minimum wait",
        &from,
        "computed",
    ));
    f.put(moment(
        plan,
        &format!("{id}.latest"),
        t.latest,
        "what came before it, and its maximum wait",
        &from,
        "computed",
    ));
    #[allow(clippy::cast_precision_loss)]
    if let (Some(b), false) = (before, matches!(t.meaning.kind, Kind::Round)) {
        f.derived(
            &format!("{id}.stood_h"),
            (t.start - b.end) as f64 / 60.0,
            "h",
            2,
            &format!(
                "elapsed hours since {} ended; a clock change neither adds nor removes one",
                b.meaning.id
            ),
            &[&format!("clock.{}.end", b.meaning.id)],
        );
    }
}
