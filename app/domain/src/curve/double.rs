//! Numbers of twice the digits: an unevaluated sum of two doubles (Dekker 1971, Numer. Math. 18:224).
//! Only `+ − × ÷`, so the same bits everywhere.

use std::ops::{Add, Div, Mul, Sub};

/// A high part and what it lacks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Double {
    high: f64,
    low: f64,
}

impl Double {
    /// Zero.
    pub const ZERO: Self = Self {
        high: 0.0,
        low: 0.0,
    };

    /// The nearest double.
    pub const fn value(self) -> f64 {
        self.high
    }

    fn joined(high: f64, low: f64) -> Self {
        let sum = high + low;
        Self {
            high: sum,
            low: low - (sum - high),
        }
    }
}

impl From<f64> for Double {
    fn from(high: f64) -> Self {
        Self { high, low: 0.0 }
    }
}

impl Add for Double {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        let (high, lost) = exact_sum(self.high, other.high);
        let (low, beyond) = exact_sum(self.low, other.low);
        let first = Self::joined(high, lost + low);
        Self::joined(first.high, first.low + beyond)
    }
}

impl Sub for Double {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        let negative = Self {
            high: -other.high,
            low: -other.low,
        };
        self + negative
    }
}

impl Mul for Double {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let (high, lost) = exact_product(self.high, other.high);
        Self::joined(high, lost + (self.high * other.low + self.low * other.high))
    }
}

impl Div for Double {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let first = self.high / other.high;
        let left = self - other * Self::from(first);
        let second = left.high / other.high;
        let left = left - other * Self::from(second);
        Self::joined(first, second) + Self::from(left.high / other.high)
    }
}

fn exact_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let of_b = sum - a;
    (sum, (a - (sum - of_b)) + (b - of_b))
}

fn exact_product(a: f64, b: f64) -> (f64, f64) {
    let product = a * b;
    let ((a, c), (b, d)) = (halves(a), halves(b));
    (product, ((a * b - product) + a * d + c * b) + c * d)
}

/// Two halves of 26 digits each.
fn halves(x: f64) -> (f64, f64) {
    const SPLIT: f64 = 134_217_729.0;
    let far = SPLIT * x;
    let high = far - (far - x);
    (high, x - high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_double_loses_is_kept() {
        let third = Double::from(1.0) / Double::from(3.0);
        let one = third + third + third;
        assert!((one - Double::from(1.0)).value().abs() < 1e-31);
        let small = Double::from(1.0) + Double::from(1e-20);
        assert_eq!((small - Double::from(1.0)).value(), 1e-20);
        let square = small * small - Double::from(1.0);
        assert!((square.value() - 2e-20).abs() < 1e-31);
    }
}
