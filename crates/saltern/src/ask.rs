//! `saltern ask`: one bench question, one answer.
//!
//! Here is what a cook types and how it is read; what is computed lives in `plan::ask`.

mod brine;
mod convert;
mod cook;
mod cool;
mod cure;
mod curve;
mod dry;
mod emulsion;
pub(crate) mod form;
mod guest;
mod hour;
mod names;
mod nitrite;
mod pickle;
mod read;
mod salt;
mod steep;
mod warmth;
mod weighing;
mod worth;
mod yields;

use plan::ask::{Answer, Refusal, broken};
use plan::figures::WHOLE;
use safety::Verdict;
use units::Customary;

use crate::exit::{BadInput, Outcome};
use crate::show::why;
use names::Larder;

/// `saltern ask QUESTION`
#[derive(Debug, clap::Args)]
pub(crate) struct Ask {
    /// The question
    #[command(subcommand)]
    question: Box<Question>,
    /// For programs
    #[arg(long, global = true)]
    json: bool,
    /// The derivation of every figure of the answer instead, down to what was entered or published; of
    /// one figure as --why=FIGURE
    #[arg(long, global = true, value_name = "FIGURE", num_args = 0..=1, require_equals = true,
          default_missing_value = "")]
    why: Option<String>,
    /// Whose cups, pints and spoons a bare one is: us, metric or imperial
    #[arg(long, global = true, default_value = "us", value_parser = whose)]
    cups: Customary,
}

/// The questions.
#[derive(Debug, clap::Subcommand)]
enum Question {
    /// How much salt for this: --for "5580 g" --at "2.5 %"
    Salt(salt::Salt),
    /// How strong is this brine, or how much salt makes it: --salt "280 g" --water "2 L"
    Brine(brine::Brine),
    /// When may it come out of the cure: --thickness "25 mm" --faces 1 --salt "2.5 %" --at "3 °C" --goal "95 %"
    Cure(cure::Cure),
    /// Is it cooling fast enough: --depth "50 mm" --from "60 °C" --in blast --air "-5 °C"
    Cool(cool::Cool),
    /// When does the core get there: --thickness "25 mm" --programme "82 °C 75 min" --core "63 °C" --hold "30 min"
    Cook(cook::Cook),
    /// When has it dried enough: --from "358.9 g" --now "310.0 g" --after "7 d" --target "30 %"
    Dry(dry::Dry),
    /// How long until the liquor is in the middle: --thickness "3 mm" --goal "90 %"
    Steep(steep::Steep),
    /// How much of it is oil, and how far can it go: --oil "200 g" --aqueous "60 g"
    Emulsion(emulsion::Emulsion),
    /// How much nitrite goes in, and who allows it: --cure-salt "2.5 g" --green "1 kg"
    Nitrite(nitrite::Nitrite),
    /// What a quick pickle comes to once even: --vinegar "676 g" --strength "5 %" --ep "1299 g"
    Pickle(pickle::Pickle),
    /// Cups, ounces and °F in grams and °C: "1 1/2 cups" --of honey
    Convert(convert::Convert),
    /// What has to go in so that this comes out: --served "3780 g" --chain "0.95 0.98"
    Yield(yields::Yield),
    /// Can this guest eat it: demo harvest-supper --without milk,mustard --diet vegetarian
    Guest(guest::Guest),
    /// Is what the scale shows what was wanted, and in the right unit: --wanted "24.1 g" --found "0.85"
    Weighing(weighing::Weighing),
    /// Prepare it here or buy it ready: --item garlic --price 9.00 --minutes 20 --wage 18
    Worth(worth::Worth),
}

impl Question {
    fn answer(&self, cups: Customary) -> Result<Answer, Refusal> {
        let larder = Larder::shipped();
        let answer = match self {
            Self::Salt(entries) => entries.answer(&larder),
            Self::Brine(entries) => entries.answer(&larder, cups),
            Self::Cure(entries) => entries.answer(),
            Self::Cool(entries) => entries.answer(),
            Self::Cook(entries) => entries.answer(),
            Self::Dry(entries) => entries.answer(),
            Self::Steep(entries) => entries.answer(),
            Self::Emulsion(entries) => entries.answer(),
            Self::Nitrite(entries) => entries.answer(&larder),
            Self::Pickle(entries) => entries.answer(&larder, cups),
            Self::Convert(entries) => entries.answer(&larder, cups),
            Self::Yield(entries) => entries.answer(),
            Self::Weighing(entries) => entries.answer(),
            Self::Worth(entries) => entries.answer(&larder, cups),
            // It reads a book first and is answered in `run`.
            Self::Guest(_) => Err(Refusal::new(
                "a guest without a book",
                "a book and an event",
                "saltern ask guest BOOK EVENT --without milk",
            )),
        }?;
        Ok(answer.with_cautions())
    }
}

fn whose(word: &str) -> Result<Customary, String> {
    match word.to_lowercase().as_str() {
        "us" => Ok(Customary::Us),
        "metric" => Ok(Customary::Metric),
        "imperial" | "uk" => Ok(Customary::Imperial),
        _ => Err("expected us, metric or imperial".to_owned()),
    }
}

/// Width of everything printed.
const COLUMNS: usize = 100;

pub(crate) fn run(ask: &Ask) -> Result<Outcome, BadInput> {
    let refused = |refusal: &Refusal| {
        BadInput(if ask.json {
            format!("{:#}\n", refusal.to_json())
        } else {
            told(refusal)
        })
    };
    // A guest's question reads a book first, and has more to say to programs.
    let (answer, value) = if let Question::Guest(entries) = ask.question.as_ref() {
        entries.answer(&refused)?
    } else {
        let answer = ask.question.answer(ask.cups).map_err(|r| refused(&r))?;
        let value = answer.to_json();
        (answer, value)
    };
    match ask.why.as_deref() {
        None | Some("") if ask.json => crate::exit::say(&format!("{value:#}\n")),
        None => crate::exit::say(&answer.text()),
        Some("") => crate::exit::say(&answer.figures.why_all(answer.main)),
        Some(id) => {
            let of = why::Holder {
                what: "this answer",
                such: answer.main,
                lists: "the same question with --why",
            };
            let told = if ask.json {
                why::json(&answer.figures, id, &of)?
            } else {
                why::text(&answer.figures, id, WHOLE, &of)?
            };
            crate::exit::say(&told);
        }
    }
    Ok(match answer.verdict {
        Some(Verdict::Broken) => Outcome::Broken,
        _ => Outcome::Fine,
    })
}

/// The refusal as every message of the program is set, what it would come to in between.
fn told(refusal: &Refusal) -> String {
    let mut text = String::new();
    let mut part = |label: &str, body: &str| {
        let indent = label.chars().count();
        for (i, line) in broken(body, COLUMNS - indent).iter().enumerate() {
            let label = if i == 0 {
                label.to_owned()
            } else {
                " ".repeat(indent)
            };
            text.push_str(&format!("{label}{line}\n"));
        }
    };
    part("  × ", &refusal.found);
    for reading in &refusal.readings {
        part("      ", reading);
    }
    part("    expected: ", &refusal.expected);
    part("    do now:   ", &refusal.do_now);
    text
}
