//! What has to go in so that this comes out.

use plan::ask::yields::{Learned, Raw, YieldQuestion, yields};
use plan::ask::{Answer, Refusal};

use super::read;

/// `ask yield`
#[derive(Debug, clap::Args)]
pub(super) struct Yield {
    /// What is to be served
    #[arg(
        long,
        value_name = "WEIGHT",
        requires = "chain",
        required_unless_present = "learned"
    )]
    served: Option<String>,
    /// Yields of the steps, first step first: "0.95 0.98 0.85 0.90"
    #[arg(long, requires = "served")]
    chain: Option<String>,
    /// A yield before them: whole fish to fillet
    #[arg(long)]
    first: Option<String>,
    /// The weight of one piece as bought
    #[arg(long, value_name = "WEIGHT")]
    piece: Option<String>,
    /// One portion
    #[arg(long, value_name = "WEIGHT", requires = "piece")]
    portion: Option<String>,
    /// Mean of the yields logged so far
    #[arg(long, conflicts_with = "served", requires = "default")]
    learned: Option<String>,
    /// The house figure
    #[arg(long)]
    default: Option<String>,
    /// How many were logged
    #[arg(long, default_value_t = 1)]
    n: u32,
}

impl Yield {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        if let (Some(mean), Some(house)) = (&self.learned, &self.default) {
            return yields(&YieldQuestion::Learned(Learned {
                mean: read::one_yield("--learned", mean)?,
                n: self.n,
                house: read::one_yield("--default", house)?,
                k: None,
            }));
        }
        let (Some(served), Some(chain)) = (&self.served, &self.chain) else {
            return Err(Refusal::new(
                "found neither --served with --chain nor --learned with --default",
                "one of the two pairs",
                "give one",
            ));
        };
        let weight = |entry: &str, text: &Option<String>| {
            text.as_deref().map(|t| read::mass(entry, t)).transpose()
        };
        yields(&YieldQuestion::Raw(Raw {
            served: read::mass("--served", served)?,
            steps: read::chain("--chain", chain)?,
            first: self
                .first
                .as_deref()
                .map(|f| read::one_yield("--first", f))
                .transpose()?,
            piece: weight("--piece", &self.piece)?,
            portion: weight("--portion", &self.portion)?,
        }))
    }
}
