//! The values of a page that change most, as fields; a changed field is written into the text where the value stands.
//!
//! Only that value changes: comments, order, blanks and line ends stay. A field is found again by the ids around it, so
//! that text and fields can be changed at the same time. When both changed the same value the two are told, and
//! neither is taken.

use toml_edit::{DocumentMut, Item, TableLike, Value};

use crate::refusal::{Refusal, quoted};

/// A value of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Where it stands: `step/2:cure/mix/0:salt-table/of-base`.
    pub place: String,
    /// What it belongs to: the id of a step, the item of an offer; empty for the page itself.
    pub of: String,
    /// Its name: "salt-table, of base".
    pub name: String,
    /// As it is written, without quotes.
    pub value: String,
}

/// A field somebody changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change<'a> {
    /// Where it stands.
    pub place: &'a str,
    /// What the field said when it was shown.
    pub was: &'a str,
    /// What it says now.
    pub now: &'a str,
}

/// Bytes of a page looked at: what a page of a book may have.
const MOST_BYTES: usize = 1_000_000;
/// Fields given at most; a longer page is for the text.
const MOST_FIELDS: usize = 400;

/// Values of a step, with their names.
const OF_STEP: &[(&str, &str)] = &[
    ("ratio", "base to inflow"),
    ("yield/mean", "yield, usual"),
    ("yield/low", "yield, poor day"),
    ("yield/high", "yield, good day"),
    ("wait", "wait"),
    ("wait/min", "wait, at least"),
    ("wait/best", "wait, best"),
    ("wait/max", "wait, at most"),
    ("piece/thickness", "thickness"),
    ("piece/thin", "thickness, thinnest"),
    ("piece/thick", "thickness, thickest"),
    ("hands/setup", "hands, set-up"),
    ("hands/each", "hands, each"),
    ("hands/per-kg", "hands, a kg"),
    ("hands/people", "hands, people"),
];
/// Amounts of a line.
const OF_LINE: &[(&str, &str)] = &[
    ("of-base", "of base"),
    ("per-batch", "a batch"),
    ("per-load", "a load"),
    ("per-piece", "a piece"),
    ("amount", "amount"),
];
/// Values of an offer.
const OF_OFFER: &[(&str, &str)] = &[
    ("per-kg", "price a kg"),
    ("price", "price a pack"),
    ("pack", "pack"),
    ("each", "price each"),
    ("piece", "weight of a piece"),
];

/// The text under a top-level key: what a page says it is.
#[must_use]
pub fn says(text: &str, key: &str) -> Option<String> {
    let page = parsed(text)?;
    page.get(key)?.as_str().map(str::to_owned)
}

/// The fields of a page, in its order; none when the text is no TOML.
#[must_use]
pub fn fields(text: &str) -> Vec<Field> {
    let Some(page) = parsed(text) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let top: &dyn TableLike = page.as_table();
    if let Some(days) = top
        .get("keeps")
        .and_then(Item::as_table_like)
        .and_then(|k| written(k.get("days")?))
    {
        out.push(Field {
            place: "keeps/days".to_owned(),
            of: String::new(),
            name: "keeps, days".to_owned(),
            value: days,
        });
    }
    for (i, step) in list(top.get("step")).into_iter().enumerate() {
        let Some(id) = id_of(step) else { continue };
        let at = format!("step/{i}:{id}");
        for (j, line) in list(step.get("mix")).into_iter().enumerate() {
            let Some(item) = id_of(line) else { continue };
            let form = line.get("form").and_then(Item::as_str);
            for (key, name) in OF_LINE {
                let form = form.map_or_else(String::new, |f| format!(", {f}"));
                let name = format!("{item}{form}, {name}");
                push(
                    &mut out,
                    line,
                    key,
                    &format!("{at}/mix/{j}:{item}"),
                    &id,
                    name,
                );
            }
        }
        for (key, name) in OF_STEP {
            push(&mut out, step, key, &at, &id, (*name).to_owned());
        }
        for (j, part) in list(step.get("programme")).into_iter().enumerate() {
            let Some(what) = id_of(part) else { continue };
            let at = format!("{at}/programme/{j}:{what}");
            push(
                &mut out,
                part,
                "for",
                &at,
                &id,
                format!("programme, {what}"),
            );
        }
    }
    for (i, offer) in list(top.get("offer")).into_iter().enumerate() {
        let Some(item) = id_of(offer) else { continue };
        for (key, name) in OF_OFFER {
            let at = format!("offer/{i}:{item}");
            push(&mut out, offer, key, &at, &item, (*name).to_owned());
        }
    }
    out.truncate(MOST_FIELDS);
    out
}

