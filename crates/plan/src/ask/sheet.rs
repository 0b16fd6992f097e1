//! The scratch sheet an answer is worked on: figures in, their printed form out.

use jiff::ZonedDateTime;
use rust_decimal::Decimal;
use sources::{Citation, Source, Status, list};

use crate::figures::{Figure, Figures, Value, number};

/// The most decimals an entered figure is shown with.
const MOST_PLACES: u32 = 4;

/// Figures being worked.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    pub(super) figures: Figures,
}

impl Sheet {
    /// A figure the user typed, shown with the decimals it was typed with.
    pub(super) fn entered(&mut self, id: &str, value: f64, unit: &str) {
        self.figures.leaf(
            id,
            value,
            unit,
            places_of(value),
            &Citation::whole(&list::ENTERED),
        );
    }

    /// A figure from a source.
    pub(super) fn known(
        &mut self,
        id: &str,
        value: f64,
        unit: &str,
        source: &'static Source,
        place: &str,
    ) {
        let citation = Citation {
            source,
            place: place.to_owned(),
        };
        self.cited(id, value, unit, &citation);
    }

    /// A figure from a citation of the ingredient table.
    pub(super) fn cited(&mut self, id: &str, value: f64, unit: &str, citation: &Citation) {
        self.figures
            .leaf(id, value, unit, places_of(value), citation);
    }

    /// A figure computed from others.
    pub(super) fn worked(
        &mut self,
        id: &str,
        value: f64,
        unit: &str,
        places: u32,
        formula: &str,
        from: &[&str],
    ) {
        self.figures.derived(id, value, unit, places, formula, from);
    }

    /// A sum of money computed from others.
    pub(super) fn money(
        &mut self,
        id: &str,
        value: Decimal,
        currency: &str,
        formula: &str,
        from: &[&str],
    ) {
        self.figures.put(Figure {
            id: id.to_owned(),
            value: Value::Money(value),
            unit: currency.to_owned(),
            base: None,
            from: from.iter().map(|s| (*s).to_owned()).collect(),
            formula: formula.to_owned(),
            source: if from.is_empty() {
                Citation::whole(&list::ENTERED).to_string()
            } else {
                "computed".to_owned()
            },
            places: 2,
        });
    }

    /// An hour of the wall's clock: one that was typed when it comes from nothing.
    pub(super) fn hour(&mut self, id: &str, at: &ZonedDateTime, formula: &str, from: &[&str]) {
        self.figures.put(Figure {
            id: id.to_owned(),
            value: Value::Moment {
                instant: at.to_string(),
                wall: at.strftime("%a %m-%d %H:%M").to_string(),
            },
            unit: String::new(),
            base: None,
            from: from.iter().map(|s| (*s).to_owned()).collect(),
            formula: formula.to_owned(),
            source: if from.is_empty() {
                Citation::whole(&list::ENTERED).to_string()
            } else {
                "computed".to_owned()
            },
            places: 0,
        });
    }

    /// Value and unit as printed.
    pub(super) fn show(&self, id: &str) -> String {
        self.figures
            .get(id)
            .map_or_else(|| format!("({id}?)"), Figure::show)
    }

    /// The value without its unit.
    pub(super) fn bare(&self, id: &str) -> String {
        match self.figures.get(id) {
            Some(Figure {
                value: Value::Number(n),
                places,
                ..
            }) => number(*n, *places),
            _ => self.show(id),
        }
    }
}

/// The decimals a figure needs, at most [`MOST_PLACES`]: none for 5580, two for 23.75.
pub(super) fn places_of(value: f64) -> u32 {
    (0..MOST_PLACES)
        .find(|places| {
            let scale = 10_f64.powi(i32::try_from(*places).unwrap_or(0));
            (value * scale - (value * scale).round()).abs() < 1e-6
        })
        .unwrap_or(MOST_PLACES)
}

/// Decimals a weight is written with: to 0.01 g below 10 g, to 0.1 g below a kilogram, then to the gram.
pub(super) fn weight_places(grams: f64) -> u32 {
    if grams < 10.0 {
        2
    } else if grams < 1000.0 {
        1
    } else {
        0
    }
}

/// A citation as small print: sources that are only a status say it once.
pub(super) fn cite(citation: &Citation) -> String {
    let status = citation.source.status.words();
    match (citation.source.status, citation.place.as_str()) {
        (Status::Read | Status::SecondHand, _) => citation.to_string(),
        (_, "") => status.to_owned(),
        (_, place) => format!("{place} ({status})"),
    }
}

/// What a status obliges the reader to do, for limits not read.
pub(super) fn reading_of(source: &Source) -> String {
    let ask = if source.status.may_show() {
        ""
    } else {
        ": verify with your authority"
    };
    format!("{} ({}{ask})", source.title, source.status.words())
}
