//! What the plan can say about the rules of the place.

use kitchen::Id;
use kitchen::recipe::ProductClass;
use kitchen::step::{FeedFrom, LineItem};
use kitchen::verb::Verb;
use safety::nitrite::{Product as NitriteProduct, Way, judge as judge_nitrite, limits};
use safety::{Judgement, planned};
use units::{Elapsed, Ppm};

use crate::demand::Component;
use crate::lot::Lots;
use crate::scene::Scene;
use crate::tasks::Kind;
use crate::timeline::Timeline;

/// One verdict of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// `component.rule`.
    pub id: String,
    /// Component.
    pub component: Id,
    /// The judgement.
    pub judgement: Judgement,
    /// Figures the value stands on.
    pub from: Vec<String>,
}

/// Judges the planned lots and the planned clock.
pub(crate) fn judge(
    scene: &Scene,
    components: &[Component],
    lots: &[Lots],
    timeline: &Timeline,
) -> Vec<Verdict> {
    let mut all = Vec::new();
    let place = scene.site.rules;
    for (c, l) in components.iter().zip(lots) {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let mut add = |judgement: Judgement, from: Vec<String>| {
            all.push(Verdict {
                id: format!("{}.{}", c.recipe, judgement.rule),
                component: c.recipe.clone(),
                judgement,
                from,
            });
        };
        let last = l.after.get(recipe.last());
        if let Some(product) = &recipe.product {
            let mean = last.and_then(crate::lot::Lot::water_phase_salt_pct);
            if let Some(j) = planned::water_phase_salt(place, product, mean) {
                let from = mean.map(|_| format!("{}.lot.water_phase_salt_pct", c.recipe));
                add(j, from.into_iter().collect());
            }
            for step in &recipe.steps {
                if let Some(until) = step.until
                    && let Some(j) =
                        planned::fish_core(place, product, until.core.c(), until.hold.minutes())
                {
                    add(j, vec![format!("{}.{}.core", c.recipe, step.id)]);
                }
            }
            let number = scene.site.plan_number.as_deref();
            if let Some(j) = planned::variance(place, product.class, product.reduced_oxygen, number)
            {
                add(j, Vec::new());
            }
            by_class(
                place,
                recipe,
                product,
                scene.site.plan_number.as_deref(),
                last,
                &mut add,
            );
        }
        for step in &recipe.steps {
            if let Some(at) = step.wait.at_most
                && let Some(j) = planned::held_cold(place, at.c(), step.wait.max)
            {
                add(j, Vec::new());
            }
        }
        // What goes into another recipe is judged there, on the meat it meets.
        let served = scene
            .event
            .dishes
            .iter()
            .filter_map(|d| scene.book.dishes.get(d))
            .any(|d| d.parts.iter().any(|p| p.recipe == c.recipe));
        if served || recipe.product.is_some() {
            for j in nitrite(scene, recipe, l) {
                add(j, vec![format!("{}.lot.nitrite_ppm", c.recipe)]);
            }
        }
        if let Some(j) = uncooled(recipe, place) {
            add(j, Vec::new());
        }
        for (step, cooling) in coolings(recipe, timeline) {
            if let Ok(elapsed) = Elapsed::from_seconds(cooling * 60) {
                let id = format!("{}.{step}.cooling_min", c.recipe);
                add(planned::cooling(place, elapsed), vec![id]);
            }
        }
        if let (Some(mark), Some(days)) = (&recipe.keeps_for, days_kept(scene, recipe, timeline)) {
            let class = recipe
                .product
                .as_ref()
                .map_or(ProductClass::ReadyCold, |p| p.class);
            let id = format!("{}.date_mark.day_eaten", c.recipe);
            add(planned::date_mark(place, class, mark.days, days), vec![id]);
        }
    }
    numbered(all)
}