/// The text with the changed fields written into it.
///
/// # Errors
/// Each field that cannot be written: its value was changed in the text as well, its place is gone, or a number is no
/// number. Then nothing is written.
pub fn write(text: &str, changes: &[Change<'_>]) -> Result<String, Vec<Refusal>> {
    let changes: Vec<&Change<'_>> = changes.iter().filter(|c| c.now != c.was).collect();
    if changes.is_empty() {
        return Ok(text.to_owned());
    }
    let Some(mut page) = parsed(text) else {
        return Err(vec![Refusal::whole(
            "fields were changed, but the text is no TOML",
            "a text the fields can be written into",
            "mend the text first; the fields keep what you wrote",
        )]);
    };
    let wrong: Vec<Refusal> = changes
        .iter()
        .filter_map(|c| write_one(page.as_table_mut(), c).err())
        .collect();
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let new = page.to_string();
    // The document has one kind of line end; the text keeps its own.
    Ok(if text.contains("\r\n") && !new.contains("\r\n") {
        new.replace('\n', "\r\n")
    } else {
        new
    })
}

fn parsed(text: &str) -> Option<DocumentMut> {
    if text.len() > MOST_BYTES {
        return None;
    }
    text.parse().ok()
}

fn push(
    out: &mut Vec<Field>,
    table: &dyn TableLike,
    key: &str,
    at: &str,
    of: &str,
    mut name: String,
) {
    let item = match key.split_once('/') {
        None => table.get(key),
        Some((outer, inner)) => table
            .get(outer)
            .and_then(Item::as_table_like)
            .and_then(|t| t.get(inner)),
    };
    if let Some(value) = item.and_then(written) {
        name.truncate(name.char_indices().nth(120).map_or(name.len(), |(i, _)| i));
        out.push(Field {
            place: format!("{at}/{key}"),
            of: of.to_owned(),
            name,
            value,
        });
    }
}

/// A text or a number as it is written; nothing else is a field.
fn written(item: &Item) -> Option<String> {
    let value = item.as_value()?;
    match value {
        Value::String(s) if !s.value().contains('\n') => Some(s.value().clone()),
        Value::Integer(_) | Value::Float(_) => Some(value.clone().decorated("", "").to_string()),
        _ => None,
    }
}

/// The tables of a list, however it is written.
fn list(item: Option<&Item>) -> Vec<&dyn TableLike> {
    match item {
        Some(Item::ArrayOfTables(all)) => all.iter().map(|t| t as &dyn TableLike).collect(),
        Some(Item::Value(Value::Array(all))) => all
            .iter()
            .filter_map(|v| v.as_inline_table().map(|t| t as &dyn TableLike))
            .collect(),
        _ => Vec::new(),
    }
}

fn list_mut(item: &mut Item) -> Vec<&mut dyn TableLike> {
    match item {
        Item::ArrayOfTables(all) => all.iter_mut().map(|t| t as &mut dyn TableLike).collect(),
        Item::Value(Value::Array(all)) => all
            .iter_mut()
            .filter_map(|v| v.as_inline_table_mut().map(|t| t as &mut dyn TableLike))
            .collect(),
        _ => Vec::new(),
    }
}

/// What a table of a list is called by; no sign that parts a place.
fn id_of(table: &dyn TableLike) -> Option<String> {
    ["id", "item", "recipe", "what"]
        .iter()
        .find_map(|k| table.get(k)?.as_str())
        .map(|id| id.replace(['/', ':', '\n', '\r'], " "))
}

fn write_one(top: &mut dyn TableLike, change: &Change<'_>) -> Result<(), Refusal> {
    let gone = || {
        Refusal::whole(
            format!("the text no longer has {}", quoted(change.place)),
            format!("the place of the field that says {}", quoted(change.was)),
            "write the value into the text itself",
        )
    };
    let mut parts = change.place.split('/').peekable();
    let mut table = top;
    while let Some(part) = parts.next() {
        let item = table.get_mut(part).ok_or_else(gone)?;
        match parts.peek() {
            None => return put(item, change),
            Some(next) if next.contains(':') => {
                let named = parts.next().unwrap_or_default();
                table = named_in(item, named).ok_or_else(gone)?;
            }
            Some(_) => table = item.as_table_like_mut().ok_or_else(gone)?,
        }
    }
    Err(gone())
}

/// The table of a list by its number and id; by the id alone when the list was moved and only one has it.
fn named_in<'t>(item: &'t mut Item, named: &str) -> Option<&'t mut dyn TableLike> {
    let (n, id) = named.split_once(':')?;
    let n: usize = n.parse().ok()?;
    let mut all = list_mut(item);
    let is = |t: &dyn TableLike| id_of(t).is_some_and(|i| i == id);
    let at = if all.get(n).is_some_and(|t| is(*t)) {
        n
    } else {
        let mut having = (0..all.len()).filter(|i| is(all[*i]));
        having.next().filter(|_| having.next().is_none())?
    };
    Some(all.swap_remove(at))
}

