//! A distribution with the mean, the variance and the skewness of another: the logarithm of its
//! distance from a bound is normal (three-parameter log-normal; Aitchison & Brown 1957, The
//! Lognormal Distribution; sums matched so by moments: Fenton 1960, IRE Trans. Comm. Syst. 8:57).
//! Without skewness it is the normal distribution, with negative skewness its mirror image.

use super::moments::Relative;

/// See the module's words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fitted {
    mean: f64,
    deviation: f64,
    /// The standard deviation of the part that is log-normal, over its own mean.
    relative: f64,
    /// The standard deviation of the logarithm.
    sigma: f64,
    mirrored: bool,
}

/// Below this skewness it is taken as normal: the bound lies too far off to count from.
const STRAIGHT: f64 = 1e-8;

impl Fitted {
    pub(super) fn new(mean: f64, of: Relative) -> Self {
        let skewness = of.skewness();
        // The real root of w³ + 3w = |skewness|.
        let relative = 2.0 * libm::sinh(libm::asinh(skewness.abs() / 2.0) / 3.0);
        Self {
            mean,
            deviation: mean * of.variance().sqrt(),
            relative,
            sigma: libm::log1p(relative * relative).sqrt(),
            mirrored: skewness < 0.0,
        }
    }

    /// Its kurtosis beyond the normal distribution's.
    pub(super) fn excess(&self) -> f64 {
        let over = self.relative * self.relative;
        // ω⁴ + 2ω³ + 3ω² − 6 at ω = 1 + over.
        over * (16.0 + over * (15.0 + over * (6.0 + over)))
    }

    /// The probability that it is at least `x`.
    pub(super) fn at_least(&self, x: f64) -> f64 {
        if self.deviation <= 0.0 {
            // What is certain reaches itself, whatever binary fractions leave of it.
            return f64::from(u8::from(x <= self.mean * (1.0 + 1e-9)));
        }
        let apart = (x - self.mean) / self.deviation;
        match self.mirrored {
            false => below(-self.normal(apart)),
            true => below(self.normal(-apart)),
        }
    }

    /// What it stays below with probability `p`.
    pub(super) fn quantile(&self, p: f64) -> f64 {
        let z = normal_quantile(if self.mirrored { 1.0 - p } else { p });
        let apart = if self.relative < STRAIGHT {
            z
        } else {
            libm::expm1(self.sigma * (z - self.sigma / 2.0)) / self.relative
        };
        self.mean + self.deviation * if self.mirrored { -apart } else { apart }
    }

    /// The normal deviate at a distance from the mean, in standard deviations.
    fn normal(&self, apart: f64) -> f64 {
        if self.relative < STRAIGHT {
            return apart;
        }
        let over = self.relative * apart;
        if over <= -1.0 {
            return f64::NEG_INFINITY;
        }
        libm::log1p(over) / self.sigma + self.sigma / 2.0
    }
}

/// The probability that a standard normal variable stays below `z`.
pub(super) fn below(z: f64) -> f64 {
    libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2) / 2.0
}

/// What a standard normal variable stays below with probability `p`; within ±9.
pub(super) fn normal_quantile(p: f64) -> f64 {
    const HALVINGS: u32 = 60;
    let (mut low, mut high) = (-9.0, 9.0);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if below(middle) < p {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}
