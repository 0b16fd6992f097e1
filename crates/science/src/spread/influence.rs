//! Which input matters most: two measures, one for direction and one for weight.

use rayon::prelude::*;

use super::LEAST_DRAWS;

/// Most groups an input is cut into; with 10,000 draws 200 in each.
const MOST_GROUPS: usize = 50;

/// How much an input has to do with the result.
#[derive(Debug, Clone, PartialEq)]
pub struct Influence {
    /// The input.
    pub name: String,
    /// Spearman's rank correlation, −1 to 1: above 0 more of the input gives more of the result.
    /// Near 0 it may still matter, by turning back on itself; the share tells.
    pub rank_correlation: f64,
    /// Share of the variance of the result that this input explains by itself, about 0 to 1. Shares
    /// of inputs that only matter together come short of 1 in sum. An input that does not matter comes
    /// out within about √(2 × 50) ÷ draws of 0, on either side: the noise is left in sight.
    pub variance_share: f64,
}

/// The influences of the columns on the results, greatest share first; columns that do not vary are
/// left out, and all are when nothing can be said.
///
/// # Method
/// Spearman: correlation of ranks, equal values sharing the mean of theirs. First-order share:
/// draws in order of the input, cut into √n ÷ 2 (at most 50) groups alike in number; variance
/// between the means of the groups over the whole, less what groups of chance would show
/// (`(groups − 1) × mean square within`, as in ω²). What the input does inside a group is missed:
/// with 50 groups under 1 % of a straight dependence.
/// # Source
/// [`SPREAD_STATISTICS`](sources::list::SPREAD_STATISTICS): Spearman 1904; Saltelli and others 2008
/// on first-order indices; ω² after Hays.
pub(super) fn of(columns: &[(&str, Vec<f64>)], results: &[f64]) -> Vec<Influence> {
    let n = results.len();
    if n < LEAST_DRAWS {
        return Vec::new();
    }
    let Some(scaled) = standard(results) else {
        return Vec::new();
    };
    let result_ranks = ranks(results, &order(results));
    let mut found: Vec<Influence> = columns
        .par_iter()
        .filter_map(|(name, column)| {
            let order = order(column);
            if column[order[0]] == column[order[n - 1]] {
                return None;
            }
            Some(Influence {
                name: (*name).to_owned(),
                rank_correlation: correlation(&ranks(column, &order), &result_ranks)?,
                variance_share: share(&scaled, &order)?,
            })
        })
        .collect();
    found.sort_by(|a, b| {
        b.variance_share
            .total_cmp(&a.variance_share)
            .then_with(|| a.name.cmp(&b.name))
    });
    found
}

/// Results less their mean, over the largest departure from it: squares that cannot overflow.
/// `None` when they are all the same.
fn standard(results: &[f64]) -> Option<Vec<f64>> {
    let count = results.len() as f64;
    let first = *results.first()?;
    if results.iter().all(|&r| r == first) {
        return None;
    }
    let mean: f64 = results.iter().map(|r| r / count).sum();
    let largest = results.iter().map(|r| (r - mean).abs()).fold(0.0, f64::max);
    (largest > 0.0 && largest.is_finite())
        .then(|| results.iter().map(|r| (r - mean) / largest).collect())
}

/// Places of the values from the lowest to the highest; equal ones in order of the draw.
fn order(values: &[f64]) -> Vec<usize> {
    let mut keyed: Vec<(f64, usize)> = values.iter().copied().zip(0..).collect();
    keyed.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    keyed.into_iter().map(|(_, i)| i).collect()
}

#[cfg(test)]
pub(super) fn ranks_of(values: &[f64]) -> Vec<f64> {
    ranks(values, &order(values))
}

fn ranks(values: &[f64], order: &[usize]) -> Vec<f64> {
    let mut ranks = vec![0.0; values.len()];
    let mut start = 0;
    for alike in order.chunk_by(|&a, &b| values[a] == values[b]) {
        let mean = start as f64 + (alike.len() as f64 + 1.0) / 2.0;
        for &i in alike {
            ranks[i] = mean;
        }
        start += alike.len();
    }
    ranks
}

/// Pearson's correlation of two columns of ranks; `None` when one does not vary.
pub(super) fn correlation(a: &[f64], b: &[f64]) -> Option<f64> {
    // Ranks 1 to n have the mean (n + 1) ÷ 2, ties or not.
    let mean = (a.len() as f64 + 1.0) / 2.0;
    let (mut ab, mut aa, mut bb) = (0.0, 0.0, 0.0);
    for (x, y) in a.iter().zip(b) {
        let (x, y) = (x - mean, y - mean);
        ab += x * y;
        aa += x * x;
        bb += y * y;
    }
    (aa > 0.0 && bb > 0.0).then(|| ab / (aa * bb).sqrt())
}

/// The first-order share of the input in whose order the draws are; `scaled` has the mean 0.
fn share(scaled: &[f64], order: &[usize]) -> Option<f64> {
    let n = scaled.len();
    let groups = (((n as f64).sqrt() / 2.0) as usize).clamp(2, MOST_GROUPS);
    let total: f64 = scaled.iter().map(|s| s * s).sum();
    let mut between = 0.0;
    for group in 0..groups {
        let members = &order[group * n / groups..(group + 1) * n / groups];
        let sum: f64 = members.iter().map(|&i| scaled[i]).sum();
        between += sum * sum / members.len() as f64;
    }
    let within = (total - between) / (n - groups) as f64;
    let share = (between - (groups as f64 - 1.0) * within) / total;
    share.is_finite().then_some(share)
}
