//! Is it cheaper to prepare a litre of this, or to buy it ready?

use rust_decimal::Decimal;
use sources::Citation;
use units::{Density, Elapsed, Mass, Money, Volume, decimal};

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::{Sheet, cite, weight_places};

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// What it is.
    pub name: String,
    /// How much of it, prepared.
    pub volume: Volume,
    /// Weight per volume as prepared, with its form: "peeled cloves".
    pub density: (Density, String, Citation),
    /// Edible over purchased, with its cut: "bulb to peeled cloves".
    pub trim: (f64, String, Citation),
    /// Price of a kilogram as purchased.
    pub price: Money,
    /// Hands-on time for the amount, one or more paces.
    pub paces: Vec<Elapsed>,
    /// Wage of an hour, on-cost included if it is to count.
    pub wage: Money,
    /// Price of a kilogram bought ready.
    pub against: Option<Money>,
    /// Sign printed before sums.
    pub currency: String,
}

struct Pace {
    id: String,
    per_litre: Decimal,
}

/// Answers it.
///
/// # Errors
/// No volume, no pace, a yield of nothing; sums too large to hold.
pub fn worth(ask: &Worth) -> Result<Answer, Refusal> {
    if ask.volume <= Volume::ZERO || ask.paces.is_empty() {
        return Err(Refusal::new(
            "found no volume or no minutes",
            "both",
            "write --litre \"1 L\" --minutes \"20\"",
        ));
    }
    let mut sheet = Sheet::default();
    let litres = decimal(ask.volume.litres())?;
    let (edible, bought) = amounts(ask, &mut sheet)?;
    let (edible_kg, bought_kg) = (decimal(edible.kg())?, decimal(bought.kg())?);
    let cur = &ask.currency;
    sheet.money("price", ask.price.amount(), cur, "", &[]);
    sheet.money("wage", ask.wage.amount(), cur, "", &[]);
    let material = ask.price.times(bought_kg)?;
    sheet.money(
        "material",
        material.amount(),
        cur,
        "bought × price",
        &["bought", "price"],
    );

    let mut details = vec![
        format!(
            "{:<34}{:>10}   {}",
            "prepared",
            sheet.show("edible"),
            sheet.show("volume")
        ),
        format!(
            "{:<34}{:>10}   yield {}",
            "as purchased",
            sheet.show("bought"),
            sheet.show("trim")
        ),
        format!(
            "{:<34}{:>10}   at {} per kg",
            "material",
            sheet.show("material"),
            sheet.show("price")
        ),
        String::new(),
        format!(
            "{:>12}{:>12}{:>12}{:>14}{:>14}",
            "minutes", "labour", "together", "per litre", "per kg"
        ),
    ];
    let mut paces = Vec::new();
    for (i, pace) in ask.paces.iter().enumerate() {
        let id = format!("pace.{}", i + 1);
        sheet.entered(&id, pace.minutes(), "min");
        let labour = ask.wage.times(decimal(pace.hours())?)?;
        let all = material + labour;
        let (l, t, per_l, per_kg) = (
            format!("{id}.labour"),
            format!("{id}.cost"),
            format!("{id}.litre"),
            format!("{id}.kg"),
        );
        sheet.money(
            &l,
            labour.amount(),
            cur,
            "minutes ÷ 60 × wage",
            &[&id, "wage"],
        );
        sheet.money(
            &t,
            all.amount(),
            cur,
            "material + labour",
            &["material", &l],
        );
        let per_litre = all.divided(litres)?.amount();
        sheet.money(&per_l, per_litre, cur, "cost ÷ litres", &[&t, "volume"]);
        sheet.money(
            &per_kg,
            all.divided(edible_kg)?.amount(),
            cur,
            "cost ÷ prepared weight",
            &[&t, "edible"],
        );
        details.push(format!(
            "{:>12}{:>12}{:>12}{:>14}{:>14}",
            sheet.bare(&id),
            sheet.show(&l),
            sheet.show(&t),
            sheet.show(&per_l),
            sheet.show(&per_kg)
        ));
        paces.push(Pace { id, per_litre });
    }
    paces.sort_by_key(|pace| pace.per_litre);
    let (answer, limit, next, main) = match ask.against {
        Some(against) => compared(
            ask,
            against,
            material,
            (litres, edible_kg),
            &paces,
            &mut sheet,
            &mut details,
        )?,
        None => alone(&paces, &sheet),
    };
    Ok(Answer {
        question: "worth",
        answer,
        limit,
        next,
        details,
        small: small(ask),
        verdict: None,
        main,
        figures: sheet.figures,
    })
}

