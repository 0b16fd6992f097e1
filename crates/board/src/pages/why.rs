//! How a figure was reached: the figures and the formula it came from, down to what was entered or published.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use book::did_you_mean;
use maud::{Markup, html};
use plan::Plan;

use super::{Asked, plan_of};
use crate::Board;
use crate::page::{Frame, frame, opens};
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

/// Levels of a derivation opened at once; every figure on the page opens further.
const LEVELS: usize = 4;

pub(crate) async fn list(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&asked).await?;
    let part = query.first("part").unwrap_or("").to_lowercase();
    let found: Vec<_> = plan
        .figures
        .iter()
        .filter(|f| f.id.to_lowercase().contains(&part))
        .collect();
    Ok(frame(
        &Frame {
            title: &say("board-why"),
            plan: Some(&plan),
            here: "why",
        },
        html! {
            p { "Every figure of this plan. Open one to see how it was reached." }
            form class="fields no-print" method="get" {
                @for change in crate::page::changes_of(&plan) { input type="hidden" name="set" value=(change); }
                label { (say("board-part-of-name")) input name="part" value=(part); }
                button type="submit" { (say("board-find")) }
            }
            p class="small" { (found.len()) " " (say("board-of")) " " (plan.figures.len()) " " (say("board-figures")) }
            div class="wide" tabindex="0" { table { tbody {
                @for f in found { tr { td { (opens(&plan, &f.id, &f.id)) } td class="n" { (f.show()) } } }
            } } }
        },
    ))
}

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path((event, figure)): Path<(String, String)>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&(State(board), Path(event), query)).await?;
    if plan.figures.get(&figure).is_none() {
        let shown: String = figure.chars().take(60).collect();
        let near = did_you_mean(&figure, plan.figures.iter().map(|f| f.id.as_str()));
        return Err(Trouble::missing(
            format!("this plan has no figure \"{shown}\""),
            "one of the figures listed under Why",
            near.map_or_else(
                || "search the list by a part of its name".to_owned(),
                |n| format!("did you mean {n}?"),
            ),
        ));
    }
    Ok(frame(
        &Frame {
            title: &say("board-why"),
            plan: Some(&plan),
            here: "why",
        },
        html! { ul class="tree" { (branch(&plan, &figure, LEVELS)) } },
    ))
}

/// A figure and what it came from.
fn branch(plan: &Plan, id: &str, levels: usize) -> Markup {
    let Some(f) = plan.figures.get(id) else {
        return html! {};
    };
    html! {
        li {
            (opens(plan, id, id)) " = " span class="value" { (f.show()) }
            @if let Some(base) = &f.base { " " span class="small" { (base) } }
            @if !f.formula.is_empty() { br; span class="small" { "= " (f.formula) } }
            @if !f.source.is_empty() { br; span class="small" { (say("board-from")) " " (f.source) } }
            @if !f.from.is_empty() {
                @if levels > 1 { ul { @for from in &f.from { (branch(plan, from, levels - 1)) } } }
                @else { br; span class="small" { (say("board-from")) " " (say_with("board-n-more", &[("n", (&f.from.len().to_string()).into())])) } }
            }
        }
    }
}
