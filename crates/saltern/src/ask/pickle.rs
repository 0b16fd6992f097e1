//! What a quick pickle comes to once even.

use plan::ask::{Answer, Kind, Measure, Refusal, pickle};
use sources::{Citation, list};
use units::Customary;

use super::names::{Larder, kind};
use super::read;

/// `ask pickle`
#[derive(Debug, clap::Args)]
pub(super) struct Pickle {
    /// Vinegar, by weight
    #[arg(long)]
    vinegar: String,
    /// Which vinegar, when it is given by volume
    #[arg(long, value_name = "NAME")]
    vinegar_kind: Option<String>,
    /// Acid of the vinegar, from its label
    #[arg(long, value_name = "PERCENT")]
    strength: String,
    /// Water in the liquor as poured
    #[arg(long)]
    water: Option<String>,
    /// Salt
    #[arg(long)]
    salt: Option<String>,
    /// Which salt, for a volume
    #[arg(long, value_name = "NAME")]
    salt_kind: Option<String>,
    /// Sugar
    #[arg(long)]
    sugar: Option<String>,
    /// Which sugar, for a volume
    #[arg(long, value_name = "NAME")]
    sugar_kind: Option<String>,
    /// Spice and whatever else stays in the liquor
    #[arg(long, value_name = "WEIGHT")]
    other: Option<String>,
    /// The vegetable, trimmed, as it goes in
    #[arg(long, value_name = "WEIGHT")]
    ep: String,
    /// Which vegetable: its water is looked up
    #[arg(long, value_name = "NAME")]
    item: Option<String>,
    /// Its water, when you know better
    #[arg(long, value_name = "PERCENT")]
    ep_water: Option<String>,
}

impl Pickle {
    pub(super) fn answer(&self, larder: &Larder, cups: Customary) -> Result<Answer, Refusal> {
        let vinegar_kinds = match &self.vinegar_kind {
            Some(name) => larder
                .find(name)?
                .into_iter()
                .map(|i| kind(i, None))
                .collect(),
            None => Vec::new(),
        };
        let family = |entry: &str, text: &Option<String>, family: &str, picked: &Option<String>| {
            let Some(text) = text else { return Ok(None) };
            let kinds = larder.kinds(family, picked.as_deref())?;
            read::measure(entry, text, cups, family, kinds).map(Some)
        };
        let item = self
            .item
            .as_deref()
            .map(|name| larder.one(name))
            .transpose()?;
        let edible_water = match (&self.ep_water, item) {
            (Some(text), _) => Some((
                read::share("--ep-water", text, "vegetable")?.pct(),
                Citation::whole(&list::ENTERED),
            )),
            (None, Some(item)) => item
                .composition
                .as_ref()
                .and_then(|c| Some((c.water?, c.source.clone()))),
            (None, None) => None,
        };
        let ask = pickle::Pickle {
            vinegar: self.poured(cups, vinegar_kinds)?,
            strength: read::share("--strength", &self.strength, "vinegar")?,
            water: match &self.water {
                Some(text) => Some(read::measure(
                    "--water",
                    text,
                    cups,
                    "water",
                    larder.water(),
                )?),
                None => None,
            },
            salt: family("--salt", &self.salt, "salt", &self.salt_kind)?,
            sugar: family("--sugar", &self.sugar, "sugar", &self.sugar_kind)?,
            other: self
                .other
                .as_deref()
                .map(|o| read::mass("--other", o))
                .transpose()?,
            edible: read::mass("--ep", &self.ep)?,
            name: item.map_or_else(|| "vegetable".to_owned(), |i| i.name.clone()),
            edible_water,
        };
        pickle::pickle(&ask)
    }

    /// The vinegar by weight, or by volume when it says which vinegar.
    fn poured(&self, cups: Customary, kinds: Vec<Kind>) -> Result<Measure, Refusal> {
        let measure = read::measure("--vinegar", &self.vinegar, cups, "vinegar", kinds)?;
        match &measure {
            Measure::Poured { kinds, .. } if kinds.is_empty() => Err(Refusal::new(
                format!(
                    "--vinegar: found a volume, \"{}\", but not which vinegar",
                    self.vinegar.trim()
                ),
                "a weight such as 676 g, or the vinegar's name besides",
                "weigh it, or name it with --vinegar-kind \"white vinegar\"",
            )),
            _ => Ok(measure),
        }
    }
}
