//! What flows into a step, and what its percentages are taken of.

use kitchen::Id;
use kitchen::step::{BaseKind, Feed, FeedFrom, StepBase};
use units::Base;

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::known::Known;
use crate::page::Span;

/// What flows into a step, with the places its references stand at.
pub(crate) struct Inflow {
    pub(crate) feeds: Vec<Feed>,
    /// Where each `after` stands, in the order of the feeds.
    pub(crate) after: Vec<(Id, Span)>,
    /// Where a recipe it takes is named.
    pub(crate) recipes: Vec<(Id, Span)>,
    /// Whether the step says that something flows in, readable or not.
    pub(crate) stated: bool,
    /// Whether all that is stated was read.
    pub(crate) whole: bool,
}

/// Reads `after` and `takes`.
pub(crate) fn inflow(fields: &Fields<'_, '_>, known: &Known) -> Inflow {
    let mut feeds = Vec::new();
    let mut places = Vec::new();
    let mut recipes = Vec::new();
    let mut stated = 0;
    if fields
        .raw("after")
        .is_some_and(|v| v.get_ref().as_str().is_some())
    {
        stated += 1;
        if let Some((id, span)) = fields.other_id("after") {
            feeds.push(Feed {
                from: FeedFrom::Step(id.clone()),
                share: 1.0,
            });
            places.push((id, span));
        }
    } else {
        for f in fields.list("after", &format!("an inflow of {}", fields.what)) {
            stated += 1;
            let id = f.other_id("step");
            let share = f.percent("share", 0.0001, 100.0, "write its part of the inflow");
            f.close();
            if id.is_none() && !f.has("step") {
                f.missing("step", "the id of a step", "name the step it comes after");
            }
            if share.is_none() && !f.has("share") {
                f.missing(
                    "share",
                    "its part of the inflow, such as \"60 %\"",
                    "write it",
                );
            }
            if let (Some((id, span)), Some(share)) = (id, share) {
                feeds.push(Feed {
                    from: FeedFrom::Step(id.clone()),
                    share: share / 100.0,
                });
                places.push((id, span));
            }
        }
    }
    if let Some(f) = fields.fields("takes", format!("what {} takes", fields.what)) {
        stated += 1;
        recipes.extend(f.place_of_id("recipe"));
        if let Some(feed) = takes(&f, known) {
            feeds.push(feed);
        }
    }
    let total: f64 = feeds.iter().map(|f| f.share).sum();
    // A share that could not be read is reported by itself; the sum then says nothing.
    if !feeds.is_empty() && feeds.len() == stated && (total - 1.0).abs() > 1e-6 {
        fields.page.report(
            Code::Contradiction,
            fields.at(if fields.has("after") {
                "after"
            } else {
                "takes"
            }),
            format!(
                "the inflows of {} add to {} %",
                fields.what,
                crate::fields::figure((total * 1e4).round() / 1e2)
            ),
            "shares that add to 100 %",
            "give each inflow its share of the whole",
        );
    }
    Inflow {
        whole: feeds.len() == stated,
        feeds,
        after: places,
        recipes,
        stated: stated > 0 || fields.has("after") || fields.has("takes"),
    }
}

fn takes(fields: &Fields<'_, '_>, known: &Known) -> Option<Feed> {
    let share = fields
        .percent("share", 0.0001, 100.0, "write its part of the inflow")
        .map_or(1.0, |p| p / 100.0);
    let piece = fields.some_mass("piece");
    let water_pct = fields.percent("water", 0.0, 100.0, "write the water of the edible part");
    let from = if fields.has("recipe") {
        let (name, span) = fields.text("recipe")?;
        known.recipe(fields, &name, &span).map(FeedFrom::Recipe)
    } else if let Some((name, span)) =
        fields.need_text("item", "an ingredient", "say what the step starts from")
    {
        known.item(fields, &name, &span).map(|item| FeedFrom::Item {
            item,
            piece,
            water_pct,
        })
    } else {
        None
    };
    fields.close();
    Some(Feed { from: from?, share })
}

/// Reads what 100 % is; `flows_in` whether something flows in, `by_base` whether a line is a
/// percentage of it.
pub(crate) fn base(fields: &Fields<'_, '_>, flows_in: bool, by_base: bool) -> Option<StepBase> {
    let name = fields.text("base");
    let ratio = fields.factor("ratio");
    let make_in = fields.some_mass("make-in");
    let written_for = fields.some_mass("written-for");
    let kind = match fields.one_of("base-is", &[("inflow", 0), ("made", 1), ("cover", 2)]) {
        Some(1) => BaseKind::Made,
        Some(2) => match ratio {
            Some(r) => BaseKind::Cover(r),
            None => {
                if !fields.has("ratio") {
                    fields.missing(
                        "ratio",
                        "how many times the inflow, such as 1.0",
                        "write the ratio by weight",
                    );
                }
                return None;
            }
        },
        _ if !flows_in && !fields.has("base-is") => BaseKind::Made,
        _ => BaseKind::Inflow,
    };
    if matches!(kind, BaseKind::Made) && flows_in {
        fields.page.report(
            Code::Contradiction,
            fields.at("base-is"),
            format!(
                "{} is made from its lines alone but something flows in",
                fields.what
            ),
            "base-is = \"inflow\" or \"cover\" when there is an `after` or `takes`",
            "choose what 100 % means",
        );
        return None;
    }
    if !matches!(kind, BaseKind::Made) && !flows_in {
        fields.missing(
            "after",
            "`after` (a step) or `takes` (an item), or base-is = \"made\"",
            "say where the lot comes from",
        );
        return None;
    }
    if by_base && name.is_none() {
        fields.missing(
            "base",
            "the name of what 100 % means: \"skin-on fillet\", \"green weight\", \"final liquor\"",
            "name the base; a percentage without one is a guess",
        );
        return None;
    }
    let name = match name {
        Some((text, span)) => match Base::new(&text) {
            Ok(base) => base,
            Err(error) => {
                fields.page.report(
                    Code::Unreadable,
                    span,
                    error.to_string(),
                    "a name",
                    "write one",
                );
                return None;
            }
        },
        None => Base::new("weight in").ok()?,
    };
    Some(StepBase {
        name,
        kind,
        make_in,
        written_for,
    })
}
