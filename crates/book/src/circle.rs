//! Recipes that use each other in a circle.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use kitchen::Id;

/// The shortest circle of recipes from `start` back to it, `start` first; `None` when none comes
/// back. Every recipe is looked at once, so that a wide book takes no longer than a long one.
pub(crate) fn circle_through(uses: &BTreeMap<Id, Vec<Id>>, start: &Id) -> Option<Vec<Id>> {
    let mut came_from: BTreeMap<&Id, &Id> = BTreeMap::new();
    let mut todo = VecDeque::from([start]);
    while let Some(at) = todo.pop_front() {
        for used in uses.get(at).into_iter().flatten() {
            if used == start {
                let mut path = vec![at.clone()];
                let mut back = at;
                while back != start {
                    back = came_from.get(back)?;
                    path.push(back.clone());
                }
                path.reverse();
                return Some(path);
            }
            if !came_from.contains_key(used) {
                came_from.insert(used, at);
                todo.push_back(used);
            }
        }
    }
    None
}

/// Circles of a book, none of which shares a recipe with another.
pub(crate) fn circles(uses: &BTreeMap<Id, Vec<Id>>) -> Vec<Vec<Id>> {
    let mut told: BTreeSet<Id> = BTreeSet::new();
    let mut circles = Vec::new();
    for start in uses.keys() {
        if told.contains(start) {
            continue;
        }
        if let Some(circle) = circle_through(uses, start)
            && circle.iter().all(|id| !told.contains(id))
        {
            told.extend(circle.iter().cloned());
            circles.push(circle);
        }
    }
    circles
}

/// The names of a circle with `joint` between, the first again at the end; a long one in short.
pub(crate) fn around(names: &[&str], joint: &str) -> String {
    const MOST: usize = 8;
    let mut shown: Vec<&str> = names.iter().take(MOST).copied().collect();
    if names.len() > MOST {
        shown.push("…");
    }
    shown.extend(names.first());
    shown.join(joint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn uses(list: &[(&str, &[&str])]) -> BTreeMap<Id, Vec<Id>> {
        let id = |s: &&str| Id::new(s).unwrap();
        list.iter()
            .map(|(from, to)| (id(from), to.iter().map(id).collect()))
            .collect()
    }

    fn named(list: &[(&str, &[&str])]) -> Vec<String> {
        circles(&uses(list))
            .iter()
            .map(|c| c.iter().map(Id::as_str).collect::<Vec<_>>().join(" "))
            .collect()
    }

    #[test]
    fn a_recipe_that_uses_itself_is_a_circle_of_one() {
        assert_eq!(named(&[("a", &["a"])]), ["a"]);
    }

    #[test]
    fn a_circle_is_told_once_and_without_what_leads_to_it() {
        let book: &[(&str, &[&str])] = &[("a", &["b"]), ("b", &["c"]), ("c", &["b"]), ("d", &[])];
        assert_eq!(named(book), ["b c"]);
    }

    #[test]
    fn two_circles_apart_are_told_both() {
        let book: &[(&str, &[&str])] = &[("a", &["b"]), ("b", &["a"]), ("c", &["c"])];
        assert_eq!(named(book), ["a b", "c"]);
    }

    #[test]
    fn shared_recipes_are_no_circle_however_many_ways_lead_to_them() {
        // Each layer uses both of the next: 2^60 ways down, no way back.
        let mut book = BTreeMap::new();
        for layer in 0..60 {
            for side in ["a", "b"] {
                let next: Vec<Id> = ["a", "b"]
                    .iter()
                    .filter_map(|s| Id::new(&format!("{s}{}", layer + 1)))
                    .collect();
                book.insert(Id::new(&format!("{side}{layer}")).unwrap(), next);
            }
        }
        assert!(circles(&book).is_empty());
    }

    #[test]
    fn a_long_circle_is_told_in_short() {
        assert_eq!(around(&["a", "b"], " → "), "a → b → a");
        let long = around(&["a"; 200], " → ");
        assert_eq!(long.matches('a').count(), 9);
        assert!(long.contains('…'));
    }
}
