//! How much nitrite goes in, and who allows it?

use kitchen::site::RuleSet;
use plan::ask::nitrite::{How, Nitrite as Asked, nitrite};
use plan::ask::{Answer, Refusal};
use safety::nitrite::Product;

use super::names::{Larder, no_share};
use super::read;

/// `ask nitrite`
#[derive(Debug, clap::Args)]
pub(super) struct Nitrite {
    /// Curing salt used, by weight
    #[arg(long, value_name = "WEIGHT")]
    cure_salt: String,
    /// Which curing salt
    #[arg(long, default_value = "curing salt no. 1", value_name = "NAME")]
    kind: String,
    /// How it goes in: dry, pumped or immersed
    #[arg(long, default_value = "dry", value_parser = ["dry", "pumped", "immersed"])]
    how: String,
    /// Green weight of the meat
    #[arg(long, value_name = "WEIGHT")]
    green: Option<String>,
    /// The whole pickle, curing salt in it
    #[arg(long, value_name = "WEIGHT")]
    pickle: Option<String>,
    /// Gain by pumping, percent of green weight
    #[arg(long, value_name = "PERCENT")]
    pump: Option<String>,
    /// Gain in the pickle, percent of green weight, weighed before and after
    #[arg(long, value_name = "PERCENT")]
    pick_up: Option<String>,
    /// whole, minced, bacon, salmon or fish; every meat when not said
    #[arg(long, value_parser = ["whole", "minced", "bacon", "salmon", "fish"])]
    product: Option<String>,
    /// us, canada, england or eu; every place when not said
    #[arg(long = "place", value_parser = ["us", "canada", "england", "eu"])]
    places: Vec<String>,
}

impl Nitrite {
    pub(super) fn answer(&self, larder: &Larder) -> Result<Answer, Refusal> {
        let curing = larder.curing(&self.kind, no_share()?)?;
        let ask = Asked {
            curing_salt: read::mass("--cure-salt", &self.cure_salt)?,
            kind: curing.kind,
            name: curing.name,
            source: curing.source,
            how: self.way()?,
            product: self.product.as_deref().and_then(|word| {
                Product::ALL
                    .iter()
                    .find(|(w, _)| *w == word)
                    .map(|(_, product)| *product)
            }),
            places: self
                .places
                .iter()
                .filter_map(|word| RuleSet::find(word))
                .collect(),
        };
        nitrite(&ask)
    }

    fn way(&self) -> Result<How, Refusal> {
        let missing = |what: &str| {
            Refusal::new(
                format!("found --how {} without {what}", self.how),
                "dry with --green; pumped with --pickle and --pump; immersed with --pickle and --pick-up or --green",
                format!("weigh and give {what}"),
            )
        };
        let weight = |text: &Option<String>, entry: &str| {
            read::mass(entry, text.as_deref().ok_or_else(|| missing(entry))?)
        };
        let pump_without_how = self.how == "dry" && (self.pump.is_some() || self.pickle.is_some());
        if pump_without_how {
            return Err(Refusal::new(
                "found a pickle or a pump with a dry cure",
                "--how pumped or --how immersed with a pickle",
                "say how it goes in",
            ));
        }
        Ok(match self.how.as_str() {
            "pumped" => How::Pumped {
                pickle: weight(&self.pickle, "--pickle")?,
                pump: read::proportion(
                    "--pump",
                    self.pump.as_deref().ok_or_else(|| missing("--pump"))?,
                )?,
            },
            "immersed" => match &self.pick_up {
                Some(gain) => How::Dipped {
                    pickle: weight(&self.pickle, "--pickle")?,
                    pick_up: read::proportion("--pick-up", gain)?,
                },
                None => How::Covered {
                    pickle: weight(&self.pickle, "--pickle")?,
                    green: weight(&self.green, "--green")?,
                },
            },
            _ => How::Dry {
                green: weight(&self.green, "--green")?,
            },
        })
    }
}
