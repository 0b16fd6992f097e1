//! One `[[step]]` of a recipe.

use kitchen::Id;
use kitchen::step::{
    BaseKind, ClockRule, Feed, FeedFrom, Hands, Keeps, LineAmount, Rounds, Segment, Step, StepBase,
    Until, Yield,
};
use kitchen::verb::{Loses, Verb};
use sources::Citation;
use units::{Base, Elapsed};

use crate::cross::Known;
use crate::diagnostic::Code;
use crate::fields::{Fields, Span};
use crate::line;
use crate::piece::{machine_use, piece, wait};

/// A step with the places its references stand at.
pub(crate) struct ReadStep {
    pub(crate) step: Step,
    /// Where the id stands.
    pub(crate) at: Span,
    /// Where each `after` stands, in the order of the feeds.
    pub(crate) after: Vec<(Id, Span)>,
    /// Where each `clock` reference stands.
    pub(crate) clock: Vec<(Id, Span)>,
}

/// Reads one step.
pub(crate) fn read(fields: &Fields<'_, '_>, recipe: &str, known: &Known) -> Option<ReadStep> {
    let id = fields.own_id("id");
    let named = id.as_ref().map_or_else(
        || format!("a step of {recipe}"),
        |(id, _)| format!("step {id} of {recipe}"),
    );
    let fields = &fields.renamed(named.clone());
    fields.raw("id");
    let verb = verb(fields);
    let what = fields
        .text("what")
        .map_or_else(|| verb.map_or("", Verb::word).to_owned(), |(t, _)| t);
    let (feeds, after) = feeds(fields, known);
    let lines: Vec<_> = fields
        .list("mix", &format!("a line of {named}"))
        .iter()
        .filter_map(|f| line::read(f, known))
        .collect();
    let by_base = lines
        .iter()
        .any(|l| matches!(l.amount, LineAmount::OfBase(_)));
    let base = base(fields, &feeds, by_base);
    let spare_mix = fields
        .percent(
            "spare-mix",
            0.0,
            100.0,
            "write the mix made beyond the need",
        )
        .map_or(0.0, |p| p / 100.0);
    let yields = yields(fields);
    let loses = fields
        .one_of(
            "loses",
            &[("water", Loses::Water), ("substance", Loses::Substance)],
        )
        .or_else(|| verb.map(Verb::loses));
    let keeps = fields
        .fields("keeps", format!("keeps of {named}"))
        .map(|f| keeps(&f));
    let hands = fields
        .fields("hands", format!("hands of {named}"))
        .map_or_else(no_hands, |f| hands(&f));
    let programme: Vec<Segment> = fields
        .list("programme", &format!("programme of {named}"))
        .iter()
        .filter_map(segment)
        .collect();
    let until = fields
        .fields("until", format!("until of {named}"))
        .and_then(|f| until(&f));
    let rounds = fields
        .fields("rounds", format!("rounds of {named}"))
        .and_then(|f| rounds(&f));
    let wait = wait(fields);
    let uses = fields
        .list("uses", &format!("uses of {named}"))
        .iter()
        .filter_map(|f| machine_use(f, known))
        .collect();
    let piece = fields
        .fields("piece", format!("piece of {named}"))
        .and_then(|f| piece(&f));
    let loads_as_before = fields
        .one_of("loads", &[("as before", true), ("its own", false)])
        .unwrap_or(false);
    let (clock, clock_at) = clock(fields);
    fields.close();
    let (id, at) = id?;
    Some(ReadStep {
        step: Step {
            id,
            what,
            verb: verb?,
            feeds,
            base: base?,
            lines,
            spare_mix,
            yields: yields?,
            loses: loses?,
            keeps,
            hands,
            programme,
            until,
            rounds,
            wait: wait?,
            uses,
            piece,
            loads_as_before,
            clock,
        },
        at,
        after,
        clock: clock_at,
    })
}

fn verb(fields: &Fields<'_, '_>) -> Option<Verb> {
    if !fields.has("do") {
        fields.raw("do");
        fields.missing(
            "do",
            "the act: fillet, dry-cure, brine, hot-smoke, chill …",
            "say what is done",
        );
        return None;
    }
    fields.one_of("do", Verb::ALL)
}

