//! What to buy, from whom, in which packs, by when; and where one pack less would nearly do.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use kitchen::Id;
use kitchen::recipe::Surplus;
use kitchen::site::{Offer, Pack};
use kitchen::step::{FeedFrom, LineItem};
use rust_decimal::Decimal;
use units::Money;

use crate::demand::{Component, up_to};
use crate::problem::PlanError;
use crate::scene::Scene;

/// Largest shortfall at which a pack less is offered, as a part of the need.
pub const EDGE_SHORTFALL: f64 = 0.01;

/// One line of the order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// Item.
    pub item: Id,
    /// Words on the order sheet.
    pub spec: String,
    /// Supplier.
    pub supplier: Id,
    /// Needed, grams (or pieces when `counted`).
    pub need: f64,
    /// Used in what is made, grams (or pieces).
    pub used: f64,
    /// The two above count pieces.
    pub counted: bool,
    /// Packs needed, unrounded.
    pub need_packs: f64,
    /// Packs bought.
    pub packs: f64,
    /// What a pack is called: bunch, fish, loaf, kg.
    pub word: String,
    /// Grams in a pack, where a pack has grams.
    pub pack_g: Option<f64>,
    /// Price of a pack, or of a kilogram where it is sold by weight.
    pub price: Money,
    /// The price is per kilogram.
    pub per_kg: bool,
    /// Sold by weight, not in packs or pieces.
    pub by_weight: bool,
    /// Cost of the need.
    pub cost_needed: Money,
    /// Cost of what is bought.
    pub cost_bought: Money,
    /// Order by.
    pub order_by: Option<DateTime>,
    /// Delivery.
    pub delivery: Option<DateTime>,
    /// A pack less, when it would nearly do.
    pub edge: Option<Edge>,
    /// Acceptable instead.
    pub substitutes: Vec<String>,
    /// Need by component.
    pub shares: Vec<(Id, f64)>,
}

impl OrderLine {
    /// Grams bought, for what is sold in grams.
    #[must_use]
    pub fn bought_g(&self) -> Option<f64> {
        match (self.counted, self.by_weight, self.pack_g) {
            (false, _, Some(g)) => Some(self.packs * g),
            (false, true, None) => Some(self.packs),
            _ => None,
        }
    }
}

/// What one pack less would mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Packs.
    pub packs: f64,
    /// Short, percent of the need.
    pub short_pct: f64,
    /// Saved.
    pub saves: Money,
}

/// Need of a bought item in the measure it is sold in (grams, or pieces), by component.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Need {
    need: f64,
    used: f64,
    shares: Vec<(Id, f64)>,
}

/// What turns an amount into the measure an item is sold in: grams or pieces asked for, grams or pieces sold.
fn factor(scene: &Scene, item: &Id, counted: bool) -> Result<f64, PlanError> {
    let by_piece = matches!(offer(scene, item)?.pack, Pack::Each { .. });
    if by_piece == counted {
        return Ok(1.0);
    }
    let each = scene
        .book
        .ingredients
        .get(item)
        .and_then(|i| i.each.first())
        .map(|e| e.mass.g());
    let each = each.ok_or_else(|| PlanError::CannotCount {
        item: item.to_string(),
    })?;
    Ok(if by_piece { 1.0 / each } else { each })
}

/// Adds up what the components need of every bought item.
pub(crate) fn needs(
    scene: &Scene,
    components: &[Component],
) -> Result<BTreeMap<Id, Need>, PlanError> {
    let mut needs: BTreeMap<Id, Need> = BTreeMap::new();
    let mut add =
        |item: &Id, component: &Id, need: f64, used: f64, counted: bool| -> Result<(), PlanError> {
            if scene
                .book
                .ingredients
                .get(item)
                .is_some_and(kitchen::ingredient::Ingredient::is_water)
            {
                return Ok(());
            }
            let factor = factor(scene, item, counted)?;
            let n = needs.entry(item.clone()).or_default();
            n.need += need * factor;
            n.used += used * factor;
            match n.shares.iter_mut().find(|(c, _)| c == component) {
                Some((_, amount)) => *amount += used * factor,
                None => n.shares.push((component.clone(), used * factor)),
            }
            Ok(())
        };
    for c in components {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
            for feed in &step.feeds {
                if let FeedFrom::Item { item, .. } = &feed.from {
                    match &c.start {
                        Some(start) if start.step == i && start.item == *item => {
                            add(
                                item,
                                &c.recipe,
                                start.need_g * feed.share,
                                start.used_g * feed.share,
                                false,
                            )?;
                        }
                        _ => add(
                            item,
                            &c.recipe,
                            flow.need_in_g * feed.share,
                            flow.in_g * feed.share,
                            false,
                        )?,
                    }
                }
            }
            for (l, line) in step.lines.iter().zip(&flow.lines) {
                if let LineItem::Item(item) = &l.item {
                    add(item, &c.recipe, line.buy_need, line.buy_made, line.counted)?;
                }
            }
        }
    }
    Ok(needs)
}

