//! Why a figure is what it is: its derivation, for a plan and for a bench answer alike.

use book::did_you_mean;
use plan::Figures;
use serde_json::json;

use crate::exit::BadInput;

/// Figures named when the one asked for is not there.
const NAMED: usize = 12;

/// What has the figures, for the message that one is not among them.
pub(crate) struct Holder<'a> {
    /// "this plan".
    pub(crate) what: &'a str,
    /// Ids to write for example.
    pub(crate) such: &'a str,
    /// The command that prints all ids.
    pub(crate) lists: &'a str,
}

/// The derivation of a figure, `deep` levels down.
pub(crate) fn text(
    figures: &Figures,
    id: &str,
    deep: usize,
    of: &Holder<'_>,
) -> Result<String, BadInput> {
    figures
        .why(id, deep)
        .ok_or_else(|| unknown(figures, id, of))
}

/// The same for programs, contract 1: all the way down.
pub(crate) fn json(figures: &Figures, id: &str, of: &Holder<'_>) -> Result<String, BadInput> {
    let resting = figures
        .resting_json(id)
        .ok_or_else(|| unknown(figures, id, of))?;
    let page = json!({ "contract": 1, "figure": id, "figures": resting });
    Ok(format!("{page:#}\n"))
}

fn unknown(figures: &Figures, id: &str, of: &Holder<'_>) -> BadInput {
    let ids: Vec<&str> = figures.iter().map(|f| f.id.as_str()).collect();
    let below: Vec<&str> = ids
        .iter()
        .copied()
        .filter(|x| !id.is_empty() && x.contains(id))
        .take(NAMED)
        .collect();
    let hint = did_you_mean(id, ids.iter().copied())
        .map_or_else(String::new, |n| format!("; did you mean {n}?"));
    let expected = if below.is_empty() {
        format!("an id such as {}", of.such)
    } else {
        format!("one of: {}", below.join(", "))
    };
    BadInput::new(
        &format!("{} has no figure \"{id}\"{hint}", of.what),
        &expected,
        &format!("{} prints all {} of them", of.lists, ids.len()),
    )
}