/// Prepared and purchased weight of the volume.
fn amounts(ask: &Worth, sheet: &mut Sheet) -> Result<(Mass, Mass), Refusal> {
    sheet.entered("volume", ask.volume.litres(), "L");
    sheet.cited("density", ask.density.0.g_per_ml(), "g/mL", &ask.density.2);
    let edible = ask.density.0.mass_of(ask.volume);
    sheet.worked(
        "edible",
        edible.g(),
        "g",
        weight_places(edible.g()),
        "volume × density",
        &["volume", "density"],
    );
    if !(ask.trim.0 > 0.0 && ask.trim.0 <= 1.0) {
        return Err(Refusal::new(
            format!("trim yield: found {}", ask.trim.0),
            "a yield above 0 and at most 1",
            "write 0.82, or 82 %",
        ));
    }
    sheet.cited("trim", ask.trim.0 * 100.0, "%", &ask.trim.2);
    let bought = edible.scaled(1.0 / ask.trim.0)?;
    sheet.worked(
        "bought",
        bought.g(),
        "g",
        weight_places(bought.g()),
        "prepared ÷ yield",
        &["edible", "trim"],
    );
    Ok((edible, bought))
}

type Lines = (String, String, String, &'static str);

fn span(paces: &[Pace], sheet: &Sheet) -> String {
    let show = |pace: &Pace| sheet.show(&format!("{}.litre", pace.id));
    match paces {
        [only] => show(only),
        [first, .., last] => format!("{} to {}", show(first), show(last)),
        [] => String::new(),
    }
}

fn alone(paces: &[Pace], sheet: &Sheet) -> Lines {
    (
        format!("{} a litre prepared here", span(paces, sheet)),
        format!(
            "of it {} material whatever the pace; the rest is minutes",
            sheet.show("material")
        ),
        "give the price of a kilogram bought ready with --against to see which is cheaper"
            .to_owned(),
        "pace.1.litre",
    )
}

/// Prepared against bought ready.
fn compared(
    ask: &Worth,
    against: Money,
    material: Money,
    (litres, edible_kg): (Decimal, Decimal),
    paces: &[Pace],
    sheet: &mut Sheet,
    details: &mut Vec<String>,
) -> Result<Lines, Refusal> {
    let cur = &ask.currency;
    sheet.money("ready", against.amount(), cur, "", &[]);
    let ready = against.times(edible_kg)?;
    sheet.money(
        "ready.cost",
        ready.amount(),
        cur,
        "prepared weight × price ready",
        &["edible", "ready"],
    );
    let per_litre = ready.divided(litres)?.amount();
    sheet.money(
        "ready.litre",
        per_litre,
        cur,
        "cost ÷ litres",
        &["ready.cost", "volume"],
    );
    details.push(format!(
        "{:>12}{:>12}{:>12}{:>14}{:>14}",
        "bought ready",
        "",
        sheet.show("ready.cost"),
        sheet.show("ready.litre"),
        sheet.show("ready")
    ));
    let left = ready - material;
    let cheaper: Vec<&Pace> = paces.iter().filter(|p| p.per_litre < per_litre).collect();
    let verdict = if cheaper.len() == paces.len() {
        "PREPARE IT HERE"
    } else if cheaper.is_empty() {
        "BUY IT READY"
    } else {
        "DEPENDS ON THE PACE"
    };
    let answer = format!(
        "{} a litre bought ready, {} prepared here: {verdict}",
        sheet.show("ready.litre"),
        span(paces, sheet)
    );
    if left <= Money::ZERO {
        return Ok((
            answer,
            "the material alone costs more than the ready one: no pace makes it cheaper".to_owned(),
            "buy it ready, or find a better price for the raw".to_owned(),
            "ready.litre",
        ));
    }
    if ask.wage <= Money::ZERO {
        return Ok((
            answer,
            "labour costs nothing at this wage, so only the material decides".to_owned(),
            "give --wage to see from how many minutes buying is cheaper".to_owned(),
            "ready.litre",
        ));
    }
    let minutes = left
        .times(Decimal::from(60))?
        .divided(ask.wage.amount())?
        .divided(litres)?
        .amount();
    let minutes = crate::figures::decimal_to_f64(minutes);
    let formula = "(ready − material) × 60 ÷ wage ÷ litres";
    sheet.worked(
        "even",
        minutes,
        "min",
        1,
        formula,
        &["ready.cost", "material", "wage", "volume"],
    );
    let limit = format!(
        "even at {} a litre at {} an hour: slower than that, bought is cheaper",
        sheet.show("even"),
        sheet.show("wage")
    );
    let next = match verdict {
        "PREPARE IT HERE" => "prepare it; time the next litre, the pace decides".to_owned(),
        "BUY IT READY" => {
            "buy it ready unless it is a lesson: then the minutes are what is taught".to_owned()
        }
        _ => format!(
            "time one litre: under {} prepare it, over it buy it",
            sheet.show("even")
        ),
    };
    Ok((answer, limit, next, "ready.litre"))
}

fn small(ask: &Worth) -> Vec<(&'static str, String)> {
    vec![
        ("density", format!("{}, {}: {}", ask.name, ask.density.1, cite(&ask.density.2))),
        ("yield", format!("{}: {}", ask.trim.1, cite(&ask.trim.2))),
        ("entered", "prices, wage and minutes; energy, water, washing up and the shelf life of the ready one are not counted".to_owned()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use sources::list;

    fn money(text: &str) -> Money {
        Money::new(text.parse().unwrap()).unwrap()
    }

    fn garlic(minutes: &[f64]) -> Worth {
        Worth {
            name: "garlic, bulb".to_owned(),
            volume: Volume::from_litres(1.0).unwrap(),
            density: (
                Density::g_per_millilitre(0.5748).unwrap(),
                "peeled cloves".to_owned(),
                Citation::whole(&list::SR28),
            ),
            trim: (
                0.82,
                "bulb to peeled cloves".to_owned(),
                Citation::whole(&list::PRACTICE),
            ),
            price: money("9.00"),
            paces: minutes
                .iter()
                .map(|m| Elapsed::from_minutes(*m).unwrap())
                .collect(),
            wage: money("18"),
            against: Some(money("14.50")),
            currency: "$".to_owned(),
        }
    }

    /// By hand: 574.8 g ÷ 0.82 = 701.0 g × 9.00 = 6.309; 20 min at 18 = 6.00; together 12.31.
    /// Ready: 0.5748 × 14.50 = 8.335; even at (8.335 − 6.309) ÷ 18 × 60 = 6.75 min.
    #[test]
    fn peeling_garlic_pays_only_for_the_quick() {
        let answer = worth(&garlic(&[60.0, 20.0, 15.0])).unwrap();
        assert_eq!(answer.figures.get("pace.2.litre").unwrap().show(), "$12.31");
        assert_eq!(answer.figures.get("ready.litre").unwrap().show(), "$8.33");
        assert!((answer.figures.number("even").unwrap() - 6.753).abs() < 1e-3);
        assert!(answer.answer.ends_with("BUY IT READY"), "{}", answer.answer);
        assert!(
            worth(&garlic(&[5.0]))
                .unwrap()
                .answer
                .ends_with("PREPARE IT HERE")
        );
        assert!(
            worth(&garlic(&[5.0, 20.0]))
                .unwrap()
                .answer
                .ends_with("DEPENDS ON THE PACE")
        );
    }

    #[test]
    fn the_break_even_pace_costs_what_the_ready_one_does() {
        let even = worth(&garlic(&[20.0]))
            .unwrap()
            .figures
            .number("even")
            .unwrap();
        let at = worth(&garlic(&[even])).unwrap();
        let money = |id: &str| match at.figures.get(id).unwrap().value {
            crate::figures::Value::Money(d) => crate::figures::decimal_to_f64(d),
            _ => f64::NAN,
        };
        // Times are whole seconds: half of one is 0.0025 of money at 18 an hour.
        assert!((money("pace.1.litre") - money("ready.litre")).abs() < 0.003);
    }
}
