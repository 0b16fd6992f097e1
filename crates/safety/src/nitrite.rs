//! How much nitrite a place allows to go in, and how a figure stands against it.
//!
//! The limits disagree: by place, by product, by how the cure goes in, and in what they count
//! (sodium nitrite, or the nitrite ion). Every row carries how far its text was read; a row not read
//! itself can break a figure and never show it.

use kitchen::site::RuleSet;
use sources::{Source, list};
use units::Ppm;

use crate::verdict::Verdict;

/// What is cured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Product {
    /// Whole muscle: loin, ham, breast.
    WholeMuscle,
    /// Chopped or minced: sausage.
    Minced,
    /// Bacon: belly.
    Bacon,
    /// Fish the US rules name: salmon, sablefish, shad.
    NamedFish,
    /// Any other fish: char, trout, mackerel.
    OtherFish,
}

impl Product {
    /// Every product with the word it is asked for by.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("whole", Self::WholeMuscle),
        ("minced", Self::Minced),
        ("bacon", Self::Bacon),
        ("salmon", Self::NamedFish),
        ("fish", Self::OtherFish),
    ];
}

/// How the cure goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Way {
    /// Rubbed on or mixed in.
    Dry,
    /// Injected.
    Pumped,
    /// Laid in pickle.
    Immersed,
}

/// One place's limit for one product.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NitriteLimit {
    /// Where it holds.
    pub place: RuleSet,
    /// The product and way it holds for, in words.
    pub product: &'static str,
    /// Most sodium nitrite, mg per kg of green weight, where the place counts that.
    pub ppm_nano2: Option<f64>,
    /// Most nitrite ion, mg per kg, where the place counts that.
    pub ion_mg_kg: Option<f64>,
    /// Where the number comes from and how far it was read.
    pub source: &'static Source,
    /// What else the reader must know.
    pub note: &'static str,
    /// Products it holds for.
    pub of: &'static [Product],
    /// Ways it holds for.
    pub by: &'static [Way],
    /// Whether it counts what goes in; false for a limit on the finished food, which no arithmetic
    /// on what went in can show.
    pub ingoing: bool,
}

const ANY_WAY: &[Way] = &[Way::Dry, Way::Pumped, Way::Immersed];
const IN_PICKLE: &[Way] = &[Way::Pumped, Way::Immersed];
const MEAT: &[Product] = &[Product::WholeMuscle, Product::Minced, Product::Bacon];

/// Every limit known here, place by place.
///
/// # Source
/// Each row names its own. 156.25 is 1/4 oz in 100 lb, which the handbook prints as 156.
#[must_use]
pub fn limits() -> Vec<NitriteLimit> {
    let us = |product, ppm, note, of, by| NitriteLimit {
        place: RuleSet::Us,
        product,
        ppm_nano2: Some(ppm),
        ion_mg_kg: None,
        source: &list::CFR_424,
        note,
        of,
        by,
        ingoing: true,
    };
    let elsewhere = |place, product, ppm_nano2, ion_mg_kg, source, note, of| NitriteLimit {
        place,
        product,
        ppm_nano2,
        ion_mg_kg,
        source,
        note,
        of,
        by: ANY_WAY,
        ingoing: true,
    };
    let us_fish = |product, ppm, note, of, ingoing| NitriteLimit {
        place: RuleSet::Us,
        product,
        ppm_nano2: Some(ppm),
        ion_mg_kg: None,
        source: &list::CFR_172,
        note,
        of,
        by: ANY_WAY,
        ingoing,
    };
    vec![
        us(
            "dry-cured whole muscle",
            625.0,
            "1 oz in 100 lb; the finished product 200 at most (from memory)",
            &[Product::WholeMuscle],
            &[Way::Dry],
        ),
        us(
            "pumped or immersed, not bacon",
            200.0,
            "2 lb in 100 gal at a 10 % pump",
            &[Product::WholeMuscle],
            IN_PICKLE,
        ),
        us(
            "minced",
            156.25,
            "1/4 oz in 100 lb, printed as 156",
            &[Product::Minced],
            ANY_WAY,
        ),
        us(
            "bacon, dry-cured",
            200.0,
            "no nitrate in any bacon",
            &[Product::Bacon],
            &[Way::Dry],
        ),
        us(
            "bacon, pumped or immersed",
            120.0,
            "with 550 ppm ascorbate or erythorbate when pumped; skin-on 108 (from memory)",
            &[Product::Bacon],
            IN_PICKLE,
        ),
        us_fish(
            "smoked salmon, sablefish, shad",
            200.0,
            "counted in the finished fish: a laboratory answers",
            &[Product::NamedFish],
            false,
        ),
        us_fish(
            "any other fish",
            0.0,
            "nitrite is not permitted",
            &[Product::OtherFish],
            true,
        ),
        elsewhere(
            RuleSet::Canada,
            "meat",
            Some(200.0),
            None,
            &list::CA_NITRITE,
            "side bacon 120",
            &[Product::WholeMuscle, Product::Minced],
        ),
        elsewhere(
            RuleSet::Canada,
            "side bacon",
            Some(120.0),
            None,
            &list::CA_NITRITE,
            "",
            &[Product::Bacon],
        ),
        elsewhere(
            RuleSet::Eu,
            "most meat products",
            None,
            Some(80.0),
            &list::EU_2023_2108,
            "since 2025-10-09, as ion; sterilised 55; traditional cures have lines of their own",
            MEAT,
        ),
        elsewhere(
            RuleSet::England,
            "meat",
            Some(150.0),
            None,
            &list::SI_2007_1778,
            "sterilised 100; traditional cures are limited on what remains instead",
            MEAT,
        ),
    ]
}