/// What happened against a wait or an hour of the book: broken where it is written down, not shown where one end was
/// taken. The plan goes on beside it.
pub(crate) fn broken_waits(told: &crate::happened::Told) -> Vec<Verdict> {
    let mut all: Vec<Verdict> = Vec::new();
    for b in &told.broken {
        let own_hour = b.from == b.to;
        let hours = |m: i64| crate::tasks::hours(m.abs());
        let bound = if b.least { "at least" } else { "at most" };
        let since = if b.still_standing { "so far " } else { "" };
        #[allow(clippy::cast_precision_loss)]
        let in_hours = |m: i64| m as f64 / 60.0;
        let (asks, place) = if own_hour {
            (
                b.why.clone(),
                format!(
                    "{} was not started, {} after its last hour",
                    b.from,
                    hours(b.got)
                ),
            )
        } else {
            (
                format!("{} (from {} to {})", b.why, b.from, b.to),
                format!(
                    "elapsed {since}by the record: {}, {bound} {}",
                    hours(b.got),
                    hours(b.limit)
                ),
            )
        };
        let mut j = Judgement::not_shown(
            "wait-kept",
            asks,
            place,
            &sources::list::HOUSE,
            if b.written_down {
                "decide with the person in charge whether this lot goes on, and write the decision down"
            } else {
                "one end of this wait was not written down: find out when it was"
            },
        );
        if b.written_down {
            j.verdict = safety::Verdict::Broken;
            j.unit = "h";
            j.value = Some(in_hours(b.got));
            j.limit = Some(in_hours(b.limit));
            j.margin = Some(in_hours(if b.least {
                b.got - b.limit
            } else {
                b.limit - b.got
            }));
            "elapsed time of the lot".clone_into(&mut j.base);
        }
        all.push(Verdict {
            id: format!("{}.{}", b.component, j.rule),
            component: b.component.clone(),
            judgement: j,
            from: Vec::new(),
        });
    }
    numbered(all)
}

/// Two judgements of one rule on one component (two limits, two chills) get ids of their own.
fn numbered(mut all: Vec<Verdict>) -> Vec<Verdict> {
    for i in 0..all.len() {
        let earlier = all[..i]
            .iter()
            .filter(|v| {
                v.component == all[i].component && v.judgement.rule == all[i].judgement.rule
            })
            .count();
        if earlier > 0 {
            all[i].id = format!("{}-{}", all[i].id, earlier + 1);
        }
    }
    all
}

/// Whether a step heats what goes through it.
fn heats(verb: Verb) -> bool {
    matches!(verb, Verb::HotSmoke | Verb::Cook | Verb::Brew)
}

/// What each class of product is asked for beside the figures: evidence no plan can give.
fn by_class(
    place: kitchen::site::RuleSet,
    recipe: &kitchen::recipe::Recipe,
    product: &kitchen::recipe::Product,
    plan_number: Option<&str>,
    last: Option<&crate::lot::Lot>,
    add: &mut dyn FnMut(Judgement, Vec<String>),
) {
    let hot = recipe.steps.iter().any(|s| heats(s.verb));
    let core = recipe.steps.iter().any(|s| s.until.is_some());
    match product.class {
        ProductClass::SmokedFish if !hot => add(planned::parasites(place), Vec::new()),
        ProductClass::SmokedFish if !core => add(planned::fish_core_missing(place), Vec::new()),
        ProductClass::DryCuredMeat | ProductClass::ImmersedMeat | ProductClass::PumpedMeat
            if !hot =>
        {
            add(planned::kill_step(place, plan_number), Vec::new());
        }
        ProductClass::ColdPickle => {
            let acid = last.and_then(crate::lot::Lot::acetic_pct);
            add(planned::pickle_ph(place, acid), Vec::new());
        }
        _ => {}
    }
    for step in &recipe.steps {
        if let Some(until) = step.until
            && let Some(j) =
                planned::meat_core(place, product.class, until.core.c(), until.hold.minutes())
        {
            add(j, vec![format!("{}.{}.core", recipe.id, step.id)]);
        }
    }
}

