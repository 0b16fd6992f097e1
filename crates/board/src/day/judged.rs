//! What the readings written down show, by the rule their step asks for.

use std::sync::Arc;

use kitchen::recipe::{ProductClass, Recipe};
use kitchen::step::Step;
use kitchen::verb::Verb;
use plan::Plan;
use safety::history::{Channel, History, Quantity, Reading as Read};
use safety::judge::{
    Meter, PhReading, Refusal, Terms, cold_hold, cook_nonintact, cooling, fish_core, ph_gate,
};
use safety::{Judgement, Part, Verdict};
use store::{Entry, Kind, Unit};

use super::standing::{Standing, standing};

/// A rule of [`safety::judge`] over a log of temperatures.
pub(crate) type Rule = fn(&History, &Terms) -> Result<Judgement, Refusal>;

/// Parts that hang in the air and not in the food; every other one counts as food.
const AIR: &[&str] = &[
    "air", "cabinet", "chamber", "smoker", "room", "fridge", "oven",
];

/// What a step's readings show.
#[derive(Debug, Clone)]
pub(crate) struct Judged {
    /// The component.
    pub(crate) component: String,
    /// Its name.
    pub(crate) name: String,
    /// The step.
    pub(crate) step: String,
    /// The answer, or why there is none.
    pub(crate) answer: Result<Judgement, Refusal>,
}

/// The rule a step's temperatures are held against; none where no rule here speaks about them.
pub(crate) fn rule_of(recipe: &Recipe, step: &Step) -> Option<Rule> {
    match step.verb {
        Verb::HotSmoke | Verb::Cook if step.until.is_some() => {
            match recipe.product.as_ref().map(|p| p.class) {
                Some(
                    ProductClass::DryCuredMeat
                    | ProductClass::ImmersedMeat
                    | ProductClass::PumpedMeat,
                ) => Some(cook_nonintact),
                _ => Some(fish_core),
            }
        }
        Verb::Chill => Some(cooling),
        Verb::Receive => Some(cold_hold),
        _ => step.wait.at_most.map(|_| cold_hold as Rule),
    }
}

/// Whether a step is held against the core of fish.
pub(crate) fn is_fish(recipe: &Recipe, step: &Step) -> bool {
    rule_of(recipe, step).is_some_and(|rule| std::ptr::fn_addr_eq(rule, fish_core as Rule))
}

/// Whether a part is a probe in the air.
pub(crate) fn is_air(part: &str) -> bool {
    AIR.iter().any(|a| part.eq_ignore_ascii_case(a))
}

/// The terms of a site, with the probes that hang in the air.
pub(crate) fn terms(plan: &Plan, history: &History) -> Terms {
    let mut terms = Terms::of(plan.scene.site.rules);
    terms.air = history
        .channels
        .iter()
        .map(|c| c.name.clone())
        .filter(|n| is_air(n))
        .collect();
    terms
}

/// Everything the record judges, in the order of the plan.
pub(crate) fn all(plan: &Plan, log: &[Arc<Entry>]) -> Vec<Judged> {
    let entries = standing(log);
    let mut judged = Vec::new();
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            let mut add = |answer| {
                judged.push(Judged {
                    component: c.recipe.to_string(),
                    name: c.name.clone(),
                    step: step.id.to_string(),
                    answer,
                });
            };
            let (component, id) = (c.recipe.as_str(), step.id.as_str());
            let history = history(&entries, component, id);
            if let Some(rule) = rule_of(recipe, step).filter(|_| !history.channels.is_empty()) {
                let terms = terms(plan, &history);
                add(rule(&history, &terms).map(|j| alone(rule, &history, &terms, j)));
            }
            let readings = acid(&entries, component, id);
            if !readings.is_empty() {
                let of = Terms::of(plan.scene.site.rules);
                add(ph_gate(&of, &readings).map(|g| g.judgement));
            }
        }
    }
    judged
}

/// A hold that is there in full, in a log with gaps elsewhere, judged alone from its first reading to its last.
pub(crate) fn alone(rule: Rule, history: &History, terms: &Terms, judged: Judgement) -> Judgement {
    if judged.verdict != Verdict::NotShown {
        return judged;
    }
    let at = |part| {
        judged
            .evidence
            .iter()
            .filter(move |e| e.part == part)
            .filter_map(|e| e.at_s)
    };
    let (Some(from), Some(to)) = (at(Part::HoldStarts).min(), at(Part::HoldEnds).max()) else {
        return judged;
    };
    let terms = Terms {
        period: Some((from, to)),
        ..terms.clone()
    };
    match rule(history, &terms) {
        Ok(mut shown) if shown.verdict == Verdict::Shown => {
            shown.place.push_str(
                "; judged alone, from its first reading to its last: the log has gaps elsewhere",
            );
            shown
        }
        _ => judged,
    }
}

/// The temperatures of a step, a channel a probe; what was corrected reads as its correction.
pub(crate) fn history(entries: &[Standing], component: &str, step: &str) -> History {
    let mut channels: Vec<Channel> = Vec::new();
    for s in temperatures(entries, component, step) {
        let name = s.part().unwrap_or("probe");
        let reading = Read {
            at_s: s.at().as_second(),
            value: s.reading.and_then(celsius),
        };
        match channels.iter_mut().find(|c| c.name == name) {
            Some(c) => c.readings.push(reading),
            None => channels.push(Channel {
                name: name.to_owned(),
                quantity: Quantity::TemperatureC,
                readings: vec![reading],
            }),
        }
    }
    for channel in &mut channels {
        channel.readings.sort_by_key(|r| r.at_s);
        // A reading taken back and written down again at its hour is there.
        let read: Vec<i64> = channel
            .readings
            .iter()
            .filter(|r| r.value.is_some())
            .map(|r| r.at_s)
            .collect();
        channel
            .readings
            .retain(|r| r.value.is_some() || !read.contains(&r.at_s));
    }
    History { channels }
}

/// The temperatures written down of a step, in the order they were written.
pub(crate) fn temperatures<'a>(
    entries: &'a [Standing<'a>],
    component: &'a str,
    step: &'a str,
) -> impl Iterator<Item = &'a Standing<'a>> {
    entries
        .iter()
        .filter(move |s| s.entry.says.kind == Kind::Temperature && s.is_of(component, step))
}

/// The newest pH of every sample of a step; nobody wrote down how the meter was checked, so it shows nothing.
pub(crate) fn acid(entries: &[Standing], component: &str, step: &str) -> Vec<PhReading> {
    let mut readings: Vec<PhReading> = Vec::new();
    let mut of: Vec<&Standing> = entries
        .iter()
        .filter(|s| s.entry.says.kind == Kind::Ph && s.is_of(component, step))
        .collect();
    // The newest is the one read last, not the one written down last.
    of.sort_by_key(|s| s.at());
    for s in of {
        let Some(ph) = s
            .reading
            .and_then(|r| r.number().to_string().parse::<f64>().ok())
        else {
            continue;
        };
        let sample = s.part().unwrap_or("sample").to_owned();
        readings.retain(|r| r.sample != sample);
        readings.push(PhReading {
            sample,
            ph,
            meter: Meter::Unchecked,
            even: true,
        });
    }
    readings
}

/// A temperature in °C.
pub(crate) fn celsius(reading: store::Reading) -> Option<f64> {
    let n: f64 = reading.number().to_string().parse().ok()?;
    let t = match reading.unit() {
        Unit::Celsius => units::Temperature::celsius(n),
        Unit::Fahrenheit => units::Temperature::from_f(n),
        _ => return None,
    };
    t.ok().map(units::Temperature::c)
}
