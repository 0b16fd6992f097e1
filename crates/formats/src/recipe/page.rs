//! The draft as a page of the book: what was read as values, what was not as comments.

use kitchen::Id;
use toml_edit::Value;
use units::Customary;

use super::draft::Step;
use super::line::{Line, Worth};
use super::out::grams;

/// Characters of a text in a book.
const MOST_TEXT: usize = 500;
/// Characters of a comment line.
const MOST_COMMENT: usize = 98;

fn text(words: &str) -> String {
    let short: String = words.chars().take(MOST_TEXT).collect();
    Value::from(short).to_string()
}

fn comment(out: &mut String, indent: &str, words: &str) {
    let mut line = String::new();
    for word in words.split_whitespace() {
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > MOST_COMMENT {
            out.push_str(&format!("{indent}# {line}\n"));
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    out.push_str(&format!("{indent}# {line}\n"));
}

/// The page.
pub(super) fn write(
    id: &Id,
    name: &str,
    measures: Option<Customary>,
    steps: &[Step],
    open: &[String],
    read_from: &str,
) -> String {
    let mut out = String::new();
    comment(
        &mut out,
        "",
        &format!(
            "A draft, read from {read_from}. It does not pass `saltern check` before the questions in `open` are settled and taken out, and the keys marked `?` are written."
        ),
    );
    out.push_str(&format!(
        "recipe = {}\nname = {}\n",
        text(id.as_str()),
        text(name)
    ));
    if let Some(measures) = measures {
        let word = match measures {
            Customary::Us => "us",
            Customary::Metric => "metric",
            Customary::Imperial => "imperial",
        };
        out.push_str(&format!("measures = \"{word}\"\n"));
    }
    out.push_str("open = [\n");
    for question in open {
        out.push_str(&format!("  {},\n", text(question)));
    }
    out.push_str("]\n");
    for step in steps {
        self::step(&mut out, step);
    }
    out
}

fn step(out: &mut String, step: &Step) {
    out.push_str(&format!("\n[[step]]\nid = {}\n", text(step.id.as_str())));
    match step.act {
        Some(act) => out.push_str(&format!("do = \"{}\"\n", act.word())),
        None => out.push_str("# do = ?\n"),
    }
    out.push_str(&format!("what = {}\n", text(&step.text)));
    let rest: String = step.text.chars().skip(MOST_TEXT).collect();
    if !rest.is_empty() {
        comment(out, "", &format!("what goes on: {rest}"));
    }
    match step.after.as_slice() {
        [] => {}
        [one] => out.push_str(&format!("after = {}\n", text(one.as_str()))),
        many => {
            let list: Vec<String> = many
                .iter()
                .map(|id| format!("{{ step = {} }}", text(id.as_str())))
                .collect();
            out.push_str(&format!("after = [ {} ] # share = ?\n", list.join(", ")));
        }
    }
    takes(out, step);
    mix(out, step);
    if let Some(time) = &step.time {
        comment(out, "", &format!("the file says {time}"));
    }
    if !step.tools.is_empty() {
        comment(
            out,
            "",
            &format!("the file says it is done on {}", step.tools.join(", ")),
        );
    }
    out.push_str("# yield = ?\n# wait = ?\n");
}

fn takes(out: &mut String, step: &Step) {
    for (i, (written, line)) in step.takes.iter().enumerate() {
        let told = match &line.worth {
            Worth::Weighed(id, _) | Worth::Measured(id, _) => {
                Some(format!("takes = {{ item = \"{id}\" }}"))
            }
            Worth::Recipe(id, _) => Some(format!("takes = {{ recipe = \"{id}\" }}")),
            Worth::Open => None,
        };
        match told.filter(|_| i == 0) {
            Some(told) => {
                out.push_str(&told);
                out.push('\n');
                comment(out, "", written);
            }
            None => comment(out, "", &format!("flows in, not written: {written}")),
        }
    }
}

fn mix(out: &mut String, step: &Step) {
    if step.mix.is_empty() {
        return;
    }
    let base = step
        .mix
        .iter()
        .find_map(|(_, l)| l.of_base.as_ref().map(|(_, base)| base));
    if let Some(base) = base {
        out.push_str(&format!("base = {}\n", text(base)));
    }
    let made = step.after.is_empty() && step.takes.is_empty();
    if made {
        if base.is_none() {
            out.push_str("base = \"what goes in\"\n");
        }
        out.push_str("base-is = \"made\"\n");
    }
    if let Some(g) = written_for(step, base, made) {
        out.push_str(&format!("written-for = \"{} g\"\n", grams(g)));
    } else if step.mix.iter().any(|(_, l)| l.of_base.is_none()) {
        out.push_str("# written-for = ?\n");
    }
    out.push_str("mix = [\n");
    for (written, line) in &step.mix {
        match entry(line, base) {
            Some(entry) => out.push_str(&format!("  {entry}, # {written}\n")),
            None => comment(out, "  ", &format!("not read: {written}")),
        }
    }
    out.push_str("]\n");
}

/// The mass of the base the lines were written for, where the lines say it.
fn written_for(step: &Step, base: Option<&String>, made: bool) -> Option<f64> {
    let all = step
        .mix
        .iter()
        .map(|(_, l)| weight(l))
        .collect::<Option<Vec<f64>>>()?;
    if step.mix.iter().all(|(_, l)| l.of_base.is_some()) {
        return None;
    }
    match base {
        None => made.then(|| all.iter().sum()),
        // The base follows from any line that says its percentage beside its weight.
        Some(_) => step.mix.iter().zip(&all).find_map(|((_, line), g)| {
            let pct: f64 = line
                .of_base
                .as_ref()?
                .0
                .trim_end_matches('%')
                .trim()
                .parse()
                .ok()?;
            (pct > 0.0).then(|| g / pct * 100.0)
        }),
    }
}

/// What a line weighs, when it was read.
pub(super) fn weight(line: &Line) -> Option<f64> {
    match &line.worth {
        Worth::Weighed(_, m) | Worth::Measured(_, m) | Worth::Recipe(_, m) => Some(m.g()),
        Worth::Open => None,
    }
}

fn entry(line: &Line, base: Option<&String>) -> Option<String> {
    let (key, id, amount) = match &line.worth {
        Worth::Weighed(id, m) => ("item", id, format!("per-batch = \"{} g\"", grams(m.g()))),
        Worth::Measured(id, _) => ("item", id, format!("amount = {}", text(&line.written))),
        Worth::Recipe(id, m) => ("recipe", id, format!("per-batch = \"{} g\"", grams(m.g()))),
        Worth::Open => return None,
    };
    let amount = match &line.of_base {
        Some((pct, of)) if Some(of) == base => format!("of-base = {}", text(pct)),
        _ => amount,
    };
    let form = line
        .form
        .as_ref()
        .map_or_else(String::new, |f| format!(", form = {}", text(f)));
    Some(format!("{{ {key} = \"{id}\", {amount}{form} }}"))
}
