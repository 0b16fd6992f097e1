//! How much of this dressing is oil, what is in its water, how far can it go, and how is it mended?

mod drawn;

pub use drawn::picture;

use science::emulsion::{
    Body, CLOSEST_PACKING, DENSITIES, MAYONNAISE_YOLK, OilVolume, WateryPart, oil_to_add,
    rescue_yolk, watery_to_add,
};
use science::yields::Yield;
use sources::list;
use units::{Density, Mass, Volume};

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::{Sheet, weight_places};

/// Most oil, percent of the volume: the closest packing of equal balls, 74.05 %, told as 74.
const MOST_OIL_PCT: f64 = 74.0;
/// Density of the watery part, g/mL; house value between water and vinegar.
const WATERY_G_ML: f64 = 1.01;
/// Water of yolk and its density; from memory.
const YOLK_WATER_PCT: f64 = 52.0;
const YOLK_G_ML: f64 = 1.03;
/// Water to start a rescue with, of the weight of its yolk; common practice, no source.
const RESCUE_WATER_OF_YOLK: f64 = 0.5;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Emulsion {
    /// Oil.
    pub oil: Mass,
    /// Water, stock, juice: everything watery without acid of its own.
    pub aqueous: Mass,
    /// Yolk.
    pub yolk: Mass,
    /// Vinegar.
    pub vinegar: Mass,
    /// Acid of the vinegar, percent.
    pub acid_pct: f64,
    /// Salt.
    pub salt: Mass,
    /// Sugar.
    pub sugar: Mass,
    /// Density of the oil, weighed; nothing for the middle of the oils known.
    pub oil_density: Option<Density>,
    /// Whether the most oil is what is looked for.
    pub most_oil: bool,
}

/// Answers it.
///
/// # Errors
/// No oil, or nothing watery.
pub fn emulsion(ask: &Emulsion) -> Result<Answer, Refusal> {
    let watery_g = ask.aqueous.g() + ask.vinegar.g();
    if ask.oil <= Mass::ZERO || watery_g + ask.yolk.g() <= 0.0 {
        return Err(Refusal::new(
            format!(
                "found {} of oil and {} of everything watery",
                ask.oil,
                Mass::grams(watery_g + ask.yolk.g())?
            ),
            "some of both",
            "weigh them",
        ));
    }
    let mut sheet = Sheet::default();
    enter(ask, &mut sheet);
    let oil_density = oil_density(ask, &mut sheet)?;
    let oil = oil_density.volume_of(ask.oil);
    let watery = Volume::millilitres(watery_g / WATERY_G_ML + ask.yolk.g() / YOLK_G_ML)?;
    sheet.worked(
        "oil.volume",
        oil.ml(),
        "mL",
        1,
        "oil ÷ its density",
        &["oil", "oil.density"],
    );
    let parts = parts(ask);
    let mut from = vec!["watery.density"];
    from.extend(parts.iter().copied());
    if ask.yolk > Mass::ZERO {
        from.push("yolk.density");
    }
    sheet.known(
        "watery.density",
        WATERY_G_ML,
        "g/mL",
        &list::HOUSE,
        "between water and vinegar",
    );
    sheet.worked(
        "watery.volume",
        watery.ml(),
        "mL",
        1,
        "weights ÷ densities; yolk counts as watery",
        &from,
    );
    let share = OilVolume::of_volumes(oil, watery)?;
    let volumes = ["oil.volume", "watery.volume"];
    sheet.worked(
        "share",
        share.share() * 100.0,
        "%",
        1,
        "oil ÷ (oil + watery), by volume",
        &volumes,
    );
    sheet.figures.of("share", "volume");
    sheet.known(
        "most",
        MOST_OIL_PCT,
        "%",
        &list::COMPUTED,
        "closest packing of equal balls, π ÷ (3 √2)",
    );
    let most = volume_left(oil, watery, oil_density, &mut sheet)?;
    let mut details = water_phase(ask, &mut sheet)?;
    details.push(most);
    details.extend(yolk_habit(ask, &mut sheet)?);
    details.push(String::new());
    details.extend(rescue(oil, &mut sheet)?);
    let (word, next) = told(share, oil, watery, &mut sheet)?;
    let (answer, main) = if ask.most_oil {
        let most = format!(
            "{} oil  is the most this water carries, at {} by volume",
            sheet.show("oil.most"),
            sheet.show("most")
        );
        (most, "oil.most")
    } else {
        (
            format!("{} oil by volume  {word}", sheet.show("share")),
            "share",
        )
    };
    Ok(Answer {
        question: "emulsion",
        answer,
        limit: limit(share, &sheet),
        next,
        details,
        small: small(ask),
        verdict: None,
        main,
        figures: sheet.figures,
    })
}

