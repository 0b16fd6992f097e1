//! Seeded chance: the only randomness of this crate.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// A stream of random choices fixed by its seed.
#[derive(Debug)]
pub(crate) struct Dice(ChaCha8Rng);

impl Dice {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// An index below `count`; 0 when there is nothing to choose from. Its bias, at most `count` in 2^64, is of no
    /// consequence here.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        if count == 0 {
            0
        } else {
            (self.0.next_u64() % count as u64) as usize
        }
    }

    /// A number from 0 (inside) to 1 (outside).
    pub(crate) fn fraction(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn chance(&mut self, probability: f64) -> bool {
        self.fraction() < probability
    }

    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = self.below(last + 1);
            items.swap(last, other);
        }
    }
}
