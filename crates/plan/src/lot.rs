//! What a lot is made of after each step: one fold over the steps, in grams of the made batch.
//!
//! Salt, sugar, nitrite and acid are what *we added*; the natural sodium of the flesh is not counted,
//! and the figures say so. Where a recipe does not state what part of a cure stays in the lot, the
//! substance is unknown from there on, and unknown stays unknown. The fold follows one mean: it says
//! nothing about the thickest place.

use kitchen::Id;
use kitchen::ingredient::{Ingredient, Role};
use kitchen::recipe::Recipe;
use kitchen::step::{BaseKind, FeedFrom, LineAmount, LineItem, Step};
use kitchen::verb::{Loses, Verb};
use science::nitrite;

use crate::demand::{Component, Flow};
use crate::scene::Scene;

/// A lot in grams; `None` is unknown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lot {
    /// All of it.
    pub mass_g: f64,
    /// Water.
    pub water_g: Option<f64>,
    /// Added salt (NaCl), the carrier of curing salt counted.
    pub salt_g: Option<f64>,
    /// Added sugar.
    pub sugar_g: Option<f64>,
    /// Acetic acid.
    pub acetic_g: Option<f64>,
    /// Sodium nitrite put in so far; what a rinse takes away again is not taken off.
    pub nitrite_g: f64,
}

/// Nitrite going in at one step.
#[derive(Debug, Clone, PartialEq)]
pub struct NitriteIn {
    /// The step.
    pub step: usize,
    /// Sodium nitrite, ppm of what the way of curing counts on; or why it cannot be computed.
    pub ppm: Result<f64, String>,
    /// In words.
    pub formula: String,
}

/// The lots of a component, after each step.
#[derive(Debug, Clone, PartialEq)]
pub struct Lots {
    /// After each step, in the recipe's order.
    pub after: Vec<Lot>,
    /// Nitrite going in, where any does.
    pub nitrite: Vec<NitriteIn>,
}

impl Lots {
    /// All nitrite gone in, ppm: the steps added up, as a limit on what goes in counts it. `None` when none
    /// goes in; an error when some of it cannot be computed.
    #[must_use]
    pub fn nitrite_ppm(&self) -> Option<Result<f64, String>> {
        (!self.nitrite.is_empty()).then(|| self.nitrite.iter().map(|n| n.ppm.clone()).sum())
    }
}

impl Lot {
    const NOTHING: Self = Self {
        mass_g: 0.0,
        water_g: Some(0.0),
        salt_g: Some(0.0),
        sugar_g: Some(0.0),
        acetic_g: Some(0.0),
        nitrite_g: 0.0,
    };

    /// Percent of the lot.
    fn pct(&self, g: Option<f64>) -> Option<f64> {
        (self.mass_g > 0.0)
            .then_some(())
            .and(g)
            .map(|g| g / self.mass_g * 100.0)
    }

    /// Water, percent.
    #[must_use]
    pub fn water_pct(&self) -> Option<f64> {
        self.pct(self.water_g)
    }

    /// Added salt, percent.
    #[must_use]
    pub fn salt_pct(&self) -> Option<f64> {
        self.pct(self.salt_g)
    }

    /// Added sugar, percent.
    #[must_use]
    pub fn sugar_pct(&self) -> Option<f64> {
        self.pct(self.sugar_g)
    }

    /// Acetic acid, percent.
    #[must_use]
    pub fn acetic_pct(&self) -> Option<f64> {
        self.pct(self.acetic_g)
    }

    /// Mean water-phase salt, percent: salt ÷ (salt + water).
    #[must_use]
    pub fn water_phase_salt_pct(&self) -> Option<f64> {
        match (self.salt_g, self.water_g) {
            (Some(salt), Some(water)) if salt + water > 0.0 => Some(salt / (salt + water) * 100.0),
            _ => None,
        }
    }

