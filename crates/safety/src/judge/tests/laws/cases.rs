//! What the laws are tried on: for every rule, values near its limits and steps near its gap.

use crate::history::Quantity;
use crate::judgement::Side;

/// A rule with what is good in it, values near its limits, and steps in time near its gap, minutes.
pub(super) struct Case {
    pub(super) name: &'static str,
    pub(super) good: Side,
    pub(super) values: &'static [f64],
    pub(super) steps: &'static [i64],
    /// Worse than this is outside what the rule speaks of: warmer than where its clock starts, colder than where it
    /// stops counting, beyond what can be read.
    pub(super) bound: f64,
    /// A worse reading is put only between two that are inside the bound already: the clock of a second stage starts where
    /// the first ends, and a reading that puts off that end gives the second stage its time anew.
    pub(super) inside: bool,
    /// Whether a reading may be made worse where it stands.
    pub(super) replace: bool,
    pub(super) quantity: Quantity,
    /// Whether the air is logged as humid throughout.
    pub(super) humid: bool,
}

pub(super) const HOURS: &[i64] = &[5, 10, 20, 29, 30, 30, 31, 45];
pub(super) const MINUTES: &[i64] = &[1, 2, 4, 5, 5, 6];
/// For days in a freezer or in the cold, under a gap of half a day: drawn rows are few.
pub(super) const DAYS: &[i64] = &[60, 300, 600, 719, 720, 720, 720, 721];

const fn most(name: &'static str, values: &'static [f64], steps: &'static [i64]) -> Case {
    Case {
        name,
        good: Side::AtMost,
        values,
        steps,
        bound: f64::INFINITY,
        inside: false,
        replace: true,
        quantity: Quantity::TemperatureC,
        humid: false,
    }
}

const fn least(name: &'static str, values: &'static [f64], steps: &'static [i64]) -> Case {
    Case {
        good: Side::AtLeast,
        bound: f64::NEG_INFINITY,
        ..most(name, values, steps)
    }
}

/// A fall whose clock starts at `bound`: warmer than that is no worse.
const fn fall(
    name: &'static str,
    bound: f64,
    inside: bool,
    values: &'static [f64],
    steps: &'static [i64],
) -> Case {
    Case {
        bound,
        inside,
        replace: false,
        ..most(name, values, steps)
    }
}

