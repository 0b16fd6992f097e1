//! One `[[step]]` of a recipe.

use kitchen::Id;
use kitchen::step::{ClockRule, Hands, Keeps, Rounds, Segment, Step, Until, Yield};
use kitchen::verb::{Loses, Verb};
use sources::Citation;
use units::Elapsed;

use crate::diagnostic::Code;
use crate::fields::{Fields, figure};
use crate::goal::goal;
use crate::inflow::{Inflow, base, inflow};
use crate::known::Known;
use crate::line;
use crate::page::Span;
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
    /// Where each recipe it uses is named.
    pub(crate) recipes: Vec<(Id, Span)>,
    /// Where the machines and the skill it needs stand.
    pub(crate) needs: Needs,
}

/// Where what a step needs of a site is written.
#[derive(Debug, Clone)]
pub(crate) struct Needs {
    /// Each machine, in the order of the step's uses.
    pub(crate) uses: Vec<Span>,
    /// The skill, or the hands, or the step.
    pub(crate) skill: Span,
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
    let Inflow {
        feeds,
        after,
        mut recipes,
        stated,
        whole,
    } = inflow(fields, known);
    let mix = fields.list("mix", &format!("a line of {named}"));
    let lines: Vec<_> = mix.iter().filter_map(|f| line::read(f, known)).collect();
    recipes.extend(mix.iter().filter_map(|f| f.place_of_id("recipe")));
    let by_base = mix.iter().any(|f| f.has("of-base"));
    let base = base(fields, stated, by_base);
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
        .fields("keeps", format!("the keeps of {named}"))
        .map(|f| keeps(&f));
    let hands_at = fields.fields("hands", format!("the hands of {named}"));
    let skill = hands_at
        .as_ref()
        .map_or_else(|| fields.head(), |f| f.at("skill"));
    let hands = hands_at.map_or_else(no_hands, |f| hands(&f));
    let programme: Vec<Segment> = fields
        .list("programme", &format!("the programme of {named}"))
        .iter()
        .filter_map(segment)
        .collect();
    let goal = fields
        .fields("goal", format!("the goal of {named}"))
        .and_then(|f| goal(&f));
    let until = fields
        .fields("until", format!("the until of {named}"))
        .and_then(|f| until(&f));
    let rounds = fields
        .fields("rounds", format!("the rounds of {named}"))
        .and_then(|f| rounds(&f));
    let wait = wait(fields);
    let (uses, uses_at) = fields
        .list("uses", &format!("a machine use of {named}"))
        .iter()
        .filter_map(|f| machine_use(f, known).map(|u| (u, f.at("machine"))))
        .unzip();
    let piece = fields
        .fields("piece", format!("the piece of {named}"))
        .and_then(|f| piece(&f));
    let loads_as_before = fields
        .one_of("loads", &[("as before", true), ("its own", false)])
        .unwrap_or(false);
    let (clock, clock_at) = clock(fields);
    fields.close();
    if !whole {
        // Without its inflow the step would look like one that starts from nothing.
        return None;
    }
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
            goal,
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
        recipes,
        needs: Needs {
            uses: uses_at,
            skill,
        },
    })
}

fn verb(fields: &Fields<'_, '_>) -> Option<Verb> {
    if !fields.has("do") {
        fields.raw("do");
        fields.missing(
            "do",
            "the act: trim, cut, dry-cure, brine, hot-smoke, chill and so on",
            "say what is done",
        );
        return None;
    }
    fields.one_of("do", Verb::ALL)
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
    let f = fields.fields("yield", format!("the yield of {}", fields.what))?;
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
    if (f.has("low") && low.is_none()) || (f.has("high") && high.is_none()) {
        return None;
    }
    let low = low.map_or(mean, |(n, _)| n);
    let high = high.map_or(mean, |(n, _)| n);
    if low > mean || mean > high {
        f.page.report(
            Code::Contradiction,
            f.at(if low > mean { "low" } else { "high" }),
            format!(
                "{} has low {}, mean {}, high {}",
                f.what,
                figure(low),
                figure(mean),
                figure(high)
            ),
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
        spread: None,
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
        spread: spread(fields, "low", "high"),
    };
    fields.close();
    hands
}

/// How much shorter or longer something may turn out, in percent of its usual time; the side left out is 100 %.
pub(crate) fn spread(
    fields: &Fields<'_, '_>,
    low: &'static str,
    high: &'static str,
) -> Option<kitchen::spread::Spread> {
    let (least, most) = kitchen::spread::Spread::FURTHEST;
    let do_now = "write what it may take, in percent of its usual time: \"85 %\", \"130 %\"";
    let short = fields.percent(low, least * 100.0, 100.0, do_now);
    let long = fields.percent(high, 100.0, most * 100.0, do_now);
    if short.is_none() && long.is_none() {
        return None;
    }
    kitchen::spread::Spread::new(
        short.unwrap_or(100.0) / 100.0,
        long.unwrap_or(100.0) / 100.0,
    )
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
    let spread = spread(fields, "low", "high");
    fields.close();
    Some(Segment {
        what: what?.0,
        air,
        time: time?.0,
        smoke,
        by_thickness,
        spread,
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
    for f in fields.list("clock", &format!("a clock rule of {}", fields.what)) {
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
