//! New prices for what a site buys already.

use kitchen::Id;
use kitchen::site::{Offer, Pack, Site};
use units::Decimal;

use super::columns::{Columns, may, must};
use super::{Change, Draft, Preview, Target, names, page, settle};
use crate::refusal::{Refusal, quoted};
use crate::sheets;
use crate::table::{Row, Table};

/// Highest price taken, as in a page of the book.
const MOST: u32 = 10_000_000;
/// A price that moved by more than this factor is worth a second look (house value).
const LOOK_TWICE: u32 = 2;

/// Prices of offers a site has. Rows for what is not offered there are refused: an offer is more than its price.
///
/// The columns of the price list that is written out are all taken; those beside `supplier`, `item`, `price` and
/// `price per` must say what the book says.
///
/// # Errors
/// Headings that are missing or unknown, a price in another currency, a site that is not there.
pub fn prices(
    into: Target<'_>,
    table: &Table,
    site: Option<&str>,
) -> Result<Preview, Vec<Refusal>> {
    let site = names::site(into.book, site)?;
    let columns = Columns::of(
        table,
        &[
            must("supplier"),
            must("item"),
            must("price"),
            must("price per"),
            may("spec"),
            may("sold"),
            may("word"),
            may("amount"),
            may("instead"),
        ],
    )?;
    check_currency(&columns, table, site)?;
    let (file, text) = page::site_page(into.files, &site.id).ok_or_else(|| no_page(site))?;
    let listed = page::offers(text, into.book);
    let mut draft = Draft::new();
    if columns.unit(table, "price").is_none() {
        draft.notes.push(format!(
            "the heading names no currency; prices are taken as {}, the site's",
            site.currency
        ));
    }
    let mut seen: Vec<(&Offer, usize)> = Vec::new();
    for row in &table.rows {
        let read = read(into, site, &columns, row).and_then(|(offer, price)| {
            if let Some((_, first)) = seen.iter().find(|(o, _)| std::ptr::eq(*o, offer)) {
                return Err(twice(row, *first));
            }
            seen.push((offer, row.at));
            Ok((offer, price))
        });
        match read {
            Err(refusal) => draft.refused.push(refusal),
            Ok((offer, price)) if price_of(offer) == price => {}
            Ok((offer, price)) => change(&listed, &mut draft, row.at, offer, price),
        }
    }
    draft.same_rows(table);
    settle(into, file, text, draft)
}

pub(super) fn no_page(site: &Site) -> Vec<Refusal> {
    vec![Refusal::whole(
        format!("no page of the book holds the site {}", site.id),
        "a page that starts with site = \"…\"",
        "run `saltern check`",
    )]
}

pub(super) fn twice(row: &Row, first: usize) -> Refusal {
    Refusal::at(
        row.at,
        "item",
        format!("the same item of the same supplier stands in row {first}"),
        "every item of a supplier once",
        "take one of the rows out",
    )
}

/// A heading that names a currency must name the site's.
pub(super) fn check_currency(
    columns: &Columns,
    table: &Table,
    site: &Site,
) -> Result<(), Vec<Refusal>> {
    match columns.unit(table, "price") {
        Some(unit) if unit != site.currency => Err(vec![Refusal::at(
            1,
            "price",
            format!("prices in \"{}\"", quoted(unit)),
            format!("prices in {}, the currency of {}", site.currency, site.id),
            "convert them; nothing is converted here",
        )]),
        _ => Ok(()),
    }
}

fn read<'s>(
    into: Target<'_>,
    site: &'s Site,
    columns: &Columns,
    row: &Row,
) -> Result<(&'s Offer, Decimal), Refusal> {
    let supplier = names::supplier(site, &columns.need(row, "supplier")?)
        .map_err(|u| u.at(row.at, "supplier"))?;
    let item =
        names::item(into.book, &columns.need(row, "item")?).map_err(|u| u.at(row.at, "item"))?;
    let offer = site
        .offers
        .iter()
        .find(|o| o.supplier == supplier && o.item == item)
        .ok_or_else(|| {
            Refusal::at(
                row.at,
                "item",
                format!("{supplier} offers no {item} to {}", site.id),
                "an item the site buys there already",
                "add it with --kind suppliers: an offer needs to say how it is sold",
            )
        })?;
    let per = columns.need(row, "price per")?.to_lowercase();
    if per != per_word(offer) {
        return Err(Refusal::at(
            row.at,
            "price per",
            format!("\"{}\"", quoted(&per)),
            format!("{}, as {item} is sold by {supplier}", per_word(offer)),
            "reckon the price for that, or change how it is sold with --kind suppliers",
        ));
    }
    as_in_the_book(site, columns, row, offer)?;
    let price = columns.within(row, "price", false, MOST)?.ok_or_else(|| {
        Refusal::at(
            row.at,
            "price",
            "an empty cell",
            "a price in every row",
            "fill it in, or take the row out",
        )
    })?;
    Ok((offer, price))
}

