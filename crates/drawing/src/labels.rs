//! Where words go so that none covers another.

/// Centres for labels of the given heights, as near to the wanted centres as they come without
/// overlap, between `low` and `high`; in the order given. `None` when together they are too high.
///
/// # Method
/// With the heights of those before taken off, "no overlap" reads "never falling": least-squares
/// isotonic regression by pooling neighbours, then held between the bounds.
pub(crate) fn apart(wanted: &[(f64, f64)], low: f64, high: f64) -> Option<Vec<f64>> {
    let total: f64 = wanted.iter().map(|&(_, height)| height).sum();
    if total > high - low {
        return None;
    }
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].0.total_cmp(&wanted[b].0).then(a.cmp(&b)));

    // Pools of neighbours: sum of the wanted places, and how many.
    let mut pools: Vec<(f64, usize)> = Vec::with_capacity(order.len());
    let mut offsets = Vec::with_capacity(order.len());
    let mut before = 0.0;
    for &i in &order {
        let (centre, height) = wanted[i];
        let offset = before + height / 2.0;
        before += height;
        offsets.push(offset);
        let mut pool = (centre - offset, 1);
        while let Some(&(sum, count)) = pools.last() {
            if sum / count as f64 <= pool.0 / pool.1 as f64 {
                break;
            }
            pool = (pool.0 + sum, pool.1 + count);
            pools.pop();
        }
        pools.push(pool);
    }
    let mut centres = vec![0.0; wanted.len()];
    let level = pools
        .iter()
        .flat_map(|&(sum, count)| std::iter::repeat_n(sum / count as f64, count));
    for ((&i, offset), at) in order.iter().zip(offsets).zip(level) {
        centres[i] = at.clamp(low, high - total) + offset;
    }
    Some(centres)
}

/// The words of a mark: where they begin, how wide they are, and their row, 0 the lowest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Flag {
    pub(crate) left: f64,
    pub(crate) width: f64,
    pub(crate) row: usize,
}

/// Flags to the right of upright lines at `x` (rising), so that no line runs through the words of
/// another, as long as the words end before `right`; those that would not are moved left to end there.
pub(crate) fn flags(lines: &[(f64, f64)], gap: f64, right: f64) -> Vec<Flag> {
    let mut placed: Vec<(f64, Flag)> = Vec::with_capacity(lines.len());
    for &(x, width) in lines.iter().rev() {
        let left = (x + gap).min(right - width);
        let mut row = 0;
        for (other_x, other) in &placed {
            let crossed = *other_x > left - gap && *other_x < left + width + gap;
            let covered = other.left < left + width + gap && left < other.left + other.width + gap;
            // A line stops at the row of its own words: words above it are free of it.
            if crossed || covered {
                row = row.max(other.row + 1);
            }
        }
        placed.push((x, Flag { left, width, row }));
    }
    placed.into_iter().rev().map(|(_, flag)| flag).collect()
}

/// A rectangle in the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Area {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Area {
    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Whether the straight line from `a` to `b` touches the area.
    pub(crate) fn touched_by(&self, a: (f64, f64), b: (f64, f64)) -> bool {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        // The part of the line inside each pair of edges; what is left at the end is inside all.
        for (start, along, least, most) in [
            (a.0, dx, self.left, self.right),
            (a.1, dy, self.top, self.bottom),
        ] {
            if along == 0.0 {
                if start < least || start > most {
                    return false;
                }
            } else {
                let (one, two) = ((least - start) / along, (most - start) / along);
                enter = enter.max(one.min(two));
                leave = leave.min(one.max(two));
            }
        }
        enter <= leave
    }

    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn labels_with_room_stay_where_they_are_wanted() {
        let centres = apart(&[(50.0, 10.0), (20.0, 10.0)], 0.0, 100.0).unwrap();
        assert_eq!(centres, [50.0, 20.0]);
    }

    #[test]
    fn two_labels_at_one_place_give_way_alike() {
        let centres = apart(&[(50.0, 10.0), (50.0, 10.0)], 0.0, 100.0).unwrap();
        assert_eq!(centres, [45.0, 55.0]);
        assert_eq!(
            apart(&[(0.0, 10.0), (0.0, 10.0)], 0.0, 100.0).unwrap(),
            [5.0, 15.0]
        );
        assert_eq!(apart(&[(0.0, 60.0), (0.0, 60.0)], 0.0, 100.0), None);
    }

    #[test]
    fn close_marks_stand_in_rows() {
        let rows: Vec<usize> = flags(&[(10.0, 40.0), (30.0, 40.0), (200.0, 40.0)], 3.0, 400.0)
            .iter()
            .map(|f| f.row)
            .collect();
        assert_eq!(rows, [1, 0, 0]);
    }

    proptest! {
        #[test]
        fn labels_never_overlap_nor_leave(
            wanted in prop::collection::vec((-20.0..320.0_f64, 8.0..30.0_f64), 1..10),
        ) {
            let total: f64 = wanted.iter().map(|w| w.1).sum();
            match apart(&wanted, 0.0, 300.0) {
                None => prop_assert!(total > 300.0),
                Some(centres) => {
                    let mut spans: Vec<(f64, f64)> = centres.iter().zip(&wanted)
                        .map(|(c, (_, h))| (c - h / 2.0, c + h / 2.0)).collect();
                    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
                    prop_assert!(spans[0].0 >= -1e-9 && spans[spans.len() - 1].1 <= 300.0 + 1e-9);
                    for pair in spans.windows(2) {
                        prop_assert!(pair[0].1 <= pair[1].0 + 1e-9);
                    }
                }
            }
        }

        #[test]
        fn flags_never_cover_each_other_and_free_lines_cross_none(
            mut lines in prop::collection::vec((0.0..300.0_f64, 10.0..120.0_f64), 1..8),
        ) {
            lines.sort_by(|a, b| a.0.total_cmp(&b.0));
            let placed = flags(&lines, 3.0, 430.0);
            for (i, a) in placed.iter().enumerate() {
                prop_assert!(a.left + a.width <= 430.0 + 1e-9);
                for (j, b) in placed.iter().enumerate() {
                    if i == j { continue; }
                    let apart = a.left + a.width <= b.left || b.left + b.width <= a.left;
                    prop_assert!(a.row != b.row || apart);
                    // 300 + 120 + 3 stays short of 430: none was moved, so no line runs through words.
                    let crosses = lines[j].0 > a.left && lines[j].0 < a.left + a.width;
                    prop_assert!(!crosses || b.row < a.row);
                }
            }
        }
    }
}