/// Ids of the watery things there are.
fn parts(ask: &Emulsion) -> Vec<&'static str> {
    [
        ("aqueous", ask.aqueous),
        ("vinegar", ask.vinegar),
        ("yolk", ask.yolk),
    ]
    .into_iter()
    .filter(|(_, mass)| *mass > Mass::ZERO)
    .map(|(id, _)| id)
    .collect()
}

fn enter(ask: &Emulsion, sheet: &mut Sheet) {
    for (id, mass) in [
        ("oil", ask.oil),
        ("aqueous", ask.aqueous),
        ("yolk", ask.yolk),
        ("vinegar", ask.vinegar),
        ("salt", ask.salt),
        ("sugar", ask.sugar),
    ] {
        if mass > Mass::ZERO {
            sheet.entered(id, mass.g(), "g");
        }
    }
    if ask.vinegar > Mass::ZERO {
        sheet.entered("vinegar.acid", ask.acid_pct, "%");
    }
    if ask.yolk > Mass::ZERO {
        sheet.known("yolk.water", YOLK_WATER_PCT, "%", &list::MEMORY, "");
        sheet.known("yolk.density", YOLK_G_ML, "g/mL", &list::MEMORY, "");
    }
}

/// As weighed, or the middle of the plain oils of the list.
fn oil_density(ask: &Emulsion, sheet: &mut Sheet) -> Result<Density, Refusal> {
    if let Some(density) = ask.oil_density {
        sheet.entered("oil.density", density.g_per_ml(), "g/mL");
        return Ok(density);
    }
    let oils = DENSITIES.iter().filter(|d| d.what.ends_with("oil"));
    let (low, high) = oils.fold((f64::INFINITY, 0.0_f64), |(low, high), d| {
        (low.min(d.least_g_per_ml), high.max(d.most_g_per_ml))
    });
    sheet.known(
        "oil.density.low",
        low,
        "g/mL",
        &list::MEMORY,
        "lightest of the kitchen oils",
    );
    sheet.known("oil.density.high", high, "g/mL", &list::MEMORY, "heaviest");
    let middle = f64::midpoint(low, high);
    let from = ["oil.density.low", "oil.density.high"];
    sheet.worked("oil.density", middle, "g/mL", 3, "middle of the two", &from);
    Ok(Density::g_per_millilitre(middle)?)
}

/// The most oil this water carries at or under the line, as a row.
fn volume_left(
    oil: Volume,
    watery: Volume,
    density: Density,
    sheet: &mut Sheet,
) -> Result<String, Refusal> {
    let share = MOST_OIL_PCT / 100.0;
    let most = density.mass_of(oil_to_add(Volume::ZERO, watery, share)?);
    let formula = "watery × φ ÷ (1 − φ) × density";
    sheet.worked(
        "oil.most",
        most.g(),
        "g",
        0,
        formula,
        &["watery.volume", "most", "oil.density"],
    );
    let is = density.mass_of(oil).g();
    let (what, room) = if most.g() >= is {
        ("room for", most.g() - is)
    } else {
        ("over by", is - most.g())
    };
    sheet.worked(
        "oil.room",
        room,
        "g",
        0,
        "most oil and oil, apart",
        &["oil.most", "oil"],
    );
    Ok(row(
        &format!("most oil at {}", sheet.show("most")),
        &sheet.show("oil.most"),
        &format!("{what} {}", sheet.show("oil.room")),
    ))
}

