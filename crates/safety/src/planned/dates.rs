//! Days a product is to be kept, as planned.

use kitchen::recipe::ProductClass;
use kitchen::site::RuleSet;
use sources::list;

use super::{or_refused, row};
use crate::judge::Refusal;
use crate::judgement::{Holds, Judgement, by_plan};

/// Days a product is to be kept against the date-mark rule.
///
/// # Source
/// `datemark.days` (US, read): day 1 is the day made, discard at the end of day 7 at ≤ 5 °C. In a place without such a
/// row the house's days stand alone.
#[must_use]
pub fn date_mark(place: RuleSet, class: ProductClass, days: u32, planned_days: u32) -> Judgement {
    or_refused("date-mark", dated(place, class, days, planned_days))
}

fn dated(
    place: RuleSet,
    class: ProductClass,
    days: u32,
    planned_days: u32,
) -> Result<Judgement, Refusal> {
    let row = row("datemark.days", place)?;
    // Factory dates and acid pickles have their own rules; 7 days is the rule for what is made and held here.
    let asked = row.holds == Holds::Here && class != ProductClass::ColdPickle;
    let house = f64::from(days);
    let planned = f64::from(planned_days);
    let rule = row.value()?;
    // Whose limit decides is whose source is named.
    let (limit, source) = if asked && rule <= house {
        (rule, row.source)
    } else {
        (house, &list::HOUSE)
    };
    let margin = limit - planned;
    Ok(Judgement {
        rule: "date-mark",
        asks: format!("eaten by the end of day {limit:.0}, day 1 the day made"),
        verdict: by_plan(margin),
        value: Some(planned),
        limit: Some(limit),
        unit: "d",
        margin: Some(margin),
        base: "day made counted as day 1".to_owned(),
        place: "day of service counted from the planned day made; holding cold is not yet shown"
            .to_owned(),
        evidence: Vec::new(),
        source,
        holds: Holds::Here,
        next: "write the date on the tub; freezing stops the count, thawing starts it again"
            .to_owned(),
    })
}