pub(super) const CASES: &[Case] = &[
    fall(
        "cooling",
        57.0,
        false,
        &[70.0, 57.0, 56.0, 40.0, 22.0, 21.0, 15.0, 6.0, 5.0, 3.0],
        HOURS,
    ),
    most(
        "ambient-cooling",
        &[20.0, 12.0, 6.0, 5.1, 5.0, 4.0, 3.0],
        HOURS,
    ),
    fall(
        "cool-smoked-fish",
        21.1,
        true,
        &[70.0, 60.0, 59.0, 40.0, 22.0, 21.0, 15.0, 5.0, 4.4, 3.0],
        HOURS,
    ),
    fall(
        "cool-smoked-fish-135",
        21.1,
        true,
        &[70.0, 57.3, 56.0, 40.0, 22.0, 21.0, 15.0, 5.0, 4.4, 3.0],
        HOURS,
    ),
    fall(
        "cool-fsis-1",
        26.6,
        true,
        &[70.0, 54.5, 53.0, 40.0, 27.0, 26.0, 15.0, 5.0, 4.4, 3.0],
        HOURS,
    ),
    fall(
        "cool-fsis-2",
        48.8,
        false,
        &[60.0, 48.9, 47.0, 27.0, 26.6, 20.0, 13.0, 12.7, 4.4, 3.0],
        HOURS,
    ),
    fall(
        "cool-fsis-3",
        26.6,
        true,
        &[70.0, 54.5, 53.0, 27.0, 26.6, 15.0, 8.0, 7.2, 3.0],
        DAYS,
    ),
    most("cold-hold", &[2.0, 4.0, 4.9, 5.0, 5.0, 5.1], HOURS),
    least("hot-hold", &[70.0, 60.0, 57.1, 57.0, 57.0, 56.9], HOURS),
    most("smoked-fish-hold", &[1.0, 3.0, 3.3, 3.3, 3.4], HOURS),
    most("thaw", &[-10.0, 0.0, 4.0, 5.0, 5.1], HOURS),
    most(
        "thaw-water",
        &[-5.0, 4.0, 5.0, 12.0, 20.0, 21.0, 21.1],
        HOURS,
    ),
    most("time-4h", &[3.0, 5.0, 5.1, 21.0], HOURS),
    most("time-6h", &[3.0, 5.0, 5.1, 20.0, 21.0, 21.1], HOURS),
    least("cook-intact", &[55.0, 62.8, 62.9, 63.0, 64.0], MINUTES),
    least(
        "cook-nonintact",
        &[55.0, 62.8, 65.0, 65.6, 68.4, 69.0],
        MINUTES,
    ),
    least("cook-poultry", &[60.0, 73.8, 74.0, 75.0], MINUTES),
    least("cook-roast", &[54.5, 57.0, 60.0, 62.0, 64.0, 68.0], MINUTES),
    Case {
        humid: true,
        ..least(
            "cook-inspected-meat",
            &[54.5, 57.0, 60.0, 62.0, 64.0, 68.0],
            MINUTES,
        )
    },
    Case {
        humid: true,
        ..least(
            "cook-inspected-poultry",
            &[60.0, 65.0, 66.0, 68.0, 71.0, 74.0],
            MINUTES,
        )
    },
    Case {
        bound: 5.0,
        ..least(
            "reheat",
            &[5.0, 20.0, 50.0, 73.9, 74.0, 74.0, 75.0],
            MINUTES,
        )
    },
    least(
        "fish-core",
        &[62.6, 63.0, 63.0, 63.1, 64.0, 64.0, 65.0],
        MINUTES,
    ),
    most("cold-smoke", &[8.0, 10.0, 10.1, 25.0, 32.2, 32.3], HOURS),
    least("listeria-6d", &[55.0, 60.0, 62.0, 65.0, 70.0], MINUTES),
    least("botulinum-6d", &[75.0, 80.0, 85.0, 90.0, 92.0], MINUTES),
    most(
        "freeze-parasites",
        &[-36.0, -35.0, -34.0, -21.0, -20.0, -20.5, -19.0],
        DAYS,
    ),
    Case {
        bound: 57.2,
        ..most(
            "exposure-raw",
            &[5.0, 10.0, 10.1, 20.0, 21.0, 21.2, 30.0],
            HOURS,
        )
    },
    Case {
        bound: 57.2,
        ..most(
            "exposure-cooked",
            &[5.0, 10.0, 10.1, 21.0, 21.2, 26.6, 26.7],
            HOURS,
        )
    },
    most(
        "exposure-listeria",
        &[-1.0, 4.0, 5.1, 10.0, 21.2, 30.1],
        HOURS,
    ),
    most("exposure-salmonella", &[4.0, 10.0, 10.1, 21.2], HOURS),
    most("exposure-staph", &[9.0, 10.1, 21.0, 21.2], HOURS),
    most("exposure-botulinum", &[2.0, 5.1, 10.1, 21.2], DAYS),
    most("histamine", &[2.0, 4.4, 4.5, 12.0, 21.1, 21.2], HOURS),
    most("histamine-frozen", &[2.0, 4.4, 4.5, 12.0, 21.1, 21.2], DAYS),
    Case {
        quantity: Quantity::Ph,
        bound: 14.0,
        ..most("ph", &[3.8, 4.0, 4.1, 4.2, 4.2, 4.3, 4.6, 4.7], HOURS)
    },
];

/// Rules whose rows were read in no place asked about here, so that they never show.
pub(super) const NEVER_SHOWN: &[&str] = &[
    "cool-smoked-fish",
    "cool-smoked-fish-135",
    "cool-fsis-1",
    "cool-fsis-2",
    "cool-fsis-3",
    "time-6h",
    "listeria-6d",
    "exposure-raw",
    "exposure-cooked",
    "exposure-listeria",
    "exposure-salmonella",
    "exposure-staph",
    "exposure-botulinum",
    "histamine",
    "histamine-frozen",
];