fn feeds(fields: &Fields<'_, '_>, known: &Known) -> (Vec<Feed>, Vec<(Id, Span)>) {
    let mut feeds = Vec::new();
    let mut places = Vec::new();
    if fields
        .raw("after")
        .is_some_and(|v| v.get_ref().as_str().is_some())
    {
        if let Some((id, span)) = fields.other_id("after") {
            feeds.push(Feed {
                from: FeedFrom::Step(id.clone()),
                share: 1.0,
            });
            places.push((id, span));
        }
    } else {
        for f in fields.list("after", &format!("after of {}", fields.what)) {
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
    if let Some(f) = fields.fields("takes", format!("takes of {}", fields.what)) {
        if let Some(feed) = takes(&f, known) {
            feeds.push(feed);
        }
    }
    let total: f64 = feeds.iter().map(|f| f.share).sum();
    if !feeds.is_empty() && (total - 1.0).abs() > 1e-6 {
        fields.page.report(
            Code::Contradiction,
            fields.at("after"),
            format!(
                "the inflows of {} add to {:.2} %",
                fields.what,
                total * 100.0
            ),
            "shares that add to 100 %",
            "give each inflow its share of the whole",
        );
    }
    (feeds, places)
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

fn base(fields: &Fields<'_, '_>, feeds: &[Feed], has_lines: bool) -> Option<StepBase> {
    let name = fields.text("base");
    let ratio = fields.factor("ratio");
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
        _ if feeds.is_empty() && !fields.has("base-is") => BaseKind::Made,
        _ => BaseKind::Inflow,
    };
    if matches!(kind, BaseKind::Made) && !feeds.is_empty() {
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
    if !matches!(kind, BaseKind::Made) && feeds.is_empty() {
        fields.missing(
            "after",
            "`after` (a step) or `takes` (an item), or base-is = \"made\"",
            "say where the lot comes from",
        );
        return None;
    }
    if has_lines && name.is_none() {
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
        make_in: fields.some_mass("make-in"),
        written_for: fields.some_mass("written-for"),
    })
}

/// Least and greatest yield taken: dried mustard seed triples, nothing gains more than sixfold.
const YIELD: (f64, f64) = (0.001, 6.0);

fn yields(fields: &Fields<'_, '_>) -> Option<Yield> {
    if !fields.has("yield") {
        fields.raw("yield");
        return Some(Yield {
            mean: 1.0,
            low: 1.0,
            high: 1.0,
            source: Citation::whole(&sources::list::HOUSE),
        });
    }
    let f = fields.fields("yield", format!("yield of {}", fields.what))?;
    let do_now = "write out over in, such as 0.62; a yield is never zero";
    let mean = f.number_within("mean", YIELD.0, YIELD.1, do_now);
    let low = f.number_within("low", YIELD.0, YIELD.1, do_now);
    let high = f.number_within("high", YIELD.0, YIELD.1, do_now);
    let source = f.source("source");
    f.close();
    if mean.is_none() && !f.has("mean") {
        f.missing("mean", "out over in", do_now);
    }
    let mean = mean?.0;
    let low = low.map_or(mean, |(n, _)| n);
    let high = high.map_or(mean, |(n, _)| n);
    if low > mean || mean > high {
        f.page.report(
            Code::Contradiction,
            f.head(),
            format!("{} has low {low}, mean {mean}, high {high}", f.what),
            "low ≤ mean ≤ high",
            "put them in order",
        );
        return None;
    }
    Some(Yield {
        mean,
        low,
        high,
        source,
    })
}

fn keeps(fields: &Fields<'_, '_>) -> Keeps {
    let part = |key| {
        fields
            .percent(key, 0.0, 100.0, "write the part that stays in the lot")
            .map(|p| p / 100.0)
    };
    let keeps = Keeps {
        salt: part("salt"),
        sugar: part("sugar"),
        rest: part("rest"),
    };
    fields.close();
    keeps
}

pub(crate) fn no_hands() -> Hands {
    Hands {
        setup: Elapsed::ZERO,
        each: Elapsed::ZERO,
        per_kg: Elapsed::ZERO,
        learner: 1.0,
        people: 1,
        skill: None,
        slowest: None,
    }
}

/// Reads `hands`.
pub(crate) fn hands(fields: &Fields<'_, '_>) -> Hands {
    let time = |key| fields.elapsed(key).map_or(Elapsed::ZERO, |(t, _)| t);
    let hands = Hands {
        setup: time("setup"),
        each: time("each"),
        per_kg: time("per-kg"),
        learner: fields.factor("learner").unwrap_or(1.0),
        people: fields
            .whole("people", 1, 500, "write how many share the work")
            .unwrap_or(1),
        skill: fields.text("skill").map(|(t, _)| t),
        slowest: fields.elapsed("slowest").map(|(t, _)| t),
    };
    fields.close();
    hands
}

fn segment(fields: &Fields<'_, '_>) -> Option<Segment> {
    let what = fields.need_text(
        "what",
        "what the machine does: dry, smoke, ramp, hold",
        "name it",
    );
    let air = fields.temperature("air").map(|(t, _)| t);
    let time = fields.elapsed("for");
    if time.is_none() && !fields.has("for") {
        fields.missing("for", "how long, such as \"60 min\"", "write it");
    }
    let smoke = fields.flag("smoke").unwrap_or(false);
    let by_thickness = fields.flag("by-thickness").unwrap_or(false);
    fields.close();
    Some(Segment {
        what: what?.0,
        air,
        time: time?.0,
        smoke,
        by_thickness,
    })
}

fn until(fields: &Fields<'_, '_>) -> Option<Until> {
    let core = fields.temperature("core");
    let hold = fields.elapsed("hold").map_or(Elapsed::ZERO, |(t, _)| t);
    fields.close();
    if core.is_none() && !fields.has("core") {
        fields.missing("core", "a core temperature, such as \"63 °C\"", "write it");
    }
    Some(Until {
        core: core?.0,
        hold,
    })
}

fn rounds(fields: &Fields<'_, '_>) -> Option<Rounds> {
    let what = fields.need_text("what", "what is done each time", "say it");
    let every = fields.elapsed("every");
    if every.is_none() && !fields.has("every") {
        fields.missing("every", "from round to round, such as \"2 h\"", "write it");
    }
    let first = fields.elapsed("first").map(|(t, _)| t);
    let at_end = fields.flag("at-end").unwrap_or(false);
    let give = fields.elapsed("give").map_or(Elapsed::ZERO, |(t, _)| t);
    let hands = fields.elapsed("hands");
    if hands.is_none() && !fields.has("hands") {
        fields.missing(
            "hands",
            "the work of one round: every round needs a person",
            "write it",
        );
    }
    let people = fields
        .whole("people", 1, 500, "write how many")
        .unwrap_or(1);
    fields.close();
    let (every, span) = every?;
    if every.seconds() < 60 {
        fields.page.report(
            Code::OutOfRange,
            span,
            format!("{} come every {every}", fields.what),
            "at least a minute apart",
            "write the time from round to round",
        );
        return None;
    }
    Some(Rounds {
        what: what?.0,
        every,
        first: first.unwrap_or(every),
        at_end,
        give,
        hands: hands?.0,
        people,
    })
}

fn clock(fields: &Fields<'_, '_>) -> (Vec<ClockRule>, Vec<(Id, Span)>) {
    let mut rules = Vec::new();
    let mut places = Vec::new();
    for f in fields.list("clock", &format!("clock of {}", fields.what)) {
        let after = f.other_id("after");
        let window = crate::piece::min_max(&f);
        f.close();
        if after.is_none() && !f.has("after") {
            f.missing(
                "after",
                "the id of a step",
                "name the step the clock starts at",
            );
        }
        if let (Some((id, span)), Some((min, max))) = (after, window) {
            rules.push(ClockRule {
                after: id.clone(),
                min,
                max,
            });
            places.push((id, span));
        }
    }
    (rules, places)
}
