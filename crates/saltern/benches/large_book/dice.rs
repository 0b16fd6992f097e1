//! Seeded chance for invented figures.

/// SplitMix64 (Steele, Lea and Flood 2014, constants from memory): small, and the same on every computer.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn seeded(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both included. The bias of the remainder is below 1 in 10¹⁷ here.
    pub(super) fn between(&mut self, low: u32, high: u32) -> u32 {
        let span = u64::from(high - low) + 1;
        low + u32::try_from(self.next() % span).unwrap_or(0)
    }
}