/// Grams that go into each component whose surplus goes through, by recipe.
///
/// `kept` gives packs already bought, by item. Where several components start from one item, all but the
/// first take what they need, and the first takes what is left.
pub(crate) fn going_through(
    scene: &Scene,
    components: &[Component],
    kept: Option<&BTreeMap<Id, f64>>,
) -> Result<BTreeMap<Id, f64>, PlanError> {
    let all = needs(scene, components)?;
    let mut done: Vec<&Id> = Vec::new();
    let mut grams = BTreeMap::new();
    for c in components {
        let through = scene
            .book
            .recipes
            .get(&c.recipe)
            .is_some_and(|r| r.surplus == Surplus::Through);
        let Some(start) = c.start.as_ref().filter(|_| through) else {
            continue;
        };
        let Some(need) = all.get(&start.item) else {
            continue;
        };
        if done.contains(&&start.item) {
            grams.insert(c.recipe.clone(), start.need_g);
            continue;
        }
        done.push(&start.item);
        let offer = offer(scene, &start.item)?;
        let (packs, pack_g) = packs(scene, offer, need.need);
        let packs = kept
            .and_then(|k| k.get(&start.item))
            .copied()
            .unwrap_or(packs);
        let left = packs * pack_g - (need.need - start.need_g);
        grams.insert(c.recipe.clone(), left.max(0.0));
    }
    Ok(grams)
}

/// Grams in one pack as the order counts packs.
fn packs_g(offer: &Offer) -> f64 {
    match &offer.pack {
        Pack::Loose {
            step: Some(step), ..
        } => step.g(),
        Pack::Packs { net, .. } => net.g(),
        Pack::Pieces { piece, .. } => piece.g(),
        Pack::Loose { step: None, .. } | Pack::Each { .. } => 1.0,
    }
}

fn offer<'s>(scene: &'s Scene, item: &Id) -> Result<&'s Offer, PlanError> {
    scene
        .site
        .offers
        .iter()
        .find(|o| o.item == *item)
        .ok_or_else(|| PlanError::NoOffer {
            item: item.to_string(),
        })
}

/// Packs for a need in grams, and grams in one; by weight a "pack" is the step, or a gram.
fn packs(scene: &Scene, offer: &Offer, need_g: f64) -> (f64, f64) {
    let pack_g = packs_g(offer);
    let n = need_g / pack_g;
    let packs = match &offer.pack {
        Pack::Loose { step: None, .. } => n,
        Pack::Loose { .. } | Pack::Each { .. } => up_to(n, Some(1.0)),
        // A shortfall within the site's tolerance is not worth a pack.
        Pack::Packs { .. } | Pack::Pieces { .. } => {
            up_to(n * (1.0 - scene.site.pack_tolerance), Some(1.0))
        }
    };
    (packs, pack_g)
}

/// The first cut-off of a supplier among its lines.
fn lines_order(lines: &[(Id, Option<DateTime>)], supplier: &Id) -> Option<DateTime> {
    lines
        .iter()
        .filter(|(id, _)| id == supplier)
        .filter_map(|(_, at)| *at)
        .min()
}

/// The order lines of a scene.
///
/// `kept` gives packs already bought, by item, when facts came in after buying.
pub(crate) fn lines(
    scene: &Scene,
    components: &[Component],
    kept: Option<&BTreeMap<Id, f64>>,
) -> Result<Vec<OrderLine>, PlanError> {
    let mut lines = Vec::new();
    for (item, need) in needs(scene, components)? {
        let offer = offer(scene, &item)?;
        lines.push(line(
            scene,
            components,
            offer,
            &item,
            &need,
            kept.and_then(|k| k.get(&item)).copied(),
        )?);
    }
    let by_supplier: Vec<(Id, Option<DateTime>)> = lines
        .iter()
        .map(|l| (l.supplier.clone(), l.order_by))
        .collect();
    // Who must be called first stands first; then by supplier, the dearest line on top.
    let place = |id: &Id| scene.site.suppliers.iter().position(|s| s.id == *id);
    let first_call = |id: &Id| lines_order(&by_supplier, id);
    let by = |a: &OrderLine, b: &OrderLine| {
        first_call(&a.supplier)
            .cmp(&first_call(&b.supplier))
            .then_with(|| place(&a.supplier).cmp(&place(&b.supplier)))
            .then_with(|| b.cost_bought.amount().cmp(&a.cost_bought.amount()))
            .then_with(|| a.item.cmp(&b.item))
    };
    lines.sort_by(by);
    Ok(lines)
}

