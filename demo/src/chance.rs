//! Chance from a seed: the same on every machine, because no figure passes through a function
//! of the platform's mathematics library.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

/// A stream of chance.
#[derive(Debug, Clone)]
pub struct Chance(ChaCha8Rng);

impl Chance {
    /// The stream of a seed.
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// From 0 to below 1.
    pub fn share(&mut self) -> f64 {
        f64::from(self.0.next_u32()) / (f64::from(u32::MAX) + 1.0)
    }

    /// True with that probability.
    pub fn comes(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// A whole number from `low` to `high`, both included; `low` where `high` is not above it.
    pub fn whole(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low + 1).unwrap_or(1).max(1);
        low + i64::try_from(self.0.next_u64() % span).unwrap_or(0)
    }

    /// Somewhere between the two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Nearly normal: six even shares summed (Irwin–Hall), scaled to mean 0 and deviation 1.
    pub fn normal(&mut self) -> f64 {
        // Six shares have variance 6/12; 1.414… is the root of 2.
        ((0..6).map(|_| self.share()).sum::<f64>() - 3.0) * std::f64::consts::SQRT_2
    }

    /// One of a list; none of an empty one.
    pub fn one<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let last = i64::try_from(list.len()).ok()? - 1;
        list.get(usize::try_from(self.whole(0, last)).ok()?)
    }

    /// Ten bytes for an identity.
    pub fn ten(&mut self) -> [u8; 10] {
        let mut bytes = [0; 10];
        self.0.fill_bytes(&mut bytes);
        bytes
    }
}

/// Straight lines through points of rising `x`; flat before the first and after the last.
pub fn along(x: f64, points: &[(f64, f64)]) -> f64 {
    let after = points.partition_point(|(px, _)| *px <= x);
    match (
        after.checked_sub(1).and_then(|i| points.get(i)),
        points.get(after),
    ) {
        (Some((x0, y0)), Some((x1, y1))) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
        (Some((_, y)), None) | (None, Some((_, y))) => *y,
        (None, None) => 0.0,
    }
}

/// One decimal.
pub fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_tells_the_same() {
        let (mut a, mut b) = (Chance::new(7), Chance::new(7));
        assert!((0..100).all(|_| a.ten() == b.ten()));
        assert_ne!(Chance::new(8).ten(), Chance::new(7).ten());
    }

    #[test]
    fn normal_has_mean_0_and_deviation_1() {
        let mut chance = Chance::new(1);
        let draws: Vec<f64> = (0..20_000).map(|_| chance.normal()).collect();
        let mean = draws.iter().sum::<f64>() / 20_000.0;
        let variance = draws.iter().map(|d| (d - mean).powi(2)).sum::<f64>() / 20_000.0;
        assert!(
            mean.abs() < 0.03 && (variance - 1.0).abs() < 0.05,
            "{mean} {variance}"
        );
    }

    #[test]
    fn lines_run_through_their_points() {
        let points = [(0.0, 1.0), (10.0, 2.0)];
        assert_eq!(
            [-5.0, 0.0, 5.0, 10.0, 99.0].map(|x| along(x, &points)),
            [1.0, 1.0, 1.5, 2.0, 2.0]
        );
    }
}
