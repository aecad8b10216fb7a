//! A dice that repeats itself (SplitMix64).

/// See the module's words.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The dice of a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// 0 to below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(n.max(1)).unwrap_or(1)).unwrap_or(0)
    }

    /// From `low` to below `high`.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        low + i64::try_from(self.next() % (high - low).max(1).unsigned_abs()).unwrap_or(0)
    }

    /// True so many times in a thousand.
    pub fn in_thousand(&mut self, times: usize) -> bool {
        self.below(1_000) < times
    }

    /// One of a list that is not empty.
    pub fn one<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        list.get(self.below(list.len()))
    }

    /// Ten bytes for an identity.
    pub fn ten(&mut self) -> [u8; 10] {
        let [a, b] = [self.next(), self.next()].map(u64::to_be_bytes);
        let mut ten = [0; 10];
        ten.iter_mut()
            .zip(a.iter().chain(&b))
            .for_each(|(to, from)| *to = *from);
        ten
    }
}
