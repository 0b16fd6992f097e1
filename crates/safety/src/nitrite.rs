//! How much nitrite a place allows to go in, and how a figure stands against it.
//!
//! The limits disagree: by place, by product, by how the cure goes in, and in what they count
//! (sodium nitrite, or the nitrite ion). Every row carries how far its text was read; a row not read
//! itself can break a figure and never show it.

use kitchen::site::RuleSet;
use sources::Source;
use units::Ppm;

use crate::rules;
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

/// A limit before its row is looked up.
struct Named {
    /// Id of the row that carries the figure.
    row: &'static str,
    product: &'static str,
    note: &'static str,
    of: &'static [Product],
    by: &'static [Way],
    /// Whether the figure counts the nitrite ion.
    ion: bool,
    ingoing: bool,
}

const fn meat(
    row: &'static str,
    product: &'static str,
    note: &'static str,
    of: &'static [Product],
    by: &'static [Way],
) -> Named {
    Named {
        row,
        product,
        note,
        of,
        by,
        ion: false,
        ingoing: true,
    }
}

/// What each row is for, in the order they are listed.
const NAMED: &[Named] = &[
    meat(
        "nitrite.meat.dry_cured",
        "dry-cured whole muscle",
        "1 oz in 100 lb; the finished product 200 at most (from memory)",
        &[Product::WholeMuscle],
        &[Way::Dry],
    ),
    meat(
        "nitrite.meat.pumped_or_immersed",
        "pumped or immersed, not bacon",
        "2 lb in 100 gal at a 10 % pump",
        &[Product::WholeMuscle],
        IN_PICKLE,
    ),
    meat(
        "nitrite.meat.comminuted",
        "minced",
        "1/4 oz in 100 lb, printed as 156",
        &[Product::Minced],
        ANY_WAY,
    ),
    meat(
        "nitrite.bacon.dry",
        "bacon, dry-cured",
        "no nitrate in any bacon",
        &[Product::Bacon],
        &[Way::Dry],
    ),
    meat(
        "nitrite.bacon.immersed",
        "bacon, pumped or immersed",
        "with 550 ppm ascorbate or erythorbate when pumped; skin-on 108 (from memory)",
        &[Product::Bacon],
        IN_PICKLE,
    ),
    Named {
        ingoing: false,
        ..meat(
            "nitrite.fish.salmon_sable_shad",
            "smoked salmon, sablefish, shad",
            "counted in the finished fish: a laboratory answers",
            &[Product::NamedFish],
            ANY_WAY,
        )
    },
    meat(
        "nitrite.fish.other",
        "any other fish",
        "nitrite is not permitted",
        &[Product::OtherFish],
        ANY_WAY,
    ),
    meat(
        "nitrite.ca.meat",
        "meat",
        "side bacon 120",
        &[Product::WholeMuscle, Product::Minced],
        ANY_WAY,
    ),
    meat(
        "nitrite.ca.bacon",
        "side bacon",
        "",
        &[Product::Bacon],
        ANY_WAY,
    ),
    Named {
        ion: true,
        ..meat(
            "nitrite.eu.meat.ingoing",
            "most meat products",
            "since 2025-10-09, as ion; sterilised 55; traditional cures have lines of their own",
            MEAT,
            ANY_WAY,
        )
    },
    meat(
        "nitrite.uk_eu_old.ingoing",
        "meat",
        "sterilised 100; traditional cures are limited on what remains instead",
        MEAT,
        ANY_WAY,
    ),
];

/// Every limit known here, place by place: a row of the rules each, with the row's own figure and source.
///
/// A figure printed rounded is judged by the exact one where the row has it: 1/4 oz in 100 lb is 156.25, printed 156.
#[must_use]
pub fn limits() -> Vec<NitriteLimit> {
    NAMED.iter().filter_map(looked_up).collect()
}

/// The limit of a row. Rows that cannot be read give none: what has no limit here is never shown, and a test keeps every
/// one of them there.
fn looked_up(named: &Named) -> Option<NitriteLimit> {
    let row = rules::shipped().ok()?.find(named.row)?;
    let most = row.number("exact").or(row.value)?;
    Some(NitriteLimit {
        place: row.place,
        product: named.product,
        ppm_nano2: (!named.ion).then_some(most),
        ion_mg_kg: named.ion.then_some(most),
        source: rules::source(named.row)?,
        note: named.note,
        of: named.of,
        by: named.by,
        ingoing: named.ingoing,
    })
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

/// Where the weights behind a figure come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weights {
    /// Typed in: arithmetic on what somebody says was weighed.
    Entered,
    /// Each weight read off a checked scale and logged with its moment, the cure and every piece.
    Logged,
}

/// Judges one figure on weights that were typed in, against one limit. `None` when the limit counts neither.
///
/// Typed weights can break a limit and never show it (decision 0006).
#[must_use]
pub fn judge(limit: &NitriteLimit, sodium_nitrite: Ppm, ion: Ppm) -> Option<Judgement> {
    judge_weighed(limit, sodium_nitrite, ion, Weights::Entered)
}

/// Judges one figure, said both ways, against one limit. `None` when the limit counts neither.
///
/// A limit on the finished food stays `not shown` either way: what went in is not what is there.
#[must_use]
pub fn judge_weighed(
    limit: &NitriteLimit,
    sodium_nitrite: Ppm,
    ion: Ppm,
    weights: Weights,
) -> Option<Judgement> {
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
        Standing::Within if weights == Weights::Logged && limit.source.status.may_show() => {
            Verdict::Shown
        }
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
    fn every_limit_named_is_a_row() {
        assert_eq!(limits().len(), NAMED.len());
        let minced = row(RuleSet::Us, Product::Minced, Way::Dry);
        assert_eq!(minced.ppm_nano2, Some(156.25));
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
        // SI 2007/1778 was read: 150 at the limit is shown there by logged weights, and by no typed ones.
        let limit = row(RuleSet::England, Product::WholeMuscle, Way::Pumped);
        let uk = judge(&limit, salt, ion).unwrap();
        assert_eq!(
            (uk.standing, uk.verdict),
            (Standing::Within, Verdict::NotShown)
        );
        let weighed = judge_weighed(&limit, salt, ion, Weights::Logged).unwrap();
        assert_eq!(weighed.verdict, Verdict::Shown);
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
            let found = judge_weighed(&limit, ppm(0.0), ppm(0.0), Weights::Logged).unwrap();
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
