//! When may it come out of the cure?

use plan::ask::cure::{Contact, Cure as Question, Cut, Find, Wall, Wanted, cure, trade_off};
use plan::ask::{Answer, Refusal};

use super::{curve, hour, read};

/// `ask cure`
#[derive(Debug, clap::Args)]
pub(super) struct Cure {
    /// The usual piece: "25 mm"
    #[arg(long, value_name = "LENGTH")]
    thickness: String,
    /// The thinnest piece
    #[arg(long, value_name = "LENGTH")]
    thin: Option<String>,
    /// The thickest piece
    #[arg(long, value_name = "LENGTH")]
    thick: Option<String>,
    /// Faces across the thickness that take salt: 1 with skin on, 2 without
    #[arg(long, value_name = "1 OR 2")]
    faces: Option<u8>,
    /// slab, cylinder or finger
    #[arg(long, default_value = "slab")]
    shape: String,
    /// Width of a finger
    #[arg(long, value_name = "LENGTH")]
    width: Option<String>,
    /// Salt laid on, percent of green weight
    #[arg(
        long,
        value_name = "PERCENT",
        required_unless_present = "brine_strength"
    )]
    salt: Option<String>,
    /// Sugar laid on, percent of green weight
    #[arg(long, value_name = "PERCENT", requires = "salt")]
    sugar: Option<String>,
    /// Strength of a brine instead: "15 %" or "60 SAL"
    #[arg(long, value_name = "STRENGTH", conflicts_with = "salt")]
    brine_strength: Option<String>,
    /// Its water, percent of green weight; left out, it does not weaken
    #[arg(long, value_name = "PERCENT", requires = "brine_strength")]
    brine_water: Option<String>,
    /// Water of the green flesh
    #[arg(long, value_name = "PERCENT", default_value = "72 %")]
    water: String,
    /// How warm it is kept: "3 °C"
    #[arg(long, value_name = "TEMPERATURE")]
    at: String,
    /// Share of the final salt that is to be in: "95 %"
    #[arg(long, value_name = "PERCENT", required_unless_present_any = ["core", "mean"])]
    goal: Option<String>,
    /// Salt in the water of the thickest place: "3.5 %"
    #[arg(long, value_name = "PERCENT", conflicts_with_all = ["goal", "mean"])]
    core: Option<String>,
    /// Mean salt of the piece: "2.2 % to 2.8 %"
    #[arg(long, value_name = "PERCENT to PERCENT", conflicts_with = "goal")]
    mean: Option<String>,
    /// Diffusivity of salt fitted to your own log, m²/s at that temperature: 1e-9
    #[arg(long, value_name = "NUMBER")]
    diffusivity: Option<String>,
    /// What becomes of the juice a dry cure draws: forgotten, or stays on the piece as in a bag
    #[arg(long, default_value = "forgotten", value_parser = ["forgotten", "stays"])]
    juice: String,
    /// Water that leaves for each weight of salt that enters, from your weighings: "1.5" or "1 to 2"
    #[arg(long, value_name = "NUMBER to NUMBER", allow_hyphen_values = true)]
    water_out: Option<String>,
    /// When it went in: "2027-10-05 10:10"; the answer is then an hour
    #[arg(long = "in", value_name = "DATE HOUR", requires = "zone")]
    into: Option<String>,
    /// The zone of the kitchen's clock: America/Toronto
    #[arg(long, value_name = "ZONE", requires = "into")]
    zone: Option<String>,
    /// The hour it is, or "clock" to read it off this machine
    #[arg(long, value_name = "DATE HOUR", requires = "into")]
    now: Option<String>,
    /// What is looked for: "least salt", "thickest cut" or "shortest cure"; --curve then draws what is
    /// given for it
    #[arg(long, value_name = "WORDS")]
    find: Option<String>,
    /// A planned time: how likely the goal is then, and what would do
    #[arg(long, value_name = "TIME")]
    time: Option<String>,
    /// Seed of the draws
    #[arg(long, default_value_t = 1)]
    seed: u32,
    /// Write the picture of salt against time here
    #[arg(long, value_name = "FILE.svg")]
    curve: Option<String>,
}

