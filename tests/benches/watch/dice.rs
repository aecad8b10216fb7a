//! A dice that repeats itself (SplitMix64), and numbers of a normal distribution thrown with it.

use std::f64::consts::TAU;

/// See the module's words.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The dice of a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A dice of its own for something made with this one, so that more throws there move nothing here.
    pub fn split(&mut self) -> Self {
        Self(self.next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to below 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From `low` to below `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number from `low` to `high`, both among them.
    pub fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.share() * (high - low + 1) as f64) as i64
    }

    /// True with this probability.
    pub fn is(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// One of a standard normal distribution (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let far = (-2.0 * (1.0 - self.share()).ln()).sqrt();
        far * (TAU * self.share()).cos()
    }

    /// Ten bytes for an identity.
    pub fn ten(&mut self) -> [u8; 10] {
        let [a, b] = [self.next(), self.next()].map(u64::to_be_bytes);
        std::array::from_fn(|i| if i < 8 { a[i] } else { b[i - 8] })
    }
}
