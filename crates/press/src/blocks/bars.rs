//! What both ways of drawing bars have in common: the checks, the clock and the list of what found no room.

use std::rc::Rc;

use sheets::model::{Bar, Bars};

use super::{Desk, lay};
use crate::PressError;
use crate::face::{Weight, height};
use crate::flow::Strip;

/// Words that found no room in their bar, each under a number.
#[derive(Default)]
pub(super) struct Notes {
    entries: Vec<(String, String)>,
}

impl Notes {
    /// Remembers words; gives back the number to draw instead.
    pub(super) fn add(&mut self, place: &str, words: &str) -> String {
        self.entries.push((place.to_owned(), words.to_owned()));
        self.entries.len().to_string()
    }

    /// The words under their numbers, as strips.
    pub(super) fn strips(&self, desk: &Desk<'_>) -> Vec<Strip> {
        let size = desk.look.body.min(12.0);
        let indent = size * 2.2;
        let mut strips: Vec<Strip> = self
            .entries
            .iter()
            .enumerate()
            .flat_map(|(i, (place, words))| {
                let number = desk.faces.line(&(i + 1).to_string(), Weight::Bold, size);
                let lines = desk.set(
                    &format!("{place}: {words}"),
                    Weight::Regular,
                    size,
                    desk.width - indent,
                );
                let per_page =
                    crate::ink::count((desk.room / (size * crate::face::LEADING)).floor()).max(1)
                        as usize;
                lines
                    .chunks(per_page)
                    .enumerate()
                    .map(|(piece, chunk)| {
                        let mut marks = Vec::new();
                        if piece == 0 {
                            lay(&mut marks, &[Rc::clone(&number)], 0.0, 0.0);
                        }
                        lay(&mut marks, chunk, indent, 0.0);
                        Strip::new(marks, height(chunk) + 1.0)
                    })
                    .collect::<Vec<_>>()
            })
            .collect();
        if let Some(first) = strips.first_mut() {
            first.above = desk.look.gap;
        }
        strips
    }
}

/// Refuses bars that lie outside their own time, run backward or cover each other.
pub(super) fn check(desk: &Desk<'_>, bars: &Bars) -> Result<(), PressError> {
    if bars.minutes == 0 || bars.lanes.is_empty() {
        return Err(desk.refuse(
            format!(
                "bars over {} minutes in {} lines",
                bars.minutes,
                bars.lanes.len()
            ),
            "at least one minute and one line",
        ));
    }
    let inside = |from: u32, to: u32| from <= to && to <= bars.minutes;
    for lane in &bars.lanes {
        for bar in &lane.bars {
            let could = bar.could.is_none_or(|(from, to)| inside(from, to));
            if !inside(bar.from, bar.to) || !could {
                return Err(desk.refuse(
                    format!(
                        "\u{201c}{}\u{201d} of {} from minute {} to {}, could end {:?}",
                        bar.words, lane.name, bar.from, bar.to, bar.could
                    ),
                    &format!(
                        "minutes from 0 to {}, the first not after the last",
                        bars.minutes
                    ),
                ));
            }
        }
        let mut order: Vec<&Bar> = lane.bars.iter().collect();
        order.sort_by_key(|bar| (bar.from, bar.to));
        if let Some(pair) = order.windows(2).find(|pair| pair[0].to > pair[1].from) {
            return Err(desk.refuse(
                format!(
                    "\u{201c}{}\u{201d} and \u{201c}{}\u{201d} of {} at the same time",
                    pair[0].words, pair[1].words, lane.name
                ),
                "bars of a line one after the other",
            ));
        }
    }
    let marks = bars
        .marks
        .iter()
        .map(|m| (m.0, m.0))
        .chain(bars.shaded.iter().copied())
        .chain(bars.service.iter().map(|s| (s.0, s.0)));
    for (from, to) in marks {
        if !inside(from, to) {
            return Err(desk.refuse(
                format!("a mark, a night or service from minute {from} to {to}"),
                &format!("minutes from 0 to {}", bars.minutes),
            ));
        }
    }
    Ok(())
}
