//! How much has to go in so that this much comes out, and what was learned about it?

use science::yields::{HOUSE_COUNTS_AS, Yield, chain, learned, raw_for, served_from};
use sources::{Citation, list};
use units::Mass;

use super::answer::Answer;
use super::refusal::Refusal;
use super::sheet::{Sheet, places_of, weight_places};

/// A raw need within this share of a whole number of pieces is that number: the pack edge.
/// House value, `pack_tolerance` of a site.
const PIECE_EDGE: f64 = 0.01;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub enum YieldQuestion {
    /// Back from what is served to what goes in.
    Raw(Raw),
    /// What to plan on next time.
    Learned(Learned),
}

/// From served back to raw.
#[derive(Debug, Clone, PartialEq)]
pub struct Raw {
    /// What is to be served.
    pub served: Mass,
    /// Yields of the steps, first step first.
    pub steps: Vec<Yield>,
    /// A yield before them: whole fish to fillet.
    pub first: Option<Yield>,
    /// The weight of one piece as bought.
    pub piece: Option<Mass>,
    /// One portion.
    pub portion: Option<Mass>,
}

/// From logs to the next plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Mean of the logged yields.
    pub mean: Yield,
    /// How many there are.
    pub n: u32,
    /// The house figure.
    pub house: Yield,
    /// How many logs the house figure counts as.
    pub k: Option<f64>,
}

/// Answers it.
///
/// # Errors
/// A chain without a step; a weight out of range.
pub fn yields(ask: &YieldQuestion) -> Result<Answer, Refusal> {
    match ask {
        YieldQuestion::Raw(raw) => raw_need(raw),
        YieldQuestion::Learned(logs) => next_time(logs),
    }
}

fn raw_need(ask: &Raw) -> Result<Answer, Refusal> {
    if ask.steps.is_empty() {
        return Err(Refusal::new(
            "found no yields",
            "at least one step",
            "write --chain \"0.95 0.98\"",
        ));
    }
    let mut sheet = Sheet::default();
    sheet.entered("served", ask.served.g(), "g");
    let mut ids = Vec::new();
    for (i, step) in ask.steps.iter().enumerate() {
        ids.push(format!("step.{}", i + 1));
        let places = places_of(step.ratio()).max(2);
        sheet.figures.leaf(
            &ids[i],
            step.ratio(),
            "",
            places,
            &Citation::whole(&list::ENTERED),
        );
    }
    let from: Vec<&str> = ids.iter().map(String::as_str).collect();
    sheet.worked(
        "chain",
        chain(&ask.steps),
        "",
        4,
        "all steps multiplied",
        &from,
    );
    let raw = raw_for(ask.served, &ask.steps)?;
    sheet.worked(
        "raw",
        raw.g(),
        "g",
        1,
        "served ÷ chain",
        &["served", "chain"],
    );
    let mut details = vec![format!("{:<26}{:>12}", "served", sheet.show("served"))];
    let mut on_hand = raw;
    for i in (0..ask.steps.len()).rev() {
        on_hand = step_row(i, &ask.steps, ask.served, &mut sheet, &mut details)?;
    }
    let (mut main, mut need) = ("raw", on_hand);
    if let Some(first) = ask.first {
        sheet.entered("first", first.ratio(), "");
        need = raw_for(raw, &[first])?;
        sheet.worked("whole", need.g(), "g", 1, "raw ÷ first", &["raw", "first"]);
        details.push(format!(
            "{:<26}{:>12}   ÷ {}",
            "before the first cut",
            sheet.show("whole"),
            sheet.bare("first")
        ));
        main = "whole";
    }
    let mut limit = format!(
        "chain {}: {} served of what goes into the first step",
        sheet.show("chain"),
        {
            sheet.worked(
                "chain.pct",
                chain(&ask.steps) * 100.0,
                "%",
                1,
                "chain × 100",
                &["chain"],
            );
            sheet.show("chain.pct")
        }
    );
    let mut answer = format!("{} raw", sheet.show(main));
    let mut next =
        "weigh what arrives and ask again from that weight; log what each step really gave"
            .to_owned();
    if let Some(piece) = ask.piece {
        let (line, spare) = pieces(ask, need, piece, main, &mut sheet)?;
        answer = format!("{answer}: {line}");
        limit = format!("{spare}; {limit}");
        next = format!("buy {line}; {next}");
    }
    Ok(Answer {
        question: "yield",
        answer,
        limit,
        next,
        details,
        small: vec![
            (
                "base",
                "each yield is out ÷ in of its own step; yields multiply, they never add"
                    .to_owned(),
            ),
            (
                "source",
                "yields as entered; plan on the mean and buy on the mean less one spread"
                    .to_owned(),
            ),
        ],
        verdict: None,
        main,
        figures: sheet.figures,
    })
}

/// One step back: what has to go into step `i`.
fn step_row(
    i: usize,
    steps: &[Yield],
    served: Mass,
    sheet: &mut Sheet,
    details: &mut Vec<String>,
) -> Result<Mass, Refusal> {
    let into = raw_for(served, &steps[i..])?;
    let (id, step) = (format!("into.{}", i + 1), format!("step.{}", i + 1));
    let after = if i + 1 == steps.len() {
        "served".to_owned()
    } else {
        format!("into.{}", i + 2)
    };
    sheet.worked(
        &id,
        into.g(),
        "g",
        1,
        "what comes out ÷ yield of the step",
        &[&after, &step],
    );
    details.push(format!(
        "{:<26}{:>12}   ÷ {}",
        format!("into step {}", i + 1),
        sheet.show(&id),
        sheet.bare(&step)
    ));
    Ok(into)
}

