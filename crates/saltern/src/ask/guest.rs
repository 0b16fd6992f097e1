//! Can this guest eat it.

use kitchen::label::Allergen;
use plan::ask::guest::{Guest as Question, Matter, guest};
use plan::ask::{Answer, Refusal};

use plan::Scene;
use serde_json::Value;

use crate::exit::BadInput;

/// `ask guest`
#[derive(Debug, clap::Args)]
pub(super) struct Guest {
    /// A folder of .toml files, one file, or `demo`
    book: String,
    /// The id of an event of the book
    event: String,
    /// What the guest must not have: milk, mustard, gluten, tree-nut …; commas or several times
    #[arg(long, value_name = "WORD", value_delimiter = ',')]
    without: Vec<String>,
    /// vegetarian, vegan, no-pork, no-alcohol or pregnancy; commas or several times
    #[arg(long, value_name = "WORD", value_delimiter = ',')]
    diet: Vec<String>,
    /// The seat, for the ticket
    #[arg(long)]
    seat: Option<String>,
    /// How many plates
    #[arg(long, default_value_t = 1)]
    plates: u32,
}

impl Guest {
    /// Reads the book and answers, as text and for programs.
    pub(super) fn answer(
        &self,
        refused: &dyn Fn(&Refusal) -> BadInput,
    ) -> Result<(Answer, Value), BadInput> {
        let question = self.question().map_err(|r| refused(&r))?;
        let book = crate::load::book(&self.book)?;
        let scene = Scene::new(&book, &self.event).map_err(crate::planning::scene_error)?;
        let answered = guest(&scene, &question).map_err(|r| refused(&r))?;
        let value = answered.to_json(&question);
        Ok((answered.answer, value))
    }

    fn question(&self) -> Result<Question, Refusal> {
        let mut without: Vec<Matter> = Vec::new();
        for text in &self.without {
            without.push(Matter::Allergen(one_of("--without", text, Allergen::ALL)?));
        }
        for text in &self.diet {
            without.push(Matter::Diet(one_of(
                "--diet",
                text,
                plan::allergens::Diet::ALL,
            )?));
        }
        without.dedup();
        Ok(Question {
            without,
            seat: self.seat.clone(),
            plates: self.plates,
        })
    }
}

fn one_of<T: Copy>(entry: &str, text: &str, words: &[(&'static str, T)]) -> Result<T, Refusal> {
    let word = text.trim().to_lowercase();
    if let Some((_, found)) = words.iter().find(|(w, _)| *w == word) {
        return Ok(*found);
    }
    let known: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
    let near = book::did_you_mean(&word, known.iter().copied());
    Err(Refusal::new(
        format!("{entry}: found \"{}\"", text.trim()),
        format!("one of: {}", known.join(", ")),
        near.map_or_else(
            || "use one of these words; nothing was left out on a guess".to_owned(),
            |n| format!("did you mean {n}?"),
        ),
    ))
}
