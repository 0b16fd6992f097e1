//! How much shorter or longer work may turn out than usual.

/// A time from `low` to `high` times the usual one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    low: f64,
    high: f64,
}

impl Spread {
    /// The least `low` may be, and the most `high` may be, as factors of the usual time.
    pub const FURTHEST: (f64, f64) = (0.1, 10.0);

    /// From `low` (0.1 to 1) to `high` (1 to 10) times the usual; `None` outside.
    #[must_use]
    pub fn new(low: f64, high: f64) -> Option<Self> {
        let fits =
            (Self::FURTHEST.0..=1.0).contains(&low) && (1.0..=Self::FURTHEST.1).contains(&high);
        fits.then_some(Self { low, high })
    }

    /// The shortest, as a factor of the usual.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The longest, as a factor of the usual.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

/// What a site says of times its pages leave open.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HouseSpread {
    /// Of work by hand.
    pub hands: Option<Spread>,
    /// Of machine programmes.
    pub programme: Option<Spread>,
}