fn line(
    scene: &Scene,
    components: &[Component],
    offer: &Offer,
    item: &Id,
    need: &Need,
    kept: Option<f64>,
) -> Result<OrderLine, PlanError> {
    let by_piece = matches!(offer.pack, Pack::Each { .. });
    let (n, u) = (need.need, need.used);
    let (to_buy, pack_g) = packs(scene, offer, n.max(u));
    let through = goes_through(scene, components, item);
    // A whole fish bought is used whole: the used grams are what the packs hold.
    let to_buy = if through {
        packs(scene, offer, n).0
    } else {
        to_buy
    };
    let bought = kept.unwrap_or(to_buy);
    let (price, per_kg, word, sold_g) = match &offer.pack {
        Pack::Loose { per_kg, step } => (*per_kg, true, "kg".to_owned(), step.map(units::Mass::g)),
        Pack::Packs { net, price, word } => (*price, false, word.clone(), Some(net.g())),
        Pack::Pieces {
            piece,
            per_kg,
            word,
        } => (*per_kg, true, word.clone(), Some(piece.g())),
        Pack::Each { price, word } => (*price, false, word.clone(), None),
    };
    let priced = |amount: f64, packs: f64| -> Result<Money, PlanError> {
        let times = match &offer.pack {
            Pack::Loose { .. } | Pack::Pieces { .. } => dec(amount)? / Decimal::from(1000),
            Pack::Packs { .. } | Pack::Each { .. } => dec(packs)?,
        };
        price.times(times).map_err(|_| too_much(item))
    };
    let need_packs = n / pack_g;
    let cost_needed = priced(n, need_packs)?;
    let cost_bought = priced(bought * pack_g, bought)?;
    let edge = edge(offer, need_packs, bought, kept.is_some(), |packs| {
        priced(packs * pack_g, packs)
    })?
    .map(|(packs, short_pct, cost)| Edge {
        packs,
        short_pct,
        saves: cost_bought - cost,
    });
    let delivery = scene
        .event
        .deliveries
        .iter()
        .find(|d| d.what == *item)
        .or_else(|| {
            scene
                .event
                .deliveries
                .iter()
                .find(|d| d.what == offer.supplier)
        })
        .map(|d| d.at);
    let supplier = scene.site.suppliers.iter().find(|s| s.id == offer.supplier);
    Ok(OrderLine {
        item: item.clone(),
        spec: offer.spec.clone(),
        supplier: offer.supplier.clone(),
        need: n,
        used: if through { bought * pack_g } else { u },
        counted: by_piece,
        need_packs,
        packs: bought,
        word,
        pack_g: sold_g,
        price,
        per_kg,
        by_weight: matches!(offer.pack, Pack::Loose { .. }),
        cost_needed,
        cost_bought,
        order_by: delivery.and_then(|d| supplier.and_then(|s| s.order_by(d))),
        delivery,
        edge,
        substitutes: offer.substitutes.clone(),
        shares: need.shares.clone(),
    })
}

/// Whether the item starts a component of this plan whose surplus goes through.
fn goes_through(scene: &Scene, components: &[Component], item: &Id) -> bool {
    components.iter().any(|c| {
        c.start.as_ref().is_some_and(|s| s.item == *item)
            && scene
                .book
                .recipes
                .get(&c.recipe)
                .is_some_and(|r| r.surplus == Surplus::Through)
    })
}

/// A pack less, when the shortfall is small.
fn edge(
    offer: &Offer,
    need_packs: f64,
    bought: f64,
    kept: bool,
    cost: impl Fn(f64) -> Result<Money, PlanError>,
) -> Result<Option<(f64, f64, Money)>, PlanError> {
    if kept || matches!(offer.pack, Pack::Loose { .. }) || bought < 2.0 {
        return Ok(None);
    }
    let fewer = bought - 1.0;
    let short = (need_packs - fewer) / need_packs;
    if short > 0.0 && short <= EDGE_SHORTFALL {
        return Ok(Some((fewer, short * 100.0, cost(fewer)?)));
    }
    Ok(None)
}

fn dec(n: f64) -> Result<Decimal, PlanError> {
    units::decimal(n).map_err(|_| PlanError::TooMuch {
        what: "the order".to_owned(),
    })
}

fn too_much(item: &Id) -> PlanError {
    PlanError::TooMuch {
        what: item.to_string(),
    }
}

/// Rounds the summed need of a merged line to packs once, and prices it.
pub(crate) fn rounded_together(
    scene: &Scene,
    components: &[Component],
    line: &mut OrderLine,
) -> Result<(), PlanError> {
    let offer = offer(scene, &line.item)?;
    let through = goes_through(scene, components, &line.item);
    let (packs, pack_g) = packs(
        scene,
        offer,
        if through {
            line.need
        } else {
            line.need.max(line.used)
        },
    );
    line.packs = packs;
    line.need_packs = line.need / pack_g;
    let times = match &offer.pack {
        Pack::Loose { .. } | Pack::Pieces { .. } => dec(packs * pack_g)? / Decimal::from(1000),
        Pack::Packs { .. } | Pack::Each { .. } => dec(packs)?,
    };
    line.cost_bought = line.price.times(times).map_err(|_| too_much(&line.item))?;
    line.edge = None;
    if through {
        line.used = packs * pack_g;
    }
    Ok(())
}