fn put(item: &mut Item, change: &Change<'_>) -> Result<(), Refusal> {
    let stands = written(item).unwrap_or_default();
    if stands == change.now {
        return Ok(());
    }
    if stands != change.was {
        return Err(Refusal::whole(
            format!(
                "{}: the text says {}, the field says {}",
                quoted(change.place),
                quoted(&stands),
                quoted(change.now)
            ),
            "one of them",
            "write the same into both, or take one of the two changes back",
        ));
    }
    let Some(old) = item.as_value() else {
        return Err(Refusal::whole(
            format!("{} is no value", quoted(change.place)),
            "a text or a number",
            "write it into the text itself",
        ));
    };
    let now = change.now.trim();
    let mut value = if old.is_str() {
        Value::from(now)
    } else {
        now.parse::<Value>()
            .ok()
            .filter(|v| v.is_integer() || v.is_float())
            .ok_or_else(|| {
                Refusal::whole(
                    format!(
                        "{}: \"{}\" is no number",
                        quoted(change.place),
                        quoted(change.now)
                    ),
                    "a number with a point, such as 0.62",
                    "write one; nothing was changed",
                )
            })?
    };
    *value.decor_mut() = old.decor().clone();
    *item = Item::Value(value);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "recipe = \"char\" # ours\n\n[[step]]\nid = \"cure\"\nmix = [\n  { item = \"salt-table\",  of-base = \"2.50 %\" }, # weighed\n  { item = \"sugar-white\", of-base = \"1.50 %\" },\n]\nyield = { mean = 0.950, low = 0.93 }\nwait = \"at once\"\n";

    fn change<'a>(place: &'a str, was: &'a str, now: &'a str) -> Change<'a> {
        Change { place, was, now }
    }

    #[test]
    fn a_field_changes_its_value_and_nothing_else() {
        let salt = "step/0:cure/mix/0:salt-table/of-base";
        let mean = "step/0:cure/yield/mean";
        let new = write(
            PAGE,
            &[
                change(salt, "2.50 %", "2.75 %"),
                change(mean, "0.950", "0.94"),
            ],
        );
        let expected = PAGE.replace("2.50 %", "2.75 %").replace("0.950", "0.94");
        assert_eq!(new.unwrap(), expected);
    }

    #[test]
    fn fields_are_as_they_are_written() {
        let all: Vec<(String, String)> = fields(PAGE)
            .into_iter()
            .map(|f| (f.place, f.value))
            .collect();
        let has = |p: &str, v: &str| all.contains(&(p.to_owned(), v.to_owned()));
        assert!(has("step/0:cure/yield/mean", "0.950"), "{all:?}");
        assert!(has("step/0:cure/wait", "at once"));
        assert!(has("step/0:cure/mix/1:sugar-white/of-base", "1.50 %"));
        assert_eq!(all.len(), 5);
    }

    #[test]
    fn text_and_field_that_disagree_are_both_told() {
        let text = PAGE.replace("2.50 %", "2.60 %");
        let wrong = write(
            &text,
            &[change(
                "step/0:cure/mix/0:salt-table/of-base",
                "2.50 %",
                "2.75 %",
            )],
        );
        let told = wrong.unwrap_err()[0].to_string();
        assert!(told.contains("2.60 %") && told.contains("2.75 %"), "{told}");
    }

    #[test]
    fn a_line_that_moved_is_found_by_its_id_and_a_gone_one_is_told() {
        let text = PAGE.replace(
            "mix = [\n",
            "mix = [\n  { item = \"lemon\", of-base = \"0.3 %\" },\n",
        );
        let salt = change("step/0:cure/mix/0:salt-table/of-base", "2.50 %", "3 %");
        assert!(
            write(&text, &[salt])
                .unwrap()
                .contains("\"salt-table\",  of-base = \"3 %\"")
        );
        let gone = change("step/0:smoke/yield/mean", "0.85", "0.8");
        assert!(write(&text, &[gone]).is_err());
    }

    #[test]
    fn a_number_stays_a_number_and_a_text_cannot_break_out() {
        let mean = "step/0:cure/yield/mean";
        for wrong in [
            "",
            "a lot",
            "0,95",
            "\"0.9\"",
            "0.9 }\nx = 1",
            "{ a = 1 }",
            "1\n2",
        ] {
            assert!(
                write(PAGE, &[change(mean, "0.950", wrong)]).is_err(),
                "{wrong:?}"
            );
        }
        let out = "2 %\" }, { item = \"lemon";
        let salt = change("step/0:cure/mix/0:salt-table/of-base", "2.50 %", out);
        let new = write(PAGE, &[salt]).unwrap();
        let page: DocumentMut = new.parse().unwrap();
        let mix = page["step"].as_array_of_tables().unwrap().get(0).unwrap()["mix"]
            .as_array()
            .unwrap();
        assert_eq!(mix.len(), 2, "{new}");
    }

    #[test]
    fn line_ends_stay_as_they_are() {
        let crlf = PAGE.replace('\n', "\r\n");
        let salt = change("step/0:cure/mix/0:salt-table/of-base", "2.50 %", "3 %");
        assert_eq!(
            write(&crlf, &[salt]).unwrap(),
            crlf.replace("2.50 %", "3 %")
        );
    }

    #[test]
    fn what_is_no_page_has_no_fields_and_takes_none() {
        let deep = format!("a = {}", "[".repeat(100_000));
        for text in ["", "x = ", "\0", deep.as_str()] {
            assert!(fields(text).is_empty());
            assert!(text.is_empty() || write(text, &[change("a", "1", "2")]).is_err());
        }
    }
}
