//! The price list of a site: what can be bought, how it is sold, for how much. The import takes the same columns.

use kitchen::site::{Offer, Pack, Site};

use crate::sheet::{Cell, Column, Sheet};

/// How an item is sold, in the words of the list.
pub(crate) const BY_WEIGHT: &str = "by weight";
/// In packs of one net weight.
pub(crate) const PACK: &str = "pack";
/// In whole pieces, paid by the kilogram.
pub(crate) const PIECE: &str = "piece";
/// By the piece, whatever it weighs.
pub(crate) const EACH: &str = "each";

/// Every offer of a site, in its order.
#[must_use]
pub fn offers(site: &Site) -> Sheet {
    let columns = vec![
        Column::text("supplier", 22),
        Column::text("item", 22),
        Column::text("spec", 40),
        Column::text("sold", 10),
        Column::text("word", 12),
        Column::number("amount", "g", 0),
        Column::number("price", &site.currency, 2),
        Column::text("price per", 10),
        Column::text("instead", 40),
    ];
    Sheet {
        name: "offers",
        title: format!("Price list: {}", site.name),
        columns,
        rows: site.offers.iter().map(row).collect(),
    }
}

fn row(offer: &Offer) -> Vec<Cell> {
    let (sold, word, amount, price, per) = match &offer.pack {
        Pack::Loose { per_kg, step } => (BY_WEIGHT, "", step.map(units::Mass::g), per_kg, "kg"),
        Pack::Packs { net, price, word } => (PACK, word.as_str(), Some(net.g()), price, "pack"),
        Pack::Pieces {
            piece,
            per_kg,
            word,
        } => (PIECE, word.as_str(), Some(piece.g()), per_kg, "kg"),
        Pack::Each { price, word } => (EACH, word.as_str(), None, price, "each"),
    };
    vec![
        Cell::text(offer.supplier.as_str()),
        Cell::text(offer.item.as_str()),
        Cell::text(&offer.spec),
        Cell::text(sold),
        Cell::text(word),
        Cell::number(amount),
        Cell::money(*price),
        Cell::text(per),
        Cell::text(offer.substitutes.join("; ")),
    ]
}
