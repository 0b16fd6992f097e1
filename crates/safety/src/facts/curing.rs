//! Nitrite gone in, piece by piece: the piece that took most decides, and no piece is averaged with another.

use units::Ppm;

use crate::judge::{Refusal, Terms};
use crate::judgement::{Evidence, Holds, Judgement, Part};
use crate::nitrite::{Product, Standing, Way, Weights, judge_weighed, limits};
use crate::verdict::Verdict;

/// One piece and what went into it.
#[derive(Debug, Clone, PartialEq)]
pub struct CuredPiece {
    /// Its name or number.
    pub piece: String,
    /// Sodium nitrite on its green weight.
    pub ingoing: Ppm,
}

/// What was cured, how, and how the weights are known.
#[derive(Debug, Clone, PartialEq)]
pub struct Cured {
    /// The product.
    pub product: Product,
    /// How the cure went in.
    pub way: Way,
    /// The pieces.
    pub pieces: Vec<CuredPiece>,
    /// Typed in, or off the log of a scale.
    pub weights: Weights,
}

/// The nitrite of every piece against the limit of the place, with a veto: *broken* blocks the piece named, whatever the
/// others took. `None` where no limit of the place is known for this product, which shows nothing.
///
/// # Source
/// The rows behind [`limits`].
/// # Errors
/// A figure that has no nitrite ion to it; rules that do not hold together.
pub fn cured(terms: &Terms, cured: &Cured) -> Result<Option<Judgement>, Refusal> {
    let Some(limit) = limits().into_iter().find(|l| {
        l.place == terms.place && l.of.contains(&cured.product) && l.by.contains(&cured.way)
    }) else {
        return Ok(None);
    };
    let judged = cured
        .pieces
        .iter()
        .map(|p| {
            let ion = science::nitrite::as_ion(p.ingoing).map_err(|why| Refusal::Terms {
                found: format!("{}: {why}", p.piece),
                expected: "a figure of nitrite a piece can hold",
            })?;
            Ok(judge_weighed(&limit, p.ingoing, ion, cured.weights).map(|j| (p, j)))
        })
        .collect::<Result<Vec<_>, Refusal>>()?;
    let judged: Vec<_> = judged.into_iter().flatten().collect();
    let worst = judged.iter().max_by(|a, b| a.1.value.total_cmp(&b.1.value));
    let asks = format!(
        "at most {} {}, {}",
        limit.ppm_nano2.or(limit.ion_mg_kg).unwrap_or(0.0),
        if limit.ppm_nano2.is_some() {
            "ppm NaNO2"
        } else {
            "mg/kg as ion"
        },
        limit.product
    );
    let Some((piece, j)) = worst else {
        return Ok(Some(Judgement::not_shown(
            "nitrite",
            asks,
            "no piece was weighed",
            limit.source,
            "weigh every piece before and after",
        )));
    };
    let above: Vec<&str> = judged
        .iter()
        .filter(|(_, j)| j.standing == Standing::Above)
        .map(|(p, _)| p.piece.as_str())
        .collect();
    let next = match (j.verdict, above.is_empty()) {
        (Verdict::Broken, _) if limit.ppm_nano2 == Some(0.0) => "not permitted in this product".to_owned(),
        (Verdict::Broken, _) => format!("hold {} out with a red label, and do not average it: a recorded decision of the instructor", above.join(", ")),
        (_, false) => "more went in than the finished food may hold: have it analysed before service".to_owned(),
        (Verdict::Shown, true) => "keep the log of the scale with the batch papers".to_owned(),
        (Verdict::NotShown, true) => "within the limit as far as was weighed: log every gram, weigh twice; verify the limit with your authority".to_owned(),
    };
    Ok(Some(Judgement {
        rule: "nitrite",
        asks,
        verdict: j.verdict,
        value: Some(j.value),
        limit: Some(j.limit),
        unit: j.unit,
        margin: Some(j.margin),
        base: "of green weight, of the piece that took most".to_owned(),
        place: format!(
            "{}, the most of {} pieces; {}",
            piece.piece,
            judged.len(),
            match cured.weights {
                Weights::Entered => "weights as typed in",
                Weights::Logged => "weights off the log of the scale",
            }
        ),
        evidence: judged
            .iter()
            .map(|(p, j)| Evidence {
                channel: p.piece.clone(),
                part: Part::Worst,
                at_s: None,
                value: Some(j.value),
                unit: j.unit,
            })
            .collect(),
        source: limit.source,
        holds: Holds::Here,
        next,
    }))
}
