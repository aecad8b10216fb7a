//! Moments of what is uncertain: of one measurement, of a product of independent ones, of a sum.
//!
//! All are central moments up to the fourth, worked out without taking a large number from another,
//! so an error of a thousandth keeps its digits.

/// A variable of mean 1 by its second, third and fourth central moment.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Relative(pub(super) [f64; 3]);

/// A sum by its mean and cumulants.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Sum {
    mean: f64,
    second: f64,
    third: f64,
    /// The fourth cumulant: the fourth central moment less three times the variance squared.
    fourth: f64,
}

impl Relative {
    /// A logarithm that is normal with this standard deviation.
    pub(super) fn log_normal(sigma: f64) -> Self {
        let over = libm::expm1(sigma * sigma);
        let omega = 1.0 + over;
        let squared = omega * omega;
        Self([
            over,
            over * over * (omega + 2.0),
            over * over * (squared * squared + 2.0 * squared * omega + 3.0 * squared - 3.0),
        ])
    }

    /// A gamma variable of this shape over its mean.
    pub(super) fn gamma(shape: f64) -> Self {
        let each = 1.0 / shape;
        let squared = each * each;
        Self([each, 2.0 * squared, 3.0 * squared + 6.0 * squared * each])
    }

    /// A beta variable over its mean.
    pub(super) fn beta(a: f64, b: f64) -> Self {
        let (n, product) = (a + b, a * b);
        let second = b / (a * (n + 1.0));
        let skewness = 2.0 * (b - a) * (n + 1.0).sqrt() / ((n + 2.0) * product.sqrt());
        let excess = 6.0 * ((a - b) * (a - b) * (n + 1.0) - product * (n + 2.0))
            / (product * (n + 2.0) * (n + 3.0));
        Self([
            second,
            skewness * second * second.sqrt(),
            (excess + 3.0) * second * second,
        ])
    }

    /// The product of two that are independent.
    pub(super) fn times(self, other: Self) -> Self {
        let ([a2, a3, a4], [b2, b3, b4]) = (self.0, other.0);
        Self([
            a2 + b2 * (1.0 + a2),
            a3 + 3.0 * b2 * (2.0 * a2 + a3) + b3 * (1.0 + 3.0 * a2 + a3),
            a4 + 6.0 * b2 * (a2 + 2.0 * a3 + a4)
                + 4.0 * b3 * (3.0 * a2 + 3.0 * a3 + a4)
                + b4 * (1.0 + 6.0 * a2 + 4.0 * a3 + a4),
        ])
    }

    /// Its variance, which is its coefficient of variation squared.
    pub(super) const fn variance(self) -> f64 {
        self.0[0]
    }

    /// Its skewness; none where it does not vary.
    pub(super) fn skewness(self) -> f64 {
        let [second, third, _] = self.0;
        if second > 0.0 {
            third / (second * second.sqrt())
        } else {
            0.0
        }
    }

    /// Its kurtosis beyond the normal distribution's; none where it does not vary.
    pub(super) fn excess(self) -> f64 {
        let [second, _, fourth] = self.0;
        if second > 0.0 {
            fourth / (second * second) - 3.0
        } else {
            0.0
        }
    }
}

impl Sum {
    /// With one more of this mean that is independent of the others.
    #[must_use]
    pub(super) fn and(self, mean: f64, relative: Relative) -> Self {
        let [second, third, fourth] = relative.0;
        let squared = mean * mean;
        Self {
            mean: self.mean + mean,
            second: self.second + second * squared,
            third: self.third + third * squared * mean,
            fourth: self.fourth + (fourth - 3.0 * second * second) * squared * squared,
        }
    }

    /// Its mean.
    pub(super) const fn mean(self) -> f64 {
        self.mean
    }

    /// The sum over its mean; one that does not vary where the mean is nothing.
    pub(super) fn relative(self) -> Relative {
        if self.mean <= 0.0 {
            return Relative::default();
        }
        let squared = self.mean * self.mean;
        let second = self.second / squared;
        Relative([
            second,
            self.third / (squared * self.mean),
            self.fourth / (squared * squared) + 3.0 * second * second,
        ])
    }
}