impl Cure {
    pub(super) fn answer(&self) -> Result<Answer, Refusal> {
        let length = |entry: &str, text: &Option<String>| {
            text.as_deref().map(|t| read::length(entry, t)).transpose()
        };
        let cut = match (self.shape.as_str(), length("--width", &self.width)?) {
            ("slab", None) => Cut::Slab,
            ("cylinder", None) => Cut::Cylinder,
            ("finger", Some(width)) => Cut::Finger { width },
            ("finger", None) => {
                return Err(Refusal::new(
                    "--shape: found a finger without its width",
                    "a width such as 30 mm",
                    "give it with --width",
                ));
            }
            ("slab" | "cylinder", Some(_)) => {
                return Err(Refusal::new(
                    format!("--width: found one for a {}", self.shape),
                    "a width only for a finger",
                    "leave it out, or write --shape finger",
                ));
            }
            (other, _) => {
                return Err(Refusal::new(
                    format!("--shape: found \"{other}\""),
                    "slab, cylinder or finger",
                    "write one of them",
                ));
            }
        };
        let both_faces = match (self.faces, cut) {
            (Some(2), _) | (None, Cut::Cylinder) => true,
            (Some(1), Cut::Slab | Cut::Finger { .. }) => false,
            (Some(1), Cut::Cylinder) => {
                return Err(Refusal::new(
                    "--faces: found 1 for a cylinder",
                    "a cylinder takes salt all round",
                    "leave --faces out",
                ));
            }
            (Some(other), _) => {
                return Err(Refusal::new(
                    format!("--faces: found {other}"),
                    "1 with skin on, 2 without",
                    "write 1 or 2",
                ));
            }
            (None, _) => {
                return Err(Refusal::new(
                    "found no --faces",
                    "1 with skin on (salt enters one side), 2 without: it makes four times the time",
                    "give --faces 1 or --faces 2",
                ));
            }
        };
        let contact = match (&self.salt, &self.brine_strength) {
            (Some(salt), _) => Contact::Dry {
                salt_pct: read::percent("--salt", salt)?,
                sugar_pct: match &self.sugar {
                    Some(sugar) => read::percent("--sugar", sugar)?,
                    None => 0.0,
                },
            },
            (None, Some(strength)) => Contact::Brine {
                strength_pct: read::strength("--brine-strength", strength)?.pct(),
                water_pct: self
                    .brine_water
                    .as_deref()
                    .map(|w| read::percent("--brine-water", w))
                    .transpose()?,
            },
            (None, None) => {
                return Err(Refusal::new(
                    "found neither --salt nor --brine-strength",
                    "one of them",
                    "give one",
                ));
            }
        };
        let wanted = match (&self.goal, &self.core, &self.mean) {
            (Some(goal), None, None) => Wanted::Uptake {
                pct: read::percent("--goal", goal)?,
            },
            (None, Some(core), None) => Wanted::Core {
                pct: read::percent("--core", core)?,
            },
            (None, None, Some(mean)) => {
                let (least_pct, most_pct) = read::percents("--mean", mean)?;
                Wanted::Mean {
                    least_pct,
                    most_pct,
                }
            }
            _ => {
                return Err(Refusal::new(
                    "found no goal, or several",
                    "one of --goal, --core and --mean",
                    "give one",
                ));
            }
        };
        let diffusivity = self
            .diffusivity
            .as_deref()
            .map(read::diffusivity)
            .transpose()?;
        let find = self
            .find
            .as_deref()
            .map(|words| read::find(words, FINDS))
            .transpose()?;
        let question = Question {
            thickness: read::length("--thickness", &self.thickness)?,
            thin: length("--thin", &self.thin)?,
            thick: length("--thick", &self.thick)?,
            cut,
            both_faces,
            contact,
            water_pct: read::percent("--water", &self.water)?,
            at: read::temperature("--at", &self.at)?,
            wanted,
            diffusivity,
            time: self
                .time
                .as_deref()
                .map(|t| read::elapsed("--time", t))
                .transpose()?,
            juice_stays: self.juice == "stays",
            water_out: self.water_out.as_deref().map(water_out).transpose()?,
            wall: self.wall()?,
            find,
            seed: u64::from(self.seed),
        };
        let mut pictured = cure(&question)?;
        if let (Some(find), Some(_)) = (find, &self.curve) {
            pictured.picture = trade_off(&question, find)?;
        }
        curve::kept(pictured, self.curve.as_deref())
    }

    fn wall(&self) -> Result<Option<Wall>, Refusal> {
        let (Some(into), Some(name)) = (&self.into, &self.zone) else {
            return Ok(None);
        };
        let zone = hour::zone("--zone", name)?;
        Ok(Some(Wall {
            into: hour::read("--in", into, &zone)?,
            now: match self.now.as_deref() {
                Some("clock") => Some(jiff::Timestamp::now()),
                Some(now) => Some(hour::read("--now", now, &zone)?),
                None => None,
            },
            zone_name: name.trim().to_owned(),
            zone,
        }))
    }
}

/// What can be looked for, in words.
const FINDS: &[(&str, Find)] = &[
    ("least salt", Find::LeastSalt),
    ("thickest cut", Find::ThickestCut),
    ("shortest cure", Find::ShortestCure),
];

/// "1.5", or "1 to 2".
fn water_out(text: &str) -> Result<(f64, f64), Refusal> {
    let one = |text: &str| {
        let number = text.trim().parse::<f64>().ok();
        number.filter(|n| n.is_finite()).ok_or_else(|| {
            Refusal::new(
                format!("--water-out: found \"{}\"", text.trim()),
                "kilograms of water out for each kilogram of salt in, such as 1.5 or 1 to 2",
                "weigh before and after, and write the number alone",
            )
        })
    };
    match text.split_once(" to ") {
        Some((least, most)) => Ok((one(least)?, one(most)?)),
        None => Ok((one(text)?, one(text)?)),
    }
}