    fn plus(self, other: Self) -> Self {
        let add = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| a + b);
        let mass_g = self.mass_g + other.mass_g;
        Self {
            mass_g,
            water_g: add(self.water_g, other.water_g),
            salt_g: add(self.salt_g, other.salt_g),
            sugar_g: add(self.sugar_g, other.sugar_g),
            acetic_g: add(self.acetic_g, other.acetic_g),
            nitrite_g: self.nitrite_g + other.nitrite_g,
        }
    }

    fn scaled(self, k: f64) -> Self {
        let times = |g: Option<f64>| g.map(|g| g * k);
        Self {
            mass_g: self.mass_g * k,
            water_g: times(self.water_g),
            salt_g: times(self.salt_g),
            sugar_g: times(self.sugar_g),
            acetic_g: times(self.acetic_g),
            nitrite_g: self.nitrite_g * k,
        }
    }
}

/// So many grams of an ingredient as a lot. Raw food counts as without added salt or sugar; its
/// water is what the table says, or unknown.
fn of_item(item: &Ingredient, g: f64, water_pct: Option<f64>) -> Lot {
    let water = match (water_pct, item.role) {
        (Some(p), _) => Some(p),
        (None, Some(Role::Water)) => Some(100.0),
        (
            None,
            Some(
                Role::Salt
                | Role::CuringSalt { .. }
                | Role::Sugar
                | Role::Oil
                | Role::Wood
                | Role::Ware,
            ),
        ) => Some(0.0),
        (None, _) => item.composition.as_ref().and_then(|c| c.water),
    };
    Lot {
        mass_g: g,
        water_g: water.map(|p| g * p / 100.0),
        salt_g: Some(g * item.salt_pct() / 100.0),
        sugar_g: Some(if item.is_sugar() { g } else { 0.0 }),
        acetic_g: Some(g * item.acetic_pct() / 100.0),
        nitrite_g: g * item.nitrite_pct() / 100.0,
    }
}

/// The lots of every component, in their order.
pub(crate) fn all(scene: &Scene, components: &[Component]) -> Vec<Lots> {
    // Recipes inside recipes come later in the order of components; their end lots are needed first.
    let mut ends: Vec<(Id, Lot)> = Vec::new();
    let mut lots: Vec<Option<Lots>> = vec![None; components.len()];
    for _ in 0..=components.len() {
        for (i, c) in components.iter().enumerate() {
            if lots[i].is_some() {
                continue;
            }
            let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
                continue;
            };
            if uses(recipe)
                .iter()
                .all(|id| ends.iter().any(|(e, _)| e == id))
            {
                let l = fold(scene, recipe, c, &ends);
                if let Some(last) = l.after.get(recipe.last()) {
                    ends.push((recipe.id.clone(), *last));
                }
                lots[i] = Some(l);
            }
        }
    }
    lots.into_iter()
        .map(|l| {
            l.unwrap_or(Lots {
                after: Vec::new(),
                nitrite: Vec::new(),
            })
        })
        .collect()
}

fn uses(recipe: &Recipe) -> Vec<Id> {
    let mut used = Vec::new();
    for step in &recipe.steps {
        used.extend(step.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(id) => Some(id.clone()),
            _ => None,
        }));
        used.extend(step.lines.iter().filter_map(|l| match &l.item {
            LineItem::Recipe(id) => Some(id.clone()),
            LineItem::Item(_) => None,
        }));
    }
    used
}

