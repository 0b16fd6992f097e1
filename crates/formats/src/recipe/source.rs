//! A Recipe found in a JSON-LD file, in whichever of its shapes.

use serde_json::Value;

use crate::refusal::{Refusal, quoted};

/// Bytes read at most: what a page of a book may have.
pub(super) const MOST_BYTES: usize = 1_000_000;
/// Lines and steps taken at most.
const MOST: usize = 200;

/// A recipe as the file has it: texts, single-spaced and without control characters.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Given {
    pub(super) identifier: Option<String>,
    pub(super) name: String,
    pub(super) makes: Option<String>,
    pub(super) lines: Vec<String>,
    pub(super) steps: Vec<GivenStep>,
    /// Times of the whole recipe, as `prepTime PT20M`.
    pub(super) times: Vec<String>,
}

/// One step of it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct GivenStep {
    pub(super) identifier: Option<String>,
    pub(super) act: Option<String>,
    pub(super) text: String,
    /// Identifiers of the steps before it; `None` when the file names none.
    pub(super) after: Option<Vec<String>>,
    /// Supplies: the line, and what it says of itself.
    pub(super) supplies: Vec<(String, Option<String>)>,
    pub(super) tools: Vec<String>,
    pub(super) time: Option<String>,
}

/// The one recipe of a file.
pub(super) fn read(bytes: &[u8]) -> Result<Given, Vec<Refusal>> {
    if bytes.len() > MOST_BYTES {
        return Err(one(
            format!("a file of more than {MOST_BYTES} bytes"),
            "one recipe",
            "take the recipe out of the page it stands in",
        ));
    }
    let value: Value = serde_json::from_slice(bytes).map_err(|e| {
        vec![Refusal::at(e.line().max(1), &format!("column {}", e.column()), "no JSON from here on", "a JSON-LD file: { \"@context\": \"https://schema.org\", \"@type\": \"Recipe\", … }", "take out of a web page what stands between <script type=\"application/ld+json\"> and </script>")]
    })?;
    let mut found = Vec::new();
    search(&value, &mut found, 0);
    let recipe = match found.as_slice() {
        [recipe] => *recipe,
        [] => {
            return Err(one(
                "no Recipe in the file".to_owned(),
                "an object with \"@type\": \"Recipe\"",
                "name another file",
            ));
        }
        many => {
            let names: Vec<String> = many
                .iter()
                .take(10)
                .map(|r| quoted(&text(r.get("name")).unwrap_or_default()))
                .collect();
            return Err(one(
                format!("{} recipes: {}", many.len(), names.join(", ")),
                "one recipe",
                "save each in a file of its own",
            ));
        }
    };
    let given = given(recipe);
    if given.name.is_empty() {
        return Err(one(
            "a recipe without a name".to_owned(),
            "\"name\": \"…\"",
            "give it one",
        ));
    }
    if given.lines.is_empty() && given.steps.iter().all(|s| s.supplies.is_empty()) {
        return Err(one(
            "a recipe without ingredients".to_owned(),
            "\"recipeIngredient\": [ \"500 g …\", … ]",
            "name another file",
        ));
    }
    if given.lines.len() > MOST || given.steps.len() > MOST {
        return Err(one(
            format!(
                "{} lines and {} steps",
                given.lines.len(),
                given.steps.len()
            ),
            "at most 200 of each",
            "split it into recipes",
        ));
    }
    Ok(given)
}

fn one(found: String, expected: &str, do_now: &str) -> Vec<Refusal> {
    vec![Refusal::whole(found, expected, do_now)]
}

fn is_a(value: &Value, kind: &str) -> bool {
    let named = |v: &Value| {
        v.as_str()
            .is_some_and(|t| t.rsplit(['/', ':', '#']).next() == Some(kind))
    };
    match value.get("@type") {
        Some(Value::Array(kinds)) => kinds.iter().any(named),
        Some(kind) => named(kind),
        None => false,
    }
}

fn search<'v>(value: &'v Value, found: &mut Vec<&'v Value>, depth: usize) {
    // Recipes stand at the top, in a list, in a graph, or as what a page is about; not deeper.
    if depth > 6 {
        return;
    }
    match value {
        Value::Array(all) => all.iter().for_each(|v| search(v, found, depth + 1)),
        Value::Object(_) if is_a(value, "Recipe") => found.push(value),
        Value::Object(map) => {
            for key in ["@graph", "mainEntity", "mainEntityOfPage"] {
                if let Some(v) = map.get(key) {
                    search(v, found, depth + 1);
                }
            }
        }
        _ => {}
    }
}

/// A text, single-spaced; of a list its first text, of an object its value, name or text.
fn text(value: Option<&Value>) -> Option<String> {
    let raw = match value? {
        Value::String(s) => s.clone(),
        Value::Number(n) => n.to_string(),
        Value::Array(all) => return text(all.first()),
        Value::Object(map) => {
            return ["value", "name", "text", "@value"]
                .iter()
                .find_map(|k| text(map.get(*k)));
        }
        _ => return None,
    };
    let clean: String = raw
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let clean = clean.split_whitespace().collect::<Vec<_>>().join(" ");
    (!clean.is_empty()).then_some(clean)
}

