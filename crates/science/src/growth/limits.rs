//! Tables of the conditions at which growth ends.

use core::fmt;

use sources::Status;
use units::Temperature;

use crate::acid::Ph;
use crate::brine::Strength;
use crate::water_activity::WaterActivity;

/// An organism of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)] // the names are the documentation
pub enum Organism {
    BacillusCereus,
    CampylobacterJejuni,
    BotulinumProteolytic,
    BotulinumNonProteolytic,
    ClostridiumPerfringens,
    PathogenicEColi,
    ListeriaMonocytogenes,
    Salmonella,
    Shigella,
    StaphylococcusAureusGrowth,
    StaphylococcusAureusToxin,
    VibrioCholerae,
    VibrioParahaemolyticus,
    VibrioVulnificus,
    YersiniaEnterocolitica,
}

/// Its need of air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Oxygen {
    /// Grows without air only.
    Anaerobe,
    /// Grows with and without.
    Facultative,
    /// Wants a little.
    Microaerophile,
}

/// One limit with how far its source was read.
#[derive(Clone, Copy, PartialEq)]
pub struct Limit {
    value: f64,
    status: Status,
}

impl Limit {
    const fn memory(value: f64) -> Self {
        Self {
            value,
            status: Status::FromMemory,
        }
    }

    const fn second_hand(value: f64) -> Self {
        Self {
            value,
            status: Status::SecondHand,
        }
    }

    /// The limit and its status.
    #[must_use]
    pub fn with_status(self) -> (f64, Status) {
        (self.value, self.status)
    }
}

/// "4.4 (from memory)".
impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.value, self.status.words())
    }
}

impl fmt::Debug for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// The conditions at which one organism stops growing, each with the others at their best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GrowthLimits {
    /// Which.
    pub organism: Organism,
    /// Least water activity.
    pub min_aw: Limit,
    /// Least pH.
    pub min_ph: Limit,
    /// Largest pH.
    pub max_ph: Limit,
    /// Largest water-phase salt, %.
    pub max_wps_pct: Limit,
    /// Least temperature, °F.
    pub min_f: Limit,
    /// Largest temperature, °F.
    pub max_f: Limit,
    /// Its need of air.
    pub oxygen: Oxygen,
}

/// `aw, pH from, pH to, water-phase salt %, °F from, °F to`, all remembered.
const fn row(organism: Organism, numbers: [f64; 6], oxygen: Oxygen) -> GrowthLimits {
    GrowthLimits {
        organism,
        min_aw: Limit::memory(numbers[0]),
        min_ph: Limit::memory(numbers[1]),
        max_ph: Limit::memory(numbers[2]),
        max_wps_pct: Limit::memory(numbers[3]),
        min_f: Limit::memory(numbers[4]),
        max_f: Limit::memory(numbers[5]),
        oxygen,
    }
}

impl GrowthLimits {
    const fn least_ph_quoted(mut self) -> Self {
        self.min_ph.status = Status::SecondHand;
        self
    }

    const fn least_f_quoted(mut self) -> Self {
        self.min_f.status = Status::SecondHand;
        self
    }

    const fn all_quoted(mut self) -> Self {
        self.min_aw.status = Status::SecondHand;
        self.min_ph.status = Status::SecondHand;
        self.max_ph.status = Status::SecondHand;
        self.max_wps_pct.status = Status::SecondHand;
        self.min_f.status = Status::SecondHand;
        self.max_f.status = Status::SecondHand;
        self
    }
}

/// Limiting conditions for growth.
///
/// # Source
/// [FDA_FISH_A1](sources::list::FDA_FISH_A1), from memory. Second-hand: both rows of C. botulinum, least pH
/// of S. aureus, Shigella and V. parahaemolyticus, least temperature of Salmonella, S. aureus, Listeria
/// and Yersinia.
pub const GROWTH_LIMITS: [GrowthLimits; 15] = {
    use Organism as O;
    use Oxygen::{Anaerobe, Facultative, Microaerophile};
    [
        row(
            O::BacillusCereus,
            [0.92, 4.3, 9.3, 10.0, 39.2, 131.0],
            Facultative,
        ),
        row(
            O::CampylobacterJejuni,
            [0.987, 4.9, 9.5, 1.7, 86.0, 113.0],
            Microaerophile,
        ),
        row(
            O::BotulinumProteolytic,
            [0.935, 4.6, 9.0, 10.0, 50.0, 118.4],
            Anaerobe,
        )
        .all_quoted(),
        row(
            O::BotulinumNonProteolytic,
            [0.97, 5.0, 9.0, 5.0, 37.9, 113.0],
            Anaerobe,
        )
        .all_quoted(),
        row(
            O::ClostridiumPerfringens,
            [0.93, 5.0, 9.0, 7.0, 50.0, 125.6],
            Anaerobe,
        ),
        row(
            O::PathogenicEColi,
            [0.95, 4.0, 10.0, 6.5, 43.7, 120.9],
            Facultative,
        ),
        row(
            O::ListeriaMonocytogenes,
            [0.92, 4.4, 9.4, 10.0, 31.3, 113.0],
            Facultative,
        )
        .least_f_quoted(),
        row(
            O::Salmonella,
            [0.94, 3.7, 9.5, 8.0, 41.4, 115.2],
            Facultative,
        )
        .least_f_quoted(),
        row(O::Shigella, [0.96, 4.8, 9.3, 5.2, 43.0, 116.8], Facultative).least_ph_quoted(),
        row(
            O::StaphylococcusAureusGrowth,
            [0.83, 4.0, 10.0, 20.0, 44.6, 122.0],
            Facultative,
        )
        .least_ph_quoted()
        .least_f_quoted(),
        row(
            O::StaphylococcusAureusToxin,
            [0.85, 4.0, 9.8, 10.0, 50.0, 118.0],
            Facultative,
        ),
        row(
            O::VibrioCholerae,
            [0.97, 5.0, 10.0, 6.0, 50.0, 109.4],
            Facultative,
        ),
        row(
            O::VibrioParahaemolyticus,
            [0.94, 4.8, 11.0, 10.0, 41.0, 113.5],
            Facultative,
        )
        .least_ph_quoted(),
        row(
            O::VibrioVulnificus,
            [0.96, 5.0, 10.0, 5.0, 46.4, 109.4],
            Facultative,
        ),
        row(
            O::YersiniaEnterocolitica,
            [0.945, 4.2, 10.0, 7.0, 29.7, 107.6],
            Facultative,
        )
        .least_f_quoted(),
    ]
};