fn fold(scene: &Scene, recipe: &Recipe, component: &Component, ends: &[(Id, Lot)]) -> Lots {
    let mut lots = Lots {
        after: Vec::new(),
        nitrite: Vec::new(),
    };
    let product = |id: &Id, g: f64| {
        ends.iter().find(|(e, _)| e == id).map(|(_, l)| {
            if l.mass_g > 0.0 {
                l.scaled(g / l.mass_g)
            } else {
                *l
            }
        })
    };
    for (i, (step, flow)) in recipe.steps.iter().zip(&component.flows).enumerate() {
        let mut lot = Lot::NOTHING;
        for feed in &step.feeds {
            let part =
                match &feed.from {
                    FeedFrom::Item {
                        item, water_pct, ..
                    } => scene
                        .book
                        .ingredients
                        .get(item)
                        .map(|it| of_item(it, flow.in_g * feed.share, *water_pct)),
                    FeedFrom::Recipe(id) => product(id, flow.in_g * feed.share),
                    FeedFrom::Step(id) => recipe
                        .position(id)
                        .and_then(|at| lots.after.get(at))
                        .map(|before| {
                            let g = flow.in_g * feed.share;
                            if before.mass_g > 0.0 {
                                before.scaled(g / before.mass_g)
                            } else {
                                *before
                            }
                        }),
                };
            lot = lot.plus(part.unwrap_or(Lot {
                water_g: None,
                ..Lot::NOTHING
            }));
        }
        let added = added(scene, step, flow, &product);
        let out = match step.base.kind {
            BaseKind::Cover(_) => equilibrium(lot, &added, flow),
            BaseKind::Made => made(&added, flow),
            BaseKind::Inflow => kept(lot, &added, step, flow),
        };
        lots.nitrite.extend(nitrite_in(i, &added, step, flow));
        lots.after.push(out);
    }
    lots
}

/// A line's grams as a lot, with what the rules want to know of it.
struct Added {
    lot: Lot,
    eaten: bool,
}

fn added(
    scene: &Scene,
    step: &Step,
    flow: &Flow,
    product: &dyn Fn(&Id, f64) -> Option<Lot>,
) -> Vec<Added> {
    let mut all = Vec::new();
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        if g.counted && matches!(line.amount, LineAmount::PerPiece(_)) {
            continue;
        }
        match &line.item {
            LineItem::Item(id) => {
                if let Some(item) = scene.book.ingredients.get(id) {
                    let eaten = !matches!(item.role, Some(Role::Wood | Role::Ware));
                    all.push(Added {
                        lot: of_item(item, g.made_g, None),
                        eaten,
                    });
                }
            }
            LineItem::Recipe(id) => {
                if let Some(lot) = product(id, g.made_g) {
                    all.push(Added { lot, eaten: true });
                }
            }
        }
    }
    all
}

fn sum(added: &[Added]) -> Lot {
    added
        .iter()
        .filter(|a| a.eaten)
        .fold(Lot::NOTHING, |l, a| l.plus(a.lot))
}

/// A lot that takes up part of what is rubbed on or lies around it, and gives or takes water.
fn kept(lot: Lot, added: &[Added], step: &Step, flow: &Flow) -> Lot {
    let all = sum(added);
    let (salts, sugars) = (all.salt_g.unwrap_or(0.0), all.sugar_g.unwrap_or(0.0));
    let brine = matches!(step.verb, Verb::Brine | Verb::Pump);
    // In a brine the rest is mostly water, which the yield already counts.
    let rest = if brine {
        0.0
    } else {
        (all.mass_g - salts - sugars - all.water_g.unwrap_or(0.0)).max(0.0)
    };
    let keeps = step.keeps;
    let part = |k: Option<f64>, g: f64| if g > 0.0 { k.map(|k| k * g) } else { Some(0.0) };
    // Unknown in is unknown out; so is what is added with no word on what stays.
    let of = |g: Option<f64>, k: Option<f64>| g.and_then(|g| part(k, g));
    let salt = of(all.salt_g, keeps.and_then(|k| k.salt));
    let sugar = of(all.sugar_g, keeps.and_then(|k| k.sugar));
    let acetic = of(all.acetic_g, keeps.and_then(|k| k.rest));
    let others = part(keeps.and_then(|k| k.rest), rest).unwrap_or(0.0);
    let solids = salt.unwrap_or(0.0) + sugar.unwrap_or(0.0) + others;
    let plus = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| a + b);
    let taken = Lot {
        salt_g: plus(lot.salt_g, salt),
        sugar_g: plus(lot.sugar_g, sugar),
        acetic_g: plus(lot.acetic_g, acetic),
        nitrite_g: lot.nitrite_g + all.nitrite_g,
        ..lot
    };
    let wet = lot.mass_g + solids;
    match step.loses {
        Loses::Water => Lot {
            mass_g: flow.out_g,
            water_g: lot
                .water_g
                .map(|w| w + flow.out_g - wet)
                .filter(|w| *w >= 0.0),
            ..taken
        },
        Loses::Substance if wet > 0.0 => Lot {
            mass_g: wet,
            ..taken
        }
        .scaled(flow.out_g / wet),
        Loses::Substance => taken,
    }
}

