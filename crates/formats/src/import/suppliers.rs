//! What suppliers sell: new offers, and offers sold otherwise than the book says.

use kitchen::Id;
use kitchen::site::{Offer, Pack, Site};
use toml_edit::{DocumentMut, TableLike, Value};
use units::{Decimal, Mass, Money};

use super::columns::{Columns, may, measured, must};
use super::prices::{check_currency, look, no_page, price_key, price_of, twice};
use super::{Change, Draft, Preview, Target, names, page, settle};
use crate::refusal::{Refusal, quoted};
use crate::sheets::{BY_WEIGHT, EACH, PACK, PIECE};
use crate::table::{Row, Table};

const MOST_PRICE: u32 = 10_000_000;
/// Heaviest pack or piece, grams.
const MOST_G: u32 = 1_000_000;
/// Keys that say how an offer is sold; those that no longer hold are taken out.
const HOW: [&str; 7] = ["per-kg", "price", "each", "pack", "piece", "step", "word"];

/// A row that says how something is sold.
struct Listed {
    supplier: Id,
    item: Id,
    spec: Option<String>,
    pack: Pack,
    instead: Option<Vec<String>>,
}

/// Offers of suppliers a site knows. What the list leaves out stays as it is: nothing is taken out of a book.
///
/// # Errors
/// Headings that are missing or unknown, prices in another currency, a site that is not there.
pub fn suppliers(
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
            must("sold"),
            must("price"),
            must("price per"),
            measured("amount", "g"),
            may("spec"),
            may("word"),
            may("instead"),
        ],
    )?;
    check_currency(&columns, table, site)?;
    let (file, text) = page::site_page(into.files, &site.id).ok_or_else(|| no_page(site))?;
    let places = page::offers(text, into.book);
    let mut draft = Draft::new();
    if columns.unit(table, "price").is_none() {
        draft.notes.push(format!(
            "the heading names no currency; prices are taken as {}, the site's",
            site.currency
        ));
    }
    let mut seen: Vec<(Id, Id, usize)> = Vec::new();
    for row in &table.rows {
        let read = read(into, site, &columns, row).and_then(|l| {
            match seen
                .iter()
                .find(|(s, i, _)| *s == l.supplier && *i == l.item)
            {
                Some((.., first)) => Err(twice(row, *first)),
                None => {
                    seen.push((l.supplier.clone(), l.item.clone(), row.at));
                    Ok(l)
                }
            }
        });
        match read {
            Err(refusal) => draft.refused.push(refusal),
            Ok(listed) => {
                let offer = site
                    .offers
                    .iter()
                    .find(|o| o.supplier == listed.supplier && o.item == listed.item);
                match offer {
                    Some(offer) => changed(&mut draft, &places, row.at, offer, listed),
                    None => added(&mut draft, row.at, listed),
                }
            }
        }
    }
    draft.same_rows(table);
    settle(into, file, text, draft)
}

fn read(into: Target<'_>, site: &Site, columns: &Columns, row: &Row) -> Result<Listed, Refusal> {
    let supplier = names::supplier(site, &columns.need(row, "supplier")?)
        .map_err(|u| u.at(row.at, "supplier"))?;
    let item =
        names::item(into.book, &columns.need(row, "item")?).map_err(|u| u.at(row.at, "item"))?;
    Ok(Listed {
        spec: columns.words(row, "spec")?,
        pack: pack(columns, row)?,
        instead: columns.words(row, "instead")?.map(|t| {
            t.split(';')
                .map(|s| s.trim().to_owned())
                .filter(|s| !s.is_empty())
                .collect()
        }),
        supplier,
        item,
    })
}