/// What is known of a food; `None` is unknown and counts for nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Conditions {
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// Measured water activity.
    pub water_activity: Option<WaterActivity>,
    /// Measured pH.
    pub ph: Option<Ph>,
    /// Water-phase salt.
    pub water_phase_salt: Option<Strength>,
}

/// A condition of the food that lies past a limit of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hurdle {
    /// Colder than growth begins, °F.
    Cold(Limit),
    /// Hotter than growth ends, °F.
    Hot(Limit),
    /// Drier, water activity.
    Dry(Limit),
    /// More sour, pH.
    Sour(Limit),
    /// More alkaline, pH.
    Alkaline(Limit),
    /// Saltier, % in the water phase.
    Salt(Limit),
}

impl Organism {
    /// Its row of the table.
    #[must_use]
    pub fn limits(self) -> &'static GrowthLimits {
        // The table holds the organisms in the order of the list; a test holds it to that.
        static TABLE: [GrowthLimits; 15] = GROWTH_LIMITS;
        &TABLE[self as usize]
    }
}

impl GrowthLimits {
    /// Which conditions of a food lie past the limits, each with its status. An empty list says nothing;
    /// a full one is no verdict, as long as no limit in it was read.
    #[must_use]
    pub fn hurdles(&self, food: &Conditions) -> Vec<Hurdle> {
        let mut found = Vec::new();
        if let Some(t) = food.temperature {
            if t.f() < self.min_f.value {
                found.push(Hurdle::Cold(self.min_f));
            }
            if t.f() > self.max_f.value {
                found.push(Hurdle::Hot(self.max_f));
            }
        }
        if let Some(a) = food.water_activity
            && a.aw() < self.min_aw.value
        {
            found.push(Hurdle::Dry(self.min_aw));
        }
        if let Some(ph) = food.ph {
            if ph.ph() < self.min_ph.value {
                found.push(Hurdle::Sour(self.min_ph));
            }
            if ph.ph() > self.max_ph.value {
                found.push(Hurdle::Alkaline(self.max_ph));
            }
        }
        if let Some(salt) = food.water_phase_salt
            && salt.pct() > self.max_wps_pct.value
        {
            found.push(Hurdle::Salt(self.max_wps_pct));
        }
        found
    }
}

/// Spans within which Listeria monocytogenes is reported to stop growing: °C, pH, water activity, each
/// least and most. They are wider and lower than the row of [`GROWTH_LIMITS`]; do not mix them.
///
/// # Source
/// [LISTERIA_LIMITS](sources::list::LISTERIA_LIMITS), read.
pub const LISTERIA_SPANS: [(f64, f64); 3] = [(-1.5, 3.0), (4.2, 4.3), (0.90, 0.93)];

/// One way of holding back non-proteolytic C. botulinum; the ways are alternatives, not equals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BotulinumAlternative {
    /// Colder than this, °C.
    ColderThanC(Limit),
    /// At least this water-phase salt, %.
    WaterPhaseSaltPct(Limit),
    /// Water activity below this, for more than ten days.
    WaterActivityBelow(Limit),
    /// pH below this, for more than ten days.
    PhBelow(Limit),
}

/// Ways of holding back non-proteolytic C. botulinum.
///
/// # Source
/// [FDA_FISH_13](sources::list::FDA_FISH_13) (cold, salt) and [CA_BOTULINUM](sources::list::CA_BOTULINUM)
/// (activity, pH), second-hand. 3.5 % salt alone is a water activity of 0.980, above 0.97.
pub const NON_PROTEOLYTIC_BOTULINUM: [BotulinumAlternative; 4] = [
    BotulinumAlternative::ColderThanC(Limit::second_hand(3.3)),
    BotulinumAlternative::WaterPhaseSaltPct(Limit::second_hand(3.5)),
    BotulinumAlternative::WaterActivityBelow(Limit::second_hand(0.97)),
    BotulinumAlternative::PhBelow(Limit::second_hand(5.0)),
];

/// Smoked whitefish kept at 27 °C with spores in it: no toxin was found up to a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WhitefishTrial {
    /// Water-phase salt, %.
    pub wps_pct: f64,
    /// Sodium nitrite, mg/kg.
    pub nitrite_mg_kg: f64,
    /// Days without toxin.
    pub days: f64,
}

/// The trial of J. Food Prot. 50:212, its abstract read. One fish, one temperature: an observation, no limit.
pub const WHITEFISH_TOXIN: [WhitefishTrial; 3] = [
    WhitefishTrial {
        wps_pct: 4.4,
        nitrite_mg_kg: 0.0,
        days: 35.0,
    },
    WhitefishTrial {
        wps_pct: 4.4,
        nitrite_mg_kg: 220.0,
        days: 56.0,
    },
    WhitefishTrial {
        wps_pct: 6.2,
        nitrite_mg_kg: 0.0,
        days: 83.0,
    },
];
