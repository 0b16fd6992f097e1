//! How long until the liquor is in the middle?

use plan::ask::steep::{Mix, Steep as Question, steep};
use plan::ask::{Answer, Refusal};

use super::{curve, read};

/// `ask steep`
#[derive(Debug, clap::Args)]
pub(super) struct Steep {
    /// Thickness of the cut: "3 mm"
    #[arg(long, value_name = "LENGTH")]
    thickness: String,
    /// Faces the liquor reaches: 2 for a slice, 1 with the skin on
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=2))]
    faces: u8,
    /// Share of the final strength wanted in the middle
    #[arg(long, value_name = "PERCENT")]
    goal: String,
    /// The vegetable, to tell the final strength
    #[arg(long, value_name = "WEIGHT", requires = "liquor")]
    vegetable: Option<String>,
    /// Water of the vegetable
    #[arg(long, value_name = "PERCENT", default_value = "90 %")]
    water: String,
    /// The liquor poured on it
    #[arg(long, value_name = "WEIGHT", requires = "vegetable")]
    liquor: Option<String>,
    /// Acid of the liquor
    #[arg(long, value_name = "PERCENT", requires = "liquor")]
    acid: Option<String>,
    /// Salt of the liquor
    #[arg(long, value_name = "PERCENT", requires = "liquor")]
    salt: Option<String>,
    /// Diffusivity fitted to your own cut, m²/s: 5e-10
    #[arg(long, value_name = "NUMBER")]
    diffusivity: Option<String>,
    /// A planned time
    #[arg(long, value_name = "TIME")]
    time: Option<String>,
    /// What is looked for: "thickest cut"
    #[arg(long, value_name = "WORDS")]
    find: Option<String>,
    /// Write the picture of the middle against time here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Steep {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let share = |entry: &str, text: &Option<String>| match text {
            Some(text) => read::percent(entry, text),
            None => Ok(0.0),
        };
        let mix = match (&self.vegetable, &self.liquor) {
            (Some(vegetable), Some(liquor)) => Some(Mix {
                vegetable: read::mass("--vegetable", vegetable)?,
                water_pct: read::share("--water", &self.water, "vegetable")?.pct(),
                liquor: read::mass("--liquor", liquor)?,
                acid_pct: share("--acid", &self.acid)?,
                salt_pct: share("--salt", &self.salt)?,
            }),
            _ => None,
        };
        let pictured = steep(&Question {
            thickness: read::length("--thickness", &self.thickness)?,
            both_faces: self.faces == 2,
            goal_pct: read::percent("--goal", &self.goal)?,
            diffusivity: self
                .diffusivity
                .as_deref()
                .map(read::diffusivity)
                .transpose()?,
            mix,
            time: self
                .time
                .as_deref()
                .map(|t| read::elapsed("--time", t))
                .transpose()?,
            thickest: self
                .find
                .as_deref()
                .map(|words| read::find(words, &[("thickest cut", true)]))
                .transpose()?
                .unwrap_or(false),
        })?;
        curve::kept(pictured, self.curve.as_deref())
    }
}
