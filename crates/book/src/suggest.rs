//! The nearest known name, when one is near enough to be meant.

/// Longest name compared, in characters: longer ones are not typing slips.
const LONGEST: usize = 80;

/// The known name closest to `found`, when it differs by at most a third of its length.
///
/// Equal up to case and the marks between words counts as distance zero.
///
/// ```
/// use book::did_you_mean;
/// assert_eq!(did_you_mean("smokr", ["smoker", "slicer"]), Some("smoker".to_owned()));
/// assert_eq!(did_you_mean("Fennel bulb", ["fennel-bulb"]), Some("fennel-bulb".to_owned()));
/// assert_eq!(did_you_mean("anvil", ["smoker", "slicer"]), None);
/// ```
#[must_use]
pub fn did_you_mean<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(found, known).map(|(_, name)| name)
}

/// The same with its distance, for choosing between two lists.
pub(crate) fn nearest<'a>(
    found: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<(usize, String)> {
    let plain = plainly(found);
    if plain.is_empty() || plain.chars().count() > LONGEST {
        return None;
    }
    let most = (plain.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (name, plainly(name)))
        // Names of another length altogether need no comparing.
        .filter(|(_, known)| known.chars().count().abs_diff(plain.chars().count()) <= most)
        .map(|(name, known)| (distance(&plain, &known), name))
        .filter(|(d, _)| *d <= most)
        .min()
        .map(|(distance, name)| (distance, name.to_owned()))
}

fn plainly(name: &str) -> String {
    name.chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}

/// Optimal string alignment: insert, delete, replace, or swap two neighbours.
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().take(LONGEST * 2).collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let swap = usize::from(a[i - 1] != b[j - 1]);
            let mut best = (last[j] + 1).min(row[j - 1] + 1).min(last[j - 1] + swap);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swapped_neighbours_are_one_slip() {
        assert_eq!(distance("yeild", "yield"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("abc", "abc"), 0);
    }

    #[test]
    fn nothing_is_suggested_for_an_empty_word() {
        assert_eq!(did_you_mean("", ["a"]), None);
    }
}
