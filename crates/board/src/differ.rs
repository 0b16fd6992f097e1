//! Two texts line by line, and two changes of one text put together.

use std::ops::Range;

use similar::{Algorithm, DiffOp, DiffTag, capture_diff_slices, group_diff_ops};

/// Lines around a change that are shown with it.
const AROUND: usize = 3;
/// Beyond so many pairs of lines the texts are told as wholly different: finding the smallest difference would take
/// longer than reading both.
const MOST_PAIRS: usize = 25_000_000;

/// What became of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fate {
    Stays,
    Goes,
    Comes,
}

/// A line of a difference, with its number in the text it stands in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Shown {
    pub(crate) fate: Fate,
    pub(crate) number: usize,
    pub(crate) text: String,
}

/// Stretches of lines that differ, with what stands around them.
pub(crate) fn differences(before: &str, after: &str) -> Vec<Vec<Shown>> {
    let (a, b) = (lines(before), lines(after));
    let show = |fate, all: &[&str], range: Range<usize>| {
        range
            .filter_map(|i| {
                Some(Shown {
                    fate,
                    number: i + 1,
                    text: all.get(i)?.trim_end_matches(['\n', '\r']).to_owned(),
                })
            })
            .collect::<Vec<_>>()
    };
    group_diff_ops(operations(&a, &b), AROUND)
        .into_iter()
        .map(|group| {
            group
                .into_iter()
                .flat_map(|op| match op.tag() {
                    DiffTag::Equal => show(Fate::Stays, &b, op.new_range()),
                    _ => {
                        let mut both = show(Fate::Goes, &a, op.old_range());
                        both.extend(show(Fate::Comes, &b, op.new_range()));
                        both
                    }
                })
                .collect()
        })
        .collect()
}

/// Two changes of one text in one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Together {
    pub(crate) text: String,
    /// Places both changed in different ways: both versions stand in the text between marks that no page may hold.
    pub(crate) both: usize,
}

/// My change of `base` put on top of theirs.
pub(crate) fn on_top(base: &str, theirs: &str, mine: &str) -> Together {
    let base = lines(base);
    let (t, m) = (lines(theirs), lines(mine));
    let changed = |other: &[&str]| {
        operations(&base, other)
            .into_iter()
            .filter(|op| op.tag() != DiffTag::Equal)
            .collect::<Vec<_>>()
    };
    let (their, my) = (changed(&t), changed(&m));
    let (mut i, mut j, mut at) = (0, 0, 0);
    let mut out = String::new();
    let mut both = 0;
    loop {
        let starts = [their.get(i), my.get(j)];
        let Some(from) = starts.iter().flatten().map(|op| op.old_range().start).min() else {
            break;
        };
        // Changes that touch belong together: one may mean what the other took away.
        let (first_i, first_j) = (i, j);
        let mut to = from;
        loop {
            let reach = |op: Option<&DiffOp>| op.is_some_and(|op| op.old_range().start <= to);
            if reach(their.get(i)) {
                to = to.max(their[i].old_range().end);
                i += 1;
            } else if reach(my.get(j)) {
                to = to.max(my[j].old_range().end);
                j += 1;
            } else {
                break;
            }
        }
        out.extend(base.get(at..from).unwrap_or(&[]).iter().copied());
        let version = |ops: &[DiffOp], other: &[&str]| changed_text(&base, other, ops, from..to);
        let theirs = version(&their[first_i..i], &t);
        let mine = version(&my[first_j..j], &m);
        if first_j == j || mine == theirs {
            out.push_str(&theirs);
        } else if first_i == i {
            out.push_str(&mine);
        } else {
            both += 1;
            out.push_str(&format!(
                "<<< theirs\n{}=== yours\n{}>>> choose, and take these three marks out\n",
                ended(&theirs),
                ended(&mine)
            ));
        }
        at = to;
    }
    out.extend(base.get(at..).unwrap_or(&[]).iter().copied());
    Together { text: out, both }
}

fn ended(text: &str) -> String {
    if text.is_empty() || text.ends_with('\n') {
        text.to_owned()
    } else {
        format!("{text}\n")
    }
}

/// A stretch of the base as one side has it.
fn changed_text(base: &[&str], other: &[&str], ops: &[DiffOp], range: Range<usize>) -> String {
    let mut out = String::new();
    let mut at = range.start;
    for op in ops {
        out.extend(
            base.get(at..op.old_range().start)
                .unwrap_or(&[])
                .iter()
                .copied(),
        );
        out.extend(other.get(op.new_range()).unwrap_or(&[]).iter().copied());
        at = op.old_range().end;
    }
    out.extend(base.get(at..range.end).unwrap_or(&[]).iter().copied());
    out
}

