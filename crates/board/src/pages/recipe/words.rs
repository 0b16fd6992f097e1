//! A difference of two texts as lines to read.

use maud::{Markup, html};

use crate::differ::{Fate, differences};
use crate::tongue::{say, say_with};

/// Lines shown at most; the rest is counted.
const MOST_LINES: usize = 600;

/// What differs, line by line; `same` is said when nothing does.
pub(super) fn difference(before: &str, after: &str, same: &str) -> Markup {
    let mut groups = differences(before, after);
    let all: usize = groups.iter().map(Vec::len).sum();
    let mut left = MOST_LINES;
    for group in &mut groups {
        group.truncate(left);
        left -= group.len();
    }
    html! {
        @for group in groups.iter().filter(|g| !g.is_empty()) {
            div class="wide" tabindex="0" { table class="text-diff" {
                thead class="unseen" { tr { th { (say("board-becomes-of-it")) } th { (say("board-line")) } th { (say("board-text-inline")) } } }
                tbody {
                    @for line in group {
                        tr class=(class(line.fate)) {
                            td { (sign(line.fate)) }
                            td class="n" { (line.number) }
                            td { code { (line.text) } }
                        }
                    }
                }
            } }
        }
        @if groups.is_empty() { p { (same) } }
        @if all > MOST_LINES { p class="small" { (say_with("board-first-lines", &[("n", MOST_LINES.into()), ("all", all.into())])) } }
    }
}

fn class(fate: Fate) -> &'static str {
    match fate {
        Fate::Stays => "stays",
        Fate::Goes => "goes",
        Fate::Comes => "comes",
    }
}

fn sign(fate: Fate) -> Markup {
    match fate {
        Fate::Stays => html! {},
        Fate::Goes => html! { (say("board-line-out")) },
        Fate::Comes => html! { (say("board-line-in")) },
    }
}
