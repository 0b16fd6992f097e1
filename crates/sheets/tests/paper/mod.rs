//! Papers as the tests of this room read them: the demo's plans, and a sheet as plain text.
#![allow(dead_code)] // each test file asks only some of it

use std::fmt::Write;
use std::sync::OnceLock;

use jiff::Timestamp;
use plan::{Plan, Scene, Setting};
use schedule::Effort;
use sheets::model::{Block, Cell, Kind, Sheet, Stock, Table};
use sheets::{UnitHabit, Wishes, plan_version};
use words::Language;

pub(crate) const SUPPER: &str = "harvest-supper";
pub(crate) const CLASS: &str = "duck-class";
pub(crate) const LUNCH: &str = "orchard-lunch";

pub(crate) fn book() -> kitchen::Book {
    book::read(&book::demo::files(), book::Limits::default()).expect("the demo book holds together")
}

/// The plan of an event of the demo with changes, looked for as hard as the program does.
pub(crate) fn changed(event: &str, changes: &[&str]) -> Plan {
    of_book(&book(), event, changes)
}

pub(crate) fn of_book(book: &kitchen::Book, event: &str, changes: &[&str]) -> Plan {
    let first = Scene::new(book, event).expect("the demo has it");
    let settings: Vec<Setting> = changes
        .iter()
        .map(|c| Setting::read(c).expect("well written"))
        .collect();
    let scene = first
        .with_all(&settings)
        .expect("these changes can be made");
    plan::make(&scene, &first, &Effort::standard(), &mut |_| true).expect("there is a plan")
}

/// The plan of an event of the demo as written, made once.
pub(crate) fn planned(event: &str) -> &'static Plan {
    static PLANS: [OnceLock<Plan>; 3] = [const { OnceLock::new() }; 3];
    let at = [SUPPER, CLASS, LUNCH]
        .iter()
        .position(|e| *e == event)
        .expect("an event of the demo");
    PLANS[at].get_or_init(|| changed(event, &[]))
}

pub(crate) fn wishes(plan: &Plan, language: Language) -> Wishes {
    Wishes {
        language,
        units: UnitHabit::Metric,
        stock: Stock::Us,
        printed_at: "2027-02-20T14:05:00Z"
            .parse::<Timestamp>()
            .expect("a moment"),
        version: plan_version(plan),
        log: Vec::new(),
    }
}

pub(crate) fn in_us_units(plan: &Plan, language: Language) -> Wishes {
    Wishes {
        units: UnitHabit::UsCustomary,
        ..wishes(plan, language)
    }
}

/// The sheets of one kind of a demo event.
pub(crate) fn of(event: &str, kind: Kind, language: Language) -> Vec<Sheet> {
    let plan = planned(event);
    sheets::of_kind(plan, &wishes(plan, language), kind)
}

/// Several sheets as text.
pub(crate) fn read_all(sheets: &[Sheet]) -> String {
    sheets.iter().map(read).collect::<Vec<_>>().join("\n")
}

/// A sheet as text, for the person who gets it.
pub(crate) fn read(sheet: &Sheet) -> String {
    let mut out = format!(
        "=== {} · {:?} · {:?}\n# {}\n",
        sheet.id, sheet.kind, sheet.size, sheet.title
    );
    for line in &sheet.under {
        let _ = writeln!(out, "  {line}");
    }
    for block in &sheet.blocks {
        out.push_str(&of_block(block));
    }
    for line in &sheet.foot {
        let _ = writeln!(out, "_ {line}");
    }
    visible(&out)
}

/// Spaces that do not break are shown as what they are, and a line never ends in a blank.
fn visible(text: &str) -> String {
    text.lines()
        .map(|l| {
            l.replace('\u{a0}', "~")
                .replace('\u{202f}', "'")
                .trim_end()
                .to_owned()
                + "\n"
        })
        .collect()
}

fn of_block(block: &Block) -> String {
    match block {
        Block::Heading(t) => format!("\n## {t}\n"),
        Block::Text(t) => format!("{t}\n"),
        Block::Caution(t) => format!("/!\\ {t}\n"),
        Block::Stops(words) => format!(
            "{}\n",
            words
                .iter()
                .map(|w| format!("<STOP {w}>"))
                .collect::<Vec<_>>()
                .join(" ")
        ),
        Block::Big { word, number } => format!("!!! {word}: {number}\n"),
        Block::Facts(facts) => facts
            .iter()
            .map(|(w, c)| format!("{w}: {}\n", of_cell(c)))
            .collect(),
        Block::Table(table) => of_table(table),
        Block::Steps(steps) => steps
            .iter()
            .map(|s| {
                let mut line = format!("[ ] {}  {}\n", s.when, s.what);
                for more in [&s.hold, &s.why].into_iter().filter(|m| !m.is_empty()) {
                    let _ = writeln!(line, "        {more}");
                }
                line
            })
            .collect(),
        Block::Ticks(lines) => lines.iter().map(|l| format!("[ ] {l}\n")).collect(),
        Block::Lines { word, count } => format!("{word}: {}\n", "____ ".repeat(*count)),
        Block::Bars(bars) => {
            let mut out = format!(
                "bars {} {} min, {} marks, shaded {:?}, service {:?}\n",
                if bars.down { "down" } else { "across" },
                bars.minutes,
                bars.marks.len(),
                bars.shaded,
                bars.service
            );
            for lane in &bars.lanes {
                let _ = writeln!(
                    out,
                    "  | {}{}",
                    lane.name,
                    if lane.blank { " (blank)" } else { "" }
                );
                for b in &lane.bars {
                    let sign = match (b.work, b.fixed) {
                        (true, true) => "##",
                        (true, false) => "=",
                        (false, _) => "..",
                    };
                    let could = b
                        .could
                        .map_or_else(String::new, |(a, z)| format!(" |{a}–{z}|"));
                    let _ = writeln!(out, "    {sign} {}–{}{could} {}", b.from, b.to, b.words);
                }
            }
            out
        }
        Block::Plate(plate) => plate
            .parts
            .iter()
            .map(|p| {
                format!(
                    "plate {:.2}–{:.2} h, {:.2} out: {} {}\n",
                    p.from_hour, p.to_hour, p.reach, p.weight, p.name
                )
            })
            .collect(),
        Block::Code { holds, letters } => format!("[[{holds}]] {letters}\n"),
        Block::Letter(l) => format!("<<{l}>>\n"),
        Block::NewPage => "---------- new page\n".to_owned(),
    }
}

pub(crate) fn of_cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(t) | Cell::Number(t) => t.clone(),
        Cell::Strong(t) => format!("*{t}*"),
        Cell::WriteIn => "____".to_owned(),
        Cell::Tick => "[ ]".to_owned(),
        Cell::Nothing => "–".to_owned(),
    }
}

fn of_table(table: &Table) -> String {
    let mut out = table
        .columns
        .iter()
        .map(|c| c.head.clone())
        .collect::<Vec<_>>()
        .join(" | ");
    out.push('\n');
    for row in &table.rows {
        out.push_str(&format!(
            "  {}\n",
            row.iter().map(of_cell).collect::<Vec<_>>().join(" | ")
        ));
    }
    out
}

/// Every table of a sheet.
pub(crate) fn tables(sheet: &Sheet) -> Vec<&Table> {
    sheet
        .blocks
        .iter()
        .filter_map(|b| match b {
            Block::Table(t) => Some(t),
            _ => None,
        })
        .collect()
}
