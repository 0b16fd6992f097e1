//! Is it cooling fast enough?

use kitchen::site::RuleSet;
use plan::ask::cool::{Cool as Question, Followed, Seen, cool, followed};
use plan::ask::warmth::{Lying, Matter};
use plan::ask::{Answer, Refusal};
use units::Temperature;

use super::{curve, read, warmth};

/// `ask cool`
#[derive(Debug, clap::Args)]
pub(super) struct Cool {
    /// Thickness of a piece open on both faces: "25 mm"
    #[arg(long, value_name = "LENGTH", conflicts_with_all = ["depth", "readings"])]
    thickness: Option<String>,
    /// Depth in a tub, open above: "50 mm"
    #[arg(long, value_name = "LENGTH", conflicts_with = "readings")]
    depth: Option<String>,
    /// How warm it is: "60 °C"
    #[arg(long, value_name = "TEMPERATURE", conflicts_with = "readings")]
    from: Option<String>,
    /// fridge, fan-fridge, blast, ice-bath or stirred-ice-bath
    #[arg(long = "in", value_name = "PLACE", conflicts_with = "readings")]
    place: Option<String>,
    /// Air or water around it: "-5 °C"; an ice bath is 0 °C
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    air: Option<String>,
    /// trout, salmon, water, or "water 70 %, protein 20 %, fat 9 %, ash 1 %"
    #[arg(long, conflicts_with = "readings")]
    food: Option<String>,
    /// Readings of the core with their times, two or more: "57 °C at 0:00" and "34 °C at 0:55"
    #[arg(long = "reading", value_name = "TEMPERATURE at TIME")]
    readings: Vec<String>,
    /// Whose rule: us, canada, england or eu
    #[arg(long = "place", default_value = "us", value_parser = ["us", "canada", "england", "eu"])]
    rule: String,
    /// How many pieces lie on each other: their joint thickness counts
    #[arg(long, value_name = "PIECES", default_value_t = 1, conflicts_with_all = ["depth", "readings"])]
    stack: u32,
    /// Write the picture of temperature against time here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Cool {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let place = RuleSet::find(&self.rule).unwrap_or(RuleSet::Us);
        let pictured = if self.readings.is_empty() {
            cool(&self.planned(place)?)?
        } else {
            followed(&self.seen(place)?)?
        };
        curve::kept(pictured, self.curve.as_deref())
    }

    fn seen(&self, place: RuleSet) -> Result<Followed, Refusal> {
        if self.readings.len() < 2 {
            return Err(Refusal::new(
                format!("--reading: found {} of them", self.readings.len()),
                "two readings at least",
                "give all of them, in the order they were taken",
            ));
        }
        Ok(Followed {
            readings: self
                .readings
                .iter()
                .map(|text| seen(text))
                .collect::<Result<_, _>>()?,
            air: self.air(None)?,
            place,
        })
    }

    fn air(&self, word: Option<&str>) -> Result<Temperature, Refusal> {
        match (&self.air, word) {
            (Some(air), _) => read::temperature("--air", air),
            (None, Some("ice-bath" | "stirred-ice-bath")) => Ok(Temperature::celsius(0.0)?),
            (None, _) => Err(Refusal::new(
                "found no --air",
                "the temperature of what it stands in, such as 3 °C",
                "read it and give it",
            )),
        }
    }

    fn planned(&self, place: RuleSet) -> Result<Question, Refusal> {
        let (thickness, lying) = match (&self.thickness, &self.depth) {
            (Some(thick), _) => (read::length("--thickness", thick)?, Lying::BothFaces),
            (None, Some(deep)) => (read::length("--depth", deep)?, Lying::OneFace),
            (None, None) => {
                return Err(Refusal::new(
                    "found neither --thickness, nor --depth, nor two --reading",
                    "one of them",
                    "give --thickness for a piece, --depth for a tub, or two readings",
                ));
            }
        };
        let missing =
            |entry: &str, such: &str| Refusal::new(format!("found no {entry}"), such, "give it");
        let from = self
            .from
            .as_deref()
            .ok_or_else(|| missing("--from", "how warm it is, such as 60 °C"))?;
        let word = self.place.as_deref().ok_or_else(|| {
            missing(
                "--in",
                "what it stands in: fridge, fan-fridge, blast, ice-bath",
            )
        })?;
        let matter = match &self.food {
            Some(food) => warmth::matter("--food", food)?,
            None if lying == Lying::OneFace => Matter::Water,
            None => Matter::Trout,
        };
        Ok(Question {
            thickness,
            stacked: self.stack,
            lying,
            matter,
            from: read::temperature("--from", from)?,
            air: self.air(Some(word))?,
            surroundings: warmth::surroundings("--in", word)?,
            called: word.to_owned(),
            place,
        })
    }
}

/// "34 °C at 0:55": hours and minutes of the clock, or since heat off.
fn seen(text: &str) -> Result<Seen, Refusal> {
    let wrong = || {
        Refusal::new(
            format!("--reading: found \"{text}\""),
            "a temperature and a time such as \"34 °C at 0:55\" or \"34 °C at 17:20\"",
            "write both",
        )
    };
    let (core, time) = text.split_once(" at ").ok_or_else(wrong)?;
    let (hours, minutes) = time.trim().split_once(':').ok_or_else(wrong)?;
    let hours: u32 = hours.parse().map_err(|_| wrong())?;
    let minutes: u32 = minutes.parse().map_err(|_| wrong())?;
    if hours > 23 || minutes > 59 {
        return Err(wrong());
    }
    Ok(Seen {
        core: read::temperature("--reading", core)?,
        minute: f64::from(hours * 60 + minutes),
    })
}
