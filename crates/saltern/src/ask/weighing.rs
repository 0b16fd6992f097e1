//! Is what the scale shows what was wanted?

use plan::ask::weighing::{TOLERANCE_PCT, Weighing as Question, weighing};
use plan::ask::{Answer, Refusal};

use super::read;

/// `ask weighing`
#[derive(Debug, clap::Args)]
pub(super) struct Weighing {
    /// What the sheet asks for: "24.1 g"
    #[arg(long, value_name = "WEIGHT")]
    wanted: String,
    /// What was keyed in, as it stands on the scale: "24.0", "24.0 g" or "0.85 oz"; a bare number is grams
    #[arg(long, value_name = "NUMBER")]
    found: String,
    /// How far it may be off; 2 % when not said
    #[arg(long, value_name = "PERCENT")]
    tolerance: Option<String>,
}

impl Weighing {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let (keyed, unit) = keyed(&self.found)?;
        weighing(&Question {
            wanted: read::mass("--wanted", &self.wanted)?,
            keyed,
            unit,
            tolerance_pct: self
                .tolerance
                .as_deref()
                .map(|t| read::percent("--tolerance", t))
                .transpose()?
                .unwrap_or(TOLERANCE_PCT),
        })
    }
}

/// The number and the unit it was taken for.
fn keyed(text: &str) -> Result<(f64, &'static str), Refusal> {
    let text = text.trim();
    let (number, unit) = ["kg", "oz", "lb", "g"]
        .iter()
        .find_map(|unit| Some((text.strip_suffix(unit)?.trim_end(), *unit)))
        .unwrap_or((text, "g"));
    number
        .parse::<f64>()
        .ok()
        .filter(|n| n.is_finite() && *n >= 0.0)
        .map(|n| (n, unit))
        .ok_or_else(|| {
            Refusal::new(
                format!("--found: found \"{text}\""),
                "a number as the scale shows it, with g, kg, oz or lb",
                "read it off the scale again",
            )
        })
}