/// What else stands in the row must be what the book says: this import changes prices and nothing else.
fn as_in_the_book(site: &Site, columns: &Columns, row: &Row, offer: &Offer) -> Result<(), Refusal> {
    let only = Site {
        offers: vec![offer.clone()],
        ..site.clone()
    };
    let listed = sheets::offers(&only);
    for (column, cell) in listed
        .columns
        .iter()
        .zip(listed.rows.first().into_iter().flatten())
    {
        if !["spec", "sold", "word", "amount", "instead"].contains(&column.name)
            || !columns.has(column.name)
        {
            continue;
        }
        let (same, now) = match cell {
            crate::sheet::Cell::Number(n) => (
                columns
                    .decimal(row, column.name)?
                    .is_none_or(|given| units::decimal(*n) == Ok(given)),
                n.to_string(),
            ),
            crate::sheet::Cell::Text(t) => (
                columns
                    .words(row, column.name)?
                    .is_none_or(|given| given == t.trim()),
                t.clone(),
            ),
            _ => (
                columns.words(row, column.name)?.is_none(),
                "nothing".to_owned(),
            ),
        };
        if !same {
            return Err(Refusal::at(
                row.at,
                column.name,
                columns
                    .words(row, column.name)?
                    .map_or_else(String::new, |w| format!("\"{}\"", quoted(&w))),
                format!(
                    "\"{}\", as in the book: this import changes prices only",
                    quoted(&now)
                ),
                "use --kind suppliers to change how it is sold",
            ));
        }
    }
    Ok(())
}

pub(super) fn price_of(offer: &Offer) -> Decimal {
    match &offer.pack {
        Pack::Loose { per_kg, .. } | Pack::Pieces { per_kg, .. } => per_kg.amount(),
        Pack::Packs { price, .. } | Pack::Each { price, .. } => price.amount(),
    }
}

const fn per_word(offer: &Offer) -> &'static str {
    match &offer.pack {
        Pack::Loose { .. } | Pack::Pieces { .. } => "kg",
        Pack::Packs { .. } => "pack",
        Pack::Each { .. } => "each",
    }
}

pub(super) const fn price_key(pack: &Pack) -> &'static str {
    match pack {
        Pack::Loose { .. } | Pack::Pieces { .. } => "per-kg",
        Pack::Packs { .. } => "price",
        Pack::Each { .. } => "each",
    }
}

/// What to say of a price that moved far: a slipped decimal point looks like that.
pub(super) fn look(before: Decimal, after: Decimal) -> String {
    let factor = Decimal::from(LOOK_TWICE);
    if after.is_zero() {
        "free now".to_owned()
    } else if before.saturating_mul(factor) < after {
        format!("more than {LOOK_TWICE} times the old price: look twice")
    } else if after.saturating_mul(factor) < before {
        format!("less than 1/{LOOK_TWICE} of the old price: look twice")
    } else {
        String::new()
    }
}

fn change(
    listed: &[(String, Option<Id>)],
    draft: &mut Draft<'_>,
    row: usize,
    offer: &Offer,
    price: Decimal,
) {
    let before = price_of(offer);
    let key = price_key(&offer.pack);
    draft.changes.push(Change {
        row,
        of: format!("{} from {}", offer.item, offer.supplier),
        key: key.to_owned(),
        before: Some(page::money_text(before)),
        after: page::money_text(price),
        look: look(before, price),
    });
    let at = page::place(listed, &offer.supplier, &offer.item);
    draft.edits.push((
        row,
        Box::new(move |document| {
            let place = at.and_then(|at| page::tables(document, "offer").into_iter().nth(at));
            if let Some(table) = place {
                page::set(table, key, page::money(price));
            }
        }),
    ));
}
