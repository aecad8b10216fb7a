//! Chance that repeats itself, to the last bit on every machine.

/// `SplitMix64` (Steele, Lea & Flood 2014, OOPSLA, Fast splittable pseudorandom number generators).
pub(super) struct Dice(u64);

impl Dice {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0, up to 1.
    fn share(&mut self) -> f64 {
        ((self.next() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// Of a standard normal distribution (the polar method: Marsaglia & Bray 1964, SIAM Rev. 6:260).
    pub(super) fn normal(&mut self) -> f64 {
        loop {
            let (x, y) = (2.0 * self.share() - 1.0, 2.0 * self.share() - 1.0);
            let squared = x * x + y * y;
            if squared > 0.0 && squared < 1.0 {
                return x * (-2.0 * libm::log(squared) / squared).sqrt();
            }
        }
    }

    /// Of a gamma distribution of this shape, above 0 (Marsaglia & Tsang 2000, ACM Trans. Math.
    /// Softw. 26:363).
    pub(super) fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            let lower = libm::exp(libm::log(self.share()) / shape);
            return self.gamma(shape + 1.0) * lower;
        }
        let near = shape - 1.0 / 3.0;
        let scale = 1.0 / (9.0 * near).sqrt();
        loop {
            let x = self.normal();
            let root = 1.0 + scale * x;
            let cube = root * root * root;
            let most = 0.5 * x * x + near * (1.0 - cube + libm::log(cube));
            if root > 0.0 && libm::log(self.share()) < most {
                return near * cube;
            }
        }
    }

    /// Of a beta distribution.
    pub(super) fn beta(&mut self, a: f64, b: f64) -> f64 {
        let (hit, missed) = (self.gamma(a), self.gamma(b));
        hit / (hit + missed)
    }
}
