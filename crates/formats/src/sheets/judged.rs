//! Windows and verdicts as tables.

use plan::Plan;
use units::Elapsed;

use super::title;
use crate::sheet::{Cell, Column, Sheet};

/// Windows computed from what steps are to reach, beside the house's own. They plan a day and show no limit.
#[must_use]
pub fn windows(plan: &Plan) -> Sheet {
    let hours = |name| Column::number(name, "h", 2);
    let columns = vec![
        Column::text("component", 26),
        Column::text("step", 16),
        Column::text("goal", 40),
        hours("thin pieces there"),
        hours("usual pieces there"),
        hours("thickest there, earliest"),
        hours("best"),
        hours("latest"),
        hours("house at least"),
        hours("house at most"),
        Column::text("conflict", 40),
        Column::text("not computed because", 40),
        Column::text("model", 50),
    ];
    let h = |t: Option<Elapsed>| Cell::number(t.map(Elapsed::hours));
    let rows = plan
        .windows
        .iter()
        .map(|w| {
            let span = w.window.as_ref().ok();
            vec![
                Cell::text(w.component.as_str()),
                Cell::text(w.step.as_str()),
                Cell::text(&w.goal),
                h(span.map(|s| s.thin)),
                h(span.map(|s| s.nominal)),
                h(span.map(|s| s.thick)),
                h(span.map(|s| s.best)),
                h(span.and_then(|s| s.latest)),
                h(w.house.map(|(min, _)| min)),
                h(w.house.map(|(_, max)| max)),
                Cell::text(w.conflict.clone().unwrap_or_default()),
                Cell::text(w.window.as_ref().err().cloned().unwrap_or_default()),
                Cell::text(w.model),
            ]
        })
        .collect();
    Sheet {
        name: "windows",
        title: title(plan, "Computed windows"),
        columns,
        rows,
    }
}

/// Verdicts on the planned lots and hours: shown, not shown or broken, each with its limit and where that comes from.
#[must_use]
pub fn verdicts(plan: &Plan) -> Sheet {
    let number = |name| Column::number(name, "", 2);
    let columns = vec![
        Column::text("component", 26),
        Column::text("rule", 20),
        Column::text("asks", 44),
        Column::text("verdict", 12),
        number("value"),
        number("limit"),
        number("margin"),
        Column::text("unit", 8),
        Column::text("counted on", 30),
        Column::text("where and how", 40),
        Column::text("limit holds as", 26),
        Column::text("source", 40),
        Column::text("source status", 16),
        Column::text("next", 44),
    ];
    let rows = plan
        .verdicts
        .iter()
        .map(|v| {
            let j = &v.judgement;
            vec![
                Cell::text(v.component.as_str()),
                Cell::text(j.rule),
                Cell::text(&j.asks),
                Cell::text(j.verdict.word()),
                Cell::number(j.value),
                Cell::number(j.limit),
                Cell::number(j.margin),
                Cell::text(j.unit),
                Cell::text(&j.base),
                Cell::text(&j.place),
                Cell::text(j.holds.words()),
                Cell::text(j.source.title),
                Cell::text(j.source.status.words()),
                Cell::text(&j.next),
            ]
        })
        .collect();
    Sheet {
        name: "verdicts",
        title: title(plan, "Verdicts on the plan, not on readings"),
        columns,
        rows,
    }
}
