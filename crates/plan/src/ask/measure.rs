//! An ingredient given by weight, or by volume with the densities it might have.

use sources::{Citation, list};
use units::{Density, Mass, Volume};

use super::refusal::Refusal;
use super::sheet::{Sheet, cite, weight_places};
use crate::figures::number;

/// One product a volume might be of.
#[derive(Debug, Clone, PartialEq)]
pub struct Kind {
    /// Its name: "salt, flake".
    pub name: String,
    /// The word that picks it.
    pub word: String,
    /// Its bulk density as poured; `None` when nobody gave one.
    pub density: Option<Density>,
    /// Where the density comes from.
    pub source: Citation,
    /// How it was reached: "1 US cup = 140 g, range 135 to 142; weigh your own".
    pub note: String,
}

/// An amount of one ingredient as the cook has it.
#[derive(Debug, Clone, PartialEq)]
pub enum Measure {
    /// On a scale.
    Weighed(Mass),
    /// In a cup or jug.
    Poured {
        /// How much.
        volume: Volume,
        /// As it was written: "2 cups".
        written: String,
        /// What it is: "salt".
        what: String,
        /// What it might be, one when the cook said which.
        kinds: Vec<Kind>,
    },
}

impl Kind {
    /// The weight of a volume of it.
    #[must_use]
    pub fn weigh(&self, volume: Volume) -> Option<Mass> {
        self.density.map(|d| d.mass_of(volume))
    }
}

impl Measure {
    /// The weight, put on the sheet as `id`, with the volume and density behind it.
    pub(super) fn weigh(&self, id: &str, sheet: &mut Sheet) -> Result<Mass, Refusal> {
        let (volume, kinds) = match self {
            Self::Weighed(mass) => {
                sheet.entered(id, mass.g(), "g");
                return Ok(*mass);
            }
            Self::Poured { volume, kinds, .. } => (*volume, kinds),
        };
        let [kind] = kinds.as_slice() else {
            return Err(self.which(|_| None));
        };
        let (Some(density), Some(mass)) = (kind.density, kind.weigh(volume)) else {
            return Err(no_density(&kind.name));
        };
        let (ml, per_ml) = (format!("{id}.volume"), format!("{id}.density"));
        sheet
            .figures
            .leaf(&ml, volume.ml(), "mL", 1, &Citation::whole(&list::ENTERED));
        sheet.cited(&per_ml, density.g_per_ml(), "g/mL", &kind.source);
        sheet.worked(
            id,
            mass.g(),
            "g",
            weight_places(mass.g()),
            "volume × density",
            &[&ml, &per_ml],
        );
        Ok(mass)
    }

    /// The line of small print for a weight that came from a volume.
    pub(super) fn small(&self) -> Option<String> {
        match self {
            Self::Poured { kinds, written, .. } => {
                let kind = kinds.first()?;
                let note = if kind.note.is_empty() {
                    String::new()
                } else {
                    format!("; {}", kind.note)
                };
                Some(format!(
                    "{written} of {} by density: {}{note}",
                    kind.name,
                    cite(&kind.source)
                ))
            }
            Self::Weighed(_) => None,
        }
    }

    /// Refuses a volume that does not say what it is of, with every reading shown. `also` adds to a
    /// reading what the weight would come to.
    pub(super) fn which(&self, also: impl Fn(Mass) -> Option<String>) -> Refusal {
        let Self::Poured {
            volume,
            written,
            what,
            kinds,
        } = self
        else {
            return Refusal::new("found a weight", "a volume", "ask again");
        };
        if kinds.is_empty() {
            return no_density(what);
        }
        let known: Vec<(&Kind, Mass)> = kinds
            .iter()
            .filter_map(|k| Some((k, k.weigh(*volume)?)))
            .collect();
        let least = known
            .iter()
            .map(|(_, m)| m.g())
            .fold(f64::INFINITY, f64::min);
        let most = known.iter().map(|(_, m)| m.g()).fold(0.0, f64::max);
        let unknown: Vec<&str> = kinds
            .iter()
            .filter(|k| k.density.is_none())
            .map(|k| k.name.as_str())
            .collect();
        let words: Vec<&str> = known.iter().map(|(k, _)| k.word.as_str()).collect();
        let mut readings: Vec<String> = known
            .iter()
            .map(|(kind, mass)| {
                let grams = number(mass.g(), weight_places(mass.g()));
                let also = also(*mass).map_or_else(String::new, |a| format!("   {a}"));
                format!("{:<26} {grams:>8} g{also}", kind.name)
            })
            .collect();
        if !unknown.is_empty() {
            readings.push(format!(
                "no weight per volume known for {}",
                unknown.join("; ")
            ));
        }
        let mut refusal = Refusal::new(
            format!("found {written} of {what}, but not which {what}"),
            format!(
                "the kind of {what}: by volume they differ {} to 1 (densities: {})",
                number(most / least, 2),
                list::SALT_CUPS.status.words(),
            ),
            format!("say which ({}), or better, weigh it", words.join(", ")),
        );
        // The doubt about the densities belongs to salt; sugars are tabled.
        if what != "salt" {
            refusal.expected = format!(
                "the kind of {what}: by volume they differ {} to 1",
                number(most / least, 2)
            );
        }
        refusal.readings = readings;
        refusal
    }
}

fn no_density(name: &str) -> Refusal {
    Refusal::new(
        format!("found a volume of {name}, of which no weight per volume is known"),
        "a weight",
        "weigh it",
    )
}