fn pack(columns: &Columns, row: &Row) -> Result<Pack, Refusal> {
    let sold = columns.need(row, "sold")?.to_lowercase();
    let per = columns.need(row, "price per")?.to_lowercase();
    let wanted = match sold.as_str() {
        BY_WEIGHT | PIECE => "kg",
        PACK => "pack",
        EACH => "each",
        _ => {
            return Err(Refusal::at(
                row.at,
                "sold",
                format!("\"{}\"", quoted(&sold)),
                format!("one of: {BY_WEIGHT}, {PACK}, {PIECE}, {EACH}"),
                "say how it is sold: by weight at a price per kg, in packs of one weight, in whole pieces paid per kg, or each",
            ));
        }
    };
    if per != wanted {
        return Err(Refusal::at(
            row.at,
            "price per",
            format!("\"{}\" for what is sold {sold}", quoted(&per)),
            wanted,
            "reckon the price for that, or say otherwise how it is sold",
        ));
    }
    let price = columns
        .within(row, "price", false, MOST_PRICE)?
        .ok_or_else(|| {
            Refusal::at(
                row.at,
                "price",
                "an empty cell",
                "a price in every row",
                "fill it in, or take the row out",
            )
        })?;
    let price = Money::new(price)
        .map_err(|_| Refusal::at(row.at, "price", price.to_string(), "a price", "correct it"))?;
    let amount = match columns.within(row, "amount", true, MOST_G)? {
        Some(g) => Some(Mass::grams(plan::figures::decimal_to_f64(g)).map_err(|_| {
            Refusal::at(
                row.at,
                "amount",
                g.to_string(),
                "a weight in grams",
                "correct it",
            )
        })?),
        None => None,
    };
    let word = columns.words(row, "word")?;
    let need = |amount: Option<Mass>| {
        amount.ok_or_else(|| {
            Refusal::at(
                row.at,
                "amount",
                "an empty cell",
                "the grams of one",
                "write the net weight of a pack, or the usual weight of a piece",
            )
        })
    };
    let word_of = |default: &str| word.clone().unwrap_or_else(|| default.to_owned());
    Ok(match sold.as_str() {
        PACK => Pack::Packs {
            net: need(amount)?,
            price,
            word: word_of("pack"),
        },
        PIECE => Pack::Pieces {
            piece: need(amount)?,
            per_kg: price,
            word: word_of("piece"),
        },
        EACH => {
            if let Some(g) = amount {
                return Err(Refusal::at(
                    row.at,
                    "amount",
                    format!("{} g of what is sold each", g.g()),
                    "an empty cell",
                    "empty it; what one weighs stands with the ingredient",
                ));
            }
            Pack::Each {
                price,
                word: word_of("piece"),
            }
        }
        _ => {
            if let Some(word) = word {
                return Err(Refusal::at(
                    row.at,
                    "word",
                    format!("\"{}\" for what is sold by weight", quoted(&word)),
                    "an empty cell",
                    "empty it",
                ));
            }
            Pack::Loose {
                per_kg: price,
                step: amount,
            }
        }
    })
}

/// The keys of the book for a pack.
fn keys(pack: &Pack) -> Vec<(&'static str, String, Value)> {
    let weight = |m: &Mass| {
        let text = format!("{} g", m.g());
        (text.clone(), Value::from(text))
    };
    let price = price_of_pack(pack);
    let mut keys = vec![(price_key(pack), page::money_text(price), page::money(price))];
    let (weighed, word) = match pack {
        Pack::Loose { step, .. } => (step.as_ref().map(|m| ("step", m)), None),
        Pack::Packs { net, word, .. } => (Some(("pack", net)), Some(word)),
        Pack::Pieces { piece, word, .. } => (Some(("piece", piece)), Some(word)),
        Pack::Each { word, .. } => (None, Some(word)),
    };
    if let Some((key, mass)) = weighed {
        let (text, value) = weight(mass);
        keys.push((key, text, value));
    }
    if let Some(word) = word {
        keys.push(("word", word.clone(), Value::from(word.as_str())));
    }
    keys
}

fn price_of_pack(pack: &Pack) -> Decimal {
    match pack {
        Pack::Loose { per_kg, .. } | Pack::Pieces { per_kg, .. } => per_kg.amount(),
        Pack::Packs { price, .. } | Pack::Each { price, .. } => price.amount(),
    }
}

/// Packs that say the same, float noise of weights aside.
fn same(a: &[(&'static str, String, Value)], b: &[(&'static str, String, Value)]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(x, y)| x.0 == y.0 && x.1 == y.1)
}