/// Something hot that no chill follows.
fn uncooled(recipe: &kitchen::recipe::Recipe, place: kitchen::site::RuleSet) -> Option<Judgement> {
    let hot = (0..recipe.steps.len()).rfind(|i| heats(recipe.steps[*i].verb))?;
    // Dry bakes stand at room temperature; what is to be held cold is what must be cooled.
    let held_cold = recipe.steps[hot..]
        .iter()
        .any(|s| s.wait.at_most.is_some_and(|t| t.c() <= 8.0));
    let chilled = recipe.steps[hot..].iter().any(|s| s.verb == Verb::Chill);
    if chilled || !held_cold {
        return None;
    }
    Some(planned::uncooled(place, recipe.steps[hot].id.as_str()))
}

/// All nitrite gone into a lot, against every limit of the place that holds for the product and the ways used.
fn nitrite(scene: &Scene, recipe: &kitchen::recipe::Recipe, lots: &Lots) -> Vec<Judgement> {
    let Some(total) = lots.nitrite_ppm() else {
        return Vec::new();
    };
    let not_shown = |place: String, next: &str| Judgement {
        unit: "ppm NaNO2",
        ..Judgement::not_shown(
            "nitrite",
            "nitrite within the limit of the place",
            place,
            &sources::list::FSIS_CALC,
            next,
        )
    };
    let as_ion = |ppm: f64| {
        let salt = Ppm::new(ppm).ok()?;
        let ion = science::nitrite::as_ion(salt).ok()?;
        Some((salt, ion))
    };
    let (salt, ion) = match total.clone().map(|ppm| as_ion(ppm).ok_or(ppm)) {
        Ok(Ok(both)) => both,
        Ok(Err(ppm)) => {
            return vec![not_shown(
                format!("{ppm} ppm is not a figure"),
                "check the weights",
            )];
        }
        Err(why) => {
            return vec![not_shown(
                format!("not computed: {why}"),
                "mend the recipe before anything is weighed",
            )];
        }
    };
    let product = recipe
        .product
        .as_ref()
        .and_then(|p| nitrite_product(p.class, p.species.as_deref()));
    let ways: Vec<Way> = lots
        .nitrite
        .iter()
        .map(|n| match recipe.steps[n.step].verb {
            Verb::Brine => Way::Immersed,
            Verb::Pump => Way::Pumped,
            _ => Way::Dry,
        })
        .collect();
    let here: Vec<_> = limits()
        .into_iter()
        .filter(|l| l.place == scene.site.rules)
        .collect();
    let judged: Vec<Judgement> = here
        .iter()
        .filter(|l| {
            product.is_some_and(|p| l.of.contains(&p)) && l.by.iter().any(|w| ways.contains(w))
        })
        .filter_map(|l| judge_nitrite(l, salt, ion).map(|j| (l, j)))
        .map(|(l, j)| worded(l, j))
        .collect();
    if !judged.is_empty() {
        return judged;
    }
    // No row for this product: above every limit of the place it is broken all the same.
    let most = here
        .iter()
        .filter_map(|l| {
            l.ppm_nano2.or_else(|| {
                l.ion_mg_kg
                    .and_then(|i| Ppm::new(i).ok())
                    .and_then(|i| science::nitrite::from_ion(i).ok())
                    .map(units::Ppm::ppm)
            })
        })
        .fold(0.0, f64::max);
    let mut j = not_shown(
        "ingoing, by arithmetic; no limit is known here for this product".to_owned(),
        "ask your authority which limit holds, and name the product in the recipe",
    );
    j.value = Some(salt.ppm());
    if salt.ppm() > most {
        j.verdict = safety::Verdict::Broken;
        j.limit = Some(most);
        j.margin = Some(most - salt.ppm());
        "above every limit of the place; do not weigh it out".clone_into(&mut j.next);
    }
    vec![j]
}