/// Pickle and liquor share salt, sugar and acid evenly over all of both.
fn equilibrium(lot: Lot, added: &[Added], flow: &Flow) -> Lot {
    let both = lot.plus(sum(added));
    // Water that boils off was added on top and is gone again: the base is the liquor as poured.
    let poured = lot.mass_g + flow.base_g;
    if poured <= 0.0 {
        return both;
    }
    let per_g = |g: Option<f64>| g.map(|g| g / poured * flow.out_g);
    Lot {
        mass_g: flow.out_g,
        // The water of a drained pickle is not known: vegetable and liquor trade it.
        water_g: None,
        salt_g: per_g(both.salt_g),
        sugar_g: per_g(both.sugar_g),
        acetic_g: per_g(both.acetic_g),
        nitrite_g: both.nitrite_g / poured * flow.out_g,
    }
}

fn made(added: &[Added], flow: &Flow) -> Lot {
    let all = sum(added);
    if all.mass_g <= 0.0 {
        return Lot {
            mass_g: flow.out_g,
            water_g: None,
            ..Lot::NOTHING
        };
    }
    all.scaled(flow.out_g / all.mass_g)
}

/// The nitrite a step puts in, from its own lines and from recipes among them.
fn nitrite_in(i: usize, added: &[Added], step: &Step, flow: &Flow) -> Option<NitriteIn> {
    let nitrite_g: f64 = added.iter().map(|a| a.lot.nitrite_g).sum();
    if nitrite_g <= 0.0 {
        return None;
    }
    let liquid_g: f64 = added.iter().filter(|a| a.eaten).map(|a| a.lot.mass_g).sum();
    let g = |x: f64| crate::figures::number(x, 2);
    let n = crate::figures::number(nitrite_g, 4);
    let over = |base_g: f64| {
        if base_g > 0.0 {
            Ok(nitrite_g / base_g * 1e6)
        } else {
            Err("nothing to count it on".to_owned())
        }
    };
    let (ppm, formula) = match (step.base.kind, step.verb) {
        (BaseKind::Inflow, Verb::Pump) => {
            let gain = flow.out_g / flow.in_g - 1.0;
            let ppm = nitrite::Proportion::new(gain)
                .map(|pump| nitrite_g * pump.ratio() / liquid_g * 1e6)
                .map_err(|_| {
                    format!(
                        "the yield says a pump of {} %: weigh before and after",
                        crate::figures::number(gain * 100.0, 1)
                    )
                });
            let pump = crate::figures::number(gain, 3);
            (
                ppm,
                format!(
                    "{n} g sodium nitrite × pump {pump} × 10⁶ ÷ {} g pickle",
                    g(liquid_g)
                ),
            )
        }
        (BaseKind::Inflow, Verb::Brine) => (
            over(flow.in_g + liquid_g),
            format!(
                "{n} g sodium nitrite × 10⁶ ÷ ({} g green weight + {} g brine), immersed to equilibrium",
                g(flow.in_g),
                g(liquid_g)
            ),
        ),
        (BaseKind::Cover(_), _) => (
            over(flow.in_g + flow.base_g),
            format!(
                "{n} g sodium nitrite × 10⁶ ÷ ({} g in + {} g liquor)",
                g(flow.in_g),
                g(flow.base_g)
            ),
        ),
        (BaseKind::Made, _) => (
            over(flow.base_g),
            format!("{n} g sodium nitrite × 10⁶ ÷ {} g made", g(flow.base_g)),
        ),
        _ => (
            over(flow.in_g),
            format!(
                "{n} g sodium nitrite × 10⁶ ÷ {} g green weight",
                g(flow.in_g)
            ),
        ),
    };
    Some(NitriteIn {
        step: i,
        ppm,
        formula,
    })
}
