//! When does the core get there?

use plan::ask::cook::{Cook as Question, Stretch, cook};
use plan::ask::warmth::Lying;
use plan::ask::{Answer, Refusal};

use super::{curve, read, warmth};

/// `ask cook`
#[derive(Debug, clap::Args)]
pub(super) struct Cook {
    /// Thickness, or diameter: "25 mm"
    #[arg(long, value_name = "LENGTH")]
    thickness: String,
    /// How it lies: rack (both faces), tray (one face), round
    #[arg(long, default_value = "rack", value_parser = ["rack", "tray", "round"])]
    on: String,
    /// Air and time, stretch after stretch: "50 °C 60 min, 50 °C to 82 °C 20 min, 82 °C 75 min"
    #[arg(long, value_name = "STRETCHES")]
    programme: String,
    /// How warm it goes in
    #[arg(long, default_value = "4 °C", value_name = "TEMPERATURE")]
    from: String,
    /// The core asked for: "63 °C"
    #[arg(long, value_name = "TEMPERATURE")]
    core: String,
    /// How long it is to be held: "30 min"
    #[arg(long, value_name = "TIME")]
    hold: String,
    /// trout, salmon, water, or "water 70 %, protein 20 %, fat 9 %, ash 1 %"
    #[arg(long, default_value = "trout")]
    food: String,
    /// What it is in: fan-smoker or smoker
    #[arg(long = "in", default_value = "fan-smoker")]
    place: String,
    /// Relative humidity of the air over a wet surface; left out, the surface is dry
    #[arg(long, value_name = "PERCENT")]
    humidity: Option<String>,
    /// How many pieces lie on each other: their joint thickness counts
    #[arg(long, value_name = "PIECES", default_value_t = 1)]
    stack: u32,
    /// Write the picture of core, surface and air here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Cook {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let pictured = cook(&Question {
            thickness: read::length("--thickness", &self.thickness)?,
            stacked: self.stack,
            lying: match self.on.as_str() {
                "tray" => Lying::OneFace,
                "round" => Lying::Round,
                _ => Lying::BothFaces,
            },
            matter: warmth::matter("--food", &self.food)?,
            from: read::temperature("--from", &self.from)?,
            surroundings: warmth::surroundings("--in", &self.place)?,
            programme: self
                .programme
                .split(',')
                .map(stretch)
                .collect::<Result<_, _>>()?,
            humidity_pct: self
                .humidity
                .as_deref()
                .map(|h| read::percent("--humidity", h))
                .transpose()?,
            core: read::temperature("--core", &self.core)?,
            hold: read::elapsed("--hold", &self.hold)?,
        })?;
        curve::kept(pictured, self.curve.as_deref())
    }
}

/// "82 °C 75 min", or "50 °C to 82 °C 20 min".
fn stretch(text: &str) -> Result<Stretch, Refusal> {
    let entry = "--programme";
    let (from, rest) = match text.split_once(" to ") {
        Some((from, rest)) => (Some(read::temperature(entry, from)?), rest),
        None => (None, text),
    };
    let unit = rest
        .find(['C', 'F'])
        .and_then(|at| rest.split_at_checked(at + 1));
    let Some((air, time)) = unit else {
        return Err(Refusal::new(
            format!("{entry}: found \"{}\"", text.trim()),
            "air and time such as 82 °C 75 min",
            "write both, stretches set apart by commas",
        ));
    };
    let to = read::temperature(entry, air)?;
    Ok(Stretch {
        from: from.unwrap_or(to),
        to,
        time: read::elapsed(entry, time)?,
    })
}