/// On which side of a limit a figure lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Standing {
    /// At or below it.
    Within,
    /// Above it.
    Above,
}

impl Standing {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Above => "above",
        }
    }
}

/// How a figure stands against a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judgement {
    /// Which side.
    pub standing: Standing,
    /// The verdict: `broken` above; within, `shown` only when the limit's own text was read.
    pub verdict: Verdict,
    /// The limit, in the unit the place counts.
    pub limit: f64,
    /// The figure, in the same unit.
    pub value: f64,
    /// Limit less figure; negative when above.
    pub margin: f64,
    /// `ppm NaNO2` or `mg/kg ion`.
    pub unit: &'static str,
}

/// Least difference counted as above: far below any scale, far above binary noise.
const NOISE_PPM: f64 = 1e-6;

/// Judges one figure, said both ways, against one limit. `None` when the limit counts neither.
///
/// A limit on the finished food stays `not shown` either way: what went in is not what is there.
#[must_use]
pub fn judge(limit: &NitriteLimit, sodium_nitrite: Ppm, ion: Ppm) -> Option<Judgement> {
    let (most, value, unit) = match (limit.ppm_nano2, limit.ion_mg_kg) {
        (Some(most), _) => (most, sodium_nitrite.ppm(), "ppm NaNO2"),
        (None, Some(most)) => (most, ion.ppm(), "mg/kg ion"),
        (None, None) => return None,
    };
    let standing = if value > most + NOISE_PPM {
        Standing::Above
    } else {
        Standing::Within
    };
    let verdict = match standing {
        _ if !limit.ingoing => Verdict::NotShown,
        Standing::Above => Verdict::Broken,
        Standing::Within if limit.source.status.may_show() => Verdict::Shown,
        Standing::Within => Verdict::NotShown,
    };
    Some(Judgement {
        standing,
        verdict,
        limit: most,
        value,
        margin: most - value,
        unit,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ppm(value: f64) -> Ppm {
        Ppm::new(value).unwrap()
    }

    fn row(place: RuleSet, of: Product, by: Way) -> NitriteLimit {
        let found: Vec<_> = limits()
            .into_iter()
            .filter(|l| l.place == place && l.of.contains(&of) && l.by.contains(&by))
            .collect();
        assert_eq!(found.len(), 1, "{place:?} {of:?} {by:?}");
        found[0]
    }

    #[test]
    fn every_meat_has_one_limit_in_every_place() {
        for (_, place) in RuleSet::ALL {
            for of in MEAT {
                for by in ANY_WAY {
                    row(*place, *of, *by);
                }
            }
        }
    }

    /// 150 ppm pumped passes in the US and fails in the EU: 100.0 mg/kg ion against 80.
    #[test]
    fn what_passes_in_one_place_breaks_in_another() {
        let (salt, ion) = (ppm(150.0), ppm(100.02));
        let us = judge(
            &row(RuleSet::Us, Product::WholeMuscle, Way::Pumped),
            salt,
            ion,
        )
        .unwrap();
        assert_eq!(
            (us.standing, us.verdict),
            (Standing::Within, Verdict::NotShown)
        );
        let eu = judge(
            &row(RuleSet::Eu, Product::WholeMuscle, Way::Pumped),
            salt,
            ion,
        )
        .unwrap();
        assert_eq!(
            (eu.standing, eu.verdict),
            (Standing::Above, Verdict::Broken)
        );
        assert!((eu.margin + 20.02).abs() < 1e-9);
        // SI 2007/1778 was read, so 150 at the limit is shown there.
        let uk = judge(
            &row(RuleSet::England, Product::WholeMuscle, Way::Pumped),
            salt,
            ion,
        )
        .unwrap();
        assert_eq!(
            (uk.standing, uk.verdict),
            (Standing::Within, Verdict::Shown)
        );
        let above = judge(
            &row(RuleSet::Us, Product::WholeMuscle, Way::Pumped),
            ppm(210.0),
            ppm(140.0),
        );
        assert_eq!(above.unwrap().verdict, Verdict::Broken);
    }

    #[test]
    fn a_limit_not_read_never_shows() {
        for limit in limits() {
            if limit.source.status.may_show() {
                continue;
            }
            let found = judge(&limit, ppm(0.0), ppm(0.0)).unwrap();
            assert_eq!(found.verdict, Verdict::NotShown, "{}", limit.product);
        }
    }

    #[test]
    fn fish_is_its_own_matter() {
        let char = row(RuleSet::Us, Product::OtherFish, Way::Dry);
        assert_eq!(
            judge(&char, ppm(1.0), ppm(0.7)).unwrap().verdict,
            Verdict::Broken
        );
        let salmon = row(RuleSet::Us, Product::NamedFish, Way::Dry);
        for value in [100.0, 250.0] {
            let found = judge(&salmon, ppm(value), ppm(value * 0.667)).unwrap();
            assert_eq!(found.verdict, Verdict::NotShown, "finished, not ingoing");
        }
    }
}
