//! `saltern verdict`: what was entered by hand against a rule of the place. The rules are in `safety::facts`.

use jiff::civil::Date;
use kitchen::site::RuleSet;
use safety::facts::{
    Cured, CuredPiece, DatedPart, Fish, Freezing, Frozen, Origin, Pack, SaltSample, Taken, cured,
    date_marked, parasites, water_phase_salt,
};
use safety::judge::{Refusal, Terms};
use safety::nitrite::{Product, Way, Weights};
use safety::{Judgement, Verdict};
use serde_json::json;
use units::{Ppm, read_percent};

use crate::exit::{BadInput, Outcome, say};
use crate::judging::{state, text, values};

/// `saltern verdict WHAT`
#[derive(Debug, clap::Args)]
pub(crate) struct Asked {
    #[command(subcommand)]
    what: What,
    /// Whose rules: us, canada, england or eu; us when not said, and the answer says so
    #[arg(long, global = true, value_parser = ["us", "canada", "england", "eu"])]
    place: Option<String>,
    /// A state of the United States whose own rules hold
    #[arg(long, global = true, value_parser = ["maine", "michigan", "new-york", "pennsylvania"])]
    state: Option<String>,
    /// For programs
    #[arg(long, global = true)]
    json: bool,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// Must this fish be frozen first: --species "coho salmon" --origin wild
    Fish {
        /// Species as it was received; the Latin name tells one tuna from another
        #[arg(long)]
        species: String,
        /// wild, farmed, or unknown
        #[arg(long, default_value = "unknown", value_parser = ["wild", "farmed", "unknown"])]
        origin: String,
        /// Farmed on pellets free of live parasites, by the supplier's letter: yes or no
        #[arg(long, value_parser = ["yes", "no"])]
        pellets: Option<String>,
        /// It is hot-smoked or cooked through
        #[arg(long)]
        heated: bool,
        /// It was never frozen
        #[arg(long)]
        never_frozen: bool,
    },
    /// Is there salt enough where it is thickest: --sample "3, thickest, 2.6 %, 62.0 %" --pack air
    Salt {
        /// Name, where (thickest, elsewhere or blended), salt and water of the sample; again for more
        #[arg(
            long = "sample",
            required = true,
            value_name = "NAME, WHERE, SALT, WATER"
        )]
        samples: Vec<String>,
        /// How it is packed: air, or no-oxygen
        #[arg(long, value_parser = ["air", "no-oxygen"])]
        pack: String,
    },
    /// May it still be eaten by its date: --made 2027-06-16 --eaten 2027-06-22
    Date {
        /// Day made or opened; of several parts each its own
        #[arg(long, required = true, value_name = "DAY")]
        made: Vec<String>,
        /// Day it is eaten
        #[arg(long, value_name = "DAY")]
        eaten: String,
        /// Days in the freezer, "2027-06-18 to 2027-06-25"; counts for every part
        #[arg(long, value_name = "DAY to DAY")]
        frozen: Vec<String>,
    },
    /// Which piece took too much nitrite: --piece "4, 210" --product whole --how pumped
    Pieces {
        /// Name and ingoing sodium nitrite in ppm of its green weight; again for more
        #[arg(long = "piece", required = true, value_name = "NAME, PPM")]
        pieces: Vec<String>,
        /// whole, minced, bacon, salmon or fish
        #[arg(long, value_parser = ["whole", "minced", "bacon", "salmon", "fish"])]
        product: String,
        /// dry, pumped or immersed
        #[arg(long, value_parser = ["dry", "pumped", "immersed"])]
        how: String,
    },
}

pub(crate) fn run(asked: &Asked) -> Result<Outcome, BadInput> {
    let place = asked
        .place
        .as_deref()
        .and_then(RuleSet::find)
        .unwrap_or(RuleSet::Us);
    let terms = Terms {
        state: state(asked.state.as_deref(), place)?,
        ..Terms::of(place)
    };
    let answer = asked.what.judged(&terms)?.map(typed);
    if asked.json {
        say(&format!(
            "{:#}\n",
            json!({
                "contract": 1,
                "place": place.word(),
                "place_named": asked.place.is_some(),
                "state": terms.state.map(safety::rules::State::word),
                "verdict": answer.as_ref().map(|j| values::one(j, &|_| None)),
            })
        ));
    } else {
        let told = answer.as_ref().map_or_else(
            || "No rule known here asks anything of this.\n".to_owned(),
            |j| text::one(j, &|_| String::new()),
        );
        say(&format!(
            "{told}\n{}{}",
            text::rules_of(place, terms.state, asked.place.is_some()),
            text::caution()
        ));
    }
    Ok(match answer {
        Some(j) if j.verdict == Verdict::Broken => Outcome::Broken,
        _ => Outcome::Fine,
    })
}

/// What was typed in can break a verdict and never show one (decision 0006): the paper behind it shows it.
fn typed(mut j: Judgement) -> Judgement {
    if j.verdict == Verdict::Shown {
        j.verdict = Verdict::NotShown;
        j.next = format!(
            "within the limit as it was typed in: the report or log itself shows it; {}",
            j.next
        );
    }
    j
}

