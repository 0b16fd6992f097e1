//! The bench questions as forms: their fields are read off the command line's own definition, so that a
//! page asks exactly what a command asks, and answers it the same way.

use board::{Field, Question};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, ArgAction, Args, Command, FromArgMatches};
use plan::ask::{Answer, Refusal};

use super::Ask;

/// Options that are no question: they write files, choose a form of output, or print help.
const NOT_ASKED: &[&str] = &["curve", "json", "help", "why"];

/// Questions that name a book by its path: a page must not open files of the machine.
const NOT_ON_A_PAGE: &[&str] = &["guest"];

fn command() -> Command {
    Ask::augment_args(Command::new("ask").disable_help_subcommand(true))
}

/// Every question with its fields.
pub(crate) fn questions() -> Vec<Question> {
    let mut command = command();
    command.build();
    command
        .get_subcommands()
        .filter(|sub| !NOT_ON_A_PAGE.contains(&sub.get_name()))
        .map(|sub| {
            let about = sub.get_about().map(ToString::to_string).unwrap_or_default();
            Question {
                word: sub.get_name().to_owned(),
                about,
                fields: sub
                    .get_arguments()
                    .filter(|a| !NOT_ASKED.contains(&a.get_id().as_str()))
                    .map(field)
                    .collect(),
            }
        })
        .collect()
}

/// The name a field is sent by.
fn name(arg: &Arg) -> String {
    arg.get_long()
        .map_or_else(|| arg.get_id().to_string(), ToOwned::to_owned)
}

fn field(arg: &Arg) -> Field {
    let flag = matches!(arg.get_action(), ArgAction::SetTrue);
    Field {
        name: name(arg),
        help: arg.get_help().map(ToString::to_string).unwrap_or_default(),
        hint: arg
            .get_value_names()
            .and_then(|names| names.first())
            .map(|n| n.to_lowercase())
            .unwrap_or_default(),
        default: arg
            .get_default_values()
            .first()
            .filter(|_| !flag)
            .map(|v| v.to_string_lossy().into_owned()),
        choices: if flag {
            Vec::new()
        } else {
            arg.get_possible_values()
                .iter()
                .map(|v| v.get_name().to_owned())
                .collect()
        },
        required: arg.is_required_set(),
        many: matches!(arg.get_action(), ArgAction::Append),
        flag,
    }
}

/// The answer to what was filled in.
pub(crate) fn answer(question: &str, entries: &[(String, String)]) -> Result<Answer, Refusal> {
    let mut command = command();
    command.build();
    let asked = command
        .find_subcommand(question)
        .filter(|sub| !NOT_ON_A_PAGE.contains(&sub.get_name()));
    let Some(sub) = asked else {
        return Err(Refusal::new(
            format!("found no question \"{question}\""),
            "one of the bench questions",
            "choose one from the list",
        ));
    };
    let arg = |entry: &str| {
        sub.get_arguments()
            .filter(|a| !NOT_ASKED.contains(&a.get_id().as_str()))
            .find(|a| name(a) == entry)
    };
    let mut words = vec!["ask".to_owned(), question.to_owned()];
    let mut places = Vec::new();
    for (entry, value) in entries {
        match arg(entry) {
            None => {
                return Err(Refusal::new(
                    format!("found an entry \"{entry}\""),
                    "an entry of this question",
                    "fill in the form again",
                ));
            }
            Some(a) if a.is_positional() => places.push(value.clone()),
            Some(a) if matches!(a.get_action(), ArgAction::SetTrue) => {
                words.push(format!("--{entry}"))
            }
            // One word, so that no value can be taken for an option.
            Some(_) => words.push(format!("--{entry}={value}")),
        }
    }
    if !places.is_empty() {
        words.push("--".to_owned());
        words.extend(places);
    }
    let ask = command
        .try_get_matches_from_mut(words)
        .and_then(|matches| Ask::from_arg_matches(&matches))
        .map_err(|error| refused(&error))?;
    ask.question.answer(ask.cups)
}

/// What the command line would have refused, in the words of a form.
fn refused(error: &clap::Error) -> Refusal {
    let said = |kind: ContextKind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        Some(ContextValue::Strings(texts)) => Some(texts.join(", ")),
        _ => None,
    };
    let what = said(ContextKind::InvalidArg).unwrap_or_default();
    match error.kind() {
        ErrorKind::MissingRequiredArgument => Refusal::new(
            format!("not filled in: {what}"),
            "these entries, which the question needs",
            "fill them in",
        ),
        ErrorKind::ArgumentConflict => Refusal::new(
            format!(
                "{what} together with {}",
                said(ContextKind::PriorArg).unwrap_or_default()
            ),
            "one of the two",
            "leave one of them empty",
        ),
        _ => {
            let text = error.render().to_string();
            let first = text
                .lines()
                .next()
                .unwrap_or("")
                .trim_start_matches("error: ");
            Refusal::new(
                first.to_owned(),
                said(ContextKind::ValidValue).map_or_else(
                    || "an entry as the hint below the field shows".to_owned(),
                    |values| format!("one of {values}"),
                ),
                "correct the entry",
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs
            .iter()
            .map(|(n, v)| ((*n).to_owned(), (*v).to_owned()))
            .collect()
    }

    #[test]
    fn a_form_asks_what_the_command_asks() {
        let all = questions();
        let salt = all.iter().find(|q| q.word == "salt").unwrap();
        let field = salt.fields.iter().find(|f| f.name == "for").unwrap();
        assert!(field.required && !field.many);
        assert!(
            all.iter()
                .flat_map(|q| &q.fields)
                .all(|f| !NOT_ASKED.contains(&f.name.as_str()))
        );
    }

    #[test]
    fn a_form_answers_as_the_command_does() {
        let answer = answer("salt", &filled(&[("for", "5580 g"), ("at", "2.5 %")])).unwrap();
        assert!(answer.answer.contains("139.5 g"), "{}", answer.answer);
    }

    #[test]
    fn a_value_is_never_an_option() {
        let refusal = answer("salt", &filled(&[("for", "--json"), ("at", "2.5 %")])).unwrap_err();
        assert!(
            refusal.found.starts_with("--for: found"),
            "{}",
            refusal.found
        );
        assert!(answer("guest", &filled(&[("book", "/etc")])).is_err());
        // Nor can a form write a file.
        let curve = filled(&[("curve", "/tmp/none.svg")]);
        let refusal = answer("cure", &curve).unwrap_err();
        assert!(refusal.found.contains("\"curve\""), "{}", refusal.found);
    }

    #[test]
    fn what_is_missing_is_named() {
        let refusal = answer("salt", &filled(&[("at", "2.5 %")])).unwrap_err();
        assert!(refusal.found.contains("--for"), "{}", refusal.found);
    }
}
