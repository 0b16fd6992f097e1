//! The checks of what an event buys: is it on offer, does it come, and in time.

use std::collections::BTreeMap;

use kitchen::event::Delivery;
use kitchen::site::{Site, Supplier};
use kitchen::step::{FeedFrom, LineItem};
use kitchen::{Book, Id};

use crate::cross::shown;
use crate::diagnostic::Code;
use crate::event::ReadEvent;
use crate::page::Page;
use crate::suggest::did_you_mean;

/// Bought items of the recipes an event uses, each with the first recipe that needs it.
fn bought(book: &Book, recipes: &[Id]) -> BTreeMap<Id, Id> {
    let mut items = BTreeMap::new();
    for recipe in recipes.iter().filter_map(|id| book.recipes.get(id)) {
        for step in &recipe.steps {
            let fed = step.feeds.iter().filter_map(|f| match &f.from {
                FeedFrom::Item { item, .. } => Some(item),
                _ => None,
            });
            let added = step.lines.iter().filter_map(|l| match &l.item {
                LineItem::Item(item) => Some(item),
                LineItem::Recipe(_) => None,
            });
            for item in fed.chain(added) {
                items
                    .entry(item.clone())
                    .or_insert_with(|| recipe.id.clone());
            }
        }
    }
    items.retain(|id, _| book.ingredients.get(id).is_some_and(|i| !i.is_water()));
    items
}

/// What comes with one delivery, or should: the supplier, and the items in the order of their ids.
type Load<'a> = (&'a Supplier, Vec<&'a Id>);

/// Every bought item needs an offer, a delivery before the service, and a cut-off still to come.
pub(crate) fn check_supplies(
    page: &Page<'_>,
    book: &Book,
    site: &Site,
    offers_whole: bool,
    recipes: &[Id],
    read: &ReadEvent,
) {
    let event = &read.event;
    let mut named = true;
    if offers_whole {
        named = check_delivery_names(page, site, read);
    }
    let items = bought(book, recipes);
    let mut unsent: BTreeMap<&Id, Load<'_>> = BTreeMap::new();
    let mut sent: Vec<(&Delivery, Load<'_>)> = Vec::new();
    for (item, recipe) in &items {
        let Some(offer) = site.offers.iter().find(|o| o.item == *item) else {
            if offers_whole {
                page.marked(
                    Code::UnknownName,
                    read.at.clone(),
                    "an item nobody sells".to_owned(),
                    (
                        format!(
                            "{} needs {item} (for {recipe}) and no supplier of {} offers it",
                            event.id, site.id
                        ),
                        "an [[offer]] for every bought item",
                        "add the offer with its price to the site",
                    ),
                );
            }
            continue;
        };
        let Some(supplier) = site.suppliers.iter().find(|s| s.id == offer.supplier) else {
            continue;
        };
        let delivery = event
            .deliveries
            .iter()
            .find(|d| d.what == *item)
            .or_else(|| event.deliveries.iter().find(|d| d.what == supplier.id));
        match delivery {
            None => unsent
                .entry(&supplier.id)
                .or_insert_with(|| (supplier, Vec::new()))
                .1
                .push(item),
            Some(delivery) => match sent
                .iter_mut()
                .find(|(d, (s, _))| std::ptr::eq(*d, delivery) && s.id == supplier.id)
            {
                Some((_, (_, items))) => items.push(item),
                None => sent.push((delivery, (supplier, vec![item]))),
            },
        }
    }
    for (supplier, items) in unsent.values().filter(|_| named && read.whole.deliveries) {
        page.marked(
            Code::MissingKey,
            read.at.clone(),
            "a delivery is missing".to_owned(),
            (
                format!(
                    "{} has no delivery from {}, who sells {}",
                    event.id,
                    supplier.id,
                    listed(items)
                ),
                "a [[delivery]] for every supplier needed",
                "add it with its day and hour",
            ),
        );
    }
    for (delivery, (supplier, items)) in &sent {
        check_delivery(page, read, delivery, supplier, &listed(items));
    }
}

/// Up to three names, and how many more.
fn listed(items: &[&Id]) -> String {
    const MOST: usize = 3;
    let names: Vec<&str> = items.iter().take(MOST).map(|id| id.as_str()).collect();
    match items.len().saturating_sub(MOST) {
        0 => names.join(", "),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

/// Whether every delivery is of somebody or something the site knows.
fn check_delivery_names(page: &Page<'_>, site: &Site, read: &ReadEvent) -> bool {
    let mut all_known = true;
    for (what, span) in &read.deliveries {
        let known = site.suppliers.iter().any(|s| s.id == *what)
            || site.offers.iter().any(|o| o.item == *what);
        if !known {
            all_known = false;
            let ids: Vec<&str> = site.suppliers.iter().map(|s| s.id.as_str()).collect();
            page.suggest(
                Code::UnknownName,
                span.clone(),
                format!("{} has no supplier or item \"{what}\"", site.id),
                &format!("an item on offer, or one of: {}", ids.join(", ")),
                "correct the spelling",
                did_you_mean(what.as_str(), ids.iter().copied()),
            );
        }
    }
    all_known
}

fn check_delivery(
    page: &Page<'_>,
    read: &ReadEvent,
    delivery: &Delivery,
    supplier: &Supplier,
    items: &str,
) {
    let event = &read.event;
    let span = event
        .deliveries
        .iter()
        .position(|d| std::ptr::eq(d, delivery))
        .and_then(|i| read.deliveries_at.get(i))
        .map_or_else(|| read.at.clone(), Clone::clone);
    let order_by = supplier.order_by(delivery.at);
    if delivery.at >= event.serve {
        page.marked(
            Code::TooLate,
            span,
            "after the service".to_owned(),
            (
                format!(
                    "{items}: the delivery comes {} and service is {}",
                    shown(delivery.at),
                    shown(event.serve)
                ),
                "a delivery before the service",
                "take an earlier delivery",
            ),
        );
    } else if order_by.is_none_or(|t| t < event.from) {
        page.marked(
            Code::TooLate,
            span,
            "too early to order for".to_owned(),
            (
                format!(
                    "{items}: the order had to be in by {}, and {} starts at {}",
                    order_by.map_or_else(|| "an hour long past".to_owned(), shown),
                    event.id,
                    shown(event.from)
                ),
                &format!("an order cut-off of {} after that start", supplier.id),
                "take a later delivery, another supplier, or an earlier `from`",
            ),
        );
    }
}
