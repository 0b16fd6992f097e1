//! How strong is this brine, or how much salt makes it?

use plan::ask::{Answer, Refusal, brine};
use units::{Customary, read_temperature};

use super::names::Larder;
use super::read;

/// `ask brine`
#[derive(Debug, clap::Args)]
pub(super) struct Brine {
    /// Salt there is: "280 g", or "2 cups" with --kind
    #[arg(
        long,
        conflicts_with = "strength",
        required_unless_present = "strength"
    )]
    salt: Option<String>,
    /// Which salt, for a volume: table, flake, dense
    #[arg(long)]
    kind: Option<String>,
    /// Strength wanted: "10 %" or "60 SAL"
    #[arg(long)]
    strength: Option<String>,
    /// Its water: "2 L" or "2 kg"
    #[arg(long)]
    water: String,
    /// Sugar in it
    #[arg(long)]
    sugar: Option<String>,
    /// Which sugar, for a volume: white, brown
    #[arg(long)]
    sugar_kind: Option<String>,
    /// Bring it to this strength: "12.3 %" or "40 SAL"
    #[arg(long)]
    to: Option<String>,
    /// Food left in it until even
    #[arg(long, value_name = "WEIGHT")]
    food: Option<String>,
    /// Temperature of the tap, to take part of the water as ice
    #[arg(long, requires = "chill", value_name = "TEMPERATURE")]
    tap: Option<String>,
    /// Temperature wanted of the mix
    #[arg(long, requires = "tap", value_name = "TEMPERATURE")]
    chill: Option<String>,
    /// How warm it is when the salometer goes in, to tell what it will show
    #[arg(long, value_name = "TEMPERATURE")]
    read_at: Option<String>,
}

impl Brine {
    pub(super) fn answer(&self, larder: &Larder, cups: Customary) -> Result<Answer, Refusal> {
        let made = match (&self.salt, &self.strength) {
            (Some(salt), _) => {
                let kinds = larder.kinds("salt", self.kind.as_deref())?;
                brine::Made::With(read::measure("--salt", salt, cups, "salt", kinds)?)
            }
            (None, Some(strength)) => brine::Made::ToBe(read::strength("--strength", strength)?),
            (None, None) => {
                return Err(Refusal::new(
                    "found neither --salt nor --strength",
                    "one of them",
                    "give one",
                ));
            }
        };
        let sugar = match &self.sugar {
            Some(text) => {
                let kinds = larder.kinds("sugar", self.sugar_kind.as_deref())?;
                Some(read::measure("--sugar", text, cups, "sugar", kinds)?)
            }
            None => None,
        };
        let point = |entry: &str, text: &str| {
            read_temperature(text).map_err(|e| Refusal::from(e).about(entry))
        };
        let chill = match (&self.tap, &self.chill) {
            (Some(tap), Some(chill)) => Some((point("--tap", tap)?, point("--chill", chill)?)),
            _ => None,
        };
        let ask = brine::Brine {
            made,
            water: read::measure("--water", &self.water, cups, "water", larder.water())?,
            sugar,
            to: self
                .to
                .as_deref()
                .map(|t| read::strength("--to", t))
                .transpose()?,
            food: self
                .food
                .as_deref()
                .map(|f| read::mass("--food", f))
                .transpose()?,
            chill,
            read_at: self
                .read_at
                .as_deref()
                .map(|t| point("--read-at", t))
                .transpose()?,
        };
        brine::brine(&ask)
    }
}
