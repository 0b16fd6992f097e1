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
use crate::timeline::{Timed, Timeline};

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
            if let Some(j) = planned::water_phase_salt(product, mean) {
                let from = mean.map(|_| format!("{}.lot.water_phase_salt_pct", c.recipe));
                add(j, from.into_iter().collect());
            }
            for step in &recipe.steps {
                if let Some(until) = step.until
                    && let Some(j) =
                        planned::fish_core(product, until.core.c(), until.hold.minutes())
                {
                    add(j, vec![format!("{}.{}.core", c.recipe, step.id)]);
                }
            }
            let number = scene.site.plan_number.as_deref();
            if let Some(j) = planned::variance(place, product.class, product.reduced_oxygen, number)
            {
                add(j, Vec::new());
            }
            for n in &l.nitrite {
                let step = &recipe.steps[n.step];
                for j in nitrite(
                    scene,
                    product.class,
                    product.species.as_deref(),
                    step.verb,
                    n.ppm,
                    n.ion,
                ) {
                    add(j, vec![format!("{}.{}.nitrite_ppm", c.recipe, step.id)]);
                }
            }
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

fn nitrite(
    scene: &Scene,
    class: ProductClass,
    species: Option<&str>,
    verb: Verb,
    ppm: f64,
    ion: f64,
) -> Vec<Judgement> {
    let named = species.is_some_and(|s| {
        ["salmon", "sablefish", "shad"]
            .iter()
            .any(|n| s.contains(n))
    });
    let product = match class {
        ProductClass::SmokedFish if named => NitriteProduct::NamedFish,
        ProductClass::SmokedFish => NitriteProduct::OtherFish,
        _ => NitriteProduct::WholeMuscle,
    };
    let way = match verb {
        Verb::Brine => Way::Immersed,
        Verb::Pump => Way::Pumped,
        _ => Way::Dry,
    };
    let (Ok(salt), Ok(as_ion)) = (Ppm::new(ppm), Ppm::new(ion)) else {
        return Vec::new();
    };
    limits()
        .iter()
        .filter(|l| l.place == scene.site.rules && l.of.contains(&product) && l.by.contains(&way))
        .filter_map(|l| judge_nitrite(l, salt, as_ion).map(|j| (l, j)))
        .map(|(l, j)| Judgement {
            rule: "nitrite",
            asks: format!("at most {} {} ingoing, {}", j.limit, j.unit, l.product),
            verdict: j.verdict,
            value: Some(j.value),
            limit: Some(j.limit),
            unit: j.unit,
            margin: Some(j.margin),
            place: "ingoing, by arithmetic on the weighed formula; green weight, never finished weight".to_owned(),
            source: l.source,
            next: if j.verdict == safety::Verdict::Broken {
                "less curing salt; weigh it again on the 0.01 g scale".to_owned()
            } else if j.verdict == safety::Verdict::Shown {
                "log every gram of curing salt; weigh twice".to_owned()
            } else {
                "within the limit as quoted; verify it with your authority, log every gram, weigh twice".to_owned()
            },
        })
        .collect()
}

/// Steps that cool something hot, with planned minutes from heat off to the end of the chill.
pub(crate) fn coolings(recipe: &kitchen::recipe::Recipe, timeline: &Timeline) -> Vec<(Id, i64)> {
    let mut all = Vec::new();
    for step in recipe.steps.iter().filter(|s| s.verb == Verb::Chill) {
        let hot = step.feeds.iter().find_map(|f| match &f.from {
            FeedFrom::Step(id) => Some(id),
            _ => None,
        });
        let Some(hot) = hot else { continue };
        let of = |id: &Id| -> Vec<&Timed> {
            timeline
                .tasks
                .iter()
                .filter(|t| {
                    t.meaning.component.as_ref() == Some(&recipe.id)
                        && t.meaning.step.as_ref() == Some(id)
                        && t.meaning.kind != Kind::Round
                })
                .collect()
        };
        // Load by load: the last end of the chill less the last end of the heat, the worst of them.
        let (heat, chill) = (of(hot), of(&step.id));
        let load = |t: &Timed| {
            t.meaning
                .id
                .split('#')
                .nth(1)
                .and_then(|n| n.split('.').next())
                .map(str::to_owned)
        };
        let mut worst: Option<i64> = None;
        for end in chill
            .iter()
            .map(|t| load(t))
            .collect::<std::collections::BTreeSet<_>>()
        {
            let latest = |ts: &[&Timed]| ts.iter().filter(|t| load(t) == end).map(|t| t.end).max();
            if let (Some(from), Some(to)) = (latest(&heat), latest(&chill)) {
                worst = Some(worst.map_or(to - from, |w| w.max(to - from)));
            }
        }
        if let Some(minutes) = worst {
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
    let mark = recipe.keeps_for.as_ref()?;
    let made = made_at(recipe, &mark.from, timeline)?;
    let zone = &scene.site.zone;
    let day = crate::clock::zoned(zone, made).ok()?.date();
    let until = crate::clock::zoned(zone, used_at(scene, recipe, timeline)?)
        .ok()?
        .date();
    let days = day.until(until).ok()?.get_days();
    u32::try_from(days + 1).ok()
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

/// Ingredients of a component that carry an allergen, by allergen: contains and may contain.
#[must_use]
pub fn allergens(scene: &Scene, component: &Component) -> (Vec<String>, Vec<String>) {
    let (mut contains, mut may) = (Vec::new(), Vec::new());
    let Some(recipe) = scene.book.recipes.get(&component.recipe) else {
        return (contains, may);
    };
    let mut items: Vec<&Id> = Vec::new();
    for step in &recipe.steps {
        items.extend(step.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Item { item, .. } => Some(item),
            _ => None,
        }));
        items.extend(step.lines.iter().filter_map(|l| match &l.item {
            LineItem::Item(item) => Some(item),
            LineItem::Recipe(_) => None,
        }));
    }
    for a in items
        .iter()
        .filter_map(|i| scene.book.ingredients.get(*i))
        .filter_map(|i| i.allergens.as_ref())
    {
        contains.extend(a.contains.iter().cloned());
        may.extend(a.may.iter().cloned());
    }
    for list in [&mut contains, &mut may] {
        list.sort();
        list.dedup();
    }
    may.retain(|m| !contains.contains(m));
    (contains, may)
}
