//! The list of sources. Keys are short and never change; data files use them.

use crate::{Source, Status};

macro_rules! sources {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $title:literal, $status:ident;)*) => {
        $($(#[$doc])* pub const $name: Source = Source { key: $key, title: $title, status: Status::$status };)*
        /// Every source, in the order of the list.
        pub static ALL: &[Source] = &[$($name),*];
    };
}

sources! {
    /// Composition and household measures of 311 foods, cited by NDB number.
    SR28 = "sr28", "USDA National Nutrient Database for Standard Reference, Release 28 (2015), NDB no.", Read;
    /// Refuse by part, and metric measures, cited by food code.
    CNF = "cnf", "Health Canada, Canadian Nutrient File, food code", Read;
    /// Exact unit factors.
    UCUM = "ucum", "UCUM essence 2.2: exact inch, pound and the volumes built on them", Read;
    /// The salometer formula and 26.395 % at saturation.
    SALOMETER = "salometer", "The salometer and how to use it (plant handbook page): 26.395 % at 60 °F", Read;
    /// Commercial pages on salt weight per cup; they disagree among themselves.
    SALT_CUPS = "salt-cups", "Several commercial pages on salt weight per cup (they disagree: weigh your own)", SecondHand;
    /// Green-weight base and the three ways of computing ingoing nitrite.
    FSIS_CALC = "fsis-calc", "USDA FSIS Processing Inspectors' Calculations Handbook (1995), ch. 3", SecondHand;
    /// US limits on ingoing nitrite in meat.
    CFR_424 = "9cfr424", "9 CFR 424.21(c) and 424.22(b)", SecondHand;
    /// Nitrite in smoked cured fish: which species, how much.
    CFR_172 = "21cfr172", "21 CFR 172.160, .170, .175 (April 2006 print)", Read;
    /// EU limits on added nitrite, as the ion, from 9 October 2025. The numbers are remembered.
    EU_2023_2108 = "eu2023-2108", "Regulation (EC) 1333/2008 Annex II as amended by (EU) 2023/2108", FromMemory;
    /// Nitrite in the United Kingdom.
    SI_2007_1778 = "si2007-1778", "SI 2007/1778 and EFSA 2017: 150 mg/kg as sodium nitrite", Read;
    /// Canadian nitrite limits as restated by suppliers.
    CA_NITRITE = "ca-nitrite", "Canada: 200 ppm sodium nitrite input (supplier and forum restatements)", SecondHand;
    /// Water-phase salt and smoking of fish.
    MAINE_359 = "maine359", "Maine 01-001 CMR ch. 359 s. 2 and 3 (smoked, cured, salted fish)", Read;
    /// Hot-smoke core and storage of smoked fish in Michigan.
    MICH_569 = "mich569", "Michigan R 285.569.7 and .8 (smoked fish)", Read;
    /// Cooling of cooked food, read in a state code that adopts the section.
    FOOD_CODE_COOLING = "fc-3-501.14", "FDA Food Code 3-501.14 as adopted in 16 Del. Admin. Code", Read;
    /// Cold and hot holding.
    FOOD_CODE_HOLDING = "fc-3-501.16", "FDA Food Code 3-501.16 as read in a Georgia county rule", Read;
    /// Date marking: day 1 is the day made.
    FOOD_CODE_DATES = "fc-3-501.17", "FDA Food Code 3-501.17 as read in Georgia and North Carolina texts", Read;
    /// Time as a public health control.
    FOOD_CODE_TIME = "fc-3-501.19", "FDA Food Code 3-501.19 as adopted in Wisconsin ATCP 75", Read;
    /// Cooking temperatures.
    FOOD_CODE_COOK = "fc-3-401.11", "FDA Food Code 3-401.11 as adopted in Wisconsin", Read;
    /// Processes that need a variance and a plan.
    FOOD_CODE_VARIANCE = "fc-3-502.11", "FDA Food Code 3-502.11 as adopted in WAC 246-215-03535", Read;
    /// UK cold holding and cooling.
    UK_TEMPERATURE = "uk-temp", "UK temperature control rules and guidance (8 °C, 63 °C, 90 min)", FromMemory;
    /// Canadian holding and cooling temperatures.
    CA_TEMPERATURE = "ca-temp", "Canadian food retail and service code (4 °C, 60 °C)", FromMemory;
    /// The legal line of an acidified food, and how its pH is measured.
    CFR_114 = "21cfr114", "21 CFR 114.3, 114.80, 114.90: equilibrium pH at most 4.6, by meter", SecondHand;
    /// A margin below the legal line.
    PA_PH = "pa-ph", "Pennsylvania limited-establishment canning guide, 12/2023: pH tiers 4.0, 4.2, 4.6", SecondHand;
    /// Atomic weights behind the nitrite ion / salt ratio.
    ATOMIC = "atomic", "IUPAC standard atomic weights (NaNO2 68.995, NO2 46.005)", FromMemory;
    /// Salt solution and equilibrium are mass balance.
    MASS_BALANCE = "mass-balance", "Mass balance: what goes in is what is there", Computed;
    /// 2018 US wage statistics.
    BLS_2018 = "bls2018", "BLS Occupational Employment Statistics, May 2018, 35-2012", Read;
    /// A habit of the trade.
    PRACTICE = "practice", "A habit of the trade", CommonPractice;
    /// Remembered; look it up before leaning on it.
    MEMORY = "memory", "Remembered, not looked up", FromMemory;
    /// A value of this house.
    HOUSE = "house", "The book", House;
    /// A value made up for the demo book.
    INVENTED = "invented", "Invented for the demo", House;
    /// A value the user typed.
    ENTERED = "entered", "The command line", Entered;
    /// A result.
    COMPUTED = "computed", "Computed from the figures named", Computed;
}

/// The source with this key.
#[must_use]
pub fn find(key: &str) -> Option<&'static Source> {
    ALL.iter().find(|s| s.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_unique() {
        for (i, a) in ALL.iter().enumerate() {
            for b in &ALL[i + 1..] {
                assert_ne!(a.key, b.key);
            }
        }
    }

    #[test]
    fn only_read_texts_may_show() {
        assert!(Status::Read.may_show());
        for s in [
            Status::SecondHand,
            Status::FromMemory,
            Status::CommonPractice,
            Status::House,
            Status::Entered,
        ] {
            assert!(!s.may_show());
        }
    }
}