/// A last line without its end is another line than one with it.
fn lines(text: &str) -> Vec<&str> {
    text.split_inclusive('\n').collect()
}

fn operations(a: &[&str], b: &[&str]) -> Vec<DiffOp> {
    let head = a.iter().zip(b).take_while(|(x, y)| x == y).count();
    let (rest_a, rest_b) = (&a[head..], &b[head..]);
    let tail = rest_a
        .iter()
        .rev()
        .zip(rest_b.iter().rev())
        .take_while(|(x, y)| x == y)
        .count();
    let (old_len, new_len) = (rest_a.len() - tail, rest_b.len() - tail);
    if old_len.saturating_mul(new_len) <= MOST_PAIRS {
        return capture_diff_slices(Algorithm::Myers, a, b);
    }
    let equal = |old_index, new_index, len| DiffOp::Equal {
        old_index,
        new_index,
        len,
    };
    vec![
        equal(0, 0, head),
        DiffOp::Replace {
            old_index: head,
            old_len,
            new_index: head,
            new_len,
        },
        equal(head + old_len, head + new_len, tail),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_in_different_places_go_together() {
        let base = "a\nb\nc\nd\ne\n";
        let done = on_top(base, "a\nB\nc\nd\ne\n", "a\nb\nc\nd\nE\nf\n");
        assert_eq!(done.text, "a\nB\nc\nd\nE\nf\n");
        assert_eq!(done.both, 0);
    }

    #[test]
    fn changes_in_one_place_are_both_kept_and_marked() {
        let done = on_top("a\nb\nc\n", "a\ntheirs\nc\n", "a\nmine\nc\n");
        assert_eq!(done.both, 1);
        assert!(
            done.text
                .contains("<<< theirs\ntheirs\n=== yours\nmine\n>>>"),
            "{}",
            done.text
        );
        assert!(done.text.parse::<toml_probe::Text>().is_err());
    }

    #[test]
    fn the_same_change_twice_is_one() {
        let done = on_top("a\nb", "a\nc", "a\nc");
        assert_eq!((done.text.as_str(), done.both), ("a\nc", 0));
    }

    #[test]
    fn nothing_of_either_is_lost_where_they_part() {
        // Every line only one side has stands in the text put together, unless the other side took it out of the base.
        for (base, theirs, mine) in [
            ("a\nb\nc\n", "a\nc\n", "a\nb\nB\nc\n"),
            ("", "x\n", "y\n"),
            ("a\n", "", "a\nb\n"),
            ("a\nb\nc\nd\n", "x\na\nb\nc\nd\n", "a\nb\nc\nd\ny"),
        ] {
            let done = on_top(base, theirs, mine);
            for line in mine.lines().chain(theirs.lines()) {
                if !base.lines().any(|l| l == line) {
                    assert!(done.text.lines().any(|l| l == line), "{done:?}");
                }
            }
        }
    }

    #[test]
    fn a_difference_tells_what_goes_and_what_comes() {
        let shown = differences("a\nb\nc\n", "a\nB\nc\n");
        let fates: Vec<(Fate, &str)> = shown[0].iter().map(|l| (l.fate, l.text.as_str())).collect();
        assert_eq!(
            fates,
            [
                (Fate::Stays, "a"),
                (Fate::Goes, "b"),
                (Fate::Comes, "B"),
                (Fate::Stays, "c")
            ]
        );
        assert!(differences("a\n", "a\n").is_empty());
    }

    #[test]
    fn huge_texts_with_nothing_in_common_are_told_quickly() {
        let text = |c: char| {
            (0..200_000)
                .map(|i| format!("{c}{i}\n"))
                .collect::<String>()
        };
        let (a, b) = (text('a'), text('b'));
        assert_eq!(differences(&a, &b)[0].len(), 400_000);
    }

    /// Whether a text could be a page.
    mod toml_probe {
        pub(super) struct Text;
        impl std::str::FromStr for Text {
            type Err = ();
            fn from_str(s: &str) -> Result<Self, ()> {
                let file = book::SourceFile::text("a.toml", s);
                let wrong = book::read(&[file], book::Limits::default());
                let broken =
                    |w: &[book::Diagnostic]| w.iter().any(|d| d.code == book::Code::NotToml);
                match wrong {
                    Err(w) if broken(&w) => Err(()),
                    _ => Ok(Self),
                }
            }
        }
    }
}
