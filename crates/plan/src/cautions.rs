//! Which cautions a recipe calls for, and at which step they are said.

use kitchen::Id;
use kitchen::ingredient::{Ingredient, Role};
use kitchen::recipe::{ProductClass, Recipe};
use kitchen::step::{FeedFrom, LineItem, Step};
use kitchen::verb::Verb;
use safety::cautions::{
    CURING_SALT, Caution, EATEN_RAW, HOT_LIQUOR, NO_OXYGEN, SMOKING_WOOD, UNDER_OIL,
};

use crate::demand::{Component, Flow};
use crate::scene::Scene;

/// A caution at its place of use.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Component.
    pub component: Id,
    /// The step it is said at.
    pub step: Id,
    /// What is said.
    pub caution: Caution,
}

/// From this part of oil on, what lies in it has no air around it.
const MOSTLY_OIL: f64 = 0.5;
/// Water from which an ingredient counts as moist, g per 100 g: fresh herbs and garlic hold 58 and more, dried spices
/// 15 and less (SR 28).
const MOIST_PCT: f64 = 40.0;

/// Every caution the components call for, each once a component, at the first step that calls for it.
pub(crate) fn of(scene: &Scene, components: &[Component]) -> Vec<Placed> {
    let mut all: Vec<Placed> = Vec::new();
    for c in components {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
            let calls = [
                (CURING_SALT, has_curing_salt(scene, step)),
                (HOT_LIQUOR, is_hot_liquor(recipe, i)),
                (
                    SMOKING_WOOD,
                    matches!(step.verb, Verb::HotSmoke | Verb::ColdSmoke),
                ),
                (UNDER_OIL, is_under_oil(scene, step, flow)),
            ];
            let last = i == recipe.last();
            let at_last = [
                (
                    NO_OXYGEN,
                    last && recipe.product.as_ref().is_some_and(|p| p.reduced_oxygen),
                ),
                (EATEN_RAW, last && is_eaten_raw(recipe)),
            ];
            for (caution, called) in calls.into_iter().chain(at_last) {
                let said = all
                    .iter()
                    .any(|p| p.component == c.recipe && p.caution.id == caution.id);
                if called && !said {
                    all.push(Placed {
                        component: c.recipe.clone(),
                        step: step.id.clone(),
                        caution,
                    });
                }
            }
        }
    }
    all
}

fn has_curing_salt(scene: &Scene, step: &Step) -> bool {
    ingredients(scene, step).any(|i| matches!(i.role, Some(Role::CuringSalt { .. })))
}

/// The bought ingredients of a step's lines.
fn ingredients<'a>(scene: &'a Scene, step: &'a Step) -> impl Iterator<Item = &'a Ingredient> {
    step.lines.iter().filter_map(|l| match &l.item {
        LineItem::Item(id) => scene.book.ingredients.get(id),
        LineItem::Recipe(_) => None,
    })
}

/// A liquor that is boiled, or a pickle poured hot: it has to be cooled afterwards.
fn is_hot_liquor(recipe: &Recipe, at: usize) -> bool {
    match recipe.steps[at].verb {
        Verb::Brew => true,
        Verb::Pickle => recipe
            .steps
            .get(at + 1)
            .is_some_and(|next| next.verb == Verb::Chill),
        _ => false,
    }
}

/// Raw fish or meat that nothing in the recipe heats.
fn is_eaten_raw(recipe: &Recipe) -> bool {
    let raw = recipe.product.as_ref().is_some_and(|p| {
        matches!(
            p.class,
            ProductClass::SmokedFish
                | ProductClass::DryCuredMeat
                | ProductClass::ImmersedMeat
                | ProductClass::PumpedMeat
        )
    });
    let heated = recipe
        .steps
        .iter()
        .any(|s| matches!(s.verb, Verb::HotSmoke | Verb::Cook | Verb::Brew));
    raw && !heated
}

