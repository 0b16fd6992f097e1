//! What a quick pickle comes to once even.

use plan::ask::pickle::{Buffering, Find};
use plan::ask::{Answer, Kind, Measure, Pictured, Refusal, pickle};
use science::acid::Acid;
use sources::{Citation, list};
use units::Customary;

use super::names::{Larder, kind};
use super::{curve, read};

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
    /// Another acid of the liquor, its name and weight: "citric 5 g"
    #[arg(long, value_name = "NAME WEIGHT")]
    acid: Vec<String>,
    /// A trial with this vinegar, for the pH: "100 g, 100 g water, 8 g vinegar, pH 6.1 to 4.2"
    #[arg(long, value_name = "TRIAL", conflicts_with_all = ["buffer", "ep_ph"])]
    trial: Option<String>,
    /// How the vegetable binds acid, mmol for each kg and unit of pH: "10 to 30", or "assumed"
    #[arg(long, value_name = "NUMBER to NUMBER", requires = "ep_ph")]
    buffer: Option<String>,
    /// pH of the raw vegetable, read: 6.0
    #[arg(long, value_name = "PH", requires = "buffer")]
    ep_ph: Option<String>,
    /// What is looked for: "least vinegar" or "weakest vinegar"
    #[arg(long, value_name = "WORDS")]
    find: Option<String>,
    /// Seed of the draws
    #[arg(long, default_value_t = 1)]
    seed: u32,
    /// Write the picture of pH against vinegar here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

/// What can be looked for, in words.
const FINDS: &[(&str, Find)] = &[
    ("least vinegar", Find::LeastVinegar),
    ("weakest vinegar", Find::WeakestVinegar),
];

/// Acids by their word.
const ACIDS: &[(&str, Acid)] = &[
    ("acetic", Acid::Acetic),
    ("lactic", Acid::Lactic),
    ("citric", Acid::Citric),
    ("tartaric", Acid::Tartaric),
    ("malic", Acid::Malic),
    ("phosphoric", Acid::Phosphoric),
];

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
            acids: self
                .acid
                .iter()
                .map(|text| acid(text))
                .collect::<Result<_, _>>()?,
            buffering: self.buffering()?,
            find: self
                .find
                .as_deref()
                .map(|words| read::find(words, FINDS))
                .transpose()?,
            seed: u64::from(self.seed),
        };
        let answer = pickle::pickle(&ask)?;
        match &self.curve {
            None => Ok(answer),
            Some(path) => curve::kept(
                Pictured {
                    answer,
                    picture: pickle::picture(&ask)?,
                },
                Some(path),
            ),
        }
    }

    fn buffering(&self) -> Result<Buffering, Refusal> {
        if let Some(text) = &self.trial {
            return trial(text);
        }
        let (Some(buffer), Some(raw)) = (&self.buffer, &self.ep_ph) else {
            return Ok(Buffering::Unknown);
        };
        let raw = read::ph("--ep-ph", raw)?;
        if buffer.trim() == "assumed" {
            return Ok(Buffering::Assumed { raw });
        }
        let (least, most) = match buffer.split_once(" to ") {
            Some((least, most)) => (
                read::ratio("--buffer", least)?,
                read::ratio("--buffer", most)?,
            ),
            None => {
                let one = read::ratio("--buffer", buffer)?;
                (one, one)
            }
        };
        if !(least <= most && most <= MOST_BUFFER && most > 0.0) {
            return Err(Refusal::new(
                format!("--buffer: found {least} to {most}"),
                format!(
                    "the lower first, above 0 and at most {MOST_BUFFER} mmol for each kilogram and unit of pH"
                ),
                "run a trial and give it with --trial: it needs no such number",
            ));
        }
        Ok(Buffering::Between { raw, least, most })
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

/// Most buffer capacity taken for what it says, mmol/(kg pH), as the science has it.
const MOST_BUFFER: f64 = 200.0;

/// "citric 5 g".
fn acid(text: &str) -> Result<(Acid, units::Mass), Refusal> {
    let (name, weight) = text.trim().split_once(' ').unwrap_or((text.trim(), ""));
    let found = ACIDS.iter().find(|(word, _)| *word == name);
    let Some((_, acid)) = found else {
        let names: Vec<&str> = ACIDS.iter().map(|(word, _)| *word).collect();
        return Err(Refusal::new(
            format!("--acid: found \"{text}\""),
            format!("{} and a weight", names.join(", ")),
            "write it so: citric 5 g",
        ));
    };
    Ok((*acid, read::mass("--acid", weight)?))
}

/// "100 g, 100 g water, 8 g vinegar, pH 6.1 to 4.2".
fn trial(text: &str) -> Result<Buffering, Refusal> {
    let wrong = || {
        Refusal::new(
            format!("--trial: found \"{text}\""),
            "the vegetable, the water, the vinegar and both readings",
            "write it so: 100 g, 100 g water, 8 g vinegar, pH 6.1 to 4.2",
        )
    };
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let [vegetable, water, vinegar, readings] = parts.as_slice() else {
        return Err(wrong());
    };
    let named = |part: &str, word: &str| {
        let weight = part.strip_suffix(word).ok_or_else(wrong)?;
        read::mass("--trial", weight)
    };
    let readings = readings.strip_prefix("pH ").ok_or_else(wrong)?;
    let (before, after) = readings.split_once(" to ").ok_or_else(wrong)?;
    Ok(Buffering::Trial {
        vegetable: read::mass("--trial", vegetable)?,
        water: named(water, " water")?,
        vinegar: named(vinegar, " vinegar")?,
        before: read::ph("--trial", before)?,
        after: read::ph("--trial", after)?,
    })
}
