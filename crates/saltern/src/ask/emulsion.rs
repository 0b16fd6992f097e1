//! How much of this dressing is oil, and how far can it go?

use plan::ask::emulsion::{Emulsion as Question, emulsion, picture};
use plan::ask::{Answer, Pictured, Refusal};
use units::{Density, Mass, Volume};

use super::{curve, read};

/// `ask emulsion`
#[derive(Debug, clap::Args)]
pub(super) struct Emulsion {
    /// Oil: "200 g"
    #[arg(long, value_name = "WEIGHT")]
    oil: String,
    /// Water, stock, juice, mustard: everything watery without acid of its own
    #[arg(long, value_name = "WEIGHT", required_unless_present_any = ["vinegar", "yolk"])]
    aqueous: Option<String>,
    /// Yolk
    #[arg(long, value_name = "WEIGHT")]
    yolk: Option<String>,
    /// Vinegar
    #[arg(long, value_name = "WEIGHT")]
    vinegar: Option<String>,
    /// Acid of the vinegar
    #[arg(long, value_name = "PERCENT", default_value = "5 %")]
    acid: String,
    /// Salt
    #[arg(long, value_name = "WEIGHT")]
    salt: Option<String>,
    /// Sugar or honey
    #[arg(long, value_name = "WEIGHT")]
    sugar: Option<String>,
    /// What one litre of the oil weighs, when you weighed it
    #[arg(long, value_name = "WEIGHT")]
    weighs: Option<String>,
    /// What is looked for: "most oil"
    #[arg(long, value_name = "WORDS")]
    find: Option<String>,
    /// Write the picture of oil by volume against oil here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Emulsion {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let mass = |entry: &str, text: &Option<String>| match text {
            Some(text) => read::mass(entry, text),
            None => Ok(Mass::ZERO),
        };
        let oil_density = match &self.weighs {
            Some(text) => Some(Density::from_weighed(
                read::mass("--weighs", text)?,
                Volume::from_litres(1.0)?,
            )?),
            None => None,
        };
        let question = Question {
            oil: read::mass("--oil", &self.oil)?,
            aqueous: mass("--aqueous", &self.aqueous)?,
            yolk: mass("--yolk", &self.yolk)?,
            vinegar: mass("--vinegar", &self.vinegar)?,
            acid_pct: read::share("--acid", &self.acid, "vinegar")?.pct(),
            salt: mass("--salt", &self.salt)?,
            sugar: mass("--sugar", &self.sugar)?,
            oil_density,
            most_oil: self
                .find
                .as_deref()
                .map(|words| read::find(words, &[("most oil", true)]))
                .transpose()?
                .unwrap_or(false),
        };
        let answer = emulsion(&question)?;
        match &self.curve {
            None => Ok(answer),
            Some(path) => curve::kept(
                Pictured {
                    answer,
                    picture: picture(&question)?,
                },
                Some(path),
            ),
        }
    }
}