/// Mostly oil, with something moist in it and no acid beside it.
fn is_under_oil(scene: &Scene, step: &Step, flow: &Flow) -> bool {
    let is_oil = |i: &Ingredient| matches!(i.role, Some(Role::Oil));
    let fed_oil: f64 = step
        .feeds
        .iter()
        .filter_map(|f| match &f.from {
            FeedFrom::Item { item, .. } => scene
                .book
                .ingredients
                .get(item)
                .filter(|i| is_oil(i))
                .map(|_| f.share * flow.in_g),
            _ => None,
        })
        .sum();
    let mut oil = fed_oil;
    let mut all = flow.in_g;
    let (mut moist, mut acid) = (false, false);
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let LineItem::Item(id) = &line.item else {
            continue;
        };
        let Some(i) = scene.book.ingredients.get(id).filter(|_| !g.counted) else {
            continue;
        };
        all += g.made_g;
        match i.role {
            Some(Role::Oil) => oil += g.made_g,
            Some(Role::Acid) => acid = true,
            Some(_) => {}
            // What is not known to be dry is taken as moist.
            None => {
                moist |= i
                    .composition
                    .as_ref()
                    .and_then(|c| c.water)
                    .is_none_or(|water| water >= MOIST_PCT);
            }
        }
    }
    all > 0.0 && oil / all >= MOSTLY_OIL && moist && !acid
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demand;

    fn cautions(event: &str, change: &str) -> Vec<(String, String, &'static str)> {
        let mut files = book::demo::files();
        if let Some((from, to)) = change.split_once(" → ") {
            let mut found = 0;
            for file in &mut files {
                let text = String::from_utf8(file.bytes.clone()).unwrap();
                found += text.matches(from).count();
                file.bytes = text.replace(from, to).into_bytes();
            }
            assert!(found > 0, "{from}: not in the demo");
        }
        let book = book::read(&files, book::Limits::default()).unwrap();
        let scene = Scene::new(&book, event).unwrap();
        let components = demand::components(&scene, &std::collections::BTreeMap::new()).unwrap();
        of(&scene, &components)
            .into_iter()
            .map(|p| (p.component.to_string(), p.step.to_string(), p.caution.id))
            .collect()
    }

    fn has(event: &str, change: &str, component: &str, id: &str) -> bool {
        cautions(event, change)
            .iter()
            .any(|(c, _, i)| c == component && *i == id)
    }

    #[test]
    fn each_caution_stands_where_its_hazard_is() {
        let duck = cautions("duck-class", "");
        let at = |component: &str, id: &str| {
            duck.iter()
                .find(|(c, _, i)| c == component && *i == id)
                .map(|(_, step, _)| step.as_str())
        };
        assert_eq!(at("dry-cured-duck-breast", "curing-salt"), Some("cure"));
        assert_eq!(at("dry-cured-duck-breast", "smoking-wood"), None);
        assert!(at("dry-cured-duck-breast", "eaten-raw").is_some());
        assert!(has("harvest-supper", "", "hot-smoked-char", "smoking-wood"));
        assert!(!has("harvest-supper", "", "hot-smoked-char", "eaten-raw"));
        assert!(has("harvest-supper", "", "dill-oil", "under-oil"));
        assert!(!has(
            "harvest-supper",
            "",
            "buttermilk-dressing",
            "under-oil"
        ));
    }

    #[test]
    fn a_dry_spice_in_oil_is_no_moist_food() {
        let dry = r#"item = "dill", form = "leaf", of-base = "45 %", trim = 0.50 → item = "black-pepper", of-base = "45 %""#;
        assert!(!has("harvest-supper", dry, "dill-oil", "under-oil"));
    }

    #[test]
    fn smoking_cold_makes_it_eaten_raw() {
        let cold = r#"do    = "hot-smoke" → do    = "cold-smoke""#;
        assert!(has("harvest-supper", cold, "hot-smoked-char", "eaten-raw"));
    }
}
