//! Words for what is heated or cooled, and for what it stands in.

use plan::ask::Refusal;
use plan::ask::warmth::Matter;
use science::heat::Surroundings;
use science::thermal_properties::Percent;

use super::read;

/// Places to stand in, by their word.
const PLACES: &[(&str, Surroundings)] = &[
    ("fridge", Surroundings::StillFridge),
    ("fan-fridge", Surroundings::FanFridge),
    ("blast", Surroundings::Blast),
    ("ice-bath", Surroundings::StillIceWater),
    ("stirred-ice-bath", Surroundings::StirredIceWater),
    ("smoker", Surroundings::NaturalSmokehouse),
    ("fan-smoker", Surroundings::ForcedSmokehouse),
];

/// What it stands in.
pub(super) fn surroundings(entry: &str, word: &str) -> Result<Surroundings, Refusal> {
    let found = PLACES.iter().find(|(name, _)| *name == word.trim());
    found.map(|(_, s)| *s).ok_or_else(|| {
        let names: Vec<&str> = PLACES.iter().map(|(name, _)| *name).collect();
        Refusal::new(
            format!("{entry}: found \"{word}\""),
            names.join(", "),
            "write one of them",
        )
    })
}

/// What it is: a word, or a row such as "water 70 %, protein 20 %, fat 9 %, ash 1 %".
pub(super) fn matter(entry: &str, text: &str) -> Result<Matter, Refusal> {
    match text.trim() {
        "trout" | "char" => return Ok(Matter::Trout),
        "salmon" => return Ok(Matter::Salmon),
        "water" => return Ok(Matter::Water),
        _ => {}
    }
    let mut row = Percent::default();
    for part in text.split(',') {
        let wrong = || {
            Refusal::new(
                format!("{entry}: found \"{}\"", part.trim()),
                "trout, salmon, water, or a row such as \"water 70 %, protein 20 %, fat 9 %, ash 1 %\"",
                "write one of them",
            )
        };
        let (name, pct) = part.trim().split_once(' ').ok_or_else(wrong)?;
        let pct = read::percent(entry, pct)?;
        let place = match name {
            "water" => &mut row.water,
            "protein" => &mut row.protein,
            "fat" => &mut row.fat,
            "carbohydrate" => &mut row.carbohydrate,
            "fibre" => &mut row.fibre,
            "ash" => &mut row.ash,
            _ => return Err(wrong()),
        };
        *place = pct;
    }
    Ok(Matter::Row(row))
}