fn changed(
    draft: &mut Draft<'_>,
    places: &[(String, Option<Id>)],
    row: usize,
    offer: &Offer,
    listed: Listed,
) {
    let of = format!("{} from {}", offer.item, offer.supplier);
    let (old, new) = (keys(&offer.pack), keys(&listed.pack));
    let mut sets: Vec<(&'static str, Value)> = Vec::new();
    let mut takes: Vec<&'static str> = Vec::new();
    let mut tell = |key: &str, before: Option<String>, after: String, look: String| {
        draft.changes.push(Change {
            row,
            of: of.clone(),
            key: key.to_owned(),
            before,
            after,
            look,
        });
    };
    if !same(&old, &new) {
        for (key, after, value) in new.iter().cloned() {
            let before = old
                .iter()
                .find(|(k, ..)| *k == key)
                .map(|(_, text, _)| text.clone());
            if before.as_ref() == Some(&after) {
                continue;
            }
            let odd = if key == price_key(&offer.pack) && key == price_key(&listed.pack) {
                look(price_of(offer), price_of_pack(&listed.pack))
            } else {
                String::new()
            };
            tell(key, before, after, odd);
            sets.push((key, value));
        }
        for key in HOW {
            let had = old.iter().find(|(k, ..)| *k == key);
            if let (Some((_, before, _)), false) = (had, new.iter().any(|(k, ..)| *k == key)) {
                tell(
                    key,
                    Some(before.clone()),
                    "(taken out)".to_owned(),
                    String::new(),
                );
                takes.push(key);
            }
        }
    }
    if let Some(spec) = listed.spec.filter(|s| *s != offer.spec.trim()) {
        tell(
            "spec",
            Some(offer.spec.clone()).filter(|s| !s.is_empty()),
            spec.clone(),
            String::new(),
        );
        sets.push(("spec", Value::from(spec)));
    }
    if let Some(instead) = listed
        .instead
        .filter(|i| i.join("; ") != offer.substitutes.join("; "))
    {
        tell(
            "instead",
            Some(offer.substitutes.join("; ")).filter(|s| !s.is_empty()),
            instead.join("; "),
            String::new(),
        );
        sets.push(("instead", page::texts(&instead)));
    }
    if sets.is_empty() && takes.is_empty() {
        return;
    }
    let at = page::place(places, &offer.supplier, &offer.item);
    draft.edits.push((
        row,
        Box::new(move |document: &mut DocumentMut| {
            let place = at.and_then(|at| page::tables(document, "offer").into_iter().nth(at));
            if let Some(table) = place {
                apply(table, &sets, &takes);
            }
        }),
    ));
}

fn apply(table: &mut dyn TableLike, sets: &[(&'static str, Value)], takes: &[&'static str]) {
    for key in takes {
        table.remove(key);
    }
    for (key, value) in sets {
        page::set(table, key, value.clone());
    }
}

fn added(draft: &mut Draft<'_>, row: usize, listed: Listed) {
    let mut sets: Vec<(&'static str, Value)> = vec![
        ("supplier", Value::from(listed.supplier.as_str())),
        ("item", Value::from(listed.item.as_str())),
    ];
    let mut told = Vec::new();
    if let Some(spec) = listed.spec {
        sets.push(("spec", Value::from(spec)));
    }
    for (key, text, value) in keys(&listed.pack) {
        told.push(format!("{key} {text}"));
        sets.push((key, value));
    }
    if let Some(instead) = listed.instead {
        sets.push(("instead", page::texts(&instead)));
    }
    draft.changes.push(Change {
        row,
        of: format!("{} from {}", listed.item, listed.supplier),
        key: "a new offer".to_owned(),
        before: None,
        after: told.join(", "),
        look: String::new(),
    });
    draft.edits.push((
        row,
        Box::new(move |document: &mut DocumentMut| {
            let mut table = toml_edit::Table::new();
            apply(&mut table, &sets, &[]);
            page::add(document, "offer", table);
        }),
    ));
}
