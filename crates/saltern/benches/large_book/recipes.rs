//! The seven kinds of recipe a large book is made of.

use super::dice::Dice;
use super::site::smoker;
use super::{Feast, Made};

/// Fish of the shipped table that are cured and smoked.
pub(super) const FISH: &[&str] = &[
    "arctic-char",
    "salmon-atlantic-farmed",
    "salmon-coho-farmed",
    "trout-rainbow-farmed",
    "trout-brook",
];
/// Meat of the shipped table that is brined and smoked.
pub(super) const MEAT: &[&str] = &["pork-shoulder", "pork-loin", "pork-leg", "pork-belly"];
/// Vegetables of the shipped table that are pickled or cut.
pub(super) const VEGETABLES: &[&str] = &[
    "fennel-bulb",
    "kohlrabi",
    "cauliflower",
    "daikon",
    "cucumber",
    "onion-red",
    "carrot",
    "beet",
    "celeriac",
    "radish",
];

/// Kinds that take turns.
const KINDS: usize = 7;

/// The `n`th recipe.
pub(super) fn recipe(n: usize, feast: Feast, dice: &mut Dice) -> Made {
    let turn = n / KINDS;
    match n % KINDS {
        0 => smoked_fish(n, turn, dice),
        1 => pickle(n, dice),
        2 => smoked_meat(n, turn, dice),
        3 => ribbons(n, feast.ribbons_hours_too_soon, dice),
        4 => crisps(n, dice),
        5 => cured_fish(n, turn, dice),
        _ => dressing(n, dice),
    }
}

