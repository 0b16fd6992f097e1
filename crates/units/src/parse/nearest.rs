//! The nearest known word to a mistyped one.

/// Edits between two words: a letter added, dropped or changed, or two neighbours swapped.
/// (Optimal string alignment, the textbook recurrence.)
fn edits(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut before_last = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, to) in b.iter().enumerate() {
            let cell = |row: &[usize], at: usize| row.get(at).copied().unwrap_or(usize::MAX - 1);
            let mut best = (cell(&last, j + 1) + 1)
                .min(cell(&row, j) + 1)
                .min(cell(&last, j) + usize::from(from != to));
            let swapped = i > 0 && j > 0 && a.get(i - 1) == Some(to) && b.get(j - 1) == Some(from);
            if swapped {
                best = best.min(cell(&before_last, j - 1) + 1);
            }
            row.push(best);
        }
        before_last = core::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

/// Edits a word of this length may be away and still be offered: a third of it, at most two.
fn reach(word: &str) -> usize {
    (word.chars().count() / 3).clamp(1, 2)
}

/// Up to three known words nearest to `word`, the nearest first.
pub(crate) fn nearest(word: &str, known: impl Iterator<Item = &'static str>) -> Vec<&'static str> {
    let word = word.to_lowercase();
    let mut close: Vec<(usize, &'static str)> = known
        .map(|name| (edits(&word, &name.to_lowercase()), name))
        .filter(|(distance, _)| *distance <= reach(&word))
        .collect();
    close.sort_by_key(|(distance, _)| *distance);
    close.dedup_by_key(|(_, name)| *name);
    close.into_iter().take(3).map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_is_one_edit() {
        assert_eq!(edits("tbps", "tbsp"), 1);
        assert_eq!(edits("grms", "grams"), 1);
        assert_eq!(edits("", "abc"), 3);
        assert_eq!(edits("kitten", "sitting"), 3);
    }
}
