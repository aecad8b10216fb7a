//! Chance from a seed: `SplitMix64` (Steele, Lea and Flood 2014), the same on every machine.

/// A stream of numbers.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Starts a stream.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Evenly spread from `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Mean 0, standard deviation 1: twelve even numbers added, close enough for noise.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }

    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / (1_u64 << 53) as f64
    }
}
