//! A kitchen large enough: machines and people grow with the number of components.

use std::fmt::Write as _;

/// Smoked components that share one smoker and one blast chiller.
const SMOKED_PER_SMOKER: usize = 3;

/// Supplier and the hour it comes.
pub(super) const DELIVERIES: &[(&str, &str)] = &[
    ("dry-goods", "2027-09-27T09:00"),
    ("meats", "2027-09-28T08:00"),
    ("fish", "2027-10-03T08:30"),
    ("produce", "2027-10-04T08:00"),
    ("dairy", "2027-10-06T08:00"),
];

/// Items bought by weight: supplier, item, price of a kilogram.
const BY_WEIGHT: &[(&str, &str, &str)] = &[
    ("produce", "lemon", "3.10"),
    ("produce", "dill", "36.00"),
    ("produce", "chives", "80.00"),
    ("dairy", "sour-cream", "5.80"),
    ("dairy", "buttermilk", "2.40"),
    ("dry-goods", "horseradish-prepared", "11.50"),
    ("dry-goods", "rapeseed-oil", "4.20"),
    ("dry-goods", "rye-bread", "9.00"),
    ("dry-goods", "wood-chips-alder", "3.00"),
    ("dry-goods", "wood-chips-apple", "3.40"),
    ("dry-goods", "vinegar-cider", "3.20"),
    ("dry-goods", "vinegar-wine-white", "4.10"),
    ("dry-goods", "sugar-white", "1.60"),
    ("dry-goods", "salt-table", "1.10"),
    ("dry-goods", "coriander-seed", "18.00"),
    ("dry-goods", "white-pepper", "32.00"),
    ("dry-goods", "juniper", "46.00"),
    ("dry-goods", "honey", "9.60"),
    ("dry-goods", "curing-salt-1", "9.00"),
];

/// The smoker of the `n`th smoked component, and its blast chiller, counted from 1.
pub(super) fn smoker(n: usize) -> usize {
    n / SMOKED_PER_SMOKER + 1
}

/// The file of the site.
pub(super) fn site(components: usize) -> String {
    let mut text = String::from(
        "site = \"great-kitchen\"\nname = \"Great kitchen\"\nzone = \"America/Toronto\"\ncurrency = \"$\"\nrules = \"us\"\n\
         plan-number = \"GK-01 (invented)\"\n\
         open = [ { days = \"Mon Tue Wed Thu Fri Sat Sun\", from = \"06:00\", to = \"23:00\" } ]\n\n\
         [[role]]\nid = \"cook\"\nrate = 28.00\n\n",
    );
    // Two kinds of seven are smoked.
    let smoked = components.div_ceil(7) * 2;
    for n in 1..=smoker(smoked) {
        machine(&mut text, &format!("smoker-{n}"), "20 kg", true);
        machine(&mut text, &format!("blast-chiller-{n}"), "20 kg", false);
    }
    let each = |per: usize, unit: &str| format!("{} {unit}", components * per + per);
    machine(&mut text, "tub-chiller", &each(1, "slots"), false);
    machine(&mut text, "walk-in", &each(12, "slots"), false);
    machine(&mut text, "cure-fridge", &each(12, "slots"), false);
    machine(&mut text, "fan-rack", &each(12, "slots"), false);
    machine(&mut text, "burners", &each(1, "places"), false);
    machine(&mut text, "oven", &each(1, "slots"), false);
    machine(
        &mut text,
        "slicer",
        &format!("{} places", components.div_ceil(7)),
        false,
    );
    text.push_str("[[scale]]\nname = \"bench scale\"\nresolution = \"1 g\"\ncapacity = \"60 kg\"\ncount = 6\n\n");
    text.push_str(
        "[[scale]]\nname = \"cure scale\"\nresolution = \"0.01 g\"\ncapacity = \"2 kg\"\n\n",
    );
    for (supplier, _) in DELIVERIES {
        let _ = write!(
            text,
            "[[supplier]]\nid = \"{supplier}\"\nname = \"{supplier}\"\ncut-off = {{ working-days-before = 1, at = \"11:00\" }}\nat = \"08:00\"\n\n"
        );
    }
    for (supplier, item, price) in BY_WEIGHT {
        offer(&mut text, supplier, item, &format!("per-kg = {price}"));
    }
    for (n, item) in super::recipes::VEGETABLES.iter().enumerate() {
        offer(
            &mut text,
            "produce",
            item,
            &format!("per-kg = {}.40\nstep = \"100 g\"", n % 5 + 2),
        );
    }
    for (n, item) in super::recipes::FISH.iter().enumerate() {
        offer(
            &mut text,
            "fish",
            item,
            &format!(
                "piece = \"1.8 kg\"\nper-kg = {}.50\nword = \"fish\"",
                n + 17
            ),
        );
    }
    for (n, item) in super::recipes::MEAT.iter().enumerate() {
        offer(
            &mut text,
            "meats",
            item,
            &format!("piece = \"1.2 kg\"\nper-kg = {}.90\nword = \"log\"", n + 8),
        );
    }
    text
}

fn machine(text: &mut String, id: &str, capacity: &str, one_load: bool) {
    let _ = write!(
        text,
        "[[machine]]\nid = \"{id}\"\nname = \"{id}\"\ncapacity = \"{capacity}\"\n"
    );
    if one_load {
        text.push_str("one-load-at-a-time = true\nchange-over = \"40 min\"\n");
    }
    text.push('\n');
}

fn offer(text: &mut String, supplier: &str, item: &str, price: &str) {
    let _ = write!(
        text,
        "[[offer]]\nsupplier = \"{supplier}\"\nitem = \"{item}\"\nspec = \"{item}\"\n{price}\n\n"
    );
}

/// The crews of the event: one cook for every four components early and as many late, and four more of each.
pub(super) fn crew(components: usize) -> String {
    let count = components.div_ceil(4) + 4;
    let mut text = String::new();
    for (id, from, to, stay) in [
        ("early", "06:00", "14:30", "17:00"),
        ("late", "12:00", "21:00", "22:30"),
    ] {
        let _ = write!(
            text,
            "[[crew]]\nid = \"{id}\"\ncount = {count}\nrole = \"cook\"\nskills = [\"slicer\"]\nshifts = [ {{ days = \"Mon Tue Wed Thu Fri Sat Sun\", \
             from = \"{from}\", to = \"{to}\", may-stay-to = \"{stay}\" }} ]\n\n"
        );
    }
    text
}