fn nitrite_product(class: ProductClass, species: Option<&str>) -> Option<NitriteProduct> {
    let named = species.is_some_and(|s| {
        let s = s.trim().to_lowercase();
        let last = s.rsplit(' ').next().unwrap_or("");
        // "atlantic salmon" is salmon; "salmon trout" is trout.
        ["salmon", "sablefish", "shad"].contains(&last)
    });
    match class {
        ProductClass::SmokedFish if named => Some(NitriteProduct::NamedFish),
        ProductClass::SmokedFish => Some(NitriteProduct::OtherFish),
        ProductClass::DryCuredMeat | ProductClass::ImmersedMeat | ProductClass::PumpedMeat => {
            Some(NitriteProduct::WholeMuscle)
        }
        ProductClass::ColdPickle | ProductClass::ReadyCold => None,
    }
}

/// A judgement of nitrite in words; a plan breaks a limit and never shows it.
fn worded(l: &safety::nitrite::NitriteLimit, j: safety::nitrite::Judgement) -> Judgement {
    let above = j.standing == safety::nitrite::Standing::Above;
    let counted = if l.ingoing {
        "ingoing"
    } else {
        "in the finished food"
    };
    Judgement {
        rule: "nitrite",
        asks: if j.limit == 0.0 {
            format!("no nitrite, {}", l.product)
        } else {
            format!("at most {} {} {counted}, {}", j.limit, j.unit, l.product)
        },
        verdict: if above && l.ingoing { safety::Verdict::Broken } else { safety::Verdict::NotShown },
        value: Some(j.value),
        limit: Some(j.limit),
        unit: j.unit,
        margin: Some(j.margin),
        base: "of green weight".to_owned(),
        place: "ingoing, all steps added up, by arithmetic on the planned weights; never on finished weight".to_owned(),
        evidence: Vec::new(),
        source: l.source,
        holds: safety::Holds::Here,
        next: match (above, l.ingoing) {
            (true, _) if j.limit == 0.0 => "not permitted in this product: leave it out".to_owned(),
            (true, true) => "less curing salt; do not weigh this out".to_owned(),
            (true, false) => "more went in than the finished food may hold: have it analysed before service".to_owned(),
            (false, _) => "within the limit as quoted; verify it with your authority, log every gram, weigh twice".to_owned(),
        },
    }
}

/// The step whose end is heat off for a chill: the last one before it that heats, or (a liquor poured hot) the step
/// before it.
fn heat_off(recipe: &kitchen::recipe::Recipe, chill: usize) -> Option<usize> {
    let before = |at: usize| {
        recipe.steps[at].feeds.iter().find_map(|f| match &f.from {
            FeedFrom::Step(id) => recipe.position(id),
            _ => None,
        })
    };
    let nearest = before(chill)?;
    let mut at = Some(nearest);
    while let Some(i) = at {
        if heats(recipe.steps[i].verb) {
            return Some(i);
        }
        at = before(i);
    }
    Some(nearest)
}

/// Chills with the planned minutes from heat off to their end: the longest any load waits.
pub(crate) fn coolings(recipe: &kitchen::recipe::Recipe, timeline: &Timeline) -> Vec<(Id, i64)> {
    let mut all = Vec::new();
    for (i, step) in recipe
        .steps
        .iter()
        .enumerate()
        .filter(|(_, s)| s.verb == Verb::Chill)
    {
        let Some(hot) = heat_off(recipe, i) else {
            continue;
        };
        // The end of every load: the last of its tasks that are part of the step itself.
        let ends = |id: &Id| -> Vec<i64> {
            let own = timeline.tasks.iter().filter(|t| {
                t.meaning.component.as_ref() == Some(&recipe.id)
                    && t.meaning.step.as_ref() == Some(id)
                    && matches!(t.meaning.kind, Kind::Hands | Kind::Run | Kind::Passing)
            });
            let mut by_load: std::collections::BTreeMap<String, i64> =
                std::collections::BTreeMap::new();
            for t in own {
                let load = t
                    .meaning
                    .id
                    .split('#')
                    .nth(1)
                    .and_then(|n| n.split('.').next())
                    .unwrap_or("1")
                    .to_owned();
                let end = by_load.entry(load).or_insert(t.end);
                *end = (*end).max(t.end);
            }
            by_load.into_values().collect()
        };
        let (heat, chill) = (ends(&recipe.steps[hot].id), ends(&step.id));
        let longest = if heat.len() == chill.len() {
            heat.iter().zip(&chill).map(|(from, to)| to - from).max()
        } else {
            // Loads that do not pair: the first off the heat may be the last in the cold.
            chill
                .iter()
                .max()
                .zip(heat.iter().min())
                .map(|(to, from)| to - from)
        };
        if let Some(minutes) = longest {
            all.push((step.id.clone(), minutes));
        }
    }
    all
}

