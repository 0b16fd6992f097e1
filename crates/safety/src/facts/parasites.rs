//! Parasites: which fish has to be frozen before it is eaten raw, cured or cold-smoked, and which is exempt.

use kitchen::site::RuleSet;

use crate::judge::figure::row;
use crate::judge::{Refusal, Terms, freezing_asks, freezing_rows};
use crate::judgement::Judgement;
use crate::verdict::Verdict;

/// Where a fish is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Caught.
    Wild,
    /// Farmed; whether on pellets free of live parasites, where that is known.
    Farmed {
        /// Fed so, by the supplier's word.
        pellets: Option<bool>,
    },
    /// Nobody said.
    Unknown,
}

/// What is known of its freezing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Freezing {
    /// Never frozen.
    Never,
    /// Nobody said, or the supplier says so: a log or a letter is wanted.
    Unproved,
}

/// A fish that is to be eaten.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fish {
    /// Species as it was received; Latin names tell one tuna from another.
    pub species: String,
    /// Where it is from.
    pub origin: Origin,
    /// Whether the process heats it through: hot-smoked or cooked.
    pub heated: bool,
    /// What is known of its freezing.
    pub freezing: Freezing,
}

/// Words that make a species one of the shellfish the rule exempts.
const SHELLFISH: &[&str] = &["oyster", "mussel", "clam", "cockle", "molluscan shellfish"];

/// Freezing asked of this fish: `None` when it is heated through (the cook rule judges it then), *broken* when it was never
/// frozen and is not exempt, else *not shown*: a log against `freeze-parasites` shows it, and a claim is no letter.
///
/// # Source
/// `parasite.us.a` to `.c` and `.exempt` (read); `parasite.eu.a`, `.b` (from memory; farmed fish exempt there too, read).
/// # Errors
/// A species that is no name; rules that do not hold together.
pub fn parasites(terms: &Terms, fish: &Fish) -> Result<Option<Judgement>, Refusal> {
    let species = fish.species.trim().to_lowercase();
    if species.is_empty() {
        return Err(Refusal::Terms {
            found: "no species".to_owned(),
            expected: "the species as it was received",
        });
    }
    if fish.heated {
        return Ok(None);
    }
    let exempt = row("parasite.us.exempt", terms)?;
    let rows = freezing_rows(terms)?;
    let claim = claimed(terms, &exempt.rule.list, &species, fish.origin);
    let (asks, place, verdict, next) = match (claim, fish.freezing) {
        (Some(claim), _) => (
            format!("no freezing of {claim}"),
            "claimed; the supplier's letter was not seen".to_owned(),
            Verdict::NotShown,
            "keep the supplier's letter with the lot and the batch papers, 90 days at least (from memory)".to_owned(),
        ),
        (None, freezing) => (
            format!("{}: freezing at {}", fish.species.trim(), freezing_asks(&rows)?),
            match (fish.origin, freezing) {
                (Origin::Unknown, _) => "wild or farmed is not known, so it counts as wild",
                (Origin::Farmed { .. }, _) => "farmed; what it was fed is not known to be pellets, so it counts as wild",
                (Origin::Wild, Freezing::Never) => "wild, and never frozen",
                (Origin::Wild, Freezing::Unproved) => "wild; no freezing is shown",
            }
            .to_owned(),
            if freezing == Freezing::Never { Verdict::Broken } else { Verdict::NotShown },
            if freezing == Freezing::Never {
                "freeze it, or heat it through; salt and cold smoke kill no parasites"
            } else {
                "attach the letter on freezing with its lot, or judge the freezer's log against freeze-parasites"
            }
            .to_owned(),
        ),
    };
    // Several rows say how; the first lends its source, and a claim is held against the row of the exempt.
    let from = if claim.is_some() {
        &exempt
    } else {
        rows.first().unwrap_or(&exempt)
    };
    Ok(Some(Judgement {
        verdict,
        holds: from.holds,
        base: "species, origin and feed as received".to_owned(),
        ..Judgement::not_shown("parasites", asks, place, from.source, from.cautioned(next))
    }))
}

/// The exemption a fish can claim, in the words of the row.
fn claimed<'a>(
    terms: &Terms,
    list: &'a [String],
    species: &str,
    origin: Origin,
) -> Option<&'a str> {
    let line = |word: &str| list.iter().map(String::as_str).find(|l| l.contains(word));
    if matches!(
        origin,
        Origin::Farmed {
            pellets: Some(true)
        }
    ) {
        return line("aquacultured");
    }
    // The tunas, shellfish and roe are exempt by the US list alone.
    if terms.place != RuleSet::Us {
        return None;
    }
    let words: Vec<&str> = species.split_whitespace().collect();
    if words.first() == Some(&"thunnus") {
        let tunas = line("Thunnus")?;
        let second = words.get(1)?;
        return tunas
            .to_lowercase()
            .split([' ', ',', ':'])
            .any(|w| w == *second)
            .then_some(tunas);
    }
    if species.contains("adductor") {
        return line("adductor");
    }
    if species.contains("roe off the skein, rinsed") {
        return line("skein");
    }
    SHELLFISH
        .iter()
        .any(|s| species.contains(s))
        .then(|| line("molluscan"))
        .flatten()
}