/// Whole pieces to buy, and the spare in them.
fn pieces(
    ask: &Raw,
    need: Mass,
    piece: Mass,
    main: &str,
    sheet: &mut Sheet,
) -> Result<(String, String), Refusal> {
    sheet.entered("piece", piece.g(), "g");
    let exact = need.ratio_to(piece)?;
    sheet.worked(
        "pieces.exact",
        exact,
        "",
        2,
        "need ÷ piece",
        &[main, "piece"],
    );
    sheet.known(
        "edge",
        PIECE_EDGE,
        "",
        &list::HOUSE,
        "share of the need that may be short",
    );
    let count = (exact * (1.0 - PIECE_EDGE)).ceil();
    sheet.worked(
        "pieces",
        count,
        "",
        0,
        "exact less 1 %, rounded up",
        &["pieces.exact", "edge"],
    );
    let bought = piece.scaled(count)?;
    sheet.worked(
        "bought",
        bought.g(),
        "g",
        0,
        "pieces × piece",
        &["pieces", "piece"],
    );
    let all: Vec<Yield> = ask
        .first
        .into_iter()
        .chain(ask.steps.iter().copied())
        .collect();
    let gives = served_from(bought, &all)?;
    sheet.worked(
        "gives",
        gives.g(),
        "g",
        weight_places(gives.g()),
        "bought × first × chain",
        &["bought", "chain"],
    );
    let spare = bought.g() - need.g();
    sheet.worked(
        "spare",
        spare.abs(),
        "g",
        0,
        "bought and need apart",
        &["bought", main],
    );
    let edge = if spare < 0.0 { "short by" } else { "spare" };
    let mut said = format!(
        "{edge} {}: {} pieces needed",
        sheet.show("spare"),
        sheet.show("pieces.exact")
    );
    if let Some(portion) = ask.portion {
        sheet.entered("portion", portion.g(), "g");
        sheet.worked(
            "portions",
            gives.ratio_to(portion)?,
            "",
            1,
            "gives ÷ portion",
            &["gives", "portion"],
        );
        said.push_str(&format!(
            ", they give {}, {} portions of {}",
            sheet.show("gives"),
            sheet.show("portions"),
            sheet.show("portion")
        ));
    }
    Ok((
        format!(
            "{} pieces of {}, {}",
            sheet.show("pieces"),
            sheet.show("piece"),
            sheet.show("bought")
        ),
        said,
    ))
}

fn next_time(ask: &Learned) -> Result<Answer, Refusal> {
    let mut sheet = Sheet::default();
    let k = ask.k.unwrap_or(HOUSE_COUNTS_AS);
    sheet.entered("logged", ask.mean.ratio() * 100.0, "%");
    sheet.entered("n", f64::from(ask.n), "");
    sheet.entered("default", ask.house.ratio() * 100.0, "%");
    if ask.k.is_some() {
        sheet.entered("k", k, "");
    } else {
        sheet.known(
            "k",
            k,
            "",
            &list::HOUSE,
            "the house figure counts as this many logs",
        );
    }
    let next = learned(ask.mean, ask.n, ask.house, k)?;
    let formula = "(n × logged + k × default) ÷ (n + k)";
    sheet.worked(
        "learned",
        next.ratio() * 100.0,
        "%",
        1,
        formula,
        &["n", "logged", "k", "default"],
    );
    let moved = (next.ratio() - ask.house.ratio()) * 100.0;
    sheet.worked(
        "moved",
        moved.abs(),
        "points",
        1,
        "learned and default apart",
        &["learned", "default"],
    );
    let direction = if moved < 0.0 { "below" } else { "above" };
    Ok(Answer {
        question: "yield",
        answer: format!("{} yield to plan on", sheet.show("learned")),
        limit: format!(
            "{} {direction} the house figure of {}; {} logged (n {}), the house figure counts as {}",
            sheet.show("moved"),
            sheet.show("default"),
            sheet.show("logged"),
            sheet.show("n"),
            sheet.show("k"),
        ),
        next: "log the next one too: the house figure fades as logs come in".to_owned(),
        details: vec![],
        small: vec![(
            "source",
            "(n × mean + k × default) ÷ (n + k), k a house value".to_owned(),
        )],
        verdict: None,
        main: "learned",
        figures: sheet.figures,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn y(ratio: f64) -> Yield {
        Yield::ratio_of(ratio).unwrap()
    }

    /// A char starter worked by hand: 3,780 g served is 8,560.3 g whole, 5 fish, 66.2 portions.
    #[test]
    fn a_starter_goes_back_to_five_fish() {
        let ask = Raw {
            served: Mass::grams(3780.0).unwrap(),
            steps: vec![y(0.95), y(0.98), y(0.85), y(0.90)],
            first: Some(y(0.62)),
            piece: Some(Mass::grams(1800.0).unwrap()),
            portion: Some(Mass::grams(60.0).unwrap()),
        };
        let answer = yields(&YieldQuestion::Raw(ask)).unwrap();
        assert_eq!(answer.answer, "8,560.3 g raw: 5 pieces of 1,800 g, 9,000 g");
        assert_eq!(answer.figures.get("portions").unwrap().show(), "66.2");
        assert_eq!(answer.figures.get("raw").unwrap().show(), "5,307.4 g");
        assert!(answer.figures.dangling().is_empty());
    }

    #[test]
    fn one_bad_day_moves_the_plan_a_little() {
        let ask = Learned {
            mean: y(0.58),
            n: 1,
            house: y(0.62),
            k: None,
        };
        let answer = yields(&YieldQuestion::Learned(ask)).unwrap();
        assert_eq!(answer.answer, "61.2 % yield to plan on");
    }
}
