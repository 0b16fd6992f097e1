//! Cautions: what is said at the place of use where the work can hurt someone.
//!
//! A caution is words, never a verdict: it holds whatever was computed, and it defers to the code of the
//! place and to licensed practice. When one is called for is decided where the recipe is known.

use sources::{Source, list};

use crate::rules;

/// What a caution stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grounds {
    /// A row of the rules, by its id.
    Row(&'static str),
    /// The usual caution of the trade; nobody's text was read for it.
    Practice,
}

/// One caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Short id: `curing-salt`.
    pub id: &'static str,
    /// What it is about, as a label.
    pub about: &'static str,
    /// What is said.
    pub words: &'static str,
    /// What it stands on.
    pub grounds: Grounds,
}

impl Caution {
    /// Its source, with its status; the habit of the trade where no row stands behind it.
    #[must_use]
    pub fn source(&self) -> &'static Source {
        match self.grounds {
            Grounds::Row(id) => rules::source(id).unwrap_or(&list::PRACTICE),
            Grounds::Practice => &list::PRACTICE,
        }
    }
}

/// Curing salt on the bench.
pub const CURING_SALT: Caution = Caution {
    id: "curing-salt",
    about: "curing salt",
    words: "poisonous by the spoon and easily taken for salt: locked away and labelled, weighed to 0.01 g and read by \
            a second person, never put in twice, never tasted; a batch in doubt is thrown away",
    grounds: Grounds::Practice,
};

/// Packing without oxygen.
pub const NO_OXYGEN: Caution = Caution {
    id: "no-oxygen",
    about: "packing without oxygen",
    words: "Clostridium botulinum can grow without air, in the cold too, and neither smell nor gas tells of it: only as \
            the plan your authority approved says, cold without a break, dated",
    grounds: Grounds::Row("rop.no_variance"),
};

/// Garlic, herbs and other moist food under oil.
pub const UNDER_OIL: Caution = Caution {
    id: "under-oil",
    about: "garlic or herbs in oil",
    words: "under oil there is no air, and Clostridium botulinum can grow in what is moist: kept at 5 °C or below, dated \
            for days and not for weeks, then thrown away; never warm, never on a shelf",
    grounds: Grounds::Row("garlic_oil.tcs"),
};

/// Raw-cured and cold-smoked food.
pub const EATEN_RAW: Caution = Caution {
    id: "eaten-raw",
    about: "raw-cured or cold-smoked",
    words: "not cooked: the usual advice keeps it from anyone pregnant, very young, old or ill; the floor is told, and \
            a guest's own question goes to their doctor",
    grounds: Grounds::Practice,
};

/// Hot liquors and brines.
pub const HOT_LIQUOR: Caution = Caution {
    id: "hot-liquor",
    about: "liquor",
    words: "a hot one scalds, and a lid on a hot jar bursts or sucks tight: carried low, poured away from you, lids on when cool; \
            never over raw fish or meat, whose brine is at 4 °C or below",
    grounds: Grounds::Practice,
};

/// Wood for the smoker.
pub const SMOKING_WOOD: Caution = Caution {
    id: "smoking-wood",
    about: "wood and smoke",
    words: "dry hardwood known to be untreated: nothing resinous, painted, glued or from a pallet; smoke holds carbon \
            monoxide: air the room, and keep to the fire rules of the building",
    grounds: Grounds::Practice,
};

/// All of them.
pub const ALL: &[Caution] = &[
    CURING_SALT,
    NO_OXYGEN,
    UNDER_OIL,
    EATEN_RAW,
    HOT_LIQUOR,
    SMOKING_WOOD,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_caution_stands_on_something_and_promises_nothing() {
        for caution in ALL {
            if let Grounds::Row(id) = caution.grounds {
                assert!(rules::source(id).is_some(), "{id}: no such row");
            }
            assert!(
                !caution.words.to_lowercase().contains("safe"),
                "{}",
                caution.id
            );
            // Short enough to be read at the bench.
            assert!(
                caution.words.len() < 260,
                "{}: {}",
                caution.id,
                caution.words.len()
            );
        }
    }
}