fn list(value: Option<&Value>) -> Vec<&Value> {
    match value {
        Some(Value::Array(all)) => all.iter().collect(),
        Some(Value::Null) | None => Vec::new(),
        Some(one) => vec![one],
    }
}

fn given(recipe: &Value) -> Given {
    let lines = list(
        recipe
            .get("recipeIngredient")
            .or_else(|| recipe.get("ingredients")),
    );
    let mut steps = Vec::new();
    match recipe.get("recipeInstructions") {
        // One text: its lines are the steps.
        Some(Value::String(all)) => {
            for part in all.lines() {
                steps.extend(
                    text(Some(&Value::String(part.to_owned()))).map(|text| GivenStep {
                        text,
                        ..GivenStep::default()
                    }),
                );
            }
        }
        other => list(other).into_iter().for_each(|v| step(v, &mut steps)),
    }
    let times = ["prepTime", "performTime", "cookTime", "totalTime"]
        .iter()
        .filter_map(|k| text(recipe.get(*k)).map(|t| format!("{k} {t}")))
        .collect();
    Given {
        identifier: text(recipe.get("identifier")),
        name: text(recipe.get("name")).unwrap_or_default(),
        makes: text(recipe.get("recipeYield")),
        lines: lines.into_iter().filter_map(|v| text(Some(v))).collect(),
        steps,
        times,
    }
}

fn step(value: &Value, into: &mut Vec<GivenStep>) {
    if is_a(value, "HowToSection") {
        list(value.get("itemListElement"))
            .into_iter()
            .for_each(|v| step(v, into));
        return;
    }
    let directions = list(value.get("itemListElement"));
    let own = text(value.get("text"));
    let told: Vec<String> = directions
        .iter()
        .filter_map(|d| text(d.get("text").or(Some(*d)).filter(|v| v.is_string())))
        .collect();
    let text_of = own
        .or_else(|| (!told.is_empty()).then(|| told.join(" ")))
        .or_else(|| text(Some(value)))
        .unwrap_or_default();
    let holders: Vec<&Value> = std::iter::once(value).chain(directions).collect();
    let all =
        |key: &str| -> Vec<&Value> { holders.iter().flat_map(|h| list(h.get(key))).collect() };
    let supplies = all("supply")
        .into_iter()
        .filter_map(|s| Some((text(Some(s))?, text(s.get("description")))))
        .collect();
    let after = value.get("previousItem").map(|v| {
        list(Some(v))
            .into_iter()
            .filter_map(|v| text(v.get("@id").or(Some(v))))
            .map(|id| id.trim_start_matches('#').to_owned())
            .collect()
    });
    if text_of.is_empty() {
        return;
    }
    into.push(GivenStep {
        identifier: text(value.get("identifier")),
        act: text(value.get("name")).filter(|n| *n != text_of),
        text: text_of,
        after,
        supplies,
        tools: all("tool")
            .into_iter()
            .filter_map(|t| text(Some(t)))
            .collect(),
        time: all("performTime").into_iter().find_map(|t| text(Some(t))),
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recipe_is_found_in_a_graph_and_under_a_long_type() {
        let file = br#"{"@graph":[{"@type":"WebPage"},{"@type":["http://schema.org/Recipe"],"name":" Salt \n fish ","recipeIngredient":"500 g fish","recipeInstructions":"Salt it.\n\nWait."}]}"#;
        let given = read(file).unwrap();
        assert_eq!(given.name, "Salt fish");
        assert_eq!(given.lines, ["500 g fish"]);
        let steps: Vec<&str> = given.steps.iter().map(|s| s.text.as_str()).collect();
        assert_eq!(steps, ["Salt it.", "Wait."]);
    }

    #[test]
    fn what_is_no_single_recipe_is_refused() {
        for file in [
            "",
            "{",
            "[]",
            "null",
            "{\"@type\":\"HowTo\",\"name\":\"x\"}",
            "{\"@type\":\"Recipe\"}",
            "{\"@type\":\"Recipe\",\"name\":\"x\"}",
            "[{\"@type\":\"Recipe\",\"name\":\"x\"},{\"@type\":\"Recipe\",\"name\":\"y\"}]",
        ] {
            assert_eq!(read(file.as_bytes()).map_err(|e| e.len()), Err(1), "{file}");
        }
        let deep = "[".repeat(100_000);
        assert!(read(deep.as_bytes()).is_err());
    }

    #[test]
    fn sections_and_directions_become_steps() {
        let file = br#"{"@type":"Recipe","name":"x","recipeIngredient":["1 kg fish"],"recipeInstructions":[
            {"@type":"HowToSection","name":"First","itemListElement":[{"@type":"HowToStep","text":"Salt"},"Wait"]},
            {"@type":"HowToStep","name":"Smoke","itemListElement":[{"@type":"HowToDirection","text":"Light it"},{"@type":"HowToDirection","text":"Hang it"}]}]}"#;
        let steps: Vec<String> = read(file)
            .unwrap()
            .steps
            .into_iter()
            .map(|s| s.text)
            .collect();
        assert_eq!(steps, ["Salt", "Wait", "Light it Hang it"]);
    }
}
