//! When has it dried enough?

use plan::ask::dry::{Dry as Question, dry};
use plan::ask::{Answer, Refusal};
use units::{Elapsed, Mass};

use super::{curve, read};

/// `ask dry`
#[derive(Debug, clap::Args)]
pub(super) struct Dry {
    /// Weight when it was hung: "358.9 g"
    #[arg(long, value_name = "WEIGHT")]
    from: String,
    /// Weight now
    #[arg(
        long,
        value_name = "WEIGHT",
        requires = "after",
        required_unless_present = "weighed"
    )]
    now: Option<String>,
    /// How long it has hung: "7 d"
    #[arg(long, value_name = "TIME", requires = "now")]
    after: Option<String>,
    /// Another weighing: "333.0 g at 3 d"
    #[arg(long, value_name = "WEIGHT at TIME")]
    weighed: Vec<String>,
    /// Loss wanted, percent of the weight when hung
    #[arg(long, value_name = "PERCENT")]
    target: String,
    /// A day to tell the weight of: "14 d"
    #[arg(long, value_name = "TIME")]
    on: Option<String>,
    /// Write the picture of weight against time here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Dry {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let mut weighed: Vec<(Mass, Elapsed)> = self
            .weighed
            .iter()
            .map(|text| weighing(text))
            .collect::<Result<_, _>>()?;
        if let (Some(now), Some(after)) = (&self.now, &self.after) {
            weighed.push((read::mass("--now", now)?, read::elapsed("--after", after)?));
        }
        let pictured = dry(&Question {
            from: read::mass("--from", &self.from)?,
            weighed,
            target_pct: read::percent("--target", &self.target)?,
            on: self
                .on
                .as_deref()
                .map(|on| read::elapsed("--on", on))
                .transpose()?,
        })?;
        curve::kept(pictured, self.curve.as_deref())
    }
}

/// "333.0 g at 3 d".
fn weighing(text: &str) -> Result<(Mass, Elapsed), Refusal> {
    let Some((weight, time)) = text.split_once(" at ") else {
        return Err(Refusal::new(
            format!("--weighed: found \"{text}\""),
            "a weight and a time such as \"333.0 g at 3 d\"",
            "write both",
        ));
    };
    Ok((
        read::mass("--weighed", weight)?,
        read::elapsed("--weighed", time)?,
    ))
}
