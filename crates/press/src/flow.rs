//! Strips of paper that are never torn, and how they fill pages.

use std::rc::Rc;

use crate::ink::Mark;

/// A piece as wide as the page and so high that it is never split: a line of text, a row of a table, a whole drawing.
#[derive(Debug, Clone)]
pub(crate) struct Strip {
    /// Its marks, from its own upper left corner.
    pub(crate) marks: Vec<Mark>,
    /// Its height.
    pub(crate) height: f64,
    /// Space above it, unless it begins a page.
    pub(crate) above: f64,
    /// The next strip stays on its page: a heading, a head of columns.
    pub(crate) holds_next: bool,
    /// What is drawn again when this strip begins a page.
    pub(crate) again: Option<Rc<Strip>>,
    /// It begins a page.
    pub(crate) new_page: bool,
}

impl Strip {
    /// A strip of marks.
    pub(crate) fn new(marks: Vec<Mark>, height: f64) -> Self {
        Self {
            marks,
            height,
            above: 0.0,
            holds_next: false,
            again: None,
            new_page: false,
        }
    }

    /// With space above.
    pub(crate) fn under(mut self, above: f64) -> Self {
        self.above = above;
        self
    }

    /// Holding the next strip.
    pub(crate) fn holding(mut self) -> Self {
        self.holds_next = true;
        self
    }

    /// With a head that comes again.
    pub(crate) fn again(mut self, head: &Rc<Self>) -> Self {
        self.again = Some(Rc::clone(head));
        self
    }
}

/// Fills pages: `first` points of height on the first page, `rest` on each further one. Every page comes back as its marks.
///
/// Strips that hold each other stay together unless they are higher than a page.
pub(crate) fn fill(strips: Vec<Strip>, first: f64, rest: f64) -> Vec<Vec<Mark>> {
    let mut pages: Vec<Vec<Mark>> = vec![Vec::new()];
    let mut used = 0.0;
    let mut limit = first;
    let mut strips = strips.into_iter().peekable();
    while let Some(strip) = strips.next() {
        let mut group = vec![strip];
        while group.last().is_some_and(|s| s.holds_next)
            && strips.peek().is_some_and(|s| !s.new_page)
        {
            group.extend(strips.next());
        }
        let whole: f64 = group.iter().map(|s| s.height + s.above).sum();
        let asked = group.first().is_some_and(|s| s.new_page);
        let head = group
            .first()
            .and_then(|s| s.again.as_ref())
            .map_or(0.0, |h| h.height);
        // On a page of its own it would fit: give it one rather than tear it.
        let torn = used + whole > limit + TOLERANCE && whole + head <= rest + TOLERANCE;
        if used > 0.0 && (asked || torn) {
            pages.push(Vec::new());
            (used, limit) = (0.0, rest);
        }
        for strip in group {
            if used > 0.0 && used + strip.above + strip.height > limit + TOLERANCE {
                pages.push(Vec::new());
                (used, limit) = (0.0, rest);
            }
            let Some(page) = pages.last_mut() else {
                continue;
            };
            if used == 0.0 {
                if let Some(head) = &strip.again {
                    page.extend(head.marks.iter().cloned().map(|m| m.moved(0.0, 0.0)));
                    used += head.height;
                }
            } else {
                used += strip.above;
            }
            page.extend(strip.marks.into_iter().map(|m| m.moved(0.0, used)));
            used += strip.height;
        }
    }
    pages
}

/// Rounding of sums of heights; far under what a printer shows.
const TOLERANCE: f64 = 1.0e-6;

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(height: f64) -> Strip {
        Strip::new(vec![Mark::rect(0.0, 0.0, 1.0, height, None, 1.0)], height)
    }

    #[test]
    fn a_heading_goes_with_what_it_heads() {
        let pages = fill(
            vec![strip(80.0), strip(15.0).holding(), strip(10.0)],
            100.0,
            100.0,
        );
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2]);
    }

    #[test]
    fn a_head_comes_again_where_its_row_begins_a_page() {
        let head = Rc::new(strip(10.0));
        let rows = (0..5).map(|_| strip(30.0).again(&head));
        let strips = std::iter::once((*head).clone().holding())
            .chain(rows)
            .collect();
        let pages = fill(strips, 100.0, 100.0);
        // Head and three rows, then head and two.
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [4, 3]);
    }

    #[test]
    fn a_group_higher_than_a_page_is_torn_rather_than_lost() {
        let pages = fill(
            vec![strip(60.0).holding(), strip(60.0).holding(), strip(60.0)],
            100.0,
            100.0,
        );
        assert_eq!(pages.iter().map(Vec::len).sum::<usize>(), 3);
    }

    #[test]
    fn space_above_is_dropped_where_a_page_begins() {
        let pages = fill(
            vec![strip(100.0), strip(95.0).under(10.0), strip(5.0)],
            100.0,
            100.0,
        );
        assert_eq!(pages.len(), 2);
    }
}