fn row(what: &str, figure: &str, note: &str) -> String {
    format!("{what:<26}{figure:>12}   {note}")
}

/// Acid and salt of the water, as rows.
fn water_phase(ask: &Emulsion, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    let acetic = ask.vinegar.g() * ask.acid_pct / 100.0;
    let part = WateryPart {
        water: Mass::grams(
            ask.aqueous.g() + ask.vinegar.g() - acetic + ask.yolk.g() * YOLK_WATER_PCT / 100.0,
        )?,
        acetic: Mass::grams(acetic)?,
        salt: ask.salt,
        sugar: ask.sugar,
    };
    let mut from = parts(ask);
    if ask.vinegar > Mass::ZERO {
        from.push("vinegar.acid");
    }
    if ask.yolk > Mass::ZERO {
        from.push("yolk.water");
    }
    let water = part.water.g();
    sheet.worked(
        "water",
        water,
        "g",
        weight_places(water),
        "water of everything watery, mass balance",
        &from,
    );
    let mut rows = Vec::new();
    if ask.vinegar > Mass::ZERO {
        let acid = part.acid()?.pct();
        sheet.worked(
            "acid",
            acid,
            "%",
            2,
            "acetic acid ÷ (acid + water)",
            &["vinegar", "vinegar.acid", "water"],
        );
        rows.push(row(
            "acid of its water",
            &sheet.show("acid"),
            "acetic, of acid and water; the pH is for a meter",
        ));
    }
    if ask.salt > Mass::ZERO {
        let salt = part.salt()?.pct();
        sheet.worked(
            "salt.water",
            salt,
            "%",
            2,
            "salt ÷ (salt + water)",
            &["salt", "water"],
        );
        rows.push(row(
            "salt of its water",
            &sheet.show("salt.water"),
            "of salt and water",
        ));
        let activity = part.water_activity()?.aw();
        let mut from = vec!["salt", "water"];
        if ask.sugar > Mass::ZERO {
            from.push("sugar");
        }
        let formula = "Pitzer for salt, Norrish for sugar, Ross for both (from memory), 25 °C";
        sheet.worked("a_w", activity, "", 3, formula, &from);
        rows.push(row(
            "water activity",
            &sheet.show("a_w"),
            "from salt and sugar alone; the true one is lower",
        ));
    }
    Ok(rows)
}

/// Yolk against what is usual, as a row.
fn yolk_habit(ask: &Emulsion, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    if ask.yolk <= Mass::ZERO {
        return Ok(Vec::new());
    }
    let whole = ask.oil + ask.aqueous + ask.yolk + ask.vinegar + ask.salt + ask.sugar;
    let pct = Yield::ratio_of(ask.yolk.ratio_to(whole)?)?.ratio() * 100.0;
    let from: Vec<&str> = ["oil", "aqueous", "yolk", "vinegar", "salt", "sugar"]
        .into_iter()
        .filter(|id| sheet.figures.get(id).is_some())
        .collect();
    sheet.worked("yolk.pct", pct, "%", 1, "yolk ÷ everything", &from);
    let habit = MAYONNAISE_YOLK;
    sheet.known(
        "yolk.low",
        habit.least_pct,
        "%",
        &list::PRACTICE,
        habit.what,
    );
    sheet.known(
        "yolk.high",
        habit.most_pct,
        "%",
        &list::PRACTICE,
        habit.what,
    );
    let lies = if pct < habit.least_pct {
        "below"
    } else if pct <= habit.most_pct {
        "within"
    } else {
        "above"
    };
    Ok(vec![row(
        "yolk, of everything",
        &sheet.show("yolk.pct"),
        &format!(
            "{lies} the usual {} to {} of a mayonnaise",
            sheet.bare("yolk.low"),
            sheet.show("yolk.high")
        ),
    )])
}

