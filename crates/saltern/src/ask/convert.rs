//! Cups, ounces and °F in grams and °C.

use plan::ask::convert::{Asked, Convert as Question, Unit, convert};
use plan::ask::{Answer, Refusal};
use science::brine::Strength;
use units::{Amount, Customary, read_amount};

use super::names::{Larder, has_form, kind};
use super::read;

/// `ask convert`
#[derive(Debug, clap::Args)]
pub(super) struct Convert {
    /// The amount: "1 1/2 cups", "145 °F", "2 lb 3 oz", "60 SAL"
    amount: String,
    /// What it is of: honey, "salt, flake"
    #[arg(long, value_name = "NAME")]
    of: Option<String>,
    /// In which form: loose, packed, sliced
    #[arg(long)]
    form: Option<String>,
    /// The unit wanted: g, oz, mL, cup, °C, SAL
    #[arg(long, value_name = "UNIT")]
    to: Option<String>,
}

impl Convert {
    pub(super) fn answer(&self, larder: &Larder, cups: Customary) -> Result<Answer, Refusal> {
        let to = match &self.to {
            Some(word) => Some(Unit::find(word).ok_or_else(|| {
                let known: Vec<&str> = Unit::WORDS
                    .iter()
                    .filter_map(|(_, w)| w.first().copied())
                    .collect();
                Refusal::new(
                    format!("--to: found \"{word}\""),
                    format!("one of {}", known.join(", ")),
                    "write one of those",
                )
            })?),
            None => None,
        };
        let mut of = None;
        let mut each = None;
        let asked = self.asked(cups, to)?;
        if let Some(name) = &self.of {
            let found = larder.find(name)?;
            if let [one] = found.as_slice() {
                has_form(one, self.form.as_deref())?;
                let word = match &asked {
                    Asked::Amount(Amount::Count(count)) => Some(count.word().to_owned()),
                    _ => None,
                };
                let piece = word.and_then(|w| {
                    one.each
                        .iter()
                        .find(|e| e.word == w || format!("{}s", e.word) == w)
                });
                each = piece.map(|p| (p.word.clone(), p.mass, p.source.clone()));
            }
            of = Some((
                name.clone(),
                found
                    .into_iter()
                    .map(|i| kind(i, self.form.as_deref()))
                    .collect(),
            ));
        }
        convert(&Question {
            asked,
            written: self.amount.clone(),
            of,
            each,
            to,
        })
    }

    fn asked(&self, cups: Customary, to: Option<Unit>) -> Result<Asked, Refusal> {
        if read::salometer(&self.amount).is_some() {
            return Ok(Asked::Brine(read::strength("the amount", &self.amount)?));
        }
        match read_amount(&self.amount, cups).map_err(|e| Refusal::from(e).about("the amount"))? {
            Amount::Percent(pct) if to == Some(Unit::Salometer) => {
                Ok(Asked::Brine(Strength::percent(pct)?))
            }
            amount => Ok(Asked::Amount(amount)),
        }
    }
}
