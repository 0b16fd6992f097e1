//! How much salt for this?

use plan::ask::{Answer, Refusal, salt};

use super::names::Larder;
use super::read;

/// `ask salt`
#[derive(Debug, clap::Args)]
pub(super) struct Salt {
    /// The weight it is for
    #[arg(long = "for", value_name = "WEIGHT")]
    of: String,
    /// Salt, percent of that weight
    #[arg(long, value_name = "PERCENT")]
    at: String,
    /// What that weight is: "skin-on fillet"
    #[arg(long, default_value = "green weight")]
    base: String,
    /// Curing salt, percent of that weight
    #[arg(long, value_name = "PERCENT")]
    cure: Option<String>,
    /// Which curing salt
    #[arg(long, default_value = "curing salt no. 1", value_name = "NAME")]
    cure_kind: String,
    /// Another line of the mix: "white sugar 1.5 %"
    #[arg(long = "and", value_name = "NAME PERCENT")]
    lines: Vec<String>,
    /// A scale in the room: "0.1 g", or "0.1 g to 6 kg"
    #[arg(long = "scale", value_name = "STEP")]
    scales: Vec<String>,
}

impl Salt {
    pub(super) fn answer(&self, larder: &Larder) -> Result<Answer, Refusal> {
        let cure = self
            .cure
            .as_deref()
            .map(|pct| read::share("--cure", pct, &self.base))
            .transpose()?;
        let ask = salt::Salt {
            of: read::mass("--for", &self.of)?,
            at: read::share("--at", &self.at, &self.base)?,
            curing: cure
                .map(|share| larder.curing(&self.cure_kind, share))
                .transpose()?,
            lines: self
                .lines
                .iter()
                .map(|l| read::line("--and", l, &self.base))
                .collect::<Result<_, _>>()?,
            scales: self
                .scales
                .iter()
                .map(|s| read::scale(s))
                .collect::<Result<_, _>>()?,
        };
        salt::salt(&ask)
    }
}
