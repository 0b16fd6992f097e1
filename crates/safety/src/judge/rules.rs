//! The rules a history can be held against, by name.

use super::{Refusal, Terms};
use crate::history::History;
use crate::judgement::Judgement;

/// A rule that can be asked for by name.
pub type Judge = fn(&History, &Terms) -> Result<Judgement, Refusal>;

/// Rules by the name they are asked for, with what each asks, in the order they are listed.
pub const RULES: &[(&str, &str, Judge)] = &[
    (
        "cooling",
        "cooked food cooled in two stages; every probe in a core",
        super::cooling,
    ),
    (
        "ambient-cooling",
        "cold food made from ingredients at room temperature, cold within 4 h",
        super::ambient_cooling,
    ),
    (
        "cool-smoked-fish",
        "smoked fish cooled from 140 °F, the second stage 4 h more",
        super::cool_smoked_fish,
    ),
    (
        "cool-smoked-fish-135",
        "the same by the text whose clock starts at 135 °F",
        super::cool_smoked_fish_135,
    ),
    (
        "cool-fsis-1",
        "cooked meat cooled by option 1 of federal inspection",
        super::cool_fsis_1,
    ),
    (
        "cool-fsis-2",
        "cooked meat cooled by option 2; chilling starts within 90 min of the cook",
        super::cool_fsis_2,
    ),
    (
        "cool-fsis-3",
        "cured cooked meat cooled by option 3; 100 ppm of nitrite or more went in",
        super::cool_fsis_3,
    ),
    ("cold-hold", "held cold", super::cold_hold),
    ("hot-hold", "held hot", super::hot_hold),
    (
        "smoked-fish-hold",
        "smoked fish held at 38 °F (3.3 °C) to the guest; the law of three states",
        super::smoked_fish_hold,
    ),
    ("thaw", "thawed in the cold", super::thaw),
    (
        "thaw-water",
        "thawed in running water, raw, 4 h in all",
        super::thaw_in_water,
    ),
    (
        "time-4h",
        "four hours without temperature control",
        super::time_4h,
    ),
    (
        "time-6h",
        "six hours without temperature control, never above 21 °C",
        super::time_6h,
    ),
    (
        "cook-intact",
        "fish and intact meat cooked",
        super::cook_intact,
    ),
    (
        "cook-nonintact",
        "minced, injected or tenderised meat and fish cooked",
        super::cook_nonintact,
    ),
    (
        "cook-poultry",
        "poultry, game and stuffed food cooked",
        super::cook_poultry,
    ),
    (
        "cook-roast",
        "a whole roast cooked by time and temperature; not fish",
        super::cook_roast,
    ),
    (
        "cook-inspected-meat",
        "meat by the tables of federal inspection, with come-up and humid air; not fish",
        super::inspected_meat,
    ),
    (
        "cook-inspected-poultry",
        "poultry by the tables of federal inspection, any bird and fat; not fish",
        super::inspected_poultry,
    ),
    (
        "reheat",
        "reheated to be held hot, within 2 h",
        super::reheat,
    ),
    (
        "fish-core",
        "hot-smoked fish: core held 30 min without a break",
        super::fish_core,
    ),
    (
        "cold-smoke",
        "cold smoking: ceiling of the chamber and hours",
        super::cold_smoke,
    ),
    (
        "listeria-6d",
        "a core worth 2 min at 70 °C: a million times fewer Listeria",
        super::listeria_6d,
    ),
    (
        "botulinum-6d",
        "a core worth 10 min at 90 °C: a million times fewer non-proteolytic botulinum spores",
        super::botulinum_6d,
    ),
    (
        "freeze-parasites",
        "fish frozen against parasites",
        super::freeze_parasites,
    ),
    (
        "exposure-raw",
        "raw ready-to-eat food: hours above 50 and above 70 °F",
        super::exposure_raw,
    ),
    (
        "exposure-cooked",
        "cooked ready-to-eat food after its cooling: the hotter, the shorter",
        super::exposure_cooked,
    ),
    (
        "exposure-listeria",
        "hours above each temperature of the table, Listeria",
        |h, t| super::exposure_of("exposure-listeria", "Listeria monocytogenes", h, t),
    ),
    (
        "exposure-salmonella",
        "hours above each temperature of the table, Salmonella",
        |h, t| super::exposure_of("exposure-salmonella", "Salmonella", h, t),
    ),
    (
        "exposure-staph",
        "hours above each temperature of the table, S. aureus and its toxin",
        |h, t| super::exposure_of("exposure-staph", "S. aureus growth+toxin", h, t),
    ),
    (
        "exposure-botulinum",
        "hours above each temperature of the table, non-proteolytic C. botulinum; packed without oxygen",
        |h, t| {
            super::exposure_of(
                "exposure-botulinum",
                "C. botulinum E + non-proteolytic B,F",
                h,
                t,
            )
        },
    ),
    (
        "histamine",
        "fish that forms histamine, never frozen: hours above 40 °F",
        super::histamine,
    ),
    (
        "histamine-frozen",
        "the same, frozen before",
        super::histamine_frozen,
    ),
    (
        "ph",
        "a log of pH once even, at or below the target of 4.2, by a checked meter",
        super::ph,
    ),
];

/// The rule of this name.
#[must_use]
pub fn find(name: &str) -> Option<Judge> {
    RULES
        .iter()
        .find(|(n, _, _)| *n == name)
        .map(|(_, _, judge)| *judge)
}