fn one_of(list: &[&'static str], n: usize) -> &'static str {
    list[n % list.len()]
}

fn smoked_fish(n: usize, turn: usize, dice: &mut Dice) -> Made {
    let id = format!("smoked-fish-{n}");
    let fish = one_of(FISH, turn);
    let at = smoker(turn * 2);
    let salt = dice.between(230, 280);
    let yielded = dice.between(60, 64);
    let text = format!(
        r#"recipe  = "{id}"
name    = "Smoked fish {n}"
surplus = "through"
keeps   = {{ days = 7, from = "chill", at = "<= 5 °C" }}
product = {{ class = "smoked-fish", species = "{fish}", pack = "air" }}

[[step]]
id    = "receive"
do    = "receive"
what  = "Receive on ice: count, weigh, temperature, lot"
takes = {{ item = "{fish}", piece = "1.8 kg" }}
hands = {{ setup = "25 min" }}
wait  = {{ min = "5 min", max = "90 min", at = "<= 4 °C" }}

[[step]]
id    = "fillet"
do    = "fillet"
what  = "Fillet and pin-bone; keep on ice"
after = "receive"
yield = {{ mean = 0.{yielded}, source = "practice" }}
hands = {{ setup = "5 min", each = "5 min", people = 2 }}
wait  = {{ min = "10 min", max = "3 h", at = "<= 4 °C" }}

[[step]]
id    = "cure"
do    = "dry-cure"
what  = "Weigh the fillets, weigh the mix, cure on trays"
after = "fillet"
base  = "skin-on fillet"
mix   = [
  {{ item = "salt-table",     of-base = "{whole}.{part:02} %" }},
  {{ item = "sugar-white",    of-base = "1.50 %" }},
  {{ item = "coriander-seed", of-base = "0.20 %" }},
  {{ item = "white-pepper",   of-base = "0.10 %" }},
]
piece = {{ shape = "slab", thickness = "25 mm", open-faces = 1 }}
keeps = {{ salt = "80 %" }}
yield = {{ mean = 0.95, source = "practice" }}
hands = {{ setup = "5 min", per-kg = "1 min 30 s", people = 2 }}
wait  = {{ min = "18 h", best = "22 h 20 min", max = "26 h", by-thickness = true, at = "<= 3 °C" }}
uses  = [ {{ machine = "cure-fridge", slots-per = "4 kg", during = "wait" }} ]

[[step]]
id    = "rinse"
do    = "rinse"
what  = "Rinse, pat dry, rack"
after = "cure"
hands = {{ setup = "5 min", per-kg = "1 min 30 s", people = 2 }}
wait  = "at once"

[[step]]
id    = "pellicle"
do    = "air-dry"
what  = "Dry in moving cold air until tacky"
after = "rinse"
yield = {{ mean = 0.98, source = "practice" }}
wait  = {{ min = "3 h", max = "30 h", at = "<= 3 °C" }}
uses  = [ {{ machine = "fan-rack", slots-per = "4 kg", during = "wait" }} ]

[[step]]
id    = "smoke"
do    = "hot-smoke"
what  = "Load in one layer, probe the thickest; dry, smoke, ramp, hold"
after = "pellicle"
yield = {{ mean = 0.85, source = "practice" }}
mix   = [ {{ item = "wood-chips-alder", per-load = "600 g" }} ]
hands = {{ setup = "7 min 30 s", per-kg = "30 s", people = 2 }}
programme = [
  {{ what = "dry",   air = "33 °C", for = "30 min" }},
  {{ what = "smoke", air = "50 °C", for = "60 min", smoke = true }},
  {{ what = "ramp",  air = "82 °C", for = "75 min", by-thickness = true }},
  {{ what = "hold",  air = "82 °C", for = "30 min" }},
]
until  = {{ core = "63 °C", hold = "30 min" }}
rounds = {{ what = "read cabinet and core, log", every = "30 min", first = "0 min", at-end = true, hands = "2 min", give = "10 min" }}
wait   = "at once"
uses   = [ {{ machine = "smoker-{at}", by = "mass", during = "run" }} ]
keeps  = {{ rest = "0 %" }}

[[step]]
id    = "chill"
do    = "chill"
what  = "Unload, blast to 5 °C or below"
after = "smoke"
loads = "as before"
hands = {{ setup = "8 min" }}
programme = [ {{ what = "blast", air = "-5 °C", for = "75 min" }} ]
wait  = {{ min = "0 min", max = "5 d", at = "<= 5 °C" }}
uses  = [ {{ machine = "blast-chiller-{at}", by = "mass", during = "run" }}, {{ machine = "walk-in", slots-per = "4 kg", during = "wait" }} ]

[[step]]
id    = "flake"
do    = "carve"
what  = "Skin, flake, check for bones"
after = "chill"
yield = {{ mean = 0.90, source = "practice" }}
hands = {{ setup = "5 min", per-kg = "4 min", people = 2 }}
wait  = {{ min = "0 min", max = "8 h", at = "<= 5 °C" }}
uses  = [ {{ machine = "walk-in", slots-per = "4 kg", during = "wait" }} ]
"#,
        whole = salt / 100,
        part = salt % 100,
    );
    let hour = dice.between(9, 12);
    Made {
        id,
        text,
        portion_g: dice.between(16, 24),
        prefers: vec![
            ("smoke", format!("2027-10-05T{hour:02}:00")),
            (
                "flake",
                format!("2027-10-07T{:02}:30", dice.between(10, 14)),
            ),
        ],
    }
}

fn pickle(n: usize, dice: &mut Dice) -> Made {
    let id = format!("pickle-{n}");
    let item = one_of(VEGETABLES, n / KINDS);
    let sugar = dice.between(8, 18);
    let text = format!(
        r#"recipe  = "{id}"
name    = "Pickle {n}"
keeps   = {{ days = 7, from = "pickle", at = "<= 5 °C" }}
product = {{ class = "cold-pickle" }}

[[step]]
id    = "shave"
do    = "trim"
what  = "Trim, shave thin"
takes = {{ item = "{item}" }}
yield = {{ mean = 0.75, source = "practice" }}
hands = {{ setup = "4 min", per-kg = "4 min", people = 2 }}
wait  = {{ min = "0 min", max = "2 h" }}

[[step]]
id    = "pickle"
do    = "pickle"
what  = "Brew the liquor, pour hot, press under"
after = "shave"
base  = "final liquor"
base-is = "cover"
ratio = 1.0
make-in = "50 g"
mix   = [
  {{ item = "vinegar-cider",  of-base = "52 %" }},
  {{ item = "water",          of-base = "{water} %", boils-off = "3 %" }},
  {{ item = "sugar-white",    of-base = "{sugar} %" }},
  {{ item = "salt-table",     of-base = "3 %" }},
  {{ item = "coriander-seed", of-base = "0.4 %" }},
]
yield = {{ mean = 0.97, source = "practice" }}
hands = {{ setup = "20 min" }}
uses  = [ {{ machine = "burners", fixed = 1, during = "hands" }} ]
wait  = "at once"

[[step]]
id    = "cool"
do    = "chill"
what  = "Shallow tubs, ice bath, then blast to 5 °C or below"
after = "pickle"
programme = [ {{ what = "cool", air = "-5 °C", for = "60 min" }} ]
uses  = [ {{ machine = "tub-chiller", fixed = 3, during = "run" }}, {{ machine = "walk-in", fixed = 2, during = "wait" }} ]
wait  = {{ min = "24 h", max = "6 d", at = "<= 5 °C" }}
"#,
        water = 45 - sugar,
    );
    Made {
        id,
        text,
        portion_g: dice.between(12, 22),
        prefers: vec![(
            "shave",
            format!(
                "2027-10-0{}T{:02}:15",
                dice.between(4, 5),
                dice.between(9, 15)
            ),
        )],
    }
}

fn smoked_meat(n: usize, turn: usize, dice: &mut Dice) -> Made {
    let id = format!("smoked-meat-{n}");
    let meat = one_of(MEAT, turn);
    let at = smoker(turn * 2 + 1);
    let text = format!(
        r#"recipe  = "{id}"
name    = "Smoked meat {n}"
surplus = "through"
keeps   = {{ days = 7, from = "chill", at = "<= 5 °C" }}
product = {{ class = "immersed-meat", species = "pork", pack = "air" }}

[[step]]
id    = "trim"
do    = "trim"
what  = "Trim loose fat, tie into even logs, weigh each"
takes = {{ item = "{meat}", piece = "1.2 kg" }}
yield = {{ mean = 0.92, source = "practice" }}
hands = {{ setup = "8 min", each = "4 min", people = 2 }}
wait  = {{ min = "0 min", max = "4 h", at = "<= 5 °C" }}

[[step]]
id    = "brine"
do    = "brine"
what  = "Lay under the cold brine, weight down, turn daily"
after = "trim"
base  = "green weight"
mix   = [
  {{ item = "water",         of-base = "50 %" }},
  {{ item = "salt-table",    of-base = "2.60 %" }},
  {{ item = "curing-salt-1", of-base = "0.30 %" }},
  {{ item = "sugar-white",   of-base = "1.20 %" }},
]
piece = {{ shape = "cylinder", thickness = "80 mm", open-faces = 2 }}
keeps = {{ salt = "68 %", sugar = "68 %" }}
yield = {{ mean = 1.06, source = "practice" }}
hands = {{ setup = "10 min", per-kg = "1 min" }}
wait  = {{ min = "72 h", best = "96 h", max = "144 h", by-thickness = true, at = "<= 3 °C" }}
uses  = [ {{ machine = "cure-fridge", slots-per = "8 kg", during = "wait" }} ]

[[step]]
id    = "dry"
do    = "air-dry"
what  = "Rinse, pat dry, net, dry in moving cold air"
after = "brine"
yield = {{ mean = 0.98, source = "practice" }}
hands = {{ setup = "6 min", each = "2 min", people = 2 }}
wait  = {{ min = "2 h", best = "12 h", max = "48 h", at = "<= 4 °C" }}
uses  = [ {{ machine = "fan-rack", slots-per = "6 kg", during = "wait" }} ]

[[step]]
id    = "smoke"
do    = "hot-smoke"
what  = "Hang one load, probe the thickest log; dry, smoke, cook to core"
after = "dry"
yield = {{ mean = 0.80, source = "practice" }}
mix   = [ {{ item = "wood-chips-apple", per-load = "900 g" }}, {{ item = "honey", of-base = "1.5 %" }} ]
base  = "brined weight"
hands = {{ setup = "10 min", per-kg = "30 s", people = 2 }}
programme = [
  {{ what = "dry",   air = "55 °C", for = "60 min" }},
  {{ what = "smoke", air = "68 °C", for = "150 min", smoke = true }},
  {{ what = "cook",  air = "85 °C", for = "150 min", by-thickness = true }},
]
until  = {{ core = "68 °C", hold = "1 min" }}
rounds = {{ what = "new chips, brush with honey, read the core", every = "2 h", hands = "5 min", give = "15 min" }}
keeps  = {{ rest = "0 %" }}
wait   = "at once"
uses   = [ {{ machine = "smoker-{at}", by = "mass", during = "run" }} ]

[[step]]
id    = "chill"
do    = "chill"
what  = "Unload, spread, blast: 21 °C within 2 h, 5 °C within 6 h"
after = "smoke"
loads = "as before"
yield = {{ mean = 0.985, source = "practice" }}
hands = {{ setup = "5 min" }}
programme = [ {{ what = "blast", air = "-5 °C", for = "100 min" }} ]
uses  = [ {{ machine = "blast-chiller-{at}", by = "mass", during = "run" }}, {{ machine = "walk-in", slots-per = "8 kg", during = "wait" }} ]
wait  = {{ min = "0 min", max = "5 d", at = "<= 5 °C" }}

[[step]]
id    = "slice"
do    = "carve"
what  = "Slice 2 mm on the machine, lay out, cover"
after = "chill"
yield = {{ mean = 0.94, source = "practice" }}
hands = {{ setup = "10 min", per-kg = "3 min", skill = "slicer" }}
uses  = [ {{ machine = "slicer", fixed = 1, during = "hands" }}, {{ machine = "walk-in", slots-per = "4 kg", during = "wait" }} ]
wait  = {{ min = "0 min", max = "1 d", at = "<= 5 °C" }}
"#
    );
    Made {
        id,
        text,
        portion_g: dice.between(16, 24),
        prefers: vec![("smoke", format!("2027-10-03T{:02}:30", dice.between(7, 9)))],
    }
}

fn ribbons(n: usize, hours_too_soon: u32, dice: &mut Dice) -> Made {
    let id = format!("ribbons-{n}");
    let item = one_of(VEGETABLES, n / KINDS + 1);
    let text = format!(
        r#"recipe = "{id}"
name   = "Ribbons {n}"
product = {{ class = "ready-cold" }}

[[step]]
id    = "wash"
do    = "wash"
what  = "Wash, drain"
takes = {{ item = "{item}" }}
yield = {{ mean = 0.98, source = "practice" }}
hands = {{ setup = "5 min", per-kg = "1 min" }}
wait  = {{ min = "0 min", max = "8 h", at = "<= 5 °C" }}

[[step]]
id    = "peel"
do    = "trim"
what  = "Peel"
after = "wash"
yield = {{ mean = 0.8, source = "practice" }}
hands = {{ setup = "5 min", per-kg = "3 min", people = 2 }}
wait  = {{ min = "0 min", max = "4 h", at = "<= 5 °C" }}

[[step]]
id    = "ribbons"
do    = "cut"
what  = "Plane into ribbons, into iced water"
after = "peel"
yield = {{ mean = 0.88, source = "practice" }}
hands = {{ setup = "4 min", per-kg = "5 min", people = 3 }}
uses  = [ {{ machine = "walk-in", fixed = 2, during = "wait" }} ]
wait  = {{ min = "0 min", max = "4 h", at = "<= 5 °C", relief = {{ what = "Drain the ribbons, hold damp at 5 °C or below", hands = "4 min", then-max = "2 h" }} }}
"#
    );
    Made {
        id,
        text,
        portion_g: dice.between(10, 18),
        prefers: vec![(
            "ribbons",
            format!("2027-10-07T{:02}:20", dice.between(14, 16) - hours_too_soon),
        )],
    }
}

fn crisps(n: usize, dice: &mut Dice) -> Made {
    let id = format!("crisps-{n}");
    let baked = dice.between(18, 26);
    let text = format!(
        r#"recipe = "{id}"
name   = "Crisps {n}"
product = {{ class = "ready-cold" }}

[[step]]
id    = "slice"
do    = "cut"
what  = "Trim the ends, slice 2 mm"
takes = {{ item = "rye-bread" }}
yield = {{ mean = 0.90, source = "practice" }}
hands = {{ setup = "8 min", per-kg = "3 min" }}
wait  = {{ min = "0 min", max = "2 h" }}

[[step]]
id    = "bake"
do    = "cook"
what  = "Bake between trays until dry"
after = "slice"
yield = {{ mean = 0.68, source = "practice" }}
hands = {{ setup = "10 min" }}
programme = [ {{ what = "bake", air = "150 °C", for = "{baked} min" }} ]
uses  = [ {{ machine = "oven", fixed = 2, during = "run" }} ]
wait  = {{ min = "0 min", max = "1 h" }}

[[step]]
id    = "sort"
do    = "keep"
what  = "Cool, sort out the broken, box dry"
after = "bake"
yield = {{ mean = 0.95, source = "practice" }}
wait  = {{ min = "20 min", max = "3 d" }}
"#
    );
    Made {
        id,
        text,
        portion_g: dice.between(6, 10),
        prefers: vec![("slice", format!("2027-10-06T{:02}:00", dice.between(8, 16)))],
    }
}

fn cured_fish(n: usize, turn: usize, dice: &mut Dice) -> Made {
    let id = format!("cured-fish-{n}");
    let fish = one_of(FISH, turn + 2);
    let salt = dice.between(28, 34);
    let text = format!(
        r#"recipe  = "{id}"
name    = "Cured fish {n}"
surplus = "through"
keeps   = {{ days = 5, from = "rinse", at = "<= 5 °C" }}
product = {{ class = "smoked-fish", species = "{fish}", pack = "air" }}

[[step]]
id    = "fillet"
do    = "fillet"
what  = "Fillet and pin-bone; keep on ice"
takes = {{ item = "{fish}", piece = "1.8 kg" }}
yield = {{ mean = 0.62, source = "practice" }}
hands = {{ setup = "5 min", each = "5 min", people = 2 }}
wait  = {{ min = "0 min", max = "3 h", at = "<= 4 °C" }}

[[step]]
id    = "cure"
do    = "dry-cure"
what  = "Weigh, rub, press under weight"
after = "fillet"
base  = "skin-on fillet"
mix   = [
  {{ item = "salt-table",  of-base = "{whole}.{part} %" }},
  {{ item = "sugar-white", of-base = "2.50 %" }},
  {{ item = "juniper",     of-base = "0.20 %" }},
  {{ item = "dill", form = "leaf", of-base = "3 %", trim = 0.50 }},
]
piece = {{ shape = "slab", thickness = "25 mm", open-faces = 1 }}
keeps = {{ salt = "85 %" }}
yield = {{ mean = 0.92, source = "practice" }}
hands = {{ setup = "8 min", per-kg = "2 min", people = 2 }}
wait  = {{ min = "36 h", best = "46 h", max = "60 h", by-thickness = true, at = "<= 3 °C" }}
uses  = [ {{ machine = "cure-fridge", slots-per = "4 kg", during = "wait" }} ]

[[step]]
id    = "rinse"
do    = "rinse"
what  = "Rinse, pat dry, rack"
after = "cure"
hands = {{ setup = "5 min", per-kg = "1 min 30 s", people = 2 }}
wait  = {{ min = "2 h", max = "2 d", at = "<= 3 °C" }}
uses  = [ {{ machine = "fan-rack", slots-per = "4 kg", during = "wait" }} ]

[[step]]
id    = "slice"
do    = "carve"
what  = "Slice on the bias, lay out, cover"
after = "rinse"
yield = {{ mean = 0.88, source = "practice" }}
hands = {{ setup = "8 min", per-kg = "6 min", people = 3 }}
wait  = {{ min = "0 min", max = "12 h", at = "<= 5 °C" }}
uses  = [ {{ machine = "walk-in", slots-per = "4 kg", during = "wait" }} ]
"#,
        whole = salt / 10,
        part = salt % 10,
    );
    Made {
        id,
        text,
        portion_g: dice.between(16, 24),
        prefers: vec![("slice", format!("2027-10-07T{:02}:00", dice.between(8, 13)))],
    }
}

fn dressing(n: usize, dice: &mut Dice) -> Made {
    let id = format!("dressing-{n}");
    let cream = dice.between(34, 42);
    let text = format!(
        r#"recipe  = "{id}"
name    = "Dressing {n}"
keeps   = {{ days = 3, from = "mix", at = "<= 5 °C" }}
product = {{ class = "ready-cold" }}

[[step]]
id    = "mix"
do    = "mix"
what  = "Whisk cold, chives last"
base  = "finished"
base-is = "made"
make-in = "100 g"
mix   = [
  {{ item = "sour-cream",           of-base = "{cream} %" }},
  {{ item = "buttermilk",           of-base = "{milk} %" }},
  {{ item = "horseradish-prepared", of-base = "10 %" }},
  {{ item = "vinegar-cider",        of-base = "4 %" }},
  {{ item = "rapeseed-oil",         of-base = "6 %" }},
  {{ item = "salt-table",           of-base = "0.8 %" }},
  {{ item = "sugar-white",          of-base = "0.7 %" }},
  {{ item = "chives",               of-base = "0.5 %" }},
]
yield = {{ mean = 0.95, source = "practice" }}
hands = {{ setup = "15 min", per-kg = "1 min" }}
uses  = [ {{ machine = "walk-in", fixed = 1, during = "wait" }} ]
wait  = {{ min = "0 min", max = "3 d", at = "<= 5 °C" }}
"#,
        milk = 78 - cream,
    );
    Made {
        id,
        text,
        portion_g: dice.between(10, 16),
        prefers: vec![("mix", format!("2027-10-06T{:02}:30", dice.between(9, 15)))],
    }
}