impl What {
    /// The judgement; none where no rule asks anything.
    fn judged(&self, terms: &Terms) -> Result<Option<Judgement>, BadInput> {
        match self {
            Self::Fish {
                species,
                origin,
                pellets,
                heated,
                never_frozen,
            } => {
                let pellets = pellets.as_deref().map(|word| word == "yes");
                let origin = match origin.as_str() {
                    "wild" => Origin::Wild,
                    "farmed" => Origin::Farmed { pellets },
                    _ => Origin::Unknown,
                };
                if pellets.is_some() && !matches!(origin, Origin::Farmed { .. }) {
                    return Err(BadInput::new(
                        "--pellets of a fish that is not said to be farmed",
                        "--origin farmed beside it",
                        "say where the fish is from",
                    ));
                }
                let fish = Fish {
                    species: species.clone(),
                    origin,
                    heated: *heated,
                    freezing: if *never_frozen {
                        Freezing::Never
                    } else {
                        Freezing::Unproved
                    },
                };
                parasites(terms, &fish).map_err(|r| refused(&r))
            }
            Self::Salt { samples, pack } => {
                let samples = samples
                    .iter()
                    .map(|s| sample(s))
                    .collect::<Result<Vec<_>, _>>()?;
                let pack = if pack == "air" {
                    Pack::Air
                } else {
                    Pack::ReducedOxygen
                };
                water_phase_salt(terms, pack, &samples)
                    .map(Some)
                    .map_err(|r| refused(&r))
            }
            Self::Date {
                made,
                eaten,
                frozen,
            } => {
                let frozen = frozen
                    .iter()
                    .map(|f| frozen_days(f))
                    .collect::<Result<Vec<_>, _>>()?;
                let eaten_day = day_number("--eaten", eaten)?;
                let parts = made
                    .iter()
                    .map(|day| {
                        let made_day = day_number("--made", day)?;
                        if made_day > eaten_day {
                            return Err(BadInput::new(
                                &format!("--made {day} and --eaten {eaten}"),
                                "made before it is eaten",
                                "correct one of the two days",
                            ));
                        }
                        Ok(DatedPart {
                            part: format!("made {day}"),
                            made_day: Some(made_day),
                            frozen: frozen.clone(),
                        })
                    })
                    .collect::<Result<Vec<_>, BadInput>>()?;
                date_marked(terms, &parts, eaten_day, None, None)
                    .map(Some)
                    .map_err(|r| refused(&r))
            }
            Self::Pieces {
                pieces,
                product,
                how,
            } => {
                let pieces = pieces
                    .iter()
                    .map(|p| piece(p))
                    .collect::<Result<Vec<_>, _>>()?;
                let product = Product::ALL.iter().find(|(word, _)| word == product);
                let way = match how.as_str() {
                    "pumped" => Way::Pumped,
                    "immersed" => Way::Immersed,
                    _ => Way::Dry,
                };
                let Some((_, product)) = product else {
                    return Ok(None);
                };
                let typed = Cured {
                    product: *product,
                    way,
                    pieces,
                    weights: Weights::Entered,
                };
                cured(terms, &typed).map_err(|r| refused(&r))
            }
        }
    }
}

fn sample(text: &str) -> Result<SaltSample, BadInput> {
    let wrong = || {
        BadInput::new(
            &format!("--sample: found \"{text}\""),
            "a name, where it was taken (thickest, elsewhere or blended), salt and water, such as \
             \"3, thickest, 2.6 %, 62.0 %\"",
            "write the four with commas between them",
        )
    };
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let [name, place, salt, water] = parts[..] else {
        return Err(wrong());
    };
    let taken = match place {
        "thickest" => Taken::Thickest,
        "elsewhere" => Taken::Elsewhere,
        "blended" => Taken::Blended,
        _ => return Err(wrong()),
    };
    Ok(SaltSample {
        sample: name.to_owned(),
        taken,
        salt_pct: read_percent(salt).map_err(|_| wrong())?,
        water_pct: read_percent(water).map_err(|_| wrong())?,
        nitrite_ppm: None,
    })
}

fn piece(text: &str) -> Result<CuredPiece, BadInput> {
    let wrong = |expected: &str| {
        BadInput::new(
            &format!("--piece: found \"{text}\""),
            expected,
            "write the piece and its ppm, such as \"4, 210\"",
        )
    };
    let (name, ppm) = text
        .split_once(',')
        .ok_or_else(|| wrong("a name and a figure with a comma between them"))?;
    let number = ppm
        .trim()
        .trim_end_matches("ppm")
        .trim()
        .parse::<f64>()
        .map_err(|_| wrong("a figure in ppm of the green weight"))?;
    Ok(CuredPiece {
        piece: name.trim().to_owned(),
        ingoing: Ppm::new(number).map_err(|e| wrong(&e.to_string()))?,
    })
}

fn frozen_days(text: &str) -> Result<Frozen, BadInput> {
    let (from, to) = text.split_once(" to ").ok_or_else(|| {
        BadInput::new(
            &format!("--frozen: found \"{text}\""),
            "two days, such as \"2027-06-18 to 2027-06-25\"",
            "write the day it went in and the day it came out",
        )
    })?;
    Ok(Frozen {
        from_day: day_number("--frozen", from.trim())?,
        to_day: Some(day_number("--frozen", to.trim())?),
    })
}

/// A day of the calendar as a number that grows by one a day.
fn day_number(entry: &str, text: &str) -> Result<i64, BadInput> {
    let wrong = || {
        BadInput::new(
            &format!("{entry}: found \"{text}\""),
            "a day such as 2027-06-16",
            "write year, month and day",
        )
    };
    let day: Date = text.trim().parse().map_err(|_| wrong())?;
    let days = Date::constant(1970, 1, 1)
        .until(day)
        .map_err(|_| wrong())?
        .get_days();
    Ok(i64::from(days))
}

fn refused(refusal: &Refusal) -> BadInput {
    match refusal {
        Refusal::Terms { found, expected } => {
            BadInput::new(found, expected, "correct the entry and ask again")
        }
        other => BadInput::new(
            &other.to_string(),
            "entries a rule can be asked of",
            "correct the entry and ask again",
        ),
    }
}
