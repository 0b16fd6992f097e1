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
    /// Freezing against parasites, and who is exempt.
    FOOD_CODE_PARASITES = "fc-3-402.11", "FDA Food Code 3-402.11 as adopted in WAC 246-215-03425", Read;
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
    /// Series solutions of diffusion in slab, bar, cylinder and limited bath.
    CRANK = "crank", "Crank, The Mathematics of Diffusion", FromMemory;
    /// Salt enters and water leaves in proportion to their distance from equilibrium.
    ZUGARRAMURDI_LUPIN = "zugarramurdi-lupin", "Zugarramurdi and Lupin 1980, salting by two exponentials", FromMemory;
    /// How much sucrose water holds.
    VAVRINECZ = "vavrinecz", "Vavrinecz, solubility of sucrose in water", FromMemory;
    /// Diffusivity of salt in fish through flesh, skin and fat.
    FISH_SKIN_D = "fish-skin-d", "J. Cookery Science of Japan 25(4) 283: salt into fish with and without skin (abstract)", Read;
    /// Water in pork while curing with nitrite, 2 to 12 °C.
    PORK_NITRITE_D = "pork-nitrite-d", "J. Food Engineering 149:188 (2015), curing of pork with nitrite (abstract)", Read;
    /// Nitrate in pork, across and along the fibre.
    PORK_NITRATE_D = "pork-nitrate-d", "J. Food Engineering 214:69 (2017), nitrate in pork (abstract)", Read;
    /// Moisture in pork while salting and drying.
    PORK_MOISTURE_D = "pork-moisture-d", "SINTEF 1288910, moisture in pork while salting and drying (abstract)", Read;
    /// Water in sardine.
    SARDINE_D = "sardine-d", "J. Food Engineering 80:497 (2007), water in sardine at 30 to 38 °C (abstract)", Read;
    /// Weak brine swells cod, strong brine dries it: the direction only.
    NGUYEN_2010 = "nguyen2010", "Nguyen et al. 2010, cod loins in weak and strong brines (abstract: direction only)", Read;
    /// Properties of food components by temperature; the two copies disagree in three places.
    CHOI_OKOS = "choi-okos", "Choi and Okos 1986: component properties, two public copies", SecondHand;
    /// The psychrometric equations of ASHRAE Fundamentals 2017 ch. 1, read in a library's source.
    PSYCHROLIB = "psychrolib", "PsychroLib 2.5.0 source, quoting ASHRAE Fundamentals 2017 ch. 1", SecondHand;
    /// Series solutions of conduction.
    CONDUCTION = "conduction", "Carslaw and Jaeger, Conduction of Heat in Solids", FromMemory;
    /// Orders of magnitude of heat transfer to air and water.
    HEAT_TRANSFER = "heat-transfer", "Heat transfer coefficients in kitchens, order of magnitude", FromMemory;
    /// Times and temperatures for Salmonella in meat; not for fish.
    FSIS_A = "fsis-a", "FSIS Cooking Guideline (Revised Appendix A), December 2021", Read;
    /// Times and temperatures for Listeria and non-proteolytic Clostridium botulinum in fish.
    FDA_FISH_A4 = "fda-fish-a4", "FDA Fish and Fishery Products Hazards guide, App. 4, Tables A-3 and A-4", FromMemory;
    /// The same spores with another z, in a training text that quotes the guideline.
    UK_VACUUM = "uk-vacuum", "FSA vacuum-packing training, quoting the CFA guidelines 2006", SecondHand;
    /// A habit of the trade.
    PRACTICE = "practice", "A habit of the trade", CommonPractice;
    /// Osmotic coefficient of sodium chloride in water.
    PITZER_NACL = "pitzer-nacl", "Pitzer and Mayorga 1973: sodium chloride in water at 25 °C (0 to 6 mol/kg)", FromMemory;
    /// A general geochemical program, run for tables of brine.
    PHREEQC = "phreeqc", "PHREEQC 3.8.6 (pitzer.dat, ColdChem.dat, frezchem.dat, minteq.v4.dat), run for these figures", Computed;
    /// A general fluid-property library, run for tables of brine.
    COOLPROP_MNA = "coolprop-mna", "CoolProp 8.0.0, INCOMP::MNA (sodium chloride brine to 23 %), run for these figures", Computed;
    /// Water activity of sugar and acid solutions.
    NORRISH = "norrish", "Norrish equation with its constants for sugars and acids", FromMemory;
    /// Water activity of several solutes together.
    ROSS_1975 = "ross1975", "Ross 1975: the product of the water activities of each solute alone", FromMemory;
    /// Solubility of salt against temperature.
    NACL_SOLUBILITY = "nacl-solubility", "Solubility of sodium chloride in water, handbook figures", FromMemory;
    /// Dissociation constants of the acids of the kitchen.
    PKA_OF_T = "pka-t", "Harned and Ehlers 1933, Nims and Smith 1936, Bates and Pinching 1949, Bates and Canham 1951: pK of acids against temperature", FromMemory;
    /// How near a buffer model built on titrations comes to the pH of an acidified food; of it the abstract.
    PRICE_2020 = "price2020", "Price and others 2020: a titration-based buffer model predicts pH within 0.11 (abstract)", SecondHand;
    /// Activity coefficients of ions.
    DAVIES = "davies", "Davies equation for the activity of ions, to about 0.5 mol/kg", FromMemory;
    /// A growth model of Listeria monocytogenes in seafood; only the abstract was read.
    MEJLHOLM_2009 = "mejlholm2009", "Mejlholm and Dalgaard 2009: growth and growth boundary of Listeria monocytogenes (parameters remembered)", FromMemory;
    /// The square-root model of growth against temperature.
    RATKOWSKY = "ratkowsky", "Ratkowsky: the square root of the growth rate rises with temperature", FromMemory;
    /// Growth limits of pathogens.
    FDA_FISH_A1 = "fda-fish-a1", "FDA fish guide (2022) App. 4 Table A-1: limiting conditions for growth", FromMemory;
    /// A Listeria table read in full.
    LISTERIA_LIMITS = "listeria-limits", "Table of Listeria monocytogenes growth limits (scirp review)", Read;
    /// An extension page quoting the fish guide.
    FDA_FISH_13 = "fda-fish-13", "FDA fish guide ch. 13 as quoted on an extension page: 3.3 °C, 3.5 % water-phase salt", SecondHand;
    /// A Canadian guidance text, read in a copy on an unofficial host.
    CA_BOTULINUM = "ca-botulinum", "Canadian guidance on non-proteolytic C. botulinum (copy on an unofficial host): a_w below 0.97 or pH below 5.0", SecondHand;
    /// Drying of a wet surface from its wet bulb.
    WET_SURFACE = "wet-surface", "Heat balance of a wet surface at its wet bulb", Computed;
    /// Remembered; look it up before leaning on it.
    MEMORY = "memory", "Remembered, not looked up", FromMemory;
    /// A value of this house.
    HOUSE = "house", "The book", House;
    /// How draws are made, counted and weighed.
    SPREAD_STATISTICS = "spread-statistics", "Textbook statistics: Box and Muller 1958, Spearman 1904, Wilson 1927, Hyndman and Fan 1996 (def. 7), Saltelli et al. 2008", FromMemory;
    /// Root finding that is never slower than halving.
    ITP = "itp", "Oliveira and Takahashi 2021, An enhancement of the bisection method (ITP), ACM Trans. Math. Softw. 47(1)", FromMemory;
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