/// The day, counted from the day made as day 1, on which it is served.
pub(crate) fn days_kept(
    scene: &Scene,
    recipe: &kitchen::recipe::Recipe,
    timeline: &Timeline,
) -> Option<u32> {
    let made = oldest_part(scene, recipe, timeline)?;
    let zone = &scene.site.zone;
    let day = crate::clock::zoned(zone, made).ok()?.date();
    let until = crate::clock::zoned(zone, used_at(scene, recipe, timeline)?)
        .ok()?
        .date();
    let days = day.until(until).ok()?.get_days();
    u32::try_from(days + 1).ok()
}

/// Day 1 of a product: when it was made, or when the oldest dated part of it was, unless heat came after.
fn oldest_part(
    scene: &Scene,
    recipe: &kitchen::recipe::Recipe,
    timeline: &Timeline,
) -> Option<i64> {
    let mark = recipe.keeps_for.as_ref()?;
    let own = made_at(recipe, &mark.from, timeline)?;
    let mut oldest = own;
    for (i, step) in recipe.steps.iter().enumerate() {
        if recipe.steps[i..].iter().any(|s| heats(s.verb)) {
            continue;
        }
        let lines = step.lines.iter().filter_map(|l| match &l.item {
            LineItem::Recipe(id) => Some(id),
            LineItem::Item(_) => None,
        });
        let feeds = step.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(id) => Some(id),
            _ => None,
        });
        for part in lines
            .chain(feeds)
            .filter_map(|id| scene.book.recipes.get(id))
        {
            oldest = oldest.min(oldest_part(scene, part, timeline).unwrap_or(own));
        }
    }
    Some(oldest)
}

/// When a product is used up: at service, or when the recipe that takes it takes it.
fn used_at(scene: &Scene, recipe: &kitchen::recipe::Recipe, timeline: &Timeline) -> Option<i64> {
    let dishes = scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d));
    if dishes.flat_map(|d| &d.parts).any(|p| p.recipe == recipe.id) {
        return crate::clock::minute(&scene.site.zone, scene.event.serve).ok();
    }
    let takes = |user: &Id, step: &Id| {
        scene
            .book
            .recipes
            .get(user)
            .and_then(|r| r.steps.iter().find(|s| s.id == *step))
            .is_some_and(|s| {
                s.lines
                    .iter()
                    .any(|l| matches!(&l.item, LineItem::Recipe(x) if *x == recipe.id))
                    || s.feeds
                        .iter()
                        .any(|f| matches!(&f.from, FeedFrom::Recipe(x) if *x == recipe.id))
            })
    };
    timeline
        .tasks
        .iter()
        .filter(|t| matches!((&t.meaning.component, &t.meaning.step), (Some(c), Some(s)) if takes(c, s)))
        .map(|t| t.start)
        .max()
}

/// When the dated step ends: the first of its loads, for the oldest part decides.
pub(crate) fn made_at(
    recipe: &kitchen::recipe::Recipe,
    step: &Id,
    timeline: &Timeline,
) -> Option<i64> {
    timeline
        .tasks
        .iter()
        .filter(|t| {
            t.meaning.component.as_ref() == Some(&recipe.id)
                && t.meaning.step.as_ref() == Some(step)
                && matches!(t.meaning.kind, Kind::Hands | Kind::Run | Kind::Passing)
        })
        .map(|t| t.end)
        .min()
}