/// How to mend it, scaled to this oil.
fn rescue(oil: Volume, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    let (least, most) = rescue_yolk(oil)?;
    let formula = "18 g of yolk for 180 to 240 mL of oil (common practice, no source)";
    for (id, mass) in [("rescue.least", least), ("rescue.most", most)] {
        sheet.worked(id, mass.g(), "g", 0, formula, &["oil.volume"]);
    }
    sheet.known(
        "rescue.share",
        RESCUE_WATER_OF_YOLK * 100.0,
        "%",
        &list::PRACTICE,
        "water of the yolk's weight",
    );
    let water = most.g() * RESCUE_WATER_OF_YOLK;
    sheet.worked(
        "rescue.water",
        water,
        "g",
        0,
        "yolk × share",
        &["rescue.most", "rescue.share"],
    );
    Ok(vec![
        format!(
            "if it breaks: {} to {} fresh yolk and {} water in a clean bowl, the broken sauce in by",
            sheet.bare("rescue.least"),
            sheet.show("rescue.most"),
            sheet.show("rescue.water")
        ),
        "drops, then in a thin thread, whisking all the while".to_owned(),
    ])
}

fn told(
    share: OilVolume,
    oil: Volume,
    watery: Volume,
    sheet: &mut Sheet,
) -> Result<(String, String), Refusal> {
    let over = share.share() * 100.0 > MOST_OIL_PCT;
    let word = match share.body() {
        _ if over => "STIFF: risk of breaking",
        Body::Loose => "pours",
        Body::Crowded | Body::StiffAtRisk => "thick, holds",
    };
    let next = if over {
        let add = watery_to_add(oil, watery, MOST_OIL_PCT / 100.0)?.ml() * WATERY_G_ML;
        let from = ["oil.volume", "watery.volume", "most", "watery.density"];
        sheet.worked(
            "add",
            add,
            "g",
            0,
            "(oil × (1 ÷ φ − 1) − watery) × density",
            &from,
        );
        format!(
            "whisk in {} of water, vinegar or liquor to come down to {}, or add the last oil slowly and keep it cool",
            sheet.show("add"),
            sheet.show("most")
        )
    } else {
        "oil in slowly at first, everything at one temperature; taste, then read the pH".to_owned()
    };
    Ok((word.to_owned(), next))
}

fn limit(share: OilVolume, sheet: &Sheet) -> String {
    let most = sheet.show("most");
    if share.share() * 100.0 > MOST_OIL_PCT {
        format!(
            "above {most}, where droplets are pressed flat: over by {}",
            sheet.show("oil.room")
        )
    } else {
        format!(
            "at most {most}, where droplets touch all round: room for {} more oil",
            sheet.show("oil.room")
        )
    }
}

fn small(ask: &Emulsion) -> Vec<(&'static str, String)> {
    let oil = if ask.oil_density.is_some() {
        "as weighed"
    } else {
        "middle of the kitchen oils, from memory"
    };
    vec![
        (
            "status",
            "a flag, not a verdict: mayonnaise lives above the line. No shelf life follows from it"
                .to_owned(),
        ),
        (
            "base",
            format!(
                "by volume; yolk counts as watery, its own oil left out; density of the oil {oil}"
            ),
        ),
        (
            "source",
            format!(
                "closest packing of equal balls, {} %: geometry, computed; yolk, rescue: {}",
                crate::figures::number(CLOSEST_PACKING * 100.0, 2),
                list::PRACTICE.status.words()
            ),
        ),
    ]
}

#[cfg(test)]
mod tests;
