//! How errors are spread: middle, nearly all, worst.

/// Median, 99th percentile and largest of some errors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// How many.
    pub count: usize,
    /// Half of the errors are no larger.
    pub median: f64,
    /// Ninety-nine in a hundred are no larger.
    pub q99: f64,
    /// The largest.
    pub most: f64,
}

impl Spread {
    /// The spread of some errors, `None` of none.
    ///
    /// # Method
    /// Nearest rank: the value at `⌈p n⌉`, so every figure is one of the errors.
    #[must_use]
    pub fn of(mut errors: Vec<f64>) -> Option<Self> {
        errors.sort_by(f64::total_cmp);
        let count = errors.len();
        let at = |percent: usize| {
            let rank = (count * percent).div_ceil(100).max(1);
            errors.get(rank - 1).copied()
        };
        Some(Self {
            count,
            median: at(50)?,
            q99: at(99)?,
            most: at(100)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_spread_of_a_hundred_is_by_rank() {
        let spread = Spread::of((1..=100).rev().map(f64::from).collect()).unwrap();
        assert_eq!(
            (spread.median, spread.q99, spread.most),
            (50.0, 99.0, 100.0)
        );
        assert_eq!(Spread::of(vec![3.0]).unwrap().median, 3.0);
        assert_eq!(Spread::of(vec![]), None);
    }
}
