//! Finding an ingredient of the shipped table by the words a cook uses.

use book::did_you_mean;
use kitchen::ingredient::{Ingredient, Role};
use plan::ask::salt::Curing;
use plan::ask::{Kind, Refusal};
use science::cure::CuringSalt;
use sources::{Citation, list};
use units::{Base, Fraction};

/// Most names listed in a message.
const LISTED: usize = 8;

/// The table.
pub(super) struct Larder(Vec<Ingredient>);

fn plain(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

fn is_called(ingredient: &Ingredient, word: &str) -> bool {
    let said = |name: &str| plain(name) == word;
    said(&ingredient.name)
        || said(ingredient.id.as_str())
        || ingredient.also.iter().any(|a| said(a))
}

/// The word before the comma, and that word without its plural s.
fn head(ingredient: &Ingredient) -> String {
    plain(ingredient.name.split(',').next().unwrap_or(""))
}

impl Larder {
    pub(super) fn shipped() -> Self {
        Self(book::shipped_ingredients())
    }

    /// What a word may mean: one ingredient, or the members of a family (`salt`, `sugar`).
    pub(super) fn find(&self, word: &str) -> Result<Vec<&Ingredient>, Refusal> {
        let wanted = plain(word);
        if let Some(one) = self.0.iter().find(|i| is_called(i, &wanted)) {
            return Ok(vec![one]);
        }
        let family: Vec<&Ingredient> = self.family(&wanted);
        if !family.is_empty() {
            return Ok(family);
        }
        let heads: Vec<&Ingredient> = self.0.iter().filter(|i| head(i) == wanted).collect();
        match heads.as_slice() {
            [] => Err(self.unknown(word)),
            [one] => Ok(vec![one]),
            many => Err(Refusal::new(
                format!("found \"{word}\", which may be {}", listed(many)),
                "one ingredient",
                "write the whole name, in quotes",
            )),
        }
    }

    /// The one ingredient of that name.
    pub(super) fn one(&self, word: &str) -> Result<&Ingredient, Refusal> {
        let found = self.find(word)?;
        match found.as_slice() {
            [one] => Ok(one),
            many => Err(Refusal::new(
                format!("found \"{word}\", which may be {}", listed(many)),
                "one ingredient",
                "write the whole name, in quotes",
            )),
        }
    }

    fn unknown(&self, word: &str) -> Refusal {
        let names = self.0.iter().flat_map(|i| {
            std::iter::once(i.name.as_str()).chain(i.also.iter().map(String::as_str))
        });
        let near = did_you_mean(word, names);
        let wanted = plain(word);
        let holding: Vec<&Ingredient> = self
            .0
            .iter()
            .filter(|i| plain(&i.name).contains(&wanted))
            .collect();
        let do_now = match near {
            Some(near) => format!("did you mean \"{near}\"?"),
            None if !holding.is_empty() && !wanted.is_empty() => {
                format!("perhaps {}", listed(&holding))
            }
            None => "look for another word for it, or weigh it and leave the name out".to_owned(),
        };
        Refusal::new(
            format!("found no ingredient called \"{word}\""),
            "a name of the ingredient table",
            do_now,
        )
    }

    fn family(&self, family: &str) -> Vec<&Ingredient> {
        self.0
            .iter()
            .filter(|i| i.family.as_deref() == Some(family))
            .collect()
    }

    /// The kinds of a family, or the one picked by a word such as `flake`.
    pub(super) fn kinds(&self, family: &str, picked: Option<&str>) -> Result<Vec<Kind>, Refusal> {
        let members = self.family(family);
        let Some(picked) = picked else {
            return Ok(members.into_iter().map(|i| kind(i, None)).collect());
        };
        let wanted = plain(picked);
        let exact = |i: &&Ingredient| is_called(i, &wanted) || word_of(i) == wanted;
        if let Some(one) = members.iter().find(|i| exact(i)) {
            return Ok(vec![kind(one, None)]);
        }
        // Sold under one word in two weights; common practice, no source.
        if family == "salt" && wanted.contains("kosher") {
            return Ok(members
                .into_iter()
                .filter(|i| matches!(i.id.as_str(), "salt-flake" | "salt-dense"))
                .map(|i| kind(i, None))
                .collect());
        }
        let words: Vec<String> = members.iter().map(|i| word_of(i)).collect();
        let near = did_you_mean(picked, words.iter().map(String::as_str));
        let do_now = near.map_or_else(
            || "say one of these, or weigh it".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        );
        Err(Refusal::new(
            format!("found no kind of {family} called \"{picked}\""),
            format!("one of {}", words.join(", ")),
            do_now,
        ))
    }

    /// A curing salt by its name or number, as much of it as `share`.
    pub(super) fn curing(&self, word: &str, share: Fraction) -> Result<Curing, Refusal> {
        let wanted = plain(word);
        let number = |i: &Ingredient| {
            i.id.as_str()
                .strip_prefix("curing-salt-")
                .map(str::to_owned)
        };
        let is_number = |i: &Ingredient| {
            let bare = wanted
                .trim_start_matches("no.")
                .trim_start_matches("no")
                .trim_start_matches('#')
                .trim();
            number(i).as_deref() == Some(bare)
        };
        let curing: Vec<(&Ingredient, f64, f64)> = self
            .0
            .iter()
            .filter_map(|i| match i.role {
                Some(Role::CuringSalt {
                    nitrite_pct,
                    nitrate_pct,
                }) => Some((i, nitrite_pct, nitrate_pct)),
                _ => None,
            })
            .collect();
        let Some((i, nitrite, nitrate)) = curing
            .iter()
            .find(|(i, ..)| is_called(i, &wanted) || is_number(i))
        else {
            let names: Vec<&str> = curing.iter().map(|(i, ..)| i.name.as_str()).collect();
            return Err(Refusal::new(
                format!("found no curing salt called \"{word}\""),
                format!("one of {}", names.join("; ")),
                "read the label: the percent of sodium nitrite decides which it is",
            ));
        };
        Ok(Curing {
            name: i.name.clone(),
            kind: CuringSalt::percent(*nitrite, *nitrate)?,
            source: i
                .composition
                .as_ref()
                .map_or(Citation::whole(&list::PRACTICE), |c| c.source.clone()),
            at: share,
        })
    }

    /// Water from the tap, with its density at 20 °C.
    pub(super) fn water(&self) -> Vec<Kind> {
        let cold = self.0.iter().filter(|i| i.id.as_str() == "water").map(|i| {
            let mut kind = kind(i, None);
            kind.note = format!("{}; measured warm it weighs less", kind.note);
            kind
        });
        cold.collect()
    }
}

/// No share at all, for questions that give the curing salt by weight.
pub(super) fn no_share() -> Result<Fraction, Refusal> {
    Ok(Fraction::percent(0.0, Base::new("green weight")?)?)
}

/// The word that picks a member of its family: `flake` of `salt-flake`.
fn word_of(ingredient: &Ingredient) -> String {
    let id = ingredient.id.as_str();
    let family = ingredient.family.as_deref().unwrap_or("");
    id.strip_prefix(family)
        .map_or(id, |rest| rest.trim_start_matches('-'))
        .to_owned()
}

/// An ingredient as a kind a volume may be of, in the form named or the usual one.
pub(super) fn kind(ingredient: &Ingredient, form: Option<&str>) -> Kind {
    let density = ingredient.density_of(form);
    let note = density.map_or_else(String::new, |d| match &d.note {
        Some(note) => format!("{}, {note}", d.form),
        None => d.form.clone(),
    });
    Kind {
        name: ingredient.name.clone(),
        word: word_of(ingredient),
        density: density.map(|d| d.density),
        source: density.map_or(Citation::whole(&list::MEMORY), |d| d.source.clone()),
        note,
    }
}

/// Refuses a form the ingredient has no density for.
pub(super) fn has_form(ingredient: &Ingredient, form: Option<&str>) -> Result<(), Refusal> {
    let Some(form) = form else { return Ok(()) };
    if ingredient.density_of(Some(form)).is_some() {
        return Ok(());
    }
    let forms: Vec<&str> = ingredient.density.iter().map(|d| d.form.as_str()).collect();
    let known = if forms.is_empty() {
        "none is known".to_owned()
    } else {
        forms.join(", ")
    };
    Err(Refusal::new(
        format!("found no form \"{form}\" of {}", ingredient.name),
        format!("one of its forms: {known}"),
        did_you_mean(form, forms).map_or_else(
            || "weigh it".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        ),
    ))
}

fn listed(ingredients: &[&Ingredient]) -> String {
    let mut names: Vec<String> = ingredients
        .iter()
        .take(LISTED)
        .map(|i| format!("\"{}\"", i.name))
        .collect();
    if ingredients.len() > LISTED {
        names.push(format!("{} more", ingredients.len() - LISTED));
    }
    names.join(", ")
}
