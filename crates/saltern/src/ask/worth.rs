//! Prepare it here or buy it ready?

use plan::ask::worth::{Worth as Question, worth};
use plan::ask::{Answer, Refusal};
use sources::{Citation, list};
use units::{Customary, Density, Volume};

use super::names::{Larder, has_form};
use super::read;

/// `ask worth`
#[derive(Debug, clap::Args)]
pub(super) struct Worth {
    /// What it is
    #[arg(long, value_name = "NAME")]
    item: String,
    /// How much, prepared
    #[arg(long, default_value = "1 L", value_name = "VOLUME")]
    litre: String,
    /// In which form: "peeled cloves"
    #[arg(long)]
    form: Option<String>,
    /// What one litre of it weighs, when you weighed it
    #[arg(long, value_name = "WEIGHT")]
    weighs: Option<String>,
    /// Trim yield, when you know better
    #[arg(long, value_name = "YIELD")]
    trim: Option<String>,
    /// Price of a kilogram as purchased
    #[arg(long)]
    price: String,
    /// Hands-on minutes for it, one or more paces: 60,20,15
    #[arg(long, value_delimiter = ',', required = true)]
    minutes: Vec<String>,
    /// Wage of an hour
    #[arg(long)]
    wage: String,
    /// Price of a kilogram bought ready
    #[arg(long)]
    against: Option<String>,
    /// Sign printed before sums
    #[arg(long, default_value = "$")]
    currency: String,
}

impl Worth {
    pub(super) fn answer(&self, larder: &Larder, cups: Customary) -> Result<Answer, Refusal> {
        let item = larder.one(&self.item)?;
        has_form(item, self.form.as_deref())?;
        let density = match &self.weighs {
            Some(text) => {
                let weighed = Density::from_weighed(
                    read::mass("--weighs", text)?,
                    Volume::from_litres(1.0)?,
                )?;
                (
                    weighed,
                    "a litre weighed".to_owned(),
                    Citation::whole(&list::ENTERED),
                )
            }
            None => {
                let found = item.density_of(self.form.as_deref()).ok_or_else(|| {
                    Refusal::new(
                        format!("found no weight per volume for {}", item.name),
                        "what one litre of it weighs, prepared",
                        "weigh a litre and give it with --weighs",
                    )
                })?;
                let note = found
                    .note
                    .as_ref()
                    .map_or_else(String::new, |n| format!(", {n}"));
                (
                    found.density,
                    format!("{}{note}", found.form),
                    found.source.clone(),
                )
            }
        };
        let trim = match &self.trim {
            Some(text) => (
                read::one_yield("--trim", text)?.ratio(),
                "as entered".to_owned(),
                Citation::whole(&list::ENTERED),
            ),
            None => {
                let found = item.trim.first().ok_or_else(|| {
                    Refusal::new(
                        format!("found no trim yield for {}", item.name),
                        "edible over purchased",
                        "weigh before and after once and give it with --trim",
                    )
                })?;
                (found.mean, found.cut.clone(), found.source.clone())
            }
        };
        worth(&Question {
            name: item.name.clone(),
            volume: read::volume("--litre", &self.litre, cups)?,
            density,
            trim,
            price: read::money("--price", &self.price)?,
            paces: self
                .minutes
                .iter()
                .map(|m| read::pace("--minutes", m))
                .collect::<Result<_, _>>()?,
            wage: read::money("--wage", &self.wage)?,
            against: self
                .against
                .as_deref()
                .map(|a| read::money("--against", a))
                .transpose()?,
            currency: self.currency.clone(),
        })
    }
}
